"""How much stiffer an edge is in the cold, by what it is made of."""

from __future__ import annotations

from itertools import pairwise

from sillwright.base import data
from sillwright.base.units import Kelvin, Number


def stiffer(material: str | None, temperature: Kelvin) -> Number | None:
    """How many times the force of a body grows from a warm room to a temperature.

    None where the material is not known, is one nobody has told anything of, or is colder than it is used.

    >>> stiffer("epdm", 273.15), stiffer("tpe", 263.15), stiffer("tpe", 250.0), stiffer(None, 273.15)
    (1.2, 2.0, None, None)

    Source: trade rules of thumb (PRO-4), from memory.
    """
    table = data.table("sillwright.takeoff", "profiles")["cold"]
    like = table["like"].get(material or "")
    if like is None:
        return None
    points: list[tuple[float, float]] = table[like]["points"]
    if temperature >= points[0][0]:
        return 1.0
    for (warm, less), (cold, more) in pairwise(points):
        if temperature >= cold:
            return less + (more - less) * (warm - temperature) / (warm - cold)
    return None
