"""What the floor of an opening has to say, in sentences."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sillwright.base.errors import OutOfRange
from sillwright.base.fact import Reading
from sillwright.base.finding import Finding, Level
from sillwright.base.source import Source
from sillwright.base.words import N_, Amount, Sentence
from sillwright.takeoff.answer import FloorCure
from sillwright.takeoff.floors.floor_model import FloorResult
from sillwright.takeoff.floors.floor_table import source

POINTS = "floor.points"
RULES = Source(document=N_("trade rules of thumb"), clause="FLOOR-1 … FLOOR-9", sure="memory")
LEVELS_OF_CURES: dict[FloorCure, Level] = {"none": "good", "fin": "note"}
"""Every other cure is work that somebody has to quote."""
OWNERS_REASON = N_("Where the edge does not touch, daylight, water, vermin and heat pass under the leaf.")


def finding(
    name: str,
    level: Level,
    text: Sentence,
    *,
    do: str,
    facts: tuple[str, ...] = (POINTS,),
    why: Sentence | None = None,
) -> Finding:
    """A finding on the floor, by the rules of reading it."""
    return Finding(
        id=f"takeoff.{name}",
        level=level,
        text=text,
        why=why,
        do=Sentence(do),
        facts=facts,
        place="floor",
        sources=(RULES,),
    )


def cure_finding(found: FloorResult, rests_on: tuple[str, ...] = ()) -> Finding:
    """How uneven the floor is, and the first cure that fits; ``rests_on`` are further facts it rests on."""
    uneven = {"unevenness": Amount(found.unevenness, "m"), "strip": Amount(found.strip, "m")}
    text = N_("The floor is uneven by {unevenness}, by {strip} about its best slope.")
    return Finding(
        id="takeoff.floor",
        level=LEVELS_OF_CURES.get(found.cure, "act"),
        text=Sentence(text, uneven),
        why=None if found.cure == "none" else Sentence(OWNERS_REASON),
        do=Sentence("{said}", {"said": found.why}),
        facts=(POINTS, "floor.read_as", *rests_on),
        place="floor",
        sources=(RULES, source("compression")),
    )


def reading_notes(found: FloorResult) -> Iterator[Finding]:
    """What the reading of the floor lacks, and what else is to be said of it, in one finding."""
    if found.notes:
        said = Sentence(
            N_("On the reading of the floor: {notes}"), {"notes": Sentence("{said}", {"said": _row(found)})}
        )
        do = N_(
            "Read again where it matters on the landing line: every 12 in (0.3 m), 2 in (50 mm) from both jambs."
        )
        yield finding("floor_reading", "note", said, do=do)


def _row(found: FloorResult) -> Sentence:
    """Sentences one after another."""
    names = {f"note{at}": note for at, note in enumerate(found.notes)}
    return Sentence(" ".join(f"{{{name}}}" for name in names), names)


def how_read(unevenness: float, contradicted: bool) -> Finding:
    """The question of the sign: heights, or gaps below a level."""
    text = (
        N_("The points of the floor are told as heights by one, as gaps below a level by another.")
        if contradicted
        else N_("The points of the floor differ by {unevenness}: are they heights, or gaps below a level?")
    )
    why = Sentence(N_("A hump read as a dip would be cured the wrong way round."))
    do = N_("Ask whoever read it, or hold the tape to the level again at the highest spot.")
    said = Sentence(text, {"unevenness": Amount(unevenness, "m")})
    return finding("floor_read_as", "act", said, do=do, facts=("floor.read_as",), why=why)


def never_read(unevenness: float | None = None) -> Finding:
    """Nobody read the floor point by point."""
    if unevenness is None:
        said = Sentence(N_("How even the floor is, nobody has read."))
    else:
        text = N_("The floor is told to be uneven by {unevenness}; where, and whether at a slope, nobody has read.")
        said = Sentence(text, {"unevenness": Amount(unevenness, "m")})
    do = N_(
        "On the landing line, leaf open, blocked and power locked out: a level or a line, and the gap to the floor "
        "every 12 in, at every joint, rut, drain and patch, and within 2 in of both jambs."
    )
    level: Level = "note" if unevenness is None else "act"
    return finding("floor_unread", level, said, do=do, facts=(POINTS, "floor.read_as"))


def two_readings(path: str) -> Finding:
    """The floor was taken down in two ways."""
    said = Sentence(N_("Two readings of the floor do not agree, and neither is used."))
    return finding("floor_two_readings", "act", said, do=N_("Read it again."), facts=(path,))


def one_place() -> Finding:
    """One point is no profile."""
    said = Sentence(N_("The floor was read at one place only."))
    return finding("floor_points", "act", said, do=N_("Read it again, at five places or more."))


def unusable(error: OutOfRange) -> Finding:
    """The points are none of a floor."""
    said = Sentence(N_("The points of the floor cannot be used: {why}"), {"why": error.said})
    return finding("floor_points", "act", said, do=N_("Read it again, at five places or more."))


def disagree(told: float, read: float) -> Finding:
    """The unevenness that was told is not that of the points."""
    text = N_("The floor is told to be uneven by {told}; its points say {read}. The points are used.")
    said = Sentence(text, {"told": Amount(told, "m"), "read": Amount(read, "m")})
    do = N_("Read it again where it is highest and where it is lowest.")
    return finding("floor_contradicts", "act", said, do=do, facts=("floor.unevenness", POINTS))


def assumed(path: str) -> Finding:
    """Nothing is ordered by an assumption."""
    said = Sentence(N_("The floor is assumed, not read; nothing is ordered by it."))
    return finding("floor_assumed", "note", said, do=N_("Read it."), facts=(path,))


def season(reading: Reading[Any] | None) -> Finding:
    """Frost lifts floors, and ice lies on them: a profile holds for the season in which it was read."""
    when = reading.on if reading else None
    text = (
        N_("It freezes there: the floor as read on {when} is only told for the other season.")
        if when
        else N_("It freezes there, and when the floor was read is not known: it is only told for the other season.")
    )
    do = N_("Ask for ice, frost heave and blocks under the leaf in winter; read the floor again then.")
    return finding("floor_season", "note", Sentence(text, {"when": when}), do=do)
