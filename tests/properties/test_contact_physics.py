"""What no leaf can escape: energy, the dimensions of its quantities, and its compiled copy."""

from __future__ import annotations

import random
from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.mechanics import ContactCase, Drive, Edge, Obstruction, Stop, contact, contact_batch
from sillwright.mechanics._row import curve_of, numbers_of, solved
from tests.mechanics.leaves import random_leaf

leaves = st.integers(0, 2**32).map(lambda seed: random_leaf(random.Random(seed)))  # noqa: S311
factors = st.floats(0.5, 2.0)


def scaled(case: ContactCase, mass: float, length: float, time: float) -> ContactCase:
    """The same leaf in other units of mass, length and time."""
    force = mass * length / time**2

    def times(value: float | None, factor: float) -> float | None:
        return None if value is None else value * factor

    drive, stop, edge = case.drive, case.stop, case.edge
    assert edge is not None
    return ContactCase(
        closing_speed=case.closing_speed * length / time,
        moving_mass=case.moving_mass * mass,
        drive=Drive(
            stiffness=times(drive.stiffness, force / length),
            damping=drive.damping * mass / time,
            push_limit=times(drive.push_limit, force),
            lift_limit=times(drive.lift_limit, force),
        ),
        stop=Stop(
            reaction=stop.reaction * time,
            deceleration=stop.deceleration * length / time**2,
            dwell=stop.dwell * time,
            opening_acceleration=stop.opening_acceleration * length / time**2,
            opening_speed=stop.opening_speed * length / time,
        ),
        edge=Edge(
            curve=tuple((travel * length, load * force) for travel, load in edge.curve),
            actuation_travel=times(edge.actuation_travel, length),
            response=edge.response * time,
            end_stiffness=edge.end_stiffness * force / length,
        ),
        obstruction=Obstruction(stiffness=times(case.obstruction.stiffness, force / length)),
        duration=case.duration * time,
    )


@given(leaves, factors, factors, factors)
def test_a_leaf_presses_the_same_in_all_units(case: ContactCase, mass: float, length: float, time: float) -> None:
    one, other = contact(case), contact(scaled(case, mass, length, time))
    assert other.peak_force == pytest.approx(one.peak_force * mass * length / time**2, rel=1e-8)
    assert other.peak_edge_travel == pytest.approx(one.peak_edge_travel * length, rel=1e-8)
    if one.contact_duration is not None:
        assert other.contact_duration == pytest.approx(one.contact_duration * time, rel=1e-6)


@given(st.floats(20, 500), st.floats(0.05, 0.5), st.floats(1e4, 1e6), st.floats(0, 500))
def test_no_leaf_stores_more_in_a_spring_than_its_motion_and_its_push(
    mass: float, speed: float, stiffness: float, push: float
) -> None:
    stop = Stop(reaction=0, deceleration=1, dwell=0, opening_acceleration=1, opening_speed=0.1)
    drive = Drive(stiffness=50e3, damping=100.0, push_limit=push)
    case = ContactCase(
        closing_speed=speed,
        moving_mass=mass,
        drive=drive,
        stop=stop,
        edge=None,
        obstruction=Obstruction(stiffness=stiffness),
        duration=pi * sqrt(mass / stiffness),  # within the first contact, which lasts at least that long
    )
    # F²/(2k) <= m v²/2 + P F/k, whatever the drive does below its limit
    assert contact(case).peak_force <= (push + sqrt(push**2 + stiffness * mass * speed**2)) * (1 + 1e-9)


@given(leaves)
def test_a_leaf_alone_and_in_a_batch_is_the_same_leaf(case: ContactCase) -> None:
    row, (travel, force) = numbers_of(case), curve_of(case)
    plain = solved(row, travel, force, [])[0][:10]
    np.testing.assert_allclose(contact_batch([row], [travel], [force])[0], plain, rtol=1e-12, atol=1e-14)


@given(leaves)
def test_times_and_forces_are_in_their_order(case: ContactCase) -> None:
    found = contact(case)
    assert 0.0 < found.peak_time <= case.duration
    assert 0.0 <= found.time_above_150 <= found.time_above_25 <= case.duration + 1e-9
    assert 0.0 <= found.lasting_force <= found.peak_force * (1 + 1e-12)
    assert found.contact_duration is None or found.time_above_25 <= found.contact_duration + 1e-9


@given(leaves)
def test_the_answer_does_not_depend_on_how_long_one_looks_after_it(case: ContactCase) -> None:
    short, long = contact(case), contact(replace(case, duration=case.duration + 2.0))
    if short.contact_duration is not None:
        assert long.peak_force == short.peak_force
        assert long.contact_duration == pytest.approx(short.contact_duration, rel=1e-12)
