"""An edge's curve at a temperature between those at which it was measured, and what travel it has left."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from sillwright.catalogue.profile import CurveAt
from sillwright.takeoff.floors.strip import Point

NEAR = 5.0
"""Kelvin beyond the coldest or warmest curve within which that curve is used as it stands."""


def curve_at(curves: Sequence[CurveAt], temperature: float) -> tuple[Point, ...] | None:
    """Force over travel [m, N] at a temperature [K]; None more than 5 K beyond the curves: nothing is guessed.

    Between two curves the force at each travel is interpolated straight in temperature, up to the last travel that
    both reach.

    >>> warm = CurveAt(temperature=300, curve=((0, 0), (0.01, 100)))
    >>> cold = CurveAt(temperature=260, curve=((0, 0), (0.01, 200)))
    >>> curve_at([cold, warm], 280), curve_at([cold, warm], 250)
    (((0.0, 0.0), (0.01, 150.0)), None)
    """
    if not curves or not curves[0].temperature - NEAR <= temperature <= curves[-1].temperature + NEAR:
        return None
    measured = next((each.curve for each in curves if each.temperature == temperature), None)
    if measured:
        return measured
    for cold, warm in pairwise(curves):
        if cold.temperature < temperature < warm.temperature:
            share = (temperature - cold.temperature) / (warm.temperature - cold.temperature)
            return _between(cold.curve, warm.curve, share)
    return (curves[0] if temperature < curves[0].temperature else curves[-1]).curve


def _between(cold: Sequence[Point], warm: Sequence[Point], share: float) -> tuple[Point, ...]:
    last = min(cold[-1][0], warm[-1][0])
    travels = sorted({travel for travel, _ in (*cold, *warm) if travel <= last})
    return tuple((y, (1 - share) * force_at(cold, y) + share * force_at(warm, y)) for y in travels)


def force_at(curve: Sequence[Point], travel: float) -> float:
    """The force at a travel; of the last point beyond it."""
    for (y1, f1), (y2, f2) in pairwise(curve):
        if travel <= y2:
            return f1 + (f2 - f1) * (travel - y1) / (y2 - y1)
    return curve[-1][1]


def travel_to(curve: Sequence[Point], force: float) -> float:
    """The travel at which a force is reached; all there is where it never is.

    >>> travel_to([(0.0, 0.0), (0.01, 100.0)], 50.0)
    0.005
    """
    for (y1, f1), (y2, f2) in pairwise(curve):
        if force <= f2:
            return y1 + (y2 - y1) * (force - f1) / (f2 - f1)
    return curve[-1][0]
