"""What the calculation of a floor is given and what it answers."""

from __future__ import annotations

from itertools import pairwise
from math import isfinite
from typing import Annotated, Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Kelvin, Metre, Newton, Number, Unit
from sillwright.base.words import N_, say
from sillwright.catalogue.profile import CurveAt, Profile
from sillwright.takeoff.answer import Fits, FloorCure
from sillwright.takeoff.floors.floor_table import number

Points = Annotated[tuple[tuple[float, float], ...], Unit("m"), Unit("m")]
ReadAs = Literal["heights", "gaps_below_level"]
Bottom = Literal["wood", "metal"]
SealedBy = Literal["body", "fin", "nothing"]
StretchWork = Literal["grind", "patch", "fin", "taper", "scribe"]
MOST_POINTS, FARTHEST, MOST_PROFILES = 1000, 60.0, 500
APART = 0.001
"""Metres from which on two points stand at two places."""


class FloorProfile(Model):
    """An edge profile, as far as the floor asks for it."""

    name: str = field(title="Name")
    height: Metre = field(above=0, at_most=0.3, title="Free height of the body")
    actuation_travel: Metre = field(above=0, at_most=0.1, title="Travel at which it answers")
    fin: Metre = field(default=0.0, at_least=0, at_most=0.1, title="Unevenness that its fin takes up")
    curves: tuple[CurveAt, ...] = field(default=(), title="Force over travel by temperature, from cold to warm")

    def __post_init__(self) -> None:
        super().__post_init__()
        if any(one.temperature >= two.temperature for one, two in pairwise(self.curves)):
            said = N_("{path}: the curves are wanted from cold to warm, one for each temperature")
            raise OutOfRange(say(said, path="FloorProfile.curves"))

    @classmethod
    def of(cls, profile: Profile) -> FloorProfile:
        """The profile of a catalogue."""
        return cls(
            name=profile.name,
            height=profile.height,
            actuation_travel=profile.actuation_travel,
            fin=profile.fin,
            curves=profile.curves,
        )


class FloorCase(Case):
    """A floor as it was read along the landing line, and the profiles that might seal on it."""

    points: Points = field(title="Distance from the left jamb, inside looking out, and what was read there")
    read_as: ReadAs = field(title="Read as heights, or as gaps below a level")
    width: Metre | None = field(default=None, above=0, at_most=60, title="Clear width of the opening")
    crossfall: Number | None = field(
        default=None, at_least=-1, at_most=1, title="Fall of the sill from back to front, rise over run"
    )
    greatest_slope: Number = field(
        default=0.0,
        at_least=0,
        at_most=0.1,
        title="How far the leaf may hang out of level, rise over run; 0 = level",
    )
    bottom: Bottom | None = field(default=None, title="What the leaf's bottom edge is made of")
    profiles: tuple[FloorProfile, ...] = field(default=(), title="Profiles to judge")
    greatest_compression: Metre = field(
        default=number("compression"), above=0, at_most=0.1, title="Greatest lasting compression"
    )
    least_contact: Metre = field(
        default=number("contact"), at_least=0, at_most=0.05, title="Compression that counts as touching"
    )
    force: Newton | None = field(default=None, above=0, at_most=1e5, title="Force up to which overtravel counts")
    required_overtravel: Metre | None = field(
        default=None, at_least=0, at_most=2, title="Overtravel that the edge has to have"
    )
    room: Kelvin = field(default=293.15, at_least=180, at_most=400, title="Room temperature")
    coldest: Kelvin | None = field(default=None, at_least=180, at_most=400, title="Coldest it gets there")

    def __post_init__(self) -> None:
        object.__setattr__(self, "points", _checked(self.points))
        super().__post_init__()
        if len(self.profiles) > MOST_PROFILES:
            said = N_("{path}: {count} profiles; at most {most} are accepted")
            raise OutOfRange(say(said, path="FloorCase.profiles", count=len(self.profiles), most=MOST_PROFILES))
        if self.least_contact >= self.greatest_compression:
            said = N_("{path}: has to be less than greatest_compression")
            raise OutOfRange(say(said, path="FloorCase.least_contact"))
        if self.required_overtravel is not None and self.force is None:
            said = N_("{path}: nothing given; required_overtravel counts up to a force")
            raise OutOfRange(say(said, path="FloorCase.force"))


