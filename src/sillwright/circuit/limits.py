"""How much a loop bears: the leak and the joint that first change what it reads, and the longest lead."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import exp, log

from sillwright.base.units import Metre, Ohm, Volt
from sillwright.circuit.building import Spread
from sillwright.circuit.circuits import netlists
from sillwright.circuit.converting import device_loop
from sillwright.circuit.hurting import CONVERTED
from sillwright.circuit.inlet import INPUT
from sillwright.circuit.model import Hurt, HurtKind, Loop, Place, Press, State, Threshold
from sillwright.circuit.solving import solve
from sillwright.circuit.wire_table import per_metre
from sillwright.circuit.worst import worst

LEAST: Ohm = 1e-3
MOST: Ohm = 1e9
FINE = 1e-8  # of the logarithm of a resistance
Volts = Callable[[Loop, State, int], Volt]
"""A voltage of a loop: at its values, or at its worst."""


def at_values(loop: Loop, state: State, probe: int) -> Volt:
    """The voltage with all parts at their values."""
    return solve(netlists(loop, state)[probe])[INPUT]


def at_least(spread: Spread) -> Volts:
    """The least voltage over all tolerances."""
    return lambda loop, state, probe: worst(netlists(loop, state, spread)[probe], INPUT).least


def at_greatest(spread: Spread) -> Volts:
    """The greatest voltage over all tolerances."""
    return lambda loop, state, probe: worst(netlists(loop, state, spread)[probe], INPUT).greatest


def watching(loop: Loop) -> Loop:
    """The loop whose resistance is judged: with a converter or a radio the edge's own one."""
    return device_loop(loop) if loop.circuit in CONVERTED else loop


def middle(threshold: Threshold) -> Volt:
    """A typical input's threshold: the middle of its window."""
    return (threshold.least_voltage + threshold.greatest_voltage) / 2


def total_at(loop: Loop, volt: Volt) -> Ohm | None:
    """The resistance of a whole loop that reads this voltage, by the divider; None where none does."""
    supply = loop.input.supply
    return loop.input.pull_up * volt / (supply - volt) if 0 < volt < supply else None


def leak_to(loop: Loop, volt: Volt, seen: Volts = at_values, press: Press | None = None) -> Ohm | None:
    """The leak at which the voltage falls to this one: across the end; with a press, across the cord.

    With alternate probing the side that is high at rest counts. None where not even a short gets there; the end of
    the scale, 1 Gohm, where no leak is needed.
    """
    place: Place = "edge_far" if press is None else "cord"
    probe = 1 if loop.circuit == "diode_capacitor" else 0
    found = _crossing(lambda ohm: seen(loop, _with("wet", place, ohm, press), probe), volt)
    return found or None


def joint_to(loop: Loop, volt: Volt, seen: Volts = at_values, press: Press | None = None) -> Ohm | None:
    """The resistance of a joint in the cord at which the voltage rises to this one.

    None where none does; 0 where none is needed.
    """
    found = _crossing(lambda ohm: seen(loop, _with("joint", "cord", ohm, press), 0), volt)
    return None if found == MOST else found


def _with(kind: HurtKind, place: Place, ohm: Ohm, press: Press | None) -> State:
    return State(hurts=(Hurt(kind=kind, place=place, ohm=ohm),), press=press)


def _crossing(volt_of: Callable[[Ohm], Volt], volt: Volt) -> Ohm:
    """Where a rising voltage crosses: 0 where it always is above, the end of the scale where it never is."""
    low, high = log(LEAST), log(MOST)
    if volt_of(LEAST) >= volt:
        return 0.0
    if volt_of(MOST) <= volt:
        return MOST
    while high - low > FINE:
        half = (low + high) / 2
        low, high = (half, high) if volt_of(exp(half)) < volt else (low, half)
    return exp((low + high) / 2)


def longest_lead(loop: Loop, works: Callable[[Loop], bool]) -> Metre | None:
    """The longest lead, everything else as it is, with which it still works; None where none does.

    Tried up to the resistance of 1,000 m of gauge 40; a lead is a resistance here, and nothing else.
    """
    ohm = per_metre(loop.lead.gauge, loop.lead.temperature)
    thin = per_metre(40, loop.lead.temperature)

    def tried(length: Metre) -> bool:
        return works(replace(loop, lead=replace(loop.lead, gauge=40.0, length=min(1000.0, length * ohm / thin))))

    most = 1000.0 * thin / ohm
    if not tried(0.0):
        return None
    low, high = 0.0, most
    if tried(most):
        return most
    while high - low > 1e-3 * high:
        half = (low + high) / 2
        low, high = (half, high) if tried(half) else (low, half)
    return low
