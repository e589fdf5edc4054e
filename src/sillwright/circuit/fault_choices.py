"""What can be chosen on the fault bench: what is wrong and where, and what is wrong besides."""

from __future__ import annotations

from functools import cache, lru_cache

from sillwright.base.units import Number, Ohm
from sillwright.circuit.fault_rows import AT_THE_BOARD, hurts_of, table
from sillwright.circuit.hurting import OF_ELEMENTS, OPERATORS_SIDE
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Loop, Place
from sillwright.circuit.pressing import SPOTS
from sillwright.circuit.typical import typical, typical_end

PRESSES: dict[str, Number | None] = {
    "": None,
    "near": SPOTS[0],
    "before": SPOTS[4],
    "beyond": SPOTS[5],
    "far": SPOTS[9],
}
"""Where the edge is pressed: nowhere, or in the middle of one of its ten stretches."""


@cache
def kinds() -> dict[str, tuple[HurtKind, Ohm | None]]:
    """What can be wrong, as the table of faults looks at it, by a short name.

    >>> kinds()["cut"], kinds()["wet-3"]
    (('cut', None), ('wet', 30000.0))
    """
    found: dict[str, tuple[HurtKind, Ohm | None]] = {}
    for kind, row in table()["hurt"].items():
        for share in row.get("ohm", (None,)):
            if share is None:
                found[kind] = (kind, None)
            else:
                found[f"{kind}-{share:g}"] = (kind, share * typical_end().resistance)
    return found


def hurt_at(name: str, place: Place) -> Hurt:
    """A kind of :func:`kinds` at a place."""
    kind, ohm = kinds()[name]
    return Hurt(kind=kind, place=place, ohm=ohm)


@cache
def seconds() -> dict[str, Hurt]:
    """What can be wrong besides, by a short name: few, each at the place where it is met most.

    >>> seconds()["cut@edge_far"].place
    'edge_far'
    """
    return {each: hurt_at(*each.split("@")) for each in table()["second"]}


@lru_cache(maxsize=32)
def listed(circuit: Circuit, trainer: bool = False) -> frozenset[Hurt]:
    """Everything that the table of faults looks at in a typical loop of this kind."""
    return frozenset(hurts_of(typical(circuit), trainer=trainer))


def for_trainers(hurt: Hurt) -> bool:
    """Whether it is a part that somebody can put at the board."""
    return hurt.place == "board" and hurt.kind in AT_THE_BOARD


def go_together(loop: Loop, one: Hurt, other: Hurt) -> bool:
    """Whether both can be so at once: not twice the same at one place, nor two tales of one end element.

    >>> loop = typical("resistor")
    >>> go_together(loop, hurt_at("wet-3", "edge_far"), hurt_at("cut", "edge_far"))
    True
    >>> go_together(loop, hurt_at("element_missing", "edge_far"), hurt_at("element_wrong-0.47", "edge_far"))
    False
    """
    if one.kind == other.kind and one.place == other.place:
        return False
    if one.kind not in OF_ELEMENTS or other.kind not in OF_ELEMENTS:
        return True
    sides = {each.place in OPERATORS_SIDE for each in (one, other)}
    return loop.circuit == "radio" and len(sides) == 2  # the edge has an element and the receiver another
