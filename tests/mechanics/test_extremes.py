"""Cases at the ends of every range: each comes to an end, followed or refused, and quickly."""

from __future__ import annotations

import random
from dataclasses import replace
from math import inf, isnan, nan

import numpy as np
import pytest

from sillwright.base.errors import OutOfRange
from sillwright.mechanics import ContactCase, Drive, Obstruction, contact, contact_batch
from sillwright.mechanics._exact import MOST_STEPS
from sillwright.mechanics._row import curve_of, numbers_of, solved

from ..long import cases
from .leaves import leaf

PUSH = Drive(stiffness=60e3, damping=200.0, push_limit=500.0, lift_limit=900.0)
Row = tuple[list[float], list[float], list[float]]


def extreme(dice: random.Random) -> Row:
    """A row of numbers from the whole of what the models accept, zeros and limits included."""

    def between(low: float, high: float) -> float:
        return low * (high / low) ** dice.random()

    rigid = dice.random() < 0.12
    points = dice.choice([0, 2, 3, 4, 6])
    travel, force = [0.0], [0.0]
    for _ in range(points - 1):
        travel.append(travel[-1] + between(1e-5, 0.05))
        force.append(force[-1] + between(1e-2, 1e4))
    travel, force = (travel, force) if points else ([], [])
    answer = nan
    if points and dice.random() < 0.85:
        answer = min(0.5, dice.choice([dice.choice(travel[1:]), between(1e-4, 0.5)]))
    return (
        [
            between(1e-4, 5.0),
            between(1e-3, 5e4),
            inf if rigid else between(1.0, 1e9),
            0.0 if rigid else dice.choice([0.0, between(1e-3, 1e6)]),
            dice.choice([0.0, inf, between(1e-3, 1e6)]),
            dice.choice([0.0, inf, between(1e-3, 1e6)]),
            dice.choice([0.0, between(1e-4, 10.0)]),
            between(1e-3, 100.0),
            dice.choice([0.0, 1e-9, between(1e-4, 60.0)]),
            between(1e-3, 100.0),
            between(1e-3, 5.0),
            dice.choice([0.0, between(1e-4, 10.0)]),
            answer,
            between(1.0, 1e9),
            between(0.1, 1e9) if points == 0 or dice.random() < 0.7 else inf,
            dice.choice([6.0, between(1e-2, 60.0)]),
        ],
        travel + [nan] * (6 - len(travel)),
        force + [nan] * (6 - len(force)),
    )


