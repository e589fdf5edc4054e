"""Impact and overtravel against printed examples of other books, and at the edges of what is enough.

The formulas are those of any mass on any spring, so textbook blocks and springs have to come out as printed.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest

from sillwright.mechanics import ImpactCase, OvertravelCase, impact, overtravel

from ..verification import Verify

MEMORY = "from memory, to be confirmed"
HALLIDAY = "Halliday, Resnick and Walker, Fundamentals of Physics"
DROP = {"method": "impact-driven", "mass": 0.25, "stiffness": 250.0, "drive_force": 0.25 * 9.8}

SPRINGS = [
    pytest.param(
        {"method": "impact-two-bodies", "mass": 2.0, "other_mass": 5.0, "speed": 7.0, "stiffness": 1120.0},
        0.25,
        1e-12,
        f"{HALLIDAY}, ch. 9: 2 kg at 10 m/s after 5 kg at 3 m/s, 1120 N/m ({MEMORY})",
        id="two blocks and a spring",
    ),
    pytest.param(
        {**DROP, "speed": 3.5},
        0.12,
        0.005,
        f"{HALLIDAY}, ch. 7: 250 g dropped on 2.5 N/cm, two digits ({MEMORY})",
        id="block dropped on a spring",
    ),
    pytest.param(
        {**DROP, "speed": 7.0},
        0.23,
        0.005,
        f"{HALLIDAY}, ch. 7: the same at twice the speed, two digits ({MEMORY})",
        id="the same at twice the speed",
    ),
    pytest.param(
        {
            "method": "impact-driven",
            "mass": 0.72,
            "speed": sqrt(2 * 9.81 * 0.7652),
            "stiffness": 400.0,
            "drive_force": 0.72 * 9.81,
        },
        0.183,
        5e-5,
        "solved exercise: 720 g from 76.52 cm on 400 N/m, g of 9.81 (read)",
        id="720 g from 76.52 cm",
    ),
    pytest.param(
        {"method": "impact-free", "mass": 0.1, "speed": 2.0, "stiffness": 250.0},
        0.04,
        1e-12,
        f"OpenStax, College Physics, toy car of 0.100 kg and a spring of 250 N/m ({MEMORY})",
        id="toy car",
    ),
]


@pytest.mark.parametrize(("given", "travel", "within", "source"), SPRINGS)
def test_how_far_a_spring_gives(
    given: dict[str, Any],
    travel: float,
    within: float,
    source: str,
    verify: Verify,
    request: pytest.FixtureRequest,
) -> None:
    found = impact(ImpactCase(**given))
    name = request.node.callspec.id
    verify(f"travel, {name}, m", got=found.travel, expected=travel, within=within, relative=False, source=source)
    assert found.peak_force == pytest.approx(given["stiffness"] * found.travel, rel=1e-12)


def test_half_a_swing_of_a_printed_block(verify: Verify) -> None:
    """2 kg on 32 N/m, 0.02 m: 1.57 s, 0.08 m/s; a contact is half of that swing."""
    found = impact(ImpactCase(method="impact-free", mass=2.0, speed=0.08, stiffness=32.0))
    source = f"OpenStax, University Physics, ch. 15, block of 2.00 kg ({MEMORY})"
    verify("period, s", got=2 * (found.contact_duration or 0.0), expected=1.57, within=0.005, relative=False,
           source=source)  # fmt: skip
    verify("amplitude, m", got=found.travel, expected=0.02, within=1e-12, relative=False, source=source)


def test_a_load_put_on_all_at_once_presses_twice(verify: Verify) -> None:
    found = impact(ImpactCase(method="impact-driven", mass=10.0, speed=1e-9, stiffness=1e4, drive_force=98.0))
    source = f"Timoshenko, Strength of Materials: a load suddenly applied doubles the deflection ({MEMORY})"
    verify("force over load", got=found.peak_force / 98.0, expected=2.0, within=1e-9, source=source)


# ISO/TS 15066:2016, tables A.2 to A.4: N for a short contact, N/mm, kg, J. The back's row was read, the rest is
# from memory. Each table rounds for itself, energies to two digits, which moves a force by up to 3 %.
BODY = [
    ("back", 420.0, 35.0, 40.0, 2.5),
    ("chest", 280.0, 25.0, 40.0, 1.6),
    ("abdomen", 220.0, 10.0, 40.0, 2.4),
    ("pelvis", 360.0, 25.0, 40.0, 2.6),
    ("upper arm", 300.0, 30.0, 3.0, 1.5),
    ("forearm", 320.0, 40.0, 2.0, 1.3),
    ("thigh", 440.0, 50.0, 75.0, 1.9),
]


@pytest.mark.parametrize(("part", "force", "stiffness", "mass", "energy"), BODY)
def test_energy_and_force_limits_of_a_body_belong_together(
    part: str, force: float, stiffness: float, mass: float, energy: float, verify: Verify
) -> None:
    robot = 10.0
    speed = sqrt(2 * energy * (1 / mass + 1 / robot))
    found = impact(
        ImpactCase(method="impact-two-bodies", mass=robot, other_mass=mass, speed=speed, stiffness=1000 * stiffness)
    )
    source = f"ISO/TS 15066:2016, tables A.2 to A.4, each rounded for itself (back second-hand, the rest {MEMORY})"
    verify(f"force at {energy:g} J, {part}, N", got=found.peak_force, expected=force, within=0.03, source=source)
    assert found.energy == pytest.approx(energy, rel=1e-12)


@pytest.mark.parametrize("speed", [0.05, 0.08, 0.1, 0.12, 0.2, 0.25, 0.3, 0.5])
@pytest.mark.parametrize("response", [0.01, 0.02, 0.03, 0.05, 0.08, 0.1])
def test_what_is_exactly_enough_is_enough(speed: float, response: float) -> None:
    """An edge with just the travel asked for has it, though in binary the two differ in their last bit."""
    asked = round(1.2 * (speed * response + speed * 0.15 / 2), 9)

    def enough(available: float) -> tuple[bool | None, bool | None]:
        curve = ((0.0, 0.0), (0.006, 40.0), (round(0.006 + available, 9), 100.0), (1.0, 900.0))
        found = overtravel(
            OvertravelCase(
                closing_speed=speed, response=response, stopping_time=0.15, curve=curve, actuation_travel=0.006,
                force=100.0, cold_factor=1.0,
            )
        )  # fmt: skip
        return found.enough, found.enough_cold

    assert enough(asked) == (True, True)
    assert enough(asked - 1e-8) == (False, False)
