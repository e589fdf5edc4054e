"""Sending: one observation, a choice between readings, an undo; and a text read back while it is typed."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, JsonResponse
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.dates import MONTHS
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from sillwright.base.errors import UnknownName
from sillwright.web.pages.refusals import refused as refused_page
from sillwright.web.records.log import Refused, place_of
from sillwright.web.records.models import Observation
from sillwright.web.taking import history
from sillwright.web.taking.cards import Refusal
from sillwright.web.taking.facts import fact_response, headline_of, pictures_of, progress_in_words, studied_of
from sillwright.web.taking.lists import LISTS, list_of
from sillwright.web.taking.order import AnyCard, Cards, order, taken_down
from sillwright.web.taking.saying import Fields, device_of, fields_of, is_fact, keep, shown_again, typed_in
from sillwright.web.taking.subject import Subject, opening_subject, site_subject
from sillwright.web.taking.units import read_back


@require_POST
def say(request: HttpRequest, id: UUID) -> HttpResponse:
    """Write one observation of an opening."""
    return _say(request, opening_subject(request, id, "write"))


@require_POST
def site_say(request: HttpRequest, id: UUID) -> HttpResponse:
    """Write one observation of a site."""
    return _say(request, site_subject(request, id, "write"))


def _say(request: HttpRequest, subject: Subject) -> HttpResponse:
    as_json = request.content_type == "application/json"
    fields: Fields = {}
    try:
        fields = fields_of(request)
        said = keep(subject, fields, device_of(request), request.user, getattr(request, "id", ""))  # type: ignore[arg-type]
    except Refused as refused:
        return _refused(request, subject, fields, str(refused), as_json)
    if as_json:
        return JsonResponse(answer(request, subject, said, fields.get("page", "facts")))
    return HttpResponseRedirect(_back(subject, said, fields.get("page", "facts")))


def _refused(request: HttpRequest, subject: Subject, fields: Fields, why: str, as_json: bool) -> HttpResponse:
    if as_json:
        return JsonResponse({"kept": False, "refused": why}, status=422)
    path = fields.get("fact", "")
    if not is_fact(path) or path.startswith("site.") != (subject.opening is None):
        return refused_page(request, 422, _("This cannot be kept"), why)
    return fact_response(request, subject, path, Refusal(typed=shown_again(typed_in(fields)), why=why), status=422)


def _back(subject: Subject, said: Observation, page: str) -> str:
    """Where a form came from, at the card that was answered."""
    listed = list_of(said.fact)[0]
    name = place_of(said.fact)
    if page == "fact" and name == "fact":
        address = subject.address("fact", said.fact)
    elif page == "list" and listed is not None and subject.opening:
        address = reverse("list", args=[subject.key, listed.name])
    elif page == "replace" and subject.opening:
        address = reverse("replace", args=[subject.key])
    else:
        address = subject.address("facts")
    return f"{address}?kept={said.id}#f-{said.fact}"


def answer(request: HttpRequest, subject: Subject, said: Observation, page: str) -> dict[str, Any]:
    """What a page needs to go on without loading anew once something was kept."""
    found, cards = drawn_anew(request, subject, said.fact, page)
    mistake = next((one.mistake for each in cards for one in each.readings if one.id == str(said.id)), "")
    told = {"kept": True, "id": str(said.id), "status": history.kept_in_words(subject, said), "mistake": mistake}
    return found | told


@require_safe
def drawn(request: HttpRequest, id: UUID) -> HttpResponse:
    """The card of one fact of an opening as it stands now, with the drawing and the sentence."""
    return _drawn(request, opening_subject(request, id))


@require_safe
def site_drawn(request: HttpRequest, id: UUID) -> HttpResponse:
    """The card of one fact of a site as it stands now."""
    return _drawn(request, site_subject(request, id))


def _drawn(request: HttpRequest, subject: Subject) -> HttpResponse:
    path = request.GET.get("fact", "")
    if not (is_fact(path) or path in LISTS) or path.startswith("site.") != (subject.opening is None):
        return JsonResponse({"refused": _("This is no fact that is kept here.")}, status=422)
    return JsonResponse(drawn_anew(request, subject, path, request.GET.get("page", "facts"))[0])


def drawn_anew(
    request: HttpRequest, subject: Subject, path: str, page: str
) -> tuple[dict[str, Any], Sequence[AnyCard]]:
    """The card of a fact, the drawing, the sentence and how far it is; and the cards that were drawn."""
    pictures = pictures_of(subject)
    found: dict[str, Any] = {"fact": path}
    decides: frozenset[str] = frozenset()
    if subject.opening is not None and pictures is not None:
        studied = studied_of(subject)
        asked = order(subject, studied, pictures)
        decides = frozenset(each.path for part in asked.sections for each in part.cards if each.decides)
        found |= {
            "headline": headline_of(subject, studied),
            "progress": progress_in_words(asked.taken, asked.matter),
            "drawing": pictures.map.svg,
            "windows": pictures.windows(),
        }
    else:
        found |= {
            "headline": "",
            "progress": progress_in_words(taken_down(subject), 0),
            "drawing": "",
            "windows": {},
        }
    cards = Cards(subject, pictures, decides, page).of([path]) if place_of(path) != "member" else ()
    told = {"subject": subject, "months": MONTHS.values(), "page": page}
    template = "taking/_card.html" if page == "fact" and is_fact(path) else "taking/_item.html"
    found["card"] = "".join(render_to_string(template, {**told, "card": each}, request) for each in cards)
    if page == "fact" and cards:
        told |= {"card": cards[0], "history": history.of(subject, path)}
        found["history"] = render_to_string("taking/_history.html", told, request)
    return found, cards


@require_POST
def read_text(request: HttpRequest, id: UUID) -> HttpResponse:
    """What a typed answer about an opening comes to, in both systems of units."""
    return _read(request, opening_subject(request, id))


@require_POST
def site_read_text(request: HttpRequest, id: UUID) -> HttpResponse:
    """What a typed answer about a site comes to, in both systems of units."""
    return _read(request, site_subject(request, id))


def _read(request: HttpRequest, subject: Subject) -> HttpResponse:
    try:
        asked = json.loads(request.body)
        found = read_back(str(asked["fact"]), str(asked["typed"]), subject.reader)
    except (ValueError, KeyError, TypeError, RecursionError, UnknownName):
        return JsonResponse({"mistake": _("This cannot be read.")}, status=422)
    return JsonResponse(asdict(found))
