"""What to say of getting a body into its channel."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base import data
from sillwright.base.finding import Finding
from sillwright.base.units import Kelvin, Metre
from sillwright.base.words import N_, Amount
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Channel
from sillwright.survey.door import GATES
from sillwright.survey.model import Opening
from sillwright.takeoff.found import found

ROUND_OFF: Metre = 1e-9


def fitting_findings(opening: Opening, space: str, coldest: Kelvin | None) -> Iterator[Finding]:
    """The findings on little room beside the opening, and on a cold place."""
    if opening.door.kind.value in GATES or space not in {"bend", "none"}:
        return
    yield found(
        "channel_room",
        "note",
        N_("There is little room beside the opening to get a body in."),
        {},
        do=N_(
            "Never take off the bottom panel, its brackets or cables to gain room: the spring is wound. That is "
            "for a door technician, with the spring unwound."
        ),
        facts=("door.side_room.left", "door.side_room.right"),
        place="bottom",
    )
    limit = data.table("sillwright.takeoff", "profiles")["room"]["coldest"]
    if space == "bend" and coldest is not None and coldest < limit - ROUND_OFF:
        yield found(
            "channel_cold",
            "note",
            N_("Below {limit} a body is too stiff to be bent in."),
            {"limit": Amount(limit, "K")},
            do=N_("Fit it on a warmer day, after the body has lain in a warm room."),
            facts=("site.coldest",),
            place="bottom",
        )


def rail_findings(
    catalogue: Catalogue | None, part: Channel | None, run: Metre | None, longest: Metre
) -> Iterator[Finding]:
    """The findings on a new channel: none of the catalogue is known to sit, or it is too short for one piece."""
    if catalogue and part is None:
        yield found(
            "channel_part",
            "note",
            N_("No channel of this catalogue is known to sit on this leaf."),
            {},
            do=N_("Measure the seat, front to back; a channel that needs more does not go on."),
            facts=("door.bottom.seat_width",),
            place="bottom",
        )
    if part and run is not None and not part.pieceable and run > longest + ROUND_OFF:
        yield found(
            "channel_length",
            "act",
            N_("{part} comes in one piece of at most {longest}; {run} is needed."),
            {"part": part.name, "longest": Amount(longest, "m"), "run": Amount(run, "m")},
            do=N_("Choose a channel that may be put together from pieces."),
            place="bottom",
        )
