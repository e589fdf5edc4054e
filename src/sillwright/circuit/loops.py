"""What an operator's input reads from a loop, and what a meter shows at it."""

from __future__ import annotations

from sillwright.base.units import Volt
from sillwright.circuit.circuits import check_loop, netlists
from sillwright.circuit.converting import Output, device_loop, device_state, forced_output
from sillwright.circuit.hurting import CONVERTED, check_hurts
from sillwright.circuit.inlet import INPUT, read
from sillwright.circuit.metering import MeterPlace as MeterPlace
from sillwright.circuit.metering import Probes as Probes
from sillwright.circuit.metering import meter as meter
from sillwright.circuit.model import Loop, Read, State
from sillwright.circuit.solving import solve
from sillwright.circuit.typical import typical as typical


def voltages(loop: Loop, state: State | None = None) -> tuple[Volt, ...]:
    """Voltages at the input's terminals: one; for a pair probed from either side, or that pulses, two.

    Probed: first with the first conductor fed, then the second. Pulses: between pulses, then in a pulse.
    """
    state = state or State()
    return _seen(loop, state, outputs(loop, state)[0])


def voltage(loop: Loop, state: State | None = None) -> Volt | tuple[Volt, Volt]:
    """Voltage at the input's terminals; of pulses their average; two voltages for a pair probed from either side.

    Parts have their nominal values. Raises :class:`OutOfRange` for a loop or a hurt that cannot be.

    >>> round(voltage(typical("resistor")), 2)
    2.51
    """
    found = voltages(loop, state)
    if loop.circuit == "diode_capacitor":
        return found[0], found[1]
    return sum(found) / len(found)


def reads(loop: Loop, state: State | None = None) -> Read:
    """What the input makes of the loop; *between* where that hangs on the part in hand.

    A short on a plain or a resistor loop reads as a press, whatever made it.

    >>> from sillwright.circuit.model import Hurt
    >>> reads(typical("resistor"), State(hurts=(Hurt(kind="cut"),)))
    'open'
    """
    state = state or State()
    return read_of_output(loop, state, outputs(loop, state))


def read_of_output(loop: Loop, state: State, shown: tuple[Output, ...]) -> Read:
    """What the input makes of the loop where a converter or receiver may show any of these."""
    found = {read(loop, _seen(loop, state, output)) for output in shown}
    return found.pop() if len(found) == 1 else "between"


def outputs(loop: Loop, state: State) -> tuple[Output, ...]:
    """What a converter or receiver may show; several where it stands in the window of its own threshold."""
    if loop.circuit not in CONVERTED:
        return ("rest",)
    check_loop(loop)
    check_hurts(loop, state)
    forced = forced_output(loop, state)
    if forced is not None:
        return (forced,)
    theirs, seen = device_loop(loop), device_state(state)
    return outputs_by(theirs, voltages(theirs, seen))


def outputs_by(theirs: Loop, volts: tuple[Volt, ...]) -> tuple[Output, ...]:
    """What a converter or receiver may show at these voltages of its own loop."""
    made = read(theirs, volts)
    if made != "between":
        return (made,)
    return ("rest", "pressed") if volts[0] <= theirs.input.pressed.greatest_voltage else ("rest", "open")


def _seen(loop: Loop, state: State, output: Output) -> tuple[Volt, ...]:
    return tuple(solve(each)[INPUT] for each in netlists(loop, state, output=output))
