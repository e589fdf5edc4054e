"""A lesson: hidden faults, a door that answers, minutes counted, the best course beside it."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import InputError, OutOfRange, UnknownName
from sillwright.trouble.book import fault_book
from sillwright.trouble.lesson import (
    LARGEST_SEED,
    Course,
    Done,
    Lesson,
    answer,
    best_course,
    dangerous,
    draw_lesson,
    harm_first,
    lesson_of,
    play,
    told_most,
)
from sillwright.trouble.lesson import tests_of as questions_of
from tests.trouble.fault_models import small

BOOK = fault_book()
SMALL = small()
Steps = tuple[tuple[Done, str], ...]
SEEDS = st.integers(0, LARGEST_SEED)


def at_random(lesson: Lesson, dice: random.Random) -> Course:
    """A class that looks for harm first, as it has to, and then asks and mends whatever it thinks of."""
    tests = questions_of(BOOK, lesson)
    steps: Steps = tuple(("test", each.id) for each in tests if each.stage == "harm")
    course = play(BOOK, lesson, steps)
    if any(each.outcome == "yes" for each in course.steps if each.id in {"cable_slack", "leaf_crooked"}):
        return play(BOOK, lesson, (*steps, ("stop", "")))
    asked: list[tuple[Done, str]] = [("test", each.id) for each in tests if each.stage != "harm"]
    asked += [("repair", each.id) for each in BOOK.repairs]
    dice.shuffle(asked)
    return play(BOOK, lesson, (*steps, *asked))


@given(SEEDS)
def test_the_same_seed_is_the_same_lesson(seed: int) -> None:
    lesson = draw_lesson(BOOK, seed)
    assert lesson == draw_lesson(BOOK, seed)
    for test in questions_of(BOOK, lesson)[:6]:
        assert answer(BOOK, lesson, test.id) == answer(BOOK, lesson, test.id)


def test_a_lesson_of_a_seed_is_the_same_next_year() -> None:
    assert draw_lesson(BOOK, 2).faults == ("LEAD_OPEN",)
    assert draw_lesson(BOOK, 2).symptom == "CALL-01"


@given(SEEDS, st.permutations(["ohms_operator", "since_when", "eye_lamps", "cord_look"]))
def test_an_answer_hangs_on_no_order(seed: int, order: list[str]) -> None:
    lesson = lesson_of(BOOK, seed, ("LEAD_OPEN",))
    steps: Steps = tuple(("test", each) for each in order)
    shown = {each.id: each.outcome for each in play(BOOK, lesson, steps).steps}
    assert shown == {each: answer(BOOK, lesson, each) for each in order}


def test_answers_come_as_often_as_the_likelihoods_say() -> None:
    test = next(each for each in SMALL.tests if each.id == "lamp")
    count = 2000
    seen = sum(answer(SMALL, lesson_of(SMALL, seed, ("EYE_ALIGN",)), test.id) == "yes" for seed in range(count))
    assert seen / count == pytest.approx(dict(test.likelihood)["EYE_ALIGN"][1], abs=0.03)


def test_faults_come_as_often_as_their_calls() -> None:
    count = 2000
    seen = [draw_lesson(SMALL, seed, symptom="HELD").faults for seed in range(count)]
    alone = [each for each in seen if len(each) == 1]
    assert alone.count(("CORD_BROKEN",)) / len(alone) == pytest.approx(0.5, abs=0.04)
    assert ("CABLE_OFF",) not in seen


def test_of_two_faults_the_later_answer_shows() -> None:
    pair = lesson_of(BOOK, 5, ("LEAD_OPEN", "CABLE_OFF"))
    assert answer(BOOK, pair, "cable_slack") == "yes"
    assert answer(BOOK, lesson_of(BOOK, 5, ("LEAD_OPEN",)), "cable_slack") == "no"


@pytest.mark.parametrize("fault", [each.id for each in BOOK.faults])
def test_every_fault_can_be_taught(fault: str) -> None:
    lesson = lesson_of(BOOK, 7, (fault,))
    cause = next(dict(each.causes) for each in BOOK.symptoms if each.id == lesson.symptom)
    assert cause[fault] > 0
    remedy = next(each.remedy for each in BOOK.faults if each.id == fault)
    course = play(BOOK, lesson, (("repair", remedy),))
    assert course.ended == "mended"
    assert course.minutes == next(each.minutes for each in BOOK.repairs if each.id == remedy)
    best = best_course(BOOK, lesson)
    assert best.ended in {"mended", "stop", "further"}
    assert best.ended != "stop" or dangerous(BOOK, lesson)
    assert told_most(BOOK, lesson, best)


def test_the_best_course_is_shorter_than_one_at_random() -> None:
    lessons = [draw_lesson(BOOK, seed) for seed in range(12)]
    best = [best_course(BOOK, each) for each in lessons]
    others = [at_random(each, random.Random(each.seed)) for each in lessons]  # noqa: S311
    assert all(each.ended for each in (*best, *others))
    assert 2 * sum(each.minutes for each in best) < sum(each.minutes for each in others)


def test_the_best_course_looks_for_harm_first() -> None:
    for seed in range(5):
        lesson = draw_lesson(BOOK, seed)
        assert harm_first(BOOK, lesson, best_course(BOOK, lesson)) == ()


def test_a_hanging_cable_is_not_mended_here_but_left_rightly() -> None:
    lesson = lesson_of(BOOK, 1, ("CABLE_OFF",))
    assert best_course(BOOK, lesson).ended == "stop"
    right = play(BOOK, lesson, (("test", "cable_slack"), ("stop", ""), ("test", "grinding")))
    assert (right.ended, right.minutes, len(right.steps)) == ("stop", 0.5, 2)


def test_to_give_up_costs_what_somebody_else_takes() -> None:
    course = play(BOOK, lesson_of(BOOK, 1, ("LEAD_OPEN",)), (("stop", ""),))
    assert (course.ended, course.minutes) == ("further", BOOK.referral)


def test_of_two_faults_both_are_mended_before_it_ends() -> None:
    lesson = lesson_of(SMALL, 1, ("CORD_BROKEN", "EYE_ALIGN"))
    half = play(SMALL, lesson, (("repair", "cord"),))
    assert half.ended is None
    assert half.steps[0].helped
    assert play(SMALL, lesson, (("repair", "cord"), ("repair", "edge"), ("repair", "eye"))).ended == "mended"


def test_what_is_asked_twice_counts_once() -> None:
    lesson = draw_lesson(BOOK, 3)
    once = play(BOOK, lesson, (("test", "ohms_operator"),))
    assert play(BOOK, lesson, (("test", "ohms_operator"), ("test", "ohms_operator"))) == once


def test_it_says_which_questions_told_most_of_what_it_was() -> None:
    lesson = lesson_of(BOOK, 2, ("LEAD_OPEN",), symptom="CALL-01")
    told = told_most(BOOK, lesson, play(BOOK, lesson, (("test", "eye_lamps"), ("test", "ohms_operator"))))
    assert told[0].test == "ohms_operator"
    assert told[0].after > told[0].before
    assert [each.bits for each in told] == sorted((each.bits for each in told), reverse=True)


def test_what_was_not_asked_before_the_leaf_ran_is_said_at_the_end() -> None:
    lesson = lesson_of(BOOK, 2, ("LEAD_OPEN",))
    assert harm_first(BOOK, lesson, play(BOOK, lesson, (("test", "since_when"),))) == ()
    late = harm_first(BOOK, lesson, play(BOOK, lesson, (("test", "ohms_operator"), ("test", "cable_slack"))))
    assert {each.id for each in late} == {each.id for each in BOOK.tests if each.stage == "harm"}


def test_a_step_that_the_door_cannot_show_is_not_offered() -> None:
    gate = lesson_of(BOOK, 1, ("LEAD_OPEN",), facts=(("leaf", "gate"),))
    names = {each.id for each in questions_of(BOOK, gate)}
    assert "cable_slack" not in names
    assert "leaf_crooked" in names


@pytest.mark.parametrize("seed", [-1, LARGEST_SEED + 1])
def test_a_seed_out_of_range_is_refused(seed: int) -> None:
    with pytest.raises(OutOfRange, match="seed"):
        draw_lesson(BOOK, seed)


@pytest.mark.parametrize("faults", [(), ("LEAD_OPEN", "LEAD_OPEN"), ("LEAD_OPEN", "CABLE_OFF", "TRACK")])
def test_a_lesson_hides_one_fault_or_two(faults: tuple[str, ...]) -> None:
    with pytest.raises(OutOfRange, match="one fault, or two"):
        lesson_of(BOOK, 1, faults)


def test_names_that_there_are_not_are_refused() -> None:
    with pytest.raises(UnknownName, match="LEAD_OPEN"):
        lesson_of(BOOK, 1, ("LEAD_OPNE",))
    with pytest.raises(UnknownName):
        draw_lesson(BOOK, 1, symptom="CALL-99")
    with pytest.raises(UnknownName):
        answer(BOOK, draw_lesson(BOOK, 1), "<b>")
    with pytest.raises(UnknownName):
        play(BOOK, draw_lesson(BOOK, 1), (("repair", "nothing"),))


def test_a_complaint_that_no_fault_fits_is_refused() -> None:
    faults = tuple(
        replace(each, moves=tuple(replace(move, factor=0.0) for move in each.moves)) for each in SMALL.faults
    )
    causes = (("WET_EDGE", 1.0),)
    wet = tuple(replace(each, causes=causes) if each.id == "HELD" else each for each in SMALL.symptoms)
    model = replace(SMALL, faults=faults, symptoms=wet, pairs=())
    with pytest.raises(InputError, match="leave a fact out"):
        draw_lesson(model, 1, symptom="HELD", facts=(("circuit", "air"),))
