"""What an input reads from a loop at rest and pressed along its length, all presses solved side by side.

The netlist is that of :mod:`sillwright.circuit.circuits`; a press is added to it where it acts, so that it is built
once for all. The readings are those of :func:`sillwright.circuit.loops.reads`; a leak along the strips stays
parted as it is at rest, which moves a voltage by a few thousandths at most.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import pairwise
from math import floor

import numpy as np
from numpy.typing import NDArray

from sillwright.base.units import Number, Ohm, Volt
from sillwright.circuit.building import sections_of
from sillwright.circuit.circuits import netlists
from sillwright.circuit.converting import Output, device_loop, device_state, forced_output
from sillwright.circuit.hurting import CONVERTED, GAP, OF_CONVERTERS, OPERATORS_SIDE, Hurts
from sillwright.circuit.inlet import INPUT, read
from sillwright.circuit.loops import outputs_by, read_of_output, voltages
from sillwright.circuit.model import Hurt, HurtKind, Loop, Press, Read, State
from sillwright.circuit.netlist import GROUND, Diode, Netlist, Resistor
from sillwright.circuit.solving import THERMAL

Array = NDArray[np.float64]
End = tuple[int, int, Ohm]
SIDE = len("strip.")  # where the name of a stretch says which strip it is of
SPOTS: tuple[Number, ...] = tuple((at + 0.5) / 10 for at in range(10))
"""The middles of ten stretches of the edge, so that the share of spots is the share of its length."""
FORCING: frozenset[HurtKind] = OF_CONVERTERS - {"dead_supply"}
"""With a converter, what is in its output already."""
LEAKY = 100.0  # times the pull-up
SPREAD = 1e13  # of resistances; beyond it digits cancel
LEAST: Ohm = 1e-3  # below it a press counts as one without resistance
STEPS = 60  # of Newton's method; a handful is usual


@dataclass
class Grid:
    """A netlist as conductances between numbered nodes; ground is the first one."""

    number: dict[str, int]
    edges: list[tuple[int, int, float]] = field(default_factory=list)
    fed: dict[int, float] = field(default_factory=dict)

    def new(self, name: str) -> int:
        """The number of a node that was not there yet."""
        return self.number.setdefault(name, len(self.number))

    def join(self, one: int, other: int, ohm: Ohm, lift: Volt = 0.0) -> None:
        """A resistor; ``lift`` is how far a source holds its other end above its node."""
        if one == other:
            return
        self.edges.append((one, other, 1 / ohm))
        if lift:
            self.fed[one] = self.fed.get(one, 0.0) + lift / ohm
            self.fed[other] = self.fed.get(other, 0.0) - lift / ohm


@dataclass(frozen=True)
class Spot:
    """Where a press acts: nodes on both strips, and the stretch of the first one behind it."""

    first: int
    second: int
    behind: int
    ohm: Ohm  # of the stretch behind


def pressed_reads(loop: Loop, hurts: tuple[Hurt, ...] = ()) -> tuple[Read, ...]:
    """What the input reads: first at rest, then pressed at each of the spots.

    Raises :class:`OutOfRange` for a loop or a hurt that cannot be.

    >>> from sillwright.circuit.typical import typical
    >>> cut = Hurt(kind="cut", place="edge_middle")
    >>> [each[0] for each in pressed_reads(typical("plain"), (cut,))]
    ['r', 'p', 'p', 'p', 'p', 'p', 'r', 'r', 'r', 'r', 'r']
    """
    if loop.circuit in CONVERTED:
        return _converted(loop, hurts)
    return tuple(read(loop, tuple(float(each) for each in row)) for row in _volts(loop, hurts))


def _converted(loop: Loop, hurts: tuple[Hurt, ...]) -> tuple[Read, ...]:
    """By way of what the converter or the transmitter makes of its own loop."""
    state = State(hurts=hurts)
    forced = forced_output(loop, state)
    ours = tuple(each for each in hurts if each.place in OPERATORS_SIDE and each.kind not in FORCING)
    if forced is not None:
        return (_operator_reads(loop, ours, (forced,)),) * (len(SPOTS) + 1)
    theirs = device_loop(loop)
    rows = _volts(theirs, device_state(state).hurts)
    shown = [outputs_by(theirs, tuple(float(each) for each in row)) for row in rows]
    return tuple(_operator_reads(loop, ours, each) for each in shown)


@lru_cache(maxsize=1024)
def _operator_reads(loop: Loop, hurts: tuple[Hurt, ...], shown: tuple[Output, ...]) -> Read:
    """What the operator makes of an output, with what hurts the pair between the two."""
    return read_of_output(loop, State(hurts=hurts), shown)


@lru_cache(maxsize=4096)
def _volts(loop: Loop, hurts: tuple[Hurt, ...]) -> Array:
    """The voltages of all netlists that an input sees, a row at rest and one for each spot."""
    nets = netlists(loop, State(hurts=hurts))
    if together(loop, nets):
        return np.stack([_pressed(each, loop, Hurts(hurts)) for each in nets], axis=1)
    presses: tuple[Press | None, ...] = (None, *(Press(at=each) for each in SPOTS))
    return np.array([voltages(loop, State(hurts=hurts, press=each)) for each in presses])


def together(loop: Loop, nets: Sequence[Netlist]) -> bool:
    """Whether all presses can be solved at once.

    Not with several diodes; where a press has no resistance; where a contact opens in strips without resistance,
    which cannot be parted; where the strips leak so much that it matters where, or so little that digits cancel;
    nor where nothing but wires without resistance is left.
    """
    if loop.strips.contact < LEAST or (loop.circuit == "normally_closed" and not loop.strips.strip_resistance):
        return False
    finest = min((part.ohm for each in nets for part in each.resistors if part.ohm), default=LEAST)
    if not LEAKY * loop.input.pull_up <= loop.strips.insulation <= SPREAD * min(finest, LEAST):
        return False
    return all(len(each.diodes) <= 1 and set(each.nodes.root.values()) != {GROUND} for each in nets)


def forget() -> None:
    """Forget what was solved, as a new process has."""
    _volts.cache_clear()
    _operator_reads.cache_clear()


def _pressed(net: Netlist, loop: Loop, hurts: Hurts) -> Array:
    """The input's voltage in one netlist, at rest and pressed at each of the spots."""
    grid = Grid({GROUND: 0})
    many = _matrices(grid, _laid_out(net, loop, hurts, grid), loop)
    nodes = net.nodes
    asked = grid.number[nodes.root[INPUT]]
    right = np.zeros((len(grid.number), 2))  # what sources feed, and a unit current through the diode
    for node, current in grid.fed.items():
        right[node, 0] = current
    for diode in net.diodes:
        right[grid.number[nodes.root[diode.anode]], 1] += 1.0
        right[grid.number[nodes.root[diode.cathode]], 1] -= 1.0
    count = 1 + len(net.diodes)
    found = np.zeros((len(many), len(right), 2))
    asking = np.broadcast_to(right[1:, :count], (len(many), len(right) - 1, count))
    found[:, 1:, :count] = np.linalg.solve(many[:, 1:, 1:], asking)
    volts = found[:, asked, 0]
    if net.diodes:
        volts = volts - found[:, asked, 1] * _through(net.diodes[0], found, right[:, 1])
    return volts + nodes.above[INPUT]


