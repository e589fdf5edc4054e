"""The compiled parts of the cut list against plain twins that share no code with them."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linprog

from sillwright.takeoff.cutting import columns_kernel, kernel, search_kernel
from sillwright.takeoff.cutting.bound import relax
from sillwright.takeoff.cutting.first_fit import cost_of, first_fit
from sillwright.takeoff.cutting.levels import levels_of
from sillwright.takeoff.cutting.problem import Problem, whole
from sillwright.takeoff.cutting.search_kernel import FOUND, NONE

from .cuttings import cheapest, fitting, small

SEEDS = range(300, 360)


def length_of(problem: Problem, pattern: tuple[int, ...]) -> int:
    return sum(width * number for width, number in zip(problem.widths, pattern, strict=True))


def wide(seed: int) -> Problem:
    """An order whose bars are longer than the words of the bit sets, with many equal pieces."""
    dice = np.random.default_rng(seed)
    widths = sorted({int(each) for each in dice.integers(20, 260, 7)}, reverse=True)
    counts = tuple(int(each) for each in dice.integers(1, 12, len(widths)))
    rooms = tuple(int(each) for each in dice.integers(260, 600, 3))
    return Problem(widths=tuple(widths), counts=counts, rooms=rooms, costs=rooms, limits=(-1, -1, -1))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_bar_is_filled_as_full_as_any_that_begins_alike(seed: int) -> None:
    for problem in (small(seed), wide(seed)):
        widths, counts, rooms, _, _ = problem.arrays
        order = np.random.default_rng(seed).permutation(len(widths))
        desk, taken = kernel.desk_for(widths, counts, int(rooms.max())), np.zeros(len(widths), np.int64)
        for room in problem.rooms:
            used = kernel.fill(widths, counts, room, order, desk, taken)
            sums = {0}  # of pieces beside the first one in the order that fits
            first = next((i for i in order if problem.widths[i] <= room), None)
            if first is None:
                assert used == 0
                continue
            base = problem.widths[first]
            for i, (width, number) in enumerate(zip(problem.widths, problem.counts, strict=True)):
                for _ in range(number - (i == first)):
                    sums |= {each + width for each in sums if base + each + width <= room}
            assert used == base + max(sums)
            assert (widths * taken).sum() == used
            assert (taken <= counts).all()
            assert taken[first] >= 1


@pytest.mark.parametrize("seed", range(20))
def test_a_repair_loses_no_piece_and_overfills_no_bar(seed: int) -> None:
    problem = wide(seed)
    widths, counts, rooms, _, _ = problem.arrays
    bars = np.resize(rooms, -(-problem.need // int(rooms.mean())))
    patterns, left = kernel.pack(widths, counts, bars, np.arange(len(widths)))
    over = (widths * left).sum()
    done = kernel.repair(widths, bars, patterns, left, 200, seed)
    assert (patterns.sum(axis=0) + left == counts).all()
    assert (patterns >= 0).all()
    assert (left >= 0).all()
    assert ((patterns * widths).sum(axis=1) <= bars).all()
    assert (widths * left).sum() <= over
    assert (done >= 0) == (not left.any())


@pytest.mark.parametrize("seed", SEEDS)
def test_filling_bars_one_by_one_keeps_to_the_stock(seed: int) -> None:
    problem = small(seed)
    widths, counts, rooms, _, limits = problem.arrays
    of, patterns, left = kernel.greedy(*problem.arrays, np.arange(len(widths)))
    assert (patterns.sum(axis=0) + left == counts).all()
    assert ((patterns * widths).sum(axis=1) <= rooms[of]).all()
    for k, limit in enumerate(limits):
        assert limit < 0 or (of == k).sum() <= limit


def best_worths(problem: Problem, worth: np.ndarray, most: int) -> list[float]:
    """The knapsack of every room, from a table of best worths by length, one piece at a time."""
    best = {0: 0.0}
    for width, number, each in zip(problem.widths, problem.counts, worth, strict=True):
        for _ in range(number):
            for length, value in sorted(best.items(), reverse=True):
                if length + width <= most:
                    best[length + width] = max(best.get(length + width, 0.0), value + each)
    return [max(value for length, value in best.items() if length <= room) for room in range(most + 1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_the_knapsack_is_the_best_of_all_patterns(seed: int) -> None:
    for problem in (small(seed), wide(seed)):
        widths, counts, rooms, _, _ = problem.arrays
        most = int(rooms.max())
        worth = np.random.default_rng(seed).integers(0, 50, len(widths)).astype(float)
        twin = best_worths(problem, worth, most)
        ladder = columns_kernel.ladder_for(widths, counts, most)
        last = columns_kernel.climb(widths, counts, worth, ladder)
        assert ladder[0][last].tolist() == twin
        pattern = np.zeros(len(widths))
        for room in problem.rooms:
            columns_kernel.read(widths, ladder, last, room, pattern)
            assert (pattern * worth).sum() == twin[room]
            assert (pattern * widths).sum() <= room
            assert (pattern <= counts).all()
        table = search_kernel.rests(widths, counts, worth, most)
        assert table[0].tolist() == twin
        assert not table[-1].any()


@pytest.mark.parametrize("seed", range(10))
def test_a_matrix_times_its_inverse_is_one(seed: int) -> None:
    matrix = np.random.default_rng(seed).normal(size=(9, 9))
    matrix[0, 0] = 0.0  # so that rows have to change places
    found = np.eye(9)
    columns_kernel.invert(matrix.copy(), found)
    np.testing.assert_allclose(found, np.linalg.inv(matrix), rtol=1e-9, atol=1e-12)


def relaxed_by_solver(problem: Problem) -> float | None:
    """The linear relaxation over all patterns, by a general solver."""
    stocks = range(len(problem.rooms))
    columns = [
        (k, each) for k in stocks for each in fitting(problem.widths, problem.counts, problem.rooms[k]) if any(each)
    ]
    counted = [k for k in stocks if problem.limits[k] >= 0]
    if not columns:
        return None
    cover = -np.array([pattern for _, pattern in columns], float).T
    used = np.array([[float(of == k) for of, _ in columns] for k in counted]).reshape(len(counted), len(columns))
    found = linprog(
        [problem.costs[k] for k, _ in columns],
        A_ub=np.vstack([cover, used]),
        b_ub=[-each for each in problem.counts] + [problem.limits[k] for k in counted],
    )
    return None if found.status == 2 else float(found.fun)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_bound_is_the_linear_relaxation_over_all_patterns(seed: int) -> None:
    problem = small(seed)
    twin = relaxed_by_solver(problem)
    found = relax(problem, (), 2000)
    if twin is None:
        assert found.bound > sum(problem.costs) * sum(problem.counts)
        return
    assert found.bound <= twin * (1 + 1e-9)
    assert found.bound == pytest.approx(twin, rel=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_no_pattern_is_worth_more_than_its_stock_costs(seed: int) -> None:
    problem = small(seed)
    found = relax(problem, (), 2000)
    for k, room in enumerate(problem.rooms):
        full = int(found.scale) * problem.costs[k] + int(found.rent[k])
        for pattern in fitting(problem.widths, problem.counts, room):
            assert sum(int(each) * number for each, number in zip(found.worth, pattern, strict=True)) <= full
    total = sum(int(each) * number for each, number in zip(found.worth, problem.counts, strict=True))
    total -= sum(int(each) * max(limit, 0) for each, limit in zip(found.rent, problem.limits, strict=True))
    assert found.bound == total / found.scale


@pytest.mark.parametrize("seed", SEEDS)
def test_the_search_says_yes_from_the_least_cost_on_and_no_below(seed: int) -> None:
    problem = small(seed)
    least = cheapest(problem)
    found = relax(problem, (), 2000)
    prices, nothing = (found.worth, found.rent, found.scale), np.zeros(0, np.int64)
    top = sum(problem.costs) * sum(problem.counts)
    for money in {top} if least is None else {least - 1, least, least + 7}:
        verdict, of, patterns, _ = search_kernel.search(
            problem.arrays, prices, money, nothing, 1, 10_000_000, 20_000
        )
        if least is None or money < least:
            assert verdict == NONE
            continue
        assert verdict == FOUND
        assert (patterns.sum(axis=0) == problem.counts).all()
        assert sum(problem.costs[k] for k in of) <= money


@pytest.mark.parametrize("seed", SEEDS)
def test_the_patterns_of_a_bar_are_all_full_ones_that_are_worth_it(seed: int) -> None:
    problem = small(seed)
    widths, counts, rooms, _, _ = problem.arrays
    worth = np.random.default_rng(seed).integers(1, 50, len(widths)).astype(float)
    best = search_kernel.rests(widths, counts, worth, int(rooms.max()))
    rows, values = np.zeros((5000, len(widths)), np.int64), np.zeros(5000)
    for room, least in product(problem.rooms, (0.0, 30.0)):
        if widths[0] > room:
            continue
        many, _ = search_kernel.patterns(widths, counts, 0, room, best, worth, least, rows, values, 0)
        twin = set()
        for pattern in fitting(problem.widths, problem.counts, room):
            free = room - length_of(problem, pattern)
            full = all(
                width > free or number == have
                for width, number, have in zip(problem.widths, pattern, problem.counts, strict=True)
            )
            if pattern[0] and full and sum(worth * pattern) >= least:
                twin.add(pattern)
        assert {tuple(row) for row in rows[:many].tolist()} == twin
        assert many == len(twin)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mix_of_stock_is_long_enough_and_costs_what_it_should(seed: int) -> None:
    problem = small(seed)
    most = 4 * sum(problem.costs)
    levels = levels_of(problem, most)
    rows = zip(problem.costs, problem.limits, strict=True)
    numbers = [range((limit if limit >= 0 else most // cost) + 1) for cost, limit in rows]
    reach: dict[int, set[tuple[int, ...]]] = {}
    for mix in product(*numbers):
        cost = sum(a * b for a, b in zip(mix, problem.costs, strict=True))
        if cost <= most and sum(a * b for a, b in zip(mix, problem.rooms, strict=True)) >= problem.need:
            reach.setdefault(cost, set()).add(mix)
    for cost in range(0, most, max(1, most // 40)):
        on = [each for each in reach if each >= cost]
        assert not on or levels.up(cost) == min(on)
        here = reach.get(cost, set())
        assert len(here) > 400 or set(levels.mixes(cost, 1_000, near=[0.0] * len(problem.rooms))) == here
        some = levels.mixes(cost, 3)
        assert set(some) <= here
        assert len(some) == min(len(some), 3) >= min(len(here), 1)
        assert not some or sum(some[0]) == min(sum(each) for each in here)


def test_mixes_near_a_usage_come_first() -> None:
    problem = Problem(widths=(5,), counts=(12,), rooms=(10, 20), costs=(10, 20), limits=(-1, -1))
    levels = levels_of(problem, 80)
    assert levels.mixes(60, 1) == [(0, 3)]
    assert levels.mixes(60, 1, near=[6.0, 0.0]) == [(6, 0)]


def test_first_fit_takes_the_first_bar_with_room() -> None:
    problem = Problem(widths=(7, 4, 3), counts=(1, 2, 2), rooms=(10, 6), costs=(10, 7), limits=(-1, -1))
    bars = first_fit(problem)
    assert bars == ((0, (1, 0, 1)), (0, (0, 2, 0)), (0, (0, 0, 1)))
    assert cost_of(problem, bars) == 30


def test_first_fit_gives_up_where_the_stock_runs_out() -> None:
    assert first_fit(Problem(widths=(7,), counts=(2,), rooms=(10,), costs=(1,), limits=(1,))) is None


def test_lengths_become_whole_numbers_of_their_greatest_common_unit() -> None:
    found = whole([0.3, 0.1 + 0.2, 0.6], [1.2], [4.5], [None])
    assert found.problem.widths == (2, 1)
    assert found.problem.counts == (1, 2)
    assert found.problem.rooms == (4,)
    assert found.money(found.problem.costs[0]) == 4.5
    assert found.relaxed is found.problem


def test_rounded_lengths_stay_on_the_safe_side() -> None:
    lengths = [1 / 2**0.5, 1 / 3**0.5, 1 / 7**0.5]
    found = whole(lengths, [2.0], [1.0], [None])
    assert found.relaxed is not found.problem
    unit = 2.0 / found.problem.rooms[0]
    for width, low, length in zip(found.problem.widths, found.relaxed.widths, sorted(lengths)[::-1], strict=True):
        assert low * unit <= length * (1 + 1e-6)
        assert width * unit >= length * (1 - 1e-6)
        assert width - low <= 1


def test_where_nothing_can_be_written_the_kernels_are_still_made(monkeypatch: pytest.MonkeyPatch) -> None:
    def refusing(plain: object, **options: object) -> object:
        if options.get("cache"):
            raise RuntimeError("cannot cache function: no locator available")
        return options

    monkeypatch.setattr("numba.njit", refusing)
    made: Any = kernel.compiled(dict)
    assert "cache" not in made
