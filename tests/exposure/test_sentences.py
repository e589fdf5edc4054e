"""A number never reads like the limit that it is not."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import Reader, Sentence, in_words
from sillwright.exposure import expose
from sillwright.exposure.answer import JudgedLimit
from sillwright.exposure.findings import _amount
from sillwright.survey.from_facts import survey_from_facts

LIMIT = JudgedLimit(
    id="fd-400", title=Sentence("greatest force"), quantity="peak_force", limit=400.0, unit="N", verdict="above",
    source=Source(document="EN 12453", sure="second-hand"),
)  # fmt: skip
METRIC = Reader(units="metric")


def test_a_force_just_above_its_limit_shows_what_is_above_it() -> None:
    assert in_words(_amount(400.4, LIMIT), METRIC) == "400.4 N"
    assert in_words(_amount(812.3, LIMIT), METRIC) == "812 N"
    assert in_words(_amount(400.0, LIMIT), METRIC) == "400 N"
    assert in_words(_amount(None, LIMIT), METRIC) == "no end"


def gate(**facts: Any) -> list[Finding]:
    """What is found of the greatest force of a slide gate of which nothing but these facts is told."""
    survey = survey_from_facts({"site.country": "DE", "door.kind": "slide_gate", **facts})
    found = expose(survey.site, survey.openings[0], edge="none", points=64).findings
    return [each for each in found if each.id == "exposure.peak_force"]


def test_of_two_limits_each_says_for_which_gaps_it_holds() -> None:
    assert [in_words(each.text, METRIC).partition(" of the force standard ")[2] for each in gate()] == [
        "for gaps up to 500 mm.",
        "for gaps above 500 mm.",
    ]


@pytest.mark.parametrize(("told", "typical"), [({}, True), ({"door.closing_speed": "0.3 m/s"}, False)])
def test_a_force_says_where_it_rests_on_typical_values_alone(told: dict[str, Any], typical: bool) -> None:
    reasons = [in_words(each.why, METRIC) for each in gate(**told) if each.why]
    assert [each.startswith("It rests on typical values alone") for each in reasons] == [typical] * 2