def _matrices(grid: Grid, spots: list[Spot | None], loop: Loop) -> Array:
    """The conductances between nodes, at rest and pressed at each of the spots."""
    one, other, siemens = (np.array(each) for each in zip(*grid.edges, strict=True))
    size = len(grid.number)
    flat = np.concatenate((one * size + one, other * size + other, one * size + other, other * size + one))
    signed = np.concatenate((siemens, siemens, -siemens, -siemens))
    base = np.asarray(np.bincount(flat, signed, size * size), dtype=np.float64)
    many: Array = np.repeat(base.reshape(1, size, size), len(spots) + 1, axis=0)
    pressed = [(at, *_change(spot, loop)) for at, spot in enumerate(spots, start=1) if spot is not None]
    if pressed:
        at, near, far, more = (np.array(each) for each in zip(*pressed, strict=True))
        many[at, near, near] += more
        many[at, far, far] += more
        many[at, near, far] -= more
        many[at, far, near] -= more
    return many


def _change(spot: Spot, loop: Loop) -> tuple[int, int, float]:
    """The conductance that a press adds between two nodes: a contact, or less than nothing where one opens."""
    if loop.circuit == "normally_closed":
        return spot.first, spot.behind, 1 / (spot.ohm + GAP) - 1 / spot.ohm
    return spot.first, spot.second, 1 / loop.strips.contact


