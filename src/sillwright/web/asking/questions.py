"""Questions that were asked: the list, one with its answer, its link, its end."""

from __future__ import annotations

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.dates import MONTHS
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from sillwright.web.asking.answering import answered
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Question
from sillwright.web.records.questions import DAYS, answer, make_link, withdraw
from sillwright.web.records.seen import fetched
from sillwright.web.taking.cards import Refusal, card
from sillwright.web.taking.facts import pictures_of
from sillwright.web.taking.subject import opening_subject

MOST = 200
_ROWS = Question.objects.select_related("opening__site", "by", "to", "photo", "answer")


@require_safe
def questions(request: HttpRequest) -> HttpResponse:
    """Questions to whoever is signed in, and those that the person asked; open ones first."""
    me = person(request)
    seen = _ROWS.seen_by(me).order_by("answered", "-received")
    told = {"mine": seen.filter(to=me)[:MOST], "asked": seen.filter(by=me)[:MOST]}
    return render(request, "asking/questions_page.html", told)


@require_http_methods(["GET", "HEAD", "POST"])
def question(request: HttpRequest, id: UUID) -> HttpResponse:
    """A question with what stands of its fact; whoever may look at the site may answer it."""
    found = fetched(_ROWS, request.user, id)
    if request.method != "POST":
        return _page(request, found)
    try:
        answer(found, answered(request, found.fact), by=person(request), writes=found.may_write, request=request)
    except Refused as refused:
        return _page(
            request, found, Refusal(typed=request.POST.get("typed", "")[:4000], why=str(refused)), status=422
        )
    return redirect("question", found.pk)


@require_POST
def link(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new link to a question; the answer shows it, this once."""
    found = fetched(_ROWS, request.user, id, "write")
    days = request.POST.get("days", "")
    try:
        token = make_link(found, int(days) if days.isdecimal() else 0, by=person(request), request=request)
    except Refused as refused:
        return _page(request, found, wrong=str(refused), status=422)
    return _page(request, found, made=request.build_absolute_uri(reverse("asked", args=[token])))


@require_POST
def withdrawn(request: HttpRequest, id: UUID) -> HttpResponse:
    """End a question that nobody has answered."""
    found = fetched(_ROWS, request.user, id, "write")
    withdraw(found, by=person(request), request=request)
    return redirect("question", found.pk)


def _page(
    request: HttpRequest,
    found: Question,
    refusal: Refusal | None = None,
    *,
    made: str = "",
    wrong: str = "",
    status: int = 200,
) -> HttpResponse:
    subject = opening_subject(request, found.opening_id)
    pictures = pictures_of(subject)
    told = {
        "question": found,
        "subject": subject,
        "pictures": pictures,
        "card": card(subject, found.fact, pictures, refusal=refusal, page="fact"),
        "open": found.answered is None and found.withdrawn is None,
        "months": MONTHS.values(),
        "days": DAYS,
        "made": made,
        "wrong": wrong,
        "now": timezone.now(),
        "facts_address": subject.address("facts"),
    }
    return render(request, "asking/question_page.html", told, status=status)
