"""How many conductors the way to the operator has, and how long the fixed wire from the box is."""

from __future__ import annotations

from typing import Any

from sillwright.base import data
from sillwright.base.units import Metre
from sillwright.survey.model import Opening
from sillwright.takeoff.round_about import values_of

CONDUCTORS = {"plain": 2, "normally_closed": 2, "resistor": 2, "diode_capacitor": 2, "four_wire": 4}
DIRECT = {"plain", "resistor", "diode_capacitor", "four_wire", "optical"}
EDGES = {"sensing_edge", "air_edge"}
SIDE_MOUNTED = {"jackshaft", "hoist", "barrel", "chain"}
LIFTED = {"high", "vertical", "follows_roof"}


def conductors(opening: Opening) -> int | None:
    """The conductors that the edge needs: by the edges there, else by the only input; None where that is open.

    Source: trade rules of thumb (CORD-6), from memory.
    """
    edges = [each for each in opening.protection if each.kind.value in EDGES]
    facts = [each.circuit for each in edges] or [each.circuit for each in opening.operator.inputs]
    told = {CONDUCTORS.get(circuit) for fact in facts for circuit in values_of(fact) or (None,)}
    return told.pop() if len(told) == 1 else None


def circuit_needed(opening: Opening) -> str | None:
    """The circuit that the operator's input for an edge takes directly; None where several, or none, are known.

    Inputs for pulses belong to eyes, and are left out.
    """
    told = {circuit for each in opening.operator.inputs for circuit in values_of(each.circuit)}
    direct = told & DIRECT
    return direct.pop() if len(direct) == 1 else None


def wire_over(opening: Opening, side: str | None, box: Metre) -> Metre | None:
    """The fixed wire from the box to the operator under a standard lift; None where a side or a size is not known.

    On the operator's side up the wall to the head; on the other side up, over the opening and down again.
    """
    spare: Metre = _table()["spare"]
    operator, door = opening.operator, opening.door
    heights, widths = values_of(door.clear_height), values_of(door.clear_width)
    kind, where = operator.kind.value, operator.side.value
    if side is None or where is None or not heights or kind not in SIDE_MOUNTED:
        return None
    above: Metre = max(0.0, max(heights) - box)
    if side == where:
        return above + spare
    return float(max(widths)) + 2 * above + spare if widths else None


def fixed_wire(opening: Opening, side: str | None, box: Metre) -> Metre | None:
    """The fixed wire from the box to the operator; None where the extra of a higher lift comes on top."""
    lifts = values_of(opening.door.lift)
    return None if LIFTED & set(lifts) else wire_over(opening, side, box)


def _table() -> Any:
    return data.table("sillwright.takeoff", "cord")["wire"]
