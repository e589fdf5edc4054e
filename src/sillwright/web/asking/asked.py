"""What the holder of a link to a question sees and may do: this question, its photo, one answer."""

from __future__ import annotations

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.dates import MONTHS
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.web.answers.files import as_file
from sillwright.web.asking.answering import answered
from sillwright.web.records.answers import reader_at
from sillwright.web.records.arriving import content_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Question
from sillwright.web.records.questions import answer, question_of
from sillwright.web.taking.cards import Refusal, card
from sillwright.web.taking.subject import Subject


@require_http_methods(["GET", "HEAD", "POST"])
@login_not_required
def asked(request: HttpRequest, token: str) -> HttpResponse:
    """The question with a form for its answer, and after it that it is kept."""
    found = _found(token)
    if request.method != "POST":
        return _private(_page(request, found, token))
    try:
        answer(found, answered(request, found.fact), by=None, writes=False, request=request)
    except Refused as refused:
        wrong = Refusal(typed=request.POST.get("typed", "")[:4000], why=str(refused))
        return _private(_page(request, found, token, wrong, 422))
    return _private(render(request, "asking/thanks_page.html", {"question": found}))


@require_safe
@login_not_required
def photo(request: HttpRequest, token: str) -> HttpResponse:
    """The photo that the question shows."""
    shown = _found(token).photo
    if shown is None or shown.state != "kept":
        raise Http404
    return _private(as_file(content_of(shown, small=False), "image/jpeg", "photo.jpg", download=False))


def _found(token: str) -> Question:
    found = question_of(token)
    if found is None:
        raise Http404
    return found


def _page(
    request: HttpRequest, found: Question, token: str, refusal: Refusal | None = None, status: int = 200
) -> HttpResponse:
    opening = found.opening
    empty = Subject(opening.site, opening, True, reader_at(opening.site.country, "site"), found.name)
    told = {
        "question": found,
        "token": token,
        "card": card(empty, found.fact, None, refusal=refusal, page="fact"),
        "months": MONTHS.values(),
    }
    return render(request, "asking/asked_page.html", told, status=status)


def _private(response: HttpResponse) -> HttpResponse:
    response["Cache-Control"] = "no-store"
    response["X-Robots-Tag"] = "noindex, nofollow"
    response["Referrer-Policy"] = "no-referrer"
    return response
