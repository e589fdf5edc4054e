"""What a wire resists, against handbook tables."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.circuit import WireCase, wire

from ..verification import Verify

THOUSAND_FEET = 304.8
HOT = 348.15  # 75 °C

# Handbook wire table, solid, ohm per 1000 ft at 20 °C; half a unit of the last digit, and the 0.25 % by which
# tables with rounded diameters differ.
HANDBOOK = [(14, 2.525), (16, 4.016), (18, 6.385), (20, 10.15)]
# NFPA 70 (NEC), chapter 9, Table 8, uncoated copper at 75 °C, ohm per 1000 ft: solid, stranded of seven.
NEC = [(18, 7.77, 7.95), (16, 4.89, 4.99), (14, 3.07, 3.14)]
# The same three gauges brought from 20 to 75 °C with 0.00393 per kelvin, computed apart.
BROUGHT = [(18, 7.765), (16, 4.884), (14, 3.071)]


@pytest.mark.parametrize(("gauge", "ohm"), HANDBOOK)
def test_a_thousand_feet_resist_what_the_handbook_says(gauge: int, ohm: float, verify: Verify) -> None:
    verify(
        f"{gauge} gauge, 1000 ft at 20 °C",
        got=wire(WireCase(gauge=gauge, length=THOUSAND_FEET)).resistance,
        expected=ohm,
        within=0.001,
        source="handbook wire table, solid copper at 20 °C",
    )


def test_tables_with_rounded_diameters_lie_a_quarter_of_a_percent_away(verify: Verify) -> None:
    verify(
        "20 gauge, 1000 ft at 20 °C",
        got=wire(WireCase(gauge=20, length=THOUSAND_FEET)).resistance,
        expected=10.13,
        within=0.003,
        source="NBS Handbook 100, Copper Wire Tables, diameters rounded to 0.1 mil",
    )


@pytest.mark.parametrize(("gauge", "solid", "stranded"), NEC)
def test_a_warm_wire_resists_what_the_electrical_code_prints(
    gauge: int, solid: float, stranded: float, verify: Verify
) -> None:
    for build, ohm in (("solid", solid), ("stranded", stranded)):
        found = wire(WireCase(gauge=gauge, length=THOUSAND_FEET, temperature=HOT, build=build))  # type: ignore[arg-type]
        verify(
            f"{gauge} gauge {build}, 1000 ft at 75 °C",
            got=found.resistance,
            expected=ohm,
            within=0.005,
            source="NFPA 70 (NEC), chapter 9, Table 8, uncoated copper",
        )


@pytest.mark.parametrize(("gauge", "ohm"), BROUGHT)
def test_the_handbook_brought_to_75_degrees_is_the_same_wire(gauge: int, ohm: float, verify: Verify) -> None:
    verify(
        f"{gauge} gauge, the handbook's value brought to 75 °C",
        got=wire(WireCase(gauge=gauge, length=THOUSAND_FEET, temperature=HOT)).resistance,
        expected=ohm,
        within=0.001,
        source="handbook wire table with 0.00393 per kelvin",
    )


def test_a_pair_has_twice_the_resistance_of_a_conductor(verify: Verify) -> None:
    for gauge, ohm in ((22, 3.2), (18, 1.3)):
        found = wire(WireCase(gauge=gauge, length=30.48))
        assert found.loop_resistance == 2 * found.resistance
        source = "rule of thumb: 22 gauge 3.2 ohm, 18 gauge 1.3 ohm for 100 ft of pair"
        verify(
            f"{gauge} gauge, 100 ft of pair", got=found.loop_resistance, expected=ohm, within=0.05, source=source,
            relative=False,
        )  # fmt: skip


def test_thirty_six_gauge_is_five_thousandths_of_an_inch_and_thirty_nine_steps_are_ninety_two_times(
    verify: Verify,
) -> None:
    source = "ASTM B258: 36 gauge is 0.005 in, 0000 gauge 0.46 in, 39 equal ratios between"
    verify(
        "36 gauge", got=wire(WireCase(gauge=36, length=1)).diameter, expected=0.127e-3, within=1e-12, source=source
    )
    one, other = (wire(WireCase(gauge=gauge, length=1)).diameter for gauge in (0, 39))
    verify("0 gauge over 39 gauge", got=one / other, expected=92, within=1e-12, source=source)


def test_a_current_loses_voltage_out_and_back() -> None:
    found = wire(WireCase(gauge=22, length=45.72, current=0.06))
    assert found.voltage_drop == pytest.approx(0.06 * found.loop_resistance)
    assert wire(WireCase(gauge=22, length=45.72)).voltage_drop is None
    assert wire(WireCase(gauge=22, length=45.72, current=0.0)).voltage_drop == 0


def test_no_wire_has_no_resistance() -> None:
    assert wire(WireCase(gauge=22, length=0)).resistance == 0


@given(st.floats(0, 39), st.floats(0, 9_999), st.floats(200, 399))
def test_thinner_longer_and_warmer_resists_more(gauge: float, length: float, temperature: float) -> None:
    def ohm(gauge: float, length: float, temperature: float) -> float:
        return wire(WireCase(gauge=gauge, length=length, temperature=temperature)).resistance

    here = ohm(gauge, length, temperature)
    assert here <= ohm(gauge + 1, length, temperature)
    assert here <= ohm(gauge, length + 1, temperature)
    assert here <= ohm(gauge, length, temperature + 1)


@pytest.mark.parametrize(
    "wrong",
    [
        {"gauge": -1}, {"gauge": 41}, {"gauge": float("nan")}, {"length": -1}, {"length": float("inf")},
        {"temperature": 0}, {"temperature": float("nan")}, {"build": "braided"}, {"current": -0.1},
        {"length": None},
    ],
    ids=str,
)  # fmt: skip
def test_what_is_no_wire_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(OutOfRange):
        WireCase(**{"gauge": 22, "length": 10.0, **wrong})


def test_only_stranded_wire_rests_on_the_lay_of_its_strands() -> None:
    solid, stranded = wire(WireCase(gauge=18, length=1)), wire(WireCase(gauge=18, length=1, build="stranded"))
    assert {each.id for each in stranded.sources} - {each.id for each in solid.sources} == {"lay"}


def test_a_wire_needs_neither_arrays_nor_a_compiler() -> None:
    look = (
        "import sys; from sillwright.circuit import WireCase, wire; wire(WireCase(gauge=22, length=1));"
        "print(sorted({'numpy', 'numba', 'scipy'} & set(sys.modules)))"
    )
    told = subprocess.run([sys.executable, "-c", look], capture_output=True, text=True, check=True)
    assert told.stdout.strip() == "[]"
