"""A netlist with many values of its parts, side by side: the plain solution with arrays in place of numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, say
from sillwright.circuit.netlist import GROUND, Netlist
from sillwright.circuit.solving import THERMAL, Web, copied, eliminate, join, put_back, take_out

Array = NDArray[np.float64]
STEPS = 200
NEAR = 1e-11  # of a step; what is left after the next one is its square


def solve_many(netlist: Netlist, node: str, factors: Mapping[str, Array], count: int) -> Array:
    """A node's voltage in ``count`` copies of a netlist whose parts are multiplied by ``factors``, an array a part.

    Raises :class:`OutOfRange` where a diode's current does not settle.
    """
    root, lifts = netlist.nodes.root, _lifts(netlist, factors)
    web: Any = {GROUND: {}}
    fed: dict[str, Any] = dict.fromkeys(root.values(), np.zeros(count))
    for each in netlist.resistors:
        one, other = root[each.a], root[each.b]
        if one != other:
            siemens: Any = 1 / (each.ohm * factors.get(each.name, np.ones(count)))
            join(web, one, other, siemens)
            _feed(fed, one, other, siemens * (lifts[each.b] - lifts[each.a]))
    found = _settled(netlist, web, fed, lifts, count)
    volts: Array = found[root[node]] + lifts[node] + np.zeros(count)
    return volts


def _feed(fed: dict[str, Any], one: str, other: str, current: Any) -> None:
    fed[one] = fed[one] + current
    fed[other] = fed[other] - current


def _lifts(netlist: Netlist, factors: Mapping[str, Array]) -> dict[str, Any]:
    """Voltages of the nodes above their roots: what sources with tolerances add."""
    nodes = netlist.nodes
    if not any(each.name in factors for each in netlist.sources):
        return dict(nodes.above)
    lifts: dict[str, Any] = dict.fromkeys(nodes.above, 0.0)
    for each in netlist.sources:
        alone = tuple(0.0 if other is not each else each.volt for other in netlist.sources)
        share = _with_volts(netlist, alone).nodes.above
        for node in lifts:
            lifts[node] = lifts[node] + share[node] * factors.get(each.name, 1.0)
    return lifts


def _with_volts(netlist: Netlist, volts: tuple[float, ...]) -> Netlist:
    sources = tuple(replace(each, volt=volt) for each, volt in zip(netlist.sources, volts, strict=True))
    return replace(netlist, sources=sources)


def _settled(netlist: Netlist, web: Web, fed: dict[str, Any], lifts: Mapping[str, Any], count: int) -> Any:
    """Newton's method on all copies at once until the last of them has settled."""
    root = netlist.nodes.root
    diodes = [each for each in netlist.diodes if root[each.anode] != root[each.cathode]]
    ends = {root[node] for each in diodes for node in (each.anode, each.cathode)} | {GROUND}
    rest, current = copied(web), dict(fed)
    order = take_out(rest, current, set(rest) - ends)
    across = [np.full(count, 0.6) for _ in diodes]
    for _ in range(STEPS):
        trial, pushed = copied(rest), dict(current)
        for diode, volt in zip(diodes, across, strict=True):
            spread = diode.emission * THERMAL
            steep: Any = diode.saturation * np.exp(volt / spread) / spread
            stray = steep * (lifts[diode.cathode] - lifts[diode.anode] + volt)
            join(trial, root[diode.anode], root[diode.cathode], steep)
            _feed(
                pushed, root[diode.anode], root[diode.cathode], stray - diode.saturation * np.expm1(volt / spread)
            )
        found: Any = eliminate(trial, pushed)
        moved = 0.0
        for at, diode in enumerate(diodes):
            a, c = diode.anode, diode.cathode
            wanted = found[root[a]] + lifts[a] - found[root[c]] - lifts[c]
            step = _held(wanted, across[at], diode.emission * THERMAL, diode.saturation)
            moved = max(moved, float(np.max(np.abs(step - across[at]))))
            across[at] = step
        if moved < NEAR:
            return put_back(order, current, found)
    names = ", ".join(diode.name for diode in diodes)
    raise OutOfRange(say(N_("{names}: the current does not settle; look at the values again"), names=names))


def _held(wanted: Array, now: Array, spread: float, saturation: float) -> Array:
    """The next voltages over a diode, held back above the bend of its curve."""
    bend = spread * np.log(spread / (np.sqrt(2.0) * saturation))
    free = (wanted <= bend) | (np.abs(wanted - now) <= 2 * spread)
    rise = 1 + (wanted - now) / spread
    climbed = np.where(rise > 0, now + spread * np.log(np.maximum(rise, 1e-300)), bend)
    started = spread * np.log(np.maximum(wanted / spread, 1.0))
    held: Array = np.where(free, np.maximum(wanted, -700 * spread), np.where(now > 0, climbed, started))
    return held
