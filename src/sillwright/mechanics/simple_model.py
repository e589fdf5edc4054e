"""Models of what has a closed form: overtravel, impact, and the verdict on a force."""

from __future__ import annotations

from typing import Literal

from sillwright.base.curve import Curve, checked_curve
from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import (
    Joule,
    Kilogram,
    Metre,
    MetrePerSecond,
    MetrePerSecondSquared,
    Newton,
    NewtonPerMetre,
    Number,
    Second,
)
from sillwright.base.words import N_, say
from sillwright.mechanics.model import OwnUnit


class OvertravelCase(Case):
    """A leaf that stops after its edge has answered."""

    closing_speed: MetrePerSecond = field(above=0.0, at_most=5.0, title="Closing speed")
    response: Second = field(at_least=0.0, at_most=10.0, title="Response of edge and control, t1")
    deceleration: MetrePerSecondSquared | None = field(
        above=0.0, at_most=100.0, default=None, title="Deceleration; this or the stopping time"
    )
    stopping_time: Second | None = field(
        at_least=0.0, at_most=10.0, default=None, title="Stopping time t2; this or the deceleration"
    )
    factor: Number = field(at_least=1.2, at_most=10.0, default=1.2, title="Safety factor, at least 1.2")
    curve: Curve | None = field(default=None, title="Force over travel of the edge at room temperature")
    actuation_travel: Metre | None = field(above=0.0, at_most=0.5, default=None, title="Travel at which it answers")
    force: Newton | None = field(above=0.0, at_most=1e5, default=None, title="Force up to which travel counts")
    cold_factor: Number | None = field(
        at_least=1.0, at_most=20.0, default=None, title="How much stiffer the edge is at the site's coldest"
    )

    def __post_init__(self) -> None:
        if self.curve is not None:
            object.__setattr__(self, "curve", checked_curve(self.curve, "OvertravelCase"))
        super().__post_init__()
        if (self.deceleration is None) == (self.stopping_time is None):
            said = N_("{path}: give the deceleration or the stopping time, one of the two")
            raise OutOfRange(say(said, path="OvertravelCase"))


class OvertravelResult(Result):
    """How far the leaf goes on, and whether the edge gives that much."""

    stopping_distance: Metre = field(title="Way from the edge's answer to standstill: v t1 + v²/(2a)")
    stopping_distance_printed: Metre = field(title="The same as data sheets print it: 0.5 v (t1 + t2)")
    stopping_time: Second = field(title="Stopping time, t2")
    required_overtravel: Metre = field(title="Overtravel the edge has to have")
    required_overtravel_printed: Metre = field(title="What the data sheets' form would ask for")
    available_overtravel: Metre | None = field(title="Travel after its answer up to the force, room temperature")
    available_overtravel_cold: Metre | None = field(title="The same at the site's coldest")
    enough: bool | None = field(title="Enough at room temperature; null = not known")
    enough_cold: bool | None = field(title="Enough at the site's coldest; null = not known")
    case: OvertravelCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the numbers come from")


ImpactMethod = Literal["impact-free", "impact-driven", "impact-held-speed", "impact-two-bodies"]


class ImpactCase(Case):
    """A moving mass that meets a linear spring."""

    method: ImpactMethod = field(title="What moves it while it is in contact")
    mass: Kilogram = field(above=0.0, at_most=50e3, title="Moving mass")
    speed: MetrePerSecond = field(
        above=0.0, at_most=10.0, title="Speed at the touch; of two bodies their difference"
    )
    stiffness: NewtonPerMetre = field(above=0.0, at_most=1e9, title="Stiffness of the spring")
    drive_force: Newton = field(at_least=0.0, at_most=1e6, default=0.0, title="Force of the drive")
    other_mass: Kilogram | None = field(
        above=0.0, at_most=50e3, default=None, title="Mass of the other body; null = it stands fast"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if (self.other_mass is None) == (self.method == "impact-two-bodies"):
            said = N_("{path}: belongs to {method}, and to it alone")
            raise OutOfRange(say(said, path="ImpactCase.other_mass", method="impact-two-bodies"))
        if self.drive_force > 0.0 and self.method in ("impact-free", "impact-two-bodies"):
            told = {"path": "ImpactCase.drive_force", "force": f"{self.drive_force:g} N", "method": self.method}
            raise OutOfRange(say(N_("{path}: {force}; {method} has no drive"), **told))


class ImpactResult(Result):
    """How hard and how long a mass presses on a spring."""

    peak_force: Newton = field(title="Greatest force")
    travel: Metre = field(title="Greatest compression of the spring")
    time_to_peak: Second = field(title="From the touch to the greatest force")
    contact_duration: Second | None = field(title="From the touch to the separation; null = does not end by itself")
    time_above_150: Second | None = field(title="How long the force is above 150 N; null where it does not end")
    effective_mass: Kilogram = field(title="Mass that counts")
    energy: Joule = field(title="Energy of motion at the touch")
    case: ImpactCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the formula comes from")


Leaf = Literal["vertical", "horizontal"]
Verdict = Literal["within", "above", "not known"]


class ForceLimit(Model):
    """One number of the force standard."""

    id: str = field(title="Its short name")
    what: str = field(title="What it is, in words")
    number: OwnUnit = field(title="The number")
    unit: str = field(title="Its unit")
    source: Source = field(title="Where it comes from")


class LimitVerdict(Model):
    """One limit held against a contact."""

    id: str = field(title="The limit")
    limit: OwnUnit | None = field(title="Its number; null where the gap decides and is not known")
    unit: str = field(title="Its unit")
    value: OwnUnit | None = field(title="What was found; of a band its 95 % quantile")
    verdict: Verdict = field(title="Within, above, or not known")
    why: str = field(title="Why, in words")


class ForceVerdict(Result):
    """A contact against the force standard. It says within, above or not known; never harmless."""

    verdict: Verdict = field(title="Above if one limit is, within if all are, else not known")
    limits: tuple[LimitVerdict, ...] = field(title="The limits one by one")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the limits come from")
