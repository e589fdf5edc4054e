"""What programs read of a take-off, for sites with a trap in them; every number worked out by hand from the rules.

Expected lengths follow LEN-1 to LEN-14, ends SIDE-1 to SIDE-11, cords the table of CORD-1, all from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import Reader
from sillwright.study.takeoff_answer import takeoff_as_json
from sillwright.takeoff import take_off

from .openings import (
    ROLLING,
    SECTIONAL,
    SLIDE_GATE,
    SWING_GATE,
    assumed,
    at,
    bodies_at,
    inches,
    measured,
    told,
)

Facts = dict[str, Any]
NEITHER: Facts = {}


def read(facts: Facts) -> dict[str, Any]:
    """The take-off of one opening as a program reads it."""
    return takeoff_as_json(take_off(*at(facts)), (), Reader())


def guides(floor: str, chest: str, head: str) -> Facts:
    """The clear between the guides at three heights, measured."""
    heights = {"floor": floor, "chest": chest, "head": head}
    return {f"door.guide_clear.{name}": measured(value) for name, value in heights.items()}


def outside(value: str) -> Facts:
    """A side as somebody told it who stood outside."""
    return {"value": value, "from": "told", "seen_from": "outside"}


ONE_PIECE = {**SECTIONAL, "door.kind": "one_piece"}
# site, changed facts, body in inches (None: cannot be told), pieces
LENGTHS: dict[str, tuple[Facts, Facts, float | None, int]] = {
    "panel to the sixteenth": (SECTIONAL, {"door.panel_width": measured("10 ft 6-3/16 in")}, 126, 1),
    "panel told, opening measured": (SECTIONAL, {"door.panel_width": told("10 ft 6 in")}, 126, 1),
    "panel assumed": (SECTIONAL, {"door.panel_width": assumed("10 ft 6 in")}, 126, 1),
    "only the opening measured": (SECTIONAL, {"door.panel_width": None}, None, 1),
    "ten point six feet": (SECTIONAL, {"door.panel_width": "10.6 ft"}, 127, 1),
    "ten point six feet, and measured": (
        SECTIONAL,
        {"door.panel_width": [told("10.6 ft"), measured("10 ft 6 in")]},
        126,
        1,
    ),
    "taken twice, half an inch apart": (
        SECTIONAL,
        {"door.panel_width": [measured("10 ft 6-1/2 in"), measured("10 ft 6 in", by="advisor")]},
        126,
        1,
    ),
    "taken twice, 9/16 in apart": (
        SECTIONAL,
        {"door.panel_width": [measured("10 ft 6-9/16 in"), measured("10 ft 6 in", by="advisor")]},
        None,
        1,
    ),
    "metric": (SECTIONAL, {"door.panel_width": measured("3.05 m"), "door.clear_width": measured("3 m")}, 120, 1),
    "24 ft coiled in one piece": (SECTIONAL, {"door.panel_width": measured("24 ft")}, 288, 1),
    "a quarter inch more": (SECTIONAL, {"door.panel_width": measured("24 ft 1/4 in")}, 288.25, 2),
    "bar measured over the guides": (
        ROLLING,
        {**guides("144.5 in", "144.5 in", "144.5 in"), "door.bottom.bar_overall": measured("148 in")},
        143.75,
        1,
    ),
    "seat shorter than the guides": (
        ROLLING,
        {**guides("144.5 in", "144.5 in", "144.5 in"), "door.bottom.seat_length": measured("141-3/8 in")},
        141.25,
        1,
    ),
    "bent guide": (ROLLING, guides("164 in", "163-1/4 in", "164 in"), 162.25, 1),
    "guides 20 ft apart": (ROLLING, guides("240 in", "240 in", "240 in"), 239.25, 1),
    "and a sixteenth": (ROLLING, guides("240-1/16 in", "240-1/16 in", "240-1/16 in"), 239, 1),
    "between jambs of 16 ft": (
        ONE_PIECE,
        {"door.meets": "between_jambs", "door.clear_width": measured("16 ft")},
        191,
        1,
    ),
    "fire door, for information": (ROLLING, {"door.kind": "rolling_fire"}, 163, 1),
    "fabric door, whatever was measured": (
        SECTIONAL,
        {"door.kind": "high_speed", "door.leaf_width": measured("3 m")},
        None,
        1,
    ),
    "slide gate": (SLIDE_GATE, NEITHER, 69, 1),
    "swing gate": (SWING_GATE, NEITHER, 58, 1),
}


@pytest.mark.parametrize(("site", "changed", "body", "pieces"), LENGTHS.values(), ids=LENGTHS)
def test_the_length_that_would_be_ordered(site: Facts, changed: Facts, body: float | None, pieces: int) -> None:
    found = read({**site, **changed})
    assert (inches(found["body_length"]), found["pieces"]) == (body, pieces)


WITHOUT_END = {name: value for name, value in SECTIONAL.items() if name != "lead.end"}
TROLLEY = {**WITHOUT_END, "operator.kind": "trolley", "operator.side": None}
ENDS: dict[str, tuple[Facts, Facts, str | None]] = {
    "operator on the right": (WITHOUT_END, NEITHER, "right"),
    "told from outside: left": (WITHOUT_END, {"operator.side": outside("left")}, "right"),
    "operator outside, told from there": (
        WITHOUT_END,
        {"operator.wall": "outside", "operator.side": outside("right")},
        "left",
    ),
    "no wall free beside the operator": (
        WITHOUT_END,
        {"free_wall.right": measured("6 in"), "free_wall.left": measured("20 in")},
        "left",
    ),
    "no wall free on either side": (
        WITHOUT_END,
        {"free_wall.right": measured("6 in"), "free_wall.left": measured("6 in")},
        None,
    ),
    "trolley without a box": (TROLLEY, NEITHER, None),
    "trolley, box on the left": (TROLLEY, {"box.side": "left"}, "left"),
    "trolley, box told from outside": (TROLLEY, {"box.side": outside("left")}, "right"),
    "trolley, station on the left": (TROLLEY, {"stations": [{"place": "wall inside, left"}]}, "left"),
    "station left of what is right": (
        TROLLEY,
        {"stations": [{"place": "left of the man door on the right"}]},
        None,
    ),
    "lead ordered on the other side": (SECTIONAL, {"lead.end": "left"}, "left"),
    "lead at both ends": (SECTIONAL, {"lead.end": "both"}, "both"),
    "nobody knows the operator's side": (WITHOUT_END, {"operator.side": None}, None),
    "the other leaf's operator only": (
        WITHOUT_END,
        {"operator.side": None, "door.second_leaf.kind": "grille", "door.second_leaf.operator_side": "right"},
        "left",
    ),
    "two people disagree on the operator": (
        WITHOUT_END,
        {"operator.side": [told("left"), measured("right")]},
        None,
    ),
}


@pytest.mark.parametrize(("site", "changed", "end"), ENDS.values(), ids=ENDS)
def test_the_end_at_which_the_lead_comes_out(site: Facts, changed: Facts, end: str | None) -> None:
    assert read({**site, **changed})["lead"]["end"] == end


# Height of the opening in feet; retracted cord in feet with the box at half of it, and hung 1 ft above the head.
CORDS = [(8, 1.5, 3), (10, 1.5, 4), (12, 2, 4), (14, 3, 5), (16, 3, 5), (18, 3, 6), (20, 3, 8), (24, 4, 8)]


def boxed(height: float, box: float) -> Facts:
    return {
        **SECTIONAL,
        "door.clear_height": measured(f"{height} ft"),
        "box.side": "right",
        "box.offset": measured("1 ft"),
        "box.height": measured(f"{box * 12:g} in"),
    }


@pytest.mark.parametrize(("height", "middle", "hung"), CORDS)
def test_a_program_reads_the_cord_that_would_do_also_where_a_reel_is_better(height, middle, hung):
    found = read(boxed(height, height / 2))
    assert inches(found["cord"]["retracted"]) == middle * 12
    assert found["cord"]["ratio"] <= 3.5 + 1e-9
    assert found["way"]["kind"] == ("reel" if height > 16 else "cord")
    assert inches(read(boxed(height, height + 1))["cord"]["retracted"]) == hung * 12


@pytest.mark.parametrize(("share", "retracted"), [(0.35, 3), (0.4, 3), (0.5, 3), (0.6, 3), (0.7, 3), (1.0, 5)])
def test_a_box_off_the_middle_of_14_ft_asks_for_more_cord_at_the_head_only(share, retracted):
    assert inches(read(boxed(14, 14 * share))["cord"]["retracted"]) == retracted * 12


def test_no_cord_is_told_where_no_wall_is_free_for_its_box():
    walls = {"free_wall.left": measured("6 in"), "free_wall.right": measured("6 in")}
    found = read({**boxed(10, 5), **walls})
    assert (found["way"]["kind"], found["cord"]["retracted"], found["cord"]["ratio"]) == ("radio", None, None)


def test_a_gate_has_no_cord():
    assert read(SLIDE_GATE)["cord"] == {"retracted": None, "longest": None, "ratio": None}


def test_a_word_that_two_people_measured_alike_is_that_word():
    """How a one-piece leaf meets the opening, told twice: nothing is taken off from words."""
    twice = [{"value": "overlaps", "from": "measured", "by": name} for name in ("technician", "advisor")]
    facts = {"door.kind": "one_piece", "door.leaf_width": "10 ft", "door.clear_width": "9 ft 6 in"}
    (body,) = bodies_at({**facts, "door.meets": twice})
    assert body.rule == "LEN-8"
