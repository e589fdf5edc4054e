"""Questions that were asked: the list, one with its answer, its link, its end."""

from __future__ import annotations

from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from sillwright.web.asking.answering import answered, form_of
from sillwright.web.people.who import person
from sillwright.web.records.audit import id_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Question
from sillwright.web.records.questions import DAYS, answer, in_order, make_link, withdraw
from sillwright.web.records.seen import fetched
from sillwright.web.taking.cards import card
from sillwright.web.taking.facts import pictures_of
from sillwright.web.taking.subject import opening_subject

MOST = 200
_ROWS = Question.objects.select_related("opening__site__organisation", "by", "to", "photo", "answer")


@require_safe
def questions(request: HttpRequest) -> HttpResponse:
    """Questions to whoever is signed in, and those that the person asked; open ones first."""
    me = person(request)
    seen = in_order(_ROWS.seen_by(me))
    told = {"mine": seen.filter(to=me, withdrawn=None)[:MOST], "asked": seen.filter(by=me)[:MOST]}
    return render(request, "asking/questions_page.html", told)


@require_http_methods(["GET", "HEAD", "POST"])
def question(request: HttpRequest, id: UUID) -> HttpResponse:
    """A question with what stands of its fact. Whoever is asked may answer it, and whoever may write there."""
    found = fetched(_ROWS, request.user, id)
    if request.method != "POST":
        return _page(request, found)
    if not may_answer(found, request):
        raise PermissionDenied
    sent = id_of(request)
    try:
        answer(found, answered(request, found.fact), by=person(request), writes=found.may_write, request=sent)
    except Refused as refused:
        again = fetched(_ROWS, request.user, id)
        return _page(request, again, why=str(refused))
    return redirect("question", found.pk)


def may_answer(found: Question, request: HttpRequest) -> bool:
    """Whether whoever is signed in may answer a question that was fetched for this person."""
    return bool(found.to_id == request.user.pk or found.may_write)  # type: ignore[attr-defined]


@require_POST
def link(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new link to a question, made by whoever asked it; the page shows it, this once."""
    found = fetched(_ROWS, request.user, id, "write")
    if found.by_id != request.user.pk:
        raise PermissionDenied
    days = request.POST.get("days", "")
    span = int(days) if days.isdecimal() and len(days) < 4 else 0
    try:
        token = make_link(found, span, by=person(request), request=id_of(request))
    except Refused as refused:
        return _page(request, fetched(_ROWS, request.user, id), wrong=str(refused))
    return _page(request, found, made=request.build_absolute_uri(reverse("asked", args=[token])))


@require_POST
def withdrawn(request: HttpRequest, id: UUID) -> HttpResponse:
    """End a question that nobody has answered."""
    found = fetched(_ROWS, request.user, id, "write")
    withdraw(found, by=person(request), request=id_of(request))
    return redirect("question", found.pk)


def _page(request: HttpRequest, found: Question, *, why: str = "", made: str = "", wrong: str = "") -> HttpResponse:
    subject = opening_subject(request, found.opening_id)
    pictures = pictures_of(subject)
    shown = card(subject, found.fact, pictures)
    me = person(request)
    still_open = found.answered is None and found.withdrawn is None
    told = {
        "question": found,
        "subject": subject,
        "pictures": pictures,
        "card": shown,
        "open": still_open,
        "mine": found.to_id == me.pk,
        "form": form_of(request, shown, me.name, writes=subject.may_write, why=why)
        if may_answer(found, request)
        else None,
        "links": still_open and found.to is None and found.by_id == me.pk and subject.may_write,
        "days": DAYS,
        "made": made,
        "wrong": wrong,
        "facts_address": subject.address("facts"),
    }
    return render(request, "asking/question_page.html", told, status=422 if why or wrong else 200)
