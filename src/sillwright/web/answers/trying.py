"""“What if?”: the answer with other facts, for the script of the study page and as a page of its own."""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.base.errors import UnknownName
from sillwright.base.words import Reader
from sillwright.web.answers.asking import Field, field_of
from sillwright.web.answers.doubts import title_of
from sillwright.web.answers.limits import one_too_many
from sillwright.web.answers.rests import is_name
from sillwright.web.answers.what_if import MOST_FACTS, Supposed, Tried, tried
from sillwright.web.records.answers import Studied, reader_for, study_of
from sillwright.web.records.log import Refused, place_of
from sillwright.web.records.models import Opening
from sillwright.web.records.seen import fetched
from sillwright.web.taking.shown import value_in_words

MOST_BYTES = 100_000
MOST_A_MINUTE = 60


@require_http_methods(["GET", "HEAD", "POST"])
def what_if(request: HttpRequest, id: UUID) -> HttpResponse:
    """Try facts without keeping them: JSON is answered with JSON, a form with the page."""
    opening = fetched(Opening.objects.select_related("site"), request.user, id)
    reader = reader_for(request.user, opening.site)  # type: ignore[arg-type]
    as_json = request.content_type == "application/json"
    if request.method != "POST":
        return _page(request, opening, reader, dict.fromkeys(request.GET.getlist("fact")[:MOST_FACTS], ""))
    if one_too_many(request, "what-if", MOST_A_MINUTE):
        words = _("That was tried very often just now. Wait a minute, then try again.")
        return _refused(request, opening, reader, words, 429, as_json)
    try:
        supposed = _from_json(request) if as_json else _from_form(request)
        found = tried(opening, supposed, reader)
    except Refused as refused:
        return _refused(request, opening, reader, str(refused), 422, as_json)
    if as_json:
        return JsonResponse(_answer(found))
    return _page(request, opening, reader, supposed, found)


def _from_json(request: HttpRequest) -> Supposed:
    wrong = Refused(_("Send {“facts”: {path: typed, or null for not known}}."))
    if len(request.body) > MOST_BYTES:
        raise wrong
    try:
        told: Any = json.loads(request.body)
    except (ValueError, RecursionError):
        raise wrong from None
    facts = told.get("facts") if isinstance(told, dict) else None
    if not isinstance(facts, dict) or not all(each is None or isinstance(each, str) for each in facts.values()):
        raise wrong
    return facts


def _from_form(request: HttpRequest) -> Supposed:
    """Pairs of ``fact`` and ``typed``; one without words is left as it is."""
    pairs = zip(request.POST.getlist("fact"), request.POST.getlist("typed"), strict=False)
    return {fact: typed for fact, typed in pairs if typed.strip()}


def _answer(found: Tried) -> dict[str, Any]:
    return {
        "headline": found.headline,
        "headline_before": found.headline_before,
        "closing": found.closing,
        "changes": list(found.changes),
        "peak_force": {"before": found.peak_before or None, "after": found.peak or None},
        "mistakes": dict(found.mistakes),
    }


def _refused(
    request: HttpRequest, opening: Opening, reader: Reader, words: str, status: int, as_json: bool
) -> HttpResponse:
    if as_json:
        return JsonResponse({"message": words}, status=status)
    facts, typed = request.POST.getlist("fact")[:MOST_FACTS], request.POST.getlist("typed")[:MOST_FACTS]
    return _page(request, opening, reader, dict(zip(facts, typed, strict=False)), wrong=words, status=status)


def _page(
    request: HttpRequest,
    opening: Opening,
    reader: Reader,
    supposed: Mapping[str, str | None],
    found: Tried | None = None,
    *,
    wrong: str = "",
    status: int = 200,
) -> HttpResponse:
    studied = study_of(opening)
    rows = list(_rows(opening, studied, reader, supposed))
    told = {
        "opening": opening,
        "reader": reader,
        "rows": [_row(field, typed, studied, reader, found) for field, typed in rows],
        "tried": found,
        "kept": [(field, typed, uuid.uuid4()) for field, typed in rows if typed] if found else [],
        "others": _others(studied, reader, {field.fact for field, _typed in rows}),
        "wrong": wrong,
    }
    return render(request, "answers/what_if_page.html", told, status=status)


def _row(field: Field, typed: str, studied: Studied, reader: Reader, found: Tried | None) -> dict[str, Any]:
    heads = studied.facts.heads.get(field.fact, ())
    now = [value_in_words(field.fact, head.says, head.typed, reader) for head in heads]
    wrong = found.mistakes.get(field.fact, "") if found else ""
    return {"field": field, "typed": typed, "mistake": wrong, "now": " / ".join(now)}


def _rows(
    opening: Opening, studied: Studied, reader: Reader, supposed: Mapping[str, str | None]
) -> list[tuple[Field, str]]:
    found = []
    for path, typed in supposed.items():
        try:
            found.append((field_of(opening, studied, path, reader), typed or ""))
        except UnknownName:
            continue  # somebody wrote the address by hand
    return found


def _others(studied: Studied, reader: Reader, chosen: set[str]) -> list[tuple[str, str]]:
    """Facts that can be added: first what is not known, then what is."""
    rebuilt, survey = studied.facts.rebuilt, studied.facts.rebuilt.survey
    known = [fact.path for _spec, fact in (*survey.openings[0].facts(), *survey.site.facts()) if fact.readings]
    unknown = [each.fact for each in studied.study.unknown] if studied.study else list(studied.missing)
    paths = [path for path in dict.fromkeys(map(rebuilt.named, (*unknown, *known))) if path not in chosen]
    return [(path, title_of(path, reader)) for path in paths if place_of(path) == "fact" and not is_name(path)]
