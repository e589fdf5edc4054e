"""A loop on the bench: what the operator sees of it, what a meter shows, and where the leaf still feels a press."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isinf
from typing import get_args

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Number, Ohm, Volt
from sillwright.base.words import N_, Phrase, say
from sillwright.circuit.fault_rows import AT_THE_BOARD, SEEN, still_of
from sillwright.circuit.fault_words import TOLD, felt
from sillwright.circuit.faults_model import Seen, Still
from sillwright.circuit.loops import meter, reads, voltages
from sillwright.circuit.metering import MeterPlace, Probes
from sillwright.circuit.model import Loop, Press, Read, State

SPOTS: tuple[Number, ...] = tuple(at / 10 for at in range(11))
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
    felt: Phrase


def hurt_bench(loop: Loop, state: State | None = None, *, trainer: bool = False) -> HurtBench:
    """What the operator sees of a loop as it stands, what a meter shows, and where a press is felt.

    ``reads``, the voltages and the meter are those of the state with its press; ``seen`` and ``spots`` those of its
    hurts alone. Parts that somebody can put at the board are shown to trainers only. Raises :class:`OutOfRange` for
    these, and for a loop or a hurt that cannot be.

    >>> from sillwright.circuit.model import Hurt
    >>> from sillwright.circuit.typical import typical
    >>> cut = State(hurts=(Hurt(kind="cut", place="edge_middle"),))
    >>> found = hurt_bench(typical("plain"), cut)
    >>> found.reads, found.told, sum(each.felt is True for each in found.spots)
    ('rest', 'nobody is told', 6)
    """
    state = state or State()
    if not trainer and any(each.place == "board" and each.kind in AT_THE_BOARD for each in state.hurts):
        raise OutOfRange(say(N_("hurts: a part at the board is shown to trainers only; take another place")))
    made, rest = reads(loop, state), reads(loop, State(hurts=state.hurts))
    spots = tuple(_spots(loop, state))
    answers = [each.felt is True for each in spots]
    still = still_of(rest, answers)
    return HurtBench(
        reads=made,
        operator=say(OPERATOR[made]),
        voltages=voltages(loop, state),
        meters=tuple(_meters(loop, state)),
        spots=spots,
        seen=SEEN[rest],
        told=say(TOLD[SEEN[rest]]),
        still=still,
        felt=felt(still, sum(answers) / len(answers)),
    )


def _spots(loop: Loop, state: State) -> Iterator[SpotFelt]:
    for at in SPOTS:
        made = reads(loop, State(hurts=state.hurts, press=Press(at=at)))
        yield SpotFelt(at=at, felt=None if made == "between" else made == "pressed")


def _meters(loop: Loop, state: State) -> Iterator[MeterShown]:
    """At every place the pair; with a diode both ways, with four wires each strip too."""
    turns = (False, True) if loop.circuit == "diode_capacitor" else (False,)
    strips: tuple[Probes, ...] = ("first_strip", "second_strip") if loop.circuit == "four_wire" else ()
    for at in PLACES:
        for swapped in turns:
            yield _shown(loop, state, at, "pair", swapped)
        for probes in strips:
            yield _shown(loop, state, at, probes, False)


def _shown(loop: Loop, state: State, at: MeterPlace, probes: Probes, swapped: bool) -> MeterShown:
    ohm = meter(loop, state, at, swapped, probes)
    return MeterShown(at=at, probes=probes, swapped=swapped, ohm=None if isinf(ohm) else ohm)
