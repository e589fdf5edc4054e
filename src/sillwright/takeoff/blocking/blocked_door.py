"""Leaves and places for which an edge is not ordered like any other: fire doors, fabric doors, classified areas."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base.fact import Fact
from sillwright.base.words import N_
from sillwright.catalogue.profile import Profile
from sillwright.survey.classified import area_of
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import Block
from sillwright.takeoff.blocking.blocks import block

DOCUMENTS = {"plate", "instructions", "photo"}


def kind(opening: Opening) -> Iterator[Block]:
    """A leaf whose kind nobody stands for: every length rests on it."""
    kind = opening.door.kind
    if not kind.known:
        yield block(
            "kind_unknown",
            N_("What kind of leaf it is, is not known."),
            N_("Say which kind of leaf it is."),
            kind.path,
        )


def fire_door(opening: Opening) -> Iterator[Block]:
    """A fire door, and any leaf with a fire label: its parts come through the door's maker."""
    label = opening.door.fire_label
    labelled = label.number.value is not None or label.readable.value is True
    if not labelled and label.readable.value is None and opening.door.kind.value != "rolling_fire":
        return
    facts = ("door.kind", "door.fire_label.readable", "door.fire_label.number", "door.serial")
    if not labelled:
        yield block(
            "fire_label_unreadable",
            N_("This is a fire door whose label nobody has read; its parts come through the door's maker."),
            N_("Read it; where it cannot be read, ask the door's maker, and order there."),
            *facts,
        )
        return
    yield block(
        "fire_label",
        N_("Parts of a labelled fire door come through the door's maker."),
        N_("Give that maker the door's serial and label number, and order there."),
        *facts,
    )


def fabric(opening: Opening) -> Iterator[Block]:
    """A fabric door: its edge is ordered from the door's maker by serial number."""
    if opening.door.kind.value != "high_speed":
        return
    serial = opening.door.serial
    if not serial.known or serial.value is None:
        yield block(
            "serial_missing",
            N_("A fabric door's edge has no generic length, and the door's serial number is not known."),
            N_("Read the serial plate; order from the door's maker by it."),
            serial.path,
        )
        return
    yield block(
        "by_serial",
        N_("A fabric door's edge has no generic length: it is ordered by the serial number of the door."),
        N_("Order from the door's maker by serial number {serial}."),
        serial.path,
        serial=serial.value,
    )


def classified(opening: Opening, profile: Profile | None) -> Iterator[Block]:
    """An area that may be classified, without the owner's document, or with an edge that is not listed."""
    area: Fact[str] = opening.surroundings.classified_area
    says = area_of(area)
    if says in {None, "ordinary"}:
        return
    words = [each for each in (area.value, *area.rivals) if each is not None]
    document = area.reading is not None and area.reading.origin in DOCUMENTS and bool(area.reading.evidence)
    if says == "open":
        yield block(
            "classified_area",
            N_("Whether the area is classified is not settled (“{words}”)."),
            N_("Ask the owner for the document on the classification; until then no electric part is proposed."),
            area.path,
            words=words,
        )
    elif area.standing != "known" or not document or "?" in (area.value or ""):
        yield block(
            "classified_area",
            N_("The area is said to be classified ({words}), and the owner's document is not named."),
            N_("Get the owner's document on the classification; until then no electric part is proposed."),
            area.path,
            words=words,
        )
    elif profile is None or set(profile.circuits) != {"air"}:
        yield block(
            "classified_area_circuit",
            N_("The area is classified: {words}. No edge whose circuit is listed for it is chosen."),
            N_("Choose an air edge with its switch outside the area, or a circuit that is listed for the class."),
            area.path,
            words=words,
        )
