"""How a unit turns into SI."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Scale:
    """``value * factor + offset`` is the value in SI units, of this dimension."""

    factor: float
    offset: float
    dimension: tuple[float, ...]  # exponents of metre, kilogram, second, ampere, kelvin
