"""Copper wire and radio links against whole printed tables and further worked examples."""

from __future__ import annotations

from math import hypot, log10
from typing import Any

import pytest

from sillwright.circuit import RadioCase, WireCase, radio, wire

from ..verification import Verify

THOUSAND_FEET = 304.8
MEMORY = "from memory, to be confirmed"

# Ohm for 1000 ft at 20 °C, four digits (read).
HANDBOOK = {
    0: 0.0983, 1: 0.1239, 2: 0.1563, 4: 0.2485, 6: 0.3951, 8: 0.6282, 10: 0.9989, 12: 1.588, 13: 2.003, 15: 3.184,
    17: 5.064, 19: 8.051, 21: 12.8, 22: 16.14, 23: 20.36, 24: 25.67, 25: 32.37, 26: 40.81, 27: 51.47, 28: 64.9,
    29: 81.83, 30: 103.2, 32: 164.1, 34: 260.9, 36: 414.8, 38: 659.6, 39: 831.8, 40: 1049.0,
}  # fmt: skip

# Ohm for 1000 ft at 75 °C, uncoated, three digits (read in a copy of the table).
CODE = {
    ("solid", 12): 1.93, ("solid", 10): 1.21, ("solid", 8): 0.764, ("stranded", 12): 1.98, ("stranded", 10): 1.24,
    ("stranded", 8): 0.778, ("stranded", 6): 0.491, ("stranded", 4): 0.308, ("stranded", 3): 0.245,
    ("stranded", 2): 0.194, ("stranded", 1): 0.154,
}  # fmt: skip


@pytest.mark.parametrize("gauge", HANDBOOK)
def test_the_wire_table_from_0_to_40(gauge: int, verify: Verify) -> None:
    verify(
        f"{gauge} AWG, 1000 ft at 20 °C, ohm",
        got=wire(WireCase(gauge=gauge, length=THOUSAND_FEET)).resistance,
        expected=HANDBOOK[gauge],
        within=5e-4,
        source="American wire gauge sizes and resistances, table of university physics pages, four digits (read)",
    )


@pytest.mark.parametrize(("build", "gauge"), CODE)
def test_the_thicker_rows_of_the_electrical_code(build: Any, gauge: int, verify: Verify) -> None:
    verify(
        f"{gauge} AWG {build}, 1000 ft at 75 °C, ohm",
        got=wire(WireCase(gauge=gauge, length=THOUSAND_FEET, temperature=348.15, build=build)).resistance,
        expected=CODE[build, gauge],
        within=5e-3,
        source="NFPA 70, chapter 9, table 8, uncoated copper (second-hand)",
    )


@pytest.mark.parametrize("celsius", [5, 10, 15, 25, 30, 40, 50, 60, 75, 90, 100])
def test_warm_copper_resists_as_the_conductor_standard_says(celsius: int, verify: Verify) -> None:
    """IEC 60228 gives the exact factor 254.5 / (234.5 + t); its table takes 0.004 per kelvin, up to 0.4 % off."""
    cold, warm = (
        wire(WireCase(gauge=18, length=1, temperature=at)).resistance for at in (293.15, 273.15 + celsius)
    )
    printed = {5: 1.064, 10: 1.042, 15: 1.02, 25: 0.98, 30: 0.962, 40: 0.926, 50: 0.893, 60: 0.862, 75: 0.82,
               90: 0.781, 100: 0.758}[celsius]  # fmt: skip
    verify(
        f"resistance at 20 °C over that at {celsius} °C",
        got=cold / warm,
        expected=254.5 / (234.5 + celsius),
        within=1e-4,
        source="IEC 60228:2004, Annex B, as GOST 22483-2021 prints it (read)",
    )
    verify(
        f"the same, {celsius} °C, table of three digits",
        got=cold / warm,
        expected=printed,
        within=5e-3,
        source="IEC 60228:2004, table of factors with 0.004 per kelvin (second-hand)",
    )


@pytest.mark.parametrize(("distance", "printed"), [(100.0, -24.5), (10_000.0, -64.5)])
def test_fifty_watts_at_900_megahertz(distance: float, printed: float, verify: Verify) -> None:
    """Against a receiver that understands 0 dBm, the margin is what arrives."""
    case = RadioCase(
        frequency=900e6, distance=distance, model="free_space", transmit_power=10 * log10(50e3), sensitivity=0.0
    )
    got = radio(case).link_margin
    assert got is not None
    verify(
        f"what arrives over {distance:g} m, dBm",
        got=got,
        expected=printed,
        within=0.05,
        relative=False,
        source=f"Rappaport, Wireless Communications, example of free space: 50 W, 900 MHz ({MEMORY})",
    )


def test_six_kilometres_at_2400_megahertz(verify: Verify) -> None:
    """The note prints 115.67 dB; its own formula, 92.45 + 20 lg 2.4 + 20 lg 6, gives 115.62."""
    found = radio(RadioCase(frequency=2.4e9, distance=6000.0, model="free_space")).path_loss
    source = "radio modem's manual, 92.45 + 20 lg GHz + 20 lg km, recomputed (second-hand)"
    expected = 92.45 + 20 * log10(2.4) + 20 * log10(6)
    verify("2,400 MHz over 6 km", got=found, expected=expected, within=0.003, relative=False, source=source)


def test_through_the_floors_of_a_house(verify: Verify) -> None:
    """30 m along and 9 m down, residential: 28 dB for a tenfold distance, twice 4 dB for floors."""
    case = RadioCase(frequency=2.114e9, distance=hypot(30, 9), distance_loss=28.0, floor_loss=8.0)
    verify(
        "2,114 MHz, a house, two floors",
        got=radio(case).path_loss,
        expected=88.3855,
        within=1e-3,
        relative=False,
        source="reference value of an open network simulator for ITU-R P.1238 (read)",
    )
