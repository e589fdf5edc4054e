"""Asking: what is asked, and whom."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.web.accounts.models import User
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Photo
from sillwright.web.records.questions import LONGEST_NAME, LONGEST_WORDS, Asked, ask, people_at
from sillwright.web.taking.cards import card
from sillwright.web.taking.saying import is_fact
from sillwright.web.taking.subject import Subject, opening_subject

MOST_PHOTOS = 40
BY_LINK = "link"


@require_http_methods(["GET", "HEAD", "POST"])
def ask_page(request: HttpRequest, id: UUID, fact: str) -> HttpResponse:
    """The form of a question about one fact; after a post the page of the question."""
    subject = opening_subject(request, id, "write")
    if not is_fact(fact) or fact.startswith("site."):
        raise Http404
    if request.method != "POST":
        return _form(request, subject, fact, {})
    try:
        made = ask(subject.opening, _asked(request, fact), by=person(request), request=request)  # type: ignore[arg-type]
    except Refused as refused:
        return _form(request, subject, fact, {**request.POST.dict(), "wrong": str(refused)}, 422)
    return redirect("question", made.pk)


def _asked(request: HttpRequest, fact: str) -> Asked:
    to = request.POST.get("to", "")
    return Asked(
        fact=fact,
        words=request.POST.get("words", "").strip(),
        to=None if to in {"", BY_LINK} else _person(to),
        name=request.POST.get("name", "") if to == BY_LINK else "",
        photo=_uuid(request.POST.get("photo", "")),
    )


def _person(key: str) -> User:
    wanted = _uuid(key)
    found = User.objects.filter(pk=wanted).first() if wanted else None
    if found is None:
        raise Refused(_("This person cannot look at this site; ask by a link."))
    return found


def _uuid(key: str) -> UUID | None:
    try:
        return UUID(key) if key else None
    except ValueError:
        raise Refused(_("This is no id.")) from None


def _form(
    request: HttpRequest, subject: Subject, fact: str, typed: dict[str, Any], status: int = 200
) -> HttpResponse:
    shown = card(subject, fact, None, page="fact")
    me = person(request)
    told = {
        "subject": subject,
        "card": shown,
        "people": people_at(subject.site).exclude(pk=me.pk),
        "photos": Photo.objects.filter(opening=subject.opening, state="kept").order_by("-taken")[:MOST_PHOTOS],
        "typed": {"words": shown.ask, **typed},
        "longest": {"words": LONGEST_WORDS, "name": LONGEST_NAME},
        "facts_address": subject.address("facts"),
    }
    return render(request, "asking/ask_page.html", told, status=status)
