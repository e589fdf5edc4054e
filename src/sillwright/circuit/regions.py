"""Which voltages read what is wanted, how far a loop is from leaving them, and what a spread of them may read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import inf

from sillwright.base.units import Volt
from sillwright.circuit.hurting import PULSED
from sillwright.circuit.inlet import read
from sillwright.circuit.margin_model import StateName
from sillwright.circuit.model import Loop, Read, Threshold

Extremes = tuple[Volt, Volt]


@dataclass(frozen=True)
class Region:
    """The voltages between two thresholds that read what is wanted; None: no threshold on that side.

    ``back``: how much farther inside a voltage has to come for an input that read something else before.
    """

    above: Threshold | None = None
    below: Threshold | None = None
    back: Volt = 0.0

    def margin(self, extremes: Extremes) -> Volt:
        """From the extremes to the nearer threshold's window; below 0 where some part reads something else."""
        least, greatest = extremes
        under = inf if self.above is None else least - self.above.greatest_voltage - self.back
        over = inf if self.below is None else self.below.least_voltage - self.back - greatest
        return min(under, over)

    def by_the_low_side(self, extremes: Extremes) -> bool:
        """Whether the least voltage is the one that comes near a threshold."""
        return self.margin((extremes[0], -inf)) < self.margin((inf, extremes[1]))


def wanted(loop: Loop, state: StateName) -> Read | None:
    """What a state has to read on a circuit of this kind; None where nothing is asked of it."""
    circuit = loop.circuit
    if state == "rest":
        return "rest"
    if state in {"pressed_near", "pressed_far"}:
        return "pressed"
    if state == "short":
        return None if circuit == "normally_closed" else "pressed"
    if not state.startswith("open"):
        return None
    if circuit == "normally_closed" or circuit in PULSED:
        return "pressed"
    if circuit == "diode_capacitor":
        return "open"
    return "open" if loop.input.open is not None and circuit != "plain" else None


def region(loop: Loop, want: Read, probe: int) -> Region:
    """The voltages that belong to what is wanted, at one of the netlists that the input sees (1, 2).

    A loop has to come back to rest from whatever it was before, so that hysteresis takes of that margin.
    """
    found = _region(loop, want, probe)
    return replace(found, back=loop.input.hysteresis) if want == "rest" else found


def _region(loop: Loop, want: Read, probe: int) -> Region:
    low, high = loop.input.pressed, loop.input.open
    if loop.circuit == "normally_closed":
        return Region(below=low) if want == "rest" else Region(above=low)
    if loop.circuit == "diode_capacitor":
        up = want == "open" or (want == "rest" and probe == 2)
        return Region(above=low) if up else Region(below=low)
    if loop.circuit in PULSED:
        return Region(below=low) if want == "rest" and probe == 2 else Region(above=low)
    if want == "pressed":
        return Region(below=low)
    return Region(above=low, below=high) if want == "rest" else Region(above=high)


def clear_of(threshold: Threshold, extremes: Extremes) -> Volt:
    """How far the extremes stay on one side of a threshold's window; below 0 where they reach into it."""
    return max(threshold.least_voltage - extremes[1], extremes[0] - threshold.greatest_voltage)


def may_read(loop: Loop, extremes: Sequence[Extremes]) -> Read:
    """What every part within its tolerance reads; *between* where they do not all read the same.

    Between two thresholds a voltage reads the same, so that the ends and the thresholds' middles stand for all.
    """
    marks = [loop.input.pressed] + ([loop.input.open] if loop.input.open is not None else [])
    middles = [(each.least_voltage + each.greatest_voltage) / 2 for each in marks]
    tried = [[low, high, *(each for each in middles if low < each < high)] for low, high in extremes]
    found = {read(loop, volts) for volts in product(*tried)}
    return found.pop() if len(found) == 1 else "between"
