"""Orders by hearsay, zones under odd names, guides that stand in the opening, bodies that are all dead end."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import render
from sillwright.takeoff.blocking.asks import AS_LAST_TIME
from sillwright.takeoff.leads.lead_side import advice

from .openings import ROLLING, SLIDE_GATE, US, at, blocks_at, bodies_at, body_at, inches, measured, said


@pytest.mark.parametrize(
    "words",
    [
        "same as last time",
        "As the previous order.",
        "the same again",
        "like the old one",
        "make it like the one that is there",
        "copy of the existing edge",
        "same edge as on door 3",
        "identical to gate G2",
        "please reorder the edge",
        "repeat our last order",
    ],
)
def test_words_that_order_by_something_else_than_a_measurement(words: str) -> None:
    assert AS_LAST_TIME.search(words)


@pytest.mark.parametrize(
    "words",
    [
        "the old edge was torn off",
        "it works like new",
        "as long as the guides allow",
        "as told by the one there",
        "lead as on the photo of the other one",
        "downspout on the right",
        "the door is the same height as the truck",
    ],
)
def test_words_that_only_tell_something(words: str) -> None:
    assert not AS_LAST_TIME.search(words)


def gate(*zones: dict[str, Any]) -> dict[str, Any]:
    return {**SLIDE_GATE, "zones": list(zones)}


def posts(*zones: dict[str, Any]) -> int | None:
    """How many bodies on posts a gate with these zones gets; 0 where none is asked for."""
    found = [each.count for each in bodies_at(gate(*zones)) if each.place == "post"]
    return found[0] if found else 0


@pytest.mark.parametrize(
    "place",
    ["guide posts", "stone pillar", "fence end", "parked container", "house corner", "tree", "bollard", "operator"],
)
def test_whatever_a_gate_passes_within_16_in_gets_a_body_on_both_faces(place: str) -> None:
    assert posts({"place": place, "gap": "12 in"}) == 2
    assert posts({"place": place, "gap": "17 in"}) == 0
    assert posts({"place": place}) is None  # named without a gap: asked for


@pytest.mark.parametrize("place", ["receiving post", "latch post", "mesh of the leaf", "underside of the leaf"])
def test_what_lies_ahead_or_within_the_leaf_is_no_post_beside_it(place: str) -> None:
    assert posts({"place": place, "gap": "2 in"}) == 0


@pytest.mark.parametrize("place", ["tail end and wall", "back of the gate and building", "rear of the leaf"])
def test_what_the_tail_comes_near_gets_a_trailing_body(place: str) -> None:
    trailing = [each for each in bodies_at(gate({"place": place, "gap": "6 in"})) if each.place == "trailing"]
    assert [each.count for each in trailing] == [1]
    assert posts({"place": place, "gap": "6 in"}) == 0


def between_jambs(width: str) -> dict[str, Any]:
    """RO-4 of the trade: guides 233 in apart stand in an opening of 20 ft."""
    clear = {f"door.guide_clear.{name}": measured("233 in") for name in ("floor", "chest", "head")}
    return {**ROLLING, **clear, "door.clear_width": measured(width)}


def test_guides_in_the_opening_cover_what_lies_beside_them():
    found = body_at(between_jambs("20 ft"))
    assert inches(found.body) == 232.25
    assert inches(found.dead_left) == inches(found.dead_right) == 2.375  # 2 in and 3/8 in of daylight, not 5-7/8 in
    assert "light comes through between the guides" in said(found)["guides_in_opening"]
    assert blocks_at(between_jambs("20 ft")) == {}


def test_guides_on_the_face_of_the_wall_leave_the_opening_as_it_is():
    found = body_at(ROLLING)  # 163-7/8 in between guides, 162 in of opening, a body of 163 in
    assert inches(found.dead_left) == 1.5
    assert "guides_in_opening" not in said(found)


def test_guides_far_narrower_than_the_opening_are_measured_again():
    found = body_at(between_jambs("21 ft"))
    assert "cannot stand in an opening" in said(found)["cannot_be"]
    assert "cannot_be" in blocks_at(between_jambs("21 ft"))


def test_a_body_that_is_all_dead_end_is_found_out():
    low = {**SLIDE_GATE, "door.leaf_top": measured("6 in")}  # 3 in to 6 in: the dead ends take 4 in
    assert "answers nowhere" in said(body_at(low))["no_sensing"]
    assert "no_sensing" not in said(body_at(SLIDE_GATE))


def test_a_fire_door_is_offered_no_lead_at_both_ends():
    fire = {**ROLLING, "door.kind": "rolling_fire", "operator.side": None}
    plain = {**ROLLING, "operator.side": None}
    both = "a lead at both ends"
    assert both not in render(advice(at(fire)[1]).why, US)
    assert both in render(advice(at(plain)[1]).why, US)


def test_a_reason_says_where_the_order_goes_instead():
    fire = blocks_at({**ROLLING, "door.kind": "rolling_fire", "door.fire_label.readable": False})
    assert "through the door's maker" in render(fire["fire_label_unreadable"].reason, US)
    fabric = blocks_at({**ROLLING, "door.kind": "high_speed", "door.serial": "HS-1"})
    assert "serial number" in render(fabric["by_serial"].reason, US)
    zones = blocks_at({name: value for name, value in SLIDE_GATE.items() if name != "zones"})
    assert "zones are not listed" in render(zones["zones_unknown"].reason, US)
