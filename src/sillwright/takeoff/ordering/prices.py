"""What the lines of an order cost by the catalogue: parts, work and the trip."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from decimal import Decimal
from typing import Protocol

from sillwright.base.errors import UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, Amount, Sentence, say
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Rate, Work
from sillwright.catalogue.profile import Price
from sillwright.takeoff.ordering.line import OrderLine, length_of
from sillwright.takeoff.ordering.money import PricedLine, exact, minor_unit, rounded_to
from sillwright.takeoff.ordering.work import work_in_words

_HOURS = Decimal("0.01")


class Part(Protocol):
    """Something of the catalogue with a name and a price."""

    @property
    def name(self) -> str:
        """Its name in the catalogue."""

    @property
    def price(self) -> Price | None:
        """What it costs; None where nobody has entered it."""


def priced_parts(lines: Iterable[OrderLine], catalogue: Catalogue) -> tuple[PricedLine, ...]:
    """What the parts of order lines cost: body, channel, cord, reel, radio, box and converter."""
    return tuple(priced for line in lines for priced in _parts_of(line, catalogue))


def _parts_of(line: OrderLine, catalogue: Catalogue) -> Iterable[PricedLine]:
    profile = next((each for each in catalogue.profiles if each.name == line.profile), None)
    digits = minor_unit(catalogue.currency)
    body = {"profile": line.profile or Sentence(N_("edge, no profile chosen")), "length": length_of(line)}
    count = line.quantity if line.to_buy is not None else line.pieces * line.quantity
    length = line.to_buy if line.to_buy is not None else line.length
    yield PricedLine(
        what=Sentence(N_("{profile}: {length}"), body),
        tag=line.label,
        quantity=Decimal(count),
        price=part_price(profile, length, digits),
    )
    channel = _named(catalogue.channels, line.channel)
    for piece, many in Counter(line.channel_pieces).items() if line.channel else ():
        said = Sentence(N_("{part}, {length}"), {"part": line.channel, "length": Amount(piece, "m")})
        price = part_price(channel, piece, digits)
        yield PricedLine(what=said, tag=line.label, quantity=Decimal(many * line.quantity), price=price)
    shelves: tuple[tuple[str, tuple[Part, ...]], ...] = (
        (line.cord, catalogue.cords),
        (line.reel, catalogue.reels),
        (line.radio, catalogue.radios),
        (line.box, catalogue.boxes),
        (line.converter, catalogue.converters),
    )
    for name, shelf in shelves:
        if name:
            price = part_price(_named(shelf, name), 0.0, digits)
            what = Sentence("{part}", {"part": name})
            yield PricedLine(what=what, tag=line.label, quantity=Decimal(line.quantity), price=price)


def _named(shelf: tuple[Part, ...], name: str) -> Part | None:
    return next((each for each in shelf if each.name == name), None)


def part_price(part: Part | None, length: float | None, digits: int) -> Decimal | None:
    """The price of one piece of that length in metres; None where the catalogue has none, or left it at nothing."""
    price = part.price if part else None
    if price is None or (not price.each and not price.per_metre) or (price.per_metre and length is None):
        return None
    return rounded_to(exact(price.each) + exact(price.per_metre) * exact(length or 0.0), digits)


def priced_work(
    what: str, catalogue: Catalogue, *, length: float = 0.0, count: int = 1, rate: str = "", tag: str = ""
) -> PricedLine:
    """Hours of a piece of work of the catalogue, for a length in metres, at the rate for so many persons.

    ``count``: so many times the same; ``rate`` names one where the catalogue has several for that many persons.
    Raises :class:`UnknownName` where it has no such work.
    """
    work = next((each for each in catalogue.work if each.what == what), None)
    if work is None:
        known = [each.what for each in catalogue.work]
        said = N_("the catalogue has no work “{work}”; {accepted}")
        raise UnknownName(say(said, work=what, accepted=did_you_mean(what, known)))
    hours = ((exact(work.hours) + exact(work.per_metre) * exact(length)) * count).quantize(_HOURS)
    values = {"work": work_in_words(work.what), "persons": work.persons}
    return PricedLine(
        what=Sentence(N_("{work}, {persons} persons") if work.persons > 1 else N_("{work}, one person"), values),
        tag=tag,
        quantity=hours,
        unit="hour",
        price=_hour(work, catalogue, rate),
        no_price=Sentence(N_("the catalogue has no rate for this work")),
    )


def _hour(work: Work, catalogue: Catalogue, rate: str) -> Decimal | None:
    found = [each for each in catalogue.rates if each.persons == work.persons and rate in {"", each.what}]
    return exact(found[0].price) if len(found) == 1 else None


def priced_trip(catalogue: Catalogue, *, trips: int = 1, rate: str = "") -> PricedLine:
    """The way there and back, as the catalogue's rate for a trip."""
    found: list[Rate] = [each for each in catalogue.rates if not each.persons and rate in {"", each.what}]
    price = exact(found[0].price) if len(found) == 1 else None
    return PricedLine(what=Sentence(N_("Trip")), quantity=Decimal(trips), unit="trip", price=price)