def _through(diode: Diode, found: Array, port: Array) -> Array:
    """The current through a diode that sees a source behind a resistance.

    Newton's method from above, where the curve is bent such that it only ever comes nearer.
    """
    free, ohm = found[:, :, 0] @ port, found[:, :, 1] @ port
    spread = diode.emission * THERMAL
    ohm = np.maximum(ohm, LEAST)
    volt = np.minimum(np.maximum(free, 0.0), spread * np.log1p(np.abs(free) / ohm / diode.saturation))
    for _ in range(STEPS):
        rise = np.exp(volt / spread)
        step = (volt + ohm * diode.saturation * (rise - 1.0) - free) / (
            1.0 + ohm * diode.saturation * rise / spread
        )
        volt = volt - step
        if np.abs(step).max() < 1e-12:
            break
    current: Array = (free - volt) / ohm
    return current


def _laid_out(net: Netlist, loop: Loop, hurts: Hurts, grid: Grid) -> list[Spot | None]:
    """The netlist as a grid, its strips parted where somebody presses; and where each press acts."""
    root, above = net.nodes.root, net.nodes.above
    for name in root.values():
        grid.number.setdefault(name, len(grid.number))
    pressed = _sections(loop)
    ends: dict[tuple[str, int], End] = {}
    for each in net.resistors:
        near, far = grid.number[root[each.a]], grid.number[root[each.b]]
        cuts = pressed.get(each.name)
        if cuts is None:
            grid.join(near, far, each.ohm, above[each.b] - above[each.a])
            continue
        for at, end in _parted(each, (near, far), cuts, grid):
            ends[each.name[SIDE], at] = end
    stuck = loop.circuit == "normally_closed" and bool(hurts.any("contact_welded"))
    found: list[Spot | None] = []
    for at, share in enumerate(SPOTS):
        first, second = ends.get(("a", at)), ends.get(("b", at))
        felt = first and second and not hurts.dead(share) and not stuck
        found.append(Spot(first[0], second[0], *first[1:]) if felt and first and second else None)
    return found


def _sections(loop: Loop) -> dict[str, list[tuple[int, Number]]]:
    """By the names of the stretches of both strips, the spots on each, and how far along it they are."""
    count = sections_of(loop)
    tag = ".1" if loop.joined == "parallel" and loop.devices > 1 else ""
    found: dict[str, list[tuple[int, Number]]] = {}
    for at, share in enumerate(SPOTS):
        section = floor(share * count)
        for side in "ab":
            found.setdefault(f"strip.{side}{tag}.{section + 1}", []).append((at, share * count - section))
    return found


def _parted(
    each: Resistor, ends: tuple[int, int], cuts: list[tuple[int, Number]], grid: Grid
) -> Iterator[tuple[int, End]]:
    """Lay out a stretch of strip, parted at the cuts; yields each cut's node, the next, and what lies between."""
    if not each.ohm:
        yield from ((at, (*ends, 0.0)) for at, _ in cuts)
        return
    points = [(ends[0], 0.0)]
    points += [(grid.new(f"{each.name}/{at}") if share else ends[0], share) for at, share in cuts]
    points.append((ends[1], 1.0))
    for (one, start), (other, stop) in pairwise(points):
        grid.join(one, other, (stop - start) * each.ohm)
    for number, (at, _) in enumerate(cuts, start=1):
        (one, start), (other, stop) = points[number : number + 2]
        yield at, (one, other, (stop - start) * each.ohm)
