"""Quantities: feet, inches and fractions exactly, every unit against the units library, and what is refused.

The exact expectations are computed with :class:`fractions.Fraction` from 1 in = 25.4 mm; the others by pint.
"""

from __future__ import annotations

import tomllib
from fractions import Fraction
from importlib.resources import files

import pint
import pytest

from sillwright.base import quantity
from sillwright.base.errors import QuantityError
from sillwright.base.quantity import accepted, inches_after_the_point, is_decimal_feet, parse
from sillwright.base.rare_units import scale_of
from sillwright.base.scale import FOOT, INCH

UNITS = tomllib.loads((files("sillwright.base") / "data" / "units.toml").read_text(encoding="utf-8"))["unit"]
REGISTRY = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
SI = {
    (1, 0, 0, 0, 0): "m", (0, 1, 0, 0, 0): "kg", (0, 0, 1, 0, 0): "s", (1, 1, -2, 0, 0): "N",
    (0, 1, -2, 0, 0): "N/m", (1, 0, -1, 0, 0): "m/s", (1, 0, -2, 0, 0): "m/s^2", (0, 0, 0, 0, 1): "K",
    (2, 1, -3, -2, 0): "ohm", (2, 1, -2, 0, 0): "J", (2, 1, -3, -1, 0): "V", (0, 0, 0, 1, 0): "A",
    (0, 1, -1, 0, 0): "N*s/m", (0, 0, -1, 0, 0): "1/s", (0, 0, 0, 0, 0): "1",
    (-1, 1, 0, 0, 0): "kg/m", (1, 1, -3, -2, 0): "ohm/m", (0, 0, 1, 1, 0): "A*s",
}  # fmt: skip

WRITTEN = [
    ("10 ft 6 in", 126),
    ("10'6\"", 126),
    ("10' 6-1/2\"", Fraction(253, 2)),
    ("10 ft 6 1/2 in", Fraction(253, 2)),
    ("10 ft. 6 in.", 126),
    ("10 feet 6 inches", 126),
    ("1 foot 1 inch", 13),
    ("10 FT 6 IN", 126),
    ("10ft6in", 126),
    ("10 ft - 6 in", 126),
    ("10 ft", 120),
    ("126 in", 126),
    ("3/8 in", Fraction(3, 8)),
    ("1/2 ft", 6),
    ("10.6 ft", Fraction(636, 5)),
    ("6.25 in", Fraction(25, 4)),
    (".5 in", Fraction(1, 2)),
    ("5 ft 11.5 in", Fraction(143, 2)),
    ("-1/8 in", Fraction(-1, 8)),
    ("+2 in", 2),
    ("-5 ft 6 in", -66),
    ("  7 in  ", 7),
    # as telephones, word processors and drawings write them
    ("10′ 6″", 126),
    ("10’ 6”", 126),
    ("10’ 6“", 126),
    ("10' 6''", 126),
    ("10′ 6′′", 126),
    ("10’ 6½’’", Fraction(253, 2)),
    ("6''", 6),
    ("10′ 6½″", Fraction(253, 2)),
    ("10 ft 6 ½ in", Fraction(253, 2)),
    ("¼ in", Fraction(1, 4)),
    ("¾ in", Fraction(3, 4)),
    ("⅛ in", Fraction(1, 8)),
    ("⅜ in", Fraction(3, 8)),
    ("⅝ in", Fraction(5, 8)),
    ("2⅞ in", Fraction(23, 8)),
    ("−1/8 in", Fraction(-1, 8)),
    ("–1/8 in", Fraction(-1, 8)),
    ("10\u00a0ft\u00a06\u00a0in", 126),
]


@pytest.mark.parametrize(("text", "inches"), WRITTEN, ids=[text for text, _ in WRITTEN])
def test_feet_inches_and_fractions_are_read_exactly(text, inches):
    assert parse(text, "m") == float(Fraction(inches) * Fraction(254, 10_000))


def test_an_inch_is_25_4_millimetres(verify):
    source = "International yard and pound agreement of 1959: 1 in = 25.4 mm exactly"
    verify("one inch", got=parse("1 in", "m"), expected=0.0254, within=0, source=source)
    verify("one foot", got=parse("1 ft", "m"), expected=0.3048, within=0, source=source)
    assert (Fraction(127, 5000), Fraction(381, 1250)) == (INCH, FOOT)


def wanted_by(symbol: str) -> str:
    """The SI unit of the same dimension as a unit of the table."""
    return SI[tuple(int(power) for power in UNITS[symbol]["dimension"])]


ONLY_HERE = {
    "1": "dimensionless",
    "lbs": "lb",
    "sec": "s",
    "kOhm": "kohm",
    "Ohm": "ohm",
    "N s/m": "N*s/m",
    "A h": "A*h",
}
WITH_UNIT = [symbol for symbol in UNITS if not symbol.startswith("1")]


