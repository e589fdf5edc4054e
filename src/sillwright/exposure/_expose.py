"""How hard the closing leaf of an opening would press on a force gauge: the middle case, the band, the limits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import pi, sqrt
from typing import Any

from sillwright.base import data
from sillwright.base.calculation import as_json
from sillwright.base.source import Source
from sillwright.base.words import N_, Sentence
from sillwright.exposure.answer import EdgeState, Engine, Exposure, Input, JudgedLimit
from sillwright.exposure.derive import Deriver
from sillwright.exposure.findings import SMALL_GAP, contact_findings
from sillwright.mechanics import (
    ContactCase,
    ContactTrace,
    Drive,
    Edge,
    ForceVerdict,
    Obstruction,
    Range,
    SpreadBand,
    Stop,
    contact,
    force_limits,
    judge_band,
    spread_band,
)
from sillwright.survey.model import Opening, Site

DURATION = 6.0  # s: five seconds above 25 N can be seen
SEED = 1
CHART_POINTS = 400
UNSTOPPED = 4  # a leaf that nothing stops bounces for seconds: a case costs ten others, and the answer is plain
RATTLING = 400  # half swings of a leaf on the gauge, from which loading the compiled kernel pays
WIDE_GAP = 1.0  # m: a gap that stands for those above the small ones

_QUANTITY = {"fd": "peak_force", "td": "time_above_150", "fs": "lasting_force", "tt": "time_above_25"}
_TITLES = {
    "fd": N_("greatest force"),
    "fd-1400": N_("greatest force at gaps above 0.5 m"),
    "td": N_("time above 150 N"),
    "fs": N_("force after the dynamic period"),
    "tt": N_("time above 25 N"),
}
_OF_NO_DOOR = {"typical", "published"}  # origins of inputs that nobody took down at this opening
_MODEL = Source(document=N_("equation of motion of a driven mass, solved piece by piece"), sure="computed")


def expose(
    site: Site, opening: Opening, *, edge: EdgeState, engine: Engine = "plain", points: int = 1024
) -> Exposure:
    """How hard a closing leaf would meet a force gauge, as a band with its middle, against the limits of EN 12453.

    ``edge`` says whether a sensing edge works there, is dead, is not there, or is not known; what is not known is
    computed as not answering, and counts as above a limit only where a working edge would not help either. Inputs
    that nobody has taken down are typical ranges, from memory, and say so. Valid for one leaf that closes steadily
    onto a gauge of 500 N/mm; it says within, above or not known, never harmless.

    Source: EN 12453 (second-hand) for limits and gauge; the contact model of :mod:`sillwright.mechanics`.
    """
    deriver = Deriver(site, opening)
    inputs = deriver.inputs(edge=edge != "none" and not (edge == "unknown" and not _edges(opening)))
    answering = edge == "works"
    case = _case(inputs, answering=answering)
    middle = contact(replace(case, trace=True))
    band = _band(case, inputs, engine, points if answering else points // UNSTOPPED)
    limits = _judged(band, case, opening)
    if not answering:
        limits = tuple(_never_lets_go(each, inputs) for each in limits)
    if edge == "unknown" and any(each.verdict == "above" for each in limits):
        helped = deriver.inputs(edge=True)
        with_edge = _case(helped, answering=True)
        limits = _either(limits, _judged(_band(with_edge, helped, engine, points), with_edge, opening))
    next_fact = _measure_next(band, inputs)
    return Exposure(
        contact=_numbers(as_json(middle)),
        trace=_thinned(middle.trace),
        band={each.name: {"p5": each.p5, "p50": each.p50, "p95": each.p95} for each in band.bands},
        limits=limits,
        inputs=inputs,
        measure_next=next_fact,
        findings=tuple(
            contact_findings(
                site, opening, band, limits, next_fact, typical=all(each.origin in _OF_NO_DOOR for each in inputs)
            )
        ),
        assumptions=_assumptions(edge, inputs, middle.assumptions),
        sources=(_MODEL, *dict.fromkeys(each.source for each in limits)),
    )


def _edges(opening: Opening) -> bool:
    return any(each.kind.value in {"sensing_edge", "air_edge"} for each in opening.protection)


def _case(inputs: Sequence[Input], *, answering: bool) -> ContactCase:
    at = {each.name: each.middle for each in inputs}
    table = data.table("sillwright.exposure", "typical")["edge"]
    edge = None
    if "edge.stretch" in at:
        stretch, scale = at["edge.stretch"], at["edge.force_scale"]
        edge = Edge(
            curve=tuple((travel * stretch, force * scale) for travel, force in table["curve"]),
            actuation_travel=table["actuation_travel"] * stretch if answering else None,
            response=at["edge.response"],
            end_stiffness=at["edge.end_stiffness"],
        )
    return ContactCase(
        closing_speed=at["closing_speed"],
        moving_mass=at["moving_mass"],
        drive=Drive(
            stiffness=at["drive.stiffness"],
            damping=at["drive.damping"],
            push_limit=at["drive.push_limit"],
            lift_limit=None,
        ),
        stop=Stop(
            reaction=at["stop.reaction"],
            deceleration=at["stop.deceleration"],
            dwell=at["stop.dwell"],
            opening_acceleration=at["stop.opening_acceleration"],
            opening_speed=at["stop.opening_speed"],
        ),
        edge=edge,
        obstruction=Obstruction(stiffness=at["obstruction.stiffness"]),
        duration=DURATION,
    )


def _band(case: ContactCase, inputs: Sequence[Input], engine: Engine, points: int) -> SpreadBand:
    """The band around the middle case; the edge's curve is scaled by factors on the middle one."""
    middles = {each.name: each.middle for each in inputs}
    ranges = []
    for each in inputs:
        unit = middles[each.name] if each.name in {"edge.force_scale", "edge.stretch"} else 1.0
        if each.low < each.high:
            ranges.append(Range(name=each.name, low=each.low / unit, high=each.high / unit))  # type: ignore[arg-type]
    return spread_band(case, tuple(ranges), points=points, seed=SEED, engine="kernel" if _rattles(case) else engine)


