"""The page of a site: its openings with what is known of each, and the small things done to sites and openings."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.db.models import Prefetch
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from sillwright.base.finding import LEVEL_IN_WORDS
from sillwright.base.words import Reader, translate
from sillwright.web.answers.body import body_of
from sillwright.web.people.who import person
from sillwright.web.records.answers import answer_of, key_of, reader_for, state_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Answer, Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import put_away, rename


@require_safe
def site(request: HttpRequest, id: UUID) -> HttpResponse:
    """A site and its openings, with the answers that are known by now; the others are asked for one by one."""
    found = fetched(Site.objects.select_related("organisation"), request.user, id)
    reader = reader_for(person(request), found)
    answers = Answer.objects.filter(reader=key_of(reader)).defer("body")
    openings = list(found.openings.prefetch_related(Prefetch("answers", answers)))
    for each in openings:
        each.site = found
    shown = [_row(each, reader) for each in openings if each.put_away is None]
    told = {
        "site": found,
        "rows": shown,
        "away": [each for each in openings if each.put_away is not None],
        "counts": _counts(shown),
    }
    return render(request, "sites/site_page.html", told)


def _row(opening: Opening, reader: Reader) -> dict[str, Any]:
    state = state_of(opening)
    kept = next((each for each in opening.answers.all() if each.state == state), None)
    return {"opening": opening, **(_said(kept, reader) if kept else {})}


def _said(answer: Answer, reader: Reader) -> dict[str, Any]:
    level = LEVEL_IN_WORDS.get(answer.level)  # type: ignore[call-overload]
    return {
        "known": True,
        "closing": answer.closing,
        "headline": answer.headline or _("Too little is known for a study."),
        "level": answer.level,
        "level_in_words": translate(level, reader) if level else "",
    }


def _counts(rows: list[dict[str, Any]]) -> dict[str, int]:
    said = [row.get("closing", "") for row in rows]
    words = {"yes": "may", "no": "may_not", "unknown": "not_known"}
    return {"all": len(rows), "open": said.count(""), **{name: said.count(key) for key, name in words.items()}}


@require_safe
def headline(request: HttpRequest, id: UUID) -> HttpResponse:
    """The answer of one opening in a sentence, studied now where it is not kept."""
    found = fetched(Opening.objects.select_related("site"), request.user, id)
    reader = reader_for(person(request), found.site)
    return JsonResponse(_said(answer_of(found, reader, body_of), reader))


@require_http_methods(["GET", "HEAD", "POST"])
def site_name(request: HttpRequest, id: UUID) -> HttpResponse:
    """Another name for a site."""
    return _named(request, fetched(Site.objects.all(), request.user, id, "manage"))


@require_http_methods(["GET", "HEAD", "POST"])
def opening_name(request: HttpRequest, id: UUID) -> HttpResponse:
    """Another tag for an opening."""
    return _named(request, fetched(Opening.objects.select_related("site"), request.user, id, "write"))


def _named(request: HttpRequest, thing: Any) -> HttpResponse:
    where = "opening" if isinstance(thing, Opening) else "site"
    told = {"thing": thing, "where": where, "typed": str(thing), "wrong": ""}
    if request.method == "POST":
        told["typed"] = request.POST.get("name", "")
        try:
            rename(thing, told["typed"], author=person(request))
        except Refused as refused:
            told["wrong"] = str(refused)
        else:
            messages.success(request, _("It is called “%(name)s” now.") % {"name": thing})
            return redirect(where, id=thing.pk)
    return render(request, "sites/name_page.html", told, status=422 if told["wrong"] else 200)


@require_POST
def site_put_away(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take a site out of the lists, or put it back."""
    found = fetched(Site.objects.all(), request.user, id, "manage")
    back = "back" in request.POST
    put_away(found, author=person(request), back=back)
    messages.success(request, _put(found, back))
    return redirect("site", id=id) if back else redirect("home")


@require_POST
def opening_put_away(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take an opening out of its site's list, or put it back."""
    found = fetched(Opening.objects.select_related("site"), request.user, id, "write")
    back = "back" in request.POST
    put_away(found, author=person(request), back=back)
    messages.success(request, _put(found, back))
    return redirect("site", id=found.site_id)


def _put(thing: Any, back: bool) -> str:
    words = _("“%(name)s” is back.") if back else _("“%(name)s” is put away. Nothing is lost; it can be put back.")
    return words % {"name": thing}
