"""The registry: every calculation by name. A static table, so that listing it loads nothing."""

from __future__ import annotations

from sillwright.base.calculation import Calculation, load
from sillwright.base.errors import UnknownName
from sillwright.base.nearest import did_you_mean
from sillwright.base.words import N_, say

TABLE = {
    "approach": "sillwright.exposure:approach",
    "contact": "sillwright.mechanics:contact",
    "contact_spread": "sillwright.mechanics:contact_spread",
    "cord": "sillwright.takeoff:cord",
    "cutlist": "sillwright.takeoff:cutlist",
    "diagnose": "sillwright.trouble:diagnose",
    "faults": "sillwright.circuit:faults",
    "floor": "sillwright.takeoff:floor",
    "impact": "sillwright.mechanics:impact",
    "length": "sillwright.takeoff:length",
    "loop_reading": "sillwright.circuit:loop_reading",
    "margin": "sillwright.circuit:margin",
    "overtravel": "sillwright.mechanics:overtravel",
    "performance_level": "sillwright.exposure:performance_level",
    "radio": "sillwright.circuit:radio",
    "risk_level": "sillwright.exposure:risk_level",
    "wire": "sillwright.circuit:wire",
}


def calculation(name: str) -> Calculation:
    """The calculation called ``name``. Raises :class:`UnknownName` that names the nearest."""
    address = TABLE.get(name.replace("-", "_"))
    if address is None:
        raise UnknownName(
            say(N_("no calculation “{name}”; {nearest}"), name=name, nearest=did_you_mean(name, TABLE))
        )
    return load(name, address)
