"""A mass against a spring: the closed forms that a contact is checked against."""

from __future__ import annotations

from math import asin, atan2, pi, sqrt

from sillwright.base.source import Source
from sillwright.base.words import N_, say
from sillwright.mechanics.simple_model import ImpactCase, ImpactResult

__all__ = ["impact"]

DYNAMIC = 150.0  # N; EN 12453, second-hand
SOURCES = (
    Source(document=N_("Energy of a mass on a linear spring"), sure="computed"),
    Source(document="ISO/TS 15066:2016", clause=N_("Annex A"), sure="second-hand", id="impact-two-bodies"),
)


def impact(case: ImpactCase) -> ImpactResult:
    r"""How hard a moving mass presses on a linear spring, in closed form.

    .. math:: F_{free} = v \sqrt{k m}, \quad F_{driven} = F_0 + \sqrt{F_0^2 + k m v^2}, \quad
              F_{held} = F_0 + v \sqrt{k m}, \quad F_{two} = v \sqrt{k / (1/m_1 + 1/m_2)}

    Parameters: mass (kg), speed (m/s), stiffness (N/m), drive force F0 (N), for two bodies the other's mass (kg).
    Returns force (N), travel (m), times (s), energy (J).

    Model: ``impact-free`` nothing drives the mass; ``impact-driven`` a constant force does from the touch on;
    ``impact-held-speed`` a stiff drive holds the speed until that takes more than F0, then pushes with F0, the
    limit of :func:`contact` for a rigid drive; ``impact-two-bodies`` both bodies are free. Valid without damping,
    for a linear spring and a drive that does not stop. Raises :class:`OutOfRange` when the case is made.

    Source: energy balance; two bodies: ISO/TS 15066:2016, Annex A, second-hand.

    >>> found = impact(ImpactCase(method="impact-free", mass=150, speed=0.2, stiffness=10e3))
    >>> round(found.peak_force, 3), round(found.contact_duration, 5), round(found.time_above_150, 5)
    (244.949, 0.38476, 0.22333)
    """
    other = case.other_mass
    mass = case.mass if other is None else 1.0 / (1.0 / case.mass + 1.0 / other)
    omega = sqrt(case.stiffness / mass)
    bare = case.speed * sqrt(case.stiffness * mass)
    held = case.method == "impact-held-speed"
    swing = bare if held else sqrt(bare * bare + case.drive_force * case.drive_force)
    rise = case.drive_force / (case.stiffness * case.speed) if held else atan2(case.drive_force, bare) / omega
    peak, to_peak = case.drive_force + swing, rise + 0.5 * pi / omega
    return ImpactResult(
        peak_force=peak,
        travel=peak / case.stiffness,
        time_to_peak=to_peak,
        contact_duration=None if held and case.drive_force > 0.0 else 2.0 * to_peak,
        time_above_150=None if held and case.drive_force > 0.0 else _above(case.drive_force, swing, omega),
        effective_mass=mass,
        energy=0.5 * mass * case.speed * case.speed,
        case=case,
        assumptions=(say(N_("The spring is linear and nothing damps.")),),
        sources=SOURCES,
    )


def _above(drive: float, swing: float, omega: float) -> float:
    """How long F0 + R sin exceeds 150 N within one contact."""
    level = (DYNAMIC - drive) / swing
    if level >= 1.0:
        return 0.0
    return (pi - 2.0 * asin(max(level, -drive / swing))) / omega
