"""Reading a floor with a level: several setups in one row, and the level's own error."""

from __future__ import annotations

from collections.abc import Sequence

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Amount, say
from sillwright.takeoff.floors.floor_table import ROUND_OFF, number
from sillwright.takeoff.floors.strip import Point

FINE = 6
"""Digits of a metre to which two stations are one place: a micrometre."""


def joined(setups: Sequence[Sequence[Point]]) -> tuple[Point, ...]:
    """The gaps of several setups of a level as one row, as if the level had never been moved.

    Parameters: setups in the order in which they were read, each a list of points [m, m]; every one shares at
    least one station with those before it. Each is moved up or down by the difference at the station they share,
    by the mean of it where they share several. Returns the points of all from left to right, each station once.

    Raises :class:`OutOfRange` where a setup shares no station with those before it, and where two stations they
    share differ by more than a reading is good to.

    >>> inches = joined([[(0, 2), (1, 4)], [(1, 6), (2, 7)]])
    >>> inches
    ((0, 2.0), (1, 4.0), (2, 5.0))

    Source: trade rules of thumb (FLOOR-4), from memory.
    """
    row: dict[float, Point] = {}
    for at, setup in enumerate(setups, start=1):
        stations = {round(x, FINE): (x, gap) for x, gap in setup}
        differences = [row[key][1] - gap for key, (_, gap) in stations.items() if key in row]
        if row and not differences:
            said = N_("setup {number}: no station of it was read from a level that stood before it")
            raise OutOfRange(say(said, number=at))
        if differences and max(differences) - min(differences) > number("reading") + ROUND_OFF:
            said = N_("setup {number}: the stations it shares differ by {length}; read them again")
            raise OutOfRange(say(said, number=at, length=Amount(max(differences) - min(differences), "m")))
        moved = sum(differences) / len(differences) if differences else 0.0
        row = {**{key: (x, gap + moved) for key, (x, gap) in stations.items()}, **row}
    return tuple(sorted(row.values()))


def level_error(one: float, turned_end_for_end: float) -> float:
    """A level's own error over its length: half of what a reading changes when it is turned end for end.

    >>> level_error(0.010, 0.007)
    0.0015

    Source: trade rules of thumb (FLOOR-5), from memory.
    """
    return (one - turned_end_for_end) / 2
