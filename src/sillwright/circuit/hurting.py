"""What hurts a loop, sorted by place: which kinds a circuit can have, and what they do to a pair of conductors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Number, Ohm
from sillwright.base.words import N_, say
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Loop, Place, State

PLACES: tuple[Place, ...] = get_args(Place)
SHARES: dict[Place, Number] = {"edge_near": 0.0, "edge_middle": 0.5, "edge_far": 1.0}
CONVERTED: frozenset[Circuit] = frozenset({"radio", "pulse_two_wire", "pulse_three_wire"})
"""Circuits in which another device reads the edge and tells the operator."""
OPERATORS_SIDE: frozenset[Place] = frozenset({"board", "lead", "box"})
"""With a converter, places on the pair that the operator sees; the others are on the edge's own loop."""
NEEDS_OHM: frozenset[HurtKind] = frozenset({"joint", "wet", "element_wrong", "element_second"})
OF_ELEMENTS: frozenset[HurtKind] = frozenset({"element_missing", "element_wrong", "element_before"})
PULSED: frozenset[Circuit] = frozenset({"pulse_two_wire", "pulse_three_wire"})
MAY_LACK: frozenset[Circuit] = PULSED | {"plain"}
"""Circuits whose end element is there only where the loop says so."""
OF_CONVERTERS: frozenset[HurtKind] = frozenset({"dead_supply", "no_link", "contact_welded"})
"""With a converter, what is wrong with itself and not with conductors."""
TOUCH: Ohm = 0.1  # two bare conductors that touch (common practice)
GAP: Ohm = 1e12  # the air of a broken conductor; any such value reads as open


def applies(loop: Loop, kind: HurtKind, place: Place) -> bool:
    """Whether this can be wrong with this loop at this place.

    ``no_link`` needs a radio; a missing, wrong or misplaced end element needs a loop with one; an edge is crushed
    along the edge only.
    """
    if kind == "no_link":
        return loop.circuit == "radio"
    if kind == "crushed":
        return place in SHARES
    if kind in OF_ELEMENTS:
        if loop.circuit == "normally_closed" or (loop.end is None and loop.circuit in MAY_LACK):
            return False
        return loop.circuit not in PULSED or place not in OPERATORS_SIDE
    return True


def check_hurts(loop: Loop, state: State) -> None:
    """Raise :class:`OutOfRange` for a hurt that this loop cannot have, or that lacks its resistance."""
    for each in state.hurts:
        if not applies(loop, each.kind, each.place):
            told = {"kind": each.kind, "place": each.place, "circuit": loop.circuit}
            raise OutOfRange(
                say(
                    N_("hurts: {kind} at {place} is nothing that a {circuit} circuit can have; take it out"), **told
                )
            )
        if each.kind in NEEDS_OHM and each.ohm is None:
            raise OutOfRange(
                say(N_("hurts: {kind} at {place} has no resistance; give ohm"), kind=each.kind, place=each.place)
            )


@dataclass(frozen=True)
class Hurts:
    """The hurts of a state, asked by place and kind."""

    all: tuple[Hurt, ...]

    def at(self, place: Place, *kinds: HurtKind) -> tuple[Hurt, ...]:
        """Those of these kinds at the place, in the order told."""
        return tuple(each for each in self.all if each.place == place and each.kind in kinds)

    def any(self, *kinds: HurtKind) -> tuple[Hurt, ...]:
        """Those of these kinds, wherever they are."""
        return tuple(each for each in self.all if each.kind in kinds)

    @property
    def crossed(self) -> bool:
        """Whether the conductors of the pair come out crossed: an odd number of changes."""
        return len(self.any("swapped")) % 2 == 1

    def dead(self, share: Number) -> bool:
        """Whether the strips no longer touch there."""
        return any(share >= SHARES.get(each.place, 0.0) for each in self.any("dead_beyond"))

    def element_before(self, place: Place) -> bool:
        """Whether the end element stands nearer to the operator than the place."""
        return any(PLACES.index(each.place) < PLACES.index(place) for each in self.any("element_before"))

    def before_the_cord(self) -> Hurts:
        """Those on the way to the box, which every edge on the pair shares."""
        return Hurts(tuple(each for each in self.all if each.place in OPERATORS_SIDE))

    def operators(self) -> Hurts:
        """With a converter: those of the pair that the operator sees."""
        return Hurts(tuple(each for each in self.before_the_cord().all if each.kind not in OF_CONVERTERS))

    def edges(self) -> Hurts:
        """With a converter: those of the edge's own loop."""
        ours = (each for each in self.all if each.place not in OPERATORS_SIDE)
        return Hurts(tuple(each for each in ours if each.kind not in OF_CONVERTERS))
