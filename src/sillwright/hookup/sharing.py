"""Several devices on one input: what is chained, what takes a converter for two, what never stands side by side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sillwright.base.finding import Finding
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key
from sillwright.hookup.allot import Allotted
from sillwright.hookup.answer import InputUse, Joint
from sillwright.hookup.findings import EDGES, GONE, found, place_of
from sillwright.hookup.fit import WATCHING, for_several
from sillwright.hookup.shared_ohms import SharedOhms, shared_ohms
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening

MANY = 1_000
CHAINED = {"resistor", "four_wire"}
"""Circuits of which several edges stand in one loop, end to end."""
BESIDE = {"side_by_side", "own_wires"}
"""Ways to share an input in which the wires of all meet at its terminals."""
HIDDEN = N_("It shares its input with {others}: one can die, and the other answers for it.")


def of_shared(opening: Opening, allotted: Allotted, catalogue: Catalogue | None) -> Iterator[Finding]:
    """The findings on every input that more than one device is on."""
    devices = {each.path: each for each in opening.protection}
    for use in allotted.inputs:
        joints = [each for each in allotted.joints if each.device in use.devices]
        joints = [each for each in joints if devices[each.device].state.value not in GONE]
        if len(joints) < 2:
            continue
        if chained(joints[0], joints, catalogue):
            there = [devices[each.device] for each in joints]
            ohms = shared_ohms(joints, there, allotted.on.get(joints[0].device), catalogue)
            yield from _chain(joints, there, use, ohms)
        elif (
            not _chainable(joints)
            and (use.circuit in WATCHING or use.circuit is None)
            and hidden(joints, catalogue)
        ):
            yield _two_on_one(joints, use, catalogue)


def together(joint: Joint, joints: Sequence[Joint]) -> list[Joint]:
    """A device and those on the same input, in their order."""
    wanted = {joint.device, *joint.shared_with}
    return [each for each in joints if each.device in wanted]


def chained(joint: Joint, joints: Sequence[Joint], catalogue: Catalogue | None) -> bool:
    """Whether a device is one of several edges that share a loop: no part made for them all keeps them apart."""
    with_it = together(joint, joints)
    apart = _one_part(with_it) is not None and not too_many(with_it, catalogue)
    kept_apart = apart and joint.joined in {None, "own_wires"}
    return len(with_it) > 1 and _chainable(with_it) and not kept_apart


def how_shared(joint: Joint, watched: bool | None, chain: bool) -> str | None:
    """What to say of a device among others on its input; None where there is nothing to say."""
    if watched and joint.joined == "end_to_end":
        return N_("It stands end to end in one loop with {others}: the operator sees when any of them is cut off.")
    if watched and joint.joined in BESIDE and chain:
        return N_(
            "It holds the only end element beside {others}: the operator sees when it is cut off, and no more."
        )
    if watched is False and chain and joint.joined == "end_to_end":
        return N_("It stands end to end with {others}: none of them holds an end element, or more than one does.")
    if watched is False and chain and joint.joined in BESIDE:
        return N_("It hangs side by side with {others} on one input: cut off, it is not missed.")
    if watched is None and chain:
        return N_(
            "It shares its input with {others}: in one loop, end to end, each is watched; side by side one can die "
            "unseen."
        )
    return None if watched else HIDDEN


def hidden(joints: Sequence[Joint], catalogue: Catalogue | None) -> bool:
    """Whether devices on one input hide each other: no converter that was taken down joins so many."""
    return len(joints) > 1 and (_one_part(joints) is None or too_many(joints, catalogue, unnamed=1))


def too_many(joints: Sequence[Joint], catalogue: Catalogue | None, unnamed: int = MANY) -> bool:
    """Whether so many devices are on one converter that the catalogue knows, and that is made for fewer.

    One that it does not know is taken to be made for ``unnamed``.
    """
    part = _one_part(joints)
    made_for = {key(each.name): each.devices for each in catalogue.converters} if catalogue else {}
    return part is not None and made_for.get(part, unnamed) < len(joints)


def _one_part(joints: Sequence[Joint]) -> str | None:
    """The converter that was taken down for all of these, where it is one and the same."""
    names = {key(each.converter) if each.converter and each.standing == "survey" else None for each in joints}
    return names.pop() if len(names) == 1 else None


def _chainable(joints: Sequence[Joint]) -> bool:
    circuits = {each.circuit for each in joints}
    return len(circuits) == 1 and circuits <= CHAINED and all(each.kind in EDGES for each in joints)


def _names(joints: Sequence[Joint]) -> list[str]:
    return [each.name for each in joints]


def _chain(
    joints: Sequence[Joint], devices: Sequence[Protection], use: InputUse, ohms: SharedOhms | None
) -> Iterator[Finding]:
    """HOOK-4: edges in one loop, one element at its end; what they read where they stand otherwise."""
    values: dict[str, object] = {"devices": _names(joints), "input": use.name or Sentence(N_("one input"))}
    way, loop = joints[0].joined, joints[0].circuit == "resistor"
    why: str | None
    if ohms is not None:
        values |= {"both": Amount(ohms.both, "ohm"), "left": Amount(ohms.left, "ohm")}
        text = _both_end(way)
        why = N_("Two elements look like a wet edge; with one edge cut off {left} are left, and nobody sees it.")
    elif loop and all(each.resistance.standing == "none there" for each in devices):
        text = N_("{devices} are on {input}, and none of them holds an end element.")
        why = N_("Without one the operator sees no more of them than of plain edges: cut off, they are not missed.")
    elif way == "end_to_end":
        return
    else:
        text, why = _beside(way, loop)
    yield found(
        "HOOK-4",
        "act" if why else "note",
        text,
        values,
        do=N_("Join the edges end to end in one loop, with one element, in the far end of the last.")
        if loop
        else N_("Join each strip of one to that of the next, and bring both back from the last."),
        why=why,
        facts=_facts(devices),
        place=place_of(joints[-1]),
    )


def _both_end(way: str | None) -> str:
    """Several elements on one input, by how the edges are joined."""
    if way == "end_to_end":
        return N_("{devices} are end to end on {input}, and each holds an end element: they read {both}.")
    if way in BESIDE:
        return N_("{devices} are side by side on {input}, and each holds an end element: they read {both}.")
    return N_("{devices} are on {input}, and each holds an end element: side by side they would read {both}.")


def _beside(way: str | None, loop: bool) -> tuple[str, str | None]:
    """Edges on one input with at most one element: what is said, and why it matters where it does already."""
    if way not in BESIDE:
        return N_("{devices} are on {input}: edges on one input stand end to end in one loop."), None
    text = N_("{devices} hang side by side on {input}.")
    if loop:
        return text, N_("An edge without an element beside one that has it is not missed when it is cut off.")
    return text, N_("With a strip of one cut, the strips of the others still carry the loop: nobody sees it.")


def _facts(devices: Sequence[Protection]) -> tuple[str, ...]:
    """What the finding rests on: the input that all are told to be on, how they share it, their elements."""
    facts = [fact for each in devices for fact in (each.input, each.joined, each.circuit, each.resistance)]
    return tuple(each.path for each in facts if each.standing != "not asked") or tuple(
        each.path for each in devices
    )


def _two_on_one(joints: Sequence[Joint], use: InputUse, catalogue: Catalogue | None) -> Finding:
    """HOOK-1: an input hears one device; for two it takes a converter made for two."""
    circuits = frozenset(each.circuit for each in joints if each.circuit)
    part = for_several(circuits, use.circuit, catalogue) if use.circuit else None
    values = {
        "devices": _names(joints),
        "input": use.name or Sentence(N_("one input")),
        "part": part.name if part else "",
    }
    return found(
        "HOOK-1",
        "act",
        N_("{devices} would share {input}, which hears one device."),
        values,
        do=N_("Fit a converter for two devices, such as {part}, if the operator's instructions list it.")
        if part
        else N_("Fit a converter for two devices that the instructions list, or join one to another input."),
        why=N_("Two on one input hide each other: one can die, and the other answers for it."),
        facts=("operator.inputs", *(each.device for each in joints)),
        place="operator",
    )
