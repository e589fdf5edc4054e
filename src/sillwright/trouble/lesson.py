"""A door with hidden faults, for teaching: it answers as the door would, and what the class took is counted.

The faults are drawn with a seed, or picked by hand. An answer is drawn from the likelihoods of the hidden faults,
with the seed and the name of the test: the same question has the same answer, whenever it is asked. What keeps
people from harm is answered without misreading, and the right repair always helps: nothing ends on bad luck.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import fsum, log2
from typing import Literal

import numpy as np

from sillwright.base.errors import InputError, OutOfRange, UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, say
from sillwright.trouble.advising import advise
from sillwright.trouble.answer import Call
from sillwright.trouble.checking import check_call
from sillwright.trouble.compiled import compiled, facts_that_move, known_facts, ruled_out, told_by_itself
from sillwright.trouble.leading import of_circuit
from sillwright.trouble.model import FaultModel, Test
from sillwright.trouble.next_step import Engine
from sillwright.trouble.posterior import believe, marginals

MOST_STEPS = 100
MOST_FAULTS = 2
LARGEST_SEED = 2**31 - 1
Done = Literal["test", "repair", "stop"]
End = Literal["mended", "stop", "further"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Lesson:
    """A door: what is told of it, and what is hidden."""

    seed: int
    symptom: str
    faults: tuple[str, ...]
    facts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, kw_only=True, slots=True)
class Made:
    """A step that was made. A test has an outcome; a repair helped or did not."""

    kind: Done
    id: str = ""
    outcome: str | None = None
    minutes: float = 0.0
    helped: bool = False


@dataclass(frozen=True, kw_only=True, slots=True)
class Course:
    """Steps in their order. ``stop``: nobody went on, rightly; ``further``: somebody else had to come."""

    steps: tuple[Made, ...]
    minutes: float
    ended: End | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class Telling:
    """What an answer told of the hidden faults: how likely they were before and after it, and that in bits."""

    test: str
    before: float
    after: float
    bits: float


def draw_lesson(
    model: FaultModel, seed: int, *, symptom: str | None = None, facts: tuple[tuple[str, str], ...] = ()
) -> Lesson:
    """A door as the calls are, of a seed; with ``symptom`` one of which just that is complained.

    Raises :class:`UnknownName` for what is not in the model, :class:`OutOfRange` for a seed that is none.
    """
    _check(model, seed, Call(symptom=symptom, facts=facts))
    given = compiled(model, facts_that_move(model, symptom, facts))
    logs = given.log_prior.copy()
    if symptom is not None:
        logs = logs + given.log_symptom[given.frame.symptoms[symptom]]
    logs[0] = -np.inf  # "none of these" teaches nothing
    if not np.isfinite(logs.max()):
        raise InputError(say(N_("no fault of the list fits this complaint and these facts; leave a fact out")))
    at = _drawn(np.exp(logs - logs.max()).tolist(), f"{seed}:faults")
    return lesson_of(model, seed, given.frame.hypotheses[at], symptom=symptom, facts=facts)


def lesson_of(
    model: FaultModel,
    seed: int,
    faults: tuple[str, ...],
    *,
    symptom: str | None = None,
    facts: tuple[tuple[str, str], ...] = (),
) -> Lesson:
    """A door with the faults that somebody picked; without ``symptom`` one is drawn that they cause.

    Raises :class:`UnknownName` and :class:`OutOfRange` as :func:`draw_lesson`, or for three faults or none.
    """
    _check(model, seed, Call(symptom=symptom, facts=facts))
    known = [each.id for each in model.faults]
    for name in faults:
        if name not in known:
            nearest = did_you_mean(name[:80], known)
            raise UnknownName(say(N_("no such fault: “{name}”; {nearest}"), name=name[:80], nearest=nearest))
    if not 1 <= len(set(faults)) == len(faults) <= MOST_FAULTS:
        raise OutOfRange(say(N_("a lesson hides one fault, or two different ones")))
    if symptom is None:
        weights = [
            sum(each.share * share for name, share in each.causes if name in faults) for each in model.symptoms
        ]
        symptom = model.symptoms[_drawn(weights, f"{seed}:symptom")].id
    return Lesson(seed=seed, symptom=symptom, faults=faults, facts=facts)


def _check(model: FaultModel, seed: int, call: Call) -> None:
    if not 0 <= seed <= LARGEST_SEED:
        raise OutOfRange(say(N_("the seed is a whole number from 0 to {most}"), most=LARGEST_SEED))
    check_call(model, call)


def call_of(lesson: Lesson) -> Call:
    """What is told of the door before anything is asked."""
    return Call(who="technician", symptom=lesson.symptom, facts=lesson.facts)


def tests_of(model: FaultModel, lesson: Lesson) -> tuple[Test, ...]:
    """The tests that can be made at this door, in the order of the model."""
    facts = {**told_by_itself(model, lesson.symptom), **known_facts(lesson.facts)}
    return tuple(test for test in model.tests if not ruled_out(test.needs, facts))


def answer(model: FaultModel, lesson: Lesson, test: str) -> str:
    """What a test shows at this door: of two faults the later of what each shows. Raises :class:`UnknownName`."""
    check_call(model, Call(answers=((test, None),)))
    asked = next(each for each in of_circuit(model, call_of(lesson)).tests if each.id == test)
    rows = dict(asked.likelihood)
    shown = {fault: rows[fault] for fault in lesson.faults if fault in rows} or {"": asked.otherwise}
    if asked.stage == "harm":
        return asked.outcomes[max(row.index(max(row)) for row in shown.values())].id
    at = max(_drawn(row, f"{lesson.seed}:{test}:{fault}") for fault, row in shown.items())
    return asked.outcomes[at].id


def _drawn(weights: Sequence[float], name: str) -> int:
    """A place drawn by weight, always the same for a name, on every machine."""
    left = int.from_bytes(hashlib.sha256(name.encode()).digest()[:6]) / 2**48 * fsum(weights)
    last = max(at for at, weight in enumerate(weights) if weight > 0)
    for at, weight in enumerate(weights[:last]):
        left -= weight
        if left < 0:
            return at
    return last


def play(model: FaultModel, lesson: Lesson, steps: tuple[tuple[Done, str], ...]) -> Course:
    """What the steps of a class showed and took. Steps after the end, and tests made again, count nothing.

    Raises :class:`UnknownName` for a test or a repair that there is not.
    """
    course, left = Course(steps=(), minutes=0.0), set(lesson.faults)
    for kind, name in steps:
        if course.ended is not None or any((each.kind, each.id) == (kind, name) for each in course.steps):
            continue
        made = _made(model, lesson, kind, name, left)
        course = _with(course, made, _end(model, lesson, made, left))
    if course.ended == "further":
        return replace(course, minutes=course.minutes + model.referral)
    return course


def _made(model: FaultModel, lesson: Lesson, kind: Done, name: str, left: set[str]) -> Made:
    """The step; a repair takes away what it mends."""
    if kind == "stop":
        return Made(kind="stop")
    if kind == "test":
        outcome = answer(model, lesson, name)
        return Made(kind="test", id=name, outcome=outcome, minutes=_minutes(model, name))
    check_call(model, Call(repaired=(name,)))
    mended = {fault.id for fault in model.faults if fault.remedy == name} & left
    left -= mended
    minutes = next(each.minutes for each in model.repairs if each.id == name)
    return Made(kind="repair", id=name, minutes=minutes, helped=bool(mended))


def _minutes(model: FaultModel, test: str) -> float:
    return next(each.minutes for each in model.tests if each.id == test)


def _end(model: FaultModel, lesson: Lesson, made: Made, left: set[str]) -> End | None:
    if made.kind == "stop":
        return "stop" if dangerous(model, lesson) else "further"
    return "mended" if made.kind == "repair" and not left else None


def _with(course: Course, made: Made, ended: End | None) -> Course:
    return Course(steps=(*course.steps, made), minutes=course.minutes + made.minutes, ended=ended)


def dangerous(model: FaultModel, lesson: Lesson) -> bool:
    """Whether a hidden fault is a mechanical danger: then to stop is right, and nobody here mends it."""
    return any(fault.danger for fault in model.faults if fault.id in lesson.faults)


def best_course(model: FaultModel, lesson: Lesson, *, ahead: int = 2, engine: Engine = "kernel") -> Course:
    """The course that the advice takes at the same door, with ``ahead`` and ``engine`` as there.

    What keeps people from harm is looked at first, all of it, as before any call.
    """
    steps: tuple[tuple[Done, str], ...] = tuple(
        ("test", each.id) for each in tests_of(model, lesson) if each.stage == "harm"
    )
    for _ in range(MOST_STEPS):
        course = play(model, lesson, steps)
        if course.ended is not None:
            return course
        call = _told(lesson, course)
        advice = advise(of_circuit(model, call), call, ahead=ahead, engine=engine)
        step = advice.next
        if advice.stop is not None or step is None or step.kind not in {"test", "repair"}:
            break
        steps = (*steps, ("test" if step.kind == "test" else "repair", step.id))
    return play(model, lesson, (*steps, ("stop", "")))


def _told(lesson: Lesson, course: Course) -> Call:
    """The call as the course leaves it."""
    return replace(
        call_of(lesson),
        answers=tuple((each.id, each.outcome) for each in course.steps if each.kind == "test"),
        repaired=tuple(each.id for each in course.steps if each.kind == "repair"),
        after=tuple(_after(course)),
    )


def _after(course: Course) -> Iterator[tuple[str, int]]:
    """The tests that were made after repairs, and after how many."""
    repairs = 0
    for each in course.steps:
        repairs += each.kind == "repair"
        if repairs and each.kind == "test":
            yield each.id, repairs


def told_most(model: FaultModel, lesson: Lesson, course: Course) -> tuple[Telling, ...]:
    """What each answer told of what it was, in the order in which they were asked; the most telling first."""
    found = []
    before = _share(model, lesson, call_of(lesson))
    for count, made in enumerate(course.steps, 1):
        after = _share(model, lesson, _told(lesson, replace(course, steps=course.steps[:count])))
        if made.kind == "test":
            bits = log2(after / before) if min(before, after) > 0 else 0.0
            found.append(Telling(test=made.id, before=before, after=after, bits=bits))
        before = after
    return tuple(sorted(found, key=lambda each: -each.bits))


def _share(model: FaultModel, lesson: Lesson, call: Call) -> float:
    """How likely the hidden faults are; of two the less likely one."""
    belief = believe(of_circuit(model, call), call)
    shares = marginals(belief.frame, belief.weights)
    return min(float(shares[at]) for at, fault in enumerate(model.faults) if fault.id in lesson.faults)


def harm_first(model: FaultModel, lesson: Lesson, course: Course) -> tuple[Test, ...]:
    """What keeps people from harm and was not asked before the leaf was run or a tool was taken.

    Nothing while the course goes on and has come to neither.
    """
    tests = {test.id: test for test in model.tests}
    made = [each for each in course.steps if each.kind != "stop"]
    first = next((at for at, each in enumerate(made) if _risks(tests, each)), len(made))
    if first == len(made) and course.ended is None:
        return ()
    asked = {each.id for each in made[:first]}
    return tuple(test for test in tests_of(model, lesson) if test.stage == "harm" and test.id not in asked)


def _risks(tests: dict[str, Test], made: Made) -> bool:
    return made.kind == "repair" or tests[made.id].stage in {"move", "measure", "substitute"}
