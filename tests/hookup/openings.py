"""Openings for tests of the hookup: an operator with its inputs, devices that want to be joined."""

from __future__ import annotations

from typing import Any

from sillwright.base.finding import Finding
from sillwright.base.words import Reader, render
from sillwright.catalogue import Catalogue
from sillwright.hookup import Hookup, Joint, hook_up
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.model import Opening

US = Reader()
DOOR = {"door.kind": "sectional", "door.clear_width": "10 ft 4 in", "door.clear_height": "12 ft"}
TEN = {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}
EDGE = {
    "id": "e1", "kind": "sensing_edge", "circuit": "resistor", "resistance": "10 kohm", "end_element_at": "far_end",
}  # fmt: skip
EYE = {"id": "y1", "kind": "photo_eye", "circuit": "pulse_two_wire"}
PULSES = {"name": "eye", "circuit": "pulse_two_wire"}


def edge(id: str = "e1", **facts: Any) -> dict[str, Any]:
    """A sensing edge that ends in 10 kΩ at its far end, with some facts otherwise."""
    return {**EDGE, "id": id, **facts}


def plain_edge(circuit: str, id: str = "e1", **facts: Any) -> dict[str, Any]:
    """A sensing edge of a circuit and nothing else."""
    return {"id": id, "kind": "sensing_edge", "circuit": circuit, **facts}


def opening(inputs: Any, *devices: dict[str, Any], **facts: Any) -> Opening:
    """An opening whose operator has these inputs; None: nobody asked for them."""
    told = {} if inputs is None else {"operator.inputs": inputs}
    named = {name.replace("__", "."): value for name, value in facts.items()}
    return survey_from_facts({**DOOR, **told, "protection": list(devices), **named}).openings[0]


def hooked(
    inputs: Any, *devices: dict[str, Any], catalogue: Catalogue | None = None, lead_run: Any = None, **facts: Any
) -> Hookup:
    """How its devices are hooked up."""
    return hook_up(opening(inputs, *devices, **facts), catalogue, lead_run=lead_run)


def joint(inputs: Any, *devices: dict[str, Any], **facts: Any) -> Joint:
    """How the first of its devices is joined."""
    return hooked(inputs, *devices, **facts).joints[0]


def ids(found: Hookup) -> list[str]:
    """The findings by their ids, as often as they are found."""
    return [each.id for each in found.findings]


def one(found: Hookup, id: str) -> Finding:
    """The only finding of an id."""
    (finding,) = [each for each in found.findings if each.id == id]
    return finding


def text(finding: Finding) -> str:
    """What a finding says."""
    return render(finding.text, US)


def why(found: Joint) -> str:
    """All reasons of a joint, in one line."""
    return " ".join(render(each, US) for each in found.reasons)