def _rattles(case: ContactCase) -> bool:
    """A leaf of a few kilograms swings so often on the gauge that its band would take the plain solution a minute.

    Both solutions give the same numbers; nobody waits for the size of a fact that may be a slip of the pen.
    """
    stiffness = case.obstruction.stiffness
    return stiffness is not None and case.duration * sqrt(stiffness / case.moving_mass) / pi > RATTLING


def _judged(band: SpreadBand, case: ContactCase, opening: Opening) -> tuple[JudgedLimit, ...]:
    """The limits of the force standard; a gate's greatest force at gaps up to 0.5 m and at wider ones."""
    if not opening.door.is_gate:
        return _limits(judge_band(band, case))
    narrow = _limits(judge_band(band, case, leaf="horizontal", gap=SMALL_GAP))
    wide = _limits(judge_band(band, case, leaf="horizontal", gap=WIDE_GAP))
    return (narrow[0], wide[0], *narrow[1:])


_BEARS = {"time_above_150": 150.0, "lasting_force": 150.0, "time_above_25": 25.0}


def _never_lets_go(limit: JudgedLimit, inputs: Sequence[Input]) -> JudgedLimit:
    """Nothing stops this drive, so that it presses on for good: above every limit of time that its push exceeds."""
    push = next(each for each in inputs if each.name == "drive.push_limit")
    bears = _BEARS.get(limit.quantity)
    return replace(limit, verdict="above") if bears is not None and push.low > bears else limit


def _limits(found: ForceVerdict) -> tuple[JudgedLimit, ...]:
    numbers = {each.id: each for each in force_limits()}
    judged = []
    for each in found.limits:
        key = each.id.partition("-")[0]
        limit = numbers[each.id]
        judged.append(
            JudgedLimit(
                id=each.id,
                title=Sentence(_TITLES.get(each.id, _TITLES[key])),
                quantity=_QUANTITY[key],
                limit=limit.number,
                unit=limit.unit,
                verdict=each.verdict,
                source=limit.source,
            )
        )
    return tuple(judged)


def _either(without: Sequence[JudgedLimit], with_edge: Sequence[JudgedLimit]) -> tuple[JudgedLimit, ...]:
    """With the edge's working unknown a limit is within or above only where both ways agree."""
    pairs = zip(without, with_edge, strict=True)
    return tuple(one if one.verdict == other.verdict else replace(one, verdict="not known") for one, other in pairs)


def _measure_next(band: SpreadBand, inputs: Sequence[Input]) -> str | None:
    """The fact that would narrow the greatest force most; nothing where every fact has been measured."""
    influences = next(each for each in band.influences if each.outcome == "peak_force")
    facts = {each.name: each.fact for each in inputs if each.origin not in {"measured", "published"}}
    ordered = sorted(influences.inputs, key=lambda each: -each.first)
    return next((facts[each.name] for each in ordered if facts.get(each.name)), None)


_NOT_NUMBERS = {"case", "trace", "assumptions", "sources"}


def _numbers(result: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in result.items() if name not in _NOT_NUMBERS}


def _thinned(trace: ContactTrace | None) -> tuple[tuple[float, float], ...]:
    """The record for the chart: enough points, the greatest force among them."""
    if trace is None:
        return ()
    points = list(zip(trace.time, trace.force, strict=True))
    step = max(1, len(points) // CHART_POINTS)
    peak = max(range(len(points)), key=lambda at: points[at][1])
    return tuple(points[at] for at in range(len(points)) if at % step == 0 or at in {peak, len(points) - 1})


def _assumptions(edge: EdgeState, inputs: Iterable[Input], model: Iterable[str]) -> tuple[Sentence, ...]:
    said = {
        "works": N_("The edge works and has a common hollow profile; its own curve is not known."),
        "dead": N_("The edge does not answer; its body still gives."),
        "none": N_("There is no sensing edge: nothing stops the leaf after it touches."),
        "unknown": N_("Whether a sensing edge works is not known: computed as one that does not answer."),
    }
    typical = [Sentence("{what}", {"what": each.title}) for each in inputs if each.origin == "typical"]
    found = [Sentence(said[edge])]
    if typical:
        found.append(Sentence(N_("Typical ranges, from memory, stand in for: {facts}."), {"facts": typical}))
    return (*found, *(Sentence("{said}", {"said": each}) for each in model))
