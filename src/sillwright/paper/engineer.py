"""The engineer's appendix of an opening: inputs, band and limits, rules, facts and where they come from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sillwright.base.words import N_, Sentence
from sillwright.duty.model import RuleVerdict
from sillwright.exposure.answer import Exposure, Input
from sillwright.paper.facts import facts_by_group
from sillwright.paper.technician import MOST_ASKED
from sillwright.paper.terms import LIMIT_VERDICT, ORIGIN, VERDICT
from sillwright.paper.voice import Voice, name_of, names_of_facts
from sillwright.study.model import OpeningStudy
from sillwright.study.ohms import taken_for_granted

RESULTS: dict[str, tuple[str, str]] = {
    "peak_force": (N_("greatest force"), "N"),
    "peak_time": (N_("time of the greatest force"), "s"),
    "actuation_time": (N_("time until the edge answers"), "s"),
    "contact_duration": (N_("time until the leaf lets go"), "s"),
    "time_above_150": (N_("time above 150 N"), "s"),
    "time_above_25": (N_("time above 25 N"), "s"),
    "lasting_force": (N_("force later than 0.75 s after 150 N"), "N"),
    "peak_edge_travel": (N_("greatest compression of the edge"), "m"),
    "end_force": (N_("force at the end of the record"), "N"),
}
ORDER = ("fails", "unknown", "holds")


def engineer_page(
    study: OpeningStudy, voice: Voice, heading: str, chart: int | None, cited: Mapping[str, int]
) -> dict[str, Any]:
    """The data of one opening's appendix; ``chart`` is the number of its picture, ``cited`` numbers the sources."""
    names = names_of_facts(study.opening, voice)
    exposure = study.exposure
    left = sum(1 for each in study.duty.rules if each.verdict == "not applicable")
    return {
        "heading": heading,
        "chart": chart,
        **{key: [voice.word(each) for each in head] for key, head in HEADS.items()},
        "band": _band(exposure, voice) if exposure else [],
        "limits": _limits(exposure, voice) if exposure else [],
        "next": _next(exposure, voice, names) if exposure else "",
        "inputs": [_input(each, voice, names, cited) for each in exposure.inputs] if exposure else [],
        "assumptions": [voice.of(each) for each in _assumptions(study)],
        "rules": [
            _rule(each, voice, names) for verdict in ORDER for each in study.duty.rules if each.verdict == verdict
        ],
        "rules_left": voice(N_("Rules looked at that do not apply here: {count}."), count=left),
        "also_asked": [
            [name_of(each.fact, names, voice.reader), voice.of(each.why)] for each in study.unknown[MOST_ASKED:]
        ],
        "facts": facts_by_group(study.opening, voice),
    }


def _assumptions(study: OpeningStudy) -> Iterator[Sentence]:
    """What was taken for granted of the contact, and of the wiring."""
    yield from study.exposure.assumptions if study.exposure else ()
    yield from (*study.hookup.assumptions, *study.hookup.power.assumptions)
    yield from taken_for_granted(study.ohms)


HEADS: dict[str, tuple[str, ...]] = {
    "band_head": (
        N_("Result"), N_("middle case"), N_("5 of 100 below"), N_("50 of 100 below"), N_("95 of 100 below"),
    ),
    "limits_head": (N_("Limit of the force standard"), N_("limit"), N_("the band is"), N_("source")),
    "inputs_head": (N_("Input"), N_("low · middle · high"), N_("where it comes from")),
    "rules_head": (N_("Verdict"), N_("The rule asks"), N_("source, and how sure")),
}  # fmt: skip


def _band(exposure: Exposure, voice: Voice) -> list[list[str]]:
    found = []
    for name, (title, unit) in RESULTS.items():
        middle, band = exposure.contact.get(name), exposure.band.get(name)
        if middle is None and band is None:
            continue
        known = float(middle) if isinstance(middle, (int, float)) else None
        spread = [(band or {}).get(part) for part in ("p5", "p50", "p95")]
        found.append([voice.word(title), *(voice.amount(each, unit) for each in (known, *spread))])
    return found


def _limits(exposure: Exposure, voice: Voice) -> list[list[str]]:
    return [
        [
            voice.of(each.title),
            voice.amount(each.limit, each.unit),
            voice.word(LIMIT_VERDICT[each.verdict]),
            voice.cite(each.source),
        ]
        for each in exposure.limits
    ]


def _next(exposure: Exposure, voice: Voice, names: dict[str, str]) -> str:
    if exposure.measure_next is None:
        return ""
    fact = name_of(exposure.measure_next, names, voice.reader)
    return voice(N_("What narrows the band most, when it is measured next: {fact}."), fact=fact)


def _input(each: Input, voice: Voice, names: dict[str, str], cited: Mapping[str, int]) -> list[str]:
    origin = voice.word(ORIGIN.get(each.origin, each.origin))
    fact = name_of(each.fact, names, voice.reader) if each.fact else ""
    source = f"[{cited[voice.cite(each.source)]}]" if each.source else ""
    values = dict.fromkeys(voice.amount(value, each.unit) for value in (each.low, each.middle, each.high))
    comes = "; ".join(part for part in (origin, fact, source) if part)
    return [voice.of(each.title), " · ".join(values), comes]


def _rule(rule: RuleVerdict, voice: Voice, names: dict[str, str]) -> list[str]:
    asks = voice.of(rule.asks)
    if rule.facts:
        waits = "; ".join(name_of(path, names, voice.reader) for path in rule.facts)
        asks = voice(N_("{asks} Waits for: {facts}."), asks=asks, facts=waits)
    return [voice.word(VERDICT[rule.verdict]), asks, voice.cite(rule.source)]
