"""Dates that lie ahead: of things that have been done there are none."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.survey.ahead import dates_ahead

from .building import survey_of

TODAY = date(2026, 3, 4)


def ahead(facts: dict[str, Any], **site: Any) -> list[str]:
    survey = survey_of(facts, **site)
    return [each.facts[0] for each in dates_ahead(survey.openings[0], survey.site, TODAY)]


@pytest.mark.parametrize(
    ("day", "lies_ahead"),
    [
        ("2026-03-05", False),  # it is tomorrow elsewhere
        ("2026-03-06", True),
        ("2026-03", False),
        ("2026-04", True),
        ("2026", False),
        ("2027", True),
        ("2006", False),
    ],
)
def test_what_has_begun_does_not_lie_ahead(day: str, lies_ahead: bool) -> None:
    assert ahead({"operator.made": day}) == (["operator.made"] if lies_ahead else [])


def test_records_and_both_of_two_readings_are_looked_at() -> None:
    facts = {
        "readings": [{"of": "e1", "ohms": "10 kohm", "on": "2031-01-01"}],
        "tests": [{"what": "TEST-12", "result": "met", "on": "2026-03-01"}],
        "operator.made": [{"value": "2019", "from": "plate"}, {"value": "2029", "from": "told"}],
    }
    assert ahead(facts) == ["operator.made", "readings[0].on"]


def test_the_day_of_the_survey_is_no_mistake_of_its_records() -> None:
    assert ahead({"readings": [{"of": "e1", "ohms": "10 kohm", "on": "2026-06-01"}]}, surveyed_on="2026-06") == []


def test_it_says_which_date_and_what_to_do() -> None:
    survey = survey_of({"operator.made": "2031"})
    (found,) = dates_ahead(survey.openings[0], survey.site, TODAY)
    assert render(found.text, Reader()) == "The date 2031 of “operator.made” lies ahead."
    assert found.level == "act"
    assert found.do is not None
