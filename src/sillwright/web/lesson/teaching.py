"""Beginning a lesson, and the steps that a class makes in it."""

from __future__ import annotations

import secrets
import uuid
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import timedelta
from functools import cached_property
from typing import Any

from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.base.errors import InputError
from sillwright.base.words import Reader
from sillwright.trouble.book import fault_book
from sillwright.trouble.lesson import Course, Done, Lesson, Made, best_course, draw_lesson, lesson_of, play
from sillwright.web.accounts.models import Organisation, User
from sillwright.web.lesson.models import Lesson as Row
from sillwright.web.lesson.models import LessonStep
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.trouble.advised import Compiler

LASTS = timedelta(hours=24)
"""So long the class finds the lesson under its code."""
SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"  # none that is taken for another one
LENGTH = 6
KINDS: tuple[Done, ...] = ("test", "repair", "stop")

_COMPILER = Compiler()


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """A lesson as it is asked for: without faults they are drawn by the seed."""

    id: uuid.UUID
    seed: int
    symptom: str | None = None
    faults: tuple[str, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()  # what is told of the door
    language: str = "en"


@dataclass(frozen=True)
class Under:
    """A lesson under way, or ended: the door and what the class did there."""

    row: Row
    course: Course

    @cached_property
    def door(self) -> Lesson:
        """The door with its hidden faults."""
        row = self.row
        facts = tuple((name, value) for name, value in row.facts)
        return Lesson(seed=row.seed, symptom=row.symptom, faults=tuple(row.faults), facts=facts)

    @property
    def best(self) -> Course:
        """The course that the advice took at this door."""
        steps = tuple(Made(**each) for each in self.row.best.get("steps", ()))
        return Course(steps=steps, minutes=self.row.best.get("minutes", 0.0), ended=self.row.best.get("ended"))

    @property
    def reader(self) -> Reader:
        """Who reads: the class, in the language of the lesson."""
        return Reader(language=self.row.language)


def under(row: Row) -> Under:
    """A lesson with the steps that were made in it."""
    steps = list(row.steps.all())
    made = tuple(_made(each) for each in steps)
    ended: Any = next((each.ended for each in steps if each.ended), None)
    return Under(row, Course(steps=made, minutes=sum(each.minutes for each in steps), ended=ended))


def _made(step: LessonStep) -> Made:
    kind: Any = step.kind
    return Made(kind=kind, id=step.name, outcome=step.outcome or None, minutes=step.minutes, helped=step.helped)


def begin(organisation: Organisation, wanted: Wanted, *, by: User, request: HttpRequest | None = None) -> Row:
    """A new lesson; the same form sent twice begins one. Raises :class:`Refused`."""
    if (before := Row.objects.filter(pk=wanted.id).first()) is not None:
        if (before.organisation_id, before.by_id) != (organisation.pk, by.pk):
            raise Refused(_("This form was sent before with something else in it. Load the page again."))
        return before
    book = fault_book()
    try:
        if wanted.faults:
            door = lesson_of(book, wanted.seed, wanted.faults, symptom=wanted.symptom, facts=wanted.facts)
        else:
            door = draw_lesson(book, wanted.seed, symptom=wanted.symptom, facts=wanted.facts)
    except InputError as error:
        raise Refused(error.in_words(Reader(language=wanted.language))) from None
    engine = _COMPILER.engine()
    best = best_course(book, door, engine=engine, ahead=2 if engine == "kernel" else 1)
    with transaction.atomic():
        made = Row.objects.create(
            id=wanted.id,
            organisation=organisation,
            by=by,
            code=_code(),
            seed=door.seed,
            symptom=door.symptom,
            faults=list(door.faults),
            facts=[list(each) for each in door.facts],
            language=wanted.language,
            best=asdict(best),
        )
        record(request, "lesson begun", str(made.pk), who=by, organisation=organisation)
    return made


def _code() -> str:
    while True:
        code = "".join(secrets.choice(SIGNS) for _sign in range(LENGTH))
        if not Row.objects.filter(code=code).exists():
            return code


def open_lesson(code: str) -> Row | None:
    """The lesson that a class finds under a code; None where there is none, or its time is over."""
    told = code.strip().upper()[:20]
    if not told.isalnum():  # not every database takes every sign
        return None
    return Row.objects.filter(code=told, at__gt=timezone.now() - LASTS).first()


@transaction.atomic
def step(row: Row, kind: str, name: str) -> None:
    """Make a step in a lesson; one that was made before, or after the end, changes nothing.

    Raises :class:`Refused` for a step that there is not.
    """
    Row.objects.select_for_update().get(pk=row.pk)  # two of the class press at once: one after the other
    here = under(row)
    done: Any = kind
    if kind not in KINDS or (kind == "stop" and name):
        raise Refused(_("There is no such step. Load the page again."))
    steps: Sequence[tuple[Done, str]] = [(each.kind, each.id) for each in here.course.steps]
    try:
        course = play(fault_book(), here.door, (*steps, (done, name)))
    except InputError:
        raise Refused(_("There is no such step. Load the page again.")) from None
    if here.course.ended is not None or len(course.steps) == len(steps):
        return
    made = course.steps[-1]
    LessonStep.objects.create(
        lesson=row,
        kind=made.kind,
        name=made.id,
        outcome=made.outcome or "",
        minutes=course.minutes - sum(each.minutes for each in course.steps[:-1]),
        helped=made.helped,
        ended=course.ended or "",
    )
