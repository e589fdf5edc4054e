"""Questions about one fact of one opening: to a person, or by a link that needs no account.

The answer becomes an observation of that fact, beside the readings that stand; a contradiction is settled by a
person. Whoever answers by a link, or may only read at the site, tells it: the observation is written for the one
who asked, with the name of who answered, and says that it was told.
"""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from django.db import IntegrityError, transaction
from django.db.models import F, OuterRef, Q, QuerySet, Subquery
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import Membership, User, new_token
from sillwright.web.accounts.roles import MAY
from sillwright.web.records.audit import digest
from sillwright.web.records.log import Refused, Said, by_our_clock, fits, place_of, register_of, write
from sillwright.web.records.models import Event, Fact, Observation, Opening, Photo, Question, Site
from sillwright.web.records.seen import rights_at
from sillwright.web.records.telling import tell

DAYS = (1, 7, 30)
LONGEST = {"words": 1000, "name": 100, "known": 100}
MOST_OPEN = 200  # questions about one opening that nobody has answered
EVIDENCE = "question "
AT_A_WORD = ("told", "support")  # what somebody may say who may not write there: it decides nothing alone


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
    """What was answered, as a fact's card sends it. ``id`` is made where it is written: sent twice, it is one."""

    says: str = "value"
    typed: str = ""
    origin: str = ""
    known: str = ""  # how the one who answers knows it, in words
    by: str = ""  # where somebody who may write says that another one measured or told it
    on: str = ""
    device: str = ""
    id: uuid.UUID = field(default_factory=uuid.uuid4)


def people_at(site: Site) -> QuerySet[User]:
    """Who may look at a site, and so can be asked about it; each says by which organisation (``house``)."""
    ways = Q(organisation=site.organisation_id) | Q(organisation__shared__site=site)
    members = Membership.objects.filter(ways, role__in=MAY["read"])
    house = members.filter(user=OuterRef("pk")).order_by("organisation__name").values("organisation__name")
    found = User.objects.filter(pk__in=members.values("user"), is_active=True)
    return found.annotate(house=Subquery(house[:1])).order_by("name", "pk")


# asking


@transaction.atomic
def ask(opening: Opening, asked: Asked, *, by: User, request: str = "", server: str = "") -> Question:
    """A new question; asked twice it is kept once. Raises :class:`Refused`.

    ``server`` is the address of this server, for the mail to whom is asked.
    """
    found = Question.objects.filter(pk=asked.id).first()
    if found is None:
        _check(opening, asked)
        found = _made(opening, asked, by, request, server)
    to = asked.to.pk if asked.to else None
    if _about(found) != (opening.pk, by.pk, to, asked.fact, asked.words, "" if to else asked.name.strip()):
        raise Refused(_("Another question has this id."))
    return found


def _about(found: Question) -> tuple[object, ...]:
    return (found.opening_id, found.by_id, found.to_id, found.fact, found.words, found.name)


def _made(opening: Opening, asked: Asked, by: User, request: str, server: str) -> Question:
    made = Question(
        id=asked.id,
        site_id=opening.site_id,
        opening=opening,
        fact=asked.fact,
        words=asked.words,
        photo_id=asked.photo,
        by=by,
        to=asked.to,
        name="" if asked.to else asked.name.strip(),
        at=by_our_clock(asked.at),
    )
    try:
        with transaction.atomic():
            made.save(force_insert=True)
    except IntegrityError:  # its twin came at the same moment
        return Question.objects.get(pk=asked.id)
    _note(request, "asked", made, by)
    tell(made, server)
    return made


def _check(opening: Opening, asked: Asked) -> None:
    if place_of(asked.fact) != "fact" or asked.fact.startswith("site.") or asked.fact == "tag":
        raise Refused(_("This is no fact that is kept here."))
    if not asked.words.strip():
        raise Refused(_("Write what you want to know."))
    fits("words", asked.words, LONGEST["words"])
    fits("name", asked.name, LONGEST["name"])
    if asked.to is None and not asked.name.strip():
        raise Refused(_("Whom do you ask? Choose somebody, or write the name of whom a link is for."))
    if asked.to is not None and not people_at(opening.site).filter(pk=asked.to.pk).exists():
        raise Refused(_("This person cannot look at this site; ask by a link."))
    if asked.photo and not Photo.objects.filter(pk=asked.photo, opening=opening).exists():
        raise Refused(_("This photo is not one of this opening."))
    if opening.questions.filter(answered=None, withdrawn=None).count() >= MOST_OPEN:
        raise Refused(_("Too many questions about this opening wait for an answer; withdraw some first."))


@transaction.atomic
def withdraw(question: Question, *, by: User, request: str = "") -> None:
    """End a question that nobody has answered; its link opens nothing any more."""
    if Question.objects.filter(pk=question.pk, answered=None, withdrawn=None).update(withdrawn=timezone.now()):
        _note(request, "question withdrawn", question, by)


def in_order(rows: QuerySet[Question]) -> QuerySet[Question]:
    """Questions that wait for an answer first, then what was answered last; withdrawn ones at the end."""
    withdrawn = F("withdrawn").asc(nulls_first=True)
    return rows.order_by(withdrawn, F("answered").desc(nulls_first=True), "-received", "-pk")


