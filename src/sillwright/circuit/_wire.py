"""What a wire resists: one conductor, and a pair out and back."""

from __future__ import annotations

from sillwright.base.source import Source
from sillwright.base.units import Number
from sillwright.base.words import N_, say
from sillwright.circuit.wire_model import WireCase, WireResult
from sillwright.circuit.wire_table import SOURCES, diameter, per_metre

__all__ = ["wire"]

LAY: Number = 1.02
"""Strands run in a spiral and are longer than the wire that they make up (common practice)."""


def wire(case: WireCase) -> WireResult:
    r"""What a copper wire of a gauge resists: one conductor, and a pair out and back.

    .. math:: R = \frac{4 \rho l}{\pi d^2}, \qquad d = 0.127 \text{ mm} \cdot 92^{(36 - n)/39}

    Parameters: gauge (AWG), one-way length (m), temperature (K), solid or stranded, and a current (A) where its
    voltage is asked for. Returns the resistance of one conductor and of the pair (ohm), of one metre (ohm/m), the
    diameter (m) and the voltage lost out and back (V).

    Model: uncoated annealed copper, its resistivity linear in temperature; strands add 2 %. Valid for direct
    current; tables with rounded diameters lie up to 0.3 % from it, and a cable as it is sold 5 %.

    Raises :class:`OutOfRange` for inputs outside their ranges.

    Source: gauge from ASTM B258, copper from the international standard of annealed copper.

    >>> found = wire(WireCase(gauge=22, length=30.48))  # 100 ft
    >>> round(found.resistance, 2), round(found.loop_resistance, 2)
    (1.61, 3.23)
    """
    each = per_metre(case.gauge, case.temperature) * (LAY if case.build == "stranded" else 1.0)
    one = each * case.length
    return WireResult(
        resistance=one,
        loop_resistance=2 * one,
        resistance_per_metre=each,
        diameter=diameter(case.gauge),
        voltage_drop=None if case.current is None else 2 * one * case.current,
        case=case,
        assumptions=(say(N_("Uncoated annealed copper; a cable as it is sold may lie 5 % from it.")),),
        sources=_sources(case),
    )


def _sources(case: WireCase) -> tuple[Source, ...]:
    lay = Source(document=N_("strands are 2 % longer than the wire that they make up"), sure="practice", id="lay")
    return (*SOURCES, lay) if case.build == "stranded" else SOURCES
