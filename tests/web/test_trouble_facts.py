"""What an opening tells of a call: what is known of it, and nothing that would only be a good guess."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
import yaml

from sillwright.base.node import parse
from sillwright.survey.from_node import survey_from
from sillwright.trouble.book import fault_book
from sillwright.web.trouble.facts_told import told_by

TODAY = date(2026, 6, 1)
EDGE = {"id": "e1", "kind": "sensing_edge"}


def told(site: dict[str, Any] | None = None, on: date = TODAY, **opening: Any) -> dict[str, str]:
    """The facts of an opening of which only this is known."""
    document = {
        "format": "sillwright-survey/1",
        "site": {"name": "Yard", "country": "US", **(site or {})},
        "openings": [{"tag": "B1", **opening}],
    }
    survey = survey_from(parse(yaml.safe_dump(document).encode(), "yard.yaml"), "yard.yaml")
    found = told_by(survey, on)
    assert len(dict(found)) == len(found)
    known = dict(fault_book().facts)
    assert all(value in known[name] for name, value in found)
    return dict(found)


def edge(**more: Any) -> dict[str, Any]:
    """An opening with one edge."""
    return {"protection": [{**EDGE, **more}]}


def test_of_nothing_nothing_is_told() -> None:
    assert told() == {}
    nothing = {"circuit": "none", "connection": "none", "eyes": "none", "detector": "no"}
    assert told(protection=[]) == nothing  # somebody looked


@pytest.mark.parametrize(
    ("opening", "facts"),
    [
        (edge(circuit="radio"), {"circuit": "radio", "connection": "radio"}),
        ({"protection": [{"id": "e1", "kind": "air_edge"}]}, {"circuit": "air", "connection": "hose"}),
        (edge(circuit="resistor") | {"cord": {"conductors": 2}}, {"circuit": "resistor", "connection": "cord"}),
        (edge(circuit="radio") | {"cord": {"conductors": 2}}, {"circuit": "radio"}),
        (edge(), {}),
        ({"protection": [EDGE, {**EDGE, "id": "e2", "circuit": "radio"}]}, {}),
        ({"protection": [{"id": "y1", "kind": "photo_eye"}]}, {}),
        ({"protection": [{"id": "c1", "kind": "light_curtain"}]}, {"eyes": "curtain"}),
        ({"protection": [{"id": "c1", "kind": "light_curtain"}, {"id": "y1", "kind": "photo_eye"}]}, {}),
        ({"protection": [{"id": "p1", "kind": "presence"}]}, {"detector": "yes"}),
        ({"protection": [{"id": "l1", "kind": "loop"}]}, {"detector": "yes"}),
        ({"protection": [{"id": "m1", "kind": "motion"}]}, {}),
        ({"door": {"kind": "slide_gate"}}, {"leaf": "gate"}),
        ({"operator": {"closing_control": "timer"}}, {"timer": "yes"}),
        ({"operator": {"closing_control": "held"}}, {"timer": "no"}),
        ({"operator": {"closing_control": "automatic"}}, {}),
        ({"lead": {"end": "left"}, "box": {"side": "right"}}, {"lead_end": "far_side"}),
        ({"lead": {"end": "left"}, "box": {"side": "left"}}, {"lead_end": "cord_side"}),
        ({"lead": {"end": "both"}, "box": {"side": "left"}}, {}),
        ({"lead": {"end": "left"}}, {}),
    ],
    ids=str,
)
def test_what_is_known_of_an_opening_becomes_a_fact_of_its_calls(
    opening: dict[str, Any], facts: dict[str, str]
) -> None:
    assert told(**opening) == facts


@pytest.mark.parametrize(
    ("opening", "facts"),
    [
        ({"last_work": {"on": "2026-05-03"}}, {"work": "yes"}),
        ({"last_work": {"on": "2026-04"}}, {"work": "yes"}),
        ({"last_work": {"on": "2026"}}, {}),
        ({"last_work": {"on": "2025-05-03"}}, {}),
        ({"last_work": {"on": "2026-07-03"}}, {}),
        (edge(fitted="2026-05"), {"work": "yes", "edge_new": "yes", "age": "under_2_years"}),
        (edge(fitted="2025-05"), {"age": "under_2_years"}),
        (edge(fitted="2020"), {"age": "2_to_10_years"}),
        (edge(fitted="2024"), {}),
        (edge(fitted="2020") | {"operator": {"made": 2004}}, {}),
        (edge(fitted="2010") | {"operator": {"made": 2004}}, {"age": "over_10_years"}),
        ({"operator": {"made": 2004}}, {"age": "over_10_years"}),
        ({"operator": {"made": "2025-05"}}, {}),
        (edge() | {"operator": {"made": "2025-05"}}, {}),
        ({"operator": {"made": 2004, "board_made": 2025}}, {}),
    ],
    ids=str,
)
def test_a_date_tells_by_the_day_of_the_call_and_what_is_old_never_passes_as_new(
    opening: dict[str, Any], facts: dict[str, str]
) -> None:
    assert told(**opening) == facts


def test_it_never_freezes_only_where_no_side_of_the_leaf_comes_near_it() -> None:
    assert told(site={"coldest": "10 degC"}) == {"cold": "no"}
    assert told(site={"coldest": "10 degC"}, surroundings={"cold_side": "-20 degC"}) == {}
    assert told(site={"coldest": "-5 degC"}) == {}


def test_what_somebody_assumed_tells_nothing() -> None:
    made = {"value": 2004, "from": "assumed"}
    assert told(operator={"made": made, "closing_control": {"value": "timer", "from": "assumed"}}) == {}
