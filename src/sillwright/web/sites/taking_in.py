"""Survey files in: a new site from one, or more about a site that is there."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.base.errors import DocumentError, InputError, Mistake
from sillwright.base.words import Reader
from sillwright.survey.model import Survey
from sillwright.survey.reading import survey_of
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import take_in
from sillwright.web.records.taking_more import take_in_more
from sillwright.web.sites.making import organisation_of
from sillwright.web.sites.mine import may_make

MOST_SHOWN = 100  # mistakes


class Unusable(Exception):
    """A file that cannot be taken in: what is wrong with it, line by line."""

    def __init__(self, words: str, mistakes: tuple[Mistake, ...] = ()) -> None:
        super().__init__(words)
        self.words, self.mistakes = words, mistakes


def survey_in(request: HttpRequest) -> Survey:
    """The survey in an uploaded file; told apart by its content, never by its name.

    Raises :class:`Unusable`.
    """
    file = request.FILES.get("file")
    if file is None:
        raise Unusable(_("Choose a survey file first: YAML, JSON or XLSX, at most 2 MB."))
    try:
        return survey_of(file.read(), str(file.name or "survey")[:80])
    except DocumentError as error:
        raise Unusable(_("This file was not taken in. Nothing was changed."), error.mistakes) from None
    except InputError as error:
        raise Unusable(error.in_words(Reader())) from None


@require_http_methods(["GET", "HEAD", "POST"])
def site_take_in(request: HttpRequest) -> HttpResponse:
    """A new site from a survey file, a draft as well."""
    allowed = list(may_make(person(request)))
    if not allowed:
        raise PermissionDenied
    told: dict[str, Any] = {"organisations": allowed}
    if request.method == "POST":
        whose = organisation_of(request)
        try:
            made = take_in(whose, survey_in(request), author=person(request), device=_("a file"))
        except (Unusable, Refused) as error:
            return _refused(request, error, told)
        return redirect("site", id=made.pk)
    return render(request, "sites/take_in_page.html", told)


@require_http_methods(["GET", "HEAD", "POST"])
def site_take_in_more(request: HttpRequest, id: UUID) -> HttpResponse:
    """More about a site: new openings are made, further readings stand beside those that are there."""
    found = fetched(Site.objects.all(), request.user, id, "write")
    told: dict[str, Any] = {"site": found}
    if request.method == "POST":
        try:
            told["came"] = take_in_more(found, survey_in(request), author=person(request), device=_("a file"))
        except (Unusable, Refused) as error:
            return _refused(request, error, told)
    return render(request, "sites/take_in_page.html", told)


def _refused(request: HttpRequest, error: Unusable | Refused, told: dict[str, Any]) -> HttpResponse:
    mistakes = getattr(error, "mistakes", ())
    told |= {"wrong": str(error), "mistakes": mistakes[:MOST_SHOWN], "more": max(0, len(mistakes) - MOST_SHOWN)}
    return render(request, "sites/take_in_page.html", told, status=422)
