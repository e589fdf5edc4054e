"""Overtravel and impact: what the closed forms say and what they refuse."""

from __future__ import annotations

import pytest

from sillwright.base.errors import OutOfRange
from sillwright.mechanics import ImpactCase, OvertravelCase, impact, overtravel

from .leaves import CURVE


def test_deceleration_and_stopping_time_say_the_same() -> None:
    slowing = overtravel(OvertravelCase(closing_speed=0.2, response=0.02, deceleration=2.0))
    timed = overtravel(OvertravelCase(closing_speed=0.2, response=0.02, stopping_time=0.1))
    assert slowing.stopping_distance == pytest.approx(timed.stopping_distance, rel=1e-14)
    assert slowing.available_overtravel is None
    assert slowing.enough is None
    assert slowing.enough_cold is None


def test_an_edge_is_held_against_what_it_has_to_give() -> None:
    case = OvertravelCase(
        closing_speed=0.2,
        response=0.02,
        stopping_time=0.1,
        curve=CURVE,
        actuation_travel=0.008,
        force=110.0,
        cold_factor=2.0,
    )
    found = overtravel(case)
    assert found.available_overtravel == pytest.approx(0.018)  # 0.026 m at 110 N, less the 0.008 m of its answer
    assert found.enough
    assert found.available_overtravel_cold == pytest.approx(0.018 * (110 - 70) / (220 - 70))  # 55 N, half way up
    assert found.enough_cold is False


def test_an_edge_that_never_gets_so_hard_gives_all_its_travel() -> None:
    case = OvertravelCase(
        closing_speed=0.2, response=0.02, stopping_time=0.1, curve=CURVE, actuation_travel=0.008, force=1000.0
    )
    assert overtravel(case).available_overtravel == pytest.approx(0.025)


@pytest.mark.parametrize(
    "options",
    [
        {},
        {"deceleration": 1.0, "stopping_time": 0.1},
        {"stopping_time": 0.1, "factor": 1.19},  # ISO 13856-2: at least 1.2 (second-hand)
        {"stopping_time": 0.1, "curve": ((0, 1), (1, 2))},
    ],
)
def test_overtravel_refuses_what_says_too_little_or_too_much(options: dict[str, float]) -> None:
    with pytest.raises(OutOfRange):
        overtravel(OvertravelCase(closing_speed=0.2, response=0.02, **options))  # type: ignore[arg-type]


def test_a_held_leaf_pushes_on_and_a_soft_impact_never_exceeds_150_newtons() -> None:
    held = impact(ImpactCase(method="impact-held-speed", mass=50, stiffness=30e3, speed=0.3, drive_force=100))
    assert held.contact_duration is None
    soft = impact(ImpactCase(method="impact-free", mass=1, stiffness=1e3, speed=0.1))
    assert soft.time_above_150 == 0.0


@pytest.mark.parametrize(
    "options",
    [
        {"method": "impact-two-bodies"},
        {"method": "impact-free", "other_mass": 1.0},
        {"method": "impact-free", "drive_force": 1.0},
    ],
)
def test_impact_refuses_what_does_not_belong_together(options: dict[str, object]) -> None:
    with pytest.raises(OutOfRange):
        ImpactCase(mass=1, stiffness=1e3, speed=0.1, **options)  # type: ignore[arg-type]
