"""What an ohmmeter shows at a loop with power locked out."""

from __future__ import annotations

from math import inf
from typing import Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Ohm
from sillwright.base.words import N_, say
from sillwright.circuit.building import Bench, Pair, walk, walk_to_the_box
from sillwright.circuit.circuits import check_loop, closing
from sillwright.circuit.converting import device_loop, device_state, own_element, show
from sillwright.circuit.hurting import CONVERTED, Hurts, check_hurts
from sillwright.circuit.model import Loop, Place, State
from sillwright.circuit.netlist import GROUND, Capacitor, Diode, Netlist, Resistor, Source
from sillwright.circuit.solving import solve
from sillwright.circuit.typical import numbers

MeterPlace = Literal["operator", "box", "edge"]
"""Where a lead is lifted to measure."""
Probes = Literal["pair", "first_strip", "second_strip"]
"""Between the two conductors; or, of a four-wire edge, from end to end of one strip."""

FIRST: dict[MeterPlace, Place] = {"operator": "lead", "box": "box", "edge": "edge_near"}
"""The first place behind the probes: the board is left out once the lead is lifted."""
NEAR: Pair = ("near.a", "near.b")


def meter(
    loop: Loop,
    state: State | None = None,
    at: MeterPlace = "operator",
    swapped: bool = False,
    probes: Probes = "pair",
) -> Ohm:
    """What an ohmmeter shows with power locked out and the lead lifted there, looking towards the edge; inf = OL.

    The meter drives 1 V through 1 kilohm: a diode shows about 1 kilohm one way and OL the other (``swapped``).
    ``box`` is where the lead ends: its terminals and everything behind them. With a radio or a converter,
    ``operator`` looks into an output without power, ``box`` and ``edge`` at the edge's own loop. Parts have their
    nominal values. Raises :class:`OutOfRange` for a loop or a hurt that cannot be.

    >>> from sillwright.circuit.typical import typical
    >>> round(meter(typical("resistor"), at="edge"))
    10059
    """
    state = state or State()
    check_loop(loop)
    check_hurts(loop, state)
    if probes != "pair" and loop.circuit != "four_wire":
        raise OutOfRange(
            say(N_("probes: {probes} is for a four-wire edge; measure a {circuit} circuit between its pair"),
                probes=probes, circuit=loop.circuit)
        )  # fmt: skip
    if loop.circuit in CONVERTED and at == "operator":
        bench = _output(loop, state)
    else:
        seen = (loop, state) if loop.circuit not in CONVERTED else (device_loop(loop), device_state(state))
        bench = Bench(seen[0], Hurts(seen[1].hurts), seen[1].press)
        walk(bench, FIRST[at], NEAR, closing(FIRST[at]))
    ends = _ends(probes, at)
    return _shown(bench, (ends[1], ends[0]) if swapped else ends)


def _output(loop: Loop, state: State) -> Bench:
    """The lead with the output of a converter or receiver that has no power: open, unless its contact is stuck."""
    bench = Bench(loop, Hurts(state.hurts).operators(), None)
    far = walk_to_the_box(bench, "lead", NEAR, own_element)
    stuck = loop.circuit == "radio" and bool(Hurts(state.hurts).any("contact_welded"))
    if far is not None:
        show(bench, far, "rest" if stuck else "open", mark=False)
    return bench


def _ends(probes: Probes, at: MeterPlace) -> Pair:
    """The nodes at which the probes lie."""
    back = "board" if at == "operator" else "back"
    if probes == "first_strip":
        return NEAR[0], f"a.{back}"
    return NEAR if probes == "pair" else (NEAR[1], f"b.{back}")


def _shown(bench: Bench, ends: Pair) -> Ohm:
    """What the meter makes of the current that it drives."""
    values = numbers("meter")
    hot, cold = ends

    def at(node: str) -> str:
        return GROUND if node == cold else node

    parts = [Resistor(each.name, at(each.a), at(each.b), each.ohm) for each in bench.resistors]
    if not bench.diodes:
        parts = _reached(parts, hot)
    parts.append(Resistor("meter.ohm", "meter", hot, values["ohm"]))
    diodes = [Diode(each.name, at(each.anode), at(each.cathode)) for each in bench.diodes]
    charged = [Capacitor(each.name, at(each.a), at(each.b), each.farad) for each in bench.capacitors]
    source = Source("meter", "meter", GROUND, values["volt"])
    volt = solve(Netlist(tuple(parts), (source,), tuple(diodes), tuple(charged)))[hot]
    current = (values["volt"] - volt) / values["ohm"]
    if current * values["most"] <= volt:
        return inf
    return float(max(0.0, volt / current))


def _reached(parts: list[Resistor], hot: str) -> list[Resistor]:
    """Those that hang together with the probes; the other strip of a four-wire edge may hang in the air."""
    there, before = {hot, GROUND}, 0
    while len(there) > before:
        before = len(there)
        there |= {node for each in parts for node in (each.a, each.b) if {each.a, each.b} & there}
    return [each for each in parts if each.a in there]
