"""A bound that holds: the linear relaxation's prices, made whole and checked by a knapsack in whole numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sillwright.takeoff.cutting.problem import Problem

if TYPE_CHECKING:
    from sillwright.takeoff.cutting.columns_kernel import Floats
    from sillwright.takeoff.cutting.kernel import Ints

KINDS = 400
"""Widths beyond which the relaxation is left alone."""
TABLE, LEAST_CELLS = 700_000, 3_100
"""Cells of the knapsack beyond which a coarser grid is bounded, and the coarsest; some hundred of them a second."""
EXACT = 2.0**52
"""Whole numbers below it are exact as floats."""


@dataclass(frozen=True, kw_only=True)
class Relaxation:
    """The linear relaxation: its patterns, how often each is used, and whole prices that prove a bound.

    A piece of each width is worth ``worth``, one more of each stock ``rent``, a unit of cost ``scale``: no pattern
    is worth more than its stock costs and rents.
    """

    patterns: Floats
    of: Ints
    used: Floats
    worth: Floats
    rent: Floats
    scale: float
    bound: float  # in units of cost

    def usage(self, stocks: int) -> list[float]:
        """How many bars of each stock the relaxation uses."""
        return [float(self.used[self.of == k].sum()) for k in range(stocks)]


def affordable(problem: Problem, effort: int) -> Problem | None:
    """The problem to bound: itself, a coarser one where its grid is fine, None where it has too many widths."""
    if len(problem.widths) > KINDS * effort:
        return None
    layers = sum(min(c, max(problem.rooms) // w).bit_length() for w, c in _kinds(problem))
    found = problem.coarser(max(LEAST_CELLS, TABLE * effort // layers))
    return found if min(found.widths) > 0 else None


def _kinds(problem: Problem) -> list[tuple[int, int]]:
    return list(zip(problem.widths, problem.counts, strict=True))


def relax(problem: Problem, known: Sequence[tuple[Ints, Ints]], pivots: int) -> Relaxation:
    """The linear relaxation and its proven bound, starting from the patterns of some cuttings."""
    import numpy as np

    from sillwright.takeoff.cutting.columns_kernel import generate

    bars = ((int(k), row) for of, patterns in known for k, row in zip(of, patterns, strict=True))
    start = {(k, row.tobytes()): (k, row) for k, row in bars}.values()
    columns, of = np.zeros((len(start) + pivots, len(problem.widths))), np.zeros(len(start) + pivots, np.int64)
    for at, (stock, pattern) in enumerate(start):
        columns[at], of[at] = pattern, stock
    many, used, worth, rent = generate(*problem.arrays, columns, of, len(start), pivots)
    prices, rents, scale, bound = _whole_prices(problem, worth, rent)
    return Relaxation(
        patterns=columns[:many], of=of[:many], used=used, worth=prices, rent=rents, scale=scale, bound=bound
    )


def _whole_prices(problem: Problem, worth: Floats, rent: Floats) -> tuple[Floats, Floats, float, float]:
    """Prices as whole numbers, lowered until no pattern is worth more than it costs; scale; bound."""
    import numpy as np

    from sillwright.takeoff.cutting.columns_kernel import climb, ladder_for

    widths, counts, rooms, costs, limits = problem.arrays
    dearest = float(max(costs.max(), rent.max(initial=0.0), 1.0)) * 4
    scale = 2.0 ** int(np.log2(EXACT / dearest / max(1, rooms.max() // widths.min())))
    rents = np.ceil(rent * scale)
    full = costs * scale + rents
    ladder, shrink = ladder_for(widths, counts, rooms.max()), 1.0
    prices = np.floor(worth * scale)
    while (most := ladder[0][climb(widths, counts, prices, ladder), rooms] / full).max() > 1.0:
        shrink /= float(most.max()) * (1 + 1e-12)
        prices = np.floor(worth * scale * shrink)
    total = sum(int(price) * int(count) for price, count in zip(prices, counts, strict=True))
    total -= sum(int(each) * max(int(limit), 0) for each, limit in zip(rents, limits, strict=True))
    return prices, rents, scale, total / scale
