"""Models of the contact between a closing leaf and what it meets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Any

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
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

Curve = Annotated[tuple[tuple[float, float], ...], Unit("m"), Unit("N")]
MOST_POINTS = 64


def checked_curve(curve: Sequence[Sequence[float]], owner: str) -> tuple[tuple[float, float], ...]:
    """A force–travel curve as pairs: it starts at [0, 0] and both columns rise strictly."""
    try:
        pairs = tuple((float(travel), float(force)) for travel, force in curve)
    except (TypeError, ValueError) as error:
        raise OutOfRange(f"{owner}.curve: a list of pairs [travel in m, force in N] is accepted") from error
    if not 2 <= len(pairs) <= MOST_POINTS:
        raise OutOfRange(f"{owner}.curve: {len(pairs)} points; 2 to {MOST_POINTS} are accepted")
    if pairs[0] != (0.0, 0.0):
        raise OutOfRange(f"{owner}.curve: starts at {list(pairs[0])}; [0, 0] is accepted")
    for (travel, force), (further, harder) in zip(pairs, pairs[1:], strict=False):
        if not (further > travel and harder > force):
            raise OutOfRange(
                f"{owner}.curve: [{further:g}, {harder:g}] after [{travel:g}, {force:g}]; "
                "travel and force must both rise from point to point"
            )
    return pairs


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
    end_stiffness: NewtonPerMetre = field(above=0.0, at_most=1e9, title="Stiffness past the end of the curve")

    def __post_init__(self) -> None:
        object.__setattr__(self, "curve", checked_curve(self.curve, "Edge"))
        super().__post_init__()


class Obstruction(Model):
    """What the leaf meets."""

    stiffness: NewtonPerMetre | None = field(above=0.0, at_most=1e9, title="Stiffness; null = rigid")


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
            raise OutOfRange(
                "ContactCase.obstruction.stiffness: nothing gives way between a leaf without an edge and a rigid "
                "obstruction; give an edge or a stiffness"
            )


def _is_a(kind: type[Model], value: Any, place: str) -> None:
    if not isinstance(value, kind):
        raise OutOfRange(f"{place}: {value!r} is not a {kind.__name__}")


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
            raise OutOfRange("OvertravelCase: give the deceleration or the stopping time, one of the two")


class OvertravelResult(Result):
    """How far the leaf goes on, and whether the edge gives that much."""

    stopping_distance: Metre = field(title="Way from the edge's answer to standstill: v t1 + v²/(2a)")
    stopping_distance_printed: Metre = field(title="The same as data sheets print it: 0.5 v (t1 + t2)")
    stopping_time: Second = field(title="Stopping time, t2")
    required_overtravel: Metre = field(title="Overtravel the edge has to have")
    available_overtravel: Metre | None = field(title="Travel after its answer up to the force, room temperature")
    available_overtravel_cold: Metre | None = field(title="The same at the site's coldest")
    enough: bool | None = field(title="Enough at room temperature; null = not known")
    enough_cold: bool | None = field(title="Enough at the site's coldest; null = not known")
    case: OvertravelCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the numbers come from")
