"""What a finding of a rule rests on: enough to make the rule fail again, and nothing that it does not look at."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base import data
from sillwright.duty import assess
from sillwright.duty.facts import OpeningFacts
from sillwright.duty.model import Duty
from sillwright.duty.rulebook import rules, thresholds
from sillwright.survey.entries import entries_of, survey_from_entries
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.model import Survey
from tests.duty.test_answers import COMMERCIAL, EDGE, EYE, OLD, PLAIN, duty

BASES: dict[str, Any] = data.table("sillwright.duty", "rules")["base"]
FAILING = [
    pytest.param(rule.id, {**BASES[rule.of], **each.given}, id=f"{rule.id}-{number}")
    for rule in rules()
    for number, each in enumerate(rule.examples)
    if each.verdict == "fails"
]


def rested_on(found: Duty, rule: str) -> tuple[str, ...]:
    """The facts of the finding of a rule."""
    return next(each.facts for each in found.findings if each.id == rule)


def only(survey: Survey, facts: tuple[str, ...]) -> Survey:
    """The same opening, of which nobody has told anything else."""
    site = [each for each in entries_of(survey.site, "site") if each.path in facts]
    named = {f"{fact}.": fact for fact in facts}
    about = [
        each
        for each in entries_of(survey.openings[0])
        if each.path in facts or each.path.startswith(tuple(named)) or _of_a_member(each.path, facts)
    ]
    country = str(survey.site.country.value) if "site.country" in facts else "US"
    return survey_from_entries("Yard", site, {"1": about}, country).survey


def _of_a_member(path: str, facts: tuple[str, ...]) -> bool:
    """A member without an id is called m1, m2 … by entries, and by its number in a survey."""
    names = path.split(".")
    for at, name in enumerate(names):
        if name[:1] == "m" and name[1:].isdigit():
            numbered = ".".join(names[:at]) + f"[{int(name[1:]) - 1}]"
            return any(each in {numbered, ".".join((numbered, *names[at + 1 :]))} for each in facts)
    return False


@pytest.mark.parametrize(("rule", "given"), FAILING)
def test_the_facts_that_a_failed_rule_rests_on_are_enough_to_make_it_fail(rule: str, given: dict[str, Any]) -> None:
    survey = survey_from_facts(given)
    facts = rested_on(assess(survey.site, survey.openings[0]), rule)
    assert facts
    told = OpeningFacts(survey.site, survey.openings[0], thresholds()).told
    assert all(any(each == fact or each.startswith((f"{fact}.", f"{fact}[")) for each in told) for fact in facts)
    again = only(survey, facts)
    verdicts = {each.id: each.verdict for each in assess(again.site, again.openings[0]).rules}
    assert verdicts[rule] == "fails", facts


def test_a_plain_edge_on_a_newer_operator_is_why_the_rule_of_its_date_fails() -> None:
    facts = rested_on(duty(COMMERCIAL, protection=[PLAIN]), "ul325-commercial-date")
    assert {"operator.made", "protection.e1.circuit"} <= set(facts)
    assert "operator.lists_devices" not in facts
    assert "door.clear_width" not in facts


def test_an_eye_that_is_too_high_is_found_by_its_own_height_and_not_by_that_of_the_edge() -> None:
    high = {**EYE, "height": "2 ft"}
    facts = rested_on(duty(COMMERCIAL, protection=[EDGE, high]), "eye-height")
    assert "protection.y1.height" in facts
    assert not any(each.startswith("protection.e1") for each in facts)


def test_every_finding_of_this_chapter_says_what_it_rests_on() -> None:
    for facts in (COMMERCIAL, OLD, {**COMMERCIAL, "protection": [PLAIN]}, {**COMMERCIAL, "protection": []}):
        assert [each.id for each in duty(facts).findings if not each.facts] == []


def test_the_answer_rests_on_what_gives_it_and_on_what_decides_it_while_it_is_open() -> None:
    def answer(found: Duty) -> set[str]:
        return set(rested_on(found, "duty.powered_closing"))

    left_in = duty(COMMERCIAL, temporary_parts=["jumper"])
    assert answer(left_in) == {"temporary_parts"}
    open_still = duty(COMMERCIAL, protection=[{**EDGE, "circuit": None}])
    assert answer(open_still) == set(open_still.deciding_facts) != set()
    assert "protection.e1.circuit" in answer(duty(COMMERCIAL))
