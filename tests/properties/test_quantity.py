"""Lengths there and back, and that no text at all does anything but be read or be refused."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction
from math import isfinite

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from sillwright.base.display import feet_and_inches, show
from sillwright.base.errors import QuantityError
from sillwright.base.quantity import EXAMPLES, inches_after_the_point, is_decimal_feet, parse
from sillwright.base.scale import SIXTEENTH

SIGNS = "0123456789 ./-+'\"eE,%^*·/ftinmskgNKohmdegFC½⅞′″"


@given(st.integers(-200_000, 200_000))
def test_a_length_in_sixteenths_comes_back_as_it_was(sixteenths):
    length = float(Fraction(sixteenths) * Fraction(127, 80_000))
    assert parse(feet_and_inches(length), "m") == pytest.approx(length, abs=1e-12)


@given(st.floats(-60, 60))
def test_any_length_comes_back_to_the_nearest_sixteenth(length):
    assert abs(parse(feet_and_inches(length), "m") - length) <= SIXTEENTH / 2 * (1 + 1e-9)


@given(st.integers(0, 99), st.integers(0, 11), st.sampled_from([2, 4, 8, 16, 32, 64]), st.data())
def test_feet_inches_and_a_fraction_add_up(feet, inches, below, data):
    above = data.draw(st.integers(1, below - 1))
    exact = (feet * 12 + inches + Fraction(above, below)) * Fraction(127, 5000)
    for text in (f"{feet} ft {inches}-{above}/{below} in", f"{feet}'{inches} {above}/{below}\""):
        assert parse(text, "m") == float(exact)


@given(st.floats(0.001, 5000), st.sampled_from(["m/s", "kg", "N/m", "m/s^2"]))
def test_a_printed_quantity_reads_back_to_three_digits(value, unit):
    shown = show(value, unit, "metric").replace(",", "")
    assert parse(shown, unit) == pytest.approx(value, rel=6e-3)


@given(st.text(max_size=80) | st.text(SIGNS, max_size=80), st.sampled_from(sorted(EXAMPLES)))
@example("1/0", "1")
@example("5 dB", "1")
@example("1" * 61 + "/3", "1")
def test_any_text_is_a_finite_number_or_is_refused(text, unit):
    is_decimal_feet(text)
    inches_after_the_point(text)
    with suppress(QuantityError):
        assert isfinite(parse(text, unit))


@given(
    st.lists(
        st.sampled_from(["m", "dB", "sigma", "lumen", "degF", "mile", "in", "or", "xyz", "pH"]),
        min_size=1,
        max_size=4,
    ),
    st.sampled_from("*/ ·"),
    st.sampled_from(["", "^2", "^-4", "³"]),
    st.sampled_from(["m", "1", "K"]),
)
def test_any_unit_measures_or_is_refused(names, sign, power, wanted):
    with suppress(QuantityError):
        assert isfinite(parse(f"3 {sign.join(name + power for name in names)}", wanted))
