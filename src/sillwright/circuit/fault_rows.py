"""The rows of the table of faults: what is looked at, what each of it does, and what is seen of a circuit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sillwright.base import data
from sillwright.base.units import Number
from sillwright.circuit.fault_words import covered
from sillwright.circuit.faults_model import CircuitCoverage, FaultRow, Seen, Still
from sillwright.circuit.hurting import CONVERTED, applies
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Loop, Place, Read
from sillwright.circuit.pressing import pressed_reads

SEEN: dict[Read, Seen] = {"open": "at_once", "pressed": "next_close", "rest": "never", "between": "uncertain"}
AT_THE_BOARD: frozenset[HurtKind] = frozenset({"short", "element_second", "element_before"})
"""Parts that somebody can put there; shown to trainers only."""


def table() -> dict[str, Any]:
    """What can be wrong, where, and how much of it."""
    return data.table("sillwright.circuit", "faults")


def rows_of(loop: Loop, *, trainer: bool = False) -> tuple[FaultRow, ...]:
    """The rows of one loop."""
    return tuple(fault(loop, each) for each in hurts_of(loop, trainer=trainer))


def hurts_of(loop: Loop, *, trainer: bool = False) -> Iterator[Hurt]:
    """Everything that is looked at in a loop; parts at the board for trainers only."""
    element = loop.input.pull_up if loop.end is None else loop.end.resistance
    kinds: dict[HurtKind, Any] = table()["hurt"]
    for kind, row in kinds.items():
        for place in row["places"]:
            hidden = place == "board" and kind in AT_THE_BOARD and not trainer
            if hidden or not applies(loop, kind, place) or _elsewhere(loop, kind, place):
                continue
            for share in row.get("ohm", (None,)):
                yield Hurt(kind=kind, place=place, ohm=None if share is None else share * element)


def _elsewhere(loop: Loop, kind: HurtKind, place: Place) -> bool:
    """Whether this is the same as at another place, or belongs to a device that the circuit does not have."""
    if place != "box":
        return kind == "contact_welded" and loop.circuit in CONVERTED
    if kind in {"element_missing", "element_wrong"}:
        return loop.circuit != "radio"
    return kind in {"dead_supply", "contact_welded"} and loop.circuit not in CONVERTED


@dataclass(frozen=True, kw_only=True, slots=True)
class Along:
    """What the operator sees of a loop at rest, and what of a press in the middle of each tenth of the edge."""

    rest: Read
    pressed: tuple[Read, ...]
    seen: Seen
    still: Still
    share: Number


@lru_cache(maxsize=8192)
def along(loop: Loop, hurts: tuple[Hurt, ...] = ()) -> Along:
    """What is seen and felt of a loop, whatever is wrong with it.

    The edge is ten stretches of one length, each pressed in its middle; the share that answers is that of the
    stretches whose press surely reads as one. Raises :class:`OutOfRange` for a loop or a hurt that cannot be.

    >>> from sillwright.circuit.typical import typical
    >>> found = along(typical("plain"), (Hurt(kind="cut", place="edge_middle"),))
    >>> found.rest, found.seen, found.still, found.share
    ('rest', 'never', 'near_side', 0.5)
    """
    return counted(pressed_reads(loop, hurts))


def counted(made: Sequence[Read]) -> Along:
    """What is seen and felt where the input reads this: first at rest, then pressed on each tenth of the edge.

    >>> counted(["open", "pressed", "open"]).share
    0.5
    """
    rest, *pressed = made
    answers = [each == "pressed" for each in pressed]
    return Along(
        rest=rest,
        pressed=tuple(pressed),
        seen=SEEN[rest],
        still=still_of(rest, answers),
        share=sum(answers) / len(answers),
    )


def fault(loop: Loop, hurt: Hurt) -> FaultRow:
    """One fault of one loop. Raises :class:`OutOfRange` for one that the loop cannot have.

    >>> from sillwright.circuit.typical import typical
    >>> fault(typical("resistor"), Hurt(kind="cut", place="cord")).seen
    'at_once'
    """
    found = along(loop, (hurt,))
    return FaultRow(
        circuit=loop.circuit,
        kind=hurt.kind,
        place=hurt.place,
        ohm=hurt.ohm,
        seen=found.seen,
        still=found.still,
        answers_share=found.share,
    )


def still_of(rest: Read, answers: Sequence[bool]) -> Still:
    """Where a press is still felt, from near to far.

    >>> still_of("rest", [True, True, False]), still_of("rest", [True, False, True]), still_of("pressed", [True])
    ('near_side', 'part', 'stands')
    """
    if rest == "pressed":
        return "stands"
    count = sum(answers)
    if count in {0, len(answers)}:
        return "all" if count else "nothing"
    if all(answers[:count]):
        return "near_side"
    return "far_side" if all(answers[-count:]) else "part"


def coverage_of(circuit: Circuit, rows: Sequence[FaultRow]) -> CircuitCoverage:
    """What is seen of a circuit: of all that takes feeling away or stops the leaf, each fault and place alike."""
    own = [each for each in rows if each.circuit == circuit]
    matter = [each for each in own if each.still != "all"]
    seen = sum(each.seen in {"at_once", "next_close"} for each in matter)
    unseen = sum(each.seen == "never" for each in matter)
    share: Number | None = seen / len(matter) if matter else None
    return CircuitCoverage(
        circuit=circuit,
        coverage=share,
        seen=seen,
        unseen=unseen,
        uncertain=len(matter) - seen - unseen,
        harmless=len(own) - len(matter),
        words=covered(circuit, share, unseen),
    )
