"""What stands against ordering a lead and its wires: open, assumed, unconfirmed, or told in two ways."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sillwright.base.finding import Finding
from sillwright.base.words import N_
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import Block, Lead
from sillwright.takeoff.blocking.asks import (
    asks_of_wires,
    last_body_known,
    photo_against_form,
    same_as_last,
    wires_told,
)
from sillwright.takeoff.blocking.blocks import block, titles


def lead_end(opening: Opening, lead: Lead) -> Iterator[Block]:
    """An end that is not known, or that rests on an assumption."""
    told = opening.lead.end
    if told.standing == "none there":
        return
    if lead.end is None and not opening.door.is_gate:
        yield block(
            "lead_unknown",
            N_("At which end the lead comes out is not known."),
            N_("Settle it on site or from a photo, inside looking out."),
            "lead.end",
            *lead.facts,
        )
    assumed = tuple(path for path in lead.facts if opening.fact(path).standing == "assumed")
    if assumed:
        yield block(
            "lead_assumed",
            N_("The end of the lead rests on an assumption."),
            N_("Look on site or on a photo: {facts}."),
            *assumed,
            facts=titles(opening, assumed),
        )


def lead_asked(opening: Opening, lead: Lead, asked: Iterable[Finding]) -> Iterator[Block]:
    """A lead that nobody confirmed, that is not on the operator's side, or that a photo shows elsewhere."""
    if opening.lead.end.standing == "none there":
        return
    if not lead.confirmed:
        yield block(
            "lead_unconfirmed",
            N_("Nobody has confirmed the lead."),
            N_("Have it confirmed from a photo or on site: by whom, on which day."),
            "lead.confirmed.by",
            "lead.confirmed.on",
        )
    if lead.end != lead.advised and any(each.id == "ASK-8" for each in asked):
        yield block(
            "lead_reason",
            N_("The lead is not on the operator's side, and nobody says why."),
            N_("Give one line of reason as a statement about the lead, or turn the lead to the operator's side."),
            "lead.end",
            "operator.side",
        )
    if photo_against_form(opening) is not None:
        yield block(
            "photo_lead",
            N_("A photo shows the lead at another end than the form says."),
            N_("Look at both side by side, and take one of them back."),
            "lead.end",
        )


def wires(opening: Opening, profile: Profile | None, input: OperatorInput | None) -> Iterator[Block]:
    """Wires that nobody counted, or that do not fit what they are joined to (ASK-9)."""
    if not wires_told(opening, profile, input) and not _without_wires(opening, profile):
        yield block(
            "wires_unknown",
            N_("How many wires the body has is not known."),
            N_("Read the input of the operator, or count the wires of the edge there."),
            "operator.inputs",
            "protection",
        )
    for each in asks_of_wires(opening, profile, input):
        do = each.do or each.text
        yield block("wires_differ", N_("{text}"), N_("{do}"), *each.facts, text=each.text, do=do)


def _without_wires(opening: Opening, profile: Profile | None) -> bool:
    """Air and optical edges, whose way to the operator is no pair of wires to count."""
    circuits = {
        each.circuit.value for each in opening.protection if each.kind.value in {"sensing_edge", "air_edge"}
    }
    offered = set(profile.circuits) if profile else set()
    return any(told and told <= {"air", "optical"} for told in (circuits, offered))


def last_time(opening: Opening) -> Iterator[Block]:
    """Ordered by what was ordered before, which nobody has on record (ASK-11)."""
    said = same_as_last(opening)
    if said and not last_body_known(opening):
        yield block(
            "same_as_last_time",
            N_("It is ordered as “{words}”."),
            N_("Get the last body's own measurement, its wires and ohms, and a photo of both ends."),
            said[0].words.path,
            words=said[0].words.value,
        )
