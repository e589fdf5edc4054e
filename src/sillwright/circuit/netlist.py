"""Netlists: resistors, sources, diodes and capacitors between named nodes; refused where they cannot be solved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import isfinite

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Ampere, Number, Ohm, Volt
from sillwright.base.words import N_, say

GROUND = "0"
"""The node against which every voltage is taken."""


@dataclass(frozen=True, slots=True)
class Resistor:
    """A resistor; 0 ohm is a wire. ``tolerance`` is a share: its value lies within ohm × (1 ± tolerance)."""

    name: str
    a: str
    b: str
    ohm: Ohm
    tolerance: Number = 0.0


@dataclass(frozen=True, slots=True)
class Source:
    """An ideal voltage source."""

    name: str
    plus: str
    minus: str
    volt: Volt
    tolerance: Number = 0.0


@dataclass(frozen=True, slots=True)
class Diode:
    """A diode after Shockley, at 27 °C; a small silicon one where nothing else is said (values from memory)."""

    name: str
    anode: str
    cathode: str
    saturation: Ampere = 2.52e-9
    emission: Number = 1.752


@dataclass(frozen=True, slots=True)
class Capacitor:
    """A capacitor: an open place once it is charged."""

    name: str
    a: str
    b: str
    farad: float


@dataclass(frozen=True)
class Nodes:
    """Nodes that wires and sources tie together count as one: its root, and the voltage above the root's."""

    root: dict[str, str]
    above: dict[str, Volt]


@dataclass(frozen=True)
class Netlist:
    """Parts between nodes, ready to be solved. Raises :class:`OutOfRange` where that cannot be done."""

    resistors: tuple[Resistor, ...]
    sources: tuple[Source, ...] = ()
    diodes: tuple[Diode, ...] = ()
    capacitors: tuple[Capacitor, ...] = ()

    def __post_init__(self) -> None:
        _check_numbers(self)
        _check_names(self)
        _check_sources(self)
        _check_ties(self)

    @property
    def names(self) -> frozenset[str]:
        """The nodes, by name."""
        return frozenset(self.nodes.root)

    @cached_property
    def nodes(self) -> Nodes:
        """The nodes with those tied together found."""
        return _tied(self)

    @property
    def tolerances(self) -> dict[str, Number]:
        """The resistors and sources that have something to spread, with their tolerances."""
        found = {each.name: each.tolerance for each in self.resistors if each.tolerance and each.ohm}
        return found | {each.name: each.tolerance for each in self.sources if each.tolerance and each.volt}

    def place(self, node: str) -> tuple[str, Volt]:
        """Root and voltage above it of a node. Raises :class:`OutOfRange` where there is no such node."""
        if node not in self.nodes.root:
            known = ", ".join(sorted(self.nodes.root))
            raise OutOfRange(say(N_("node {node}: not in this circuit; one of {known} is"), node=node, known=known))
        return self.nodes.root[node], self.nodes.above[node]


def _ends(netlist: Netlist) -> Iterator[tuple[str, str, str]]:
    """Name and ends of every part."""
    for each in netlist.resistors:
        yield each.name, each.a, each.b
    for source in netlist.sources:
        yield source.name, source.plus, source.minus
    for diode in netlist.diodes:
        yield diode.name, diode.anode, diode.cathode
    for capacitor in netlist.capacitors:
        yield capacitor.name, capacitor.a, capacitor.b


def _check_numbers(netlist: Netlist) -> None:
    """Every number finite and within its range; written so that NaN is outside."""
    for each in netlist.resistors:
        if not (0 <= each.ohm < 1e30 and 0 <= each.tolerance < 1):
            found = {"name": each.name, "value": f"{each.ohm:g}", "tolerance": f"{each.tolerance:g}"}
            raise OutOfRange(
                say(N_("{name}: {value} ohm ± {tolerance}; at least 0 ohm, ± 0 to below 1 are accepted"), **found)
            )
    for source in netlist.sources:
        if not (isfinite(source.volt) and 0 <= source.tolerance < 1):
            raise OutOfRange(
                say(N_("{name}: {value} V; a finite voltage is accepted"), name=source.name, value=source.volt)
            )
    for diode in netlist.diodes:
        if not (0 < diode.saturation < 1 and 0 < diode.emission < 100):
            raise OutOfRange(
                say(N_("{name}: a saturation current above 0 A and an emission factor above 0"), name=diode.name)
            )
    for capacitor in netlist.capacitors:
        if not 0 < capacitor.farad < 1e3:
            raise OutOfRange(say(N_("{name}: a capacitance above 0 F is accepted"), name=capacitor.name))


def _check_names(netlist: Netlist) -> None:
    twice = [name for name, count in Counter(name for name, *_ in _ends(netlist)).items() if count > 1]
    if twice:
        raise OutOfRange(say(N_("{name}: two parts have this name; each needs its own"), name=twice[0]))


def _check_sources(netlist: Netlist) -> None:
    """A source feeds something: another part hangs on either end of it."""
    count = Counter(node for _, *ends in _ends(netlist) for node in ends)
    for source in netlist.sources:
        for node in (source.plus, source.minus):
            if count[node] < 2 and node != GROUND:
                told = {"name": source.name, "node": node}
                raise OutOfRange(say(N_("{name}: nothing hangs on its end {node}; join it to the circuit"), **told))


def _tied(netlist: Netlist) -> Nodes:
    """Union of the nodes that wires and sources tie together, each with its voltage above the root."""
    root: dict[str, str] = {GROUND: GROUND}
    above: dict[str, Volt] = {GROUND: 0.0}
    for _, *ends in _ends(netlist):
        for node in ends:
            root.setdefault(node, node)
            above.setdefault(node, 0.0)
    ties = [(each.name, each.a, each.b, 0.0) for each in netlist.resistors if each.ohm == 0]
    ties += [(each.name, each.plus, each.minus, each.volt) for each in netlist.sources]
    for name, one, other, volt in ties:
        gap = above[other] + volt - above[one]
        if root[one] == root[other]:
            if abs(gap) > 1e-12 * max(1.0, abs(volt)):
                raise OutOfRange(
                    say(N_("{name}: wires without resistance lie across a source; give them one"), name=name)
                )
            continue
        gone, kept = root[one], root[other]
        if gone == GROUND:
            gone, kept, gap = kept, gone, -gap
        for node, its in root.items():
            if its == gone:
                root[node] = kept
                above[node] += gap
    return Nodes(root, above)


def _check_ties(netlist: Netlist) -> None:
    """Every node is tied to ground by something that carries direct current."""
    root = netlist.nodes.root
    ways: dict[str, list[str]] = {}
    carrying = [(each.a, each.b) for each in netlist.resistors]
    carrying += [(each.anode, each.cathode) for each in netlist.diodes]
    for one, other in carrying:
        ways.setdefault(root[one], []).append(root[other])
        ways.setdefault(root[other], []).append(root[one])
    reached, front = {GROUND}, [GROUND]
    while front:
        for node in ways.get(front.pop(), ()):
            if node not in reached:
                reached.add(node)
                front.append(node)
    floating = sorted(node for node, its in root.items() if its not in reached)
    if floating:
        raise OutOfRange(
            say(
                N_("node {node}: nothing ties it to node {ground} for direct current; add a leak or a wire"),
                node=floating[0],
                ground=GROUND,
            )
        )
