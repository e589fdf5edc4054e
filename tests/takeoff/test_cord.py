"""The coiled cord: both tables of the trade, the closed form against a numeric search, limits met exactly.

Expected lengths are those of the trade's tables (from memory, recomputed there); what follows from a formula has it
in the comment beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import hypot, inf, nan, sqrt
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
from sillwright.takeoff.ways._cord import cord
from sillwright.takeoff.ways.cord_model import CordCase, CordResult, CordStock
from tests.verification import Verify

INCH = 0.0254
FOOT = 0.3048


PLAIN = {"conductors", "most_ratio", "stock", "obstacles", "reel_cables"}


def feet(**given: Any) -> CordCase:
    """A case with its lengths in feet; the box 1 ft from the line of the lead unless said."""
    return CordCase(
        **{"offset": FOOT, **{name: each if name in PLAIN else each * FOOT for name, each in given.items()}}
    )


def in_feet(value: float | None) -> float | None:
    return None if value is None else round(value / FOOT, 2)


# Trade, coiled cord: travel; longest, retracted, ratio with the box at half travel; longest, retracted hung high.
TABLE = [
    (8, 4.12, 1.5, 2.75, 9.06, 3),
    (10, 5.10, 1.5, 3.40, 11.05, 4),
    (12, 6.08, 2, 3.04, 13.04, 4),
    (14, 7.07, 3, 2.36, 15.03, 5),
    (16, 8.06, 3, 2.69, 17.03, 5),
    (18, 9.06, 3, 3.02, 19.03, 6),
    (20, 10.05, 3, 3.35, 21.02, 8),
    (24, 12.04, 4, 3.01, 25.02, 8),
]


@pytest.mark.parametrize(("travel", "longest", "retracted", "ratio", "hung", "hung_retracted"), TABLE)
def test_the_cord_of_the_trades_table(
    travel: float, longest: float, retracted: float, ratio: float, hung: float, hung_retracted: float
) -> None:
    best = cord(feet(highest=travel))
    assert (in_feet(best.longest), in_feet(best.retracted)) == (longest, retracted)
    assert best.ratio == pytest.approx(ratio, abs=0.005)
    above = cord(feet(highest=travel, box_height=travel + 1))
    assert (in_feet(above.longest), in_feet(above.retracted)) == (hung, hung_retracted)


# Trade, coiled cord: travel of 14 ft, height of the box as a share of it, longest in feet.
@pytest.mark.parametrize(
    ("share", "longest"), [(0.35, 9.15), (0.4, 8.46), (0.5, 7.07), (0.6, 8.46), (0.7, 9.85), (1.0, 14.04)]
)
def test_the_longest_grows_as_the_box_leaves_the_middle(share: float, longest: float) -> None:
    found = cord(feet(highest=14, box_height=14 * share))
    assert in_feet(found.longest) == longest
    assert in_feet(found.longest_at_best) == 7.07


cases = st.builds(
    lambda lowest, travel, offset: CordCase(lowest=lowest, highest=lowest + travel, offset=offset),
    st.floats(0, 3),
    st.floats(0.5, 12),
    st.floats(0, 3),
)


def with_(case: CordCase, **changes: Any) -> CordCase:
    return CordCase(**{**vars(case), **changes})


@given(cases, st.floats(0, 15))
def test_no_place_for_the_box_is_better_than_the_best(case: CordCase, other: float) -> None:
    assert cord(with_(case, box_height=other)).longest >= cord(case).longest - 1e-12


@given(cases, st.floats(0, 15), st.floats(0, 5))
def test_within_reach_no_place_is_better_than_the_best(case: CordCase, low: float, more: float) -> None:
    found = cord(with_(case, reach_lowest=low, reach_highest=low + more))
    assert low <= found.best_box_height <= low + more
    for share in (0.0, 0.3, 0.7, 1.0):
        there = cord(with_(case, box_height=low + share * more))
        assert there.longest >= found.longest - 1e-12


def test_the_best_height_is_what_a_numeric_search_finds(verify: Verify) -> None:
    from scipy.optimize import minimize_scalar

    case = CordCase(lowest=0.2, highest=4.4, offset=0.5)
    searched = minimize_scalar(
        lambda box: max(hypot(4.4 - box, 0.5), hypot(box - 0.2, 0.5)), bounds=(0, 6), options={"xatol": 1e-10}
    )
    found = cord(case)
    source = "bounded search of an independent solver (SciPy)"
    verify(
        "best height of a cord's box", got=found.best_box_height, expected=searched.x, within=1e-6, source=source
    )
    verify("longest cord from there", got=found.longest, expected=searched.fun, within=1e-9, source=source)


@pytest.mark.parametrize(("box", "nearest"), [(2.0, 2.0), (5.0, 4.0)])
def test_no_cord_hangs_lower_than_its_limp_loop(box: float, nearest: float, verify: Verify) -> None:
    """A point of a cord has distances to both ends that sum to no more than its length: the lowest such point."""
    from scipy.optimize import minimize

    offset, stock = 0.3, (CordStock(retracted=1.8288, conductors=2),)
    found = cord(CordCase(highest=4.0, offset=offset, box_height=box, stock=stock))
    assert found.retracted is not None
    length = found.retracted

    def slack(point: tuple[float, float]) -> float:
        return length - hypot(point[0], point[1] - box) - hypot(point[0] - offset, point[1] - nearest)

    start = (offset / 2, min(box, nearest) - 0.05)
    searched = minimize(lambda point: point[1], start, constraints=[{"type": "ineq", "fun": slack}], tol=1e-12)
    lowest = min(box, nearest) - (found.slack_loop_limp or 0.0)
    source = "constrained search of an independent solver (SciPy)"
    verify(
        f"lowest point of a limp cord, box at {box} m",
        got=lowest,
        expected=searched.fun,
        within=1e-6,
        source=source,
    )


def test_the_loop_of_the_trade_is_half_the_slack_and_three_inches() -> None:
    """3 ft across 1 ft: (36 - 12) / 2 + 3 = 15 in; worn limp √(36² - 12²) / 2 = 16.97 in."""
    found = cord(feet(highest=14))
    assert found.slack_loop == pytest.approx(15 * INCH)
    assert found.slack_loop_limp == pytest.approx(sqrt(36**2 - 12**2) / 2 * INCH)
    assert found.loop_bottom == pytest.approx((84 - sqrt(36**2 - 12**2) / 2) * INCH)


def test_a_cord_that_is_never_slack_has_no_loop() -> None:
    found = cord(feet(highest=4, offset=2, stock=(CordStock(retracted=1.5 * FOOT, conductors=2),)))
    assert (found.slack_loop, found.slack_loop_limp) == (0.0, 0.0)
    assert found.loop_bottom == pytest.approx(2 * FOOT)


# Lmax = 3.5 R exactly, in quarters of an inch: R, and the travel with no offset that gives it.
@pytest.mark.parametrize("retracted", [12, 18, 24, 36, 48, 60, 72, 96])
def test_exactly_three_and_a_half_times_is_met_and_a_hair_more_is_not(retracted: int) -> None:
    travel = float(Fraction(retracted) * 7 * Fraction(127, 5000))  # 2 × 3.5 R, box in the middle
    stock = (CordStock(retracted=retracted * INCH, conductors=2),)
    at = cord(CordCase(highest=travel, offset=0.0, stock=stock))
    above = cord(CordCase(highest=travel + 4e-6, offset=0.0, stock=stock))
    assert at.way == "cord"
    assert at.ratio == pytest.approx(3.5)
    assert above.way != "cord"


def test_the_round_off_of_binary_lengths_does_not_push_a_cord_out() -> None:
    """Lengths as they are typed, parsed and summed in metres: 63 in over 18 in."""
    travel = sum([INCH] * 126)
    assert travel != 126 * INCH
    assert in_feet(cord(CordCase(highest=travel, offset=0.0)).retracted) == 1.5


@pytest.mark.parametrize(("extended", "way"), [(8.84, "cord"), (8.83, "reel")])
def test_of_a_rated_length_four_fifths_are_used(extended: float, way: str) -> None:
    """7.0711 ft is 0.8 of 8.8388 ft."""
    found = cord(feet(highest=14, stock=(CordStock(retracted=3 * FOOT, extended=extended * FOOT, conductors=2),)))
    assert found.way == way


def test_exactly_four_fifths_of_the_rated_length_is_met() -> None:
    stock = (CordStock(retracted=0.9, extended=2.5, conductors=2),)
    assert cord(CordCase(highest=4.0, offset=0.0, stock=stock)).way == "cord"
    assert cord(CordCase(highest=4.00001, offset=0.0, stock=stock)).way != "cord"


def test_what_a_rated_length_rules_out_the_next_cord_does() -> None:
    stock = tuple(CordStock(retracted=each * FOOT, extended=4 * each * FOOT) for each in (1.5, 2, 3))
    found = cord(feet(highest=10, stock=stock))
    assert in_feet(found.retracted) == 2  # 1-1/2 ft: 5.10 of 4.80


def test_a_cord_whose_rated_length_is_not_stated_is_to_be_read_up() -> None:
    """10 ft of travel draw a 1-1/2 ft cord to 3.4: a rating of four times allows 3.2."""
    near, far = cord(feet(highest=10)), cord(feet(highest=8))
    assert any("rated 4 times is too short" in note for note in near.notes)
    assert not any("too short" in note for note in far.notes)
    assert any("4 to 6 times the retracted one is usual" in text for text in near.assumptions)


def test_a_four_wire_edge_takes_a_cord_of_four_conductors() -> None:
    two, four = (CordStock(retracted=3 * FOOT, conductors=each) for each in (2, 4))
    assert cord(feet(highest=14, stock=(two, four), conductors=4)).way == "cord"
    short = cord(feet(highest=14, stock=(two,), conductors=4))
    assert (short.way, short.retracted) == ("reel", None)
    assert short.why.startswith("No cord has the conductors")


def test_a_cord_whose_conductors_are_not_stated_does_not_count() -> None:
    assert cord(feet(highest=14, stock=(CordStock(retracted=3 * FOOT),), conductors=2)).way == "reel"


def test_without_a_cord_a_reel_has_the_travel_the_offset_and_three_feet() -> None:
    """60 ft of travel: 30 ft from the box, 3.76 times the 8 ft cord; a reel would need 60 + 1 + 3 ft."""
    found = cord(feet(highest=60))
    assert (found.way, found.retracted, found.reel_cable) == ("radio", None, None)
    assert in_feet(found.reel_cable_needed) == 64
    short = cord(feet(highest=14, stock=(CordStock(retracted=FOOT, conductors=2),)))
    assert (short.way, in_feet(short.reel_cable_needed), in_feet(short.reel_cable)) == ("reel", 18, 20)
    assert "3.5 times its length" in short.why


@pytest.mark.parametrize(("travel", "cable"), [(11, 15), (11.001, 20), (36, 40), (36.001, None)])
def test_a_reel_whose_cable_is_just_long_enough_is_taken(travel: float, cable: float | None) -> None:
    found = cord(feet(highest=travel))
    assert in_feet(found.reel_cable) == cable


def test_a_company_with_other_reels_gets_one_of_its_own() -> None:
    found = cord(feet(highest=14, stock=(CordStock(retracted=FOOT),), reel_cables=(30 * FOOT, 17 * FOOT)))
    assert in_feet(found.reel_cable) == 30


def test_the_loop_names_what_it_can_catch_on() -> None:
    heights = (0.5, 5.0, 6.5, 7.0, 8.0)  # the loop hangs from 7 ft down to 5 ft 7 in
    found = cord(feet(highest=14, obstacles=tuple(each * FOOT for each in heights)))
    (caught,) = (note for note in found.notes if "catch" in note)
    assert "at 6 ft 6 in;" in caught


def test_a_loop_that_reaches_the_floor_says_so() -> None:
    found = cord(feet(highest=7, box_height=0.5, most_ratio=2.0))
    assert any("lie on the floor" in note for note in found.notes)


def test_a_box_off_the_middle_says_how_much_farther_the_cord_reaches() -> None:
    """CORD-3: at 0.6 of 14 ft it is exactly 10 % off, at 0.61 more: √(8.54² + 1) - √50 ft."""
    assert not any("off the best" in note for note in cord(feet(highest=14, box_height=8.4)).notes)
    found = cord(feet(highest=14, box_height=8.54))
    assert any(
        "off the best height, 7 ft; the cord has to reach 1 ft 6-5/16 in farther" in note for note in found.notes
    )


def test_every_tenth_of_the_travel_off_the_middle_costs_about_a_tenth() -> None:
    one, two = (cord(feet(highest=14, box_height=each)).longest for each in (8.4, 9.8))
    assert (two - one) / (14 * FOOT) == pytest.approx(0.1, abs=0.002)


def test_what_is_read_is_in_the_readers_units() -> None:
    found = cord(feet(highest=14))
    assert retold(found.why, Reader(units="metric")) == (
        "The 914 mm cord is the shortest that reaches 2.155 m drawn to 2.36 times its length."
    )


REFUSED: list[tuple[Callable[..., object], dict[str, Any], str]] = [
    (
        feet,
        {"highest": 14, "box_height": 12, "reach_highest": 8},
        "12 ft is out of range; at most 8 ft, the highest",
    ),
    (feet, {"highest": 14, "box_height": 2, "reach_lowest": 3}, "2 ft is out of range; at least 3 ft, the lowest"),
    (feet, {"highest": 14, "reach_lowest": 3, "reach_highest": 2}, "at least the lowest place for the box, 3 ft"),
    (feet, {"highest": 3, "lowest": 3}, "more than the lowest place, 3 ft"),
    (CordCase, {"highest": 4.0}, "offset"),
    (CordCase, {"highest": nan, "offset": 0.3}, "out of range"),
    (CordCase, {"highest": inf, "offset": 0.3}, "out of range"),
    (CordCase, {"highest": 0.0, "offset": 0.3}, "above 0 m"),
    (CordCase, {"highest": 4.0, "offset": -0.1}, "at least 0 m"),
    (CordCase, {"highest": 4.0, "offset": 0.3, "most_ratio": 1.0}, "above 1"),
    (CordCase, {"highest": 4.0, "offset": 0.3, "obstacles": (nan,)}, "obstacles: nan is not a length"),
    (CordCase, {"highest": 4.0, "offset": 0.3, "reel_cables": (-1.0,)}, "reel_cables: -3 ft 3-3/8 in is not"),
    (CordStock, {"retracted": 1.0, "extended": 1.0}, "no more than the retracted length"),
]


@pytest.mark.parametrize(("make", "facts", "message"), REFUSED)
def test_what_cannot_be_is_refused_with_what_would_be_right(
    make: Callable[..., object], facts: dict[str, Any], message: str
) -> None:
    with pytest.raises((OutOfRange, TypeError), match=message):
        make(**facts)


@given(
    cases,
    st.none() | st.floats(0, 15),
    st.lists(
        st.builds(CordStock, retracted=st.floats(0.1, 3), conductors=st.none() | st.integers(1, 6)), max_size=4
    ),
    st.none() | st.integers(1, 6),
)
def test_what_is_chosen_reaches_and_nothing_shorter_does(
    case: CordCase, box: float | None, stock: list[CordStock], wires: int | None
) -> None:
    found = cord(with_(case, box_height=box, stock=tuple(stock), conductors=wires))
    as_json(found)
    assert found.shortest <= found.longest
    assert (found.way == "cord") == (found.retracted is not None)
    if found.retracted is not None and stock:
        shorter = [
            each
            for each in stock
            if each.retracted < found.retracted and (not wires or (each.conductors or 0) >= wires)
        ]
        assert all(found.longest > 3.5 * each.retracted for each in shorter)
        assert found.longest <= 3.5 * found.retracted + 1e-9
    if found.loop_bottom is not None:
        assert found.loop_bottom <= found.box_height


def test_the_answer_knows_its_sources_and_its_case() -> None:
    case = feet(highest=14)
    found = cord(case)
    assert isinstance(found, CordResult)
    assert found.case is case
    assert {each.sure for each in found.sources} == {"memory", "computed"}


def test_the_example_reads_and_answers() -> None:
    """14 ft of travel, box within 3 to 8 ft, an eye and a hook: 7 ft, 3 ft cord, loop down to 5 ft 7 in."""
    example = Path(__file__).parents[2] / "examples" / "cord.yaml"
    found = cord(read_case(CordCase, read_document(example), example.name))
    assert (found.way, in_feet(found.retracted), in_feet(found.box_height)) == ("cord", 3.0, 7.0)
    assert [note for note in found.notes if "catch" in note] == [
        "There it can catch on what stands at 6 ft; move the box, or guard it."
    ]
