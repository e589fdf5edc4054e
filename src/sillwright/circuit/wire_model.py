"""Case and result of the resistance of a wire."""

from __future__ import annotations

from typing import Literal

from sillwright.base.model import Case, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Ampere, Kelvin, Metre, Number, Ohm, OhmPerMetre, Volt

Build = Literal["solid", "stranded"]
"""One wire, or several twisted together."""


class WireCase(Case):
    """A copper conductor."""

    gauge: Number = field(at_least=0, at_most=40, title="Wire gauge (AWG)")
    length: Metre = field(at_least=0, at_most=10_000, title="One-way length")
    temperature: Kelvin = field(default=293.15, at_least=200, at_most=400, title="Temperature of the wire")
    build: Build = field(default="solid", title="Solid or stranded")
    current: Ampere | None = field(
        default=None, at_least=0, at_most=100, title="Current out and back; null = not asked"
    )


class WireResult(Result):
    """What a conductor, and a pair out and back, resists."""

    resistance: Ohm = field(title="Resistance of one conductor")
    loop_resistance: Ohm = field(title="Resistance of a pair, out and back")
    resistance_per_metre: OhmPerMetre = field(title="Resistance of one conductor, for every metre")
    diameter: Metre = field(title="Diameter of a solid wire of this gauge")
    voltage_drop: Volt | None = field(default=None, title="Voltage lost out and back")
    case: WireCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
