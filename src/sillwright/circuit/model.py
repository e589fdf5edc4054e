"""Models of the loop that hangs on an operator's input: what it is made of, what hurts it, where it is pressed."""

from __future__ import annotations

from typing import Literal

from sillwright.base.model import Model, field
from sillwright.base.units import Kelvin, Metre, Number, Ohm, OhmPerMetre, Second, Volt

Circuit = Literal[
    "plain",
    "normally_closed",
    "resistor",
    "diode_capacitor",
    "four_wire",
    "pulse_two_wire",
    "pulse_three_wire",
    "radio",
]
"""What the loop is, in the words of the survey. ``radio``: a resistor loop at the transmitter, whose receiver shows
its own end element to the operator."""

Read = Literal["rest", "pressed", "open", "between"]
"""What an input makes of its voltage. ``between``: in the window of a threshold, where one part
says this and another that."""

Place = Literal["board", "lead", "box", "cord", "edge_near", "edge_middle", "edge_far"]
"""Along the loop, from the operator to the far end of the edge."""

HurtKind = Literal[
    "cut",  # a conductor is open at the place
    "joint",  # a conductor has the resistance ``ohm`` at the place
    "short",  # both conductors touch at the place
    "wet",  # ``ohm`` between the conductors at the place
    "crushed",  # the edge answers all the time at the place: strips touch with contact resistance
    "element_missing",
    "element_wrong",  # the end element has ``ohm``
    "element_second",  # one more of ``ohm`` across the pair at the place
    "element_before",  # the end element stands at the place, the edge behind it is not joined
    "swapped",  # the conductors of a pair change places
    "dead_supply",
    "dead_beyond",  # strips no longer touch beyond the place: torn, set, cold
    "no_link",  # radio: nothing arrives
    "contact_welded",  # a contact or relay stays closed
]


class Threshold(Model):
    """A voltage at which an input changes its mind, between two values that no part lies outside of."""

    least_voltage: Volt = field(at_least=0, at_most=60, title="Least voltage of the threshold")
    greatest_voltage: Volt = field(at_least=0, at_most=60, title="Greatest voltage of the threshold")


class InputSide(Model):
    """An operator's input: what it feeds into the loop and what it makes of what it reads."""

    supply: Volt = field(above=0, at_most=60, title="Supply behind the pull-up")
    supply_tolerance: Number = field(default=0.05, at_least=0, at_most=0.5, title="Tolerance of the supply")
    pull_up: Ohm = field(above=0, at_most=1e7, title="Pull-up resistor")
    pull_up_tolerance: Number = field(default=0.05, at_least=0, at_most=0.5, title="Tolerance of the pull-up")
    pressed: Threshold = field(title="Reads pressed below")
    open: Threshold | None = field(default=None, title="Reads open above; null = it does not tell open from rest")
    hysteresis: Volt = field(default=0.0, at_least=0, at_most=10, title="A change back needs this much more")
    response: Second = field(default=0.05, at_least=0, at_most=10, title="Time for which it must read so")


class LeadWire(Model):
    """Two conductors between two places."""

    gauge: Number = field(default=22, at_least=4, at_most=40, title="Wire gauge (AWG)")
    length: Metre = field(at_least=0, at_most=1000, title="One-way length")
    temperature: Kelvin = field(default=293.15, at_least=200, at_most=400, title="Temperature of the wire")


class Strips(Model):
    """The two conducting strips of an edge."""

    length: Metre = field(above=0, at_most=60, title="Length of the strips")
    strip_resistance: OhmPerMetre = field(default=10.0, at_least=0, at_most=1000, title="Resistance of a strip")
    contact: Ohm = field(default=100.0, at_least=0, at_most=1e4, title="Contact resistance of a press")
    insulation: Ohm = field(default=1e8, above=0, at_most=1e12, title="Insulation between the strips, whole length")


class EndElement(Model):
    """What closes the loop at its far end."""

    resistance: Ohm = field(default=10e3, above=0, at_most=1e7, title="Resistance")
    tolerance: Number = field(default=0.05, at_least=0, at_most=0.5, title="Tolerance")


class Loop(Model):
    """A circuit on an input, whole: board, lead in the wall, box, cord, edge, end element."""

    circuit: Circuit = field(title="Circuit")
    input: InputSide = field(title="Operator's input")
    lead: LeadWire = field(title="Lead from the operator to the box")
    cord: LeadWire = field(title="Cord from the box to the edge")
    strips: Strips = field(title="Strips of the edge")
    end: EndElement | None = field(default=None, title="End element; null where the circuit has none")
    devices: int = field(default=1, at_least=1, at_most=8, title="Edges on this input")
    joined: Literal["chain", "parallel"] = field(default="chain", title="How several edges are joined")


class Hurt(Model):
    """One thing that is wrong with a loop."""

    kind: HurtKind = field(title="What is wrong")
    place: Place = field(default="cord", title="Where")
    ohm: Ohm | None = field(default=None, at_least=0, at_most=1e9, title="Resistance, where the kind has one")


class Press(Model):
    """A press on the edge."""

    at: Number = field(at_least=0, at_most=1, title="Where, as a share of the length from the near end")


class State(Model):
    """A loop as it stands at a moment."""

    hurts: tuple[Hurt, ...] = field(default=(), title="What is wrong")
    press: Press | None = field(default=None, title="Where it is pressed; null = nowhere")