def rows_of(count: int, seed: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Extreme rows for the compiled batch."""
    dice = random.Random(seed)  # noqa: S311 - test cases, not secrets
    rows = [extreme(dice) for _ in range(count)]
    numbers, travel, force = (np.array(column) for column in zip(*rows, strict=True))
    return numbers, travel, force


def run(numbers: np.ndarray, travel: np.ndarray, force: np.ndarray) -> np.ndarray:
    """The rows as the kernel gives them, with rows of NaN where a motion cannot be followed."""
    from sillwright.mechanics import kernel

    return kernel.run(numbers, travel, force, np.sum(np.isfinite(travel), axis=1))


def test_every_extreme_leaf_comes_to_an_end() -> None:
    rows = rows_of(4_000, 3)
    run(*(each[:1] for each in rows))  # compiled
    found = run(*rows)
    lost = np.isnan(found[:, 0])
    assert lost.mean() < 0.03
    assert np.all(np.isnan(found[lost]))
    assert np.all(found[~lost, 0] > 0.0)
    assert np.all(found[~lost, 0] >= found[~lost, 6] * (1 - 1e-12))


@pytest.mark.slow
@pytest.mark.long
def test_very_many_extreme_leaves_come_to_an_end() -> None:
    found = run(*rows_of(cases(10_000, 200_000), 4))
    assert np.isnan(found[:, 0]).mean() < 0.03


def test_an_extreme_leaf_alone_is_the_one_in_the_batch() -> None:
    numbers, travel, force = rows_of(60, 5)
    compiled = run(numbers, travel, force)
    for row, line in zip(zip(numbers, travel, force, strict=True), compiled, strict=True):
        curves = [[float(each) for each in column if not isnan(each)] for column in row[1:]]
        if isnan(line[0]):
            with pytest.raises(OutOfRange, match="too often to follow"):
                solved(row[0].tolist(), curves[0], curves[1], [])
        else:
            plain = solved(row[0].tolist(), curves[0], curves[1], [])[0][:10]
            np.testing.assert_allclose(line, plain, rtol=1e-9, atol=1e-12)


NASTY = {
    "nothing drives": leaf(drive=Drive(stiffness=60e3, push_limit=0.0, lift_limit=0.0)),
    "nothing drives, rigid": leaf(drive=Drive(stiffness=None, push_limit=0.0, lift_limit=0.0)),
    "answers on a point of the curve": leaf(edge__actuation_travel=0.026),
    "answers where the force is 150 N": leaf(
        edge__curve=((0, 0), (0.01, 150.0), (0.02, 500.0)), edge__actuation_travel=0.01
    ),
    "no time to rest": leaf(stop__dwell=1e-9),
    "no reaction, no response": leaf(stop__reaction=0.0, edge__response=0.0),
    "dead edge, a minute": leaf(edge__actuation_travel=None, duration=60.0),
    "soft as air": leaf(obstruction__stiffness=1e-2, duration=60.0),
    "hard as steel": leaf(obstruction__stiffness=1e9, edge__end_stiffness=1e9),
    "very stiff drive": leaf(drive=Drive(stiffness=1e9, damping=1e3, push_limit=500.0)),
    "very damped drive": leaf(drive=Drive(stiffness=6e4, damping=3e4, push_limit=500.0)),
    "critically damped drive": leaf(drive=Drive(stiffness=64e3, damping=6400.0)),
    "heavy": leaf(moving_mass=50e3, duration=60.0),
    "light": leaf(moving_mass=0.1),
    "slow as a snail": leaf(closing_speed=1e-4, duration=60.0),
    "fast": leaf(closing_speed=5.0),
    "springs back as fast as it came": leaf(
        edge=None, drive=Drive(stiffness=None, push_limit=500.0, lift_limit=900.0)
    ),
}


@pytest.mark.parametrize("case", NASTY.values(), ids=NASTY)
def test_what_is_rare_is_followed(case: ContactCase) -> None:
    found = contact(case)
    assert found.peak_force > 0.0
    assert found.peak_force >= found.lasting_force * (1 - 1e-12)
    (line,) = contact_batch([numbers_of(case)], *[[each] for each in curve_of(case)])
    assert line[0] == pytest.approx(found.peak_force, rel=1e-12)


TOO_OFTEN = leaf(edge=None, moving_mass=1e-6, drive=Drive(stiffness=1e9), obstruction__stiffness=1e9, duration=60.0)


def test_a_motion_that_changes_too_often_is_refused_and_never_followed_for_ever() -> None:
    with pytest.raises(OutOfRange, match="too often to follow"):
        contact(TOO_OFTEN)
    with pytest.raises(OutOfRange, match=r"row 1: .*too often to follow"):
        contact_batch([numbers_of(leaf(edge=None)), numbers_of(TOO_OFTEN)], [[], []], [[], []])
    assert MOST_STEPS < 100_000


@pytest.mark.parametrize(
    "case",
    [
        leaf(edge=None, drive=PUSH, obstruction=Obstruction(stiffness=500e3)),
        leaf(edge=None, drive=PUSH, moving_mass=30.0, obstruction=Obstruction(stiffness=500e3)),
        leaf(edge__actuation_travel=None, drive__push_limit=150.0, duration=12.0),
    ],
    ids=["a gauge", "a light leaf", "a dead edge"],
)
def test_whole_swings_taken_in_one_go_are_the_swings_one_by_one(case: ContactCase) -> None:
    """A drive that pushes with all it has for good: the trace follows each swing, the result alone does not."""
    once, each = contact(case), contact(replace(case, trace=True))
    for name in (
        "peak_force",
        "peak_time",
        "actuation_time",
        "contact_duration",
        "time_above_150",
        "time_above_25",
        "lasting_force",
    ):
        expected = getattr(each, name)
        assert getattr(once, name) == (None if expected is None else pytest.approx(expected, rel=1e-9)), name
    assert once.end_force == pytest.approx(each.end_force, rel=1e-6, abs=1e-6)
    assert once.drive_slips == each.drive_slips
    assert solved(numbers_of(case), *curve_of(case), [])[0][10] < 60
