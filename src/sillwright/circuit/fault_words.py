"""Faults of a circuit in sentences: what is wrong, what the leaf still feels, and who is told."""

from __future__ import annotations

from collections.abc import Sequence

from sillwright.base.units import Number, Ohm
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.circuit.faults_model import Arrangement, CircuitCoverage, FaultRow, Seen, Still
from sillwright.circuit.model import Circuit, HurtKind, Place

CIRCUITS: dict[Circuit, str] = {
    "plain": N_("Plain edge"),
    "normally_closed": N_("Contact that a press opens"),
    "resistor": N_("Edge with an end element"),
    "diode_capacitor": N_("Edge with a diode element"),
    "four_wire": N_("Four-wire edge"),
    "pulse_two_wire": N_("Edge on a converter that pulses on two wires"),
    "pulse_three_wire": N_("Edge on a converter that pulses on three wires"),
    "radio": N_("Edge by radio"),
}
WHAT: dict[HurtKind, str] = {
    "cut": N_("a broken wire"),
    "joint": N_("a bad joint of {ohm}"),
    "short": N_("two wires that touch"),
    "wet": N_("water of {ohm} between the wires"),
    "crushed": N_("a spot that stays pressed"),
    "element_missing": N_("a missing end element"),
    "element_wrong": N_("an end element of {ohm}"),
    "element_second": N_("a second element of {ohm}"),
    "element_before": N_("an end element that stands there, before the edge"),
    "swapped": N_("swapped wires"),
    "dead_supply": N_("a supply that is gone"),
    "dead_beyond": N_("strips that no longer touch from there on"),
    "no_link": N_("a radio link that is lost"),
    "contact_welded": N_("a contact that stays closed"),
}
WHERE: dict[Place, str] = {
    "board": N_("at the board"),
    "lead": N_("in the lead"),
    "box": N_("at the box"),
    "cord": N_("in the cord"),
    "edge_near": N_("at the near end of the edge"),
    "edge_middle": N_("in the middle of the edge"),
    "edge_far": N_("at the far end of the edge"),
}
TOLD: dict[Seen, str] = {
    "at_once": N_("the operator sees it at once"),
    "next_close": N_("the operator sees it at the next close"),
    "never": N_("nobody is told"),
    "uncertain": N_("whether the operator sees it hangs on the part in hand"),
}


def what(kind: HurtKind, ohm: Ohm | None) -> Phrase:
    """What is wrong.

    >>> what("joint", 10e3)
    'a bad joint of 10 kΩ'
    """
    return say(WHAT[kind], **({} if ohm is None else {"ohm": Amount(ohm, "ohm")}))


def felt(still: Still, share: Number) -> Phrase:
    """What the leaf still feels.

    >>> felt("near_side", 0.5)
    'only its near side, 50 %, still answers'
    """
    told = {"share": percent(share)}
    words = {
        "all": N_("the whole edge still answers"),
        "near_side": N_("only its near side, {share}, still answers"),
        "far_side": N_("only its far side, {share}, still answers"),
        "part": N_("only {share} of the edge still answers"),
        "nothing": N_("no press is felt any more"),
        "stands": N_("it reads as a press, so that the leaf does not close under power"),
    }
    return say(words[still], **(told if "{share}" in words[still] else {}))


def percent(share: Number) -> str:
    """A share as a percentage.

    >>> percent(0.5)
    '50 %'
    """
    return f"{100 * share:.0f} %"


def sentence(
    circuit: Circuit,
    kind: HurtKind,
    places: Sequence[Place],
    ohm: Ohm | None,
    *,
    seen: Seen,
    still: Still,
    share: Number,
) -> Phrase:
    """A fault as a sentence, at one place or at several alike.

    >>> sentence("plain", "cut", ["edge_middle"], None, seen="never", still="near_side", share=0.5)
    'Plain edge, a broken wire in the middle of the edge: only its near side, 50 %, still answers, and nobody is...'
    """
    told = {
        "circuit": say(CIRCUITS[circuit]),
        "what": what(kind, ohm),
        "where": tuple(say(WHERE[each]) for each in places),
        "felt": felt(still, share),
        "told": say(TOLD[seen]),
    }
    if still == "stands":
        return say(N_("{circuit}, {what} {where}: {felt}; {told}."), **told)
    return say(N_("{circuit}, {what} {where}: {felt}, and {told}."), **told)


def of_row(row: FaultRow) -> Phrase:
    """A row of the table as a sentence."""
    share = row.answers_share
    return sentence(row.circuit, row.kind, [row.place], row.ohm, seen=row.seen, still=row.still, share=share)


def covered(circuit: Circuit, coverage: Number | None, unseen: int) -> Phrase:
    """What an operator sees of a circuit, as a sentence.

    >>> covered("plain", 0.25, 9)
    'Plain edge: of all that takes its feeling away or stops it, the operator sees 25 %; 9 kinds and places stay...'
    """
    told = {"circuit": say(CIRCUITS[circuit])}
    if coverage is None:
        return say(N_("{circuit}: nothing that is looked at takes its feeling away."), **told)
    words = N_(
        "{circuit}: of all that takes its feeling away or stops it, the operator sees {share}; "
        "{unseen} kinds and places stay unseen."
    )
    return say(words, share=percent(coverage), unseen=unseen, **told)


def compared_in_words(circuits: Sequence[CircuitCoverage]) -> Phrase:
    """What the operator sees: of one circuit, or of those that it sees least and most."""
    known = sorted((each for each in circuits if each.coverage is not None), key=lambda each: each.coverage or 0.0)
    if len(known) < 2:
        return say(N_("{said}"), said=circuits[0].words)
    told = {
        "least": say(CIRCUITS[known[0].circuit]),
        "low": percent(known[0].coverage or 0.0),
        "most": say(CIRCUITS[known[-1].circuit]),
        "high": percent(known[-1].coverage or 0.0),
    }
    words = N_(
        "Of all that takes feeling away or stops the leaf, the operator sees least here: {least}, {low}; "
        "most here: {most}, {high}."
    )
    return say(words, **told)


def arranged(found: Arrangement) -> Phrase:
    """Several edges on one input, as a sentence."""
    parallel = found.joined == "parallel"
    told = {
        "circuit": say(CIRCUITS[found.circuit]),
        "devices": found.devices,
        "joined": say(N_("side by side") if parallel else N_("one after the other")),
    }
    if found.cuts_seen:
        said = say(N_("{circuit}, {devices} {joined}: a broken wire is seen wherever it is."), **told)
    else:
        words = N_("{circuit}, {devices} {joined}: a broken wire can leave one of them dead, and nobody is told.")
        said = say(words, **told)
    if parallel and found.circuit == "resistor" and found.ohm is not None:
        both = {"said": said, "ohm": Amount(found.ohm, "ohm")}
        return say(N_("{said} The end elements together show {ohm}, as if it were wet."), **both)
    return said
