"""Contacts solved by others than the project.

Sources: four reference cases, integrated with a fixed step of 4e-7 s (times good to that step, forces printed to
seven digits); the exact limits of a rigid drive, a free mass and a driven mass (energy balance).
"""

from __future__ import annotations

import json
from math import pi, sqrt
from pathlib import Path
from typing import Any

import pytest

from sillwright.base.case_reading import read_case
from sillwright.base.node import parse
from sillwright.mechanics import (
    ContactCase,
    Drive,
    ImpactCase,
    Obstruction,
    OvertravelCase,
    Stop,
    contact,
    force_limits,
    impact,
    overtravel,
)

STEP = 4e-7  # s, step of the integration behind the reference cases
CASES = json.loads((Path(__file__).parents[1] / "mechanics" / "contact_cases.json").read_text())
REFERENCE = "reference contact cases, fixed step 4e-7 s (computed)"
ENERGY = "energy balance (computed)"
STANDARD = "EN 12453 (second-hand)"

NEVER = Stop(reaction=1.0, deceleration=1.0, dwell=1.0, opening_acceleration=1.0, opening_speed=0.2)


@pytest.mark.parametrize("row", CASES, ids=["one", "two", "three", "four"])
def test_a_leaf_presses_as_in_the_reference_cases(row: dict[str, Any], verify: Any) -> None:
    found = contact(read_case(ContactCase, parse(json.dumps(row["case"]).encode(), "case.json"), "case.json"))
    for name, expected in row["expect"].items():
        timed = name.endswith("time") or name.startswith(("time", "contact"))
        verify(
            f"{name}, leaf of {row['case']['moving_mass']:g} kg",
            got=getattr(found, name),
            expected=expected,
            within=3 * STEP if timed else 1e-6,  # a time is the difference of two steps
            relative=not timed,
            source=REFERENCE,
        )


def bare(mass: float, speed: float, stiffness: float, drive: Drive, duration: float = 2.0) -> ContactCase:
    """A leaf without an edge, so that nothing stops it."""
    return ContactCase(
        closing_speed=speed,
        moving_mass=mass,
        drive=drive,
        stop=NEVER,
        edge=None,
        obstruction=Obstruction(stiffness=stiffness),
        duration=duration,
    )


@pytest.mark.parametrize(("mass", "speed", "stiffness", "push"), [(50.0, 0.3, 30e3, 100.0), (150, 0.2, 500e3, 400)])
def test_a_rigid_drive_that_gives_way_adds_its_limit_to_the_free_impact(
    mass: float, speed: float, stiffness: float, push: float, verify: Any
) -> None:
    found = contact(bare(mass, speed, stiffness, Drive(stiffness=None, push_limit=push)))
    verify(
        f"peak force, rigid drive, {push:g} N push, {mass:g} kg",
        got=found.peak_force,
        expected=push + speed * sqrt(stiffness * mass),
        within=1e-9,
        source=f"F0 + v sqrt(k m), {ENERGY}",
    )


def test_a_leaf_that_nothing_drives_strikes_like_a_free_mass(verify: Any) -> None:
    drive = Drive(stiffness=None, push_limit=0.0, lift_limit=0.0)
    found = contact(bare(100.0, 0.1, 500e3, drive))
    source = f"v sqrt(k m) and pi sqrt(m/k), {ENERGY}"
    verify(
        "peak force, free mass", got=found.peak_force, expected=0.1 * sqrt(500e3 * 100), within=1e-9, source=source
    )
    assert found.contact_duration is not None
    verify(
        "contact time, free mass",
        got=found.contact_duration,
        expected=pi * sqrt(100 / 500e3),
        within=1e-9,
        source=source,
    )


def test_a_very_stiff_drive_comes_near_the_rigid_one(verify: Any) -> None:
    rigid = contact(bare(50.0, 0.3, 30e3, Drive(stiffness=None, push_limit=100.0))).peak_force
    for stiffness in (1e6, 1e8):
        stiff = contact(bare(50.0, 0.3, 30e3, Drive(stiffness=stiffness, push_limit=100.0))).peak_force
        verify(
            f"peak force, drive of {stiffness:g} N/m against a rigid one",
            got=stiff,
            expected=rigid,
            within=10 * sqrt(30e3 / stiffness),  # the spring's energy, F0²/(2 k), and its swing, both vanish
            source="limit of a stiff drive, " + ENERGY,
        )


