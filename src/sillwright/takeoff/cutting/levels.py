"""Costs that can occur at all, and the mixes of stock that come to one of them: the bound by length alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd
from typing import TYPE_CHECKING

from sillwright.takeoff.cutting.problem import Problem

if TYPE_CHECKING:
    from sillwright.takeoff.cutting.kernel import Ints

LOOKED_AT = 400
"""Mixes of one cost, at most, among which some are chosen."""
CELLS = 4_000_000
"""Costs times stocks, at most, for which the table is made."""


@dataclass(frozen=True, kw_only=True)
class Levels:
    """What length the stocks give for each cost.

    ``exactly[k][c]`` is the most that stocks from number ``k`` (in ``order``, longest first) on give for exactly
    ``c`` units of cost, below 0 where no mix costs that. Without a table every cost counts as possible.
    """

    problem: Problem
    unit: int
    order: tuple[int, ...]
    exactly: tuple[Ints, ...]
    reach: Ints  # the most for at most so many units of cost; empty without a table

    def up(self, cost: float) -> int:
        """The least cost from ``cost`` on at which the stocks give enough length; the greatest known one else."""
        import numpy as np

        start = max(0, -int(-cost // self.unit))
        if not len(self.reach):
            return start * self.unit
        enough = np.flatnonzero(self.exactly[0][start:] >= self.problem.need)
        return (start + int(enough[0])) * self.unit if len(enough) else len(self.reach) * self.unit

    def mixes(self, cost: int, most: int, near: Sequence[float] | None = None) -> list[tuple[int, ...]]:
        """Numbers of each stock that cost exactly this and give enough length.

        Those nearest to a usage where one is given; else from the fewest bars on, ever farther apart: more bars
        have more ends, where a saw cut is saved.
        """
        if not len(self.reach) or cost % self.unit or cost // self.unit >= len(self.reach):
            return []
        found: list[tuple[int, ...]] = []
        self._collect(0, cost // self.unit, self.problem.need, (), found, LOOKED_AT)
        if near is not None:
            found.sort(key=lambda mix: sum(abs(one - other) for one, other in zip(mix, near, strict=True)))
            return found[:most]
        found.sort(key=sum)
        chosen = dict.fromkeys(at * at * len(found) // (most * most) for at in range(most))
        return [found[at] for at in chosen] if found else []

    def _collect(
        self, at: int, cost: int, need: int, mix: tuple[int, ...], found: list[tuple[int, ...]], most: int
    ) -> None:
        if len(found) >= most or self.exactly[at][cost] < max(need, 0):
            return
        if at == len(self.order):
            by_stock = dict(zip(self.order, mix, strict=True))
            found.append(tuple(by_stock[k] for k in range(len(mix))))
            return
        k = self.order[at]
        price, limit = self.problem.costs[k] // self.unit, self.problem.limits[k]
        for number in range(min(cost // price, limit if limit >= 0 else cost), -1, -1):
            rest = need - number * self.problem.rooms[k]
            self._collect(at + 1, cost - number * price, rest, (*mix, number), found, most)


def levels_of(problem: Problem, most: int) -> Levels:
    """The table up to a cost."""
    import numpy as np

    unit = gcd(*problem.costs)
    order = tuple(sorted(range(len(problem.rooms)), key=lambda k: -problem.rooms[k]))
    size = most // unit + 1
    if size * (len(order) + 1) > CELLS:
        return Levels(problem=problem, unit=unit, order=order, exactly=(), reach=np.zeros(0, np.int64))
    row = np.full(size, -1, np.int64)
    row[0] = 0
    rows = [row]
    for k in reversed(order):
        row = row.copy()
        price, room = problem.costs[k] // unit, problem.rooms[k]
        left, several = (size - 1) // price, 1
        if problem.limits[k] >= 0:
            left = min(left, problem.limits[k])
        while left > 0:
            several = min(several, left)
            with_them = row[: size - price * several] + room * several
            with_them[row[: size - price * several] < 0] = -1
            row[price * several :] = np.maximum(row[price * several :], with_them)
            left -= several
            several *= 2
        rows.append(row)
    rows.reverse()
    return Levels(
        problem=problem, unit=unit, order=order, exactly=tuple(rows), reach=np.maximum.accumulate(rows[0])
    )
