"""Openings for tests of the take-off: written as a technician would, every measurement with its origin."""

from __future__ import annotations

from typing import Any

from sillwright.base.words import Reader, render
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import Block, Body, Lead
from sillwright.takeoff.blocking.blocked import blocked
from sillwright.takeoff.leads.lead import lead
from sillwright.takeoff.lengths.bodies import bodies

US = Reader()

SETTLED = {
    "lead.end": "right",
    "lead.exit": "end",
    "lead.from_end": "0 in",
    "lead.length": "3 ft",
    "lead.fin": "outside",
    "lead.confirmed.by": "advisor",
    "lead.confirmed.on": "2026-03-04",
    "operator.kind": "jackshaft",
    "operator.side": "right",
    "operator.inputs": [{"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}],
    "protection": [
        {"id": "e1", "kind": "sensing_edge", "circuit": "resistor", "resistance": "10 kohm", "wires": 2}
    ],
}
"""A lead and a circuit that nothing is asked about."""


def measured(value: object, by: str = "technician") -> dict[str, object]:
    """A reading that somebody took with a tape."""
    return {"value": value, "from": "measured", "by": by, "on": "2026-03-04"}


def told(value: object, by: str = "shift lead") -> dict[str, object]:
    """What somebody said on the telephone."""
    return {"value": value, "from": "told", "by": by}


def assumed(value: object) -> dict[str, object]:
    """What somebody took for granted."""
    return {"value": value, "from": "assumed"}


SECTIONAL = {
    **SETTLED,
    "door.kind": "sectional",
    "door.clear_width": measured("10 ft 4 in"),
    "door.clear_height": measured("10 ft"),
    "door.panel_width": measured("10 ft 6 in"),
}
ROLLING = {
    **SETTLED,
    "lead.exit": "inside_face",
    "lead.from_end": "2 in",
    "door.kind": "rolling",
    "door.clear_width": measured("13 ft 6 in"),
    "door.clear_height": measured("12 ft"),
    "door.guide_clear.floor": measured("13 ft 8 in"),
    "door.guide_clear.chest": measured("13 ft 7-7/8 in"),
    "door.guide_clear.head": measured("13 ft 8 in"),
}
SLIDE_GATE = {
    **SETTLED,
    "door.kind": "slide_gate",
    "door.underside": measured("2 in"),
    "door.leaf_top": measured("84 in"),
    "zones": [
        {"place": "receiving post", "gap": "20 ft", "direction": "closing"},
        {"place": "guide posts", "gap": "4 in", "direction": "both"},
        {"place": "tail end and wall", "gap": "10 in", "direction": "opening"},
    ],
}
SWING_GATE = {
    **SETTLED,
    "door.kind": "swing_gate",
    "door.leaf_length": measured("96 in"),
    "door.leaf_height": measured("60 in"),
    "door.underside": measured("8 in"),
    "zones": [],
}


def at(facts: dict[str, Any], **site: Any) -> tuple[Site, Opening]:
    """The site and its only opening."""
    survey = survey_from_facts({**facts, **{f"site.{name}": value for name, value in site.items()}})
    return survey.site, survey.openings[0]


def without(facts: dict[str, Any], *paths: str) -> dict[str, Any]:
    """Facts with some of them left out, groups by their name."""
    return {
        path: value
        for path, value in facts.items()
        if not any(path == gone or path.startswith(f"{gone}.") for gone in paths)
    }


def bodies_at(facts: dict[str, Any], **site: Any) -> tuple[Body, ...]:
    """The bodies of an opening of these facts."""
    return bodies(*at(facts, **site))


def body_at(facts: dict[str, Any]) -> Body:
    """The body that matters most."""
    return bodies_at(facts)[0]


def lead_at(facts: dict[str, Any]) -> Lead:
    """The lead of an opening of these facts."""
    return lead(at(facts)[1])


def blocks_at(facts: dict[str, Any], **more: Any) -> dict[str, Block]:
    """What stands against ordering for these facts, by id."""
    site, opening = at(facts)
    found = blocked(site, opening, bodies(site, opening), lead(opening), **more)
    return {each.id: each for each in found}


def inches(metres: float | None) -> float | None:
    """Metres as inches."""
    return None if metres is None else round(metres / 0.0254, 6)


def said(body: Body | Lead) -> dict[str, str]:
    """The findings of a body or a lead by id, without the name of the chapter."""
    return {each.id.removeprefix("takeoff."): render(each.text, US) for each in body.findings}
