"""What the papers say and draw of an order: gates have other tests, pieces have ends of their own."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.drawing.shapes import Rect, Text
from sillwright.paper.elevation import elevation
from sillwright.paper.takeoff_page import takeoff_page
from sillwright.paper.voice import Voice
from sillwright.study import study_opening
from sillwright.takeoff import take_off
from sillwright.takeoff.ordering.install import install

from .openings import ROLLING, SECTIONAL, SLIDE_GATE, US, at, measured


def headline(facts: dict[str, Any]) -> str:
    return str(takeoff_page(study_opening(*at(facts), points=64), Voice(Reader()))["headline"])


def test_a_page_never_asks_for_a_length_that_no_tape_gives():
    assert "serial number" in headline({**SECTIONAL, "door.kind": "high_speed"})
    twice = {"door.panel_width": [measured("10 ft 6 in"), measured("11 ft")]}
    assert "contradict" in headline({**SECTIONAL, **twice})
    assert "missing" in headline({**SECTIONAL, "door.panel_width": None})


def sections(facts: dict[str, Any]) -> dict[str, list[str]]:
    site, opening = at(facts)
    found = install(opening, take_off(site, opening), None)
    return {each.id: [render(one, US) for one in each.sentences] for each in found}


def trials(facts: dict[str, Any]) -> list[str]:
    return [each.split(":")[0] for each in sections(facts)["tests"] if each.startswith("TEST")]


def test_a_gate_is_tested_zone_by_zone_and_not_with_a_board_on_the_floor():
    found = trials(SLIDE_GATE)
    assert "TEST-25" in found
    assert not {"TEST-3", "TEST-10", "TEST-11"} & set(found)
    assert not any("closed limit" in each for each in sections(SLIDE_GATE)["fix"])


def test_a_door_is_tested_with_a_board_and_not_zone_by_zone():
    found = trials(ROLLING)
    assert {"TEST-3", "TEST-10"} <= set(found)
    assert "TEST-25" not in found


@pytest.mark.parametrize("facts", [SECTIONAL, SLIDE_GATE], ids=["door", "gate"])
def test_last_of_all_a_second_person_looks_for_temporary_parts(facts: dict[str, Any]) -> None:
    assert trials(facts)[-1] == "TEST-27"


def body_of(facts: dict[str, Any]) -> tuple[Rect, list[Rect]]:
    """The rubber as it is drawn, and the stretches of it that do not answer."""
    site, opening = at(facts)
    drawing = elevation(opening, US, order=take_off(site, opening))
    (group,) = (each for each in drawing.parts if each.name == "body" and each.role == "device")
    shapes = [each for each in group.parts if isinstance(each, Rect)]
    return shapes[0], shapes[1:]


def test_a_body_lies_below_the_middle_of_the_opening_with_both_dead_ends_drawn():
    rubber, dead = body_of(SECTIONAL)  # 10 ft 6 in below an opening of 10 ft 4 in
    assert (rubber.x, rubber.width) == (pytest.approx(-0.0254), pytest.approx(3.2004))
    assert [each.width for each in dead] == [pytest.approx(0.0508)] * 2
    assert dead[0].x == pytest.approx(rubber.x)
    assert dead[1].x + dead[1].width == pytest.approx(rubber.x + rubber.width)


def test_each_piece_of_a_body_has_dead_ends_of_its_own():
    long = {**SECTIONAL, "door.kind": "one_piece", "door.meets": "overlaps"}
    long |= {"door.leaf_width": measured("48 ft 6 in"), "door.clear_width": measured("48 ft")}
    rubber, dead = body_of(long)  # OP-1: three pieces of 16 ft 1-3/4 in
    assert [each.width for each in dead] == [pytest.approx(0.0508)] * 6
    assert dead[2].x - dead[0].x == pytest.approx((rubber.width + 0.003175) / 3, abs=0.003)
    assert dead[5].x + dead[5].width == pytest.approx(rubber.x + rubber.width)


def remarks(facts: dict[str, Any]) -> str:
    site, opening = at(facts)
    drawing = elevation(opening, US, order=take_off(site, opening))
    return " ".join(each.words for group in drawing.parts for each in group.parts if isinstance(each, Text))


def test_the_drawing_says_where_the_lead_goes_by_rule_when_nobody_told():
    said = "Nobody told the end of the lead; by rule: right."
    untold = {name: value for name, value in SECTIONAL.items() if name != "lead.end"}
    assert said in remarks(untold)
    assert "by rule:" not in remarks(SECTIONAL)