def waiting_for(person: User) -> int:
    """How many questions wait for a person's answer."""
    mine = Question.objects.filter(to=person, answered=None, withdrawn=None)
    return int(mine.seen_by(person).count())


# links


@transaction.atomic
def make_link(question: Question, days: int, *, by: User, request: str = "") -> str:
    """The secret of a link to a question, which is known nowhere afterwards; an earlier one opens nothing any more.

    Raises :class:`Refused`. Whoever asked makes it: what is answered by it is written in that name.
    """
    if days not in DAYS:
        raise Refused(_("A link lasts 1, 7 or 30 days."))
    if question.to_id or question.by_id != by.pk:
        raise Refused(_("A link is made by whoever asked, for somebody without an account."))
    token = new_token()
    question.digest, question.ends = digest(token), timezone.now() + timedelta(days=days)
    still = Question.objects.filter(pk=question.pk, answered=None, withdrawn=None)
    if not still.update(digest=question.digest, ends=question.ends):
        question.refresh_from_db()
        _still_open(question)
    _note(request, "question link made", question, by)
    return token


def question_of(token: str) -> Question | None:
    """The question that this secret opens; unknown, ended, withdrawn and answered ones are alike."""
    rows = Question.objects.select_related("opening__site__organisation", "by", "photo")
    still = rows.filter(digest=digest(token), answered=None, withdrawn=None, ends__gt=timezone.now())
    found: Question | None = still.first()
    if found is None or found.opening.put_away or found.opening.site.put_away or not _may_keep(found):
        return None
    return found


def answered_by(token: str, key: str) -> Question | None:
    """The question that this secret opened, where its answer is the one with this key."""
    try:
        wanted = uuid.UUID(key)
    except ValueError:
        return None
    return Question.objects.select_related("by").filter(digest=digest(token), answer=wanted).first()


def _may_keep(question: Question) -> bool:
    """Whether whoever asked may still write there, so that an answer can be kept in that name."""
    return question.by.is_active and rights_at(question.by, question.site_id).write


# answering


@transaction.atomic
def answer(
    question: Question, answered: Answered, *, by: User | None, writes: bool, request: str = ""
) -> Observation:
    """The observation that the answer becomes. ``by`` is nobody for a link; who ``writes`` may write there.

    Sent twice it is kept once. Raises :class:`Refused` where it cannot be kept, and where somebody was quicker.
    """
    rows = Question.objects.select_for_update(of=("self",)).select_related("opening__site", "by", "answer")
    row: Question = rows.get(pk=question.pk)
    if row.answer is not None and row.answer_id == answered.id:
        return row.answer
    _still_open(row)
    name = by.name if by else row.name
    author = by if by and writes else row.by
    if author == row.by and not _may_keep(row):
        raise Refused(_("Whoever asked may not write here any more, so that no answer can be kept."))
    said = _said(row, answered, name, writes=by is not None and writes)
    kept = write(row.opening.site, row.opening, said, author=author, request=request)
    row.answered, row.answer = timezone.now(), kept
    row.save(update_fields=["answered", "answer"])
    _note(request, "question answered", row, by, name)
    return kept


def _said(row: Question, answered: Answered, name: str, *, writes: bool) -> Said:
    fits("known", answered.known, LONGEST["known"])
    at_hand = writes or answered.origin in AT_A_WORD
    return Said(
        id=answered.id,
        fact=row.fact,
        says=answered.says,
        typed=answered.typed if answered.says == "value" else "",
        origin="" if answered.says == "unknown" else (answered.origin if at_hand else "") or "told",
        by=(answered.by.strip() if writes else "") or name,
        on=answered.on.strip(),
        evidence=_evidence(row, answered.known.strip()),
        device=answered.device,
        replaces=_unknown_then(row),
    )


def _evidence(row: Question, known: str) -> str:
    photo = f", photo {row.photo_id}" if row.photo_id else ""
    return f"{EVIDENCE}{row.pk}{photo}" + (f": {known}" if known else "")


def _still_open(question: Question) -> None:
    if question.answered:
        raise Refused(_("This question was answered already."))
    if question.withdrawn:
        raise Refused(_("This question was withdrawn."))


def _unknown_then(question: Question) -> tuple[str, ...]:
    """The readings that said, when it was asked, that nobody knows: an answer takes their place, and no other's."""
    fact = Fact.objects.filter(opening=question.opening, path=question.fact).first()
    heads = register_of(fact).heads if fact else ()
    unknown = [head.id for head in heads if head.says == "unknown"]  # type: ignore[attr-defined]
    if not unknown:
        return ()
    seen = Observation.objects.filter(pk__in=unknown, received__lte=question.received)
    return tuple(str(key) for key in seen.values_list("pk", flat=True))


def _note(request: str, verb: str, question: Question, who: User | None, name: str = "") -> None:
    """A line of the audit trail about a question."""
    Event.objects.create(
        who=who,
        organisation_id=question.opening.site.organisation_id,
        site_id=question.site_id,
        opening=question.opening,
        verb=verb,
        what=f"{question.fact}: {name}"[:300] if name else question.fact,
        after=digest(question.words),
        request=request,
    )
