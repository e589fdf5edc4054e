"""The hooking up of one opening: every part of the chapter put together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from sillwright.base.units import Metre
from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.hookup.allot import Allotted, allot
from sillwright.hookup.answer import Hookup, Joint
from sillwright.hookup.cautions import CAUTIONS
from sillwright.hookup.findings import EDGES, of_inputs, of_joints, of_power
from sillwright.hookup.inlets import Inlets, inlets
from sillwright.hookup.power import power
from sillwright.hookup.readings import readings
from sillwright.hookup.sharing import chained, hidden, of_shared, together
from sillwright.hookup.table import MEMORY, PRACTICE, number
from sillwright.hookup.wiring import wiring
from sillwright.hookup.words import said
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening

MOST = 60
"""Devices of an opening that are joined, and inputs that are looked at; no opening has as many."""
NO_CATALOGUE = Sentence(
    N_("There is no catalogue: what an input takes is common practice; no converter, terminal or supply is named.")
)


def hook_up(
    opening: Opening,
    catalogue: Catalogue | None = None,
    *,
    lead_run: Metre | None = None,
    cord: Metre | None = None,
) -> Hookup:
    """Which device joins which input of the operator, how it is wired, fed and measured.

    ``lead_run`` is the fixed lead from the box to the operator, ``cord`` the length of the coiled cord, where they
    are known. ``watched`` says what the circuit lets the operator see; whether a device counts as monitored the
    operator's instructions decide, and is joined elsewhere.

    Source: trade rules of thumb (HOOK-1 to HOOK-6), from memory; readings are computed from the loop.
    """
    devices = tuple(opening.protection)[:MOST]
    known = inlets(opening, catalogue)
    known = replace(known, items=known.items[:MOST])
    allotted = allot(devices, known, catalogue)
    joints = tuple(_as_wired(each, allotted, known, opening, catalogue) for each in allotted.joints)
    allotted = replace(allotted, joints=joints)
    fed = power(opening, joints, catalogue)
    found = (
        *of_joints(opening, allotted, lead_run),
        *of_shared(opening, allotted, catalogue),
        *of_inputs(known, opening),
        *of_power(fed),
    )
    by_path = {each.path: each for each in devices}
    sheets = tuple(
        wiring(each, joints, by_path[each.device], allotted.on.get(each.device), opening, catalogue)
        for each in joints
    )
    return Hookup(
        joints=joints,
        inputs=allotted.inputs,
        power=fed,
        readings=readings(devices, allotted, catalogue, lead_run=lead_run, cord=cord),
        wiring=sheets,
        findings=found,
        cautions=CAUTIONS,
        asks=tuple(dict.fromkeys((*(fact for each in joints for fact in each.asks), *fed.asks))),
        assumptions=(*_assumptions(joints, catalogue), *_left_out(opening)),
        sources=(PRACTICE, MEMORY),
    )


def _as_wired(
    joint: Joint, allotted: Allotted, known: Inlets, opening: Opening, catalogue: Catalogue | None
) -> Joint:
    """A joint with what the wires of the opening make of it, and what is usual where the inputs are not known."""
    found = _on_too_few(joint, opening)
    found = _sharing(found, allotted, {each.path: each for each in opening.protection}, catalogue)
    return _usual_for_its_age(found, known, opening)


def _on_too_few(joint: Joint, opening: Opening) -> Joint:
    """A four-wire edge on a cord with fewer conductors is not watched, whatever the input."""
    count = opening.cord.conductors
    if joint.circuit != "four_wire" or joint.kind not in EDGES or count.value is None or count.value >= 4:
        return joint
    words = N_("The cord has {count} conductors: with two, both ends of each strip are joined, as in a plain edge.")
    watched = False if count.known else None if joint.watched else joint.watched
    return replace(joint, watched=watched, reasons=(*joint.reasons, said(words, count=f"{count.value:g}")))


def _sharing(
    joint: Joint, allotted: Allotted, devices: Mapping[str, Protection], catalogue: Catalogue | None
) -> Joint:
    """Devices that hide each other are not watched; edges in one loop, or on a converter for two, are."""
    both = together(joint, allotted.joints)
    if joint.watched is False or not hidden(both, catalogue) or chained(joint, allotted.joints):
        return joint
    told = all(devices[each.device].input.known for each in both)
    words = N_("It shares its input with {others}: one can die, and the other answers for it.")
    others = [each.name for each in both if each is not joint]
    return replace(joint, watched=False if told else None, reasons=(*joint.reasons, said(words, others=others)))


def _usual_for_its_age(joint: Joint, known: Inlets, opening: Opening) -> Joint:
    """Where nobody knows the inputs of a newer operator, what such ones usually have: a hint, never evidence."""
    made = opening.operator.board_made.value or opening.operator.made.value
    newer = made is not None and made.first >= number("modern", "from")
    if known.state != "unknown" or not newer or joint.kind not in EDGES or joint.circuit in {None, "air"}:
        return joint
    words = N_(
        "Operators made since August 2010 usually watch pulses, so that an edge needs a module between: common "
        "practice, a hint for what to bring, never evidence."
    )
    return replace(joint, assumptions=(*joint.assumptions, said(words)))


def _assumptions(joints: tuple[Joint, ...], catalogue: Catalogue | None) -> Iterator[Sentence]:
    if catalogue is None and joints:
        yield NO_CATALOGUE
    seen: list[Sentence] = []
    for each in (sentence for joint in joints for sentence in joint.assumptions):
        if each not in seen:
            seen.append(each)
            yield each


def _left_out(opening: Opening) -> Iterator[Sentence]:
    if max(len(opening.protection), len(opening.operator.inputs)) > MOST:
        yield said(N_("Only the first {count} devices and inputs are looked at here."), count=MOST)
