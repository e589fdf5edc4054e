"""Floors for tests, in inches as they are read, and what a strip is by trying everything."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations, pairwise
from typing import Any

from sillwright.takeoff import FloorCase
from sillwright.takeoff.floors.floor_model import FloorProfile, Stretch

INCH = 0.0254
FOOT = 12 * INCH

BARE = FloorProfile(name="bare", height=1.75 * INCH, actuation_travel=3 / 16 * INCH)
FINNED = FloorProfile(name="finned", height=1.75 * INCH, actuation_travel=3 / 16 * INCH, fin=0.75 * INCH)


def gaps(*inches: float, every: float = 12.0) -> tuple[tuple[float, float], ...]:
    """Gaps below a level in inches, every so many inches from the left jamb, in metres."""
    return tuple((at * every * INCH, gap * INCH) for at, gap in enumerate(inches))


def case(*inches: float, every: float = 12.0, **given: Any) -> FloorCase:
    """A floor read with a level, from jamb to jamb."""
    points = gaps(*inches, every=every)
    facts: dict[str, Any] = {"points": points, "read_as": "gaps_below_level", "width": points[-1][0], **given}
    return FloorCase(**facts)


def strip_by_trying(points: Sequence[tuple[float, float]]) -> Fraction:
    """The narrowest strip in exact fractions: every three points of the floor, no line missed.

    The least strip is that of the worst three points (Helly): for three from left to right, half of it is how far
    the middle one lies off the chord of the outer two, so that the whole of it is that distance. Two above one
    another need their distance.
    """
    exact = sorted({(Fraction(x), Fraction(z)) for x, z in points})
    needed = [abs(z2 - z1) for (x1, z1), (x2, z2) in combinations(exact, 2) if x1 == x2]
    for (x1, z1), (x2, z2), (x3, z3) in combinations(exact, 3):
        if x1 < x2 < x3:
            needed.append(abs(z2 - z1 - (z3 - z1) * (x2 - x1) / (x3 - x1)))
    return max(needed, default=Fraction(0))


def stretches(found: Sequence[Stretch]) -> list[tuple[str, float, float, float]]:
    """What is done where, in inches."""
    return [
        (each.work, round(each.start / INCH, 6), round(each.end / INCH, 6), round(each.most / INCH, 6))
        for each in found
    ]


def rising(points: Sequence[tuple[float, float]]) -> bool:
    """Whether places rise from left to right."""
    return all(one[0] <= other[0] for one, other in pairwise(points))
