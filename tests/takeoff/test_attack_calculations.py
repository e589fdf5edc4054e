"""Single calculations on odd cases: what is missing is named, every body is shown, units stand with numbers."""

from __future__ import annotations

from math import inf
from pathlib import Path

import pytest
from click.testing import CliRunner

from sillwright.base.errors import OutOfRange
from sillwright.cli.main import sillwright
from sillwright.takeoff import cord, floor, length
from sillwright.takeoff.floors.floor_model import FloorCase
from sillwright.takeoff.lengths.length_model import LengthCase
from sillwright.takeoff.ways.cord_model import CordCase

INCH, FOOT = 0.0254, 0.3048


def printed(folder: Path, name: str, case: str) -> str:
    """What the command prints for a case."""
    path = folder / "case.yaml"
    path.write_text(case, encoding="utf-8")
    done = CliRunner().invoke(sillwright, ["calc", name, str(path)])
    assert done.exit_code == 0, done.output
    return done.output


@pytest.mark.parametrize(
    ("kind", "missing"),
    [
        ("sectional", "width of the bottom panel"),
        ("rolling", "clear between the guides"),
        ("one_piece", "width of the leaf"),
        ("slide_gate", "gap below the leaf"),
        ("swing_gate", "height of the leaf"),
    ],
)
def test_a_length_that_cannot_be_told_says_what_to_measure(tmp_path: Path, kind: str, missing: str) -> None:
    found = printed(tmp_path, "length", f"kind: {kind}")
    assert found.startswith("Body length: – (not known)")
    assert missing in found
    assert "Measure the" in found


def test_what_null_means_is_for_programs_not_for_people(tmp_path: Path) -> None:
    found = printed(tmp_path, "length", "{kind: sectional, panel_width: 10 ft 6 in}")
    assert found.startswith("Body length: 3.2004 m = 10 ft 6 in")
    assert "null" not in found
    far = printed(tmp_path, "cord", "{highest: 40 m, offset: 10 m}")
    assert "– (no cord fits)" in far
    assert "null" not in far


def test_a_gates_other_bodies_are_named_too(tmp_path: Path) -> None:
    swing = "{kind: swing_gate, underside: 8 in, leaf_length: 96 in, leaf_height: 60 in}"
    assert "underside of the leaf: 7 ft 4 in besides" in printed(tmp_path, "length", swing)
    slide = printed(tmp_path, "length", "{kind: slide_gate, underside: 2 in, leaf_top: 84 in, post_count: 2}")
    assert "post: 5 ft 10 in besides" in slide
    assert "post: 4 of them" in slide
    assert "trailing edge: how many there are" in slide


def test_a_piece_that_is_all_dead_end_is_called_so():
    short = LengthCase(kind="sectional", panel_width=3 * INCH)
    assert any("nothing that answers" in note for note in length(short).notes)
    assert not any("nothing that answers" in note for note in length(LengthCase(kind="high_speed")).notes)


@pytest.mark.parametrize(
    ("width", "clear", "dead"),
    [
        (240, (233, 233, 233), 1.875),  # RO-4: e 1-1/2 in, (233 − 232-1/4) / 2
        (162, (164, 163.25, 164), 1.375),  # RO-5: the opening is narrower than the guides
        (168, (168, 168, 168), 1.875),  # RO-2
        (240, (233, 232.875, 232.625), 2.125),  # at its widest the daylight is 233 in; the body 231-3/4 in
    ],
)
def test_the_dead_strip_counts_from_where_light_comes_through(width, clear, dead):
    names = ("guide_clear_floor", "guide_clear_chest", "guide_clear_head")
    heights = {name: value * INCH for name, value in zip(names, clear, strict=True)}
    ends = {"dead_end_lead": 1.5 * INCH, "dead_end_far": 1.5 * INCH}
    found = length(LengthCase(kind="rolling", clear_width=width * INCH, **heights, **ends))
    assert found.dead_left is not None
    assert found.dead_left / INCH == pytest.approx(dead, abs=1e-9)
    assert found.dead_right == pytest.approx(found.dead_left)


def test_a_box_above_the_travel_is_told_off():
    hung = cord(CordCase(highest=14 * FOOT, offset=FOOT, box_height=15 * FOOT))
    assert any("never hangs from the operator" in note for note in hung.notes)
    at_the_top = cord(CordCase(highest=14 * FOOT, offset=FOOT, box_height=14 * FOOT))
    assert not any("never hangs from the operator" in note for note in at_the_top.notes)


def test_a_refusal_has_its_units():
    with pytest.raises(OutOfRange, match=r"400 m\] is no point of a floor"):
        FloorCase(points=((0.0, 0.0), (0.6, 400.0)), read_as="heights")
    with pytest.raises(OutOfRange, match="-1 ft is not a length"):
        CordCase(highest=4.0, offset=0.3, reel_cables=(-FOOT,))
    with pytest.raises(OutOfRange, match="inf is not a length"):
        CordCase(highest=4.0, offset=0.3, obstacles=(inf,))


def test_a_taper_that_leaves_a_little_too_much_says_so():
    gaps = (0, 1 / 8, 1 / 4, 3 / 8, 1 / 2, 5 / 8, 1 / 2)  # FLOOR-7: a strip of 0.21 in, which reads 3/16 in
    points = tuple((2 * at * FOOT, gap * INCH) for at, gap in enumerate(gaps))
    found = floor(FloorCase(points=points, read_as="gaps_below_level", width=12 * FOOT))
    assert found.cure == "fin"
    assert any("still more than the body takes up alone" in note for note in found.notes)
