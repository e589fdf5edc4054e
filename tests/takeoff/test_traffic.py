"""PRO-12: what drags over the sill is named once, and the body is kept out of its way instead of made harder."""

from __future__ import annotations

import pytest

from sillwright.base.words import ENGLISH, render
from sillwright.takeoff import take_off
from sillwright.takeoff.choosing.traffic import traffic

from .openings import SECTIONAL, at


def told(*who: str, **more: object) -> list[str]:
    facts = {**SECTIONAL, "use.traffic": [{"who": each} for each in who], **more}
    return [render(each.text, ENGLISH) for each in traffic(at(facts)[1])]


@pytest.mark.parametrize("who", ["forklift", "pallet_truck", "steel-wheeled cart", "tracked excavator", "Train"])
def test_what_drags_over_the_sill_is_named(who):
    (said,) = told("adult", who)
    assert who.replace("_", " ") in said
    assert "adult" not in said


def test_people_and_cars_drag_nothing_and_a_gate_has_no_sill():
    assert told("adult", "child", "car") == []
    assert told("forklift", **{"door.kind": "slide_gate"}) == []


def test_it_is_advice_on_the_order_and_no_finding_on_the_door():
    site, opening = at({**SECTIONAL, "use.traffic": [{"who": "forklift"}]})
    found = take_off(site, opening)
    assert [each.id for each in found.advice if each.id == "takeoff.traffic"] == ["takeoff.traffic"]
    assert "takeoff.traffic" not in {each.id for each in found.findings}
