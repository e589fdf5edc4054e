"""How a unit turns into SI."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

INCH = Fraction(127, 5000)
FOOT = 12 * INCH
SIXTEENTH = float(INCH / 16)


@dataclass(frozen=True)
class Scale:
    """``value * factor + offset`` is the value in SI units, of this dimension."""

    factor: float
    offset: float
    dimension: tuple[float, ...]  # exponents of metre, kilogram, second, ampere, kelvin
