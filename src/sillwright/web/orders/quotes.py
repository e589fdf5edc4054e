"""Quotes: made, changed while they are drafts, sent as files that stay, and what became of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Max, QuerySet
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.takeoff.ordering import states
from sillwright.takeoff.ordering.alternatives import MOST_ALTERNATIVES
from sillwright.takeoff.ordering.quote import Quote as Offered
from sillwright.takeoff.ordering.quote import Step
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.orders.catalogues import newest_of
from sillwright.web.orders.changed import Meanwhile
from sillwright.web.orders.files import Made, discard, keep, quote_files
from sillwright.web.orders.kept import packed, unpacked
from sillwright.web.orders.models import CatalogueVersion, Order, Quote, QuoteFile, QuoteStep
from sillwright.web.orders.offers import Drafted, drafted, mark
from sillwright.web.orders.pressed import made_again
from sillwright.web.orders.taken import Sheaf, sheaf_of
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site

ABOUT = ("title", "to", "words", "exclusions", "terms", "valid_until", "ask_again_on")


def catalogue_at(site: Site) -> CatalogueVersion:
    """The version that counts at a site. Raises :class:`Refused` where there is none."""
    found = newest_of(site.organisation_id)
    if found is None:
        words = _("%(name)s has no catalogue yet: bring one first, on the page of the organisation.")
        raise Refused(words % {"name": site.organisation.name})
    return found


def usual_terms(organisation: Organisation) -> str:
    """The terms that an organisation wrote last."""
    rows = Quote.objects.filter(organisation=organisation).exclude(terms="").order_by("-changed")
    return rows.values_list("terms", flat=True).first() or ""


def sheaf_for(row: Quote | Order) -> Sheaf:
    """The openings of a quote or an order, with their take-off by its version of the catalogue."""
    chosen = row.lines if isinstance(row, Order) else [line for each in row.offered for line in each["lines"]]
    keys = {each["opening"] for each in chosen}
    return sheaf_of(row.site, row.site.openings.filter(pk__in=keys), row.catalogue)


@transaction.atomic
def make_quote(
    site: Site,
    about: Mapping[str, Any],
    offered: list[dict[str, Any]],
    catalogue: CatalogueVersion,
    *,
    by: User,
    request: HttpRequest | None = None,
    key: UUID | None = None,
) -> Quote:
    """A draft, with the next number of its organisation; the form of a ``key`` makes one."""
    made = Quote(site=site, organisation=site.organisation, catalogue=catalogue, offered=offered)
    made.number = next_number(Quote, site.organisation)
    _set_about(made, about)
    made.by = made.changed_by = by
    if (before := made_again(key, made)) is not None:
        return before
    made.save(force_insert=True)
    QuoteStep.objects.create(quote=made, state="draft", on=timezone.localdate(), name=by.name, by=by)
    _record(request, "quote made", made, by)
    return made


def next_number(table: type[Quote] | type[Order], organisation: Organisation) -> int:
    """The number after the last one; whoever asks beside this waits for the end of the transaction."""
    Organisation.objects.select_for_update().get(pk=organisation.pk)
    last = table.objects.filter(organisation=organisation).aggregate(last=Max("number"))["last"]
    return int(last or 0) + 1


def about_of(row: Quote) -> dict[str, Any]:
    """The quote as a whole, as it is entered."""
    days = {name: day.isoformat() if (day := getattr(row, name)) else "" for name in ABOUT[-2:]}
    return {**{name: getattr(row, name) for name in ABOUT}, **days}


def part_of(row: Quote, place: int) -> dict[str, Any] | None:
    """The quote as a whole (0), or one of its alternatives; None for one that is not there."""
    if place == 0:
        return about_of(row)
    return row.offered[place - 1] if 0 < place <= len(row.offered) else None


def _set_about(row: Quote, about: Mapping[str, Any]) -> None:
    for name in ABOUT[:-2]:
        setattr(row, name, about[name])
    row.valid_until = date.fromisoformat(about["valid_until"])
    row.ask_again_on = date.fromisoformat(about["ask_again_on"]) if about["ask_again_on"] else None


def locked(row: Quote) -> Quote:
    """The quote as it stands now; until the end of the transaction nobody else changes it."""
    rows: QuerySet[Quote] = Quote.objects.select_for_update(of=("self",))
    return rows.select_related("site__organisation", "catalogue", "changed_by").get(pk=row.pk)


def refuse_unless_draft(row: Quote) -> None:
    """Raise :class:`Refused` for a quote that went out."""
    if row.state != "draft":
        raise Refused(_("A quote that was sent is not changed any more: make a new one from it."))


@transaction.atomic
def change(
    row: Quote,
    place: int,
    part: dict[str, Any] | None,
    *,
    seen: str,
    by: User,
    request: HttpRequest | None = None,
) -> Quote:
    """Another text of the quote as a whole (``place`` 0) or of an alternative; None takes that one out.

    ``seen`` is the mark of the part that was read. Raises :class:`Meanwhile` where it says something else by now,
    and :class:`Refused` where it cannot be changed.
    """
    held = locked(row)
    refuse_unless_draft(held)
    now = part_of(held, place)
    if mark(now) != seen:
        raise Meanwhile(held.changed_by.name, now)
    if place == 0 and part is not None:
        _set_about(held, part)
    else:
        held.offered = _with(held.offered, place, part)
    return _saved(held, by, request)


def _with(offered: list[Any], place: int, part: dict[str, Any] | None) -> list[Any]:
    if not 1 <= place <= min(len(offered) + 1, MOST_ALTERNATIVES):
        raise Refused(_("A quote has at most %(most)d alternatives.") % {"most": MOST_ALTERNATIVES})
    if part is None and len(offered) == 1:
        raise Refused(_("A quote offers one alternative at least."))
    names = {each["name"].casefold() for at, each in enumerate(offered, 1) if at != place}
    if part is not None and part["name"].casefold() in names:
        raise Refused(_("Another alternative has this name; call them differently."))
    return [*offered[: place - 1], *([part] if part is not None else []), *offered[place:]]


def _saved(held: Quote, by: User, request: HttpRequest | None, verb: str = "quote changed") -> Quote:
    held.revision += 1
    held.changed_by, held.changed = by, timezone.now()
    held.save()
    _record(request, verb, held, by)
    return held


@transaction.atomic
def take_prices(row: Quote, version: CatalogueVersion, *, by: User, request: HttpRequest | None = None) -> Quote:
    """The draft on another version of the catalogue. Raises :class:`Refused` where it went out."""
    held = locked(row)
    refuse_unless_draft(held)
    held.catalogue = version
    return _saved(held, by, request, "quote priced anew")


@transaction.atomic
def replace_all(
    row: Quote,
    about: Mapping[str, Any],
    offered: list[dict[str, Any]],
    *,
    by: User,
    request: HttpRequest | None = None,
) -> Quote:
    """Everything of a draft anew, as a program sends it. Raises :class:`Refused` where it went out."""
    held = locked(row)
    refuse_unless_draft(held)
    _set_about(held, about)
    held.offered = offered
    return _saved(held, by, request)


@transaction.atomic
def ask_again(row: Quote, day: date | None, *, by: User, request: HttpRequest | None = None) -> Quote:
    """On which day to ask about it; None as usual. That may change after it went out, too."""
    held = locked(row)
    if held.state not in {"draft", "sent"}:
        raise Refused(_("Nobody asks about this quote any more."))
    held.ask_again_on = day
    return _saved(held, by, request, "quote to ask about")


# what became of it


def worked_out(row: Quote, reader: Reader, sheaf: Sheaf | None = None) -> Drafted:
    """A draft worked out now."""
    begun = row.steps.defer("frozen").get(state="draft")
    return drafted(row, sheaf or sheaf_for(row), reader, on=begun.on, by=begun.name)


def as_sent(row: Quote) -> Offered:
    """A quote that went out: as it was then, and what became of it since."""
    steps = list(row.steps.order_by("pk"))
    sent = next(each for each in steps if each.state == "sent")
    found: Offered = unpacked(sent.frozen["quote"])
    later = tuple(step_of(each) for each in steps[steps.index(sent) + 1 :])
    return replace(found, history=(*found.history, *later), ask_again_on=row.ask_again_on)


def step_of(row: QuoteStep) -> Step:
    """A step as the quote's history has it."""
    state: Any = row.state
    return Step(state=state, on=row.on, by=row.name, reason=row.reason, alternative=row.alternative)


