"""Contact against the general-purpose solvers, interleaved in one run; ratios count, seconds do not.

Baselines: SciPy's LSODA at rtol 1e-8 with events for the same results, split at the drive's phases, its right-hand side written with
NumPy (``interp``, ``clip``) as one writes it first, and once more in bare Python; a compiled fourth-order
Runge-Kutta loop at h = 1e-4 on all cores, each case until its leaf is apart and the drive opens steadily (to the
end of the duration where the peaks are compared: a leaf may touch again). Exits with 1 where a goal is missed by
more than a factor of two. ``--all`` compares 100,000 random leaves instead of 2,000, in about a minute.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from dataclasses import replace
from math import inf, isnan
from pathlib import Path
from time import perf_counter
from typing import Any

import numba
import numpy as np
from scipy.integrate import solve_ivp

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.mechanics.by_solver import Law
from tests.mechanics.leaves import leaf, random_leaf, unlimited

from sillwright.mechanics import ContactCase, contact, contact_batch
from sillwright.mechanics._row import curve_of, numbers_of

BATCH, SLOW, ROUNDS = 100_000, 1_000, 5
GOALS = {
    "one case, plain, against LSODA": 100.0,
    "batch against a loop of LSODA": 5_000.0,
    "batch against compiled RK4 at 1e-4": 100.0,
}
WORST = 1e-9  # of the peak, against RK4 at 1e-6 on the reference leaves


def lsoda(case: ContactCase, *, bare: bool) -> float:
    """The peak force by LSODA, phase by phase."""
    law, drive, stop, edge = Law(case), case.drive, case.stop, case.edge
    assert edge is not None
    push, lift, stiff = unlimited(drive.push_limit), unlimited(drive.lift_limit), drive.stiffness or 0.0
    depths = np.array([*law.depths, law.depths[-1] + 10.0])
    forces = np.array([*law.forces, law.forces[-1] + 10.0 * law.slopes[-1]])
    speed, mass, t, u = case.closing_speed, case.moving_mass, 0.0, 0.0
    state: Any = [0.0, speed]
    peaks = []
    phases = [
        (speed, 0.0, inf),
        (speed, 0.0, edge.response + stop.reaction),
        (speed, -stop.deceleration, speed / stop.deceleration),
        (0.0, 0.0, stop.dwell),
        (0.0, -stop.opening_acceleration, stop.opening_speed / stop.opening_acceleration),
        (-stop.opening_speed, 0.0, inf),
    ]
    for number, (u1, u2, length) in enumerate(phases):

        def rates(time: float, y: Any, t: float = t, u: float = u, u1: float = u1, u2: float = u2) -> Any:
            since = time - t
            drawn = u + since * (u1 + 0.5 * since * u2)
            force = stiff * (drawn - y[0]) + drive.damping * (u1 + u2 * since - y[1])
            if bare:
                return [y[1], (min(max(force, -lift), push) - law(y[0])) / mass]
            return [y[1], (np.clip(force, -lift, push) - np.interp(y[0], depths, forces)) / mass]

        events: list[Any] = [  # what it takes to tell the same as ours: peak, separation, both times, the answer
            lambda _, y: y[1],
            lambda _, y: y[0],
            lambda _, y: law(y[0]) - 150.0,
            lambda _, y: law(y[0]) - 25.0,
            lambda _, y: y[0] - law.answer,
        ]
        events[0].direction, events[1].direction, events[4].direction = -1, -1, 1
        events[1].terminal, events[4].terminal = number == 5, True
        events = events if number == 0 else events[:4]
        if length > 0.0:
            until = min(t + length, t + 2.0)
            found = solve_ivp(rates, (t, until), state, method="LSODA", rtol=1e-8, atol=1e-11, events=events)
            peaks += [law(each[0]) for each in found.y_events[0]]
            passed = float(found.t[-1]) - t
            u, t, state = u + passed * (u1 + 0.5 * passed * u2), float(found.t[-1]), list(found.y[:, -1])
            peaks.append(law(state[0]))
    return max(peaks)


@numba.njit(nogil=True, error_model="numpy")
def law_at(y, depths, forces, last):
    if y <= 0.0:
        return 0.0
    for at in range(1, depths.shape[0]):
        if y < depths[at]:
            return forces[at - 1] + (y - depths[at - 1]) * (forces[at] - forces[at - 1]) / (
                depths[at] - depths[at - 1]
            )
    return forces[-1] + last * (y - depths[-1])


@numba.njit(nogil=True, error_model="numpy")
def pull(y, v, u, w, n, depths, forces, last):
    drive = min(max(n[2] * (u - y) + n[3] * (w - v), -n[5]), n[4])
    return (drive - law_at(y, depths, forces, last)) / n[1]


@numba.njit(nogil=True, error_model="numpy")
def runge_kutta(n, depths, forces, last, answer, h, whole):
    y, v, t, u0, w, a, began, ends, number, peak, told = 0.0, n[0], 0.0, 0.0, n[0], 0.0, 0.0, np.inf, 0, 0.0, False
    while t < n[15] and (whole or number < 4 or y > 0.0):
        s = min(h, ends - t, n[15] - t)
        x = t - began
        u1, w1 = u0 + x * (w + 0.5 * a * x), w + a * x
        x += 0.5 * s
        u2, w2 = u0 + x * (w + 0.5 * a * x), w + a * x
        x += 0.5 * s
        u3, w3 = u0 + x * (w + 0.5 * a * x), w + a * x
        a1 = pull(y, v, u1, w1, n, depths, forces, last)
        a2 = pull(y + 0.5 * s * v, v + 0.5 * s * a1, u2, w2, n, depths, forces, last)
        a3 = pull(y + 0.5 * s * (v + 0.5 * s * a1), v + 0.5 * s * a2, u2, w2, n, depths, forces, last)
        a4 = pull(y + s * (v + 0.5 * s * a2), v + s * a3, u3, w3, n, depths, forces, last)
        y1, v1 = y + s * v + s * s / 6.0 * (a1 + a2 + a3), v + s / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4)
        if not told and y1 >= answer:
            told, part = True, 1.0
            for _ in range(4):  # Newton on the cubic through the step
                q = part * s
                place = y + q * (v + q * (0.5 * a1 + q * (a4 - a1) / (6.0 * s)))
                part -= (place - answer) / (v + q * (a1 + q * (a4 - a1) / (2.0 * s))) / s
            ends = max(t + part * s + n[6] + n[11], t + s)
        if v > 0.0 >= v1:
            q = v / (v - v1) * s
            for _ in range(4):
                q -= (v + q * (a1 + q * (a4 - a1) / (2.0 * s))) / (a1 + q * (a4 - a1) / s)
            peak = max(peak, law_at(y + q * (v + q * (0.5 * a1 + q * (a4 - a1) / (6.0 * s))), depths, forces, last))
        peak = max(peak, law_at(y1, depths, forces, last))
        y, v, t = y1, v1, t + s
        if t >= ends - 1e-12:
            length = ends - began
            u0 += length * (w + 0.5 * a * length)
            began = t = ends
            number += 1
            if number == 1:
                w, a, ends = n[0], -n[7], t + n[0] / n[7]
            elif number == 2:
                w, a, ends = 0.0, 0.0, t + n[8]
            elif number == 3:
                w, a, ends = 0.0, -n[9], t + n[10] / n[9]
            else:
                w, a, ends = -n[10], 0.0, np.inf
    return peak


@numba.njit(parallel=True, nogil=True, error_model="numpy")
def runge_kutta_batch(rows, depths, forces, last, answers, h, whole=False):
    peaks = np.empty(rows.shape[0])
    for at in numba.prange(rows.shape[0]):
        peaks[at] = runge_kutta(rows[at], depths[at], forces[at], last[at], answers[at], h, whole)
    return peaks


def as_arrays(cases: list[ContactCase]) -> tuple[Any, ...]:
    """What the Runge-Kutta loop takes."""
    laws = [Law(case) for case in cases]
    return (
        np.array([numbers_of(case) for case in cases]),
        np.array([law.depths for law in laws]),
        np.array([law.forces for law in laws]),
        np.array([law.slopes[-1] for law in laws]),
        np.array([law.answer for law in laws]),
    )


def with_tolerances(case: ContactCase, dice: random.Random) -> ContactCase:
    """The leaf as it may really be: everything within a tenth."""

    def near(value: float) -> float:
        return value * dice.uniform(0.9, 1.1)

    assert case.edge is not None
    hardness = near(1.0)
    return replace(
        case,
        closing_speed=near(case.closing_speed),
        moving_mass=near(case.moving_mass),
        drive=replace(case.drive, stiffness=near(case.drive.stiffness or 0.0), damping=near(case.drive.damping)),
        stop=replace(case.stop, reaction=near(case.stop.reaction), deceleration=near(case.stop.deceleration)),
        edge=replace(case.edge, curve=tuple((travel, force * hardness) for travel, force in case.edge.curve)),
    )


def timed(work: Callable[[], Any]) -> float:
    start = perf_counter()
    work()
    return perf_counter() - start


def main() -> int:
    dice = random.Random(1)  # noqa: S311 - leaves, not secrets
    few = [with_tolerances(leaf(), dice) for _ in range(SLOW)]
    rows, depths, forces, last, answers = as_arrays(few)
    many = np.tile(rows, (BATCH // SLOW, 1))
    many[:, 1] *= np.random.default_rng(1).uniform(0.9, 1.1, BATCH)
    curves = [np.tile(np.array([curve_of(case)[at] for case in few]), (BATCH // SLOW, 1)) for at in (0, 1)]
    contact_batch(many[:64], curves[0][:64], curves[1][:64])
    runge_kutta_batch(rows[:8], depths[:8], forces[:8], last[:8], answers[:8], 1e-3)
    best: dict[str, float] = {}

    def keep(name: str, seconds: float) -> None:
        best[name] = min(best.get(name, inf), seconds)

    for _ in range(ROUNDS):
        keep("plain", timed(lambda: [contact(case) for case in few[:100]]) / 100)
        keep("lsoda", timed(lambda: [lsoda(case, bare=False) for case in few[:5]]) / 5)
        keep("lsoda bare", timed(lambda: [lsoda(case, bare=True) for case in few[:5]]) / 5)
        keep("batch", timed(lambda: contact_batch(many, *curves)) / BATCH)
        keep("rk4", timed(lambda: runge_kutta_batch(rows, depths, forces, last, answers, 1e-4)) / SLOW)
    for name, seconds in best.items():
        print(f"{name:12} {seconds * 1e6:12.2f} µs a case")
    ratios = {
        "one case, plain, against LSODA": best["lsoda"] / best["plain"],
        "batch against a loop of LSODA": best["lsoda"] / best["batch"],
        "batch against compiled RK4 at 1e-4": best["rk4"] / best["batch"],
    }
    print(f"one case, plain, against LSODA with a bare right-hand side: {best['lsoda bare'] / best['plain']:.0f} x")
    print(f"batch against LSODA with a bare right-hand side: {best['lsoda bare'] / best['batch']:.0f} x")
    missed = False
    for name, ratio in ratios.items():
        print(f"{name}: {ratio:.0f} x, goal {GOALS[name]:.0f} x")
        missed |= ratio < GOALS[name] / 2
    return int(accuracy(few, dice, 100_000 if "--all" in sys.argv else 2_000) or missed)


def accuracy(few: list[ContactCase], dice: random.Random, count: int) -> bool:
    """The worst error of the peak: leaves with tolerances, and random ones, half of them with hard limits."""
    worst = 0.0
    some = few[:16]
    exact = np.array([contact(case).peak_force for case in some])
    for h in (1e-4, 1e-5, 1e-6):
        worst = float(np.max(np.abs(runge_kutta_batch(*as_arrays(some), h) / exact - 1)))
        print(f"peak against RK4 at {h:g}, 16 leaves: worst {worst:.1e}")
    others = [random_leaf(dice) for _ in range(count)]
    arrays = as_arrays(others)
    found = contact_batch(arrays[0], *[[curve_of(case)[at] for case in others] for at in (0, 1)])
    assert not any(isnan(each) for each in found[:, 0])
    errors = np.abs(found[:, 0] / runge_kutta_batch(*arrays, 1e-4) - 1)
    for h, doubt, most in ((1e-5, 1e-7, 2_000), (1e-6, 1e-7, 50)):
        again = np.flatnonzero(errors > doubt)
        again = again[np.argsort(-errors[again])][:most]
        if again.size:
            errors[again] = np.abs(
                found[again, 0] / runge_kutta_batch(*(each[again] for each in arrays), h, True) - 1
            )
            print(f"  {again.size} of {count} again at {h:g}, to the end of the duration")
    off = int(np.sum(errors > 1e-6))
    print(f"{count} random leaves, half with hard limits: {off} off by more than 1e-6, worst {errors.max():.1e}")
    return worst > WORST or off > 0


if __name__ == "__main__":
    sys.exit(main())
