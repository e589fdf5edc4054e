"""How far a cutting has come: the best one known, and the bound proven so far."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from sillwright.takeoff.cutting.first_fit import Bars, cost_of
from sillwright.takeoff.cutting.levels import Levels, levels_of
from sillwright.takeoff.cutting.problem import Problem

if TYPE_CHECKING:
    from sillwright.takeoff.cutting.kernel import Ints

KNOWN = 3_000
"""Bars of other cuttings that are kept to begin the relaxation with."""

TRY, TRY_A_WORD = 5_000, 20
"""Work of a try to repair, and for each word of 64 units that the longest bar has."""


@dataclass
class Standing:
    """The best cutting of a problem, and the bound of ``relaxed`` (the same one unless lengths were rounded)."""

    problem: Problem
    relaxed: Problem
    levels: Levels
    cost: int  # of the best cutting; more than any where none is known
    bound: int = 0
    best: Bars | None = None
    work: int = 0  # that is left, in about a nanosecond each
    known: list[tuple[Ints, Ints]] = field(default_factory=list)

    @property
    def exact(self) -> bool:
        """Whether no length was rounded."""
        return self.relaxed is self.problem

    @property
    def a_try(self) -> int:
        """The work of one try to repair a mix: it fills a few bars, each by the words of its longest."""
        return TRY + TRY_A_WORD * (max(self.problem.rooms) // 64)

    @property
    def proven(self) -> bool:
        """Whether nothing can be cheaper."""
        return self.cost <= self.bound

    def offer(self, of: Ints, patterns: Ints, *, whole: bool = True) -> None:
        """Keep bars, by stock and pattern, to begin the relaxation with; as the best cutting where they are."""
        used = patterns.any(axis=1)
        of, patterns = of[used], patterns[used]
        if sum(len(each) for each, _ in self.known) < KNOWN:
            self.known.append((of, patterns))
        cost = int(self.problem.arrays[3][of].sum())
        if whole and cost < self.cost:
            self.cost = cost
            self.best = tuple(zip(of.tolist(), map(tuple, patterns.tolist()), strict=True))

    def raise_to(self, bound: float) -> None:
        """Take a bound that is proven, up to the next cost that can occur."""
        self.bound = max(self.bound, min(self.levels.up(bound), self.cost))


def dearest(problem: Problem) -> int:
    """What no cutting costs more than: every stock that is counted, and a bar for each piece of the others."""
    pieces = sum(problem.counts)
    rows = zip(problem.costs, problem.limits, strict=True)
    return sum(cost * (limit if limit >= 0 else pieces) for cost, limit in rows)


def beginning(problem: Problem, relaxed: Problem, first: Bars | None, work: int) -> Standing:
    """Where a cutting begins: with first-fit decreasing, and the bound by length alone."""
    most = dearest(problem) if first is None else cost_of(problem, first)
    levels = levels_of(relaxed, most)
    cost = most + levels.unit if first is None else most
    standing = Standing(problem=problem, relaxed=relaxed, levels=levels, cost=cost, best=first, work=work)
    rates = [cost / room for cost, room in zip(relaxed.costs, relaxed.rooms, strict=True) if room > 0]
    standing.raise_to(relaxed.need * min(rates) * (1 - 1e-12))
    return standing
