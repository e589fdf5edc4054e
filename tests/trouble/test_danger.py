"""A mechanical danger that somebody sees stops everything, whatever is likely; one not known stops the leaf."""

from __future__ import annotations

import pytest

from sillwright.trouble.advising import advise
from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.choosing import STOP, danger, open_tests
from sillwright.trouble.danger import danger_tests
from sillwright.trouble.fixed_list import fixed_list, harm_tests, stops
from sillwright.trouble.posterior import believe

BOOK = fault_book()
SOUND = tuple((each.id, each.outcomes[0].id) for each in harm_tests(BOOK))
COMPLAINTS = [None, *(each.id for each in BOOK.symptoms)]


def test_what_carries_the_leaf_is_asked_for_by_four_questions() -> None:
    assert danger_tests(BOOK) == ("cable_slack", "leaf_crooked", "spring_gap", "grinding")


@pytest.mark.parametrize("test", danger_tests(BOOK))
def test_a_danger_that_is_seen_stops_a_call_in_whose_causes_it_is_not(test: str) -> None:
    call = Call(who="technician", symptom="CALL-01", answers=(*SOUND, (test, "yes")))
    assert danger(believe(BOOK, call)) < STOP
    advice = advise(BOOK, call, ahead=1)
    assert advice.stop is not None
    assert advice.next is None
    changed = Call(who="technician", symptom="CALL-01", answers=(*call.answers, (test, "no")))
    assert advise(BOOK, changed, ahead=1).stop is None


@pytest.mark.parametrize("test", danger_tests(BOOK))
def test_nobody_runs_the_leaf_while_a_danger_is_not_known(test: str) -> None:
    call = Call(who="technician", symptom="CALL-01", answers=(*SOUND, (test, None)))
    stages = {each.stage for each in open_tests(BOOK, call, believe(BOOK, call))}
    assert "move" not in stages
    sound = Call(who="technician", symptom="CALL-01", answers=SOUND)
    assert "move" in {each.stage for each in open_tests(BOOK, sound, believe(BOOK, sound))}


@pytest.mark.parametrize("symptom", COMPLAINTS)
def test_the_fixed_list_stops_after_every_single_answer_after_which_the_advice_stops(symptom: str | None) -> None:
    stopping = stops(BOOK, symptom)
    assert danger(believe(BOOK, Call(symptom=symptom, answers=SOUND))) < STOP
    for test in (*harm_tests(BOOK), *fixed_list(BOOK, symptom or "")):
        for outcome in test.outcomes:
            answers = (*(each for each in SOUND if each[0] != test.id), (test.id, outcome.id))
            call = Call(who="technician", symptom=symptom, answers=answers)
            likely = danger(believe(BOOK, call)) >= STOP
            seen = test.id in danger_tests(BOOK) and outcome.id != "no"
            assert (outcome.id in stopping.get(test.id, ())) == (likely or seen)


@pytest.mark.parametrize("symptom", COMPLAINTS)
def test_nobody_runs_the_leaf_or_puts_a_part_in_by_the_fixed_list(symptom: str | None) -> None:
    assert not {each.stage for each in fixed_list(BOOK, symptom or "")} & {"harm", "move", "substitute"}
