"""The floor: 200 points and 50 profiles, and the best line beside linear programming. Run: .venv/bin/python bench/floor.py

The peer is SciPy's ``linprog`` (HiGHS) on the same points, the two interleaved in one run; ratios count, seconds do
not. Exits with 1 where a budget is missed by more than a factor of two.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from functools import partial
from time import perf_counter

import numpy as np
from scipy.optimize import linprog

from sillwright.catalogue.profile import CurveAt
from sillwright.takeoff import FloorCase, floor
from sillwright.takeoff.floors.floor_model import FloorProfile
from sillwright.takeoff.floors.strip import Point, narrowest_strip

ROUNDS = 7
BUDGET = 0.050  # s for 200 points and 50 profiles
FASTER = 2.0  # times linear programming, for the line of 200 points
WORST = 1e-9  # m


def ground(count: int, seed: int) -> tuple[Point, ...]:
    """A floor as a laser might read it: a slope, two waves and a little noise."""
    chance = random.Random(seed)  # noqa: S311
    waves = (0.002 * np.sin(n / 9) + 0.004 * np.cos(n / 41) for n in range(count))
    return tuple((n * 0.05, float(wave) + n * 1e-5 + chance.gauss(0, 3e-4)) for n, wave in enumerate(waves))


def profiles(count: int) -> tuple[FloorProfile, ...]:
    """Invented profiles, each with a curve for the warm and one for the cold."""

    def curve(stiff: float) -> tuple[tuple[float, float], ...]:
        return tuple((0.002 * at, stiff * at * (1 + at / 20)) for at in range(12))

    return tuple(
        FloorProfile(
            name=f"profile {at}",
            height=0.03 + 0.001 * at,
            actuation_travel=0.004,
            fin=0.0005 * at,
            curves=(
                CurveAt(temperature=253.15, curve=curve(12 + at)),
                CurveAt(temperature=293.15, curve=curve(6 + at)),
            ),
        )
        for at in range(count)
    )


def by_linear_programming(points: tuple[Point, ...]) -> float:
    """The strip as twice the least greatest error of a line."""
    x, z = np.array(points).T
    ones = np.ones_like(x)
    rows = np.vstack([np.column_stack([-x, -ones, -ones]), np.column_stack([x, ones, -ones])])
    bounds = [(None, None), (None, None), (0, None)]
    found = linprog([0, 0, 1], A_ub=rows, b_ub=np.concatenate([-z, z]), bounds=bounds)
    return float(2 * found.x[2])


def seconds(run: Callable[[], object]) -> float:
    """How long one run takes."""
    start = perf_counter()
    run()
    return perf_counter() - start


def main() -> int:
    """Measure, print, judge."""
    case = FloorCase(
        points=ground(200, 1),
        read_as="heights",
        width=9.95,
        profiles=profiles(50),
        force=150.0,
        required_overtravel=0.005,
        coldest=263.15,
    )
    whole = min(seconds(lambda: floor(case)) for _ in range(ROUNDS))
    print(f"200 points, 50 profiles: {whole * 1e3:.1f} ms, budget {BUDGET * 1e3:.0f} ms")
    missed = whole > 2 * BUDGET
    for count in (20, 200, 1000):
        points = ground(count, count)
        runs: tuple[Callable[[], object], ...] = (
            partial(narrowest_strip, points),
            partial(by_linear_programming, points),
        )
        pairs = [[seconds(run) for run in runs] for _ in range(ROUNDS)]
        ours, theirs = (min(pair[at] for pair in pairs) for at in (0, 1))
        apart = abs(narrowest_strip(points).width - by_linear_programming(points))
        print(
            f"line of {count} points: {ours * 1e3:.2f} ms, linprog {theirs * 1e3:.2f} ms, "
            f"{theirs / ours:.1f} times; apart by {apart:.1e} m"
        )
        missed |= apart > WORST or (count == 200 and theirs / ours < FASTER / 2)
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
