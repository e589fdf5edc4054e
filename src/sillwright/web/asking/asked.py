"""What the holder of a link to a question sees and may do: this question, its photo, one answer."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.web.answers.files import as_file
from sillwright.web.asking.answering import answered, form_of
from sillwright.web.asking.limits import too_many
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.records.answers import reader_at
from sillwright.web.records.arriving import content_of
from sillwright.web.records.audit import id_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Question
from sillwright.web.records.papers import Damaged
from sillwright.web.records.questions import answer, answered_by, question_of
from sillwright.web.taking.cards import card
from sillwright.web.taking.subject import Subject

View = Callable[[HttpRequest, str], HttpResponse]


def _by_link(view: View) -> View:
    """A view for holders of links: limited, kept by nobody, found by no search engine.

    The address is told to no other site. It is told to this one: a form sent without it would look like one that
    another site sends.
    """

    @wraps(view)
    def private(request: HttpRequest, token: str) -> HttpResponse:
        response = too_many(request) or view(request, token)
        response["Cache-Control"] = "no-store"
        response["X-Robots-Tag"] = "noindex, nofollow"
        response["Referrer-Policy"] = "same-origin"
        return response

    return private


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
@_by_link
def asked(request: HttpRequest, token: str) -> HttpResponse:
    """The question with a form for its answer, and after it that it is kept."""
    if thanked := answered_by(token, request.POST.get("key", request.GET.get("kept", ""))):
        return render(request, "asking/thanks_page.html", {"question": thanked})
    found = question_of(token)
    if found is None:
        return _not_open(request)
    if request.method != "POST":
        return _page(request, found, token)
    try:
        kept = answer(found, answered(request, found.fact), by=None, writes=False, request=id_of(request))
    except Refused as refused:
        return _page(request, found, token, str(refused)) if question_of(token) else _not_open(request)
    return HttpResponseRedirect(f"{reverse('asked', args=[token])}?kept={kept.pk}")


@login_not_required
@require_safe
@_by_link
def photo(request: HttpRequest, token: str) -> HttpResponse:
    """The photo that the question shows."""
    found = question_of(token)
    if found is None or found.photo is None or found.photo.state != "kept":
        return _not_open(request)
    try:
        return as_file(content_of(found.photo), "image/jpeg", "photo.jpg", download=False)
    except Damaged:
        return _not_open(request)


def _not_open(request: HttpRequest) -> HttpResponse:
    words = _(
        "It was answered or withdrawn, its time is over, or the link is not whole. "
        "Ask whoever sent it for a new one."
    )
    return refusal(request, 404, _("This question is not open"), words)


def _page(request: HttpRequest, found: Question, token: str, why: str = "") -> HttpResponse:
    site = found.opening.site
    subject = Subject(site, found.opening, False, reader_at(site.country, "site"), found.name)
    told: dict[str, Any] = {
        "question": found,
        "token": token,
        "form": form_of(request, card(subject, found.fact, None), found.name, writes=False, why=why),
    }
    return render(request, "asking/asked_page.html", told, status=422 if why else 200)
