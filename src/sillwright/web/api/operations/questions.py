"""Questions about one fact of an opening: asked, answered, withdrawn."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal
from uuid import UUID, uuid4

from django.core.exceptions import PermissionDenied
from django.db.models import Q, QuerySet
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.base.fact import ORIGINS
from sillwright.survey.entries import SAYS
from sillwright.web.accounts.models import User
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.openings import openings_of
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records import questions as records
from sillwright.web.records.audit import id_of
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Question
from sillwright.web.records.seen import fetched

router = Router(tags=[gettext_noop("Questions")])


class QuestionSaid(BaseModel):
    """A question, and what became of it."""

    id: UUID
    site: UUID
    opening: UUID
    fact: str
    words: str
    photo: UUID | None
    by: str = Field(description="Who asked.")
    to: str = Field(description="Who was asked; the name of whom a link is for.")
    asked: datetime
    ends: datetime | None = Field(description="When its link ends; null where there is none.")
    withdrawn: datetime | None
    answered: datetime | None
    answer: UUID | None = Field(description="The observation that the answer became.")


class Questions(Page[QuestionSaid]):
    """Questions, oldest first."""


class NewQuestion(Asked):
    """A question: to a person who may look at the site, or to somebody by a link, with a name."""

    id: UUID = Field(default_factory=uuid4, description="Made where it was written: sent twice, it is kept once.")
    fact: Words = Field(examples=["operator.model"])
    words: Words
    to: UUID | None = Field(None, description="A person who may look at the site.")
    name: Words = Field("", description="Without a person: who a link is for.")
    days: Literal[1, 7, 30] = Field(7, description="How long the link lasts.")
    photo: UUID | None = Field(None, description="A photo of the same opening.")


class QuestionMade(QuestionSaid):
    """A question with the address of its link, which is shown once."""

    address: str | None = Field(description="The link; null where there is none, and where this is a repeat.")


class NewAnswer(Asked):
    """An answer. Of whoever may only read at the site it is kept as told."""

    id: UUID = Field(default_factory=uuid4, description="Of the observation that it becomes.")
    says: str = Field("value", json_schema_extra={"enum": [each for each in SAYS if each != "removed"]})
    typed: Words = Field("", examples=["2014-05"])
    origin: str = Field("told", alias="from", json_schema_extra={"enum": list(ORIGINS)})
    by: Words = ""
    on: Words = Field("", description="Which day, as typed.")
    known: Words = Field("", description="How it is known, in words.")


def questions_of() -> QuerySet[Question]:
    """Questions with what is said of them."""
    return Question.objects.select_related("opening__site__organisation", "by", "to")


@router.get(
    "/questions", response=Questions, auth=reads, summary=gettext_noop("List the questions to you and from you")
)
def questions(request: HttpRequest, limit: Limit, cursor: Cursor) -> Any:
    me = person(request)
    rows = questions_of().seen_by(me).filter(Q(to=me) | Q(by=me))  # type: ignore[attr-defined]
    return page_of(request, rows, _said, limit=limit, cursor=cursor, by="received")


@router.get(
    "/openings/{uuid:opening}/questions",
    response=Questions,
    auth=reads,
    summary=gettext_noop("List the questions about an opening"),
)
def questions_at(request: HttpRequest, opening: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    rows = questions_of().filter(opening=found)
    return page_of(request, rows, _said, limit=limit, cursor=cursor, by="received")


@router.post(
    "/openings/{uuid:opening}/questions",
    response={201: QuestionMade},
    auth=writes,
    summary=gettext_noop("Ask somebody about a fact"),
)
@made_once
def question_new(request: HttpRequest, opening: UUID, question: NewQuestion) -> Any:
    me = person(request)
    found = fetched(openings_of(), me, opening, "write")  # type: ignore[arg-type]
    told = question.model_dump(exclude={"days", "to"})
    asked = records.Asked(**told, to=_person(question.to) if question.to else None)
    made = records.ask(found, asked, by=me, request=id_of(request), server=request.build_absolute_uri("/"))
    address = None
    if made.to is None and made.digest is None:
        token = records.make_link(made, question.days, by=me, request=id_of(request))
        address = request.build_absolute_uri(reverse("asked", args=[token]))
    return Status(201, {**_said(made), "address": address})


def _person(key: UUID) -> User:
    found = User.objects.filter(pk=key).first()
    if found is None:
        raise Refused(_("This person cannot look at this site; ask by a link."))
    return found


@router.get(
    "/questions/{uuid:question}", response=QuestionSaid, auth=reads, summary=gettext_noop("Read a question")
)
def question(request: HttpRequest, question: UUID) -> Any:
    return _said(fetched(questions_of(), person(request), question))  # type: ignore[arg-type]


@router.post(
    "/questions/{uuid:question}/answer",
    response=QuestionSaid,
    auth=writes,
    summary=gettext_noop("Answer a question"),
)
def question_answer(request: HttpRequest, question: UUID, answer: NewAnswer) -> Any:
    me = person(request)
    found = fetched(questions_of(), me, question)  # type: ignore[arg-type]
    if found.to_id != me.pk and not found.may_write:
        raise PermissionDenied
    answered = records.Answered(**answer.model_dump())
    records.answer(found, answered, by=me, writes=found.may_write, request=id_of(request))
    return _said(questions_of().get(pk=found.pk))


@router.delete(
    "/questions/{uuid:question}",
    response={204: None},
    auth=writes,
    summary=gettext_noop("Withdraw a question"),
)
def question_end(request: HttpRequest, question: UUID) -> Any:
    found = fetched(questions_of(), person(request), question, "write")  # type: ignore[arg-type]
    records.withdraw(found, by=person(request), request=id_of(request))
    return Status(204, None)


def _said(row: Question) -> dict[str, Any]:
    names = ("id", "fact", "words", "withdrawn", "answered")
    return {
        **{name: getattr(row, name) for name in names},
        "site": row.site_id,
        "opening": row.opening_id,
        "photo": row.photo_id,
        "by": row.by.name,
        "to": row.to.name if row.to else row.name,
        "asked": row.at,
        "ends": row.ends if row.digest else None,
        "answer": row.answer_id,
    }
