"""What the pages of a lesson show, in the language of the lesson."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from django.utils.translation import gettext_lazy

from sillwright.base.words import N_, Reader, render, translate
from sillwright.trouble.amounts import minutes_in_words, share_in_words
from sillwright.trouble.book import fault_book
from sillwright.trouble.lesson import Course, Lesson, Telling, harm_first, tests_of, told_most
from sillwright.trouble.said import Named
from sillwright.web.lesson.teaching import Under

MOST_TOLD = 3  # questions that told most
STAGES = {
    "harm": gettext_lazy("First: what keeps people from harm"),
    "ask": gettext_lazy("Ask"),
    "look": gettext_lazy("Look"),
    "move": gettext_lazy("Run the leaf"),
    "measure": gettext_lazy("Measure"),
    "substitute": gettext_lazy("Put a substitute part in"),
}


@dataclass(frozen=True, kw_only=True)
class Step:
    """A step with what the door showed."""

    words: str
    answer: str
    minutes: str


@dataclass(frozen=True, kw_only=True)
class Offer:
    """A step that can be made: a question, or a repair."""

    kind: str
    name: str
    words: str
    how: str
    minutes: str


@dataclass(frozen=True, kw_only=True)
class Group:
    """Steps of one kind."""

    name: str
    words: str
    offers: list[Offer]


@dataclass(frozen=True, kw_only=True)
class Most:
    """A question that told much of what it was."""

    words: str
    before: str
    after: str


@dataclass(frozen=True, kw_only=True)
class End:
    """What is said once it is over."""

    how: str
    was: list[str]
    minutes: str
    best: str
    best_steps: list[Step]
    best_ended: str
    most: list[Most]
    missed: list[str]  # questions of harm that were not asked in time
    prove: list[str]


def named() -> Named:
    """The parts of the fault model by name."""
    return Named(fault_book())


def complaint(under: Under, reader: Reader) -> str:
    """What is complained of."""
    found = named().symptoms.get(under.row.symptom)
    return translate(found.words, reader) if found else under.row.symptom


def was(under: Under, reader: Reader) -> list[str]:
    """What it was."""
    return [named().fault(each, reader) for each in under.door.faults]


def steps_of(course: Course, reader: Reader) -> list[Step]:
    """Steps in words."""
    return list(_steps(course, reader))


def _steps(course: Course, reader: Reader) -> Iterator[Step]:
    parts = named()
    for each in course.steps:
        minutes = minutes_in_words(each.minutes)
        if each.kind == "test":
            test = parts.tests.get(each.id)
            words = translate(test.question, reader) if test else each.id
            yield Step(words=words, answer=parts.outcome(each.id, each.outcome, reader), minutes=minutes)
        elif each.kind == "repair":
            repair = parts.repairs.get(each.id)
            words = translate(repair.words, reader) if repair else each.id
            answer = N_("That mended it.") if each.helped else N_("That did not help.")
            yield Step(words=words, answer=translate(answer, reader), minutes=minutes)
        else:
            words = translate(N_("Stop: nobody runs it, somebody else comes."), reader)
            yield Step(words=words, answer="", minutes=minutes)


def groups(under: Under) -> list[Group]:
    """The steps that are still open, by kind."""
    reader, made = under.reader, {(each.kind, each.id) for each in under.course.steps}
    found: dict[str, list[Offer]] = {stage: [] for stage in STAGES}
    for test in tests_of(fault_book(), under.door):
        if ("test", test.id) not in made:
            words, how = translate(test.question, reader), translate(test.how, reader)
            minutes = minutes_in_words(test.minutes)
            found[test.stage].append(Offer(kind="test", name=test.id, words=words, how=how, minutes=minutes))
    return [Group(name=name, words=str(STAGES[name]), offers=each) for name, each in found.items() if each]


def repairs(under: Under) -> list[Offer]:
    """The repairs that were not made yet."""
    made = {each.id for each in under.course.steps if each.kind == "repair"}
    return [
        Offer(
            kind="repair",
            name=each.id,
            words=translate(each.words, under.reader),
            how="",
            minutes=minutes_in_words(each.minutes),
        )
        for each in fault_book().repairs
        if each.id not in made
    ]


def ending(under: Under, reader: Reader) -> End:
    """What is said once it is over."""
    best = under.best
    return End(
        how=how_it_ended(under.course, reader),
        was=was(under, reader),
        minutes=minutes_in_words(under.course.minutes),
        best=minutes_in_words(best.minutes),
        best_steps=steps_of(best, reader),
        best_ended=how_it_ended(best, reader),
        most=list(_most(under, reader)),
        missed=[translate(each.question, reader) for each in harm_first(fault_book(), under.door, under.course)],
        prove=proofs(under, reader),
    )


def _most(under: Under, reader: Reader) -> Iterator[Most]:
    tests = named().tests
    for each in _telling(under.door, under.course)[:MOST_TOLD]:
        if each.bits > 0:
            yield Most(
                words=translate(tests[each.test].question, reader),
                before=render(share_in_words(each.before), reader),
                after=render(share_in_words(each.after), reader),
            )


@lru_cache(maxsize=64)
def _telling(door: Lesson, course: Course) -> tuple[Telling, ...]:
    """What told most: the whole class loads the same page again and again."""
    return told_most(fault_book(), door, course)


def proofs(under: Under, reader: Reader) -> list[str]:
    """What is tested once it is mended."""
    parts = named()
    remedies = [parts.faults[each].remedy for each in under.door.faults if each in parts.faults]
    told = (proof for each in remedies for proof in parts.repairs[each].proof)
    return [translate(each, reader) for each in dict.fromkeys(told)]


def cautions(courses: Sequence[Course], reader: Reader) -> list[str]:
    """What holds while the steps of courses are made, each once."""
    parts = named()
    steps = [each for course in courses for each in course.steps]
    made = [(parts.tests if each.kind == "test" else parts.repairs).get(each.id) for each in steps]
    told = (caution for each in made if each for caution in each.cautions)
    return [translate(each, reader) for each in dict.fromkeys(told)]


def how_it_ended(course: Course, reader: Reader) -> str:
    """How a course ended."""
    said = {
        "mended": N_("Mended."),
        "stop": N_("Stopped rightly: a door technician mends it."),
        "further": N_("Not found: somebody else had to come."),
    }
    return translate(said.get(course.ended or "", N_("It goes on.")), reader)
