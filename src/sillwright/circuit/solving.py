"""The node voltages of a netlist: exact elimination, and for diodes Newton's method down to round-off."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import exp, log, sqrt

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Volt
from sillwright.base.words import N_, say
from sillwright.circuit.netlist import GROUND, Netlist

THERMAL: Volt = 8.617333262e-5 * 300.15  # k T / q at 27 °C
STEPS = 500  # of Newton's method; a dozen is usual
Web = dict[str, dict[str, float]]  # conductance (siemens) between two nodes, from either side
Taken = tuple[str, dict[str, float], float]  # a node that was taken out, its ties, their sum


def solve(netlist: Netlist) -> dict[str, Volt]:
    """The voltage of every node against ground.

    Conductances only ever add, multiply and divide, so that no digits cancel however far apart resistances are.
    Capacitors are charged. Raises :class:`OutOfRange` where a diode's current does not settle.

    >>> from sillwright.circuit.netlist import Resistor, Source
    >>> parts = (Resistor("pull_up", "supply", "in", 10e3), Resistor("end", "in", "0", 10e3))
    >>> solve(Netlist(parts, (Source("supply", "supply", "0", 5.0),)))["in"]
    2.5
    """
    found, _ = solved(netlist)
    nodes = netlist.nodes
    return {node: found[root] + nodes.above[node] for node, root in nodes.root.items()}


def solved(netlist: Netlist) -> tuple[dict[str, Volt], Web]:
    """The voltages of the roots, and the web of conductances there: of a diode, the slope of its curve."""
    web, fed = _stamped(netlist)
    return _newton(netlist, web, fed) if netlist.diodes else (eliminate(web, fed), web)


def sensitivities(netlist: Netlist, node: str) -> dict[str, Volt]:
    """How a node's voltage moves with every resistor: volts for a change of the resistor by its whole self.

    By the adjoint network (Director and Rohrer 1969, from memory): one more elimination, whatever the number of
    parts. Raises :class:`OutOfRange` as :func:`solve` does.
    """
    found, web = solved(netlist)
    nodes = netlist.nodes
    root, above = nodes.root, nodes.above
    asked, _ = netlist.place(node)
    turned = dict.fromkeys(web, 0.0) if asked == GROUND else eliminate(web, {asked: 1.0})
    moved = {}
    for each in netlist.resistors:
        one, other = root[each.a], root[each.b]
        if each.ohm == 0:
            moved[each.name] = 0.0
            continue
        across = found[one] + above[each.a] - found[other] - above[each.b]
        moved[each.name] = across * (turned[one] - turned[other]) / each.ohm
    return moved


def join(web: Web, one: str, other: str, siemens: float) -> None:
    """Add a conductance between two nodes."""
    for near, far in ((one, other), (other, one)):
        row = web.setdefault(near, {})
        row[far] = row.get(far, 0.0) + siemens


def _stamped(netlist: Netlist) -> tuple[Web, dict[str, float]]:
    """The web of conductances between roots, and the current that sources feed into each."""
    root, above = netlist.nodes.root, netlist.nodes.above
    web: Web = {GROUND: {}}
    fed: dict[str, float] = {}
    for each in netlist.resistors:
        one, other = root[each.a], root[each.b]
        if one == other:
            continue
        siemens = 1 / each.ohm
        join(web, one, other, siemens)
        gap = above[each.b] - above[each.a]
        if gap:
            fed[one] = fed.get(one, 0.0) + siemens * gap
            fed[other] = fed.get(other, 0.0) - siemens * gap
    return web, fed


def eliminate(web: Web, fed: Mapping[str, float]) -> dict[str, Volt]:
    """Node voltages of a web of conductances: every node is taken out, and then put back."""
    rest, current = copied(web), dict(fed)
    order = take_out(rest, current, set(rest) - {GROUND})
    return put_back(order, current, {GROUND: 0.0})


def copied(web: Web) -> Web:
    """A web of its own with the same ties."""
    return {node: dict(row) for node, row in web.items()}


def take_out(rest: Web, current: dict[str, float], waiting: set[str]) -> list[Taken]:
    """Take nodes out of a web one by one, those with the fewest ties first; what is fed into them goes on."""
    order: list[Taken] = []
    while waiting:
        node = min(waiting, key=lambda each: (len(rest[each]), each))
        waiting.remove(node)
        row = rest.pop(node)
        total = sum(row.values())
        order.append((node, row, total))
        pushed = current.get(node, 0.0)
        ties = list(row.items())
        for at, (one, siemens) in enumerate(ties):
            near = rest[one]
            del near[node]
            share = siemens / total
            current[one] = current.get(one, 0.0) + share * pushed
            for other, more in ties[at + 1 :]:
                added = share * more
                near[other] = near.get(other, 0.0) + added
                far = rest[other]
                far[one] = far.get(one, 0.0) + added
    return order


def put_back(order: list[Taken], current: Mapping[str, float], found: dict[str, Volt]) -> dict[str, Volt]:
    """The voltages of the nodes taken out, from those that are known."""
    for node, row, total in reversed(order):
        found[node] = (current.get(node, 0.0) + sum(each * found[far] for far, each in row.items())) / total
    return found


def _newton(netlist: Netlist, web: Web, fed: Mapping[str, float]) -> tuple[dict[str, Volt], Web]:
    """Newton's method on the diodes' voltages, each step held back where the exponential would run away.

    Only the nodes of diodes change from step to step; the others are taken out before and put back at the end.
    """
    root, above = netlist.nodes.root, netlist.nodes.above
    diodes = [each for each in netlist.diodes if root[each.anode] != root[each.cathode]]
    ends = {root[node] for each in diodes for node in (each.anode, each.cathode)} | {GROUND}
    rest, current = copied(web), dict(fed)
    order = take_out(rest, current, set(rest) - ends)
    across = [0.6] * len(diodes)
    last = float("inf")
    for _ in range(STEPS):
        trial, pushed, steeps = copied(rest), dict(current), []
        for diode, volt in zip(diodes, across, strict=True):
            one, other, spread = root[diode.anode], root[diode.cathode], diode.emission * THERMAL
            steep = diode.saturation * exp(volt / spread) / spread
            steeps.append((one, other, steep))
            join(trial, one, other, steep)
            gap = above[diode.cathode] - above[diode.anode]
            stray = steep * (gap + volt) - diode.saturation * (exp(volt / spread) - 1.0)
            pushed[one] = pushed.get(one, 0.0) + stray
            pushed[other] = pushed.get(other, 0.0) - stray
        found, moved = eliminate(trial, pushed), 0.0
        for at, diode in enumerate(diodes):
            a, c = diode.anode, diode.cathode
            wanted = found[root[a]] + above[a] - found[root[c]] - above[c]
            step = _held(wanted, across[at], diode.emission * THERMAL, diode.saturation)
            moved = max(moved, abs(step - across[at]) / max(1.0, abs(step)))
            across[at] = step
        if moved < 1e-15 or (moved < 1e-11 and moved >= last):
            return put_back(order, current, found), _with_slopes(web, steeps)
        last = moved
    names = ", ".join(diode.name for diode in diodes)
    raise OutOfRange(say(N_("{names}: the current does not settle; look at the values again"), names=names))


def _with_slopes(web: Web, steeps: Iterable[tuple[str, str, float]]) -> Web:
    """The web with the slopes of the diodes in it."""
    whole = copied(web)
    for each in steeps:
        join(whole, *each)
    return whole


def _held(wanted: Volt, now: Volt, spread: Volt, saturation: float) -> Volt:
    """The next voltage over a diode, held back above the bend of its curve."""
    bend = spread * log(spread / (sqrt(2.0) * saturation))
    if wanted <= bend or abs(wanted - now) <= 2 * spread:
        return max(wanted, -700 * spread) if wanted < 0 else wanted
    if now <= 0:
        return spread * log(max(wanted / spread, 1.0))
    rise = 1 + (wanted - now) / spread
    return now + spread * log(rise) if rise > 0 else bend
