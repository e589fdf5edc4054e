"""The loop that a device makes on its input, as `circuit` computes it: what is known of it, else what is usual."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from sillwright.base.units import Metre, Ohm, Volt
from sillwright.catalogue.model import Catalogue, OperatorInput
from sillwright.catalogue.naming import key
from sillwright.circuit.loops import voltage
from sillwright.circuit.model import EndElement, InputSide, LeadWire, Loop, State, Strips, Threshold
from sillwright.circuit.typical import typical
from sillwright.hookup.answer import Joint
from sillwright.hookup.inlets import Inlet, values_of
from sillwright.survey.devices import Protection

Metered = Literal["plain", "normally_closed", "resistor", "diode_capacitor", "four_wire"]
LONGEST: Metre = 60.0  # of strips that the model takes
SHORTEST: Metre = 0.05
LONGEST_WIRE: Metre = 1000.0
MOST_OHMS: Ohm = 1e7
MOST_VOLTS: Volt = 60.0
"""What the model of a loop takes; a part at its bound has no tolerance beyond it."""


def loop_of(
    circuit: Metered,
    joint: Joint,
    device: Protection,
    inlet: Inlet | None,
    catalogue: Catalogue | None,
    *,
    lead_run: Metre | None = None,
    cord: Metre | None = None,
) -> Loop:
    """The device's loop; where a length or a resistance is not known, the typical one stands."""
    usual = typical(circuit)
    lengths = values_of(device.length)
    long = usual.strips.length if not lengths else min(max(lengths[0], SHORTEST), LONGEST)
    strip = _strip_resistance(joint.model, catalogue)
    strips = Strips(
        length=long,
        strip_resistance=usual.strips.strip_resistance if strip is None else min(strip, 1000.0),
        contact=usual.strips.contact,
        insulation=usual.strips.insulation,
    )
    element = end_value(joint, device)
    end = usual.end
    if circuit == "resistor" and element is not None:
        end = EndElement(resistance=element)
    return Loop(
        circuit=circuit,
        input=input_side(inlet.entry if inlet else None) or usual.input,
        lead=_wire(usual.lead, lead_run),
        cord=_wire(usual.cord, cord),
        strips=strips,
        end=end,
    )


def end_value(joint: Joint, device: Protection) -> Ohm | None:
    """The end element that is there, as far as it was taken down; else the one that belongs there."""
    own = values_of(device.resistance)
    return own[0] if len(own) == 1 else joint.end_element


def input_side(entry: OperatorInput | None) -> InputSide | None:
    """An input as the catalogue describes it; None where supply, pull-up or the lower threshold is missing."""
    if entry is None or entry.supply is None or entry.pull_up is None or entry.below is None:
        return None
    opened = entry.above.open if entry.above else None
    if opened is not None and not entry.below.pressed < opened:
        return None
    return InputSide(
        supply=entry.supply,
        pull_up=entry.pull_up,
        pressed=_at(entry.below.pressed),
        open=None if opened is None else _at(opened),
    )


def volts(loop: Loop, state: State) -> Volt | None:
    """The voltage at the terminals; None for a loop that is probed from both sides."""
    found = voltage(loop, state)
    return found if isinstance(found, float) else None


def corner(loop: Loop, sign: Literal[-1, 1]) -> Loop:
    """The loop with every part at the end of its tolerance that lowers, or raises, what is read.

    The voltage rises with the supply and the end element and falls with the pull-up, so that corners are exact.
    """
    given, end = loop.input, loop.end
    side = replace(
        given,
        supply=min(given.supply * (1 + sign * given.supply_tolerance), MOST_VOLTS),
        pull_up=min(given.pull_up * (1 - sign * given.pull_up_tolerance), MOST_OHMS),
    )
    if end is not None:
        end = replace(end, resistance=min(end.resistance * (1 + sign * end.tolerance), MOST_OHMS))
    return replace(loop, input=side, end=end)


def _at(value: Volt) -> Threshold:
    return Threshold(least_voltage=value, greatest_voltage=value)


def _wire(usual: LeadWire, length: Metre | None) -> LeadWire:
    if length is None:
        return usual
    return LeadWire(gauge=usual.gauge, length=min(max(0.0, length), LONGEST_WIRE))


def _strip_resistance(model: str | None, catalogue: Catalogue | None) -> float | None:
    if model is None or catalogue is None:
        return None
    body = next((each for each in catalogue.profiles if key(each.name) == key(model)), None)
    return body.strip_resistance if body else None
