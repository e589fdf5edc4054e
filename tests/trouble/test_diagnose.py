"""The registered diagnosis: its answer in words, what it refuses, what it loads."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from sillwright.base.calculation import as_json
from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.study.calculations import calculation
from sillwright.trouble import DiagnoseCase, GivenAnswer, GivenFact, diagnose
from sillwright.trouble.book import fault_book
from sillwright.trouble.diagnose_model import DiagnoseResult

SOUND = tuple(GivenAnswer(test=test.id, outcome="no") for test in fault_book().tests if test.stage == "harm")


def found(symptom: str | None = "CALL-01", *answers: tuple[str, str | None], **others: object) -> DiagnoseResult:
    given = tuple(GivenAnswer(test=test, outcome=outcome) for test, outcome in answers)
    case = {"who": "technician", "look_ahead": 1, **others}
    return diagnose(DiagnoseCase(symptom=symptom, answers=(*SOUND, *given), **case))  # type: ignore[arg-type]


def test_it_says_what_is_likely_and_what_comes_next() -> None:
    answer = found()
    assert answer.in_short.startswith("Most likely, in ")
    assert answer.next is not None
    assert answer.next.words in answer.in_short
    assert sum(each.probability for each in answer.suspects) + answer.rest == pytest.approx(1)
    assert answer.next.kind == "test"
    assert answer.next.why


def test_the_meter_is_that_of_the_circuit_that_is_told() -> None:
    """An open loop is a broken lead with an end resistor; a plain contact reads like that when it is sound."""
    opened = ("ohms_operator", "open")
    watched = found("CALL-01", opened, facts=(GivenFact(fact="circuit", value="resistor"),))
    plain = found("CALL-01", opened, facts=(GivenFact(fact="circuit", value="plain"),))
    broken = [
        {each.fault: each.probability for each in one.shares}.get("LEAD_OPEN", 0.0) for one in (watched, plain)
    ]
    assert broken[0] > 0.5 > broken[1]


def test_a_danger_comes_before_everything() -> None:
    answer = diagnose(
        DiagnoseCase(symptom="CALL-19", answers=(GivenAnswer(test="cable_slack", outcome="yes"),), look_ahead=1)
    )
    assert answer.next is None
    assert answer.stop is not None
    assert answer.in_short.startswith("Something that carries the leaf may be broken.")


def test_pairs_and_none_of_these_are_said_in_words() -> None:
    words = [each.words for each in found("CALL-16").suspects if len(each.faults) == 2]
    assert words
    assert all(" And: " in each for each in words)
    nothing = found(None, *((test.id, test.outcomes[-1].id) for test in fault_book().tests[5:40]))
    (none,) = [each for each in nothing.suspects if not each.faults]
    assert none.words == "None of the faults that are known here."
    assert none.probability > 0.5


def test_any_number_of_faults_is_left_out_after_repairs_and_for_very_many_signs() -> None:
    assert all(each.any_number is not None for each in found().shares)
    assert all(each.any_number is None for each in found(repaired=("aim_eye",)).shares)
    many = found(None, *((test.id, test.outcomes[-1].id) for test in fault_book().tests[5:40]))
    assert all(each.any_number is None for each in many.shares)


def test_it_ends_where_nothing_is_left_to_try() -> None:
    answer = found(repaired=tuple(each.id for each in fault_book().repairs))
    assert answer.next is not None
    assert (answer.next.kind, answer.next.words) == ("stop", "Somebody else has to look.")


def test_an_owner_is_told_that_he_was_taken_for_one() -> None:
    case = DiagnoseCase(symptom="CALL-01", look_ahead=1)
    assert any("taken for an owner" in each for each in diagnose(case).assumptions)
    assert not any("taken for an owner" in each for each in found().assumptions)
    assert any("invented but plausible" in each for each in found().assumptions)


@pytest.mark.parametrize(
    ("case", "message"),
    [
        (DiagnoseCase(symptom="CALL-99"), "symptom: nothing here is called “CALL-99”; did you mean “CALL-"),
        (
            DiagnoseCase(answers=(GivenAnswer(test="eye_lampz"),)),
            "answers[0].test: nothing here is called “eye_lampz”",
        ),
        (
            DiagnoseCase(answers=(GivenAnswer(test="cable_slack", outcome="perhaps"),)),
            "answers[0].outcome: nothing",
        ),
        (
            DiagnoseCase(facts=(GivenFact(fact="rain", value="<b>"),)),
            "facts[0].value: nothing here is called “<b>”",
        ),
        (
            DiagnoseCase(repaired=("new_edgee",)),
            "repaired[0]: nothing here is called “new_edgee”; did you mean “new_edge",
        ),
    ],
    ids=["complaint", "test", "outcome", "fact", "repair"],
)
def test_what_was_never_asked_is_refused_with_its_place(case: DiagnoseCase, message: str) -> None:
    with pytest.raises(UnknownName) as raised:
        diagnose(case)
    assert str(raised.value).startswith(message)


def test_it_looks_one_or_two_answers_ahead_and_no_farther() -> None:
    for wrong in (0, 3):
        with pytest.raises(OutOfRange, match="look_ahead"):
            DiagnoseCase(look_ahead=wrong)
    farther = found(look_ahead=2)
    assert farther.next is not None
    near = found(look_ahead=1)
    assert near.next is not None
    assert farther.next.expected_minutes < near.next.expected_minutes + 1e-9


def test_it_is_registered_and_its_answer_is_plain_numbers_and_texts() -> None:
    registered = calculation("diagnose")
    assert registered.title == "What is likely wrong with a door by what was told, and which step comes next."
    told = json.dumps(as_json(found()))
    assert "NaN" not in told


def test_neither_describing_nor_answering_it_loads_a_compiler(root: Path) -> None:
    code = (
        "import sys\n"
        "from sillwright.study.calculations import calculation\n"
        "calculation('diagnose')\n"
        "assert 'numpy' not in sys.modules\n"
        "from sillwright.trouble import DiagnoseCase, diagnose\n"
        "diagnose(DiagnoseCase(symptom='CALL-01', look_ahead=1))\n"
        "assert 'numba' not in sys.modules and 'scipy' not in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, timeout=240, cwd=root)
