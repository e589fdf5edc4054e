"""Copper wire by gauge: how thick it is and what it resists."""

from __future__ import annotations

from math import pi

from sillwright.base.source import Source
from sillwright.base.units import Kelvin, Metre, Number, Ohm, OhmPerMetre
from sillwright.base.words import N_

INCH: Metre = 0.0254
RESISTIVITY = 1.7241e-8  # ohm m at 20 °C, copper of 100 % IACS
COEFFICIENT = 0.00393  # per kelvin, at 20 °C
COLD: Kelvin = 293.15  # 20 °C, at which both hold
SOURCES = (
    Source(document="ASTM B258", clause="d = 0.005 in × 92^((36 − n) / 39)", sure="read", id="awg-diameter"),
    Source(
        document=N_("International standard of annealed copper (IACS)"),
        clause="1.7241e-8 ohm m, 0.00393 / K",
        sure="memory",
        id="copper",
    ),
)


def diameter(gauge: Number) -> Metre:
    """Diameter of a solid wire of an American gauge.

    >>> round(diameter(22) * 1000, 4)
    0.6438
    """
    return float(0.005 * INCH * 92 ** ((36 - gauge) / 39))


def per_metre(gauge: Number, temperature: Kelvin = COLD) -> OhmPerMetre:
    """Resistance of one metre of solid copper wire.

    >>> round(per_metre(18) * 304.8, 3)  # ohm for 1000 ft
    6.385
    """
    area = pi / 4 * diameter(gauge) ** 2
    return RESISTIVITY * (1 + COEFFICIENT * (temperature - COLD)) / area


def conductor(gauge: Number, length: Metre, temperature: Kelvin = COLD) -> Ohm:
    """Resistance of one conductor; a pair out and back has twice that.

    >>> round(2 * conductor(22, 30.48), 2)  # a pair of 100 ft
    3.23
    """
    return per_metre(gauge, temperature) * length