@pytest.mark.parametrize("symbol", UNITS)
def test_every_unit_of_the_table_is_that_of_the_units_library(symbol, verify):
    library = REGISTRY.parse_units(ONLY_HERE.get(symbol, symbol))
    for count in (1.0, 37.25):
        wanted = REGISTRY.Quantity(count, library).to(wanted_by(symbol).replace("1/s", "1/second"))
        row = UNITS[symbol]
        verify(
            f"{count:g} {symbol}",
            got=count * row["factor"] + row.get("offset", 0.0),
            expected=wanted.magnitude if symbol != "1" else count,
            within=1e-13,
            source="pint, a general units library",
        )


@pytest.mark.parametrize("symbol", WITH_UNIT)
def test_every_unit_of_the_table_can_be_typed(symbol):
    row = UNITS[symbol]
    assert parse(f"37.25 {symbol}", wanted_by(symbol)) == pytest.approx(
        37.25 * row["factor"] + row.get("offset", 0), rel=1e-12
    )


@pytest.mark.parametrize("symbol", UNITS)
def test_the_table_is_what_the_library_writes_today(symbol):
    scale = scale_of(ONLY_HERE.get(symbol, {"°C": "degC", "°F": "degF", "m/s²": "m/s^2"}.get(symbol, symbol)))
    assert scale is not None
    row = UNITS[symbol]
    assert (scale.factor, list(scale.dimension)) == (row["factor"], row["dimension"])
    assert scale.offset == pytest.approx(row.get("offset", 0.0), abs=1e-9)


# Defining points of the scales: ice, steam, the common point, absolute zero.
TEMPERATURES = [
    ("0 degC", 273.15), ("32 degF", 273.15), ("100 °C", 373.15), ("212 °F", 373.15), ("-40 degC", 233.15),
    ("-40 degF", 233.15), ("-459.67 degF", 0.0), ("300 K", 300.0),
]  # fmt: skip


@pytest.mark.parametrize(("text", "kelvin"), TEMPERATURES)
def test_temperatures(text, kelvin, verify):
    source = "Definition of the Celsius and Fahrenheit scales (ice 0 °C = 32 °F = 273.15 K, 180 °F = 100 K)"
    verify(text, got=parse(text, "K"), expected=kelvin, within=1e-10, source=source, relative=False)


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("3 furlong", "m", 603.504),  # the international furlong is 201.168 m, the library's the US survey one
        ("2 µm", "m", 2e-6),
        ("2 μm", "m", 2e-6),
        ("1 mile/h", "m/s", 0.44704),
        ("3 m/s²", "m/s^2", 3),
        ("1 lbf·s/ft", "N s/m", 14.593903),
        ("1 slug", "kg", 14.593903),
        ("50 %", "1", 0.5),
        ("30 rpm", "1/s", 3.14159265),
    ],
)
def test_a_rare_unit_is_read_by_the_library(text, unit, value):
    assert parse(text, unit) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "unit", "value"), [("15 dB", "dB", 15), ("-97.5dBm", "dBm", -97.5), ("0 dB", "dB", 0)]
)
def test_a_level_is_read_as_it_stands(text, unit, value):
    assert parse(text, unit) == value


@pytest.mark.parametrize(
    ("text", "unit"), [("15 dBm", "dB"), ("15 dB", "dBm"), ("15", "dB"), ("1 mW", "dBm"), ("1e999 dB", "dB")]
)
def test_no_level_is_made_of_anything_else(text, unit):
    with pytest.raises(QuantityError, match=f'write for example "-?[0-9]+ {unit}"'):
        parse(text, unit)


def test_a_battery_is_read_in_ampere_hours():
    assert parse("1200 mAh", "A h") == pytest.approx(1.2, rel=1e-12)
    assert parse("2.2 A h", "A h") == pytest.approx(2.2, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "value"), [("3", 3), ("2.5", 2.5), ("1/4", 0.25), ("1 1/2", 1.5), ("-1-1/2", -1.5), ("1e3", 1000)]
)
def test_a_number_without_a_unit_stands_where_none_is_wanted(text, value):
    assert parse(text, "1") == value


