"""The coarsest grid on which every bar still holds the same pieces, whatever measure the saw cut has.

Lengths in millimetres and a saw cut of 2.9999 mm have no common measure but a ten-thousandth of a millimetre; a
search on that would step through thirty million places. A bar, however, only asks how long so many pieces may be
in all, in steps of the lengths' own measure. A coarse grid that gives the same answers for every number of pieces
holds exactly the same patterns, and what is proven on it is proven.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import gcd

TRIED = 200_000
"""Numbers of pieces that are looked at, over all grids that are tried."""


@dataclass(frozen=True, kw_only=True)
class Grid:
    """A width is ``steps`` for each unit of its length, and ``saw`` for its saw cut; a stock gives its room."""

    unit: int  # nanometres that divide every length
    steps: int
    saw: int
    rooms: tuple[int, ...]

    def width(self, length: int) -> int:
        """A length in nanometres, with its saw cut, on the grid."""
        return length // self.unit * self.steps + self.saw


@dataclass(frozen=True)
class Span:
    """So many pieces in one bar: the least they measure, the most they can, and what the bar takes, in units."""

    count: int
    least: int
    asked: int
    takes: int


def exact_grid(lengths: Sequence[int], saw: int, usable: Sequence[int], cells: int) -> Grid | None:
    """The coarsest exact grid with bars of at most ``cells`` steps; None where none was found.

    Everything is in whole nanometres: the lengths of the pieces, the saw cut, and what a bar of each stock gives
    without its trim. Pieces lie in a bar if their lengths and the saw cuts between them are no more than it gives.

    >>> exact_grid([1_500_000_000, 1_000_000_000], 2_999_900, [3_000_000_000], 200_000)
    Grid(unit=500000000, steps=1, saw=0, rooms=(5,))
    """
    unit = gcd(*lengths)
    spans = [tuple(_spans(lengths, saw, each, unit)) for each in usable]
    most = cells // max(1, max(usable) // unit)
    whole = unit // gcd(unit, saw)  # on which the saw cut is whole too
    tried = min(whole, most, TRIED // sum(map(len, spans)))
    for steps in dict.fromkeys((*range(1, tried + 1), *([whole] if whole <= most else ()))):
        below = steps * saw // unit
        for width in dict.fromkeys((below, -(-steps * saw // unit))):
            rooms = [_room(each, steps, width) for each in spans]
            if None not in rooms:
                found = tuple(each for each in rooms if each is not None)
                return Grid(unit=unit, steps=steps, saw=width, rooms=found)
    return None


def _spans(lengths: Sequence[int], saw: int, usable: int, unit: int) -> Iterator[Span]:
    """How many pieces a bar holds, and how long they may be, up to the first number that it never holds."""
    least, most = min(lengths) // unit, max(lengths) // unit
    for count in range(1, len(lengths) + 1):
        takes = (usable - (count - 1) * saw) // unit
        yield Span(count=count, least=count * least, asked=count * most, takes=takes)
        if takes < count * least:
            return


def _room(spans: Sequence[Span], steps: int, saw: int) -> int | None:
    """The least room on a grid that holds what the bar holds, and nothing else; None where there is none."""
    room, below = 0, None
    for each in spans:
        if each.takes >= each.least:
            room = max(room, steps * min(each.takes, each.asked) + each.count * saw)
        if each.takes < each.asked:
            first = steps * max(each.takes + 1, each.least) + each.count * saw
            below = first if below is None else min(below, first)
        if below is not None and room >= below:
            return None
    return room
