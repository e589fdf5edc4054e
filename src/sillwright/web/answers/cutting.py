"""Cut lists: channels and rolled bodies of a site, or of a van of sites, cut from what the catalogue sells."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.words import Reader
from sillwright.paper.svg import svg
from sillwright.paper.voice import Voice
from sillwright.study.cut_lists import (
    CutList,
    Settled,
    Wanted,
    cut_lists,
    in_none,
    labelled,
    left_out,
    unsettled,
)
from sillwright.takeoff.answer import TakeOff
from sillwright.takeoff.cutting.layout import bars_drawing
from sillwright.takeoff.ordering.fields import CIRCUITS
from sillwright.takeoff.ordering.money import with_currency
from sillwright.web.accounts.models import User
from sillwright.web.answers.limits import one_too_many
from sillwright.web.orders.catalogues import newest_of, read
from sillwright.web.orders.models import CatalogueVersion
from sillwright.web.orders.settled import decisions_at, settled
from sillwright.web.orders.taken import sheaf_of
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.papers import MOST_OPENINGS
from sillwright.web.records.seen import fetched

MOST_A_MINUTE = 20
MOST_SITES = 40
"""Sites of one van, and of one page to choose them from."""


@require_safe
def cut_list(request: HttpRequest, id: UUID) -> HttpResponse:
    """What to buy and how to cut it, for all openings of a site whose channel or rolled body is chosen."""
    site = fetched(Site.objects.select_related("organisation"), request.user, id)
    told: dict[str, Any] = {"site": site, "catalogue": newest_of(site.organisation_id)}
    return _page(request, [site], told)


@require_safe
def van(request: HttpRequest) -> HttpResponse:
    """One cut list for several sites: each piece says for which site and opening it is."""
    wanted = _keys(request.GET.getlist("site"))
    readable = Site.objects.seen_by(person(request)).select_related("organisation")
    sites = list(readable.filter(pk__in=wanted).order_by("name", "pk")[: MOST_SITES + 1])
    offered = list(readable.order_by("name", "pk")[:MOST_SITES])
    chosen = {each.pk for each in sites}
    choices = [(each, each.pk in chosen) for each in [*sites, *(each for each in offered if each.pk not in chosen)]]
    told: dict[str, Any] = {"van": True, "choices": choices, "most_sites": MOST_SITES, "catalogue": True}
    if not sites:
        return render(request, "answers/cut_list_page.html", told)
    if len(sites) > MOST_SITES:
        return render(request, "answers/cut_list_page.html", told | {"too_many_sites": True}, status=422)
    return _page(request, sites, told)


def _keys(given: Iterable[str]) -> list[UUID]:
    """The ids among what an address names; whatever else stands there is nobody's site."""
    found = []
    for each in list(given)[: MOST_SITES + 1]:
        try:
            found.append(UUID(each))
        except ValueError:
            continue
    return found


def _page(request: HttpRequest, sites: Sequence[Site], told: dict[str, Any]) -> HttpResponse:
    """The page with the lists of the sites, those of one catalogue together."""
    rows = {site: list(site.openings.filter(put_away=None)[: MOST_OPENINGS + 1]) for site in sites}
    told |= {"many": sum(map(len, rows.values())) > MOST_OPENINGS, "most": MOST_OPENINGS}
    if one_too_many(request, "cut-lists", MOST_A_MINUTE):
        return render(request, "answers/cut_list_page.html", told | {"busy": True}, status=429)
    if not told["many"]:
        told["parts"] = [_part(version, of, rows, person(request)) for version, of in _by_catalogue(sites)]
        told["any"] = any(part["lists"] for part in told["parts"])
    return render(request, "answers/cut_list_page.html", told)


def _by_catalogue(sites: Sequence[Site]) -> list[tuple[CatalogueVersion | None, list[Site]]]:
    """The sites by whose catalogue counts there."""
    found: dict[Any, list[Site]] = {}
    for each in sites:
        found.setdefault(each.organisation_id, []).append(each)
    return [(newest_of(organisation), of) for organisation, of in found.items()]


def _part(
    version: CatalogueVersion | None, sites: list[Site], rows: dict[Site, list[Opening]], user: User
) -> dict[str, Any]:
    """The lists of the sites that go by one catalogue."""
    told: dict[str, Any] = {"of": sites[0].organisation.name, "catalogue": version, "lists": []}
    if version is None:
        return told
    wanted = _wanted(version, sites, rows, user)
    catalogue, reader = read(version), reader_for(user, sites[0])
    return told | {
        "open": in_none(wanted, catalogue),
        "left_out": [(label, Voice(reader).of(why)) for label, why in left_out(wanted)],
        "unsettled": unsettled(wanted),
        "lists": [_said(each, reader, version.currency) for each in cut_lists(wanted, catalogue)],
    }


def _wanted(
    version: CatalogueVersion, sites: list[Site], rows: dict[Site, list[Opening]], user: User
) -> tuple[Wanted, ...]:
    """The openings, each by the profile that was ordered or offered for it, else by the cheapest that fits."""
    found: list[tuple[str, list[tuple[str, TakeOff]]]] = []
    said: list[Settled] = []
    for site in sites:
        sheaf = sheaf_of(site, rows[site], version)
        decisions = decisions_at(site, user, timezone.localdate()) if rows[site] else {}
        here = []
        for each in sheaf.openings.values():
            take_off, words = settled(each, decisions.get(each.key), sheaf)
            here.append((each.tag, take_off))
            said.append(words)
        found.append((site.name, here))
    return labelled(found, said)


def _said(each: CutList, reader: Reader, currency: str) -> dict[str, Any]:
    voice, found = Voice(reader), each.result
    said: dict[str, Any] = {
        "name": each.name,
        "pieces": each.pieces,
        "rolled": each.rolled,
        "why_not": voice.of(each.why_not),
        "origins": [(label, voice.of(words)) for label, words in each.origins],
        "circuits": [(label, voice.word(CIRCUITS[circuit])) for label, circuit in each.circuits],
    }
    if found is None:
        return said
    case = found.case
    priced = case.stock[0].cost is not None
    cost = with_currency(found.cost, currency) if priced else _("%(length)s of it") % {
        "length": voice.amount(found.cost, "m")
    }  # fmt: skip
    bound = with_currency(found.bound, currency) if priced else voice.amount(found.bound, "m")
    return said | {
        "cost": cost,
        "bars": found.bar_count,
        "proven": found.proven,
        "bound": bound,
        "waste": f"{100 * found.waste_share:.1f}",
        "kerf": voice.amount(case.kerf, "m"),
        "trim": voice.amount(case.trim_end, "m") if case.trim_end else "",
        "rows": [
            (
                bar.name,
                voice.amount(bar.length, "m"),
                [(cut.label, voice.amount(cut.length, "m")) for cut in bar.cuts],
                voice.amount(bar.off_cut, "m"),
                bar.kept,
            )
            for bar in found.bars
        ],
        "drawing": svg(bars_drawing(found, reader)),
        "assumptions": [voice.word(line) for line in found.assumptions],
    }
