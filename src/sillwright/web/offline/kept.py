"""A site as a phone keeps it: what stands of every opening, so that it can go on without a signal."""

from __future__ import annotations

from collections import defaultdict
from datetime import UTC, datetime
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils import timezone
from django.views.decorators.http import require_safe

from sillwright.web.people.who import person
from sillwright.web.records.answers import key_of, reader_for, state_of
from sillwright.web.records.models import Answer, Fact, Opening, Photo, Remark, Site
from sillwright.web.records.remarks import standing
from sillwright.web.records.seen import fetched


@require_safe
def kept(request: HttpRequest, id: UUID) -> HttpResponse:
    """The site with its openings, their facts, remarks and photos by name, and the answers that hold by now."""
    site = fetched(Site.objects.select_related("organisation"), request.user, id)
    user = person(request)
    reader = reader_for(user, site)
    openings = list(site.openings.filter(put_away=None))
    for each in openings:
        each.site = site
    told = {
        "made": _moment(timezone.now()),
        "person": {"id": str(user.pk), "name": user.name},
        "site": {
            "id": str(site.pk),
            "name": site.name,
            "country": site.country,
            "units": reader.units,
            "may_write": site.may_write,
            "facts": _facts(site, None),
        },
        "openings": _openings(site, openings, key_of(reader)),
    }
    return JsonResponse(told)


def _openings(site: Site, openings: list[Opening], reader: str) -> list[dict[str, Any]]:
    facts = _by_opening(site)
    remarks, photos = _remarks(site), _photos(site)
    answers = {each.opening_id: each for each in Answer.objects.filter(opening__site=site, reader=reader)}
    return [
        {
            "id": str(each.pk),
            "tag": each.tag,
            "position": each.position,
            "revision": each.revision,
            "facts": facts[each.pk],
            "remarks": remarks[each.pk],
            "photos": photos[each.pk],
            **_answer(each, answers.get(each.pk)),
        }
        for each in openings
    ]


def _answer(opening: Opening, answer: Answer | None) -> dict[str, Any]:
    if answer is None or answer.state != state_of(opening):
        return {"answer": None}
    return {"answer": {"headline": answer.headline, "closing": answer.closing, "level": answer.level}}


def _facts(site: Site, opening: Opening | None) -> dict[str, Any]:
    return {row.path: _register(row) for row in Fact.objects.filter(site=site, opening=opening).order_by("pk")}


def _by_opening(site: Site) -> dict[Any, dict[str, Any]]:
    told: dict[Any, dict[str, Any]] = defaultdict(dict)
    for row in Fact.objects.filter(site=site).order_by("pk"):
        told[row.opening_id][row.path] = _register(row)
    return told


def _register(row: Fact) -> dict[str, Any]:
    """Readings that stand, and the ids that were replaced before they came: the merge goes on from there."""
    return {"heads": row.heads, "awaited": row.awaited}


def _remarks(site: Site) -> dict[Any, list[dict[str, Any]]]:
    told: dict[Any, list[dict[str, Any]]] = defaultdict(list)
    for each in standing(Remark.objects.filter(site=site).select_related("author")):
        told[each.opening_id].append(
            {
                "id": str(each.pk),
                "says": each.kind,
                "about": each.about,
                "words": each.words,
                "author": each.author.name,
                "person": str(each.author_id),
                "at": _moment(each.at),
            }
        )
    return told


def _photos(site: Site) -> dict[Any, list[dict[str, Any]]]:
    told: dict[Any, list[dict[str, Any]]] = defaultdict(list)
    for each in Photo.objects.filter(site=site).exclude(state="refused"):
        told[each.opening_id].append(
            {
                "id": str(each.pk),
                "shot": each.shot,
                "fact": each.fact,
                "state": each.state,
                "copy_of": str(each.copy_of_id) if each.copy_of_id else None,
                "taken": _moment(each.taken),
            }
        )
    return told


def _moment(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
