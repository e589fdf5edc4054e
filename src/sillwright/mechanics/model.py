"""Models of the contact between a closing leaf and what it meets."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, Literal

from sillwright.base.curve import Curve, checked_curve
from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, FieldSpec, Limits, Model, Result, check, field, fields_of
from sillwright.base.source import Source
from sillwright.base.units import (
    Kilogram,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonPerMetre,
    NewtonSecondPerMetre,
    Number,
    Second,
    Unit,
)
from sillwright.base.words import N_, say

OwnUnit = Annotated[float, Unit("own unit")]  # of a number whose unit stands beside it
SOFTEST = 1e-3
"""Least stiffness, N/m: what is softer gives way by more than a door is wide, and divides by nothing in the end."""


class Drive(Model):
    """How the drive holds the leaf."""

    stiffness: NewtonPerMetre | None = field(
        at_least=1.0, at_most=1e9, title="Stiffness of the drive between motor and leaf; null = rigid"
    )
    damping: NewtonSecondPerMetre = field(
        at_least=0.0, at_most=1e6, default=0.0, title="Damping of the drive; a rigid drive has none"
    )
    push_limit: Newton | None = field(
        at_least=0.0,
        at_most=1e6,
        default=None,
        title="Most the drive can add in closing direction; null = no limit",
    )
    lift_limit: Newton | None = field(
        at_least=0.0, at_most=1e6, default=None, title="Most the drive can hold back or lift; null = no limit"
    )


class Stop(Model):
    """What the drive does once the edge has answered."""

    reaction: Second = field(at_least=0.0, at_most=10.0, title="From the edge's answer to the start of braking")
    deceleration: MetrePerSecondSquared = field(above=0.0, at_most=100.0, title="Deceleration of the drive")
    dwell: Second = field(at_least=0.0, at_most=60.0, title="Rest before opening")
    opening_acceleration: MetrePerSecondSquared = field(above=0.0, at_most=100.0, title="Opening acceleration")
    opening_speed: MetrePerSecond = field(above=0.0, at_most=5.0, title="Opening speed")


class Edge(Model):
    """A sensing edge: how it gives and when it answers."""

    curve: Curve = field(title="Force over travel from [0, 0] on, both rising")
    actuation_travel: Metre | None = field(
        above=0.0, at_most=0.5, title="Travel at which it answers; null = dead but soft"
    )
    response: Second = field(at_least=0.0, at_most=10.0, title="From being pressed that far to its answer")
    end_stiffness: NewtonPerMetre = field(
        at_least=SOFTEST, at_most=1e9, title="Stiffness past the end of the curve"
    )

    def __post_init__(self) -> None:
        object.__setattr__(self, "curve", checked_curve(self.curve, "Edge"))
        super().__post_init__()


class Obstruction(Model):
    """What the leaf meets."""

    stiffness: NewtonPerMetre | None = field(at_least=SOFTEST, at_most=1e9, title="Stiffness; null = rigid")


class ContactCase(Case):
    """A leaf that closes steadily and meets someone or something."""

    closing_speed: MetrePerSecond = field(above=0.0, at_most=5.0, title="Closing speed at the touch")
    moving_mass: Kilogram = field(above=0.0, at_most=50e3, title="Moving mass: the inertia felt at the edge")
    drive: Drive = field(title="Drive")
    stop: Stop = field(title="What happens after the edge has answered")
    edge: Edge | None = field(title="Sensing edge; null = none")
    obstruction: Obstruction = field(title="What the leaf meets")
    duration: Second = field(above=0.0, at_most=60.0, default=6.0, title="How long to look")
    trace: bool = field(default=False, title="Give the record of time, force and leaf position too")

    def __post_init__(self) -> None:
        super().__post_init__()
        for name, kind in (("drive", Drive), ("stop", Stop), ("obstruction", Obstruction)):
            _is_a(kind, getattr(self, name), f"ContactCase.{name}")
        if self.edge is not None:
            _is_a(Edge, self.edge, "ContactCase.edge")
        elif self.obstruction.stiffness is None:
            said = N_(
                "{path}: nothing gives way between a leaf without an edge and a rigid obstruction; "
                "give an edge or a stiffness"
            )
            raise OutOfRange(say(said, path="ContactCase.obstruction.stiffness"))


def _is_a(kind: type[Model], value: Any, place: str) -> None:
    if not isinstance(value, kind):
        told = {"path": place, "value": repr(value), "kind": kind.__name__}
        raise OutOfRange(say(N_("{path}: {value} is not a {kind}"), **told))


class ContactTrace(Model):
    """The record of a contact, as a gauge would write it."""

    time: tuple[Second, ...] = field(title="Time from the touch")
    force: tuple[Newton, ...] = field(title="Contact force")
    position: tuple[Metre, ...] = field(title="Leaf position from the touch on, positive in closing direction")


class ContactResult(Result):
    """How hard and how long the leaf presses."""

    peak_force: Newton = field(title="Greatest force")
    peak_time: Second = field(title="When it is reached, from the touch")
    actuation_time: Second | None = field(title="When the edge is pressed far enough; null = never")
    contact_duration: Second | None = field(title="From the touch to the last separation; null = still touching")
    time_above_150: Second = field(title="How long the force is above 150 N, in all")
    time_above_25: Second = field(title="How long the force is above 25 N, in all")
    lasting_force: Newton = field(title="Greatest force later than 0.75 s after it first exceeded 150 N")
    peak_edge_travel: Metre = field(title="Greatest compression of the edge; 0 without an edge")
    end_force: Newton = field(title="Force at the end of the duration")
    drive_slips: int = field(title="How often the drive met its push or lift limit")
    trace: ContactTrace | None = field(default=None, title="Record of time, force and position")
    case: ContactCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the model comes from")


GROUPS: dict[str, type[Model]] = {"drive": Drive, "stop": Stop, "edge": Edge, "obstruction": Obstruction}
RangeName = Literal[
    "closing_speed",
    "moving_mass",
    "drive.stiffness",
    "drive.damping",
    "drive.push_limit",
    "drive.lift_limit",
    "stop.reaction",
    "stop.deceleration",
    "stop.dwell",
    "stop.opening_acceleration",
    "stop.opening_speed",
    "edge.response",
    "edge.actuation_travel",
    "edge.end_stiffness",
    "edge.force_scale",
    "edge.stretch",
    "obstruction.stiffness",
]


class Range(Model):
    """A number that is known only to lie between two others."""

    name: RangeName = field(title="Which input of the contact; force_scale and stretch scale the edge's curve")
    low: Number = field(at_least=0.0, title="Least value, SI")
    high: Number = field(at_least=0.0, title="Greatest value, SI")
    kind: Literal["uniform", "log_uniform"] = field(default="uniform", title="Spread evenly, or in ratios")

    @classmethod
    def units_by_words(cls, words: Mapping[str, str]) -> Mapping[str, str]:
        """The ends of a range are quantities of the input that it names."""
        group, _, name = words.get("name", "").rpartition(".")
        model = GROUPS.get(group, ContactCase)
        unit = next((spec.unit for spec in fields_of(model) if spec.name == name), "1")
        return {"low": unit, "high": unit}

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.low < self.high:
            said = N_("Range {name}: {low} to {high}; low must be below high")
            raise OutOfRange(say(said, name=self.name, low=f"{self.low:g}", high=f"{self.high:g}"))
        if self.kind == "log_uniform" and self.low <= 0.0:
            raise OutOfRange(say(N_("Range {name}: a {kind} range starts above 0"), name=self.name, kind=self.kind))


class ContactSpreadCase(Case):
    """A contact some of whose inputs are ranges."""

    base: ContactCase = field(title="The contact; a range replaces the number given here")
    ranges: tuple[Range, ...] = field(title="The inputs that are ranges")
    points: int = field(default=1024, at_least=16, at_most=65536, title="Points, a power of two")
    seed: int = field(default=1, at_least=0, at_most=2**31, title="Seed of the scrambling")
    quantiles: tuple[Number, ...] = field(default=(), title="More quantiles wanted, between 0 and 1")
    peak_limit: Newton = field(default=400.0, above=0.0, title="Limit of the greatest force (EN 12453)")

    def __post_init__(self) -> None:
        super().__post_init__()
        check_ranges(self.base, self.ranges)
        if self.points & (self.points - 1):
            said = N_("{path}: {number}; a power of two is accepted")
            raise OutOfRange(say(said, path="ContactSpreadCase.points", number=self.points))
        if not all(0.0 <= each <= 1.0 for each in self.quantiles):
            said = N_("{path}: numbers between 0 and 1 are accepted")
            raise OutOfRange(say(said, path="ContactSpreadCase.quantiles"))


def check_ranges(base: ContactCase, ranges: Sequence[Range]) -> None:
    """Whether ranges fit a contact: each named once, each end inside what its field accepts."""
    names = [each.name for each in ranges]
    if not names or len(set(names)) < len(names):
        raise OutOfRange(say(N_("{path}: at least one, and each input once"), path="ranges"))
    for each in ranges:
        group, _, name = each.name.rpartition(".")
        if group == "edge" and base.edge is None:
            raise OutOfRange(say(N_("Range {name}: the case has no edge"), name=each.name))
        if name in ("force_scale", "stretch"):
            spec = FieldSpec(name=name, kind="number", limits=Limits(at_least=0.05, at_most=20.0))
        else:
            (spec,) = (found for found in fields_of(GROUPS.get(group, ContactCase)) if found.name == name)
        check(spec, each.low, f"Range {group}".strip())
        check(spec, each.high, f"Range {group}".strip())


class Band(Model):
    """Quantiles of one outcome; null where the outcome has no finite value there (never, still touching)."""

    name: str = field(title="Outcome")
    unit: str = field(title="Its unit")
    p5: OwnUnit | None = field(title="5 of 100 lie below")
    p50: OwnUnit | None = field(title="Half lie below")
    p95: OwnUnit | None = field(title="95 of 100 lie below")
    others: tuple[OwnUnit | None, ...] = field(default=(), title="The further quantiles that were asked for")


class Influence(Model):
    """How much of an outcome's spread comes from one input."""

    name: str = field(title="Input")
    first: Number = field(title="First-order index: share that knowing this input alone would take away")
    total: Number | None = field(default=None, title="Total index: with its interplays; null = not computed")
    standard_error: Number | None = field(default=None, title="Standard error of the total index")


