"""A saw cut of any width: the grid stays coarse, holds the same pieces, and the work on a fine one has an end."""

from __future__ import annotations

from itertools import combinations_with_replacement
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.takeoff import cutlist
from sillwright.takeoff.cutting import kernel, solve
from sillwright.takeoff.cutting.bound import LEAST_CELLS, TABLE, affordable
from sillwright.takeoff.cutting.grid import exact_grid
from sillwright.takeoff.cutting.problem import CELLS, Problem, whole

from .cuttings import order

INCH = 25.4


def millimetres(seed: int, count: int, *, low: float = 200, high: float = 1000) -> list[float]:
    """Lengths by chance, in whole millimetres."""
    return [float(each) for each in np.random.default_rng(seed).integers(low, high + 1, count)]


def problem(lengths: list[float], kerf: float, *stock: float) -> Any:
    """An order in millimetres, in whole numbers."""
    rooms = [each / 1000 for each in stock]
    return whole([each / 1000 for each in lengths], rooms, rooms, [None] * len(rooms), kerf / 1000)


@pytest.mark.parametrize("kerf", [2.9999, 3.0, 3.001, 2.99987654])
def test_a_saw_cut_that_is_almost_a_millimetre_measure_is_searched_in_millimetres(kerf: float) -> None:
    found = problem(millimetres(3, 80), kerf, 1500, 2000, 3000)
    assert found.relaxed is found.problem
    assert max(found.problem.rooms) <= 3010


@pytest.mark.parametrize("kerf", [3.0, 3.175, 2.9999, 3.14159])
def test_channels_in_quarters_of_an_inch_are_searched_on_a_coarse_grid(kerf: float) -> None:
    lengths = [each // 4 * INCH / 4 for each in millimetres(1, 60, low=200, high=560)]
    found = problem(lengths, kerf, 10 * 12 * INCH, 12 * 12 * INCH)
    assert found.relaxed is found.problem
    assert max(found.problem.rooms) < 25_000


def test_a_saw_cut_without_a_measure_costs_and_proves_what_its_neighbour_does() -> None:
    lengths = millimetres(3, 80)
    one, other = (cutlist(order(lengths, [1500.0, 2000.0, 3000.0], kerf=kerf)) for kerf in (3.0, 2.9999))
    assert one.proven
    assert (other.cost, other.bound, other.proven) == (one.cost, one.bound, True)
    assert "rounded" not in " ".join(other.assumptions)


WIDTHS = st.lists(st.integers(min_value=1, max_value=40), min_size=1, max_size=5, unique=True)


@given(
    lengths=WIDTHS, unit=st.integers(1, 9), saw=st.integers(0, 60), usable=st.lists(st.integers(1, 400), min_size=1)
)
def test_a_bar_holds_the_same_pieces_on_the_grid_as_in_truth(
    lengths: list[int], unit: int, saw: int, usable: list[int]
) -> None:
    pieces = [each * unit for each in lengths for _ in range(2)]
    grid = exact_grid(pieces, saw, usable, CELLS)
    assert grid is not None
    for room, gives in zip(grid.rooms, usable, strict=True):
        for count in range(1, 5):
            for bar in combinations_with_replacement(sorted(set(pieces)), min(count, len(pieces))):
                held = sum(bar) + (len(bar) - 1) * saw <= gives
                assert (sum(map(grid.width, bar)) <= room) == held


def test_a_stock_too_short_for_any_piece_is_left_alone() -> None:
    found = cutlist(order(millimetres(5, 30), [3000.0, 190.0, 5.0], kerf=2.9999, trim_end=10))
    assert {bar.stock for bar in found.bars} == {1}


def test_lengths_that_have_a_measure_only_beyond_all_cells_are_rounded_and_said_to_be() -> None:
    lengths = [each + at / 7**0.5 for at, each in enumerate(millimetres(2, 20))]
    found = problem(lengths, 3.0, 3000)
    assert found.relaxed is not found.problem
    assert max(found.problem.rooms) <= CELLS


def test_what_is_bounded_on_a_coarser_grid_never_holds_less() -> None:
    fine = problem(millimetres(1, 40), 3.175, 1500, 3000).problem
    coarse = fine.coarser(500)
    assert max(coarse.rooms) <= 500
    assert sum(coarse.counts) == sum(fine.counts)
    unit = -(-max(fine.rooms) // 500)
    for room, held in zip(fine.rooms, coarse.rooms, strict=True):
        for pair in combinations_with_replacement(fine.widths, 2):
            assert sum(pair) > room or sum(each // unit for each in pair) <= held
    assert fine.coarser(max(fine.rooms)) is fine


def test_the_linear_bound_is_asked_of_no_more_cells_than_it_may_look_at() -> None:
    fine = problem([each + at / 7**0.5 for at, each in enumerate(millimetres(3, 120))], 3.0, 3000).relaxed
    bounded = affordable(fine, 1)
    assert bounded is not None
    assert len(fine.widths) * max(fine.rooms) > 20 * TABLE
    assert max(bounded.rooms) <= max(LEAST_CELLS, TABLE // len(bounded.widths))
    many = Problem(widths=tuple(range(1, 600)), counts=(1,) * 599, rooms=(9000,), costs=(1,), limits=(-1,))
    assert affordable(many, 1) is None


def test_tries_on_a_fine_grid_are_counted_by_the_words_they_look_at(monkeypatch: pytest.MonkeyPatch) -> None:
    """An order that cannot be proven: the words that all tries together look at stay below what they may."""
    words, plain = [], kernel.repair

    def counted(widths: Any, rooms: Any, patterns: Any, left: Any, tries: int, seed: int) -> int:
        taken = plain(widths, rooms, patterns, left, tries, seed)
        words.append((tries if taken < 0 else taken) * (int(rooms.max()) // 64))
        return taken

    monkeypatch.setattr(kernel, "repair", counted)
    lengths = [float(each) for each in np.random.default_rng(4).uniform(200, 1000, 120)]
    found = cutlist(order(lengths, [1500.0, 2000.0, 3000.0], kerf=3.0))
    assert not found.proven
    assert found.first_fit_cost is not None
    assert found.bound <= found.cost <= found.first_fit_cost
    assert 0 < sum(words) <= solve.WORK // 20
