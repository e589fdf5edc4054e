"""What the facts of an opening tell of a call: what somebody saw, measured or was told, no assumption.

What the fault model asks and no survey holds (rain, lightning, a blow) stays unknown. So does what a survey holds
only by half: a photo-eye that may work with a reflector or in a pair, an automatic that may close by timer or not,
a last work that is long ago, for another may not have been written down.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from sillwright.base.fact import Fact
from sillwright.survey.devices import Protection
from sillwright.survey.door import GATES
from sillwright.survey.interval import Interval
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.model import Site, Survey
from sillwright.web.records.models import Opening
from sillwright.web.records.surveys import facts_of

EDGES = ("sensing_edge", "air_edge")
EYES = ("photo_eye", "light_curtain")
DETECTORS = ("presence", "loop")
CONNECTIONS = {"air": "hose", "radio": "radio"}  # the circuit alone tells how the edge is joined to the wall
TIMERS = {"timer": "yes", "held": "no", "momentary": "no"}
LATELY = timedelta(days=90)
YEAR = timedelta(days=365.25)
BANDS = ((2 * YEAR, "under_2_years"), (10 * YEAR, "2_to_10_years"), (1000 * YEAR, "over_10_years"))
NEVER_FREEZES = 275.15  # kelvin

Told = tuple[str, str]


def facts_told(opening: Opening, on: date) -> tuple[Told, ...]:
    """Names and values of facts on a day, as the fault model has them; what is not known is left out."""
    return told_by(facts_of(opening).rebuilt.survey, on)


def told_by(survey: Survey, on: date) -> tuple[Told, ...]:
    """The same of the first opening of a survey."""
    found = survey.openings
    return (*_of_opening(found[0], on), *_of_site(survey.site, found[0])) if found else ()


def _of_opening(about: OpeningFacts, on: date) -> Iterator[Told]:
    kind = _value(about.door.kind)
    if kind:
        yield "leaf", "gate" if kind in GATES else "door"
    yield from _of_devices(about, on)
    if (timer := TIMERS.get(_value(about.operator.closing_control) or "")) is not None:
        yield "timer", timer
    end, box = _value(about.lead.end), _value(about.box.side)
    if {end, box} <= {"left", "right"}:
        yield "lead_end", "cord_side" if end == box else "far_side"
    dates = (about.last_work.on, *(each.fitted for each in _devices(about)))
    if any(_lately(each, on) for each in dates):
        yield "work", "yes"
    if band := _age(about, on):
        yield "age", band


def _of_devices(about: OpeningFacts, on: date) -> Iterator[Told]:
    devices, kinds = _devices(about), [_value(each.kind) for each in _devices(about)]
    if about.protection.standing == "known" and not devices:  # somebody looked, and there is none
        yield from (("circuit", "none"), ("connection", "none"), ("eyes", "none"), ("detector", "no"))
        return
    edges = [each for each, kind in zip(devices, kinds, strict=True) if kind in EDGES]
    if len(edges) == 1:
        yield from _of_edge(edges[0], about, on)
    if {"light_curtain"} == {kind for kind in kinds if kind in EYES}:
        yield "eyes", "curtain"
    if any(kind in DETECTORS for kind in kinds):
        yield "detector", "yes"


def _of_edge(edge: Protection, about: OpeningFacts, on: date) -> Iterator[Told]:
    circuit = "air" if _value(edge.kind) == "air_edge" else _value(edge.circuit)
    cord = _value(about.cord.retracted) or _value(about.cord.conductors)
    if circuit:
        yield "circuit", circuit
    joined = {*([CONNECTIONS[circuit]] if circuit in CONNECTIONS else []), *(["cord"] if cord else [])}
    if len(joined) == 1:  # a cord at a radio edge: one of them was written down wrongly
        yield "connection", joined.pop()
    if _lately(edge.fitted, on):
        yield "edge_new", "yes"


def _of_site(site: Site, about: OpeningFacts) -> Iterator[Told]:
    """It is never freezing where neither the site nor one side of the leaf comes near it."""
    coldest, side = _value(site.coldest), about.surroundings.cold_side.value
    if coldest is not None and coldest >= NEVER_FREEZES and (side is None or side >= NEVER_FREEZES):
        yield "cold", "no"


def _devices(about: OpeningFacts) -> tuple[Protection, ...]:
    return tuple(about.protection.items) if about.protection.standing == "known" else ()


def _value(fact: Fact[Any]) -> Any:
    """The value that rules may rest on; None where there is none."""
    return fact.value if fact.known else None


def _lately(fact: Fact[Interval], on: date) -> bool:
    """Whether the whole of a date lies in the last months before a day."""
    found: Interval | None = _value(fact)
    return found is not None and on - LATELY <= found.first and found.last <= on


def _age(about: OpeningFacts, on: date) -> str | None:
    """How old what is fitted is: where all dates that are known say the same.

    A younger age than the oldest is told only where no device is without a date: what is old must not pass as new.
    """
    devices = [each.fitted for each in _devices(about)]
    dates = [about.door.fitted, about.operator.made, about.operator.board_made, *devices]
    bands = {_band(found, on) for each in dates if (found := _value(each)) is not None}
    band = bands.pop() if len(bands) == 1 else None
    whole = bool(devices) and all(_value(each) is not None for each in devices)
    return band if band == BANDS[-1][1] or whole else None


def _band(found: Interval, on: date) -> str | None:
    """The age of a date; None where it may be one or another, or lies ahead."""
    ages = {next((name for most, name in BANDS if on - day < most), None) for day in (found.first, found.last)}
    return ages.pop() if len(ages) == 1 and found.last <= on else None
