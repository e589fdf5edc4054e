"""The hooking up of one opening: every part of the chapter put together."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from sillwright.base.units import Metre
from sillwright.base.words import N_, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.circuit.watching import (
    BLIND,
    MOST_PLACED,
    Watch,
    crowded,
    element_there,
    strips_seen,
    together_seen,
    values_of,
    wired,
)
from sillwright.hookup._join import joint_on
from sillwright.hookup.allot import Allotted, allot
from sillwright.hookup.answer import Hookup, Joint
from sillwright.hookup.cautions import CAUTIONS
from sillwright.hookup.findings import EDGES, GONE, of_inputs, of_joints, of_power
from sillwright.hookup.inlets import Inlets, inlets
from sillwright.hookup.power import power
from sillwright.hookup.readings import readings
from sillwright.hookup.sharing import HIDDEN, chained, how_shared, of_shared, together, too_many
from sillwright.hookup.table import MEMORY, PRACTICE, number
from sillwright.hookup.wiring import wiring
from sillwright.hookup.words import said
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening

NO_ELEMENT = N_(
    "It was looked at and holds no end element: alone on its input it is a plain edge, which nobody watches."
)
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
    crowd = _crowd(devices, allotted, known, catalogue)
    joints = tuple(_as_wired(each, allotted, known, opening, catalogue, crowd) for each in allotted.joints)
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
        looked=opening.protection.standing == "known",
    )


def _as_wired(
    joint: Joint,
    allotted: Allotted,
    known: Inlets,
    opening: Opening,
    catalogue: Catalogue | None,
    crowd: Collection[str],
) -> Joint:
    """A joint with what the wires of the opening make of it, and what is usual where the inputs are not known."""
    devices = {each.path: each for each in opening.protection}
    found = _on_too_few(joint, devices[joint.device], opening)
    found = _on_an_input_not_told(found, devices[joint.device], known, catalogue)
    found = _sharing(found, allotted, devices, catalogue)
    if joint.device in crowd and found.watched:
        words = N_("Others need an input that would watch it, and there are too few for all: which is on which?")
        found = _watched_as(found, Watch(None, (devices[joint.device].input.path,)), said(words))
    return _usual_for_its_age(found, known, opening)


def _crowd(
    devices: Sequence[Protection], allotted: Allotted, known: Inlets, catalogue: Catalogue | None
) -> set[str]:
    """The devices that nobody told to be on an input, where too few inputs watch for all of them."""
    there = wired(devices)
    if known.state != "known" or not 1 < len(there) <= MOST_PLACED:
        return set()

    def on(device: Protection) -> Iterator[int]:
        """The inputs that it was told to be on, or would be watched on as it is wired."""
        for at, inlet in enumerate(known.items):
            if device.input.known:
                if allotted.on.get(device.path) is inlet:
                    yield at
            elif (found := joint_on(device, inlet, catalogue)).watched and found.way != "unknown":
                yield at

    places = {each.path: tuple(on(each)) for each in there}
    return {each.path for each in there if not each.input.known and crowded(places, each.path)}


def _on_too_few(joint: Joint, device: Protection, opening: Opening) -> Joint:
    """A four-wire edge on a cord with fewer conductors is not watched, whatever the input."""
    if joint.circuit != "four_wire" or (watch := strips_seen(opening, device)).value is True:
        return joint
    counts = values_of(opening.cord.conductors) + values_of(device.wires)
    words = N_("Of its wires {count} come back: with two, both ends of each strip are joined, as in a plain edge.")
    return _watched_as(joint, watch, said(words, count=f"{min(counts):g}"))


def _on_an_input_not_told(joint: Joint, device: Protection, known: Inlets, catalogue: Catalogue | None) -> Joint:
    """Where nobody can tell which input it is on, it is watched only where each input would watch it.

    Not asked for, it is on the one that fits; unless that is one that watches nothing, as another is taken.
    """
    standing = device.input.standing
    if standing == "none there":
        return _watched_as(joint, BLIND, said(N_("It was found joined to no input.")))
    if known.state != "known" or standing == "known" or (standing == "not asked" and joint.watched is not False):
        return joint
    if len({joint_on(device, inlet, catalogue).watched for inlet in known.items}) == 1:
        return joint
    words = N_("Which input it is on is not known, and not each of them would watch it.")
    return _watched_as(replace(joint, watched=None), Watch(None, (device.input.path,)), said(words))


def _sharing(
    joint: Joint, allotted: Allotted, devices: Mapping[str, Protection], catalogue: Catalogue | None
) -> Joint:
    """Devices that hide each other are not watched; edges in one loop, or on a converter for two, are."""
    both = together(joint, allotted.joints)
    there = [devices[each.device] for each in both if devices[each.device].state.value not in GONE]
    device = devices[joint.device]
    if len(there) < 2:
        alone = element_there(device, wired(devices.values()))
        return joint if alone.value is True else _watched_as(joint, alone, said(NO_ELEMENT))
    if joint.watched is False or device not in there:
        return joint
    watch = BLIND if too_many(both, catalogue) else together_seen(device, there)
    if not all(each.input.known for each in there) and watch.value is not True:
        watch = Watch(None, watch.open or tuple(each.input.path for each in there))
    others = [each.name for each in both if each is not joint]
    words = how_shared(joint, watch.value, chained(joint, allotted.joints, catalogue))
    if watch.value is True:
        return joint if words is None else replace(joint, reasons=(*joint.reasons, said(words, others=others)))
    return _watched_as(joint, watch, said(words or HIDDEN, others=others))


def _watched_as(joint: Joint, watch: Watch, why: Sentence) -> Joint:
    """A joint that is watched no better than this, and why; facts that leave it open are asked for."""
    watched = watch.value if joint.watched is not False else False
    asks = tuple(dict.fromkeys((*joint.asks, *watch.open)))
    return replace(joint, watched=watched, reasons=(*joint.reasons, why), asks=asks)


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
