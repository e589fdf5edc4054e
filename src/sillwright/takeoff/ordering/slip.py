"""A length whose number is right and whose unit is not: 126 mm where 126 in was meant."""

from __future__ import annotations

from itertools import permutations

from sillwright.base.scale import FOOT, INCH
from sillwright.base.units import Metre

NEAR = 0.001
"""Share by which the numbers may differ, and still be the same one."""
UNITS = {"mm": 0.001, "cm": 0.01, "m": 1.0, "in": float(INCH), "ft": float(FOOT)}
FEET_OR_INCHES = {"in", "ft"}
"""One of the two units is one of these: a point that slipped by a place is another mistake."""


def slipped(wanted: Metre | None, got: Metre | None) -> tuple[str, str] | None:
    """The unit in which a length was meant and the one in which it was written, where both have one number.

    >>> slipped(126 * 0.0254, 0.126), slipped(3.2, 3.1)
    (('in', 'mm'), None)
    """
    if not wanted or not got:
        return None
    pairs = (pair for pair in permutations(UNITS, 2) if FEET_OR_INCHES & set(pair))
    ratio = wanted / got
    return next(
        ((meant, wrote) for meant, wrote in pairs if abs(ratio * UNITS[wrote] / UNITS[meant] - 1) <= NEAR), None
    )
