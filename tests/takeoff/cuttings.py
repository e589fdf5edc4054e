"""Orders by chance and by rule, and plain ways to cut them that share no code with the program."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from sillwright.takeoff.cutting.cutlist_model import CutlistCase, CutPiece, StockLength
from sillwright.takeoff.cutting.problem import Problem

TABLE = tomllib.loads((Path(__file__).parent / "data" / "cutting.toml").read_text(encoding="utf-8"))


def order(
    lengths: Sequence[float], stock: Sequence[float | tuple[float, float | None, int | None]], **more: Any
) -> CutlistCase:
    """A case from lengths in millimetres; a stock is a length, or a length, a cost and a number."""
    rows = [each if isinstance(each, tuple) else (each, None, None) for each in stock]
    given = {"kerf": 0.0, "trim_start": 0.0, "trim_end": 0.0, "keep": None} | more
    for name in ("kerf", "trim_start", "trim_end", "keep"):
        given[name] = None if given[name] is None else given[name] / 1000
    return CutlistCase(
        pieces=tuple(CutPiece(length=each / 1000, label=f"no. {at}") for at, each in enumerate(lengths)),
        stock=tuple(StockLength(length=each / 1000, cost=cost, count=count) for each, cost, count in rows),
        **given,
    )


def published(row: dict[str, Any]) -> CutlistCase:
    """An instance of the table: one stock length that costs 1."""
    pieces = row.get("pieces") or [length for length, count in row["demand"] for _ in range(count)]
    return order(pieces, [(row["stock"], 1.0, None)])


def made(row: dict[str, Any]) -> CutlistCase:
    """An instance that is made by rule."""
    lengths = np.random.default_rng(row["seed"]).integers(row["low"], row["high"] + 1, row["count"])
    return order([int(each) for each in lengths], row["stock"], kerf=row["kerf"])


def small(seed: int) -> Problem:
    """A small order by chance: up to eight pieces, up to three stocks, half of them counted."""
    dice = np.random.default_rng(seed)
    stocks, kerf = int(dice.integers(1, 4)), int(dice.integers(0, 3))
    rooms = tuple(int(each) for each in dice.integers(20, 60, stocks))
    longest = max(rooms) - kerf + 1 if dice.random() < 0.5 else 20
    widths = [int(each) + kerf for each in dice.integers(3, longest, int(dice.integers(1, 9)))]
    costs = tuple(int(each) for each in dice.integers(5, 60, stocks)) if dice.random() < 0.6 else rooms
    limits = tuple(-1 if dice.random() < 0.5 else int(dice.integers(0, 4)) for _ in range(stocks))
    kinds = tuple(sorted(set(widths), reverse=True))
    counts = tuple(widths.count(each) for each in kinds)
    return Problem(widths=kinds, counts=counts, rooms=rooms, costs=costs, limits=limits)


def fitting(widths: Sequence[int], counts: Sequence[int], room: int) -> Iterator[tuple[int, ...]]:
    """Every way to lay pieces into a room, the empty one too."""
    if not widths:
        yield ()
        return
    for number in range(min(counts[0], room // widths[0]) + 1):
        for rest in fitting(widths[1:], counts[1:], room - number * widths[0]):
            yield (number, *rest)


def cheapest(problem: Problem) -> int | None:
    """The least cost by trying everything: the first piece that is left in every bar it can lie in."""

    @cache
    def rest(left: tuple[int, ...], stock: tuple[int, ...]) -> float:
        if not any(left):
            return 0
        first = next(at for at, number in enumerate(left) if number)
        best = float("inf")
        for k, room in enumerate(problem.rooms):
            if stock[k] == 0:
                continue
            fewer = tuple(number - (at == k and number > 0) for at, number in enumerate(stock))
            for pattern in fitting(problem.widths, left, room):
                if pattern[first]:
                    after = tuple(have - gone for have, gone in zip(left, pattern, strict=True))
                    best = min(best, problem.costs[k] + rest(after, fewer))
        return best

    found = rest(problem.counts, problem.limits)
    return None if found == float("inf") else int(found)


def by_solver(problem: Problem) -> int | None:
    """The least cost by a general solver for integer programs, with bars as variables."""
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import lil_matrix

    pieces, kinds = sum(problem.counts), len(problem.widths)
    bars = [k for k, limit in enumerate(problem.limits) for _ in range(pieces if limit < 0 else min(limit, pieces))]
    if not bars:
        return None
    step = kinds + 1
    rows = lil_matrix((kinds + len(bars), len(bars) * step))
    cost = np.zeros(len(bars) * step)
    for bar, k in enumerate(bars):
        cost[bar * step] = problem.costs[k]
        rows[kinds + bar, bar * step] = -problem.rooms[k]
        for kind, width in enumerate(problem.widths):
            rows[kind, bar * step + 1 + kind] = 1
            rows[kinds + bar, bar * step + 1 + kind] = width
    low = np.array([*problem.counts, *[-np.inf] * len(bars)], float)
    high = np.array([*problem.counts, *[0] * len(bars)], float)
    found = milp(
        cost,
        constraints=LinearConstraint(rows.tocsr(), low, high),
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, np.tile([1, *problem.counts], len(bars))),
        options={"mip_rel_gap": 0.0},
    )
    return None if found.status == 2 else round(found.fun)
