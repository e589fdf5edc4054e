"""Copper by gauge against handbook tables."""

from __future__ import annotations

import pytest

from sillwright.circuit.wire_table import conductor, diameter, per_metre

from ..verification import Verify

THOUSAND_FEET = 304.8
# Solid copper at 20 °C, ohm for 1000 ft; four figures are printed.
AT_20 = {14: 2.525, 16: 4.016, 18: 6.385, 20: 10.15}
# NFPA 70, chapter 9, table 8: solid uncoated copper at 75 °C, three figures (second-hand).
AT_75 = {18: 7.77, 16: 4.89, 14: 3.07}


@pytest.mark.parametrize(("gauge", "ohm"), AT_20.items())
def test_the_handbooks_ohms_at_20_degrees(gauge: int, ohm: float, verify: Verify) -> None:
    verify(f"{gauge} AWG, 1000 ft at 20 °C (ohm)", got=per_metre(gauge) * THOUSAND_FEET, expected=ohm,
           within=5e-4, source="handbook wire table, four figures")  # fmt: skip


@pytest.mark.parametrize(("gauge", "ohm"), AT_75.items())
def test_the_electrical_codes_ohms_at_75_degrees(gauge: int, ohm: float, verify: Verify) -> None:
    got = conductor(gauge, THOUSAND_FEET, 348.15)
    verify(f"{gauge} AWG, 1000 ft at 75 °C (ohm)", got=got, expected=ohm, within=2e-3,
           source="NFPA 70, chapter 9, table 8, three figures (second-hand)")  # fmt: skip


def test_the_ends_of_the_gauge_are_those_that_define_it() -> None:
    assert diameter(36) == pytest.approx(0.005 * 0.0254, rel=1e-12)
    assert diameter(-3) == pytest.approx(0.46 * 0.0254, rel=1e-12)  # 0000


def test_lead_resistance_is_never_the_fault() -> None:
    """22 AWG is 3.2 ohm for 100 ft of pair, 18 AWG 1.3 (trade rule, computed)."""
    assert 2 * conductor(22, 30.48) == pytest.approx(3.2, abs=0.05)
    assert 2 * conductor(18, 30.48) == pytest.approx(1.3, abs=0.05)
