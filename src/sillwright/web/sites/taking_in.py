"""Survey files in: a new site from one, or more about a site that is there."""

from __future__ import annotations

import uuid
from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db import IntegrityError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.base.errors import DocumentError, InputError, Mistake
from sillwright.base.words import Reader, retold, translate
from sillwright.survey.model import Survey
from sillwright.survey.questions import question_at
from sillwright.survey.reading import survey_of
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_at
from sillwright.web.records.log import Refused, place_of
from sillwright.web.records.matching import list_and_member
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import take_in
from sillwright.web.records.taking_more import Came, Place, take_in_more
from sillwright.web.sites.mine import key_in, may_make, organisation_of
from sillwright.web.taking.lists import LISTS

MOST_SHOWN = 100  # mistakes, and facts that came in


class Unusable(Exception):
    """A file that cannot be taken in: what is wrong with it, line by line."""

    def __init__(self, words: str, mistakes: tuple[Mistake, ...] = ()) -> None:
        super().__init__(words)
        self.mistakes = mistakes


def survey_in(request: HttpRequest) -> Survey:
    """The survey in an uploaded file; told apart by its content, never by its name.

    Raises :class:`Unusable`.
    """
    file = request.FILES.get("file")
    if file is None:
        raise Unusable(_("Choose a survey file first: YAML, JSON or XLSX, at most 2 MB."))
    try:
        return survey_of(file.read(), str(file.name or "")[:80])
    except DocumentError as error:
        raise Unusable(_("This file was not taken in; nothing was changed."), error.mistakes) from None
    except InputError as error:
        raise Unusable(error.in_words(_reader(request))) from None


def _reader(request: HttpRequest) -> Reader:
    return reader_at("US", person(request).units, person(request).language)


@require_http_methods(["GET", "HEAD", "POST"])
def site_take_in(request: HttpRequest) -> HttpResponse:
    """A new site from a survey file, a draft as well."""
    allowed = list(may_make(person(request)))
    if not allowed:
        raise PermissionDenied
    told: dict[str, Any] = {"organisations": allowed, "key": uuid.uuid4()}
    if request.method != "POST":
        return render(request, "sites/take_in_page.html", told)
    told |= {"key": key_in(request), "organisation": request.POST.get("organisation", "")}
    whose = organisation_of(request)
    how = {"author": person(request), "device": _("survey file"), "request": request, "key": told["key"]}
    try:
        take_in(whose, survey_in(request), **how)
    except (Unusable, Refused) as error:
        return _refused(request, error, told)
    except IntegrityError:  # the second tap on the same button
        pass
    return redirect("site", id=told["key"])


@require_http_methods(["GET", "HEAD", "POST"])
def site_take_in_more(request: HttpRequest, id: UUID) -> HttpResponse:
    """More about a site: new openings are made, further readings stand beside those that are there."""
    found = fetched(Site.objects.select_related("organisation"), request.user, id, "write")
    told: dict[str, Any] = {"site": found}
    if request.method != "POST":
        came = request.session.get(_came_at(id)) if "came" in request.GET else None
        return render(request, "sites/take_in_page.html", told | {"came": came})
    try:
        came = take_in_more(
            found, survey_in(request), author=person(request), device=_("survey file"), request=request
        )
    except (Unusable, Refused) as error:
        return _refused(request, error, told)
    request.session[_came_at(id)] = _came(id, came, _reader(request))
    return redirect(f"{reverse('site_take_in_more', args=[id])}?came=1")


def _came_at(site: UUID) -> str:
    return f"came-{site}"


def _came(site: UUID, came: Came, reader: Reader) -> dict[str, Any]:
    """What came of a file, as the page says it."""
    contradicting = set(came.contradicting)
    agreeing = [
        (opening, path)
        for opening, path in came.beside
        if not {(opening, path), (opening, list_and_member(path)[0])} & contradicting
    ]
    return {
        "openings": len(came.openings),
        "facts": came.facts,
        "again": came.again,
        "contradicting": [_linked(site, each, reader) for each in came.contradicting[:MOST_SHOWN]],
        "more": max(0, len(contradicting) - MOST_SHOWN),
        "beside": len(agreeing),
    }


def _linked(site: UUID, place: Place, reader: Reader) -> tuple[str, str]:
    """A fact or a list in words, with the address of the page where it is settled."""
    opening, path = place
    if place_of(path) != "fact":
        name, page = str(LISTS[path].title), "list"
    else:
        key = list_and_member(path)[1]
        name, page = translate(question_at(path).title, reader) + (f" ({key})" if key else ""), "fact"
    if opening is None:
        return name, reverse(f"site_{page}", args=[site, path])
    return f"{opening.tag}: {name}", reverse(page, args=[opening.pk, path])


def _refused(request: HttpRequest, error: Unusable | Refused, told: dict[str, Any]) -> HttpResponse:
    mistakes: tuple[Mistake, ...] = getattr(error, "mistakes", ())
    reader = _reader(request)
    told |= {
        "wrong": str(error),
        "mistakes": [_in_words(each, reader) for each in mistakes[:MOST_SHOWN]],
        "more": max(0, len(mistakes) - MOST_SHOWN),
    }
    return render(request, "sites/take_in_page.html", told, status=422)


def _in_words(each: Mistake, reader: Reader) -> dict[str, Any]:
    """A mistake in the words of whoever reads."""
    words = {name: retold(getattr(each, name), reader) for name in ("message", "got", "accepted")}
    return {"line": each.line, "path": each.path, **words}