def _checked(points: Points) -> Points:
    """Pairs of finite numbers at two places or more, no farther out than a gate is long."""
    try:
        pairs = tuple((float(x), float(z)) for x, z in points)
    except (TypeError, ValueError) as error:
        raise OutOfRange(
            say(N_("{path}: a list of pairs in metres is accepted"), path="FloorCase.points")
        ) from error
    if len(pairs) > MOST_POINTS:
        said = N_("{path}: {count} points; at most {most} are accepted")
        raise OutOfRange(say(said, path="FloorCase.points", count=len(pairs), most=MOST_POINTS))
    for x, z in pairs:
        if not (isfinite(x) and isfinite(z) and abs(x) <= FARTHEST and abs(z) <= FARTHEST):
            said = N_("{path}: [{x} m, {z} m] is no point of a floor; at most {most} m either way is accepted")
            raise OutOfRange(say(said, path="FloorCase.points", x=f"{x:g}", z=f"{z:g}", most=f"{FARTHEST:g}"))
    if not at_two_places(pairs):
        raise OutOfRange(say(N_("{path}: points at two places or more are wanted"), path="FloorCase.points"))
    return pairs


def at_two_places(pairs: Points) -> bool:
    """Whether the points tell of more than one place along the sill."""
    return bool(pairs) and max(pairs)[0] - min(pairs)[0] >= APART


class Stretch(Model):
    """A stretch of the sill, or of the leaf above it, and what is done there."""

    start: Metre = field(title="From, measured from the left jamb")
    end: Metre = field(title="To")
    work: StretchWork = field(title="What is done")
    most: Metre = field(title="How much at most")
    at_start: Metre = field(default=0.0, title="How much at its left end")
    at_end: Metre = field(default=0.0, title="How much at its right end")


class FloorVerdict(Model):
    """One profile on this floor, the leaf at its best height."""

    name: str = field(title="Profile")
    fits: Fits = field(title="Seals, and has the overtravel that was asked for")
    seals: bool = field(title="Touches everywhere")
    sealed_by: SealedBy = field(title="What touches at the lowest point")
    highest_compression: Metre = field(title="Compression at the highest point")
    lowest_compression: Metre = field(title="Compression at the lowest point; negative: the body is off the floor")
    body_gap: Metre = field(title="Gap between body and floor at the lowest point")
    open_gap: Metre = field(title="Gap that the fin leaves open there")
    compression_along: Points = field(title="Place and compression at every point; negative is a gap")
    unsealed: Points = field(title="Stretches over which neither body nor fin touches: from, to")
    answers_when_shut: bool = field(title="Pressed so far when shut that it answers: the cut-out is needed")
    overtravel_left: Metre | None = field(title="Travel left above the highest point up to the force")
    overtravel_left_cold: Metre | None = field(title="The same at the coldest")
    reasons: tuple[str, ...] = field(title="What stands against it, or is not known")


class FloorResult(Result):
    """How a straight edge lies on a floor, which profile seals it, and the cure where none does."""

    heights: Points = field(title="The floor from left to right, above its lowest point")
    unevenness: Metre = field(title="Highest less lowest, against a level edge")
    highest_at: Metre = field(title="Where it is highest, from the left jamb; the first of several")
    lowest_at: Metre = field(title="Where it is lowest; the first of several")
    slope: Number = field(title="Slope of the best line, rise over run, positive where it rises to the right")
    strip: Metre = field(title="Narrowest strip about the best line")
    strip_middle: Metre = field(title="Height of the middle of that strip at the left jamb")
    touches: Points = field(title="Points on the edges of that strip")
    leaf_slope: Number = field(title="Slope at which the leaf hangs")
    spread: Metre = field(title="Unevenness against the leaf as it hangs")
    takes_up: Metre = field(title="Unevenness that a body takes up without a fin")
    verdicts: tuple[FloorVerdict, ...] = field(default=(), title="Profile by profile")
    cure: FloorCure = field(title="The first cure that fits")
    why: str = field(title="Why, and what to do")
    stretches: tuple[Stretch, ...] = field(default=(), title="What to do along the sill, from left to right")
    notes: tuple[str, ...] = field(default=(), title="How it was read")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the numbers come from")
