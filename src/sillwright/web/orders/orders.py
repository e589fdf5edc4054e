"""Orders: made from an accepted quote or from openings, released when nothing stands against a line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.words import Reader, Units
from sillwright.drawing.shapes import Drawing
from sillwright.takeoff.answer import Body, Lead
from sillwright.takeoff.leads.lead_words import lead_sketch
from sillwright.takeoff.ordering.line import OrderLine, release
from sillwright.web.accounts.models import User
from sillwright.web.orders.changed import Meanwhile
from sillwright.web.orders.chosen import chosen_of
from sillwright.web.orders.files import discard, keep, order_file
from sillwright.web.orders.kept import packed, unpacked
from sillwright.web.orders.models import CatalogueVersion, Order, OrderNote, Quote
from sillwright.web.orders.offers import lines_of, mark
from sillwright.web.orders.pressed import made_again, note_again
from sillwright.web.orders.quotes import locked as locked_quote
from sillwright.web.orders.quotes import next_number, sheaf_for
from sillwright.web.records.answers import reader_at
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site


@dataclass(frozen=True)
class Ordered:
    """A line of an order, and the opening that it is for."""

    line: OrderLine
    opening: str


@dataclass(frozen=True)
class Lines:
    """The lines of an order as they stand, what was chosen that is gone, and the leads to be sketched."""

    lines: tuple[Ordered, ...]
    gone: tuple[str, ...] = ()
    leads: Mapping[int, tuple[Lead, Body]] = field(default_factory=dict)  # by the number of the line

    @property
    def plain(self) -> list[OrderLine]:
        """The lines alone."""
        return [each.line for each in self.lines]

    def sketches(self, reader: Reader) -> dict[int, Drawing]:
        """How each body lies with its lead, for the maker; none of what was released, whose sheet is kept."""
        return {number: lead_sketch(lead, body, reader=reader) for number, (lead, body) in self.leads.items()}

    @property
    def blocked(self) -> tuple[Ordered, ...]:
        """The lines that something stands against."""
        return tuple(each for each in self.lines if each.line.blocked)

    @property
    def mark(self) -> str:
        """A mark that changes with every number and word of a line."""
        return mark([packed(each.line) for each in self.lines])


def units_at(site: Site) -> Units:
    """The units in which the orders of a site are written first."""
    return reader_at(site.country, "site").units


def lines_now(row: Order) -> Lines:
    """The lines of an order: as they were released, or else as they come out now."""
    if row.state == "released":
        told = row.notes.get(kind="release").told
        kept = zip(unpacked(told["lines"]), told["openings"], strict=True)
        return Lines(tuple(Ordered(line, opening) for line, opening in kept))
    sheaf = sheaf_for(row)
    found, gone = lines_of(map(chosen_of, row.lines), sheaf, units_at(row.site))
    leads: dict[int, tuple[Lead, Body]] = {}
    for chosen, of_opening in found:
        if not of_opening:
            continue
        taken = sheaf.with_profile(sheaf.openings[chosen.opening], sheaf.profile(chosen.profile))
        numbers = [each.number for each in of_opening]
        leads |= {number: (taken.lead, body) for number, body in zip(numbers, taken.bodies, strict=True)}
    lines = tuple(Ordered(line, chosen.opening) for chosen, of_opening in found for line in of_opening)
    return Lines(lines, tuple(gone), leads)


@transaction.atomic
def make_order(
    site: Site,
    title: str,
    lines: list[dict[str, Any]],
    catalogue: CatalogueVersion,
    *,
    by: User,
    to: str = "",
    quote: Quote | None = None,
    request: HttpRequest | None = None,
    key: UUID | None = None,
) -> Order:
    """An order that is not released yet, numbered by its organisation; the form of a ``key`` makes one."""
    made = Order(site=site, organisation=site.organisation, quote=quote, title=title, to=to, catalogue=catalogue)
    made.number, made.lines = next_number(Order, site.organisation), lines
    made.by = made.changed_by = by
    if (before := made_again(key, made)) is not None:
        return before
    made.save(force_insert=True)
    _record(request, "order made", made, by)
    return made


@transaction.atomic
def order_of(quote: Quote, *, by: User, request: HttpRequest | None = None) -> Order:
    """The order of the alternative that was accepted; asked for again, it is the one there is.

    Raises :class:`Refused` where none was accepted.
    """
    held = locked_quote(quote)
    if held.state != "accepted":
        raise Refused(_("An order is made from a quote that was accepted."))
    before: Order | None = held.orders.order_by("number").first()
    if before is not None:
        return before
    sent, accepted = (held.steps.get(state=state) for state in ("sent", "accepted"))
    offered = {each["name"]: each for each in sent.frozen["offered"]}
    lines = offered[accepted.alternative]["lines"]
    return make_order(held.site, held.title, lines, held.catalogue, quote=held, by=by, request=request)


def locked(row: Order) -> Order:
    """The order as it stands now; until the end of the transaction nobody else changes it."""
    rows: QuerySet[Order] = Order.objects.select_for_update(of=("self",))
    return rows.select_related("site__organisation", "catalogue", "changed_by").get(pk=row.pk)


def refuse_unless_draft(row: Order) -> None:
    """Raise :class:`Refused` for an order that was released."""
    if row.state != "draft":
        raise Refused(_("An order that was released is not changed any more: a change is a new order."))


def refuse_unless_released(row: Order) -> None:
    """Raise :class:`Refused` for an order that nobody has released yet."""
    if row.state != "released":
        raise Refused(_("This order is not released yet, so nobody can answer it."))


def entered_of(row: Order) -> dict[str, Any]:
    """An order as it is entered."""
    return {"title": row.title, "to": row.to, "lines": row.lines}


@transaction.atomic
def change(
    row: Order, told: Mapping[str, Any], *, seen: str, by: User, request: HttpRequest | None = None
) -> Order:
    """Another title, other lines. ``seen`` is the mark of what was read.

    Raises :class:`Meanwhile` where it says something else by now, and :class:`Refused` where it was released.
    """
    held = locked(row)
    refuse_unless_draft(held)
    if mark(entered_of(held)) != seen:
        raise Meanwhile(held.changed_by.name, entered_of(held))
    held.title, held.to, held.lines = told["title"], told["to"], told["lines"]
    return _saved(held, by, request, "order changed")


@transaction.atomic
def take_catalogue(row: Order, version: CatalogueVersion, *, by: User, request: HttpRequest | None = None) -> Order:
    """The order on another version of the catalogue. Raises :class:`Refused` where it was released."""
    held = locked(row)
    refuse_unless_draft(held)
    held.catalogue = version
    return _saved(held, by, request, "order by another catalogue")


@transaction.atomic
def split(row: Order, *, by: User, request: HttpRequest | None = None) -> Order:
    """The openings that something stands against, in an order of their own; what is left can be released.

    Raises :class:`Refused` where nothing, or everything, would be left.
    """
    held = locked(row)
    refuse_unless_draft(held)
    apart = {each.opening for each in lines_now(held).blocked}
    stays = [each for each in held.lines if each["opening"] not in apart]
    goes = [each for each in held.lines if each["opening"] in apart]
    if not stays or not goes:
        raise Refused(
            _("There is nothing to part: either nothing stands against this order, or against every line.")
        )
    made = make_order(
        held.site, held.title, goes, held.catalogue, to=held.to, quote=held.quote, by=by, request=request
    )
    held.lines = stays
    _saved(held, by, request, "order parted")
    return made


def _saved(held: Order, by: User, request: HttpRequest | None, verb: str) -> Order:
    held.revision += 1
    held.changed_by, held.changed = by, timezone.now()
    held.save()
    _record(request, verb, held, by)
    return held


def release_order(
    row: Order, reader: Reader, *, seen: str, on: date, name: str, by: User, request: HttpRequest | None = None
) -> Order:
    """Release an order: from now on its lines are what they are now, and its sheet stays.

    Raises :class:`Meanwhile` where it comes out otherwise than was ``seen``, :class:`InputError` while something
    stands against a line, :class:`OutputError` where the sheet cannot be made or kept.
    """
    sketches = lines_now(row).sketches(reader)
    lines = _released(row, seen, on, name)
    made = order_file(row, [each.line for each in lines], sketches, reader, by)
    kept = False
    try:
        with transaction.atomic():
            held = locked(row)
            if _released(held, seen, on, name) != lines:
                raise Meanwhile(held.changed_by.name, None)
            keep(made)
            told = {"lines": [packed(each.line) for each in lines], "openings": [each.opening for each in lines]}
            OrderNote.objects.create(order=held, kind="release", told=told, paper=made.paper, by=by)
            held.state = "released"
            held = _saved(held, by, request, "order released")
        kept = True
    finally:
        if not kept:
            discard([made])
    return held


def _released(row: Order, seen: str, on: date, name: str) -> list[Ordered]:
    refuse_unless_draft(row)
    found = lines_now(row)
    if found.gone:
        raise Refused(found.gone[0])
    if not found.lines:
        raise Refused(_("Nothing is ordered yet."))
    released = [Ordered(release(each.line, on=on, by=name), each.opening) for each in found.lines]
    if found.mark != seen:
        raise Meanwhile(row.changed_by.name, None)
    return released


def line_of(lines: Iterable[Ordered], number: int) -> Ordered | None:
    """The line with this number."""
    return next((each for each in lines if each.line.number == number), None)


@transaction.atomic
def note(
    row: Order,
    kind: str,
    told: Mapping[str, Any],
    *,
    line: int = 0,
    by: User,
    request: HttpRequest | None = None,
) -> OrderNote:
    """Keep something that was said of a released order, or of one of its lines. Raises :class:`Refused`.

    The same form (``told["form"]``) with the same in it is kept once.
    """
    held = locked(row)
    refuse_unless_released(held)
    if (before := note_again(held, kind, line, told, by)) is not None:
        return before
    made = OrderNote.objects.create(order=held, kind=kind, line=line, told=dict(told), by=by)
    _record(request, f"order: {made.kind}", held, by)
    return made


def _record(request: HttpRequest | None, verb: str, row: Order, by: User) -> None:
    about = {"organisation": row.organisation, "site": row.site}
    record(request, verb, f"{row.label} {row.title}", who=by, **about)
