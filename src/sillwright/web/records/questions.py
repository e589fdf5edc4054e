"""Questions about one fact of one opening: to a person, or by a link that needs no account.

The answer becomes an observation of that fact, beside the readings that stand; a contradiction is settled by a
person. Whoever answers by a link, or may only read at the site, tells it: the observation is written for the one who
asked, with the name of who answered, and says that it was told.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import Q, QuerySet
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.errors import UnknownName
from sillwright.survey.questions import spec_at
from sillwright.web.accounts.models import Membership, User, new_token
from sillwright.web.records.audit import digest, id_of, record
from sillwright.web.records.log import AHEAD, Refused, Said, place_of, register_of, write
from sillwright.web.records.models import Fact, Observation, Opening, Photo, Question, Site
from sillwright.web.records.text import unkept

DAYS = (1, 7, 30)
LONGEST_WORDS = 1000
LONGEST_NAME = 200
MOST_OPEN = 200  # questions about one opening that nobody has answered
EVIDENCE = "question "


@dataclass(frozen=True, kw_only=True)
class Asked:
    """A question as it comes in; ``id`` and ``at`` are made where it is written."""

    fact: str
    words: str
    to: User | None = None
    name: str = ""  # of the person whom a link is for
    photo: uuid.UUID | None = None
    id: uuid.UUID = field(default_factory=uuid.uuid4)
    at: datetime = field(default_factory=timezone.now)


@dataclass(frozen=True, kw_only=True)
class Answered:
    """What was answered, as a fact's card sends it."""

    says: str = "value"
    typed: str = ""
    origin: str = ""
    words: str = ""  # how the one who answers knows it


def people_at(site: Site) -> QuerySet[User]:
    """Who may look at a site, and so can be asked about it."""
    ways = Q(organisation=site.organisation_id) | Q(organisation__shared__site=site)
    return User.objects.filter(pk__in=Membership.objects.filter(ways).values("user"), is_active=True).order_by(
        "name"
    )


@transaction.atomic
def ask(opening: Opening, asked: Asked, *, by: User, request: HttpRequest | None = None) -> Question:
    """A new question; asked twice it is kept once. Raises :class:`Refused`."""
    found: Question | None = Question.objects.filter(pk=asked.id).first()
    if found is not None:
        if (found.opening_id, found.fact, found.words, found.by_id) != (opening.pk, asked.fact, asked.words, by.pk):
            raise Refused(_("Another question has this id."))
        return found
    _check(opening, asked)
    now = timezone.now()
    made = Question.objects.create(
        id=asked.id,
        site_id=opening.site_id,
        opening=opening,
        fact=asked.fact,
        words=asked.words,
        photo_id=asked.photo,
        by=by,
        to=asked.to,
        name="" if asked.to else asked.name.strip(),
        at=min(asked.at, now) if asked.at > now + AHEAD else asked.at,
    )
    _record(request, "asked", made, by)
    return made


def _check(opening: Opening, asked: Asked) -> None:
    try:
        spec_at(asked.fact)
    except UnknownName:
        raise Refused(_("This is no fact that is kept here.")) from None
    if place_of(asked.fact) != "fact" or asked.fact.startswith("site."):
        raise Refused(_("This is no fact that is kept here."))
    if not asked.words.strip():
        raise Refused(_("A question has words."))
    for words, most in ((asked.words, LONGEST_WORDS), (asked.name, LONGEST_NAME)):
        if len(words) > most:
            raise Refused(_("At most %(most)d signs are kept here.") % {"most": most})
        if sign := unkept(words):
            raise Refused(_("The sign %(sign)s cannot be kept.") % {"sign": sign})
    if asked.to is None and not asked.name.strip():
        raise Refused(_("Whom do you ask? Choose somebody, or write the name of whom a link is for."))
    if asked.to is not None and not people_at(opening.site).filter(pk=asked.to.pk).exists():
        raise Refused(_("This person cannot look at this site; ask by a link."))
    if asked.photo and not Photo.objects.filter(pk=asked.photo, opening=opening).exists():
        raise Refused(_("This photo is not one of this opening."))
    if opening.questions.filter(answered=None, withdrawn=None).count() >= MOST_OPEN:
        raise Refused(_("Too many questions about this opening wait for an answer; withdraw some first."))


