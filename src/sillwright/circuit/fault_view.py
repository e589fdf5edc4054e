"""A loop on the bench: what the operator sees of it, what a meter shows, and where the leaf still feels a press."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isinf
from typing import get_args

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Number, Ohm, Volt
from sillwright.base.words import N_, Phrase, say
from sillwright.circuit.fault_rows import AT_THE_BOARD, Along, along
from sillwright.circuit.fault_words import TOLD, felt
from sillwright.circuit.faults_model import Seen, Still
from sillwright.circuit.loops import meter, reads, voltages
from sillwright.circuit.metering import MeterPlace, Probes
from sillwright.circuit.model import Circuit, Loop, Read, State
from sillwright.circuit.pressing import SPOTS

PLACES: tuple[MeterPlace, ...] = get_args(MeterPlace)
OPERATOR: dict[Read, str] = {
    "rest": N_("It reads rest: the operator knows of nothing, and may close under power."),
    "pressed": N_("It reads pressed: the operator does not close, or opens again."),
    "open": N_("It reads open: the operator knows that something is wrong."),
    "between": N_("What the operator makes of it hangs on the part in hand."),
}


@dataclass(frozen=True, kw_only=True, slots=True)
class MeterShown:
    """What a meter shows with power locked out and the lead lifted there. ``ohm`` None: OL."""

    at: MeterPlace
    probes: Probes
    swapped: bool
    ohm: Ohm | None


@dataclass(frozen=True, kw_only=True, slots=True)
class SpotFelt:
    """Whether a press is felt there. None: that hangs on the part in hand."""

    at: Number
    felt: bool | None


@dataclass(frozen=True, kw_only=True, slots=True)
class HurtBench:
    """A loop in a state, as a fault bench shows it."""

    reads: Read
    operator: Phrase
    voltages: tuple[Volt, ...]
    meters: tuple[MeterShown, ...]
    spots: tuple[SpotFelt, ...]
    seen: Seen
    told: Phrase
    still: Still
    share: Number
    felt: Phrase


def hurt_bench(loop: Loop, state: State | None = None, *, trainer: bool = False) -> HurtBench:
    """What the operator sees of a loop as it stands, what a meter shows, and where a press is felt.

    ``reads``, the voltages and the meter are those of the state with its press; ``seen``, ``spots`` and ``share``
    those of its hurts alone, counted as in the table of faults: ten stretches of the edge, each pressed in its
    middle. Parts that somebody can put at the board are shown to trainers only. Raises :class:`OutOfRange` for
    these, and for a loop or a hurt that cannot be.

    >>> from sillwright.circuit.model import Hurt
    >>> from sillwright.circuit.typical import typical
    >>> cut = State(hurts=(Hurt(kind="cut", place="edge_middle"),))
    >>> found = hurt_bench(typical("plain"), cut)
    >>> found.reads, found.told, sum(each.felt is True for each in found.spots)
    ('rest', 'nobody is told', 5)
    """
    state = state or State()
    if not trainer and any(each.place == "board" and each.kind in AT_THE_BOARD for each in state.hurts):
        raise OutOfRange(say(N_("hurts: a part at the board is shown to trainers only; take another place")))
    found = along(loop, state.hurts)
    made = _made(loop, state, found)
    return HurtBench(
        reads=made,
        operator=say(OPERATOR[made]),
        voltages=voltages(loop, state),
        meters=tuple(_meters(loop, state)),
        spots=tuple(_spots(found)),
        seen=found.seen,
        told=say(TOLD[found.seen]),
        still=found.still,
        share=found.share,
        felt=felt(found.still, found.share),
    )


def _made(loop: Loop, state: State, found: Along) -> Read:
    """What the input makes of it now."""
    if state.press is None:
        return found.rest
    if state.press.at in SPOTS:
        return found.pressed[SPOTS.index(state.press.at)]
    return reads(loop, state)


def _spots(found: Along) -> Iterator[SpotFelt]:
    for at, made in zip(SPOTS, found.pressed, strict=True):
        yield SpotFelt(at=at, felt=None if made == "between" else made == "pressed")


def ways(circuit: Circuit) -> Iterator[tuple[MeterPlace, Probes, bool]]:
    """How the meter is held: at every place at the pair; a diode both ways, of four wires each strip too.

    >>> list(ways("plain"))[0]
    ('operator', 'pair', False)
    """
    turns = (False, True) if circuit == "diode_capacitor" else (False,)
    strips: tuple[Probes, ...] = ("first_strip", "second_strip") if circuit == "four_wire" else ()
    for at in PLACES:
        yield from ((at, "pair", swapped) for swapped in turns)
        yield from ((at, probes, False) for probes in strips)


def _meters(loop: Loop, state: State) -> Iterator[MeterShown]:
    for at, probes, swapped in ways(loop.circuit):
        ohm = meter(loop, state, at, swapped, probes)
        yield MeterShown(at=at, probes=probes, swapped=swapped, ohm=None if isinf(ohm) else ohm)
