"""The least-cost cutting: fill, bound, repair, round, search – until cost and bound meet or the work is done.

The work is counted in tries, pivots and steps, never in time: the answer is the same everywhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sillwright.takeoff.cutting.bound import Relaxation, affordable, relax
from sillwright.takeoff.cutting.first_fit import Bars, first_fit
from sillwright.takeoff.cutting.problem import Problem
from sillwright.takeoff.cutting.standing import Standing, beginning

if TYPE_CHECKING:
    from sillwright.takeoff.cutting.kernel import Ints

ORDERS = 6  # in which bars are filled at first
FILLING = 1_000_000_000  # pieces times stocks times room, at most, for all orders but the first
QUICK, LONG, LAST = 300, 3_000, 20_000  # tries to repair a mix: before, after the relaxation, at the end
USUAL = 100  # widths; with more of them a try takes longer
FEW, MANY = 3, 6  # mixes of stock that are tried at one cost
NEXT = 4  # costs above the bound that are tried one by one
PIVOTS = 6_000
STEPS = 20_000_000  # of the exact search
WORK = 500_000_000  # of all tries and steps, about a nanosecond each
A_STEP = 80  # its work
INNER = 8  # part of the work that is left for the rest of a cutting
ROWS = 60_000  # patterns it may hold
CELLS = 8_000_000  # of its table
SHARES = (1.0, 0.75, 0.5)  # of the relaxation's bars that are kept as they are, the rest cut anew
PARTS = (0.0, 0.0625, 0.25, 1.0)  # of the gap between bound and cost, that are looked at in turn


@dataclass(frozen=True, kw_only=True)
class Solution:
    """What was found: the bars, their cost, the proven bound, and the bars of first-fit decreasing.

    Without bars, a bound above every cost means that there is no cutting; else none was found.
    """

    bars: Bars | None
    cost: int
    bound: int
    first: Bars | None


def solve(
    problem: Problem, relaxed: Problem, effort: int = 1, *, inner: bool = False, work: int | None = None
) -> Solution:
    """The cheapest cutting that the work allows, with its bound. ``inner`` is the rest of another cutting."""
    first = first_fit(problem)
    standing = beginning(problem, relaxed, first, WORK * effort if work is None else work)
    if not standing.proven:
        _fill(standing)
        _climb(standing, int(QUICK * min(1.0, USUAL / len(problem.widths)) ** 0.5) + 1, FEW, share=0.2)
    near = None
    bounded = None if standing.proven else affordable(relaxed, effort)
    if bounded is not None:
        exact = standing.exact and bounded is relaxed
        relaxation = relax(bounded, standing.known if exact else (), PIVOTS * effort)
        standing.raise_to(relaxation.bound)
        near = relaxation.usage(len(problem.rooms))
        _climb(standing, LONG * effort, MANY, near, share=0.4)
        if exact:
            if not inner:
                _round(standing, relaxation)
            _search(standing, relaxation, min(STEPS * effort, standing.work // 2 // A_STEP))
    if not inner:
        _climb(standing, int(LAST * effort * min(1.0, USUAL / len(problem.widths)) ** 2), MANY, near)
    return Solution(bars=standing.best, cost=standing.cost, bound=standing.bound, first=first)


def _fill(standing: Standing) -> None:
    """Bars filled one after another, the widths in a few different orders."""
    import numpy as np

    from sillwright.takeoff.cutting.kernel import greedy, uneven

    widths, rooms = standing.problem.arrays[0], standing.problem.rooms
    work = sum(standing.problem.counts) * len(rooms) * max(rooms)
    for seed in range(max(1, min(ORDERS, FILLING // work))):
        order = np.argsort(-(widths * uneven(len(widths), seed) if seed else widths), kind="stable")
        of, patterns, left = greedy(*standing.problem.arrays, order)
        standing.offer(of, patterns, whole=not left.any())
        if standing.proven:
            return


def _climb(
    standing: Standing, tries: int, mixes: int, near: Sequence[float] | None = None, share: float = 1.0
) -> None:
    """Try the costs from the bound on, the cheapest first, until one is met or a share of the work is done."""
    saved = int(standing.work * (1.0 - share))
    standing.work -= saved
    _climb_on(standing, tries, mixes, near)
    standing.work += saved


def _climb_on(standing: Standing, tries: int, mixes: int, near: Sequence[float] | None) -> None:
    for target in _targets(standing):
        if standing.proven or _repair(standing, target, tries, mixes, near):
            return


def _targets(standing: Standing) -> Iterator[int]:
    """Costs from the bound on, below the best one: the first few that can occur, then parts of the gap."""
    levels, target, top = standing.levels, standing.bound, standing.cost
    for _ in range(NEXT):
        if target >= top:
            return
        yield target
        target = levels.up(target + levels.unit)
    for part in PARTS[1:-1]:
        further = levels.up(standing.bound + part * (top - standing.bound))
        if target <= further < top:
            yield further


def _repair(standing: Standing, cost: int, tries: int, mixes: int, near: Sequence[float] | None = None) -> bool:
    """Whether the pieces go into a mix of stock that comes to this cost."""
    import numpy as np

    from sillwright.takeoff.cutting.kernel import pack, repair

    widths, counts, rooms, _, _ = standing.problem.arrays
    if cost >= standing.cost:
        return False
    for mix in standing.levels.mixes(cost, mixes, near):
        tries = min(tries, standing.work // standing.a_try)
        if tries < 1:
            return False
        of = np.repeat(np.array(standing.levels.order), [mix[k] for k in standing.levels.order])
        patterns, left = pack(widths, counts, rooms[of], np.arange(len(widths)))
        taken = repair(widths, rooms[of], patterns, left, tries, cost)
        done = taken >= 0
        standing.work -= (taken if done else tries) * standing.a_try
        standing.offer(of, patterns, whole=done)
        if done:
            return True
    return False


def _round(standing: Standing, relaxation: Relaxation) -> None:
    """Keep whole bars of the relaxation, and cut the rest as an order of its own."""
    import numpy as np

    for share in SHARES:
        if standing.proven:
            return
        kept, left, stock = _kept(standing.problem, relaxation, share)
        rest = _rest_bars(standing.problem, left, stock, standing.work // INNER)
        standing.work -= standing.work // INNER
        bars = None if rest is None else [*kept, *rest]
        if bars:
            standing.offer(np.array([k for k, _ in bars]), np.array([row for _, row in bars]))


def _kept(problem: Problem, relaxation: Relaxation, share: float) -> tuple[list[tuple[int, Ints]], Ints, list[int]]:
    """Whole bars of the relaxation, the pieces that are left, and the stock that is left."""
    import numpy as np

    left, stock = problem.arrays[1].copy(), list(problem.limits)
    bars: list[tuple[int, Ints]] = []
    for at in np.argsort(-relaxation.used, kind="stable"):
        row, k = relaxation.patterns[at].astype(np.int64), int(relaxation.of[at])
        for _ in range(int(relaxation.used[at] * share + 1e-6)):
            if (row <= left).all() and stock[k] != 0:
                bars.append((k, row))
                left -= row
                stock[k] -= 1 if stock[k] > 0 else 0
    return bars, left, stock


def _rest_bars(problem: Problem, left: Ints, stock: list[int], work: int) -> list[tuple[int, Ints]] | None:
    """Bars for the pieces that are left, found as an order of its own; None where there are none."""
    import numpy as np

    kinds = np.flatnonzero(left)
    if not len(kinds):
        return []
    rest = replace(
        problem,
        widths=tuple(problem.widths[at] for at in kinds),
        counts=tuple(int(left[at]) for at in kinds),
        limits=tuple(stock),
        members=(),
    )
    bars = solve(rest, rest, inner=True, work=work).bars
    if bars is None:
        return None
    found = []
    for k, pattern in bars:
        row = np.zeros(len(left), np.int64)
        row[kinds] = pattern
        found.append((k, row))
    return found


def _search(standing: Standing, relaxation: Relaxation, steps: int) -> None:
    """Close the gap exactly, a part of it at a time, as long as the steps last."""
    from sillwright.takeoff.cutting.search_kernel import FOUND, NONE, search

    problem, levels = standing.problem, standing.levels
    if len(problem.widths) * max(problem.rooms) > CELLS:
        return
    prices = (relaxation.worth, relaxation.rent, relaxation.scale)
    tried = 0
    while not standing.proven and steps > 0:
        gap = standing.cost - levels.unit - standing.bound
        target = standing.bound + int(gap * PARTS[min(tried, len(PARTS) - 1)])
        verdict, of, patterns, taken = search(
            problem.arrays, prices, target, levels.reach, levels.unit, steps, ROWS
        )
        steps -= taken
        standing.work -= taken * A_STEP
        tried += 1
        if verdict == FOUND:
            standing.offer(of, patterns)
        elif verdict == NONE:
            standing.raise_to(target + 1)
        elif target < standing.cost - levels.unit and PARTS[min(tried, len(PARTS) - 1)] < 1.0:
            steps //= 2
        else:
            return
