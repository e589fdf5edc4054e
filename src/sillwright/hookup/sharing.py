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
from sillwright.hookup.inlets import values_of
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening

MANY = 1_000
CHAINED = {"resistor", "four_wire"}
"""Circuits of which several edges stand in one loop, end to end."""


def of_shared(opening: Opening, allotted: Allotted, catalogue: Catalogue | None) -> Iterator[Finding]:
    """The findings on every input that more than one device is on."""
    devices = {each.path: each for each in opening.protection}
    for use in allotted.inputs:
        joints = [each for each in allotted.joints if each.device in use.devices]
        joints = [each for each in joints if devices[each.device].state.value not in GONE]
        if len(joints) < 2:
            continue
        if _chainable(joints):
            yield from _chain(joints, [devices[each.device] for each in joints], use)
        elif (use.circuit in WATCHING or use.circuit is None) and hidden(joints, catalogue):
            yield _two_on_one(joints, use, catalogue)


def together(joint: Joint, joints: Sequence[Joint]) -> list[Joint]:
    """A device and those on the same input, in their order."""
    wanted = {joint.device, *joint.shared_with}
    return [each for each in joints if each.device in wanted]


def chained(joint: Joint, joints: Sequence[Joint]) -> bool:
    """Whether a device is one of several edges in one loop."""
    with_it = together(joint, joints)
    return len(with_it) > 1 and _chainable(with_it)


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


def _chain(joints: Sequence[Joint], devices: Sequence[Protection], use: InputUse) -> Iterator[Finding]:
    """HOOK-4: edges in one loop, one element at its end."""
    values: dict[str, object] = {"devices": _names(joints), "input": use.name or Sentence(N_("one input"))}
    facts = tuple(each.path for each in devices)
    elements = [values_of(each.resistance)[0] for each in devices if values_of(each.resistance)]
    if joints[0].circuit == "resistor" and len(elements) > 1:
        both = 1 / sum(1 / each for each in elements)
        yield found(
            "HOOK-4",
            "act",
            N_("{devices} are on {input}, and each holds an end element: side by side they would read {both}."),
            {**values, "both": Amount(both, "ohm")},
            do=N_("Join the edges end to end in one loop, with one element, in the far end of the last."),
            why=N_("Two elements side by side look like a wet edge, and one of the edges can die unseen."),
            facts=facts,
            place=place_of(joints[-1]),
        )
        return
    yield found(
        "HOOK-4",
        "note",
        N_("{devices} are on {input}: edges on one input stand end to end in one loop."),
        values,
        do=N_("Join them one behind the other; the only end element is in the far end of the last.")
        if joints[0].circuit == "resistor"
        else N_("Join each strip of one to that of the next, and bring both back from the last."),
        facts=facts,
        place=place_of(joints[-1]),
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
