"""The netlists that an operator's input sees, by kind of circuit."""

from __future__ import annotations

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Ohm
from sillwright.base.words import N_, say
from sillwright.circuit.building import Bench, Close, Pair, Spread, walk
from sillwright.circuit.converting import Output, converted
from sillwright.circuit.hurting import CONVERTED, PLACES, TOUCH, Hurts, check_hurts
from sillwright.circuit.inlet import INPUT, on_input
from sillwright.circuit.model import Loop, Place, State
from sillwright.circuit.netlist import GROUND, Capacitor, Diode, Netlist
from sillwright.circuit.wire_table import conductor


def netlists(
    loop: Loop, state: State | None = None, spread: Spread | None = None, output: Output = "rest"
) -> tuple[Netlist, ...]:
    """What the input sees: one netlist; two for a pair that is probed from either side, or that pulses.

    ``output`` is what a converter or receiver shows; other circuits have none. The input's terminal is node ``in``.
    Raises :class:`OutOfRange` for a loop or a hurt that cannot be.
    """
    state, spread = state or State(), spread or Spread()
    check_loop(loop)
    check_hurts(loop, state)
    hurts = Hurts(state.hurts)
    if loop.circuit in CONVERTED:
        return converted(loop, hurts, spread, output)
    pairs: list[Pair] = [(INPUT, GROUND)]
    if loop.circuit == "diode_capacitor":
        pairs.append((GROUND, INPUT))
    found = []
    for pair in pairs:
        bench = Bench(loop, hurts, state.press, spread)
        walk(bench, "board", pair, closing("board"))
        found.append(on_input(bench, dead=bool(hurts.any("dead_supply"))))
    return tuple(found)


def check_loop(loop: Loop) -> None:
    """Raise :class:`OutOfRange` for a loop whose parts do not fit together."""
    if loop.circuit in {"resistor", "four_wire", "radio"} and loop.end is None:
        raise OutOfRange(
            say(N_("end: a {circuit} circuit has an end element; give its resistance"), circuit=loop.circuit)
        )
    low, high = loop.input.pressed, loop.input.open
    for each in (low, high):
        if each is not None and each.least_voltage > each.greatest_voltage:
            raise OutOfRange(say(N_("input: a threshold's least voltage is above its greatest; swap them")))
    if high is not None and low.greatest_voltage >= high.least_voltage:
        told = {"low": f"{low.greatest_voltage:g}", "high": f"{high.least_voltage:g}"}
        raise OutOfRange(
            say(N_("input: pressed reads up to {low} V, open from {high} V on; the two must not overlap"), **told)
        )


def closing(start: Place) -> Close:
    """What closes the loop of a circuit without a converter, seen from a place on."""

    def close(bench: Bench, pair: Pair) -> None:
        missing = bool(bench.hurts.any("element_missing")) or bench.hurts.element_before(start)
        circuit = bench.loop.circuit
        if circuit == "normally_closed":
            bench.add("closing", *pair, TOUCH)
        elif circuit == "four_wire":
            back = returns(bench, pair, start)
            if start == "board" and not missing and not bench.has("end"):
                _element(bench, back)
        elif not missing:
            _element(bench, pair)

    return close


def _element(bench: Bench, pair: Pair) -> None:
    """The end element, or what stands in its place."""
    end, wrong = bench.loop.end, bench.hurts.any("element_wrong")
    if wrong:
        bench.add("end", *pair, wrong[0].ohm or 0.0)
    elif bench.loop.circuit == "diode_capacitor":
        _diode(bench, (pair[1], pair[0]) if bench.hurts.crossed else pair)
    elif end is not None:
        bench.add("end", *pair, end.resistance, end.tolerance)


def _diode(bench: Bench, pair: Pair) -> None:
    """A diode with its capacitor, behind a resistor where the loop has one."""
    one, other = pair
    end, tag = bench.loop.end, len(bench.diodes)
    behind = one if end is None else f"{one}.end"
    if end is not None:
        bench.add("end", one, behind, end.resistance, end.tolerance)
    bench.diodes.append(Diode(f"diode{tag}", behind, other))
    bench.capacitors.append(Capacitor(f"capacitor{tag}", one, other, 1e-7))


def returns(bench: Bench, pair: Pair, start: Place) -> Pair:
    """The two conductors that run back from the far ends of the strips; their ends at the place."""
    loop, at = bench.loop, PLACES.index(start)
    ohm: Ohm = conductor(loop.cord.gauge, loop.strips.length, loop.cord.temperature)
    if at <= PLACES.index("cord"):
        ohm += conductor(loop.cord.gauge, loop.cord.length, loop.cord.temperature)
    for side, near in zip("ab", pair, strict=True):
        bench.add(f"cord.return_{side}", near, f"{side}.back", ohm, bench.spread.wire)
    if at > PLACES.index("lead"):
        return "a.back", "b.back"
    if not bench.has("lead.return_a"):
        lead = conductor(loop.lead.gauge, loop.lead.length, loop.lead.temperature)
        for side in "ab":
            bench.add(f"lead.return_{side}", f"{side}.back", f"{side}.board", lead, bench.spread.wire)
    return "a.board", "b.board"