@pytest.mark.parametrize(
    ("case", "expected"),
    [
        (
            ImpactCase(method="impact-held-speed", mass=50, stiffness=30e3, speed=0.3, drive_force=100),
            {"peak_force": 467.423},
        ),
        (
            ImpactCase(method="impact-free", mass=100, stiffness=500e3, speed=0.1),
            {"peak_force": 707.107, "travel": 0.001414, "contact_duration": 0.04443},
        ),
        (
            ImpactCase(method="impact-free", mass=150, stiffness=10e3, speed=0.2),
            {
                "peak_force": 244.949,
                "travel": 0.024495,
                "contact_duration": 0.38476,
                "time_above_150": 0.22333,
            },
        ),
        (
            ImpactCase(method="impact-driven", mass=50, stiffness=30e3, speed=0.3, drive_force=100),
            {"peak_force": 480.789, "travel": 0.016026, "time_to_peak": 0.07498},
        ),
        (
            ImpactCase(method="impact-two-bodies", mass=20, other_mass=40, stiffness=25e3, speed=0.2),
            {"effective_mass": 13.3333, "peak_force": 115.470},
        ),
    ],
    ids=["held speed", "free 1", "free 2", "driven", "two bodies"],
)
def test_impacts_match_the_worked_cases(case: ImpactCase, expected: dict[str, float], verify: Any) -> None:
    # impact-held-speed-1, impact-1, impact-2, impact-3 (computed); impact-two-1: ISO/TS 15066:2016, Annex A
    found = impact(case)
    for name, value in expected.items():
        digits = len(f"{value:.10f}".rstrip("0").split(".")[1])
        verify(
            f"{name}, {case.method}, {case.mass:g} kg",
            got=getattr(found, name),
            expected=value,
            within=0.51 * 10.0**-digits,  # half a unit of the last printed digit
            relative=False,
            source="worked impact cases (computed)",
        )


def test_a_driven_impact_is_the_contact_of_a_leaf_pushed_with_a_constant_force(verify: Any) -> None:
    # a drive whose push is at its limit from the first moment on: the gauge springs back before it stops
    case = ImpactCase(method="impact-held-speed", mass=80, stiffness=40e3, speed=0.25, drive_force=150)
    found = contact(bare(80.0, 0.25, 40e3, Drive(stiffness=None, push_limit=150.0)))
    verify(
        "peak force, held speed", got=found.peak_force, expected=impact(case).peak_force, within=1e-9, source=ENERGY
    )
    verify(
        "peak time, held speed", got=found.peak_time, expected=impact(case).time_to_peak, within=1e-9, source=ENERGY
    )


def test_overtravel_matches_the_worked_cases(verify: Any) -> None:
    # overtravel-1 and -2 (computed); the printed form is from ISO 13856-2, from memory
    first = overtravel(OvertravelCase(closing_speed=0.010, response=0.68, stopping_time=0.20, factor=2.0))
    second = overtravel(OvertravelCase(closing_speed=0.200, response=0.02, stopping_time=0.10))
    source = "worked overtravel cases (computed)"
    for what, got, expected in (
        ("printed stopping distance, 0.01 m/s", first.stopping_distance_printed, 0.0044),
        ("printed overtravel, factor 2", first.required_overtravel_printed, 0.0088),
        ("printed overtravel, 0.2 m/s", second.required_overtravel_printed, 0.0144),
        ("required overtravel, 0.2 m/s", second.required_overtravel, 0.0168),
    ):
        verify(what, got=got, expected=expected, within=1e-12, relative=False, source=source)


@pytest.mark.parametrize(
    ("name", "number"),
    [("fd-400", 400.0), ("fd-1400", 1400.0), ("td", 0.75), ("fs", 150.0), ("tt", 5.0), ("gauge-spring", 500e3)],
)
def test_the_force_limits_are_those_of_the_standard(name: str, number: float, verify: Any) -> None:
    # EN 12453; the gauge: EN 12445:2000, 5.1.1 (second-hand, gap bands from memory)
    (limit,) = (each for each in force_limits() if each.id == name)
    verify(f"limit {name}", got=limit.number, expected=number, within=0.0, source=STANDARD)
