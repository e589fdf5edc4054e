"""The order in whole numbers: lengths and costs as multiples of the greatest unit that divides them all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd
from typing import TYPE_CHECKING

from sillwright.takeoff.cutting.grid import exact_grid

if TYPE_CHECKING:
    from sillwright.takeoff.cutting.kernel import Ints

FINEST = 10**9
"""Nothing is told apart below a billionth: of a metre, and of the unit of cost."""
PLAY = 100
"""So many nanometres a bar may be overfull: what round-off of a hundred pieces comes to; no saw sees it."""
CELLS = 200_000
"""Longest bar in units for which lengths stay exact; beyond, they are rounded to the safe side."""


@dataclass(frozen=True, kw_only=True)
class Problem:
    """Pieces by width, longest first, each with its saw cut, and stocks by the room they give."""

    widths: tuple[int, ...]
    counts: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    limits: tuple[int, ...]  # −1: as many as wanted
    members: tuple[tuple[int, ...], ...] = ()  # the pieces of each width, by their place in the order

    @property
    def need(self) -> int:
        """The sum of all widths."""
        return sum(width * count for width, count in zip(self.widths, self.counts, strict=True))

    @cached_property
    def arrays(self) -> tuple[Ints, Ints, Ints, Ints, Ints]:
        """Widths, counts, rooms, costs and limits for the kernels."""
        import numpy as np

        rows = (self.widths, self.counts, self.rooms, self.costs, self.limits)
        widths, counts, rooms, costs, limits = (np.array(row, np.int64) for row in rows)
        return widths, counts, rooms, costs, limits

    def coarser(self, cells: int) -> Problem:
        """The same with bars of at most so many units: every pattern of this one lies in a bar of that one too."""
        unit = -(-max(self.rooms) // cells)
        if unit <= 1:
            return self
        wide = [width // unit for width, count in zip(self.widths, self.counts, strict=True) for _ in range(count)]
        rooms = tuple(room // unit for room in self.rooms)
        return _grouped(wide, rooms=rooms, costs=self.costs, limits=self.limits)


@dataclass(frozen=True, kw_only=True)
class Whole:
    """An order in whole numbers, and what turns them back.

    ``problem`` never overfills a bar. ``relaxed`` never asks for more than the order does, so that its bound holds;
    the two are one unless lengths had to be rounded.
    """

    problem: Problem
    relaxed: Problem
    cost_unit: int  # billionths

    def money(self, cost: int) -> float:
        """A cost as it was given."""
        return cost * self.cost_unit / FINEST


def whole(
    pieces: Sequence[float],
    usable: Sequence[float],
    costs: Sequence[float],
    limits: Sequence[int | None],
    kerf: float = 0.0,
) -> Whole:
    """An order of pieces and of stocks (what a bar gives without its trim, cost, number or None), in whole numbers.

    >>> found = whole([1.5, 1.0, 1.5], [3.0], [3.0], [None], 0.003)
    >>> found.problem.widths, found.problem.counts, found.problem.rooms, found.problem.costs
    ((3, 2), (2, 1), (5,), (1,))
    """
    lengths = _merged([round(each * FINEST) for each in pieces])
    saw = round(kerf * FINEST)
    gives = [max(0, round(each * FINEST)) + PLAY for each in usable]
    money = [round(each * FINEST) for each in costs]
    cost_unit = gcd(*money)
    shared = {
        "costs": tuple(each // cost_unit for each in money),
        "limits": tuple(-1 if each is None or each >= len(pieces) else each for each in limits),
    }
    grid = exact_grid(lengths, saw, gives, CELLS)
    if grid is not None:
        problem = _grouped([grid.width(each) for each in lengths], rooms=grid.rooms, **shared)
        return Whole(problem=problem, relaxed=problem, cost_unit=cost_unit)
    unit = -(-(max(gives) + saw) // CELLS)
    rooms = tuple((each + saw) // unit for each in gives)
    problem = _grouped([-(-(each + saw) // unit) for each in lengths], rooms=rooms, **shared)
    relaxed = _grouped([(each + saw) // unit for each in lengths], rooms=rooms, **shared)
    return Whole(problem=problem, relaxed=relaxed, cost_unit=cost_unit)


def _merged(widths: Sequence[int]) -> list[int]:
    """Widths no more than a nanometre apart are one."""
    same: dict[int, int] = {}
    kept = 0
    for each in sorted(set(widths)):
        kept = kept if 0 < each - kept <= 1 else each
        same[each] = kept
    return [same[each] for each in widths]


def _grouped(
    widths: Sequence[int], *, rooms: tuple[int, ...], costs: tuple[int, ...], limits: tuple[int, ...]
) -> Problem:
    members: dict[int, list[int]] = {}
    for place, width in enumerate(widths):
        members.setdefault(width, []).append(place)
    ordered = sorted(members, reverse=True)
    return Problem(
        widths=tuple(ordered),
        counts=tuple(len(members[each]) for each in ordered),
        rooms=rooms,
        costs=costs,
        limits=limits,
        members=tuple(tuple(members[each]) for each in ordered),
    )