class Influences(Model):
    """The indices of one outcome."""

    outcome: str = field(title="Outcome")
    inputs: tuple[Influence, ...] = field(title="Its inputs")


class SpreadBand(Result):
    """What a contact comes to while some of its inputs are not known well."""

    bands: tuple[Band, ...] = field(title="Quantiles of every outcome")
    share_above_peak_limit: Number = field(title="Share of cases above the limit of the greatest force")
    share_above_dynamic_period: Number = field(title="Share above 150 N for longer than 0.75 s")
    share_above_lasting: Number = field(title="Share above 150 N after the dynamic period")
    share_above_whole_time: Number = field(title="Share above 25 N for longer than 5 s, or still at the end")
    share_still_touching: Number = field(title="Share still touching at the end of the duration")
    standard_error: Number = field(title="Standard error of the shares, at most (as if drawn at random)")
    influences: tuple[Influences, ...] = field(title="Where the spread comes from")
    worth_measuring: str = field(title="The input whose knowledge narrows the greatest force most")
    points: int = field(title="Cases computed for the quantiles")

    def band(self, name: str) -> Band:
        """The quantiles of one outcome."""
        return next(each for each in self.bands if each.name == name)


class ContactSpreadResult(SpreadBand):
    """The same, with total indices."""

    case: ContactSpreadCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
