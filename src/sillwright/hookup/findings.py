"""What to say of how devices are joined: the rules HOOK-1 to HOOK-6 of the trade, and what does not fit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import reduce
from typing import Any

from sillwright.base.finding import Finding, Level
from sillwright.base.words import N_, Amount, Sentence
from sillwright.circuit.wire_table import conductor
from sillwright.hookup.allot import Allotted
from sillwright.hookup.answer import Joint, Power
from sillwright.hookup.fit import WATCHABLE
from sillwright.hookup.inlets import Inlet, Inlets, alike, values_of
from sillwright.hookup.table import MEMORY, PRACTICE, number
from sillwright.hookup.told import end_place
from sillwright.hookup.words import circuit
from sillwright.survey.devices import Protection
from sillwright.survey.element_place import ENDED
from sillwright.survey.model import Opening

EDGES = {"sensing_edge", "air_edge"}
GONE = {"missing", "torn_off"}


def found(
    name: str,
    level: Level,
    text: str,
    values: Mapping[str, Any],
    *,
    do: str,
    why: str | None = None,
    facts: tuple[str, ...] = (),
    place: str | None = "operator",
) -> Finding:
    """A finding of this chapter; ``values`` fill all its sentences."""
    return Finding(
        id=name,
        level=level,
        text=Sentence(text, values),
        why=Sentence(why, values) if why else None,
        do=Sentence(do, values),
        facts=facts,
        place=place,
        sources=(MEMORY if name.startswith("HOOK-") else PRACTICE,),
    )


def of_joints(opening: Opening, allotted: Allotted, lead_run: float | None) -> Iterator[Finding]:
    """The findings on every device as it is joined; nothing is said of one that is no longer there."""
    devices = {each.path: each for each in opening.protection}
    there = [each for each in allotted.joints if devices[each.device].state.value not in GONE]
    for joint in there:
        device, inlet = devices[joint.device], allotted.on.get(joint.device)
        yield from _not_joinable(joint)
        yield from _converter(joint, device, opening)
        yield from _pairs(joint, device, opening)
        yield from _end_element(joint, device, inlet)
        yield from _unseen(joint, inlet)
        yield from _stop_terminal(joint, device)
    yield from _held(opening, there)
    yield from _run(lead_run, there)


def place_of(joint: Joint) -> str | None:
    """The shape of a device on the drawing; None where it has no name."""
    return joint.device if "[" not in joint.device else None


def _not_joinable(joint: Joint) -> Iterator[Finding]:
    if joint.way == "not_joinable":
        yield found(
            "hookup.not_joinable",
            "act",
            N_("{device} joins no input of this operator: {why}"),
            {"device": joint.name, "why": _one_after_the_other(joint.reasons)},
            do=N_("Choose a device that an input takes, or a converter that the operator's instructions list."),
            facts=(joint.device, "operator.inputs"),
            place=place_of(joint),
        )


def _one_after_the_other(sentences: Sequence[Sentence]) -> Sentence:
    """Several sentences as one text."""
    return reduce(lambda one, more: Sentence("{one} {more}", {"one": one, "more": more}), sentences)


def _converter(joint: Joint, device: Protection, opening: Opening) -> Iterator[Finding]:
    """HOOK-1: a converter is wanted; it needs a supply, a home and an input of its own."""
    if joint.way != "through" or joint.circuit == "radio":
        return
    values = {
        "device": joint.name,
        "from": circuit(joint.circuit),
        "to": circuit(joint.input_circuit, of_input=True),
        "low": Amount(number("supply", "converter")[0], "A"),
        "high": Amount(number("supply", "converter")[1], "A"),
    }
    do = N_("Fit one that the instructions list: it needs a supply, usually {low} to {high}, and a box or cabinet.")
    bare = device.through.known and not device.through.value
    if bare:
        yield found(
            "HOOK-1",
            "act",
            N_("{device} is joined without the converter that it needs, from {from} to {to}."),
            values,
            do=do,
            why=N_("On this input the operator cannot make sense of what it reads."),
            facts=(joint.device, "converters"),
            place=place_of(joint),
        )
    elif not device.through.value and not opening.converters.items:
        yield found(
            "HOOK-1",
            "note",
            N_("{device} needs a converter, from {from} to {to}; none was taken down."),
            values,
            do=do,
            facts=(joint.device, "converters"),
            place=place_of(joint),
        )


def _pairs(joint: Joint, device: Protection, opening: Opening) -> Iterator[Finding]:
    """HOOK-2: a four-wire edge whose strips cannot come back."""
    if joint.circuit != "four_wire":
        return
    cord, wires = opening.cord.conductors, device.wires
    short = next((each for each in (cord, wires) if each.value is not None and each.value < 4), None)
    if short is None:
        return
    yield found(
        "HOOK-2",
        "act",
        N_("{device} is a four-wire edge, and only {count} conductors come back from it."),
        {"device": joint.name, "count": f"{short.value:g}"},
        do=N_("Fit a cord with four conductors, and find the pairs first: a strip reads a few ohms end to end."),
        why=N_("With the ends of each strip joined it is a plain edge: nobody sees when it is cut."),
        facts=(short.path, f"{joint.device}.circuit"),
        place="cord" if short is cord else place_of(joint),
    )


def _end_element(joint: Joint, device: Protection, inlet: Inlet | None) -> Iterator[Finding]:
    """HOOK-3: the end element has another value than the input expects, or sits elsewhere than at the far end."""
    if joint.circuit not in ENDED or joint.way in {"unknown", "not_joinable"}:
        return
    place = end_place(device)
    if place not in {"edge_far", "unknown"}:
        yield found(
            "HOOK-3",
            "stop",
            N_("The end element of {device} is not at the far end of the edge: “{where}”."),
            {"device": joint.name, "where": device.end_element_at.value},
            do=N_(
                "Let the leaf close only while somebody holds the control in full view, until an edge with the end "
                "element in its far end is fitted and tested."
            ),
            why=N_("The operator sees its element and takes the edge for sound, whatever is cut behind it."),
            facts=(device.end_element_at.path,),
            place=place_of(joint),
        )
    if device.resistance.standing == "none there" and not joint.shared_with:
        yield _no_element(joint, device)
    own, wanted = values_of(device.resistance), inlet.ohms if inlet else ()
    if joint.way == "direct" and joint.input_circuit == "resistor" and len(own) == 1 and len(wanted) == 1:
        yield from _value(joint, device, inlet, own[0], wanted[0])


def _no_element(joint: Joint, device: Protection) -> Finding:
    return found(
        "HOOK-3",
        "act",
        N_("{device} was looked at and holds no end element."),
        {"device": joint.name},
        do=N_("Fit an edge that holds the element in its far end; one at the board makes good nothing."),
        why=N_(
            "Without an element the operator sees no more of it than of a plain edge: cut off, it is not missed."
        ),
        facts=(device.resistance.path, f"{joint.device}.circuit"),
        place=place_of(joint),
    )


def _value(joint: Joint, device: Protection, inlet: Inlet | None, own: float, wanted: float) -> Iterator[Finding]:
    if alike(own, wanted):
        return
    yield found(
        "HOOK-3",
        "act",
        N_("{device} ends in {own}, the input {input} expects {wanted}."),
        {
            "device": joint.name,
            "input": joint.input or "",
            "own": Amount(own, "ohm"),
            "wanted": Amount(wanted, "ohm"),
        },
        do=N_(
            "Fit an edge whose far end holds {wanted}; an element is never added at the board to make up for it."
        ),
        why=N_(
            "At rest the input reads another voltage than it was made for: nearer to pressed, or nearer to open."
        ),
        facts=(device.resistance.path, *((f"{inlet.path}.resistance",) if inlet and inlet.path else ())),
        place=place_of(joint),
    )


def _unseen(joint: Joint, inlet: Inlet | None) -> Iterator[Finding]:
    """A device that could be watched, on an input that cannot watch."""
    if joint.way not in {"direct", "through"} or joint.monitored_if_listed is not False:
        return
    if joint.circuit in WATCHABLE and joint.input_circuit in {"plain", "normally_closed"}:
        yield found(
            "hookup.unseen",
            "note",
            N_("The operator does not see when {device} is gone: {input} reads a contact only."),
            {"device": joint.name, "input": joint.input or Sentence(N_("its input"))},
            do=N_("Count it as a plain device, and test it at every visit; a watched input would see it."),
            facts=(f"{joint.device}.circuit", *((inlet.path,) if inlet and inlet.path else ())),
            place=place_of(joint),
        )


def _stop_terminal(joint: Joint, device: Protection) -> Iterator[Finding]:
    """HOOK-6: a device on a terminal that stops, and does not reverse."""
    if joint.reverses is False and joint.way in {"direct", "through"}:
        told = device.input.known
        yield found(
            "HOOK-6",
            "act",
            N_("{device} is on “{input}”: there it stops the leaf, and does not reverse it.")
            if told
            else N_("Only “{input}” would take {device}: there it stops the leaf, and does not reverse it."),
            {"device": joint.name, "input": joint.input or ""},
            do=N_("Join it to the terminal that reverses, as the operator's instructions draw it, and test it."),
            why=N_("A leaf that stops on somebody stays on somebody."),
            facts=(device.input.path,),
            place=place_of(joint),
        )


def _held(opening: Opening, joints: Sequence[Joint]) -> Iterator[Finding]:
    control = opening.operator.closing_control
    if control.value == "held" and any(each.way in {"direct", "through"} for each in joints):
        yield found(
            "HOOK-6",
            "note",
            N_("The operator closes only while the control is held: what is joined to it may stop it only."),
            {},
            do=N_("Try it at the leaf: touch the edge, break the beam, and see whether it opens again."),
            facts=(control.path,),
        )


def _run(lead_run: float | None, joints: Sequence[Joint]) -> Iterator[Finding]:
    """HOOK-5: a long lead; its resistance is never the fault, what it picks up is."""
    most = float(number("lead", "most"))
    if lead_run is not None and lead_run > most and joints:
        ohms = 2 * conductor(float(number("lead", "gauge")), lead_run)
        yield found(
            "HOOK-5",
            "note",
            N_("The lead to the operator is {run} long; {most} is the most that is usual."),
            {"run": Amount(lead_run, "m"), "most": Amount(most, "m"), "ohms": Amount(ohms, "ohm")},
            do=N_(
                "Twist the pair, keep 12 in (0.3 m) from motor leads, shield it near drives; or move the converter."
            ),
            why=N_("The {ohms} of its pair are never the fault; what it picks up from motor leads is."),
            facts=("box.side", "operator.side"),
            place="lead",
        )


def of_inputs(inputs: Inlets, opening: Opening) -> Iterator[Finding]:
    """Inputs that the catalogue knows otherwise than they were taken down."""
    for each in inputs.items:
        if each.differs:
            yield found(
                "hookup.input_differs",
                "note",
                N_("The input {input} was taken down otherwise than the catalogue has it for this operator."),
                {"input": each.name or ""},
                do=N_("Read the terminals and the instructions again; what was taken down is used here."),
                facts=(each.path, opening.operator.model.path),
            )


def of_power(power: Power) -> Iterator[Finding]:
    """An accessory supply that is too small, and eyes that are left with too little or too much."""
    if power.enough in {"too little", "nearly all"} and power.why is not None:
        yield found(
            "hookup.power",
            "act" if power.enough == "too little" else "note",
            "{why}",
            {"why": power.why},
            do=N_("Feed part of them from a supply of their own, or choose parts that draw less."),
            facts=("operator.model",),
        )
    low, high = number("supply", "eye")
    for draw in power.draws:
        if draw.far_voltage is not None and not low <= draw.far_voltage <= high:
            yield found(
                "hookup.eye_voltage",
                "act",
                N_("At the far eye {name} would be left with {volts}; it wants {low} to {high}."),
                {
                    "name": draw.name,
                    "volts": Amount(draw.far_voltage, "V"),
                    "low": Amount(low, "V"),
                    "high": Amount(high, "V"),
                },
                do=N_("Measure it at the far eye, under load; take thicker wire, or a supply near the eye."),
                facts=("operator.model",),
            )
