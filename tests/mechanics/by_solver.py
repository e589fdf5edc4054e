"""The contact by a general-purpose ODE solver: an independent twin that shares no code with the exact solution."""

from __future__ import annotations

from bisect import bisect_right
from itertools import pairwise
from math import inf
from typing import Any, NamedTuple

from scipy.integrate import solve_ivp

from sillwright.mechanics import ContactCase

from .leaves import unlimited


class Found(NamedTuple):
    """What the solver finds."""

    peak_force: float
    actuation_time: float | None
    contact_duration: float | None


class Law:
    """The contact force over the leaf's depth."""

    def __init__(self, case: ContactCase) -> None:
        give = 1.0 / unlimited(case.obstruction.stiffness)
        assert case.edge is not None
        curve = case.edge.curve
        self.depths = [travel + give * force for travel, force in curve]
        self.forces = [force for _, force in curve]
        rows = list(zip(self.depths, self.forces, strict=True))
        self.slopes = [(b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(rows)]
        self.slopes.append(1.0 / (1.0 / case.edge.end_stiffness + give))
        travel = case.edge.actuation_travel
        self.answer = inf
        if travel is not None:
            spots = [each for each, _ in curve]
            at = bisect_right(spots, travel) - 1
            stiff = case.edge.end_stiffness
            if at + 1 < len(curve):
                stiff = (curve[at + 1][1] - curve[at][1]) / (curve[at + 1][0] - curve[at][0])
            self.answer = travel + give * (curve[at][1] + stiff * (travel - curve[at][0]))

    def __call__(self, depth: float) -> float:
        if depth <= 0.0:
            return 0.0
        at = bisect_right(self.depths, depth) - 1
        return self.forces[at] + self.slopes[at] * (depth - self.depths[at])


def by_solver(
    case: ContactCase, *, method: str = "DOP853", rtol: float = 1e-10, atol: float = 1e-13, step: float = 4e-3
) -> Found:
    """Integrate phase by phase, with events for the answer, the turning points and the separations."""
    law, drive, stop = Law(case), case.drive, case.stop
    push, lift = unlimited(drive.push_limit), unlimited(drive.lift_limit)
    mass, stiff, damp = case.moving_mass, drive.stiffness or 0.0, drive.damping
    assert case.edge is not None
    speed = case.closing_speed
    phases = [
        (speed, 0.0, case.edge.response + stop.reaction),
        (speed, -stop.deceleration, speed / stop.deceleration),
        (0.0, 0.0, stop.dwell),
        (0.0, -stop.opening_acceleration, stop.opening_speed / stop.opening_acceleration),
        (-stop.opening_speed, 0.0, inf),
    ]
    state, t, u = [0.0, speed], 0.0, 0.0
    peaks: list[float] = []
    touches: list[tuple[float, bool]] = []
    answered: float | None = None

    def run(until: float, u1: float, u2: float, stopping: bool) -> Any:
        start, before = t, u

        def rates(time: float, y: Any) -> list[float]:
            since = time - start
            drawn = before + since * (u1 + 0.5 * since * u2)
            force = stiff * (drawn - y[0]) + damp * (u1 + u2 * since - y[1])
            return [y[1], (min(max(force, -lift), push) - law(y[0])) / mass]

        events: list[Any] = [lambda _, y: y[1], lambda _, y: y[0], lambda _, y: y[0] - law.answer]
        events[0].direction, events[1].direction, events[2].direction = -1, -1, 1
        events[2].terminal = stopping
        found = solve_ivp(
            rates, (t, until), state, method=method, rtol=rtol, atol=atol, events=events, max_step=step
        )
        peaks.extend(law(each[0]) for each in found.y_events[0])
        touches.extend((float(each), False) for each in found.t_events[1])
        return found

    found = run(case.duration, speed, 0.0, stopping=law.answer < inf)
    if found.t_events[2].size:
        answered = float(found.t[-1])
    u, t, state = speed * float(found.t[-1]), float(found.t[-1]), list(found.y[:, -1])
    for u1, u2, length in phases if answered is not None else []:
        until = min(t + length, case.duration)
        if until > t:
            found = run(until, u1, u2, stopping=False)
            state = list(found.y[:, -1])
        peaks.append(law(state[0]))
        if t + length < case.duration:
            u += length * (u1 + 0.5 * length * u2)
        t = until
    apart = touches[-1][0] if touches and state[0] <= 0.0 else None
    return Found(max([*peaks, law(state[0])]), answered, apart)
