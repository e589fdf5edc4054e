"""What the facts of an opening tell of a call: what somebody saw, measured or was told, no assumption."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.survey.devices import Protection
from sillwright.survey.door import GATES
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.web.records.models import Opening
from sillwright.web.records.surveys import facts_of

EYES = {"photo_eye": "pair", "light_curtain": "curtain"}
CONNECTIONS = {"air": "hose", "radio": "radio"}  # the circuit alone tells how the edge is joined to the wall

Told = tuple[str, str]


def facts_told(opening: Opening) -> tuple[Told, ...]:
    """Names and values of facts, as the fault model has them; what is not known is left out."""
    found = facts_of(opening).rebuilt.survey.openings
    return tuple(_told(found[0])) if found else ()


def _told(about: OpeningFacts) -> Iterator[Told]:
    kind = about.door.kind
    if kind.known and kind.value:
        yield "leaf", "gate" if kind.value in GATES else "door"
    devices = about.protection.items if about.protection.standing == "known" else ()
    edges = [each for each in devices if each.kind.known and each.kind.value in ("sensing_edge", "air_edge")]
    if len(edges) == 1:
        yield from _of_edge(edges[0])
    eyes = {EYES[each.kind.value] for each in devices if each.kind.known and each.kind.value in EYES}
    if len(eyes) == 1:
        yield "eyes", eyes.pop()


def _of_edge(edge: Protection) -> Iterator[Told]:
    circuit = "air" if edge.kind.value == "air_edge" else edge.circuit.value if edge.circuit.known else None
    if circuit:
        yield "circuit", circuit
    if circuit in CONNECTIONS:
        yield "connection", CONNECTIONS[circuit]