REFUSED = [
    ("10", "m", "no unit"),
    ("10.5", "m", "no unit"),
    ("6-1/2", "m", "no unit"),
    ("1,000 mm", "m", "comma"),
    ("3,5 m", "m", "comma"),
    ("10 ft 3,5 in", "m", "comma"),
    ("3 s", "m", "does not measure"),
    ("3 kg", "N", "does not measure"),
    ("3 lb", "N", "does not measure"),
    ("1 V", "K", "does not measure"),
    ("3 cd", "m", "unknown unit"),  # candela: a dimension that no door has
    ("3 sillwidth", "m", "unknown unit"),
    ("3 if", "m", "unknown unit"),
    ("3 None", "m", "unknown unit"),
    ("5 dB", "1", "unknown unit"),
    ("5 Np", "1", "unknown unit"),
    ("5 dBm", "N", "unknown unit"),
    ("1e999", "1", "finite"),
    ("1e999 m", "m", "finite"),
    ("1e999 mm", "m", "finite"),
    ("nan m", "m", "not a quantity"),
    ("inf m", "m", "not a quantity"),
    ("ten feet", "m", "not a quantity"),
    ("", "m", "not a quantity"),
    ("m", "m", "not a quantity"),
    ("٣ m", "m", "not a quantity"),
    ("1_000 m", "m", "not a quantity"),
    ("10 ft 6", "m", "not a quantity"),
    ("3 m^9", "m", "not a quantity"),
    ("9**9**9**9 m", "m", "not a quantity"),
    ("3 m^99999999", "m", "not a quantity"),
    ("1e99999999 m", "m", "not a quantity"),
    ("3 m*s*A*K*kg*N", "m", "not a quantity"),
    ("3 m**2", "m", "not a quantity"),
    ("10 ft 12 in", "m", "12 inches or more"),
    ("10.5 ft 6 in", "m", "part of a foot"),
    ("1/2 ft 6 in", "m", "part of a foot"),
    ("10 ft 11/2 in", "m", "can be read two ways"),
    ("101/2 in", "m", "can be read two ways"),
    ("6-17/16 in", "m", "can be read two ways"),
    ("3/2 ft", "m", "can be read two ways"),
    ("8/8 in", "m", "can be read two ways"),
    ("1/0 in", "m", "nothing below the line"),
    ("6 1/0 in", "m", "nothing below the line"),
    ("1/0", "1", "nothing below the line"),
    ("1" * 5000 + " m", "m", "too long"),
    ("1" * 5000 + "/3", "1", "too long"),
    ("1 " + "m" * 1_000_000, "m", "too long"),
    ("1" + " " * 1_000_000 + "m", "m", "too long"),
    ("10." + "0" * 5000 + " ft", "m", "too long"),
    ("x" * 1_000_000, "K", "too long"),
]


@pytest.mark.parametrize(
    ("text", "unit", "said"), REFUSED, ids=[f"{text[:12]}-{len(text)}-{unit}" for text, unit, _ in REFUSED]
)
def test_what_is_no_quantity_is_refused_with_what_would_be(text, unit, said):
    with pytest.raises(QuantityError) as caught:
        parse(text, unit)
    assert said in caught.value.message
    assert caught.value.accepted
    assert len(str(caught.value)) < 300, "a message is short, whatever was typed"


def test_a_longest_quantity_is_read():
    assert parse("0" * 55 + "10 ft", "m") == parse("10 ft", "m")


def test_a_unit_whose_power_overflows_is_unknown():
    assert scale_of("sigma^-4 kilometer^3*lumen^3") is None


def test_a_unit_of_a_thousand_signs_is_unknown_at_once():
    assert scale_of("m" * 1000) is None


def test_a_wanted_unit_that_nobody_knows_fits_nothing():
    with pytest.raises(QuantityError, match="does not measure"):
        parse("3 m", "sillwidth")


def test_an_everyday_unit_needs_no_library(monkeypatch):
    monkeypatch.setattr("sillwright.base.rare_units.scale_of", lambda symbol: pytest.fail(symbol))
    assert parse("8 in/s", "m/s") == pytest.approx(0.2032)


@pytest.mark.parametrize(
    ("text", "decimal", "other"),
    [
        ("10.6 ft", True, "10 ft 6 in"),
        ("10.6'", True, "10 ft 6 in"),
        ("10.11 ft", True, "10 ft 11 in"),
        ("10.0 ft", True, "10 ft"),
        (".6 ft", True, "6 in"),
        ("10.75 ft", True, None),
        ("10. ft", True, None),
        ("10 ft 6 in", False, None),
        ("10 ft", False, None),
        ("10.6 in", False, None),
        ("10.6 m", False, None),
        ("10.6", False, None),
        ("10." + "6" * 5000 + " ft", False, None),
    ],
    ids=lambda value: str(value)[:20],
)
def test_decimal_feet_can_be_read_two_ways(text, decimal, other):
    assert is_decimal_feet(text) is decimal
    found = inches_after_the_point(text)
    assert (None if found is None else float(found)) == (None if other is None else parse(other, "m"))


@pytest.mark.parametrize("unit", quantity.EXAMPLES)
def test_the_examples_of_a_message_are_accepted(unit):
    texts = accepted(unit).replace('\\"', "″").split('"')[1::2]
    assert texts or unit == "1"
    for text in texts:
        assert parse(text, unit) is not None


def test_a_unit_without_examples_is_named():
    assert accepted("Pa") == "write for example a number with a unit like Pa"
