"""What of every fault of a circuit the operator sees, and what the leaf still feels afterwards."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import isinf
from typing import get_args

from sillwright.base.source import Source
from sillwright.base.units import Number, Ohm
from sillwright.base.words import N_, Phrase, say
from sillwright.circuit.fault_words import arranged, compared_in_words, sentence
from sillwright.circuit.faults_model import Arrangement, FaultRow, FaultsCase, FaultsResult, Seen, Still
from sillwright.circuit.loops import meter, voltages
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Loop, Place
from sillwright.circuit.typical import SOURCES as TYPICAL
from sillwright.circuit.typical import typical

__all__ = ["faults"]

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)
SOURCES = (
    Source(
        document=N_("every hurt solved as a netlist, at rest and pressed at ten places"),
        sure="computed",
        id="hurts",
    ),
    Source(document=N_("what can be wrong, where, and how much of it"), sure="practice", id="hurt-list"),
    *TYPICAL,
)


def faults(case: FaultsCase) -> FaultsResult:
    """What an operator sees of everything that can be wrong with a circuit, and what the leaf then still feels.

    Parameters: a circuit, or every one; a loop (V, ohm, m, K), or a typical one; several edges on one input and how
    they are joined. Returns for every fault and place what the input reads at rest, when the operator sees it, the
    share of the edge that still answers, and for every circuit the share of such faults that is seen.

    Model: each fault is put into the loop's netlist, which is solved at rest and with a press in the middle of each
    tenth of the edge. Open is seen at once; a loop that reads pressed stops the next close; one that reads rest is
    never seen; in the window of a threshold nobody knows, and that never counts as seen. Joints and leaks are
    multiples of the end element. Valid for one fault at a time. Every fault counts alike, which is no probability.

    Raises :class:`OutOfRange` for a loop that cannot be.

    Source: computed; the list of faults is common practice, typical loops are from memory.

    >>> found = faults(FaultsCase(circuit="plain"))
    >>> row = next(each for each in found.rows if (each.kind, each.place) == ("cut", "edge_middle"))
    >>> row.seen, row.still, row.answers_share
    ('never', 'near_side', 0.5)
    """
    from sillwright.circuit.fault_rows import coverage_of, rows_of

    loops = _loops(case)
    rows = tuple(row for loop in loops for row in rows_of(loop, trainer=case.trainer))
    circuits = tuple(coverage_of(loop.circuit, rows) for loop in loops)
    compared = () if case.loop is not None else tuple(_arrangements(case))
    return FaultsResult(
        answer=compared_in_words(circuits),
        rows=rows,
        circuits=circuits,
        notes=(*_notes(rows), *(arranged(each) for each in compared)),
        arrangements=compared,
        case=case,
        assumptions=tuple(_assumptions(case)),
        sources=SOURCES,
    )


def _loops(case: FaultsCase) -> tuple[Loop, ...]:
    if case.loop is not None:
        return (case.loop,)
    circuits = CIRCUITS if case.circuit is None else (case.circuit,)
    return tuple(replace(typical(each), devices=case.devices, joined=case.joined) for each in circuits)


def _notes(rows: Sequence[FaultRow]) -> Iterator[Phrase]:
    """What takes feeling away and is not surely seen, places alike in one sentence."""
    alike: dict[tuple[Circuit, HurtKind, Ohm | None, Seen, Still, Number], list[Place]] = {}
    for each in rows:
        if each.seen in {"never", "uncertain"} and each.still != "all":
            key = each.circuit, each.kind, each.ohm, each.seen, each.still, each.answers_share
            alike.setdefault(key, []).append(each.place)
    for (circuit, kind, ohm, seen, still, share), places in alike.items():
        yield sentence(circuit, kind, places, ohm, seen=seen, still=still, share=share)


def _arrangements(case: FaultsCase) -> Iterator[Arrangement]:
    """Two or more edges on one input, one after the other and side by side."""
    from sillwright.circuit.fault_rows import table

    devices = max(2, case.devices)
    for circuit in table()["several"]:
        if case.circuit not in (None, circuit):
            continue
        for joined in ("chain", "parallel"):
            loop = replace(typical(circuit), devices=devices, joined=joined)
            yield _arrangement(loop)


def _arrangement(loop: Loop) -> Arrangement:
    from sillwright.circuit.fault_rows import fault
    from sillwright.circuit.pressing import pressed_reads

    places: tuple[Place, ...] = ("cord", "edge_near", "edge_middle", "edge_far")
    cuts = [fault(loop, Hurt(kind="cut", place=each)) for each in places]
    seen = all(each.still in {"all", "stands"} or each.seen == "at_once" for each in cuts)
    shown = meter(loop)
    ohm = None if isinf(shown) else shown
    return Arrangement(
        circuit=loop.circuit,
        devices=loop.devices,
        joined=loop.joined,
        reads=pressed_reads(loop)[0],
        voltage=voltages(loop)[0],
        ohm=ohm,
        cuts_seen=seen,
    )


def _assumptions(case: FaultsCase) -> Iterator[Phrase]:
    yield say(N_("One thing at a time is wrong; every kind and place counts alike."))
    if case.loop is None:
        yield say(N_("Loops are typical ones, from memory; another input or another edge may see more or less."))
    yield say(N_("Whether an input is one that the operator's instructions list is not looked at here."))
