"""A list of a survey – devices, stations, zones, tests …: its members with their facts, add one, take one away."""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field, replace
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.survey.questions import question_at
from sillwright.web.records.log import Refused, Said, write_all
from sillwright.web.records.models import Observation
from sillwright.web.taking.cards import Answer, Card, card
from sillwright.web.taking.facts import page, pictures_of
from sillwright.web.taking.lists import LISTS, MemberList, facts_of_member, keys_given, new_key
from sillwright.web.taking.members import first_words, fits_beside, list_card, member_in_full
from sillwright.web.taking.pictures import Pictures
from sillwright.web.taking.saying import device_of, fields_of, removal, said_in, shown_again
from sillwright.web.taking.subject import Subject, opening_subject
from sillwright.web.taking.words import on_a_button

PRESET = {"readings": ("of", "at", "pressed", "on"), "temporary_parts": ("of",), "defeats": ("of",)}
"""Facts that a page may tell together with a new member's first one."""
MOST_PRESET = 60  # signs


@dataclass(frozen=True, kw_only=True)
class Member:
    """A member with its facts."""

    key: str
    words: str
    cards: tuple[Card, ...]
    taken_away_by: str  # where somebody took it away while another person wrote about it
    new_id: uuid.UUID = field(default_factory=uuid.uuid4)


@require_http_methods(["GET", "HEAD", "POST"])
def list_page(request: HttpRequest, id: UUID, name: str) -> HttpResponse:
    """A list with its members; posting adds a member, takes one away, or says that it is there."""
    if name not in LISTS:
        raise Http404
    listed = LISTS[name]
    subject = opening_subject(request, id, "write" if request.method == "POST" else "read")
    if request.method != "POST":
        return _shown(request, subject, listed)
    try:
        kept = _changed(request, subject, listed)
    except Refused as refused:
        return _shown(request, subject, listed, str(refused), status=422)
    address = (
        reverse("replace", args=[id]) if request.POST.get("page") == "replace" else reverse("list", args=[id, name])
    )
    return HttpResponseRedirect(f"{address}?kept={kept.id}#f-{kept.fact}")


def _changed(request: HttpRequest, subject: Subject, listed: MemberList) -> Observation:
    fields = fields_of(request)
    said = said_in({**fields, "fact": listed.name}, device_of(request))
    before = Observation.objects.filter(pk=said.id, site=subject.site, opening=subject.opening).first()
    if before is not None:  # the second tap on the same button
        return before
    key = request.POST.get("member", "")
    if not key:
        wanted = _added(request, subject, listed, said)
    elif key not in subject.members(listed):
        raise Refused(_("There is no such member any more."))
    elif request.POST.get("deed") == "keep":
        wanted = [_there(subject, listed, key, said)]
    else:
        wanted = [removal(subject, listed.name, key, said)]
    more = {"author": request.user, "request": getattr(request, "id", "")}
    return write_all(subject.site, subject.opening, wanted, **more)[0]  # type: ignore[arg-type]


def _added(request: HttpRequest, subject: Subject, listed: MemberList, said: Said) -> list[Said]:
    """The first fact of a new member, and what else is known of it by where it was asked."""
    key = new_key(listed, said.typed, subject.members(listed))
    whole = tuple(head.id for head in subject.heads(listed.name))
    found = [replace(said, fact=f"{listed.name}.{key}.{listed.first}", says="value", replaces=whole)]
    for number, name in enumerate(PRESET.get(listed.name, ())):
        if words := request.POST.get(f"with-{name}", "").strip():
            path = f"{listed.name}.{key}.{name}"
            found.append(
                replace(
                    said, id=uuid.uuid5(said.id, str(number)), fact=path, says="value", typed=words, replaces=()
                )
            )
    return found


def _there(subject: Subject, listed: MemberList, key: str, said: Said) -> Said:
    """That a member is there after all: what it was made with is said again, over its taking away."""
    path = f"{listed.name}.{key}.{listed.first}"
    seen = (head.id for name in (path, f"{listed.name}.{key}") for head in subject.heads(name))
    typed = first_words(subject, listed, key)
    says = "value" if typed else "unknown"
    return replace(said, fact=path, says=says, typed=typed, replaces=tuple(seen))


def _shown(
    request: HttpRequest, subject: Subject, listed: MemberList, refused: str = "", status: int = 200
) -> HttpResponse:
    pictures = pictures_of(subject)
    more = {
        "listed": listed,
        "card": list_card(subject, listed.name, page="list"),
        "members": members(subject, listed, pictures),
        "adding": adding(subject, listed),
        "presets": presets(request, listed),
        "refused": refused,
        "typed": shown_again(request.POST.get("typed", "")) if refused else "",
        "first_open": "",
        "page": "list",
    }
    return page(request, "taking/list_page.html", subject, pictures, more, status=status)


def presets(request: HttpRequest, listed: MemberList) -> tuple[tuple[str, str], ...]:
    """What a link to the list tells of a new member: which device a reading is of, and where it is read."""
    told = ((name, request.GET.get(name, "").strip()) for name in PRESET.get(listed.name, ()) if name != "on")
    return tuple((name, words) for name, words in told if 0 < len(words) <= MOST_PRESET)


def members(subject: Subject, listed: MemberList, pictures: Pictures | None) -> list[Member]:
    """The members of a list with the cards of their facts."""
    found = []
    for key in subject.members(listed):
        here = f"{listed.name}.{key}"
        paths = [f"{here}.{name}" for name in facts_of_member(listed)]
        asked = [path for path in paths if question_at(path).asked_of(subject.kind) or subject.heads(path)]
        asked = [path for path in asked if fits_beside(subject, path)]
        gone = [head.author for head in subject.heads(here) if head.says == "removed"]
        found.append(
            Member(
                key=key,
                words=member_in_full(subject, listed, key),
                cards=tuple(card(subject, path, pictures, page="list") for path in asked),
                taken_away_by=", ".join(gone),
            )
        )
    return found


@dataclass(frozen=True, kw_only=True)
class Adding:
    """How a member is added: the question for its first fact, with the answers that are one tap."""

    ask: str
    answers: tuple[Answer, ...]
    written: bool  # whether it may be answered in other words
    entry: str
    path: str
    units: tuple[str, ...] = ()
    listed: MemberList
    taken: tuple[str, ...] = ()  # keys that were given before, of members that are gone as well
    before: str = ""  # what was said of the list as a whole, for a page without a signal
    new_id: uuid.UUID = field(default_factory=uuid.uuid4)


def adding(subject: Subject, listed: MemberList) -> Adding:
    """The way a member is added to a list."""
    path = f"{listed.name}.new.{listed.first}"
    asked: Any = card(subject, path, None)
    question = asked.question
    words = question.choices if question.spec.kind == "choice" else question.offers
    return Adding(
        ask=question.ask or asked.title,
        answers=tuple(
            Answer(typed=word, words=on_a_button(path, word, subject.reader), current=False) for word in words
        ),
        written=question.spec.kind != "choice",
        entry=asked.entry,
        path=path,
        units=tuple(asked.units),
        listed=listed,
        taken=keys_given(subject.facts.heads, listed),
        before=subject.before(listed.name),
    )
