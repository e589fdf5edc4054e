"""Case and result of the margin of a loop on an input."""

from __future__ import annotations

from typing import Literal

from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Metre, Number, Ohm, Volt
from sillwright.circuit.circuits import check_loop
from sillwright.circuit.model import Loop, Read

StateName = Literal[
    "rest",
    "pressed_near",
    "pressed_far",
    "open_near",
    "open_middle",
    "open_far",
    "short",
    "wet",
    "wrong_element",
]
"""States in which a loop is looked at."""

Part = Literal["supply", "pull_up", "lead", "cord", "strips", "contact", "insulation", "end_element", "converter"]
"""Kinds of parts whose tolerances eat margin."""


class MarginCase(Case):
    """A loop on an input, and how far its parts may lie from their values."""

    loop: Loop = field(title="Loop on the input")
    wire_tolerance: Number = field(default=0.05, at_least=0, at_most=0.9, title="Tolerance of wires")
    strip_tolerance: Number = field(default=0.3, at_least=0, at_most=0.9, title="Tolerance of the strips")
    contact_tolerance: Number = field(default=0.5, at_least=0, at_most=0.9, title="Tolerance of a press")
    insulation_tolerance: Number = field(default=0.9, at_least=0, at_most=0.99, title="Tolerance of the insulation")
    converter_tolerance: Number = field(default=0.1, at_least=0, at_most=0.9, title="Tolerance of a converter")
    wet: Ohm = field(default=30e3, above=0, at_most=1e9, title="Leak of the wet state")
    wrong_element: Ohm = field(default=4.7e3, above=0, at_most=1e7, title="Element of the wrong state")
    samples: int = field(default=2000, at_least=100, at_most=100_000, title="Random loops")
    seed: int = field(default=1, at_least=0, at_most=2**32 - 1, title="Seed of the random loops")

    def __post_init__(self) -> None:
        super().__post_init__()
        check_loop(self.loop)


class StateMargin(Model):
    """Voltages of one state at one of the netlists that the input sees."""

    state: StateName = field(title="State")
    probe: int = field(title="1; 2 = fed from the other side, or in a pulse")
    voltage: Volt = field(title="Voltage with all parts at their values")
    least_voltage: Volt = field(title="Least voltage over all tolerances")
    greatest_voltage: Volt = field(title="Greatest voltage over all tolerances")
    certified: bool = field(title="Whether the least and the greatest are exact")
    voltage_p5: Volt = field(title="Voltage that 5 % of random loops stay below")
    voltage_p50: Volt = field(title="Median voltage of random loops")
    voltage_p95: Volt = field(title="Voltage that 95 % of random loops stay below")
    reads: Read = field(title="Reads, with all parts at their values")
    reads_worst: Read = field(title="Reads with any parts within tolerance; between = not all the same")
    to_pressed: Volt = field(title="From the extremes to the pressed threshold; below 0 = they reach it")
    to_open: Volt | None = field(default=None, title="From the extremes to the open threshold")
    wanted: Read | None = field(default=None, title="What the state has to read; null = nothing is asked of it")
    margin: Volt | None = field(default=None, title="Left before it reads anything else; below 0 = it may do so")
    misread_share: Number | None = field(default=None, title="Share of random loops that read something else")


class PartShare(Model):
    """What the tolerance of a kind of part costs."""

    part: Part = field(title="Part")
    costs: Volt = field(title="Margin won if it were exact")


class MarginResult(Result):
    """What the input reads in every state, and how much is left."""

    works: bool = field(title="Whether every state reads what it has to with all parts at their worst")
    certified: bool = field(title="Whether that is proven for all tolerances; no = seen at likely corners only")
    sees_break: bool = field(
        title="Whether a broken wire reads otherwise than rest, wherever it is, with any parts"
    )
    margin: Volt = field(title="Least margin of all states; below 0 = it does not work with every part")
    deciding_state: StateName = field(title="State with the least margin")
    weakest: Part | None = field(default=None, title="Part whose tolerance costs most margin")
    parts: tuple[PartShare, ...] = field(default=(), title="What the tolerances cost, most first")
    states: tuple[StateMargin, ...] = field(title="States")
    longest_lead: Metre | None = field(default=None, title="Longest lead that still works; null = none does")
    total_pressed: Ohm | None = field(default=None, title="Loop resistance below which it reads pressed")
    total_open: Ohm | None = field(default=None, title="Loop resistance above which it reads open")
    leak_trips: Ohm | None = field(default=None, title="Leak across the end that trips a typical input")
    leak_trips_first: Ohm | None = field(default=None, title="Leak at which the first input trips")
    joint_trips: Ohm | None = field(default=None, title="Joint resistance that trips a typical input")
    joint_trips_first: Ohm | None = field(default=None, title="Joint resistance at which the first input trips")
    joint_hides: Ohm | None = field(default=None, title="Joint resistance that hides a press at the far end")
    leak_hides: Ohm | None = field(default=None, title="Leak that hides a press, where a press opens a contact")
    case: MarginCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
