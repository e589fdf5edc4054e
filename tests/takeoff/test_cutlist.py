"""The cut list: every piece once, no bar overfull, never dearer than without a plan, proven where it says so."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from math import nan
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.calculation import as_json
from sillwright.base.case_reading import read_case
from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader, retold
from sillwright.survey.reading import read_document
from sillwright.takeoff import cutlist
from sillwright.takeoff.cutting.cutlist_model import CutlistCase, CutlistResult, CutPiece, StockLength
from sillwright.takeoff.cutting.solve import solve
from tests.verification import Verify

from .cuttings import TABLE, by_solver, cheapest, made, order, published, small

PUBLISHED = [pytest.param(each, id=each["id"]) for each in TABLE["instance"]]
MADE = [pytest.param(each, id=each["id"]) for each in TABLE["made"] if "optimum" in each]
OPEN = next(each for each in TABLE["made"] if "optimum" not in each)


def holds(result: CutlistResult) -> None:
    """What every cut list has to keep, whatever it was asked."""
    case = result.case
    wanted = sorted((each.label, each.length) for each in case.pieces for _ in range(each.count))
    assert sorted((cut.label, cut.length) for bar in result.bars for cut in bar.cuts) == wanted
    for bar in result.bars:
        place = case.trim_start
        for cut in bar.cuts:
            assert cut.from_start == pytest.approx(place, abs=1e-9)
            place += cut.length + case.kerf
        assert place - case.kerf <= bar.length - case.trim_end + 1.1e-7
        assert bar.off_cut == pytest.approx(max(0.0, bar.length - case.trim_end - place), abs=1.1e-9)
        assert bar.kept == (case.keep is not None and bar.off_cut >= case.keep - 1e-9)
    used = [bar.stock for bar in result.bars]
    for number, stock in enumerate(case.stock, start=1):
        assert stock.count is None or used.count(number) <= stock.count
    prices = [each.length if each.cost is None else each.cost for each in case.stock]
    assert result.cost == pytest.approx(sum(prices[bar.stock - 1] for bar in result.bars), rel=1e-9)
    assert result.bound <= result.cost
    assert result.proven == (result.bound == result.cost)
    assert result.first_fit_cost is None or result.cost <= result.first_fit_cost


@pytest.mark.parametrize("row", PUBLISHED)
def test_published_orders_are_cut_with_the_fewest_bars(row: dict[str, Any], verify: Verify) -> None:
    found = cutlist(published(row))
    holds(found)
    source = f"{row['document']} ({row['sure']})"
    verify(f"bars for {row['id']}", got=found.cost, expected=row["optimum"], within=0, source=source)
    verify(f"proven bound of {row['id']}", got=found.bound, expected=row["optimum"], within=0, source=source)


def test_the_waste_of_the_paper_rolls_is_the_published_one(verify: Verify) -> None:
    row = TABLE["instance"][0]
    waste = 100 * cutlist(published(row)).waste_share
    verify(
        "waste of the paper rolls, %", got=waste, expected=row["waste_percent"], within=5e-4,
        source=row["document"], relative=False,
    )  # fmt: skip


def test_two_counted_stocks_are_cut_without_any_waste_as_published(verify: Verify) -> None:
    """Three bars of 15 and three of 10 are there; the printed plan leaves one of 15 whole and nothing else."""
    pieces = [7000] * 3 + [6000] * 2 + [4000] * 6 + [3000]
    found = cutlist(order(pieces, [(15_000, None, 3), (10_000, None, 3)]))
    holds(found)
    source = (
        "university course notebook on process operations, stock cutting, solved as a mixed-integer program (read)"
    )
    verify("metres of stock, two counted lengths", got=found.cost, expected=60.0, within=0, source=source)
    assert found.proven
    assert sorted(bar.length for bar in found.bars) == [10.0, 10.0, 10.0, 15.0, 15.0]


@pytest.mark.parametrize("row", MADE)
def test_orders_in_millimetres_are_proven(row: dict[str, Any]) -> None:
    found = cutlist(made(row))
    holds(found)
    assert found.proven
    assert found.cost == pytest.approx(row["optimum"] / 1000)
    assert found.bound == pytest.approx(row["bound"] / 1000)


def test_small_orders_cost_what_a_general_solver_finds(verify: Verify) -> None:
    differ = []
    for seed in range(200):
        problem = small(seed)
        found = solve(problem, problem)
        least = by_solver(problem)
        mine = None if found.bars is None else found.cost
        if mine != least or found.cost > found.bound:
            differ.append((seed, mine, found.bound, least))
    assert not differ
    verify(
        "200 small orders (stock lengths, costs, counts, saw cut): orders with another cost",
        got=len(differ), expected=0, within=0, source="scipy.optimize.milp (HiGHS), bars as variables",
    )  # fmt: skip


@pytest.mark.parametrize("seed", range(1000, 1040))
def test_small_orders_cost_what_trying_everything_finds(seed: int) -> None:
    problem = small(seed)
    found = solve(problem, problem)
    assert (None if found.bars is None else found.cost) == cheapest(problem)
    assert found.cost <= found.bound


LENGTHS = st.integers(min_value=50, max_value=3000)
STOCK = st.tuples(
    st.integers(min_value=3100, max_value=6100),
    st.one_of(st.none(), st.integers(min_value=100, max_value=9000).map(lambda cents: cents / 100)),
    st.one_of(st.none(), st.integers(min_value=0, max_value=9)),
)


@given(
    lengths=st.lists(LENGTHS, min_size=1, max_size=14),
    stock=st.lists(STOCK, min_size=1, max_size=3),
    kerf=st.integers(min_value=0, max_value=8),
    trim=st.tuples(st.integers(min_value=0, max_value=40), st.integers(min_value=0, max_value=40)),
    keep=st.one_of(st.none(), st.integers(min_value=100, max_value=900)),
)
def test_every_piece_is_cut_once_and_no_bar_is_overfull(
    lengths: list[int],
    stock: list[tuple[int, float | None, int | None]],
    kerf: int,
    trim: tuple[int, int],
    keep: int | None,
) -> None:
    priced = all(cost is not None for _, cost, _ in stock)
    rows = [(float(length), cost if priced else None, count) for length, cost, count in stock]
    case = order(lengths, rows, kerf=kerf, trim_start=trim[0], trim_end=trim[1], keep=keep)
    try:
        found = cutlist(case)
    except OutOfRange:
        assert any(count is not None for _, _, count in stock)
        return
    holds(found)


def test_a_saw_cut_that_leaves_no_room_takes_another_bar() -> None:
    assert cutlist(order([1000, 1000, 1000], [3000])).cost == 3.0
    assert cutlist(order([1000, 1000, 1000], [3000], kerf=1)).cost == 6.0
    assert cutlist(order([998, 998, 998], [3000], kerf=3)).cost == 3.0  # 3 × 998 + 2 × 3 = 3000: the last runs out


def test_the_trim_at_both_ends_takes_its_room() -> None:
    assert cutlist(order([1000, 1000], [2030], trim_start=10, trim_end=20)).cost == pytest.approx(2.03)
    assert cutlist(order([1000, 1000], [2030], trim_start=11, trim_end=20)).cost == pytest.approx(4.06)
    found = cutlist(order([1000], [2030], trim_start=10, trim_end=20))
    assert found.bars[0].cuts[0].from_start == pytest.approx(0.010)
    assert found.bars[0].off_cut == pytest.approx(1.0)


def test_round_off_costs_no_bar() -> None:
    thirds = CutlistCase(pieces=(CutPiece(length=0.1 + 0.2, count=10),), stock=(StockLength(length=3.0),), kerf=0.0)
    assert cutlist(thirds).cost == 3.0
    quarter = 0.25 * 0.0254
    pieces = CutPiece(length=120 * 0.0254 - quarter - 0.125 * 0.0254, count=3)
    case = CutlistCase(pieces=(pieces,), stock=(StockLength(length=30 * 0.3048),), kerf=0.125 * 0.0254)
    assert len(cutlist(case).bars) == 1  # 3 × 9 ft 11-5/8 in and 2 × 1/8 in in 30 ft


def test_lengths_that_differ_by_a_billionth_of_a_metre_are_one() -> None:
    pieces = (CutPiece(length=1.0, label="a"), CutPiece(length=1.0 + 0.9e-9, label="b"))
    found = cutlist(CutlistCase(pieces=pieces, stock=(StockLength(length=2.0),), kerf=0.0))
    assert (found.cost, found.proven) == (2.0, True)


def test_lengths_without_a_common_measure_are_cut_to_the_safe_side() -> None:
    lengths = [1000 / 2**0.5, 1000 / 3**0.5, 1000 / 7**0.5, 1000 / 11**0.5, 2000 / 13**0.5] * 3
    found = cutlist(order(lengths, [1500.0, 2100.0], kerf=3.2))
    holds(found)
    assert found.proven
    assert "rounded" in found.assumptions[-1]


def test_cheap_long_stock_beats_short_stock_only_where_it_pays() -> None:
    pieces = [1400, 1400]
    assert [bar.stock for bar in cutlist(order(pieces, [(1500, 10.0, None), (3000, 19.0, None)])).bars] == [2]
    assert [bar.stock for bar in cutlist(order(pieces, [(1500, 10.0, None), (3000, 21.0, None)])).bars] == [1, 1]


def test_stock_that_is_counted_runs_out() -> None:
    found = cutlist(order([1400] * 4, [(3000, 10.0, 1), (1500, 9.0, None)]))
    assert sorted(bar.stock for bar in found.bars) == [1, 2, 2]
    assert found.cost == 28.0


def test_off_cuts_from_a_length_on_go_back_to_stock() -> None:
    found = cutlist(order([1000, 2399], [3000], kerf=1, keep=600))
    assert [(round(bar.off_cut, 9), bar.kept) for bar in found.bars] == [(0.6, True), (1.999, True)]
    assert found.off_cuts == pytest.approx((1.999, 0.6))
    assert found.waste_share == pytest.approx(0.002 / 6)  # the two saw cuts
    assert cutlist(order([1000, 2399], [3000], kerf=1)).off_cuts == ()


def test_equal_pieces_keep_their_labels() -> None:
    case = CutlistCase(
        pieces=(CutPiece(length=1.0, count=2, label="left"), CutPiece(length=1.0, label="right")),
        stock=(StockLength(length=1.0, name="bar"),),
        kerf=0.003,
    )
    assert [bar.cuts[0].label for bar in cutlist(case).bars] == ["left", "left", "right"]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        pytest.param({"lengths": [3001], "stock": [3000.0]}, "no. 0", id="longer than every stock"),
        pytest.param({"lengths": [2990], "stock": [3000.0], "trim_end": 11}, "less its trim", id="trim"),
        pytest.param({"lengths": [1], "stock": [(3000.0, 1.0, 0)]}, "longer than every stock", id="none left"),
        pytest.param({"lengths": [1500] * 5, "stock": [(3000.0, 1.0, 2)]}, "1.500 m is missing", id="too little"),
        pytest.param({"lengths": [2000] * 3, "stock": [(3000.0, 1.0, 2)]}, "cannot be cut", id="cannot be cut"),
        pytest.param({"lengths": [1000], "stock": [(3000.0, 1.0, None), 6000.0]}, "one for each", id="costs"),
        pytest.param({"lengths": [], "stock": [3000.0]}, "at least one piece", id="no piece"),
        pytest.param({"lengths": [100] * 5001, "stock": [3000.0]}, "split the order", id="too many pieces"),
        pytest.param({"lengths": [100], "stock": [3000.0] * 21}, "split the order", id="too many stocks"),
        pytest.param({"lengths": [0], "stock": [3000.0]}, "at least 0.001 m", id="zero length"),
        pytest.param({"lengths": [-5], "stock": [3000.0]}, "at least 0.001 m", id="negative length"),
        pytest.param({"lengths": [nan], "stock": [3000.0]}, "out of range", id="NaN"),
        pytest.param({"lengths": [100], "stock": [(3000.0, 1.0, -1)]}, "at least 0", id="negative count"),
        pytest.param({"lengths": [100], "stock": [(3000.0, 0.0, None)]}, "at least 1e-06", id="zero cost"),
        pytest.param({"lengths": [100], "stock": [3000.0], "kerf": -1}, "at least 0", id="negative kerf"),
        pytest.param({"lengths": [100], "stock": [3000.0], "trim_start": nan}, "out of range", id="NaN trim"),
    ],
)  # fmt: skip
def test_what_cannot_be_cut_is_refused_with_what_would_be_right(given: dict[str, Any], said: str) -> None:
    with pytest.raises(OutOfRange) as refused:
        cutlist(order(**given))
    assert said in retold(refused.value.said, Reader(units="metric"))


def test_a_factory_sealed_edge_is_never_cut() -> None:
    with pytest.raises(OutOfRange, match=r"edge for bay 4: a factory-sealed edge is never cut.*own length"):
        CutPiece(length=3.0, label="edge for bay 4", construction="factory_sealed")
    assert CutPiece(length=3.0, construction="cut_on_site").construction == "cut_on_site"


def test_more_effort_never_costs_more() -> None:
    case = made(TABLE["made"][1])
    assert cutlist(replace(case, effort=2)).cost <= cutlist(case).cost


def test_the_same_order_gives_the_same_list() -> None:
    case = made(TABLE["made"][2])
    assert as_json(cutlist(case)) == as_json(cutlist(case))


def test_the_example_is_proven_and_keeps_to_the_two_long_bars() -> None:
    path = Path(__file__).parents[2] / "examples" / "cutlist.yaml"
    found = cutlist(read_case(CutlistCase, read_document(path), path.name))
    holds(found)
    assert found.proven
    assert found.first_fit_cost is not None
    assert found.cost < found.first_fit_cost


def test_an_order_that_needs_no_search_loads_no_compiler() -> None:
    code = """
import sys
from sillwright.takeoff import CutlistCase, CutPiece, StockLength, cutlist
case = CutlistCase(pieces=(CutPiece(length=1.2, count=2),), stock=(StockLength(length=3.0),), kerf=0.003)
assert cutlist(case).proven
print("numba" in sys.modules)
"""
    run = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=240, env=dict(os.environ)
    )
    assert run.stdout.split() == ["False"]


def test_a_list_that_is_not_proven_says_so_and_shows_its_bound() -> None:
    found = cutlist(made(OPEN))
    holds(found)
    assert not found.proven
    assert found.bound == pytest.approx(OPEN["bound"] / 1000)
    assert 0.0 < found.gap_to_bound <= 0.001
