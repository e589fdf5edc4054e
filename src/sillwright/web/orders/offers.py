"""What is offered, priced: from what was chosen for each opening to alternatives and the quote that holds them.

All numbers come from the take-off and its ordering; here they are asked for and put together.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.errors import InputError, UnknownName
from sillwright.base.words import Reader, Sentence, Units
from sillwright.takeoff.ordering.alternatives import Alternative
from sillwright.takeoff.ordering.devices import counted_twice, priced_device
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.lines import order_lines
from sillwright.takeoff.ordering.money import PricedLine, Totals, totals
from sillwright.takeoff.ordering.prices import priced_parts, priced_trip, priced_work
from sillwright.takeoff.ordering.quote import Quote, draft
from sillwright.web.orders.chosen import Chosen, chosen_of
from sillwright.web.orders.kept import packed
from sillwright.web.orders.taken import Sheaf

WORDS = "{words}"  # a sentence that is somebody's own words


@dataclass(frozen=True, kw_only=True)
class Offer:
    """An alternative as it was entered, with its lines and what they cost; ``gone`` is no longer there."""

    name: str
    words: str
    discount: Decimal
    leaves_open: tuple[str, ...]
    lines: tuple[OrderLine, ...]
    priced: tuple[PricedLine, ...]
    gone: tuple[str, ...] = ()
    doubts: tuple[Sentence, ...] = ()

    def totals(self, currency: str, tax: Decimal | None) -> Totals:
        """What it comes to, as far as there are prices."""
        return totals(self.priced, currency, tax_percent=tax, discount=self.discount)

    def alternative(self) -> Alternative:
        """The same as a quote holds it. Raises :class:`InputError` while it cannot be offered."""
        return Alternative(
            name=self.name,
            lines=self.priced,
            leaves_open=tuple(Sentence(WORDS, {"words": each}) for each in self.leaves_open),
            owner_words=Sentence(WORDS, {"words": self.words}) if self.words else None,
            discount=self.discount,
            doubts=self.doubts,
        )


@dataclass(frozen=True)
class Drafted:
    """A draft worked out: its alternatives, the quote they make, and what is in the way of one."""

    offers: tuple[Offer, ...]
    quote: Quote | None
    wrong: tuple[str, ...]

    @property
    def mark(self) -> str:
        """A mark that changes with every number and word of it."""
        return mark(packed(self.quote))


def mark(told: Any) -> str:
    """A short mark of something that is kept as JSON: two marks are equal where that is."""
    text = json.dumps(told, sort_keys=True, ensure_ascii=False, default=str)
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def lines_of(
    chosen: Iterable[Chosen], sheaf: Sheaf, units: Units
) -> tuple[list[tuple[Chosen, tuple[OrderLine, ...]]], list[str]]:
    """The order lines of each opening, numbered through, and what of it is no longer there."""
    found: list[tuple[Chosen, tuple[OrderLine, ...]]] = []
    gone, number = list[str](), 1
    for each in chosen:
        opening = sheaf.openings.get(each.opening)
        if opening is None:
            gone.append(_("An opening that was chosen is no longer here."))
            continue
        if each.no_edge:
            found.append((each, ()))
            continue
        profile = sheaf.profile(each.profile)
        if each.profile and profile is None:
            told = {"tag": opening.tag, "profile": each.profile, "number": sheaf.version.number}
            gone.append(_("%(tag)s: “%(profile)s” is not in version %(number)d of the catalogue.") % told)
        lines = order_lines(
            opening.tag,
            sheaf.with_profile(opening, profile),
            profile,
            sheaf.catalogue,
            each.choice(sheaf.catalogue, units),
            number,
        )
        number += len(lines)
        found.append((each, lines))
    return found, gone


def offer_of(told: Mapping[str, Any], sheaf: Sheaf, units: Units) -> Offer:
    """An alternative that was entered, worked out as far as it can be."""
    found, gone = lines_of(map(chosen_of, told["lines"]), sheaf, units)
    priced, doubts = list[PricedLine](), list[Sentence]()
    for chosen, lines in found:
        tag, beside = sheaf.openings[chosen.opening].tag, {each.device: each.quantity for each in chosen.devices}
        doubts += counted_twice(tag, chosen.work, beside, lines, sheaf.catalogue)
        priced += priced_parts(lines, sheaf.catalogue)
        priced += _work(chosen, lines, sheaf, gone)
        priced += _devices(chosen, sheaf, gone)
    if told["trips"]:
        priced.append(priced_trip(sheaf.catalogue, trips=told["trips"]))
    return Offer(
        name=told["name"],
        words=told["words"],
        discount=Decimal(told["discount"]),
        leaves_open=tuple(told["leaves_open"]),
        lines=tuple(line for _chosen, lines in found for line in lines),
        priced=tuple(priced),
        gone=tuple(gone),
        doubts=tuple(doubts),
    )


def _work(chosen: Chosen, lines: Sequence[OrderLine], sheaf: Sheaf, gone: list[str]) -> Iterable[PricedLine]:
    tag = lines[0].tag if lines else sheaf.openings[chosen.opening].tag
    length = sum((line.body or 0.0) * line.pieces for line in lines)
    for what in chosen.work:
        try:
            yield priced_work(what, sheaf.catalogue, length=length, tag=tag)
        except UnknownName as error:
            gone.append(str(error))


def _devices(chosen: Chosen, sheaf: Sheaf, gone: list[str]) -> Iterable[PricedLine]:
    tag = sheaf.openings[chosen.opening].tag
    for each in chosen.devices:
        try:
            yield from priced_device(each.device, sheaf.catalogue, quantity=each.quantity, tag=tag)
        except UnknownName as error:
            gone.append(str(error))


def drafted(row: Any, sheaf: Sheaf, reader: Reader, *, on: date, by: str) -> Drafted:
    """A quote that is still a draft, worked out now. ``on`` and ``by``: when and by whom it was begun."""
    offers = tuple(offer_of(each, sheaf, reader.units) for each in row.offered)
    wrong = [each for offer in offers for each in offer.gone]
    made, found = [], None
    for each in offers:
        try:
            made.append(each.alternative())
        except InputError as error:
            wrong.append(error.in_words(reader))
    if not wrong:
        try:
            found = draft(
                row.label, row.title, tuple(made), sheaf.catalogue, on=on, by=by, valid_until=row.valid_until,
                exclusions=tuple(row.exclusions), terms=row.terms, owner_words=tuple(row.words.splitlines()),
            )  # fmt: skip
        except InputError as error:
            wrong.append(error.in_words(reader))
    return Drafted(offers, found, tuple(dict.fromkeys(wrong)))
