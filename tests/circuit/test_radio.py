"""What a radio link loses on its way, what is left with the leaf open, and how long its battery lasts."""

from __future__ import annotations

from dataclasses import replace
from math import log10, pi
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.base.words import Reader, retold
from sillwright.circuit import RadioCase, radio

from ..verification import Verify

LINK = {"transmit_power": 10.0, "sensitivity": -100.0}


def case(**changed: Any) -> RadioCase:
    """A transmitter 20 m from its receiver."""
    return RadioCase(**{"frequency": 915e6, "distance": 20.0, **changed})


def test_free_space_loses_what_the_recommendation_says(verify: Verify) -> None:
    found = radio(case(frequency=2.4e9, distance=1000.0, model="free_space")).path_loss
    source = "ITU-R P.525"
    verify(
        "2,400 MHz over 1 km", got=found, expected=100.05, within=0.005, relative=False,
        source="20 lg km + 20 lg MHz + 32.4478, computed apart",
    )  # fmt: skip
    rounded = 20 * log10(1.0) + 20 * log10(2400) + 32.4
    verify(
        "the same with its printed constant 32.4", got=found, expected=rounded, within=0.05, relative=False,
        source=source,
    )  # fmt: skip
    at_one = radio(case(frequency=1e6, distance=1000.0, model="free_space")).path_loss
    exact = 20 * log10(4 * pi * 1e9 / 299_792_458)
    verify("its constant", got=at_one, expected=exact, within=1e-9, source=source, relative=False)


def test_indoors_a_link_loses_what_the_form_for_buildings_says(verify: Verify) -> None:
    verify(
        "915 MHz over 20 m on one floor", got=radio(case()).path_loss, expected=74.162, within=5e-4, relative=False,
        source="ITU-R P.1238 (form up to version 10): 20 lg MHz + N lg m + L_f − 28, N 33",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("frequency", "loss"), [(433e6, 33), (915e6, 33), (1.9e9, 30), (2.4e9, 30), (5.2e9, 31), (60e9, 31)]
)
def test_the_loss_for_a_tenfold_distance_is_that_of_the_nearest_frequency(frequency: float, loss: float) -> None:
    near, far = (radio(case(frequency=frequency, distance=each)).path_loss for each in (10.0, 100.0))
    assert far - near == pytest.approx(loss)


def test_an_open_hall_loses_less_and_a_told_number_counts_first() -> None:
    office, hall, told = (
        radio(case(**each)).path_loss
        for each in ({}, {"surroundings": "hall"}, {"surroundings": "hall", "distance_loss": 40.0})
    )
    assert hall < office < told
    assert radio(case(floor_loss=9.0)).path_loss == pytest.approx(office + 9)


@pytest.mark.parametrize(("milliampere", "years"), [(0.03, 3.5), (0.06, 1.8), (0.15, 0.7)])
def test_a_battery_lasts_as_long_as_the_rule_of_thumb_says(
    milliampere: float, years: float, verify: Verify
) -> None:
    found = radio(case(capacity=1.2, mean_current=milliampere / 1000))
    verify(
        f"1,200 mAh at {milliampere} mA", got=found.battery_years or 0, expected=years, within=0.05, relative=False,
        source="0.8 capacity over 8,760 times mean and self-discharge of 1 % a year, computed apart",
    )  # fmt: skip


def test_below_zero_fahrenheit_half_of_the_years_are_left_and_at_zero_all() -> None:
    warm, edge, cold = (
        radio(case(capacity=1.2, mean_current=6e-5, coldest=each)).battery_years
        for each in (None, 255.37222222222223, 255.3)
    )
    assert warm is not None
    assert cold is not None
    assert warm == edge == pytest.approx(2 * cold)


def test_a_battery_of_which_something_is_not_known_has_no_years() -> None:
    assert radio(case(capacity=1.2)).battery_years is None
    assert radio(case(mean_current=6e-5)).battery_years is None


def test_with_the_leaf_open_a_coil_is_counted_unless_somebody_knows_better() -> None:
    found = radio(case(**LINK))
    assert found.link_margin == pytest.approx(110 - 74.162, abs=1e-3)
    assert found.link_margin_open == pytest.approx(110 - 74.162 - 25, abs=1e-3)
    assert any("10 dB to 25 dB" in each for each in found.assumptions)
    known = radio(case(open_loss=3.0, **LINK))
    assert known.link_margin_open == pytest.approx(110 - 74.162 - 3, abs=1e-3)
    assert not any("coil" in each for each in known.assumptions)


