"""The operator's input: its supply and pull-up before a loop, and what it makes of its voltages."""

from __future__ import annotations

from sillwright.base.units import Volt
from sillwright.circuit.building import Bench
from sillwright.circuit.hurting import PULSED
from sillwright.circuit.model import Loop, Read, Threshold
from sillwright.circuit.netlist import GROUND, Netlist, Source

INPUT = "in"
"""The node of the input's terminal."""
SUPPLY = "supply"


def on_input(bench: Bench, *, dead: bool) -> Netlist:
    """The parts of a bench behind the input's pull-up and its supply."""
    given = bench.loop.input
    bench.add("pull_up", SUPPLY, INPUT, given.pull_up, given.pull_up_tolerance)
    supply = Source("supply", SUPPLY, GROUND, 0.0 if dead else given.supply, given.supply_tolerance)
    return Netlist(tuple(bench.resistors), (supply,), tuple(bench.diodes), tuple(bench.capacitors))


def read(loop: Loop, volts: tuple[Volt, ...]) -> Read:
    """What the input makes of its voltages, in the order of :func:`netlists`."""
    low, high = loop.input.pressed, loop.input.open
    if loop.circuit == "diode_capacitor":
        return _alternate(*(_side(each, low) for each in volts))
    if loop.circuit in PULSED:
        return _pulses(*(_side(each, low) for each in volts))
    (volt,) = volts
    side = _side(volt, low)
    if loop.circuit == "normally_closed":
        names: dict[int | None, Read] = {-1: "rest", 1: "pressed", None: "between"}
        return names[side]
    if side != 1:
        return "pressed" if side == -1 else "between"
    over = -1 if high is None else _side(volt, high)
    return "rest" if over == -1 else "open" if over == 1 else "between"


def _side(volt: Volt, threshold: Threshold) -> int | None:
    """Below the threshold of every part: -1; above that of every part: 1; None in the window between."""
    return -1 if volt < threshold.least_voltage else 1 if volt > threshold.greatest_voltage else None


def _alternate(forward: int | None, backward: int | None) -> Read:
    """A diode shows low one way and high the other; both low is a press, and everything else no element."""
    if None in (forward, backward):
        return "between"
    if forward == -1:
        return "rest" if backward == 1 else "pressed"
    return "open"


def _pulses(idle: int | None, mark: int | None) -> Read:
    """Pulses cross the threshold; without them the input takes it as a press, whatever the reason."""
    if idle == 1 and mark == -1:
        return "rest"
    return "pressed" if idle == -1 or mark == 1 else "between"
