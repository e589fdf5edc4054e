"""Where the readings of a loop are heading."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import permutations
from statistics import median
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.circuit.ohm_trend import MONTH, DatedReading, by_chance, ohm_trend, tail, theil_sen

from ..verification import Verify

START = date(2022, 5, 1)


def every(months: float, *ohms: float, **each: Any) -> list[DatedReading]:
    """Readings so many months apart."""
    return [
        DatedReading(on=START + timedelta(days=round(at * months * MONTH)), ohm=ohm, **each)
        for at, ohm in enumerate(ohms)
    ]


@pytest.mark.parametrize("readings", [[], every(12, 10e3), every(12, 10e3, 9e3), every(0.5, 10e3, 9e3, 8e3)])
def test_too_few_readings_are_called_too_few(readings: list[DatedReading]) -> None:
    found = ohm_trend(readings)
    assert "Too few readings" in found.answer or found.answer == "No reading is noted yet."
    assert (found.ohm_per_month, found.months, found.sure) == (None, None, False)


def test_three_readings_on_one_day_are_one() -> None:
    one = DatedReading(on=START, ohm=9e3)
    later = DatedReading(on=START + timedelta(days=400), ohm=8e3)
    assert "Too few" in ohm_trend([one, one, one, later]).answer


def test_readings_that_fall_year_by_year_say_when_the_door_will_stop() -> None:
    found = ohm_trend(every(12, 10e3, 9.5e3, 9e3, 8.5e3, 8e3))
    assert found.sure
    assert found.warning
    assert found.band == "damp"
    assert found.trips == pytest.approx(3.4e3)
    assert found.ohm_per_month == pytest.approx(-500 / 12, rel=0.01)
    assert found.months == pytest.approx((8000 - 3400) / (500 / 12), rel=0.01)
    assert found.months_least is not None
    assert found.months is not None
    assert found.months_least <= found.months
    assert "reads pressed, in 110 months" in found.answer


def test_readings_that_rise_head_for_open() -> None:
    found = ohm_trend(every(12, 10e3, 13e3, 16e3, 19e3), element=10e3)
    assert (found.trips, found.band, found.warning) == (30e3, "joint", False)
    assert "reads open" in found.answer
    assert ohm_trend(every(12, 10e3, 11e3, 12e3, 13e3), pull_up=4.7e3).trips == pytest.approx(14.1e3)


@pytest.mark.parametrize("element", [1e3, 8.2e3, 22e3])
def test_a_trend_scales_with_the_end_element(element: float) -> None:
    shares = (1.0, 0.95, 0.9, 0.85)
    here, ten = (ohm_trend(every(12, *(share * each for share in shares)), each) for each in (element, 10e3))
    assert here.months == pytest.approx(ten.months)
    assert (here.band, here.warning) == (ten.band, ten.warning) == ("damp", True)


@pytest.mark.parametrize(
    ("ohm", "warning"), [(9.6e3, False), (9.2e3, False), (8.9e3, True), (7e3, True), (3.5e3, True), (3.3e3, False)]
)
def test_between_the_tolerance_and_the_trip_the_last_reading_is_a_warning(ohm: float, warning: bool) -> None:
    assert ohm_trend(every(12, 10e3, ohm)).warning is warning


def test_readings_that_wander_have_no_trend() -> None:
    found = ohm_trend(every(6, 10e3, 9.8e3, 10.1e3, 9.9e3, 10e3, 9.95e3))
    assert found.answer == "No trend that is more than chance."
    assert (found.sure, found.months, found.months_least) == (False, None, None)


def test_three_readings_are_never_more_than_chance() -> None:
    assert not ohm_trend(every(12, 10e3, 8e3, 6e3)).sure


def test_one_wild_reading_does_not_make_a_trend_and_does_not_hide_one() -> None:
    calm = ohm_trend(every(6, 10e3, 9.9e3, 9.8e3, 9.7e3, 9.6e3, 9.5e3, 9.4e3))
    wild = ohm_trend(every(6, 10e3, 9.9e3, 9.8e3, 500.0, 9.6e3, 9.5e3, 9.4e3))
    assert wild.ohm_per_month == pytest.approx(calm.ohm_per_month, rel=0.02)


def test_a_trend_that_never_gets_there_in_twenty_years_names_no_month() -> None:
    found = ohm_trend(every(12, 10e3, 9.99e3, 9.98e3, 9.97e3))
    assert found.sure
    assert found.months is None
    assert found.answer == "It falls by 10 Ω a year."
    assert ohm_trend(every(12, 10e3, 10.01e3, 10.02e3, 10.03e3)).answer == "It rises by 10 Ω a year."


def test_a_loop_that_is_there_already_trips_any_day() -> None:
    found = ohm_trend(every(12, 9e3, 7e3, 5e3, 3e3))
    assert found.months == 0
    assert "any day now" in found.answer


def test_readings_elsewhere_are_left_out_and_said_so() -> None:
    rows = [*every(12, 10e3, 9.5e3, 9e3, 8.5e3, at="box"), *every(12, 10e3, 4e3, at="operator")]
    found = ohm_trend(rows)
    assert found.used == 4
    assert any("2 readings were taken at other places" in each for each in found.notes)
    among_equals = ohm_trend([*every(12, 10e3, 9e3, at="operator"), *every(12, 5e3, 4e3, at="edge")])
    assert among_equals.band == "wet"


def test_weather_is_noted() -> None:
    unknown = ohm_trend(every(12, 10e3, 9e3, 8e3))
    assert any("Note the temperature" in each for each in unknown.notes)
    rows = [
        DatedReading(on=START + timedelta(days=365 * at), ohm=10e3, temperature=kelvin)
        for at, kelvin in enumerate((268.15, 298.15, 283.15))
    ]
    assert any("Read between 23 °F and 77 °F" in each for each in ohm_trend(rows).notes)
    alike = [DatedReading(on=each.on, ohm=each.ohm, temperature=283.15) for each in rows]
    assert not ohm_trend(alike).notes


@pytest.mark.parametrize("ohm", [float("inf"), float("nan"), -1.0])
def test_a_break_is_no_reading_for_a_trend(ohm: float) -> None:
    with pytest.raises(OutOfRange, match="2022-05-01"):
        ohm_trend(every(12, ohm))


@given(st.lists(st.floats(0, 1e6), min_size=3, max_size=12, unique=True))
def test_the_slope_and_the_chance_are_those_of_a_general_library(ohms: list[float]) -> None:
    from scipy.stats import kendalltau, theilslopes

    rows = every(6, *ohms)
    months = [(each.on - START).days / MONTH for each in rows]
    assert median(theil_sen(rows)) == pytest.approx(float(theilslopes(ohms, months)[0]), rel=1e-9, abs=1e-6)
    assert by_chance(rows) == pytest.approx(float(kendalltau(months, ohms, method="exact").pvalue), abs=1e-12)


def test_kendalls_tail_is_that_of_all_orders_and_of_the_library(verify: Verify) -> None:
    from scipy.stats import kendalltau

    ohms = [10e3, 9.7e3, 9.8e3, 9.1e3, 8.6e3, 8.9e3, 8.2e3]
    verify(
        "Kendall's test, seven readings", got=by_chance(every(12, *ohms)),
        expected=float(kendalltau(range(7), ohms, method="exact").pvalue), within=1e-12, source="SciPy, kendalltau",
    )  # fmt: skip
    for count in (3, 4, 5, 6):
        scores = [
            abs(sum((one < other) - (one > other) for at, one in enumerate(row) for other in row[at + 1 :]))
            for row in permutations(range(count))
        ]
        for score in range(count * (count - 1) // 2 + 2):
            counted = sum(each >= score for each in scores) / len(scores)
            assert tail(count, score) == pytest.approx(counted, abs=1e-12)


def test_the_steepest_slope_is_the_end_of_the_band_of_hollander_and_wolfe() -> None:
    """Five readings, 10 slopes: with 1 in 12 the band runs from the second slope to the ninth (k 8, M 2)."""
    rows = every(12, 10e3, 9.6e3, 9.3e3, 8.5e3, 8e3)
    slopes = theil_sen(rows)
    found = ohm_trend(rows)
    here = median(each.ohm - slopes[1] * (each.on - START).days / MONTH for each in rows)
    months = (3400 - here) / slopes[1] - (rows[-1].on - START).days / MONTH
    assert found.months_least == pytest.approx(months)
    rising = every(12, 10e3, 12e3, 13.5e3, 17.5e3, 20e3)
    steep = theil_sen(rising)[8]
    here = median(each.ohm - steep * (each.on - START).days / MONTH for each in rising)
    months = (30e3 - here) / steep - (rising[-1].on - START).days / MONTH
    assert ohm_trend(rising).months_least == pytest.approx(months)


@given(st.lists(st.tuples(st.integers(0, 4000), st.floats(0, 1e9)), max_size=15), st.floats(1, 1e6))
def test_any_readings_have_an_answer(rows: list[tuple[int, float]], element: float) -> None:
    found = ohm_trend([DatedReading(on=START + timedelta(days=days), ohm=ohm) for days, ohm in rows], element)
    assert found.answer
    assert found.months is None or (found.sure and 0 <= found.months <= 240)
