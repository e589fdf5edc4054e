"""The cut list of a site: its channels, cut from the lengths that the catalogue sells them in."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from sillwright.base.words import Reader
from sillwright.paper.svg import svg
from sillwright.paper.voice import Voice
from sillwright.study import study_site
from sillwright.study.cut_lists import CutList, cut_lists
from sillwright.takeoff.cutting.layout import bars_drawing
from sillwright.web.answers.limits import one_too_many
from sillwright.web.orders.catalogues import newest_of, read
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.models import Site
from sillwright.web.records.papers import MOST_OPENINGS, sheaf_of
from sillwright.web.records.seen import fetched

MOST_A_MINUTE = 20


@require_safe
def cut_list(request: HttpRequest, id: UUID) -> HttpResponse:
    """What to buy and how to cut it, for all openings whose channel is chosen."""
    site = fetched(Site.objects.select_related("organisation"), request.user, id)
    reader = reader_for(person(request), site)
    openings = list(site.openings.filter(put_away=None)[: MOST_OPENINGS + 1])
    told: dict[str, Any] = {"site": site, "many": len(openings) > MOST_OPENINGS, "most": MOST_OPENINGS}
    version = newest_of(site.organisation_id)
    told["catalogue"] = version
    if one_too_many(request, "cut-lists", MOST_A_MINUTE):
        return render(request, "answers/cut_list_page.html", told | {"busy": True}, status=429)
    if version is not None and not told["many"]:
        catalogue = read(version)
        studied = study_site(sheaf_of(site, openings).survey, reader, catalogue=catalogue)
        told["open"] = [each.opening.tag.value for each in studied.openings if not each.takeoff.channel.part]
        told["lists"] = [_said(each, reader, version.currency) for each in cut_lists(studied.openings, catalogue)]
    return render(request, "answers/cut_list_page.html", told)


def _said(each: CutList, reader: Reader, currency: str) -> dict[str, Any]:
    voice, found = Voice(reader), each.result
    said: dict[str, Any] = {"channel": each.channel, "pieces": each.pieces, "why_not": voice.of(each.why_not)}
    if found is None:
        return said
    return said | {
        "cost": f"{found.cost:,.2f} {currency}",
        "bars": found.bar_count,
        "proven": found.proven,
        "bound": f"{found.bound:,.2f} {currency}",
        "waste": f"{100 * found.waste_share:.1f}",
        "rows": [
            (
                bar.name,
                voice.amount(bar.length, "m"),
                ", ".join(f"{cut.label} {voice.amount(cut.length, 'm')}" for cut in bar.cuts),
                voice.amount(bar.off_cut, "m"),
                bar.kept,
            )
            for bar in found.bars
        ],
        "drawing": svg(bars_drawing(found, reader)),
        "assumptions": list(found.assumptions),
    }
