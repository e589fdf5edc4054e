"""The page of a site: its openings with the answer to each, as far as they are known by now."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Any
from uuid import UUID

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.finding import LEVEL_IN_WORDS
from sillwright.base.words import Reader, translate
from sillwright.web.answers.body import body_of
from sillwright.web.people.who import person
from sillwright.web.records.answers import answer_of, key_of, reader_for, state_of
from sillwright.web.records.models import Answer, Fact, Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.sites.mine import put_away_just_now, wanted_in

ON_A_PAGE = 100
MANY = 8  # with more there is a field to search in


@require_safe
def site(request: HttpRequest, id: UUID) -> HttpResponse:
    """A site and its openings, with the answers that are known by now; the others are asked for one by one."""
    found = fetched(Site.objects.select_related("organisation"), request.user, id)
    reader = reader_for(person(request), found)
    openings = list(found.openings.all())
    for each in openings:
        each.site = found
    shown = [each for each in openings if each.put_away is None]
    answers = _answers(found, shown, reader)
    wanted = wanted_in(request)
    page = Paginator(_named(shown, wanted), ON_A_PAGE).get_page(request.GET.get("page"))
    told = {
        "site": found,
        "mine": person(request).memberships.filter(organisation=found.organisation_id).exists(),
        "page": page,
        "rows": _rows(page.object_list, answers, reader),
        "counts": _counts(shown, answers),
        "away": [each for each in openings if each.put_away is not None],
        "undo": put_away_just_now(request, found.openings.all()) if found.may_write else None,
        "wanted": wanted,
        "search": bool(wanted) or len(shown) > MANY,
    }
    return render(request, "sites/site_page.html", told)


def _named(openings: list[Opening], wanted: str) -> list[Opening]:
    """The openings whose tag or name has the wanted words in it; all of them where none are wanted."""
    if not wanted:
        return openings
    names = _names(openings)
    return [each for each in openings if wanted.casefold() in f"{each.tag}\n{names.get(each.pk, '')}".casefold()]


def _names(openings: list[Opening]) -> dict[UUID, str]:
    """What openings are called beside their tags."""
    facts = Fact.objects.filter(opening__in=openings, path="name").values_list("opening_id", "heads")
    return {key: next((head["typed"] for head in heads if head.get("typed")), "") for key, heads in facts}


def _answers(site: Site, openings: list[Opening], reader: Reader) -> dict[UUID, Answer]:
    """The kept answers that still hold, by opening."""
    states = {each.pk: state_of(each) for each in openings}
    kept = Answer.objects.filter(opening__site=site, reader=key_of(reader)).defer("body")
    return {each.opening_id: each for each in kept if each.state == states.get(each.opening_id)}


def _rows(openings: Iterable[Opening], answers: dict[UUID, Answer], reader: Reader) -> list[dict[str, Any]]:
    found = list(openings)
    names = _names(found)
    return [
        {
            "opening": each,
            "name": names.get(each.pk, ""),
            **(said(answers[each.pk], reader) if each.pk in answers else {}),
        }
        for each in found
    ]


def said(answer: Answer, reader: Reader) -> dict[str, str]:
    """The answer of an opening in a sentence, and the weight of the heaviest finding in words."""
    level = LEVEL_IN_WORDS.get(answer.level)  # type: ignore[call-overload]
    return {
        "closing": answer.closing,
        "headline": answer.headline or _("Too little is known for a study."),
        "level": answer.level,
        "level_in_words": translate(level, reader) if level else "",
    }


def _counts(openings: list[Opening], answers: dict[UUID, Answer]) -> dict[str, int]:
    """How many openings there are, and to how many each answer was given."""
    by_answer = Counter(each.closing for each in answers.values())
    return {"all": len(openings), "open": len(openings) - len(answers), **by_answer}


@require_safe
def headline(request: HttpRequest, id: UUID) -> HttpResponse:
    """The answer of one opening in a sentence, studied now where it is not kept."""
    found = fetched(Opening.objects.select_related("site"), request.user, id)
    reader = reader_for(person(request), found.site)
    return JsonResponse(said(answer_of(found, reader, body_of), reader))
