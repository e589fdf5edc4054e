"""Circuits with a device between: a radio, or a converter that pulses. It reads the edge and tells the operator."""

from __future__ import annotations

from typing import Literal

from sillwright.base.units import Ohm
from sillwright.circuit.building import Bench, Pair, Spread, walk_to_the_box
from sillwright.circuit.hurting import TOUCH, Hurts
from sillwright.circuit.inlet import INPUT, SUPPLY, on_input
from sillwright.circuit.model import InputSide, LeadWire, Loop, State
from sillwright.circuit.netlist import GROUND, Netlist
from sillwright.circuit.typical import numbers, threshold
from sillwright.circuit.wire_table import conductor

Output = Literal["rest", "pressed", "open"]
"""What a converter or receiver shows the operator. One that pulses stops for both of the others."""


def device_loop(loop: Loop) -> Loop:
    """The edge's own loop on the input of the converter or transmitter, which is taken as a typical one.

    Its pull-up is as large as the end element, so that the loop rests at half of its supply.
    """
    typical = numbers("input")
    supply, window = typical["supply"], typical["window"]
    pull_up: Ohm = typical["pull_up"] if loop.end is None else loop.end.resistance
    given = InputSide(
        supply=supply,
        pull_up=pull_up,
        pressed=threshold(supply, typical["pressed"], window),
        open=None if loop.end is None else threshold(supply, typical["open"], window),
    )
    return Loop(
        circuit="plain" if loop.end is None else "resistor",
        input=given,
        lead=LeadWire(length=0.0),
        cord=loop.cord,
        strips=loop.strips,
        end=loop.end,
        devices=loop.devices,
        joined=loop.joined,
    )


def device_state(state: State) -> State:
    """What of a state the converter or transmitter sees: the edge's own loop."""
    return State(hurts=Hurts(state.hurts).edges().all, press=state.press)


def forced_output(loop: Loop, state: State) -> Output | None:
    """What the device shows whatever it reads; None where it goes by the edge."""
    hurts = Hurts(state.hurts)
    dead = any(each.place != "board" for each in hurts.any("dead_supply"))
    if hurts.any("contact_welded") and (loop.circuit == "radio" or not dead):
        return "rest"
    return "open" if dead or hurts.any("no_link") else None


def converted(loop: Loop, hurts: Hurts, spread: Spread, output: Output) -> tuple[Netlist, ...]:
    """What the operator's input sees of the device; for one that pulses, between pulses and in a pulse."""
    dead = any(each.place == "board" for each in hurts.any("dead_supply"))
    ours = hurts.operators()
    phases = (False,) if loop.circuit == "radio" else (False, output == "rest" and not ours.crossed)
    found = []
    for mark in phases:
        bench = Bench(loop, ours, None, spread)
        far = walk_to_the_box(bench, "board", (INPUT, GROUND), own_element)
        if far is not None:
            show(bench, far, output, mark)
        found.append(on_input(bench, dead=dead))
    return tuple(found)


def own_element(bench: Bench, pair: Pair) -> None:
    """The element that a receiver shows, or what stands in its place."""
    end, wrong = bench.loop.end, bench.hurts.any("element_wrong")
    if wrong:
        bench.add("end", *pair, wrong[0].ohm or 0.0)
    elif end is not None and not bench.hurts.any("element_missing"):
        bench.add("end", *pair, end.resistance, end.tolerance)


def show(bench: Bench, pair: Pair, output: Output, mark: bool) -> None:
    """The output of the device across the pair."""
    circuit = bench.loop.circuit
    if circuit == "radio":
        if output == "rest":
            own_element(bench, pair)
        elif output == "pressed":
            bench.add("contact", *pair, TOUCH)
        return
    values = numbers("pulse")
    if circuit == "pulse_two_wire":
        bench.add("converter.idle", *pair, values["idle"], bench.spread.converter)
        if mark:
            bench.add("converter.mark", *pair, values["mark"], bench.spread.converter)
        return
    lead, draw = bench.loop.lead, bench.loop.input.supply / values["load"]
    ohm = conductor(lead.gauge, lead.length, lead.temperature)
    bench.add("lead.power", SUPPLY, "power", ohm, bench.spread.wire)
    bench.add("converter.load", "power", pair[1], draw, bench.spread.converter)
    if mark:
        bench.add("converter.switch", *pair, values["switch"], bench.spread.converter)
