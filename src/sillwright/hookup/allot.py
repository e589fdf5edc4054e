"""Which device gets which input, where several want one: each input is given once, best fits first."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key
from sillwright.circuit.watching import shared_as, wired
from sillwright.hookup._join import join, joint_on, nearest_fit, rank
from sillwright.hookup.answer import InputUse, Joint
from sillwright.hookup.inlets import Inlet, Inlets
from sillwright.hookup.told import between, told_of
from sillwright.survey.devices import Protection

NOT_JOINED = {"inherent", "guard"}
NO_FIT = 8


@dataclass(frozen=True, kw_only=True)
class Allotted:
    """The joints of all devices, in their order, and what is on each input."""

    joints: tuple[Joint, ...]
    inputs: tuple[InputUse, ...]
    on: Mapping[str, Inlet]  # by the path of a device


def allot(devices: Sequence[Protection], inputs: Inlets, catalogue: Catalogue | None) -> Allotted:
    """Every device on the input it was told to be on, else on a free one that fits; where none is free, shared.

    Force sensing in the operator and guards are joined to nothing.
    """
    joined = [each for each in devices if each.kind.value not in NOT_JOINED]
    on = _placed(joined, inputs, catalogue) if inputs.state == "known" else {}
    joints = []
    for device in joined:
        inlet = on.get(device.path)
        if inlet is not None:
            joints.append(joint_on(device, inlet, catalogue))
        elif inputs.state == "known" and not device.input.known:
            joints.append(nearest_fit(device, inputs.items, catalogue))
        else:
            joints.append(join(device, inputs, catalogue))
    return Allotted(joints=_shared(joints, on, joined), inputs=_used(joints, inputs, on), on=on)


def _placed(devices: Sequence[Protection], inputs: Inlets, catalogue: Catalogue | None) -> dict[str, Inlet]:
    """The input of each device: the told ones first, then by fit, one device an input while inputs are left."""
    on: dict[str, Inlet] = {}
    for device in devices:
        if device.input.known and device.input.value is not None:
            name = key(device.input.value)
            there = next((each for each in inputs.items if each.name and key(each.name) == name), None)
            if there is not None:
                on[device.path] = there
    taken = {id(each) for each in on.values()}
    free = [each for each in devices if each.path not in on and not (each.input.known and each.input.value)]
    fitness = _Ranks(catalogue)
    order = sorted(
        (value, here, there)
        for here, device in enumerate(free)
        for there, value in enumerate(fitness.of(device, inputs.items))
        if value < NO_FIT
    )
    for again in (False, True):
        for _, here, at in order:
            device, inlet = free[here], inputs.items[at]
            if device.path not in on and (again or id(inlet) not in taken):
                on[device.path] = inlet
                taken.add(id(inlet))
    return on


class _Ranks:
    """How well inputs take devices; those that are told alike are judged once."""

    def __init__(self, catalogue: Catalogue | None) -> None:
        self.catalogue = catalogue
        self.known: dict[Hashable, float] = {}

    def of(self, device: Protection, inlets: Sequence[Inlet]) -> Iterator[float]:
        """The rank of each input for a device."""
        mine = (told_of(device, self.catalogue).circuits, between(device))
        for inlet in inlets:
            alike = (mine, inlet.circuits, id(inlet.entry), inlet.stops_only)
            if alike not in self.known:
                self.known[alike] = rank(device, inlet, self.catalogue)
            yield self.known[alike]


def _shared(joints: Sequence[Joint], on: Mapping[str, Inlet], devices: Sequence[Protection]) -> tuple[Joint, ...]:
    """The joints with the other devices on the same input, and how they share it."""
    together: dict[int, list[str]] = {}
    for each in joints:
        if each.device in on:
            together.setdefault(id(on[each.device]), []).append(each.device)
    with_it = {device: devices for devices in together.values() for device in devices}
    found = []
    for each in joints:
        names = with_it.get(each.device, [])
        there = wired([device for device in devices if device.path in names])
        others = tuple(other for other in names if other != each.device)
        found.append(replace(each, shared_with=others, joined=shared_as(there) if others else None))
    return tuple(found)


def _used(joints: Sequence[Joint], inputs: Inlets, on: Mapping[str, Inlet]) -> tuple[InputUse, ...]:
    return tuple(
        InputUse(
            name=inlet.name,
            circuit=inlet.circuit,
            resistance=inlet.resistance,
            devices=tuple(
                each.device for each in joints if on.get(each.device) is inlet and each.way != "not_joinable"
            ),
            standing=inlet.standing,
            terminals=inlet.entry.terminals if inlet.entry else (),
            stops_only=inlet.stops_only,
        )
        for inlet in inputs.items
    )
