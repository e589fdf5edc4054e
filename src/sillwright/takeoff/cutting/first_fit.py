"""First-fit decreasing: longest piece first, into the first bar that has room. What one does without a plan."""

from __future__ import annotations

from sillwright.takeoff.cutting.problem import Problem

Bars = tuple[tuple[int, tuple[int, ...]], ...]
"""Bars: the number of the stock, and how many pieces of each width."""


def cost_of(problem: Problem, bars: Bars) -> int:
    """What bars cost."""
    return sum(problem.costs[stock] for stock, _ in bars)


def first_fit(problem: Problem) -> Bars | None:
    """The bars of first-fit decreasing; None where the stocks run out.

    A new bar is of the stock that costs least per length among those in which the piece fits; of equals the
    longest.

    >>> bars = first_fit(Problem(widths=(6, 5, 4), counts=(1, 2, 1), rooms=(10,), costs=(1,), limits=(-1,)))
    >>> bars
    ((0, (1, 0, 1)), (0, (0, 2, 0)))
    """
    rank = sorted(
        range(len(problem.rooms)),
        key=lambda k: (problem.costs[k] / max(problem.rooms[k], 1), -problem.rooms[k]),
    )
    stock = list(problem.limits)
    of: list[int] = []
    free: list[int] = []
    patterns: list[list[int]] = []
    for kind, (width, count) in enumerate(zip(problem.widths, problem.counts, strict=True)):
        bar = 0
        for _ in range(count):
            while bar < len(free) and free[bar] < width:
                bar += 1
            if bar == len(free):
                chosen = next((k for k in rank if problem.rooms[k] >= width and stock[k] != 0), None)
                if chosen is None:
                    return None
                stock[chosen] -= 1
                of.append(chosen)
                free.append(problem.rooms[chosen])
                patterns.append([0] * len(problem.widths))
            free[bar] -= width
            patterns[bar][kind] += 1
    return tuple((k, tuple(pattern)) for k, pattern in zip(of, patterns, strict=True))