def send(
    row: Quote,
    reader: Reader,
    *,
    seen: str,
    keeps_prices: bool,
    on: date,
    name: str,
    by: User,
    request: HttpRequest | None = None,
) -> Quote:
    """Send a draft: from now on it is what it is now, and its files stay.

    ``seen`` is the mark of what was looked at; ``keeps_prices``: although a newer version of the catalogue counts.
    Raises :class:`Meanwhile` where it comes out otherwise by now, :class:`Refused` and :class:`InputError` where it
    cannot go out, :class:`OutputError` where its files cannot be made or kept.
    """
    sent = _as_it_goes_out(row, reader, seen=seen, keeps_prices=keeps_prices, on=on, name=name)
    made = quote_files(row, sent, reader, by)
    kept = False
    try:
        with transaction.atomic():
            held = locked(row)
            again = _as_it_goes_out(held, reader, seen=seen, keeps_prices=keeps_prices, on=on, name=name)
            if again != sent:
                raise Meanwhile(held.changed_by.name, None)
            frozen = {"quote": packed(sent), "offered": held.offered}
            QuoteStep.objects.create(
                quote=held, state="sent", on=on, name=sent.history[-1].by, frozen=frozen, by=by
            )
            _keep_files(held, made)
            held.state = "sent"
            held = _saved(held, by, request, "quote sent")
        kept = True
    finally:
        if not kept:
            discard(made)
    return held


