"""The technician's page of an opening: findings by weight, what to ask next, what each device counts as."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sillwright.base.finding import LEVEL_IN_WORDS, Finding
from sillwright.base.words import N_
from sillwright.duty.model import Answer, DeviceStanding
from sillwright.paper.hookup_page import hookup_page
from sillwright.paper.owner import short
from sillwright.paper.takeoff_page import takeoff_page
from sillwright.paper.terms import ANSWER, DEVICE
from sillwright.paper.voice import Voice, name_of, names_of_facts
from sillwright.study.model import OpeningStudy

MOST_ASKED = 10
"""Facts that the technician's page asks for; the others wait in the appendix."""
REGIMES = {
    "us_commercial": N_("rules for commercial and industrial doors in the United States"),
    "us_residential": N_("rules for residential doors in the United States"),
    "us_gate": N_("rules for vehicular gates in the United States"),
    "europe": N_("rules for power operated doors in Europe and the United Kingdom"),
}


def technician_page(
    study: OpeningStudy, voice: Voice, drawing: int, sketch: int | None = None, charts: Sequence[int | None] = ()
) -> dict[str, Any]:
    """The data of one opening's page; ``drawing``, ``sketch`` and ``charts`` are the numbers of its pictures.

    There is one chart, or None, for each device of which there are ohm readings.
    """
    names = names_of_facts(study.opening, voice)
    more = len(study.unknown) - MOST_ASKED
    return {
        "heading": heading(study),
        "headline": voice.of(study.headline),
        "answer": _answer(study, voice, names),
        "drawing": drawing,
        "findings": [_finding(number, each, voice) for number, each in enumerate(study.findings, start=1)],
        "ask": [
            [name_of(each.fact, names, voice.reader), voice.of(each.why), ""] for each in study.unknown[:MOST_ASKED]
        ],
        "ask_more": voice(N_("{count} more are in the appendix."), count=more) if more > 0 else "",
        "device_head": [
            voice(N_("Device")),
            voice(N_("works")),
            voice(N_("watched by the operator")),
            voice(N_("listed with it")),
            voice(N_("counts as monitored")),
            voice(N_("links and what was read of each")),
        ],
        "devices": [_device(each, voice) for each in study.duty.devices],
        "wired": hookup_page(study, voice) | {"charts": list(charts)},
        "order": takeoff_page(study, voice, sketch),
    }


def heading(study: OpeningStudy) -> str:
    """Tag and name of an opening as a heading."""
    tag, name = short(study.opening.tag.value, 60), short(study.opening.name.value, 80)
    return f"{tag} · {name}" if name else tag


def _answer(study: OpeningStudy, voice: Voice, names: dict[str, str]) -> str:
    duty = study.duty
    answer = voice.word(ANSWER[duty.powered_closing])
    said = voice(
        N_("May it close under power without someone holding the control, as it stands: {answer}."), answer=answer
    )
    if duty.no_rules or duty.regime is None:
        return f"{said} {voice(N_('No rules are known to this program for this place.'))}"
    regime = voice.word(REGIMES.get(duty.regime, duty.regime))
    said = f"{said} {voice(N_('Judged by the {regime}.'), regime=regime)}"
    if duty.deciding_facts:
        facts = "; ".join(name_of(path, names, voice.reader) for path in duty.deciding_facts)
        said = f"{said} {voice(N_('To settle it, find out: {facts}.'), facts=facts)}"
    return said


def _finding(number: int, finding: Finding, voice: Voice) -> dict[str, Any]:
    cited = "; ".join(voice.cite(source) for source in finding.sources)
    return {
        "number": number,
        "level": finding.level,
        "level_word": voice.word(LEVEL_IN_WORDS[finding.level]),
        "text": voice.of(finding.text),
        "why": voice.of(finding.why),
        "act": voice.of(finding.do),
        "sources": voice(N_("Source: {sources}"), sources=cited) if cited else "",
    }


def _device(device: DeviceStanding, voice: Voice) -> list[str]:
    def say(answer: Answer) -> str:
        return voice.word(ANSWER[answer])

    kind = voice.word(DEVICE.get(device.kind, device.kind))
    links = "; ".join(
        voice(N_("{link}: {listed}, {evidence}"), link=link.name, listed=say(link.listed), evidence=link.evidence)
        for link in device.links
    )
    answers = (device.works, device.watched, device.listed, device.monitored)
    return [f"{kind} {device.name}", *map(say, answers), links or "–"]
