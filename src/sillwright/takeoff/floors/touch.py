"""How a straight edge lies on a floor: pressed here, off the floor there, and over which stretches.

Everything here works on points [x, y] from left to right, with straight lines between them. A straight leaf over
such a floor is pressed most, and least, at a point: looking at the points alone is exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import fsum

from sillwright.takeoff.floors.floor_table import ROUND_OFF
from sillwright.takeoff.floors.strip import Point


@dataclass(frozen=True, kw_only=True)
class Run:
    """A stretch over which something goes beyond a limit, and by how much at most."""

    start: float
    end: float
    most: float

    @property
    def length(self) -> float:
        """From end to end."""
        return self.end - self.start


def turned(points: Sequence[Point], slope: float) -> tuple[Point, ...]:
    """Heights above a line of this slope through the left jamb.

    >>> turned([(0.0, 0.0), (2.0, 1.0)], 0.5)
    ((0.0, 0.0), (2.0, 0.0))
    """
    return tuple((x, z - slope * x) for x, z in points)


def pressed(points: Sequence[Point], slope: float, at_highest: float) -> tuple[Point, ...]:
    """How far an edge is pressed at each point where it is pressed so far at the highest; less than 0 is a gap.

    >>> pressed([(0.0, 0.0), (1.0, 0.003)], 0.0, 0.004)
    ((0.0, 0.001), (1.0, 0.004))
    """
    heights = turned(points, slope) if slope else points
    top = max(z for _, z in heights)
    return tuple((x, at_highest - (top - z)) for x, z in heights)


def beyond(points: Sequence[Point], limit: float) -> tuple[Run, ...]:
    """The stretches over which a line through points lies above a limit.

    >>> beyond([(0.0, 0.0), (1.0, 2.0), (2.0, 0.0)], 1.0)
    (Run(start=0.5, end=1.5, most=1.0),)
    """
    return tuple(_runs(points, limit))


def short_of(points: Sequence[Point], limit: float) -> tuple[Run, ...]:
    """The stretches over which a line through points lies below a limit."""
    return tuple(_runs([(x, -y) for x, y in points], -limit))


def _runs(points: Sequence[Point], limit: float) -> Iterator[Run]:
    start, most = None, 0.0
    last: Point | None = None
    for x, y in points:
        over = y > limit + ROUND_OFF
        if over and start is None:
            start, most = x if last is None else _crossing(last, (x, y), limit), 0.0
        if over:
            most = max(most, y - limit)
        elif start is not None and last is not None:
            yield Run(start=start, end=_crossing(last, (x, y), limit), most=most)
            start = None
        last = x, y
    if start is not None and last is not None:
        yield Run(start=start, end=last[0], most=most)


def _crossing(one: Point, other: Point, limit: float) -> float:
    share = (limit - one[1]) / (other[1] - one[1])
    return one[0] + min(1.0, max(0.0, share)) * (other[0] - one[0])


def usual_band(points: Sequence[Point], height: float) -> tuple[float, float]:
    """The level band of a height in which most of the floor already lies: lower and upper limit.

    Each point stands for half the way to its neighbours. Where the band has room to spare it lies so that what
    sticks out on one side alone is least.

    >>> usual_band([(0.0, 0.0), (1.0, 0.0), (2.0, 5.0), (3.0, 0.0)], 1.0)
    (0.0, 1.0)
    """
    shares = _shares(points)
    ordered = sorted((z, share) for (_, z), share in zip(points, shares, strict=True))
    best, held, first = (-1.0, 0, 0), 0.0, 0
    for last, (z, share) in enumerate(ordered):
        held += share
        while ordered[first][0] < z - height - ROUND_OFF:
            held -= ordered[first][1]
            first += 1
        best = max(best, (round(held, 9), -first, last))
    low, high = ordered[-best[1]][0], ordered[best[2]][0]
    dips, humps = ordered[0][0] < low, ordered[-1][0] > high
    one_sided = low if humps else high - height
    lower = (low + high - height) / 2 if dips == humps else one_sided
    return lower, lower + height


def _shares(points: Sequence[Point]) -> list[float]:
    """The part of the sill that each point stands for."""
    ways = [after[0] - before[0] for before, after in pairwise(points)]
    return [fsum(ways[max(0, at - 1) : at + 1]) / 2 for at in range(len(points))]
