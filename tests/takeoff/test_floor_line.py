"""The narrowest strip about a floor: against every three points in exact fractions, and linear programming."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.takeoff.floors.strip import narrowest_strip
from tests.verification import Verify

from .floors import rising, strip_by_trying

Points = list[tuple[float, float]]
whole = st.integers(-20, 20)
POINTS = st.lists(st.tuples(st.integers(0, 12), whole), min_size=2, max_size=9).filter(
    lambda points: len({x for x, _ in points}) > 1
)
rough = st.floats(-3, 3, allow_subnormal=False)
ROUGH = st.lists(st.tuples(st.floats(0, 6, allow_subnormal=False), rough), min_size=2, max_size=9).filter(
    lambda points: len({x for x, _ in points}) > 1
)
BY_TRYING = "exact enumeration of all triples of points in fractions"


@given(points=POINTS)
def test_no_line_is_better_than_the_worst_three_points_allow(points: Points) -> None:
    assert narrowest_strip(points).width == float(strip_by_trying(points))


@given(points=ROUGH)
def test_nothing_is_lost_in_binary_fractions(points: Points) -> None:
    assert narrowest_strip(points).width == float(strip_by_trying(points))


def test_a_floor_of_forty_points_against_every_three_of_them(verify: Verify) -> None:
    points = [(n * 0.1, ((n * 7919) % 97) / 4000 + n * 0.0003) for n in range(40)]
    verify(
        "narrowest strip of forty points, m",
        got=narrowest_strip(points).width,
        expected=float(strip_by_trying(points)),
        within=1e-15,
        source=BY_TRYING,
    )


def by_linear_programming(points: list[tuple[float, float]], steepest: float | None = None) -> float:
    """Least e with |z - m x - b| <= e: twice that is the strip."""
    from scipy.optimize import linprog

    above = [[-x, -1.0, -1.0] for x, _ in points]
    below = [[x, 1.0, -1.0] for x, _ in points]
    limits = [-z for _, z in points] + [z for _, z in points]
    slope = (None, None) if steepest is None else (-steepest, steepest)
    found = linprog([0, 0, 1], A_ub=above + below, b_ub=limits, bounds=[slope, (None, None), (0, None)])
    assert found.status == 0
    return float(2 * found.x[2])


@pytest.mark.parametrize("steepest", [None, 0.0, 0.001, 0.01])
@pytest.mark.parametrize("count", [2, 7, 60])
def test_against_linear_programming(verify: Verify, count: int, steepest: float | None) -> None:
    points = [(n * 0.15, ((n * n * 31) % 53) / 2000 - n * 0.004) for n in range(count)]
    verify(
        f"narrowest strip of {count} points, slope up to {steepest}, m",
        got=narrowest_strip(points, steepest).width,
        expected=by_linear_programming(points, steepest),
        within=1e-9,
        relative=False,
        source="scipy.optimize.linprog (HiGHS)",
    )


@given(points=POINTS, steepest=st.floats(0, 3))
def test_a_strip_within_a_slope_holds_every_point_and_keeps_the_slope(points: Points, steepest: float) -> None:
    found = narrowest_strip(points, steepest)
    assert abs(found.slope) <= steepest
    assert found.width >= narrowest_strip(points).width - 1e-12
    for x, z in points:
        assert abs(z - found.slope * x - found.middle) <= found.width / 2 + 1e-9


@given(points=POINTS)
def test_the_strip_is_held_on_both_sides_by_points_that_alternate(points: Points) -> None:
    found = narrowest_strip(points)
    offs = [z - found.slope * x - found.middle for x, z in found.touches]
    assert rising(found.touches)
    assert max(offs) == pytest.approx(found.width / 2)
    assert min(offs) == pytest.approx(-found.width / 2)
    if found.width > 0 and len({x for x, _ in found.touches}) == len(found.touches):
        turns = sum((one > 0) != (other > 0) for one, other in pairwise(offs))
        assert turns >= 2, "up, down, up: the sign of a best line"


@given(points=POINTS, across=whole, up=whole)
def test_moving_the_floor_does_not_change_it(points: Points, across: int, up: int) -> None:
    one, other = narrowest_strip(points), narrowest_strip([(x + across, z + up) for x, z in points])
    assert (one.width, one.slope) == (other.width, other.slope)


@given(points=POINTS)
def test_mirrors_turn_the_slope_and_nothing_else(points: Points) -> None:
    one = narrowest_strip(points)
    sideways = narrowest_strip([(-x, z) for x, z in points])
    upside_down = narrowest_strip([(x, -z) for x, z in points])
    assert one.width == sideways.width == upside_down.width
    assert one.slope == -sideways.slope == -upside_down.slope


@given(points=POINTS, tilt=st.integers(-5, 5))
def test_tilting_the_floor_tilts_its_line(points: Points, tilt: int) -> None:
    one, other = narrowest_strip(points), narrowest_strip([(x, z + tilt * x) for x, z in points])
    assert one.width == other.width


@given(points=POINTS, share=st.fractions(0, 1), at=st.fractions(0, 12))
def test_a_point_inside_the_strip_changes_nothing(points: Points, share: Fraction, at: Fraction) -> None:
    found = narrowest_strip(points)
    x = float(at)
    z = found.slope * x + found.middle + (float(share) - 0.5) * found.width * 0.999
    assert narrowest_strip([*points, (x, z)]).width == pytest.approx(found.width, abs=1e-9)


def test_of_equally_good_slopes_the_one_nearest_to_level_is_taken() -> None:
    step = [(0, 0), (1, -1), (1, 1), (2, 0)]  # any slope up to 1 either way leaves 2
    assert narrowest_strip(step).slope == 0
    assert narrowest_strip([(x, z + 3 * x) for x, z in step]).slope == 2


def test_points_at_one_place_have_no_line() -> None:
    with pytest.raises(ValueError, match="two places"):
        narrowest_strip([(1, 0), (1, 1)])
