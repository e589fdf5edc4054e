"""The floor of one opening: what its survey says of it, how the leaf lies on it, and the cure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from sillwright.base.errors import OutOfRange
from sillwright.base.finding import Finding
from sillwright.base.units import Kelvin, Metre
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import FloorCure, FloorFit
from sillwright.takeoff.floors._floor import floor
from sillwright.takeoff.floors.falling import fall_findings
from sillwright.takeoff.floors.floor_findings import (
    assumed,
    cure_finding,
    disagree,
    how_read,
    never_read,
    one_place,
    reading_notes,
    season,
    two_readings,
    unusable,
)
from sillwright.takeoff.floors.floor_model import (
    Bottom,
    FloorCase,
    FloorProfile,
    FloorResult,
    ReadAs,
    at_two_places,
)
from sillwright.takeoff.floors.floor_table import ROUND_OFF, number
from sillwright.takeoff.round_about import of_all, values_of


def floor_fit(site: Site, opening: Opening, profiles: Sequence[Profile] = ()) -> FloorFit:
    """How the leaf of an opening lies on its floor, the cure, and what the sill's fall asks of the profile.

    The points are used where it is known how they were read; whether they are heights or gaps is asked, never
    guessed. Where only the unevenness was told, it is used, and the strip stays unknown. Two readings of the floor
    are none. A gate does not come down onto a floor. Wood is scribed only where somebody saw that it is wood.
    """
    if opening.door.is_gate:
        return _unknown(N_("A gate does not come down onto the floor; its gap underneath is looked at instead."))
    found = _along_the_sill(site, opening, profiles)
    return replace(found, findings=(*found.findings, *fall_findings(opening)))


def _along_the_sill(site: Site, opening: Opening, profiles: Sequence[Profile]) -> FloorFit:
    """How the leaf lies on its floor from jamb to jamb."""
    facts = opening.floor
    if facts.points.standing == "two readings":
        return _unknown(N_("Two readings of the floor do not agree."), two_readings("floor.points"))
    if not facts.points.value:
        return _told_only(opening)
    if not at_two_places(facts.points.value):
        return _unknown(N_("The floor was not read at enough places to say."), one_place())
    try:
        case = _case(site, opening, profiles)
        found = floor(case)
    except OutOfRange as error:
        return _unknown(N_("The floor was not read at enough places to say."), unusable(error))
    if facts.read_as.value is None:
        return FloorFit(
            unevenness=found.unevenness,
            strip=found.strip,
            slope=None,
            highest_at=None,
            cure="unknown",
            why=Sentence(N_("It is not known whether the points of the floor are heights, or gaps below a level.")),
            findings=(how_read(found.unevenness, bool(facts.read_as.rivals)),),
        )
    return FloorFit(
        unevenness=found.unevenness,
        strip=found.strip,
        slope=found.slope,
        highest_at=found.highest_at,
        cure=found.cure,
        why=Sentence("{said}", {"said": found.why}),
        findings=tuple(_findings(site, opening, found)),
        verdicts=found.verdicts,
        stretches=found.stretches,
        heights=found.heights,
    )


def _case(site: Site, opening: Opening, profiles: Sequence[Profile]) -> FloorCase:
    """The case of an opening. Read as heights where nobody knows: what is used of it then is the same for gaps."""
    facts = opening.floor
    read_as: ReadAs = "gaps_below_level" if facts.read_as.value == "gaps_below_level" else "heights"
    return FloorCase(
        points=tuple(facts.points.value or ()),
        read_as=read_as,
        width=opening.door.clear_width.value,
        bottom=bottom_of(opening),
        profiles=tuple(FloorProfile.of(each) for each in profiles),
        coldest=coldest(site, opening),
    )


def bottom_of(opening: Opening) -> Bottom | None:
    """Wood or metal, for what may be done to it; None where it is not known, told in two ways or assumed."""
    fact = opening.door.bottom.material
    if fact.standing == "assumed":
        return None
    wooden = of_all(values_of(fact), lambda material: material == "wood")
    return None if wooden is None else "wood" if wooden else "metal"


def coldest(site: Site, opening: Opening) -> Kelvin | None:
    """The coldest that an edge there gets: of the site, or of the cold side of the leaf."""
    sides = (site.coldest.value, opening.surroundings.cold_side.value)
    return min((each for each in sides if each is not None), default=None)


def _told_only(opening: Opening) -> FloorFit:
    """What can be said where the floor was not read point by point."""
    fact = opening.floor.unevenness
    uneven = fact.value
    if uneven is None:
        if fact.standing == "two readings":
            return _unknown(N_("Two readings of the floor do not agree."), two_readings(fact.path))
        return _unknown(N_("Nobody has read the floor."), never_read())
    marked = (assumed(fact.path),) if fact.standing == "assumed" else ()
    value = {"unevenness": Amount(uneven, "m")}
    if uneven <= number("compression") - number("contact") + ROUND_OFF:
        why = Sentence(N_("The floor is uneven by {unevenness}, which a body takes up alone."), value)
        return _by_unevenness(uneven, "none", why, marked)
    said = N_(
        "The floor is uneven by {unevenness}: a taper, a fin or work on it. Which of them, its points decide."
    )
    return _by_unevenness(uneven, "unknown", Sentence(said, value), (never_read(uneven), *marked))


def _by_unevenness(uneven: Metre, cure: FloorCure, why: Sentence, findings: tuple[Finding, ...]) -> FloorFit:
    return FloorFit(
        unevenness=uneven, strip=None, slope=None, highest_at=None, cure=cure, why=why, findings=findings
    )


def _unknown(why: str, *findings: Finding) -> FloorFit:
    return FloorFit(
        unevenness=None,
        strip=None,
        slope=None,
        highest_at=None,
        cure="unknown",
        why=Sentence(why),
        findings=findings,
    )


def _findings(site: Site, opening: Opening, found: FloorResult) -> Iterator[Finding]:
    yield cure_finding(found, () if opening.door.bottom.material.value is None else ("door.bottom.material",))
    yield from reading_notes(found)
    facts = opening.floor
    told = facts.unevenness.value if facts.unevenness.known else None
    if told is not None and abs(told - found.unevenness) > number("reading") + ROUND_OFF:
        yield disagree(told, found.unevenness)
    for fact in (facts.points, facts.read_as):
        if fact.standing == "assumed":
            yield assumed(fact.path)
    cold = coldest(site, opening)
    if cold is not None and cold < FREEZING:
        yield season(facts.points.reading)


FREEZING: Kelvin = 273.15
