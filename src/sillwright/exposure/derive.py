"""The inputs of the contact model for one opening: facts where there are any, typical ranges where not.

Nothing is a silent default: every input says whether it is a fact, derived from facts, or a typical range from
memory, and which fact would replace it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import inf
from typing import Any

from sillwright.base import data
from sillwright.base.fact import Fact
from sillwright.base.model import fields_of
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence
from sillwright.exposure.answer import Input
from sillwright.mechanics import ContactCase, force_limits
from sillwright.mechanics.model import GROUPS
from sillwright.survey.model import Opening, Site

STANDARD_GRAVITY = 9.80665  # m/s², exact by convention (CGPM 1901)
HANGING = {"jackshaft", "hoist", "barrel"}
PUSHED = {"trolley", "chain", "rail", "arm", "ram"}
TYPICAL = Source(document=N_("trade, typical values"), sure="memory")
GAUGE_TOLERANCE = 0.1  # EN 12445:2000, 5.1.1 (second-hand)

Span = tuple[float, float]


def _table(name: str) -> Any:
    return data.table("sillwright.exposure", "typical")[name]


@dataclass(frozen=True)
class Derived:
    """A range with where it comes from."""

    span: Span
    origin: str
    fact: str | None
    source: Source | None = None


def from_fact(fact: Fact[float]) -> Derived | None:
    """A fact as a range: its value with the doubt of its origin, or all that its rival readings span."""
    if fact.standing == "two readings":
        values = [value for value in fact.rivals if value is not None]
        return Derived((min(values), max(values)), "two readings", fact.path) if values else None
    if fact.value is None:
        return None
    doubt = _table("doubt")[fact.origin or "unrecorded"]
    span = (fact.value * (1 - doubt), fact.value * (1 + doubt))
    return Derived(span, fact.origin or "unrecorded", fact.path)


def _values(fact: Fact[float]) -> list[float]:
    return [value for value in (fact.value, *fact.rivals) if value is not None]


def typical(span: Any, fact: str | None) -> Derived:
    """A typical range, from memory."""
    low, high = span
    return Derived((float(low), float(high)), "typical", fact, TYPICAL)


Row = tuple[str, str, str, Derived]  # name, title, unit, range


class Deriver:
    """Derives the inputs of one opening."""

    def __init__(self, site: Site, opening: Opening) -> None:
        self.site = site
        self.opening = opening
        self.kind = str(opening.door.kind.value or (opening.door.kind.rivals or ("sectional",))[0])

    def inputs(self, *, edge: bool) -> tuple[Input, ...]:
        """Every input of the contact model, in the order in which the model names them."""
        speed = self.closing_speed()
        rows = [*self._leaf(speed), *self._stop(speed), *(self._edge() if edge else ()), self._gauge()]
        return tuple(_input(*row) for row in rows)

    def _leaf(self, speed: Derived) -> tuple[Row, ...]:
        drive = _table("drive")
        return (
            ("closing_speed", N_("closing speed"), "m/s", speed),
            ("moving_mass", N_("moving mass"), "kg", self.moving_mass()),
            ("drive.stiffness", N_("stiffness of the drive"), "N/m", typical(drive["stiffness"], None)),
            ("drive.damping", N_("damping of the drive"), "N s/m", typical(drive["damping"], None)),
            ("drive.push_limit", N_("most the drive or the weight can press"), "N", self.push_limit()),
        )

    def _stop(self, speed: Derived) -> tuple[Row, ...]:
        operator, stop = self.opening.operator, _table("stop")
        reaction = from_fact(operator.reaction) or typical(stop["reaction"], "operator.reaction")
        dwell = from_fact(operator.dwell) or typical(stop["dwell"], "operator.dwell")
        opening = typical(stop["opening_acceleration"], None)
        return (
            ("stop.reaction", N_("time from input to motor off"), "s", reaction),
            ("stop.deceleration", N_("deceleration of the leaf"), "m/s^2", self.deceleration(speed)),
            ("stop.dwell", N_("pause before opening"), "s", dwell),
            ("stop.opening_acceleration", N_("opening acceleration"), "m/s^2", opening),
            ("stop.opening_speed", N_("opening speed"), "m/s", self.opening_speed(speed)),
        )

    def _edge(self) -> tuple[Row, ...]:
        table = _table("edge")
        flat = typical(table["end_stiffness"], None)
        return (
            ("edge.force_scale", N_("stiffness of the edge, over a common profile"), "1", self.edge_force()),
            ("edge.stretch", N_("travel of the edge, over a common profile"), "1", typical(table["stretch"], None)),
            ("edge.response", N_("response of the edge"), "s", typical(table["response"], None)),
            ("edge.end_stiffness", N_("stiffness of the edge pressed flat"), "N/m", flat),
        )

    def _gauge(self) -> Row:
        gauge = next(each for each in force_limits() if each.id == "gauge-spring")
        span = (gauge.number * (1 - GAUGE_TOLERANCE), gauge.number * (1 + GAUGE_TOLERANCE))
        found = Derived(span, "published", None, gauge.source)
        return "obstruction.stiffness", N_("stiffness of the force gauge"), "N/m", found

    def closing_speed(self) -> Derived:
        """Closing speed of the leaf."""
        found = from_fact(self.opening.door.closing_speed)
        return found or typical(_table("closing_speed")[self.kind], "door.closing_speed")

    def opening_speed(self, closing: Derived) -> Derived:
        """Opening speed; near the closing speed where nobody has taken it down."""
        found = from_fact(self.opening.door.opening_speed)
        low, high = _table("stop")["opening_speed_factor"]
        return found or Derived(
            (closing.span[0] * low, closing.span[1] * high), "typical", "door.opening_speed", TYPICAL
        )

    def leaf_mass(self) -> Derived:
        """Weight of the leaf: told, or typical of its kind and size."""
        door = self.opening.door
        found = from_fact(door.leaf_mass)
        if found:
            return found
        by_area = _table("mass_by_area").get(self.kind)
        widths, heights = (_values(fact) for fact in (door.clear_width, door.clear_height))
        if by_area is None or not widths or not heights:
            return typical(_table("mass").get(self.kind, (100.0, 1000.0)), "door.leaf_mass")
        low, high = by_area
        return typical((low * min(widths) * min(heights), high * max(widths) * max(heights)), "door.leaf_mass")

    def moving_mass(self) -> Derived:
        """Inertia that an obstruction meets: the leaf with what turns along."""
        found = from_fact(self.opening.door.moving_mass)
        if found:
            return found
        leaf = self.leaf_mass()
        low, high = _table("inertia_factor")[self.kind]
        origin = "typical" if leaf.origin == "typical" else "derived"
        fact = "door.leaf_mass" if origin == "typical" else "door.moving_mass"
        return Derived((leaf.span[0] * low, leaf.span[1] * high), origin, fact, TYPICAL)

    def push_limit(self) -> Derived:
        """What presses in the end: the drive's force limit, or the weight that hangs on cables or a barrel.

        A force limit never lowers the weight that hangs. With the kind of operator unknown the range spans both.
        """
        kind = self.opening.operator.kind.value
        drive = _table("drive")
        limit = from_fact(self.opening.operator.force_limit) or typical(
            drive["force_limit"], "operator.force_limit"
        )
        low, high = drive["hanging_share"]
        leaf = self.leaf_mass()
        weight = (leaf.span[0] * low * STANDARD_GRAVITY, leaf.span[1] * high * STANDARD_GRAVITY)
        hanging = Derived(weight, "derived", leaf.fact or "door.leaf_mass", TYPICAL)
        if kind in HANGING and not self.opening.door.is_gate:
            return hanging
        if kind in PUSHED or self.opening.door.is_gate:
            return limit
        span = (min(limit.span[0], weight[0]), max(limit.span[1], weight[1]))
        return Derived(span, "typical", "operator.kind", TYPICAL)

    def deceleration(self, speed: Derived) -> Derived:
        """Deceleration once the motor is off."""
        found = from_fact(self.opening.operator.deceleration)
        quick, slow = _table("stop")["stopping_time"]
        middle = sum(speed.span) / 2
        return found or Derived((middle / slow, middle / quick), "typical", "operator.deceleration", TYPICAL)

    def edge_force(self) -> Derived:
        """Stiffness of the edge over a common profile; in the cold it grows."""
        low, high = _table("edge")["force_scale"]
        coldest = self.site.coldest.value
        factor = cold_factor(coldest) if coldest is not None else 1.0
        return Derived((low, high * factor), "typical", None if coldest is not None else "site.coldest", TYPICAL)


def cold_factor(temperature: float) -> float:
    """How much stiffer a common rubber edge is at a temperature in kelvin than in a warm room; from memory.

    >>> cold_factor(300.0), round(cold_factor(264.26), 2), cold_factor(200.0)
    (1.0, 1.35, 2.5)

    Source: trade, typical values, from memory.
    """
    points = _table("edge")["cold"]["points"]
    if temperature >= points[0][0]:
        return 1.0
    for (warm, less), (cold, more) in pairwise(points):
        if temperature >= cold:
            return float(less + (more - less) * (warm - temperature) / (warm - cold))
    return float(points[-1][1])


_FACTORS = ("edge.force_scale", "edge.stretch")


def _clipped(name: str, span: Span) -> Span:
    """A range cut to what the contact model covers; its ends keep a little apart."""
    group, _, field = name.rpartition(".")
    if name in _FACTORS:
        return span
    (spec,) = (each for each in fields_of(GROUPS.get(group, ContactCase)) if each.name == field)
    most = spec.limits.at_most if spec.limits.at_most is not None else inf
    high = min(span[1], most)
    return min(span[0], high * (1 - 1e-3)), high


def _input(name: str, title: str, unit: str, found: Derived) -> Input:
    low, high = _clipped(name, found.span)
    return Input(
        name=name,
        title=Sentence(title),
        unit=unit,
        low=low,
        middle=(low + high) / 2,
        high=high,
        fact=found.fact,
        origin=found.origin,
        source=found.source,
    )