@transaction.atomic
def make_link(question: Question, days: int, *, by: User, request: HttpRequest | None = None) -> str:
    """The secret of a link to a question, which is known nowhere afterwards; an earlier one opens nothing any more.

    Raises :class:`Refused`.
    """
    if days not in DAYS:
        raise Refused(_("A link lasts 1, 7 or 30 days."))
    _still_open(question)
    token = new_token()
    question.digest, question.ends = digest(token), timezone.now() + timedelta(days=days)
    question.save(update_fields=["digest", "ends"])
    _record(request, "link to a question made", question, by)
    return token


def question_of(token: str) -> Question | None:
    """The question that this secret opens; unknown, ended, withdrawn and answered ones are alike."""
    rows = Question.objects.select_related("opening__site", "by", "photo")
    found = rows.filter(digest=digest(token), answered=None, withdrawn=None, ends__gt=timezone.now()).first()
    return found if found is not None and found.opening.put_away is None else None


@transaction.atomic
def withdraw(question: Question, *, by: User, request: HttpRequest | None = None) -> None:
    """End a question that nobody has answered; its link opens nothing any more."""
    if Question.objects.filter(pk=question.pk, answered=None, withdrawn=None).update(withdrawn=timezone.now()):
        _record(request, "question withdrawn", question, by)


@transaction.atomic
def answer(
    question: Question, answered: Answered, *, by: User | None, writes: bool, request: HttpRequest | None = None
) -> Observation:
    """The observation that the answer becomes. ``by`` is nobody for a link; who ``writes`` may write there.

    Raises :class:`Refused` where it cannot be kept, and where somebody was quicker.
    """
    row = Question.objects.select_for_update(of=("self",)).select_related("opening__site", "by").get(pk=question.pk)
    _still_open(row)
    name = by.name if by else row.name
    says = answered.says
    origin = answered.origin if by and writes else "told"
    said = Said(
        fact=row.fact,
        says=says,
        typed=answered.typed if says == "value" else "",
        origin="" if says == "unknown" else origin,
        by=name[:LONGEST_NAME],
        evidence=f"{EVIDENCE}{row.pk}" + (f": {answered.words.strip()}" if answered.words.strip() else ""),
        device="question",
        replaces=_unknown(row),
    )
    author = by if by and writes else row.by
    kept = write(row.opening.site, row.opening, said, author=author, request=id_of(request))
    row.answered, row.answer = timezone.now(), kept
    row.save(update_fields=["answered", "answer"])
    record(
        request,
        "question answered",
        f"{row.fact}: {name}",
        who=by,
        organisation=row.opening.site.organisation,
        site=row.opening.site,
        opening=row.opening,
    )
    return kept


def _still_open(question: Question) -> None:
    if question.answered:
        raise Refused(_("This question was answered already."))
    if question.withdrawn:
        raise Refused(_("This question was withdrawn."))


def _unknown(question: Question) -> tuple[str, ...]:
    """The readings that say that nobody knows: an answer takes their place, and no other's."""
    fact = Fact.objects.filter(opening=question.opening, path=question.fact).first()
    heads = register_of(fact).heads if fact else ()
    return tuple(head.id for head in heads if head.says == "unknown")  # type: ignore[attr-defined]


def _record(request: HttpRequest | None, verb: str, question: Question, by: User) -> None:
    site = question.opening.site
    about = {"organisation": site.organisation, "site": site, "opening": question.opening}
    record(request, verb, question.fact, who=by, after=digest(question.words), **about)
