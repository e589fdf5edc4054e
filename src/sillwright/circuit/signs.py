"""Which way each resistor moves a node's voltage, for all values within the tolerances at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from sillwright.circuit.netlist import GROUND, Netlist
from sillwright.circuit.reducing import Bounds, lean

Edge = tuple[str, str, str, float, float]  # name, ends, ohm, tolerance


@dataclass(frozen=True)
class Directions:
    """The way each part with a tolerance moves the node: up (1), down (-1), not at all (0); and those not known."""

    sign: Mapping[str, int]
    uncertain: list[str]
    edges: tuple[Edge, ...]
    hot: str
    node: str
    order: list[str] = field(default_factory=list)  # in which nodes are taken out; found with the first ratio

    def ratio(self, corner: Mapping[str, float]) -> float:
        """The node's voltage as a share of the source, with each named part at that multiple of its value."""
        if self.node in (GROUND, self.hot):
            return float(self.node == self.hot)
        rows: dict[str, dict[str, float]] = {}
        for name, one, other, ohm, _ in self.edges:
            siemens = 1 / (ohm * corner.get(name, 1.0))
            near, far = rows.setdefault(one, {}), rows.setdefault(other, {})
            near[other] = far[one] = near.get(other, 0.0) + siemens
        if not self.order:
            self.order.extend(_order(rows, {self.hot, GROUND, self.node}))
        up, down = _divider(rows, self.order, self.node, self.hot)
        return up / (up + down)


def directions(netlist: Netlist, node: str) -> Directions | None:
    """The directions of all resistors; None where there is not exactly one source with its minus on ground.

    A part behind two of source, ground and node is one of a one-port between the two, whose resistance never falls
    as one of its parts rises (Rayleigh). For all others the voltage over the part, and over it in the turned
    network, are shown not to change sign (intervals of conductances).
    """
    alias = _wired(netlist)
    if len(netlist.sources) != 1 or alias[netlist.sources[0].minus] != GROUND:
        return None
    hot, asked = alias[netlist.sources[0].plus], alias[node]
    edges = tuple(
        (each.name, alias[each.a], alias[each.b], each.ohm, each.tolerance)
        for each in netlist.resistors
        if alias[each.a] != alias[each.b]
    )
    edges += tuple(
        (
            each.name,
            alias[each.anode],
            alias[each.cathode],
            1.0,
            0.0,
        )  # it ties its nodes; its value does not matter
        for each in netlist.diodes
        if alias[each.anode] != alias[each.cathode]
    )
    if asked in (GROUND, hot):
        return Directions({}, [], edges, hot, asked)
    ways: dict[tuple[str, ...], int] = {(asked, GROUND): 1, (GROUND, asked): 1, (hot, asked): -1, (asked, hot): -1}
    sign: dict[str, int] = {}
    uncertain: list[str] = []
    behind = _behind(edges, {hot, GROUND, asked})
    bounds: Bounds | None = None
    for edge in edges:
        if not edge[4]:
            continue
        reached = behind[edge[0]]
        if len(reached) <= 2:
            sign[edge[0]] = ways.get(reached, 0)
            continue
        bounds = bounds or _bounds(edges)
        found = _bridge(bounds, edge, hot, asked)
        if found is None:
            uncertain.append(edge[0])
        else:
            sign[edge[0]] = found
    return Directions(sign, uncertain, edges, hot, asked)


def _wired(netlist: Netlist) -> dict[str, str]:
    """Each node's name for those that wires without resistance tie together; ground keeps its own."""
    alias = {node: node for node in netlist.names}
    for each in netlist.resistors:
        if each.ohm == 0 and alias[each.a] != alias[each.b]:
            gone, kept = alias[each.a], alias[each.b]
            if gone == GROUND:
                gone, kept = kept, gone
            alias = {node: kept if its == gone else its for node, its in alias.items()}
    return alias


def _behind(edges: tuple[Edge, ...], ports: set[str]) -> dict[str, tuple[str, ...]]:
    """For each part, which of the ports its piece hangs on, once the ports are taken away."""
    near: dict[str, list[str]] = {}
    for _, one, other, *_ in edges:
        near.setdefault(one, []).append(other)
        near.setdefault(other, []).append(one)
    reached: dict[str, tuple[str, ...]] = {}
    for start in near:
        if start in ports or start in reached:
            continue
        piece, front, touched = {start}, [start], set()
        while front:
            for node in near[front.pop()]:
                if node in ports:
                    touched.add(node)
                elif node not in piece:
                    piece.add(node)
                    front.append(node)
        reached.update(dict.fromkeys(piece, tuple(sorted(touched))))
    return {name: reached.get(one) or reached.get(other) or (one, other) for name, one, other, *_ in edges}


def _bounds(edges: tuple[Edge, ...]) -> Bounds:
    """Every conductance as the interval of its tolerance."""
    rows: Bounds = {}
    for _, one, other, ohm, tolerance in edges:
        low, high = 1 / (ohm * (1 + tolerance)), 1 / (ohm * (1 - tolerance))
        near, far = rows.setdefault(one, {}), rows.setdefault(other, {})
        old = near.get(other, (0.0, 0.0))
        near[other] = far[one] = (old[0] + low, old[1] + high)
    return rows


def _bridge(bounds: Bounds, edge: Edge, hot: str, asked: str) -> int | None:
    """The direction of a part by the signs of two voltages over it; None where either is uncertain."""
    _, one, other, *_ = edge
    straight = lean(bounds, hot, GROUND, one, other)
    if straight == 0:
        return 0
    short = _shorted(bounds, hot)
    turned = lean(short, asked, GROUND, *(GROUND if node == hot else node for node in (one, other)))
    if turned == 0:
        return 0
    return None if straight is None or turned is None else straight * turned


def _shorted(bounds: Bounds, hot: str) -> Bounds:
    """The web with the source taken for a wire to ground."""
    rows: Bounds = {}
    for near, row in bounds.items():
        for far, (low, high) in row.items():
            one, other = (GROUND if node == hot else node for node in (near, far))
            if one != other:
                old = rows.setdefault(one, {}).get(other, (0.0, 0.0))
                rows[one][other] = (old[0] + low, old[1] + high)
    return rows


def _order(rows: Mapping[str, Mapping[str, float]], ports: set[str]) -> list[str]:
    """An order of taking nodes out in which few ties are made: always the node with the fewest."""
    near = {node: set(row) for node, row in rows.items()}
    waiting, found = set(near) - ports, []
    while waiting:
        gone = min(waiting, key=lambda each: (len(near[each]), each))
        waiting.remove(gone)
        found.append(gone)
        ties = near.pop(gone)
        for one in ties:
            near[one] |= ties
            near[one] -= {one, gone}
    return found


def _divider(rows: dict[str, dict[str, float]], order: list[str], node: str, hot: str) -> tuple[float, float]:
    """The conductances from a node to the source and to ground once every other node is taken out."""
    for gone in order:
        ties = list(rows.pop(gone).items())
        total = sum(each for _, each in ties)
        for at, (one, siemens) in enumerate(ties):
            near = rows[one]
            del near[gone]
            share = siemens / total
            for other, more in ties[at + 1 :]:
                rows[other][one] = near[other] = near.get(other, 0.0) + share * more
    row = rows.get(node, {})
    return row.get(hot, 0.0), row.get(GROUND, 0.0)