@pytest.mark.parametrize(
    ("open_loss", "link"), [(20.837, "good"), (20.838, "narrow"), (25.837, "narrow"), (25.838, "poor")]
)
def test_fifteen_decibels_are_good_and_ten_are_narrow(open_loss: float, link: str) -> None:
    """The loss of 74.1624 dB leaves 35.8376 dB of 110."""
    assert radio(case(open_loss=open_loss, **LINK)).link == link


def test_nobody_knows_a_link_without_power_or_sensitivity() -> None:
    for each in ({}, {"transmit_power": 10.0}, {"sensitivity": -100.0}):
        found = radio(case(**each))
        assert (found.link, found.link_margin, found.link_margin_open, found.distance_good) == (
            "not known", None, None, None,
        )  # fmt: skip


def test_what_was_read_on_site_counts_before_what_was_computed_and_the_worst_of_it_decides() -> None:
    good = {"open_loss": 0.0, **LINK}
    assert radio(case(**good)).link == "good"
    found = radio(case(margins=(22.0, 21.0, 19.0, 16.0, 9.0), **good))
    assert (found.link, found.least_margin) == ("poor", 9.0)
    assert radio(case(margins=(22.0, 21.0, 19.0, 16.0, 15.0))).link == "good"


def said(**changed: Any) -> str:
    return " ".join(radio(case(**changed)).notes)


def test_a_survey_that_is_not_whole_is_asked_for() -> None:
    assert "Read the margin closed" in said()
    assert "3 of five places are read" in said(margins=(20.0, 20.0, 20.0))
    whole = said(margins=(20.0,) * 5)
    assert "Read the margin" not in whole
    assert "places are read" not in whole


def test_many_neighbours_or_uncounted_ones_are_a_reason_to_look() -> None:
    assert "Neighbours" in said()
    assert "Neighbours" in said(systems=9)
    assert "Neighbours" not in said(systems=8)


def test_a_narrow_link_is_told_where_the_antenna_belongs() -> None:
    narrow = radio(case(**LINK)).notes[0]
    assert "10 ft from a drive's motor lead" in narrow
    assert "3.048 m from" in retold(narrow, Reader(units="metric"))
    assert "Move the antenna" not in said(open_loss=0.0, **LINK)


def test_it_counts_as_monitored_by_the_whole_chain_only_and_is_tried_by_lifting_the_battery() -> None:
    assert "counts as monitored only if" in said()
    assert "Lift the battery" in said()


@given(
    st.floats(300e6, 10e9), st.sampled_from(["indoor", "free_space"]), st.floats(-20, 30), st.floats(-120, -60),
    st.floats(0, 40),
)  # fmt: skip
def test_up_to_the_good_distance_the_margin_is_good_and_beyond_it_is_not(
    frequency: float, model: Any, power: float, sensitivity: float, open_loss: float
) -> None:
    link = case(
        frequency=frequency, distance=5.0, model=model, transmit_power=power, sensitivity=sensitivity,
        open_loss=open_loss,
    )  # fmt: skip
    reach = radio(link).distance_good
    if reach is None:
        assert radio(link).link != "good"
        return
    if reach < 9e5:
        there, beyond = (radio(replace(link, distance=reach * each)).link_margin_open for each in (1.0, 1.01))
        assert there == pytest.approx(15)
        assert beyond is not None
        assert beyond < 15


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ({"distance": 0.5}, "1 m on"),
        ({"frequency": 27e6}, "300 MHz"),
        ({"model": "free_space", "distance": 0.3}, "wavelength"),
    ],
)
def test_a_formula_outside_its_range_is_refused(wrong: dict[str, Any], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        radio(case(**wrong))


@pytest.mark.parametrize(
    "wrong",
    [
        {"distance": 0.0}, {"distance": float("nan")}, {"frequency": 0.0}, {"model": "moon"}, {"capacity": 0.0},
        {"mean_current": 0.0}, {"usable": 0.0}, {"usable": 1.1}, {"margins": (float("nan"),)},
        {"margins": (float("-inf"), 3.0)}, {"self_discharge": -0.1}, {"transmit_power": float("inf")},
    ],
    ids=str,
)  # fmt: skip
def test_what_is_no_link_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(OutOfRange):
        case(**wrong)


def test_a_link_is_not_good_before_all_five_places_were_read() -> None:
    told: dict[str, Any] = {"frequency": 915e6, "distance": 20.0}
    assert radio(RadioCase(**told, margins=(30.0,))).link == "not known"
    assert radio(RadioCase(**told, margins=(30.0, 12.0))).link == "narrow"
    assert radio(RadioCase(**told, margins=(30.0,) * 5)).link == "good"
