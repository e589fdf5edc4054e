"""The scribe: what comes off the bottom edge so that it meets its floor, and its drawing at full size."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader
from sillwright.drawing import record
from sillwright.drawing.shapes import Dimension
from sillwright.takeoff import floor
from sillwright.takeoff.floors.scribe import scribe, scribe_drawing

from .floors import INCH, case

FLOOR = floor(case(0, 0.5, 0.25, 0.5, 0)).heights  # gaps: dips of 1/2 in at 1 and 3 ft
CURVE = scribe(FLOOR, 0.0, FLOOR[-1][0])


def test_most_comes_off_where_the_floor_is_highest_and_nothing_where_it_is_lowest() -> None:
    assert [round(height / INCH, 6) for _, height in CURVE.cut] == [0.5, 0, 0.25, 0, 0.5]
    assert CURVE.greatest == pytest.approx(0.5 * INCH)


def test_the_planed_leaf_lies_on_the_floor_everywhere() -> None:
    gaps = {round(line - ground, 12) for (_, line), (_, ground) in zip(CURVE.cut, CURVE.floor, strict=True)}
    assert gaps == {round(CURVE.greatest, 12)}, "the leaf comes down by the greatest gap"


def test_the_floor_goes_on_level_under_a_leaf_that_is_wider() -> None:
    wider = scribe(FLOOR, -0.1, FLOOR[-1][0] + 0.1)
    assert wider.cut[0] == (-0.1, CURVE.cut[0][1])
    assert wider.cut[-1] == (FLOOR[-1][0] + 0.1, CURVE.cut[-1][1])


def test_a_narrower_leaf_is_cut_between_points() -> None:
    half = scribe(FLOOR, 6 * INCH, 18 * INCH)
    assert [x / INCH for x, _ in half.cut] == pytest.approx([6, 12, 18])
    assert [height / INCH for _, height in half.cut] == pytest.approx([0.25, 0, 0.125])


def test_a_step_in_the_floor_is_a_step_in_the_line() -> None:
    stepped = scribe([(0, 0), (1, 0), (1, 0.01), (2, 0.01)], 0, 2)
    assert stepped.cut == ((0, 0), (1, 0), (1, 0.01), (2, 0.01))


@pytest.mark.parametrize(("heights", "left", "right"), [([], 0, 1), ([(0, 0)], 1, 1), ([(0, 0)], 1, 0)])
def test_a_leaf_without_length_or_floor_is_refused(
    heights: list[tuple[float, float]], left: float, right: float
) -> None:
    with pytest.raises(OutOfRange, match="from left to right"):
        scribe(heights, left, right)


def test_the_drawing_has_true_lengths() -> None:
    drawing = scribe_drawing(CURVE, Reader(), "B1")
    assert drawing.metres_per_mm == 0.001
    shown = record(drawing)
    assert {"leaf", "floor", "scribe", "measures", "words"} <= set(shown.names)
    line = shown.one("scribe")
    assert (line.left, line.right) == pytest.approx((0.0, 48 * INCH))
    assert (line.bottom, line.top) == pytest.approx((0.0, 0.5 * INCH))
    assert shown.one("floor").top == pytest.approx(0.0)
    assert shown.one("floor").bottom == pytest.approx(-0.5 * INCH)
    (measures,) = (each for each in drawing.parts if each.name == "measures")
    wide, deep = (each for each in measures.parts if isinstance(each, Dimension))
    assert (wide.label, deep.label) == ("4 ft", "1/2 in")
    assert wide.end[0] - wide.start[0] == pytest.approx(48 * INCH)


def test_the_drawing_says_from_which_side_it_is_seen() -> None:
    words = " ".join(record(scribe_drawing(CURVE, Reader(units="metric"))).words)
    assert "Inside, looking out" in words
    assert "left jamb" in words
    assert "at 305 mm: 0 mm" in words


def test_an_even_floor_has_a_straight_line_and_no_depth_to_measure() -> None:
    even = scribe([(0, 0), (1, 0)], 0, 1)
    assert even.greatest == 0
    (measures,) = (each for each in scribe_drawing(even, Reader()).parts if each.name == "measures")
    assert len(measures.parts) == 1


POINTS = st.lists(st.tuples(st.integers(0, 40), st.integers(0, 20)), min_size=1, max_size=12)


@given(POINTS, st.integers(-5, 20), st.integers(1, 30))
def test_whatever_the_floor_the_line_lies_between_nothing_and_the_greatest(
    points: list[tuple[float, float]], left: float, length: int
) -> None:
    curve = scribe([(x / 10, z / 1000) for x, z in points], left / 10, (left + length) / 10)
    assert min(height for _, height in curve.cut) == 0
    assert (curve.left, curve.right) == (left / 10, (left + length) / 10)
    assert all(one[0] <= other[0] for one, other in pairwise(curve.cut))
    record(scribe_drawing(curve, Reader()))
