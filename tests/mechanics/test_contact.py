"""What a closing leaf does to what it meets, and the traps on the way to the exact answer."""

from __future__ import annotations

import random
import subprocess
import sys
from dataclasses import replace
from math import inf, nan
from typing import Any

import pytest

from sillwright.base.errors import OutOfRange
from sillwright.mechanics import ContactCase, Drive, Edge, Obstruction, Stop, contact
from sillwright.mechanics._piece import begin, motion, root, trend

from ..long import cases
from .by_solver import by_solver
from .leaves import CURVE, leaf, random_leaf

SOLVER = "SciPy solve_ivp DOP853, rtol 1e-10, split at the phases"


def test_one_contact_loads_no_array_library() -> None:
    code = (
        "import sys; from tests.mechanics.leaves import leaf; from sillwright.mechanics import contact; "
        "contact(leaf()); print([each for each in ('numpy', 'numba', 'scipy') if each in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def agree(case: ContactCase, verify: Any, what: str) -> None:
    found, twin = contact(case), by_solver(case)
    verify(what, got=found.peak_force, expected=twin.peak_force, within=1e-6, source=SOLVER)
    assert found.actuation_time == pytest.approx(twin.actuation_time, abs=1e-7)
    assert found.contact_duration == pytest.approx(twin.contact_duration, abs=1e-5)


def test_random_leaves_press_as_an_independent_solver_says(verify: Any) -> None:
    dice = random.Random(2026)  # noqa: S311 - test cases, not secrets
    for _ in range(25):
        agree(random_leaf(dice), verify, "peak force, random leaves, half with hard limits")


@pytest.mark.slow
@pytest.mark.long
def test_many_random_leaves_press_as_an_independent_solver_says(verify: Any) -> None:
    dice = random.Random(500)  # noqa: S311
    for _ in range(cases(40, 500)):
        agree(random_leaf(dice), verify, "peak force, many random leaves, half with hard limits")


# The traps, one by one.


def test_a_drive_that_leaves_its_limit_and_meets_it_again_at_once_is_followed(verify: Any) -> None:
    """A light leaf on a soft drive swings through the limit many times while the drive brakes."""
    case = leaf(moving_mass=40.0, drive=Drive(stiffness=150e3, damping=60.0, push_limit=120.0, lift_limit=150.0))
    assert contact(case).drive_slips >= 3
    agree(case, verify, "peak force, limits met again and again")


def test_a_drive_at_its_limit_from_the_start_does_not_chatter() -> None:
    found = contact(leaf(drive=Drive(stiffness=60e3, damping=200.0, push_limit=0.0, lift_limit=0.0)))
    assert found.drive_slips < 20
    assert found.peak_force > 0.0


def test_a_root_at_the_start_of_a_piece_is_not_the_root() -> None:
    piece = begin(100.0, 0.0, 1000.0, 0.0, 0.0, 0.0, 0.0, 1.0)
    t, y, _ = root(
        piece, (0.0, 0.0, 0.0, 1.0, 0.0), 1e-9, 0.5, 1.5, motion(piece, 0.5)[0], motion(piece, 1.5)[0], 1, -1
    )
    assert t == pytest.approx(0.9934588265796101, rel=1e-14)  # pi / omega, omega = sqrt(10)
    assert abs(y) < 1e-14


def test_an_answer_at_a_point_of_the_curve_is_the_answer_beside_it() -> None:
    at, before, after = (contact(leaf(edge__actuation_travel=0.008 + shift)) for shift in (0.0, -1e-10, 1e-10))
    assert before.actuation_time is not None
    assert before.actuation_time < at.actuation_time < after.actuation_time  # type: ignore[operator]
    assert before.peak_force == pytest.approx(after.peak_force, rel=1e-6)
    assert at.peak_force == pytest.approx(after.peak_force, rel=1e-6)


def test_newtons_last_step_is_taken_before_the_bracket_is_halved() -> None:
    """A root that one step of round-off moves across the bracket is found to the last digits."""
    piece = begin(1.0, 0.0, 1.0, 0.0, 0.0, 0.0, -1e-3, 1.0)
    g0, g1 = motion(piece, 0.0)[0], motion(piece, 1.0)[0]
    t, _, _ = root(piece, (0.0, 0.0, 0.0, 1.0, 0.0), 1e-9, 0.0, 1.0, g0, g1, 1.0, 0.5)
    assert t == pytest.approx(9.999996666668667e-04, rel=1e-13)  # atan(1e-3)


@pytest.mark.parametrize("damping", [0.0, 50.0, 2e3, 632.455532033676, 9e3])
def test_a_piece_obeys_its_equation_of_motion(damping: float) -> None:
    """Under-damped, critical and over-damped, with a force that grows as t²: four alpha, not two."""
    mass, stiff, r0, r1, r2 = 10.0, 10e3, 50.0, 300.0, 700.0
    piece = begin(mass, damping, stiff, r0, r1, r2, 0.01, -0.2)
    assert motion(piece, 0.0)[:2] == pytest.approx((0.01, -0.2), rel=1e-12)
    for t in (0.0, 0.01, 0.1, 0.5):
        y, v, a = motion(piece, t)
        assert mass * a + damping * v + stiff * y == pytest.approx(r0 + r1 * t + r2 * t * t, rel=1e-9)
        h = 1e-5
        assert (motion(piece, t + h)[0] - motion(piece, t - h)[0]) / (2 * h) == pytest.approx(v, rel=1e-4, abs=1e-7)
        assert (motion(piece, t + h)[1] - motion(piece, t - h)[1]) / (2 * h) == pytest.approx(a, rel=1e-3, abs=1e-5)


def test_no_limit_is_the_limit_of_high_limits() -> None:
    none = contact(leaf(drive__push_limit=None, drive__lift_limit=None))
    high = contact(leaf(drive__push_limit=1e6, drive__lift_limit=1e6))
    assert none.peak_force == high.peak_force
    assert none.drive_slips == 0


@pytest.mark.parametrize(
    ("ends", "expected"),
    [
        ((1, 0, 0, 1, 0, 0), 1),
        ((-1, 0, 0, -1, 0, 0), -1),
        ((1, -2, 0, -1, -2, 0), 2),
        ((-1, 2, 0, 1, 2, 0), 3),
        ((0.01, -2, 30, 0.01, 2, 30), 0),
    ],
)
def test_a_step_is_accepted_only_where_its_direction_is_proven(ends: tuple[float, ...], expected: int) -> None:
    d0, dd0, ddd0, d1, dd1, ddd1 = ends
    assert trend(d0, dd0, ddd0, d1, dd1, ddd1, 1.0, 0.1, 0.1) == expected


# What doors do.


def test_a_leaf_without_an_edge_never_stops_by_itself() -> None:
    found = contact(leaf(edge=None))
    assert found.actuation_time is None
    assert found.contact_duration is None
    assert found.peak_edge_travel == 0.0
    assert found.end_force > 150.0
    assert any("never stops" in each for each in found.assumptions)


def test_a_dead_edge_is_soft_and_never_answers() -> None:
    dead, none = contact(leaf(edge__actuation_travel=None)), contact(leaf(edge=None))
    assert dead.actuation_time is None
    assert dead.contact_duration is None
    assert dead.time_above_150 < none.time_above_150


def test_only_the_first_answer_stops_the_drive() -> None:
    found = contact(leaf(stop__dwell=0.0))
    assert found.actuation_time == pytest.approx((0.008 + 35 / 25e3) / 0.25, rel=0.01)  # hardly slowed yet
    assert found.contact_duration is not None


def test_a_slower_control_presses_harder() -> None:
    assert contact(leaf(stop__reaction=0.15)).peak_force > contact(leaf()).peak_force


def test_a_rigid_drive_needs_no_limit_to_stop_the_leaf() -> None:
    found = contact(leaf(drive=Drive(stiffness=None)))
    way = 0.25 * (found.actuation_time + 0.1) + 0.25**2 / 5.0  # type: ignore[operator]
    assert found.peak_force == pytest.approx(trace_force(leaf(), way), rel=1e-9)
    assert found.drive_slips == 0


def test_a_rigid_drive_that_cannot_hold_back_lets_the_leaf_run_on() -> None:
    firm = contact(leaf(drive=Drive(stiffness=None), moving_mass=2000.0))
    weak = contact(leaf(drive=Drive(stiffness=None, lift_limit=100.0), moving_mass=2000.0))
    assert weak.peak_force > firm.peak_force
    assert weak.drive_slips >= 1
    assert any("given way" in each for each in weak.assumptions)


@pytest.mark.parametrize("push", [300.0, 700.0, 1200.0])
@pytest.mark.parametrize("mass", [120.0, 330.0])
def test_a_rigid_drive_that_gives_way_is_the_limit_of_a_very_stiff_damped_one(push: float, mass: float) -> None:
    """The model's own limit: stiffness to infinity, damped so that the leaf is caught where it was left."""
    firm = contact(leaf(drive=Drive(stiffness=None, push_limit=push), moving_mass=mass))
    stiff = contact(leaf(drive=Drive(stiffness=1e9, damping=1e6, push_limit=push), moving_mass=mass))
    for name in ("peak_force", "time_above_150", "time_above_25", "lasting_force", "contact_duration"):
        assert getattr(firm, name) == pytest.approx(getattr(stiff, name), rel=2e-3, abs=2e-3), name


def trace_force(case: ContactCase, depth: float) -> float:
    """The law of contact by hand: 25 kN/m behind the curve of the edge."""
    give = 1 / 25e3
    rows = [(travel + force * give, force) for travel, force in CURVE]
    end = (rows[-1][0] + 1.0, rows[-1][1] + 1.0 / (1 / 200e3 + give))
    for (a, fa), (b, fb) in zip([*rows, end], [*rows[1:], end], strict=False):
        if a <= depth <= b:
            return fa + (fb - fa) * (depth - a) / (b - a)
    raise AssertionError(depth)


def test_the_lasting_force_begins_after_the_dynamic_period() -> None:
    resting = contact(leaf(stop__dwell=3.0))
    assert 150.0 < resting.lasting_force < resting.peak_force
    assert contact(leaf(stop__dwell=0.0, stop__opening_speed=0.4)).lasting_force == 0.0


def test_a_contact_cut_short_is_still_touching() -> None:
    found = contact(leaf(duration=0.3))
    assert found.contact_duration is None
    assert found.end_force > 25.0
    assert found.lasting_force == 0.0


def test_the_trace_tells_the_same_story() -> None:
    found = contact(leaf(trace=True))
    assert found.trace is not None
    times, forces = found.trace.time, found.trace.force
    assert max(forces) == pytest.approx(found.peak_force, rel=1e-12)
    assert times[forces.index(max(forces))] == pytest.approx(found.peak_time, abs=1e-12)
    assert list(times) == sorted(set(times))
    assert times[-1] == 6.0
    above = sum(
        b - a for a, b, f, g in zip(times, times[1:], forces, forces[1:], strict=False) if min(f, g) >= 150.0
    )
    assert above == pytest.approx(found.time_above_150, abs=5e-3)
    assert contact(leaf()).trace is None


def test_a_leaf_may_touch_again_and_that_counts() -> None:
    """A light leaf on a soft drive bounces off a stiff gauge; the contact ends with its last separation."""
    soft = Drive(stiffness=20e3, damping=5.0, push_limit=300.0)
    bouncing = leaf(edge=None, moving_mass=60.0, drive=soft, obstruction__stiffness=500e3, duration=0.5)
    found = contact(replace(bouncing, trace=True))
    trace = found.trace
    assert trace is not None
    starts = [t for t, f, g in zip(trace.time, trace.force, trace.force[1:], strict=False) if f < 1e-6 < g]
    ends = [t for t, f, g in zip(trace.time[1:], trace.force, trace.force[1:], strict=False) if f > 1e-6 > g]
    assert len(starts) > 1
    assert found.contact_duration == (pytest.approx(ends[-1], abs=1e-9) if trace.force[-1] < 1e-6 else None)


def test_a_leaf_that_comes_back_while_the_drive_opens_presses_hardest_the_second_time(verify: Any) -> None:
    """A heavy leaf on a weak drive: a loop that ends at the first separation under way misses the peak."""
    case = ContactCase(
        closing_speed=0.3656131246547223,
        moving_mass=333.79335255640774,
        drive=Drive(stiffness=12558.763926593987, damping=131.2758077878409, push_limit=300.0, lift_limit=200.0),
        stop=Stop(
            reaction=0.13456087647635856,
            deceleration=2.15000547805319,
            dwell=0.34293349041677335,
            opening_acceleration=1.9434627427515725,
            opening_speed=0.1278989134953795,
        ),
        edge=Edge(
            curve=(
                (0.0, 0.0),
                (0.011059553594653503, 19.001535030799527),
                (0.023307220512381495, 55.2246498493672),
                (0.030008407052889007, 286.2417096751531),
            ),
            actuation_travel=0.015114604806398344,
            response=0.0475315531562723,
            end_stiffness=222841.9584588798,
        ),
        obstruction=Obstruction(stiffness=500e3),
        duration=4.0,
    )
    found = contact(case)
    assert found.peak_time > 1.0  # the first peak is at about 0.1 s
    agree(case, verify, "peak force, second touch")


# What is refused.


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: leaf(edge=None, obstruction=Obstruction(stiffness=None)), "rigid obstruction"),
        (lambda: leaf(edge__curve=((0, 1), (0.01, 20))), "\\[0, 0\\] is accepted"),
        (lambda: leaf(edge__curve=((0, 0), (0.01, 20), (0.01, 30))), "must both rise"),
        (lambda: leaf(edge__curve=((0, 0), (0.01, 20), (0.02, 20))), "must both rise"),
        (lambda: leaf(edge__curve=((0, 0),)), "2 to 64"),
        (lambda: leaf(edge__curve=(0, 1)), "pairs"),
        (lambda: leaf(edge__curve=((0, 0), (nan, 20))), "must both rise"),
        (lambda: leaf(edge__curve=((0, 0), (0.1, inf))), "not a finite number"),
        (lambda: leaf(moving_mass=0.0), "above 0 kg"),
        (lambda: Obstruction(stiffness=5e-324), "at least 0.001 N/m"),
        (lambda: leaf(edge__end_stiffness=1e-310), "at least 0.001 N/m"),
        (lambda: leaf(closing_speed=nan), "closing_speed"),
        (lambda: leaf(duration=inf), "duration"),
        (lambda: leaf(drive__push_limit=-1.0), "push_limit"),
        (lambda: leaf(edge__actuation_travel=0.0), "actuation_travel"),
        (lambda: leaf(drive={"stiffness": 1e4}), "not a Drive"),
        (lambda: leaf(edge=Stop(**dict.fromkeys(STOP, 1.0))), "not a Edge"),
    ],
)
def test_what_no_door_can_be_is_refused_with_what_would_be_right(make: Any, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        make()


STOP = ("reaction", "deceleration", "dwell", "opening_acceleration", "opening_speed")


def test_a_curve_may_come_as_lists() -> None:
    edge = Edge(curve=[[0, 0], [0.01, 40]], actuation_travel=0.01, response=0.0, end_stiffness=1e5)  # type: ignore[arg-type]
    assert edge.curve == ((0.0, 0.0), (0.01, 40.0))
    assert contact(leaf(edge=edge)).actuation_time is not None


def test_the_results_are_the_same_with_and_without_the_record() -> None:
    for case in (leaf(), leaf(drive=Drive(stiffness=60e3, push_limit=300.0)), leaf(edge=None)):
        bare, traced = contact(case), contact(replace(case, trace=True))
        assert replace(traced, trace=None, case=case) == bare
