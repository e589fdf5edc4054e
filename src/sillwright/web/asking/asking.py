"""Asking: what is asked, and whom."""

from __future__ import annotations

import uuid
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.web.accounts.models import User
from sillwright.web.people.who import person
from sillwright.web.photos.listed import photos_of
from sillwright.web.records.audit import id_of
from sillwright.web.records.log import Refused
from sillwright.web.records.questions import LONGEST, Asked, ask, people_at
from sillwright.web.taking.cards import card
from sillwright.web.taking.order import NOT_KEPT_HERE
from sillwright.web.taking.saying import is_fact, shown_again
from sillwright.web.taking.subject import Subject, opening_subject

MOST_PHOTOS = 40
BY_LINK = "link"
TYPED = ("words", "to", "name", "photo", "key")


@require_http_methods(["GET", "HEAD", "POST"])
def ask_page(request: HttpRequest, id: UUID, fact: str) -> HttpResponse:
    """The form of a question about one fact; after a post the page of the question."""
    subject = opening_subject(request, id, "write")
    if not is_fact(fact) or fact.startswith("site.") or fact in NOT_KEPT_HERE:
        raise Http404
    if request.method != "POST":
        return _form(request, subject, fact)
    server = request.build_absolute_uri("/")
    try:
        asked = _asked(request, fact)
        made = ask(subject.opening, asked, by=person(request), request=id_of(request), server=server)  # type: ignore[arg-type]
    except Refused as refused:
        return _form(request, subject, fact, str(refused))
    return redirect("question", made.pk)


def _asked(request: HttpRequest, fact: str) -> Asked:
    sent = {name: request.POST.get(name, "").strip().replace("\r\n", "\n") for name in TYPED}
    by_link = sent["to"] == BY_LINK
    return Asked(
        id=_uuid(sent["key"]) or uuid.uuid4(),
        fact=fact,
        words=sent["words"],
        to=None if by_link or not sent["to"] else _person(sent["to"]),
        name=sent["name"] if by_link else "",
        photo=_uuid(sent["photo"]),
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


def _form(request: HttpRequest, subject: Subject, fact: str, wrong: str = "") -> HttpResponse:
    shown = card(subject, fact, None)
    sent = {name: shown_again(request.POST[name]) for name in TYPED if name in request.POST and name != "key"}
    people = people_at(subject.site).exclude(pk=person(request).pk)
    kept = [each for each in photos_of(subject.opening, subject.reader) if each.photo.state == "kept"]  # type: ignore[arg-type]
    told: dict[str, Any] = {
        "subject": subject,
        "card": shown,
        "people": people,
        "photos": kept[: -MOST_PHOTOS - 1 : -1],
        "typed": {"words": shown.ask, "to": "" if people else BY_LINK, **sent},
        "longest": LONGEST,
        "key": uuid.uuid4(),
        "wrong": wrong,
        "facts_address": subject.address("facts"),
    }
    return render(request, "asking/ask_page.html", told, status=422 if wrong else 200)
