"""Which channel goes onto the leaf: the slot that is there, a new one, or one that goes on with the body in it."""

from __future__ import annotations

from typing import Any, Literal

from sillwright.base import data
from sillwright.base.units import Kelvin, Metre
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Channel
from sillwright.survey.door import GATES
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import ChannelAdvice
from sillwright.takeoff.channels.channel_findings import fitting_findings, rail_findings
from sillwright.takeoff.channels.rail import longest_piece, rail_of, rail_pieces
from sillwright.takeoff.round_about import values_of

ROUND_OFF: Metre = 1e-9
SOUND = {"good", "ok", "sound", "straight", "clean", "new", "fine", "in order"}
SPENT = ("rust", "corro", "crush", "loose", "bent", "broken", "worn", "torn", "missing", "unknown make")
NO_MAKE = {"unknown", "unknown make", "?"}

Room = Literal["slide", "bend", "none", "unknown"]
Slot = Literal["sound", "spent", "unknown"]
Kind = Literal["existing", "slide_in", "face_fixed", "two_part", "ask"]


def channel(
    opening: Opening,
    body_length: Metre | None,
    catalogue: Catalogue | None = None,
    *,
    coldest: Kelvin | None = None,
    body_height: Metre | None = None,
) -> ChannelAdvice:
    """Which channel, why, and how it is cut for a body of this length.

    ``coldest`` is how cold it gets at the leaf, as far as that is known; ``body_height`` that of the new body. A
    slot that nobody has looked at does not count as sound, nor a side that nobody has measured as room.

    Source: trade rules of thumb (room to get it in, LEN-17), from memory.
    """
    space = room(opening, body_height)
    kind, why = _decided(opening, space)
    part = None
    if kind in {"slide_in", "face_fixed"}:
        kind, part = _new(opening, catalogue, kind)
    findings = fitting_findings(opening, space, coldest)
    if kind in {"existing", "ask"}:
        return ChannelAdvice(kind=kind, why=why, findings=tuple(findings))
    longest = longest_piece(part) or float(_table("rail")["longest"])
    return ChannelAdvice(
        kind=kind,
        why=why,
        part=part.name if part else None,
        pieces=_pieces(body_length, longest, part),
        findings=(*findings, *rail_findings(catalogue, part, body_length, longest)),
    )


def _table(name: str) -> Any:
    return data.table("sillwright.takeoff", "profiles")[name]


def _decided(opening: Opening, space: Room) -> tuple[Kind, Sentence]:
    kind = opening.door.kind.value
    if kind is None:
        return "ask", Sentence(N_("The kind of leaf is not known, and with it not what carries the body."))
    if kind == "high_speed":
        return "ask", Sentence(
            N_("A fabric leaf has the pocket that its maker gives it; the maker says what fits.")
        )
    if kind == "rolling_fire":
        return "ask", Sentence(N_("Nothing is screwed to a labelled fire door but what its maker supplies."))
    if kind in GATES:
        said = N_("On a gate the channel is fixed to the face, and the body pushed in from an end.")
        return "face_fixed", Sentence(said)
    return _at_the_bottom(slot(opening), space, _spent(opening))


def _at_the_bottom(there: Slot, space: Room, spent: str | None) -> tuple[Kind, Sentence]:
    table = _table("room")
    values = {name: Amount(table[name], "m") for name in ("slide", "least", "tallest")}
    if space == "none":  # whatever the slot is like, nothing gets into it
        said = N_(
            "There is no room to slide a body in: a new channel goes on with the body already in it, walked up to "
            "the leaf. It takes 20 to 40 minutes more."
        )
        return "face_fixed", Sentence(said)
    if there == "unknown":
        said = N_(
            "Nobody has said that the slot is sound; rusted, crushed or of unknown make it takes a new channel."
        )
        return "ask", Sentence(said)
    if space == "unknown":
        said = N_("The room beside the opening is not known; with {slide} on one side a flexible body slides in.")
        return "ask", Sentence(said, values)
    if there == "spent":
        known = N_("The slot is spent (“{condition}”): a new channel, then the body slides in.")
        said = known if spent else N_("There is no slot of a known make: a new channel, then the body slides in.")
        return "slide_in", Sentence(said, {"condition": spent})
    if space == "bend":
        said = N_("The slot is sound; in {least} to {slide} of room a helper bends in a body of up to {tallest}.")
        return "existing", Sentence(said, values)
    return "existing", Sentence(N_("The slot is sound and there is room: the body slides in from the side."))


def slot(opening: Opening) -> Slot:
    """The slot that is there: sound by somebody's word, spent or of unknown make, or open."""
    bottom = opening.door.bottom
    words = {text.strip().lower() for text in values_of(bottom.condition)}
    makes = {text.strip().lower() for text in values_of(bottom.channel)}
    bad = any(mark in word for word in words for mark in SPENT)
    if bottom.channel.standing == "none there" or bad or (makes and makes <= NO_MAKE):
        return "spent"
    return "sound" if words and words <= SOUND and makes and not makes & NO_MAKE else "unknown"


def _spent(opening: Opening) -> str | None:
    """The word on the slot that says it is spent; None where only its make is against it."""
    words = values_of(opening.door.bottom.condition)
    return next((word for word in words if any(mark in word.lower() for mark in SPENT)), None)


def room(opening: Opening, body_height: Metre | None = None) -> Room:
    """The room to get a body in, on the wider side; bending it in asks for warmth and a low body."""
    table, door = _table("room"), opening.door
    sides = (values_of(door.side_room.left), values_of(door.side_room.right))
    known = [min(each) for each in sides if each]
    if known and max(known) >= table["slide"] - ROUND_OFF:
        return "slide"
    if len(known) < 2:
        return "unknown"
    cold = any(each < table["coldest"] - ROUND_OFF for each in values_of(opening.surroundings.cold_side))
    tall = body_height is not None and body_height > table["tallest"] + ROUND_OFF
    return "bend" if max(known) >= table["least"] - ROUND_OFF and not cold and not tall else "none"


def _new(opening: Opening, catalogue: Catalogue | None, kind: Kind) -> tuple[Kind, Channel | None]:
    """The new channel out of the catalogue; where none is screwed on with its body, one of two parts."""
    if kind == "slide_in":
        return kind, rail_of(opening, catalogue, "slide_in")
    screwed = rail_of(opening, catalogue, "face_fixed") or rail_of(opening, catalogue, "bottom_fixed")
    snapped = rail_of(opening, catalogue, "two_part")
    return ("two_part", snapped) if snapped and not screwed else (kind, screwed)


def _pieces(run: Metre | None, longest: Metre, part: Channel | None) -> tuple[Metre, ...]:
    """How the channel is cut; nothing where the run is not known, or where it may not be put together."""
    whole = part is not None and not part.pieceable
    if run is None or not run > 0 or (whole and run > longest + ROUND_OFF):
        return ()
    return rail_pieces(run, longest, _table("rail")["gap"])
