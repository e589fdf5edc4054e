"""Netlists to try things on: every circuit in every state, and random webs."""

from __future__ import annotations

import random
from collections.abc import Iterator
from itertools import pairwise
from typing import get_args

from sillwright.circuit.building import Spread
from sillwright.circuit.circuits import netlists
from sillwright.circuit.hurting import NEEDS_OHM, PLACES, applies
from sillwright.circuit.loops import outputs, typical
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Loop, Press, State
from sillwright.circuit.netlist import GROUND, Netlist, Resistor, Source

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)
KINDS: tuple[HurtKind, ...] = get_args(HurtKind)
SPREAD = Spread(wire=0.05, strip=0.3, contact=0.5, insulation=0.9, converter=0.1)


def states(loop: Loop) -> Iterator[State]:
    """Rest, presses, and every hurt at every place, pressed and not."""
    yield State()
    for at in (0.0, 0.3, 0.5, 1.0):
        yield State(press=Press(at=at))
    for kind in KINDS:
        for place in PLACES:
            if applies(loop, kind, place):
                hurt = Hurt(kind=kind, place=place, ohm=3e3 if kind in NEEDS_OHM else None)
                yield State(hurts=(hurt,))
                yield State(hurts=(hurt,), press=Press(at=0.4))


def every_netlist(circuit: Circuit, spread: Spread | None = None) -> list[tuple[State, Netlist]]:
    """All that an input of this kind can see, with the state that it belongs to."""
    loop = typical(circuit)
    return [
        (state, net)
        for state in states(loop)
        for output in outputs(loop, state)
        for net in netlists(loop, state, spread, output)
    ]


def random_web(dice: random.Random, nodes: int, more: int, tolerance: float = 0.3) -> Netlist:
    """A source, a ring of resistors from it through every node to ground, and some more anywhere."""
    names = ["hot", *(f"n{at}" for at in range(nodes)), GROUND]
    ends = list(pairwise(names))
    while len(ends) < nodes + 1 + more:
        one, other = dice.sample(names, 2)
        ends.append((one, other))

    def some() -> float:
        return float(10 ** dice.uniform(1, 5))

    resistors = [
        Resistor(f"r{at}", one, other, some(), dice.choice([0.0, tolerance * dice.random()]))
        for at, (one, other) in enumerate(ends)
    ]
    return Netlist(tuple(resistors), (Source("supply", "hot", GROUND, dice.uniform(-12, 24), 0.1),))
