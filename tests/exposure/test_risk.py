"""Risk graph and risk level against the paths that were read."""

from __future__ import annotations

import pytest

from sillwright.base.errors import OutOfRange
from sillwright.exposure import performance_level, risk_level
from sillwright.exposure._risk import PerformanceLevelCase, RiskLevelCase


def test_an_interlocked_guard_needs_level_c() -> None:
    """ISO 13849-1:2006, I.2 (read): S2, F1, P1."""
    assert performance_level(PerformanceLevelCase(severity="S2", exposure="F1", avoidance="P1")).level == "c"


def test_each_step_up_in_the_graph_never_lowers_the_level() -> None:
    """ISO 13849-1, Annex A: more severity, more exposure or less avoidance asks for no less."""
    for severity, exposure, avoidance in (("S1", "F1", "P1"), ("S1", "F2", "P1"), ("S2", "F1", "P1")):
        here = performance_level(
            PerformanceLevelCase(severity=severity, exposure=exposure, avoidance=avoidance)
        ).level
        worse = performance_level(PerformanceLevelCase(severity="S2", exposure=exposure, avoidance="P2")).level
        assert here <= worse


def test_the_folding_chair_is_a_low_risk(verify) -> None:  # type: ignore[no-untyped-def]
    """Decision 2010/15/EU, annex part IV, 6.1 (read): 1 × 1/50 × 1/10 × 1, severity 1."""
    found = risk_level(RiskLevelCase(steps=(1.0, 0.02, 0.1, 1.0), severity=1))
    verify("folding chair", got=found.probability, expected=0.002, within=1e-12, source="Decision 2010/15/EU, 6.1")
    assert found.level == "low"


@pytest.mark.parametrize("steps", [(), (1.2,), (-0.1, 0.5), (float("nan"),)])
def test_a_step_is_a_probability(steps: tuple[float, ...]) -> None:
    with pytest.raises(OutOfRange, match="probability"):
        RiskLevelCase(steps=steps, severity=1)


def test_a_sure_death_is_serious_and_an_impossible_one_low() -> None:
    assert risk_level(RiskLevelCase(steps=(1.0,), severity=4)).level == "serious"
    assert risk_level(RiskLevelCase(steps=(0.0,), severity=4)).level == "low"
