"""The survey: a site and its openings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sillwright.base.fact import Fact
from sillwright.survey.devices import LeftIn, OhmReading, Protection, TestDone, Zone
from sillwright.survey.door import Door, LeftRight
from sillwright.survey.interval import Interval
from sillwright.survey.operator import Control, Operator
from sillwright.survey.spec import (
    Group,
    GroupSpec,
    Listing,
    choice,
    count,
    day,
    flag,
    group,
    groups,
    money,
    points,
    quantity,
    side,
    text,
    texts,
    whole,
)
from sillwright.survey.spec import length as metres

WHO = (
    "adult", "child", "wheelchair", "bicycle", "car", "van", "bus", "truck", "forklift", "trailer", "pallet_truck",
    "animal",
)  # fmt: skip


class Site(Group):
    """Where the openings are and what people there read."""

    name: Fact[str] = text(required=True)
    country: Fact[str] = text(required=True)
    subdivision: Fact[str] = text()
    codes: Fact[tuple[str, ...]] = texts(title="codes in force")
    coldest: Fact[float] = quantity("K", 180, 340)
    hottest: Fact[float] = quantity("K", 180, 400)
    units: Fact[str] = choice("us", "metric")
    surveyed_on: Fact[Interval] = day()


class Stream(Group):
    """Who or what passes, and how often."""

    who: Fact[str] = text()
    per_hour: Fact[float] = count(100_000)
    height: Fact[float] = metres(20)
    underside: Fact[float] = metres(20)
    depth: Fact[float] = metres(60)
    speed: Fact[float] = quantity("m/s", 0.01, 60)


class Observed(Group):
    """How long somebody stood and counted."""

    minutes: Fact[float] = count(100_000)
    by: Fact[str] = text()


class Use(Group):
    """Who really passes, and what depends on the opening."""

    closings_per_day: Fact[float] = count(100_000)
    hours_per_day: Fact[float] = count(24)
    days_per_year: Fact[float] = count(366)
    intended: Listing[Stream] = groups(Stream)
    traffic: Listing[Stream] = groups(Stream)
    users: Fact[str] = choice("trained", "trained_public", "public")
    children: Fact[bool] = flag()
    public: Fact[bool] = flag()
    downtime_cost: Fact[Any] = money()
    only_exit: Fact[bool] = flag(title="only way out")
    misuse: Fact[tuple[str, ...]] = texts(title="what people do that nobody meant")
    observed: Observed = group(Observed)


class Confirmed(Group):
    """Who confirmed, and when."""

    by: Fact[str] = text()
    on: Fact[Interval] = day()


class Lead(Group):
    """Where the lead leaves the edge, inside looking out."""

    end: Fact[str] = side("both")
    exit: Fact[str] = text()
    from_end: Fact[float] = metres(5)
    length: Fact[float] = metres(60)
    fin: Fact[str] = text()
    confirmed: Confirmed = group(Confirmed)


class Box(Group):
    """The junction box on the wall."""

    side: Fact[str] = side()
    height: Fact[float] = metres(30)
    offset: Fact[float] = metres(30)


class Cord(Group):
    """The coiled cord."""

    retracted: Fact[float] = metres(30)
    conductors: Fact[float] = whole(20)


class Station(Group):
    """A control station."""

    place: Fact[str] = text()
    height: Fact[float] = metres(10)
    in_view: Fact[bool] = flag(title="in view of the leaf")
    sign: Fact[bool] = flag()
    closes: Fact[bool] = flag()
    from_leaf: Fact[float] = metres(1000)


class Converter(Group):
    """A converter module between device and operator."""

    name: Fact[str] = text()
    place: Fact[str] = text()
    supply: Fact[str] = text()
    lamp: Fact[str] = text()


class Surroundings(Group):
    """What is around the opening."""

    wash_down: Fact[str] = text()
    classified_area: Fact[str] = text()
    cold_side: Fact[float] = quantity("K", 180, 340)
    warm_side: Fact[float] = quantity("K", 180, 400)


class Statement(Group):
    """What was said, kept as said."""

    by: Fact[str] = text()
    words: Fact[str] = text()
    about: Fact[str] = text()
    on: Fact[Interval] = day()


class Event(Group):
    """An incident."""

    on: Fact[Interval] = day()
    what: Fact[str] = text()


class Work(Group):
    """The last work done."""

    by: Fact[str] = text()
    on: Fact[Interval] = day()
    what: Fact[str] = text()


class PartKept(Group):
    """A part kept after an incident."""

    what: Fact[str] = text()
    where: Fact[str] = text()
    state: Fact[str] = text()


class Photo(Group):
    """A photo by its shot."""

    shot: Fact[str] = text()
    of: Fact[str] = text()
    file: Fact[str] = text()
    on: Fact[Interval] = day()


class Floor(Group):
    """The floor along the landing line; x from the left jamb, inside looking out."""

    unevenness: Fact[float] = metres(3)
    fall: Fact[float] = metres(0.05, title="fall of the sill, front to back, over 2 in")
    drain: Fact[bool] = flag()
    read_as: Fact[str] = choice("heights", "gaps_below_level")
    points: Fact[tuple[tuple[float, float], ...]] = points()
    wet: Fact[bool] = flag()


class Opening(Group):
    """One opening and everything that was taken down about it."""

    tag: Fact[str] = text(required=True)
    name: Fact[str] = text()
    door: Door = group(Door)
    operator: Operator = group(Operator)
    protection: Listing[Protection] = groups(Protection)
    controls: Listing[Control] = groups(Control)
    use: Use = group(Use)
    lead: Lead = group(Lead)
    box: Box = group(Box)
    cord: Cord = group(Cord)
    free_wall: LeftRight = group(LeftRight)
    stations: Listing[Station] = groups(Station)
    converters: Listing[Converter] = groups(Converter)
    surroundings: Surroundings = group(Surroundings)
    as_found: Fact[str] = choice("closes_by_tap", "only_held", "not_at_all", "closes_on_objects")
    temporary_parts: Listing[LeftIn] = groups(LeftIn)
    defeats: Listing[LeftIn] = groups(LeftIn)
    statements: Listing[Statement] = groups(Statement)
    tests: Listing[TestDone] = groups(TestDone)
    incident: Event = group(Event)
    parts_kept: Listing[PartKept] = groups(PartKept)
    last_work: Work = group(Work)
    readings: Listing[OhmReading] = groups(OhmReading)
    zones: Listing[Zone] = groups(Zone)
    mesh: Fact[float] = metres(2, title="widest opening in gate or fence")
    grade: Fact[str] = text()
    photos: Listing[Photo] = groups(Photo)
    floor: Floor = group(Floor)

    def fact(self, path: str) -> Fact[Any]:
        """The fact at a path like ``operator.made`` or ``protection.e1.circuit``."""
        return next((each for _, each in self.facts() if each.path == path), Fact(path=path))


SHORTHAND = {LeftIn: "what", PartKept: "what", Event: "what", Statement: "words", Converter: "name"}
"""Groups that may be written as plain words, and the fact those words are."""


@dataclass(frozen=True)
class Survey:
    """A site and its openings, as read from one file."""

    site: Site
    openings: tuple[Opening, ...]


FORMAT = "sillwright-survey/1"
__all__ = ["FORMAT", "SHORTHAND", "WHO", "GroupSpec", "Opening", "Site", "Survey"]
