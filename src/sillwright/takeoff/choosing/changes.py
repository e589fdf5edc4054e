"""What a new edge changes at the leaf: its weight, its height, and the cut-out near the floor."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base import data
from sillwright.base.finding import Finding, Level
from sillwright.base.units import Kilogram, Metre
from sillwright.base.words import N_, Amount
from sillwright.catalogue.profile import Profile
from sillwright.survey.door import GATES
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import Changes
from sillwright.takeoff.choosing.weighing import Weight, added_weight, weighed
from sillwright.takeoff.floors.cutout import CutOut
from sillwright.takeoff.found import found
from sillwright.takeoff.round_about import values_of

ROUND_OFF: Metre = 1e-9


def changes(
    opening: Opening, body_length: Metre | None, profile: Profile | None, near_floor: CutOut | None = None
) -> Changes:
    """What changes with a body of this length and profile; None where a length, weight or height is not known.

    The weight of the old edge is not taken off. ``near_floor`` is the window of the reversal cut-out, as the floor
    leaves it; its findings are handed on.

    Source: trade rules of thumb (PRO-8), from memory.
    """
    weight = added_weight(profile, body_length) if profile else None
    rises = _rises(opening, profile)
    return Changes(
        added_weight=weight,
        added_height=max(rises, default=None, key=abs),
        window=near_floor.window if near_floor else None,
        window_strict=near_floor.window_strict if near_floor else None,
        sentence=near_floor.sentence if near_floor else None,
        findings=(
            *_weight(opening, profile, weight),
            *_height(opening, profile, rises),
            *(near_floor.findings if near_floor else ()),
        ),
    )


def _rises(opening: Opening, profile: Profile | None) -> tuple[Metre, ...]:
    """By how much the new body is taller than the old seal, for every reading of that."""
    return tuple(profile.height - old for old in values_of(opening.door.bottom.old_height)) if profile else ()


_HEAVIER: dict[Weight, tuple[Level, str, str]] = {
    "little": (
        "note",
        N_("The new edge weighs {added}."),
        N_("Lift the leaf by hand at half height after it is fitted; it should stay."),
    ),
    "check balance": (
        "act",
        N_("The new edge weighs {added}: the springs may no longer carry the leaf."),
        N_("Have a door technician check the balance, and quote it with the edge."),
    ),
    "change springs": (
        "act",
        N_("The new edge weighs {added}: the springs will not carry the leaf."),
        N_("Quote the spring change with the edge; a door technician does it."),
    ),
}


def _weight(opening: Opening, profile: Profile | None, added: Kilogram | None) -> Iterator[Finding]:
    kind = opening.door.kind.value
    if kind == "high_speed":
        yield found(
            "weight",
            "act",
            N_("A fabric leaf carries only what its maker lists."),
            {},
            do=N_("Ask the maker, by the serial number of the door."),
            facts=("door.serial",),
            place="bottom",
        )
    elif added is None:
        if profile:
            yield _not_told("weight", N_("What the new edge weighs is not known, nor what it asks of the springs."))
    elif kind not in GATES:
        level, text, do = _HEAVIER[weighed(opening, added)]
        values = {"added": Amount(added, "kg")}
        yield found("weight", level, text, values, do=do, facts=("door.leaf_mass",), place="bottom")


def _not_told(name: str, text: str) -> Finding:
    said = N_("Take it from the data sheet, or measure and weigh a sample.")
    return found(name, "note", text, {}, do=said, place="bottom")


def _height(opening: Opening, profile: Profile | None, rises: tuple[Metre, ...]) -> Iterator[Finding]:
    """A lower body leaves a gap; that a taller one asks for a new limit is a question of its own (ASK-10)."""
    if profile is None or opening.door.kind.value in GATES:
        return
    if not rises:
        yield found(
            "height",
            "note",
            N_("How high the old seal is was not taken down: the new body is {height}."),
            {"height": Amount(profile.height, "m")},
            do=N_("Measure it free, not pressed; the closed position is set anew either way."),
            facts=("door.bottom.old_height",),
            place="bottom",
        )
        return
    least = min(rises)
    if least <= ROUND_OFF - data.table("sillwright.takeoff", "profiles")["height"]["lower"]:
        yield found(
            "lower",
            "note",
            N_("The new body is {less} lower than the old seal."),
            {"less": Amount(-least, "m")},
            do=N_("Set the closed position anew; it must not hang off the floor, nor be forced onto it."),
            facts=("door.bottom.old_height",),
            place="bottom",
        )
