"""The cut list against a constraint solver's plain model (bars as variables), side by side in one run.

Instances, with seeds, generator and bounds, are those of ``tests/takeoff/data/cutting.toml``; times are warm, the
best of several. The solver (OR-Tools CP-SAT, two workers; without it, SciPy's HiGHS) gets ``LIMIT`` seconds. Exits
with 1 where a budget is missed by more than a factor of two. ``--all`` looks at further seeds of the same law and
tells which are not proven, and gives the solver the orders of 1,000 pieces too.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import pairwise
from math import inf
from pathlib import Path
from time import perf_counter
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.takeoff.cuttings import TABLE, made, published

from sillwright.takeoff import CutlistCase, cutlist
from sillwright.takeoff.cutting.first_fit import first_fit
from sillwright.takeoff.cutting.problem import Problem, whole

ROUNDS, LIMIT = 5, 20.0
BUDGETS = {"u120_00": 0.1, "t40": 0.1, "t120": 0.1, "u1000": 0.1, "t1000": 1.0, "t1000-open": 1.0}
WORST_GAP = 1e-3  # of an order that is not proven


def instances() -> dict[str, CutlistCase]:
    """The orders of the budgets."""
    rows = {row["id"]: published(row) for row in TABLE["instance"]} | {
        row["id"]: made(row) for row in TABLE["made"]
    }
    return {name: rows[name] for name in BUDGETS}


def problem_of(case: CutlistCase) -> Problem:
    """An order in whole numbers, for the solver."""
    pieces = [each.length for each in case.pieces for _ in range(each.count)]
    rooms = [each.length for each in case.stock]
    costs = [each.length if each.cost is None else each.cost for each in case.stock]
    return whole(pieces, rooms, costs, [each.count for each in case.stock], case.kerf).problem


def by_constraints(problem: Problem) -> tuple[float, float, bool]:
    """Cost, bound and whether it is proven, by the plain model."""
    from ortools.sat.python import cp_model

    first = first_fit(problem)
    assert first is not None
    model, kinds, stocks = cp_model.CpModel(), range(len(problem.widths)), range(len(problem.rooms))
    used = [[model.new_bool_var("") for _ in stocks] for _ in first]
    for bar in used:
        model.add_at_most_one(bar)
    laid = [[model.new_int_var(0, problem.counts[i], "") for i in kinds] for _ in first]
    for bar, pieces in zip(used, laid, strict=True):
        load = sum(problem.widths[i] * pieces[i] for i in kinds)
        model.add(load <= sum(problem.rooms[k] * bar[k] for k in stocks))
    for i in kinds:
        model.add(sum(pieces[i] for pieces in laid) == problem.counts[i])
    price = [sum(problem.costs[k] * bar[k] for k in stocks) for bar in used]
    for one, other in pairwise(price):
        model.add(one >= other)
    model.minimize(sum(price))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = LIMIT
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    cost = solver.objective_value if status in (cp_model.OPTIMAL, cp_model.FEASIBLE) else inf
    return cost, solver.best_objective_bound, status == cp_model.OPTIMAL


def by_integers(problem: Problem) -> tuple[float, float, bool]:
    """The same by a general integer solver; it tells no bound where it is stopped."""
    from tests.takeoff.cuttings import by_solver

    cost = by_solver(problem)
    return float(cost or inf), float(cost or -inf), True


def solver_of() -> tuple[str, Callable[[Problem], tuple[float, float, bool]]]:
    """The solver that is installed."""
    try:
        import ortools
    except ImportError:
        return "HiGHS", by_integers
    return f"CP-SAT {ortools.__version__}", by_constraints


def best_of(case: CutlistCase) -> tuple[float, Any]:
    """The best time of several, warm, and the list."""
    cutlist(case)
    best, found = inf, None
    for _ in range(ROUNDS):
        start = perf_counter()
        found = cutlist(case)
        best = min(best, perf_counter() - start)
    return best, found


def further(low: int, high: int, count: int, stock: list[float], kerf: int, seeds: range) -> None:
    """Other seeds of a law: how many are proven, how long they take, which stay open."""
    times, gaps = [], []
    for seed in seeds:
        row = {"seed": seed, "low": low, "high": high, "count": count, "kerf": kerf, "stock": stock}
        case = made(row)
        start = perf_counter()
        found = cutlist(case)
        times.append(perf_counter() - start)
        if not found.proven:
            gaps.append(f"seed {seed}: {found.gap_to_bound * 100:.2f} %")
    times.sort()
    figures = (
        f"median {times[len(times) // 2] * 1e3:.1f} ms, 9 of 10 within {times[len(times) * 9 // 10] * 1e3:.0f} ms"
    )
    print(
        f"{count:5} pieces {low}-{high}: {len(times) - len(gaps)} of {len(times)} proven, {figures}, worst {times[-1]:.2f} s; open: {', '.join(gaps) or 'none'}"
    )


def main() -> int:
    missed, (name, solve) = False, solver_of()
    for label, case in instances().items():
        seconds, found = best_of(case)
        missed |= seconds > 2 * BUDGETS[label] or (not found.proven and found.gap_to_bound > WORST_GAP)
        state = "proven" if found.proven else f"gap {found.gap_to_bound * 100:.3f} %"
        print(
            f"{label:11} {found.cost:9.4g} {state:12} {seconds * 1e3:8.1f} ms (budget {BUDGETS[label] * 1e3:.0f} ms); first-fit {found.first_fit_cost:.4g}",
            flush=True,
        )
        if sum(each.count for each in case.pieces) >= 1000 and "--all" not in sys.argv:
            continue
        start = perf_counter()
        cost, bound, proven = solve(problem_of(case))
        other = perf_counter() - start
        told = (
            "proven"
            if proven
            else f"not proven, {(cost - bound) / bound * 100:.1f} % open"
            if cost < inf
            else "no cutting found"
        )
        print(f"            {name}: {told} in {other:.2f} s; {other / seconds:.0f} x as long", flush=True)
    if "--all" in sys.argv:
        for count in (40, 60, 80, 100, 120, 150, 300):
            further(200, 1000, count, [1500, 2000, 3000], 3, range(1000 * count, 1000 * count + 30))
        further(20, 100, 120, [150], 0, range(30))
        further(20, 100, 1000, [150], 0, range(10))
        further(200, 1000, 1000, [1500, 2000, 3000], 3, range(1_000_000, 1_000_006))
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
