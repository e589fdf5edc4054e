"""Conversions by the general units library; imported only for a unit that is rare."""

from __future__ import annotations

from functools import cache
from math import isclose

import pint

from sillwright.base.scale import Scale

_MANY = 1000.0
_LONGEST = 40  # signs of a unit; no honest one is longer
_BASE = ("[length]", "[mass]", "[time]", "[current]", "[temperature]")


@cache
def _registry() -> pint.UnitRegistry:  # type: ignore[type-arg,unused-ignore]
    return pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


@cache
def scale_of(symbol: str) -> Scale | None:
    """How a unit turns into SI, or None where there is no such unit.

    >>> scale_of("furlong").factor
    201.168...
    >>> scale_of("smoot-ish") is None
    True

    Source: the units library's definitions.
    """
    if len(symbol) > _LONGEST:
        return None
    registry = _registry()
    try:
        unit = registry.parse_units(symbol.replace("²", "^2").replace("³", "^3").replace(" ", "*"))
        zero, one, two = (registry.Quantity(count, unit).to_base_units() for count in (0.0, 1.0, 2.0))
        if not isclose(two.magnitude - one.magnitude, one.magnitude - zero.magnitude, rel_tol=1e-6):
            return None  # a logarithmic unit: twice the number is not twice the quantity
        many = registry.Quantity(_MANY, unit).to_base_units()
    except (pint.errors.PintError, ArithmeticError, AttributeError, ValueError, TypeError, AssertionError):
        return None
    powers = dict(unit.dimensionality)
    if set(powers) - set(_BASE):
        return None
    kilo = 1000.0 ** -powers.get("[mass]", 0) if str(many.units).startswith("gram") else 1.0
    dimension = tuple(float(powers.get(name, 0)) for name in _BASE)
    factor = float(f"{(many.magnitude - zero.magnitude) * kilo / _MANY:.14g}")  # drops the units' rounding noise
    return Scale(factor, zero.magnitude * kilo, dimension)