def _as_it_goes_out(row: Quote, reader: Reader, *, seen: str, keeps_prices: bool, on: date, name: str) -> Offered:
    refuse_unless_draft(row)
    newest = catalogue_at(row.site)
    if newest.pk != row.catalogue_id and not keeps_prices:
        told = {"newest": newest.number, "number": row.catalogue.number}
        words = _("Version %(newest)d of the catalogue counts now; this quote has prices of version %(number)d. ")
        raise Refused(words % told + _("Take the new prices, or say that the old ones stay."))
    found = worked_out(row, reader)
    if found.quote is None:
        raise Refused(found.wrong[0])
    if found.mark != seen:
        raise Meanwhile(row.changed_by.name, None)
    return states.send(found.quote, on=on, by=name)


def _keep_files(row: Quote, made: list[Made]) -> None:
    for each in made:
        keep(each)
        QuoteFile.objects.create(quote=row, ending=each.ending, paper=each.paper)


@transaction.atomic
def step(
    row: Quote,
    state: str,
    *,
    on: date,
    name: str,
    reason: str = "",
    alternative: str = "",
    by: User,
    request: HttpRequest | None = None,
) -> Quote:
    """What became of a quote that went out: accepted, lost or expired.

    Raises :class:`InputError` where that cannot follow, or something of it is missing.
    """
    held = locked(row)
    if held.state == "draft":
        raise Refused(_("This quote is a draft: send it first."))
    quote = as_sent(held)
    if state == "accepted" and not alternative:
        raise Refused(_("Say which alternative was accepted."))
    if state == "accepted" and not name.strip():
        raise Refused(_("Say who accepted it."))
    if state == "accepted":
        quote = states.accept(quote, alternative, on=on, by=name)
    elif state == "lost":
        quote = states.lose(quote, reason, on=on, by=name)
    elif state == "expired":
        quote = states.expire(quote, on=on, by=name)
    else:
        raise Refused(_("A quote that went out becomes accepted, lost or expired."))
    last = quote.history[-1]
    QuoteStep.objects.create(
        quote=held, state=state, on=on, name=last.by, reason=last.reason, alternative=last.alternative, by=by
    )
    held.state = state
    return _saved(held, by, request, f"quote {state}")


def _record(request: HttpRequest | None, verb: str, row: Quote, by: User) -> None:
    about = {"organisation": row.organisation, "site": row.site}
    record(request, verb, f"{row.label} {row.title}", who=by, **about)
