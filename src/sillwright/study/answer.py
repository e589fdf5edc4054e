"""The answer that programs rely on: one JSON document a site."""

from __future__ import annotations

from typing import Any

from sillwright.base.calculation import as_json
from sillwright.base.finding import finding_as_json
from sillwright.base.words import Reader, render
from sillwright.duty import Duty
from sillwright.exposure import Exposure
from sillwright.study.hookup_answer import hookup_as_json, ohms_as_json
from sillwright.study.model import OpeningStudy, SiteStudy
from sillwright.study.takeoff_answer import takeoff_as_json

FORMAT = "sillwright-study/1"


def site_as_json(study: SiteStudy) -> dict[str, Any]:
    """A studied site as plain lists and mappings: SI numbers, sentences in the reader's language."""
    return {
        "format": FORMAT,
        "site": {"name": study.survey.site.name.value, "country": study.survey.site.country.value},
        "openings": [opening_as_json(each, study.reader) for each in study.openings],
    }


def opening_as_json(study: OpeningStudy, reader: Reader) -> dict[str, Any]:
    """One studied opening. Chapters that do not answer are absent."""
    answer: dict[str, Any] = {
        "tag": study.opening.tag.value,
        "name": study.opening.name.value,
        "headline": render(study.headline, reader),
        "duty": _duty(study.duty, reader),
    }
    if study.exposure is not None:
        answer["exposure"] = _exposure(study.exposure, reader)
    answer["takeoff"] = takeoff_as_json(study.takeoff, questions_of(study), reader)
    answer["hookup"] = hookup_as_json(study.hookup, study.duty, reader) | {"ohms": ohms_as_json(study.ohms, reader)}
    answer["findings"] = [finding_as_json(each, reader) for each in study.findings]
    answer["unknown"] = [
        {"fact": each.fact, "decides": list(each.decides), "why": render(each.why, reader)}
        for each in study.unknown
    ]
    return answer


def questions_of(study: OpeningStudy) -> tuple[str, ...]:
    """The plausibility questions that stand, ASK-1 and on, each once and in their order."""
    asked = {each.id for each in study.findings if each.id.startswith("ASK-")}
    return tuple(sorted(asked, key=lambda id: int(id.removeprefix("ASK-"))))


def _duty(duty: Duty, reader: Reader) -> dict[str, Any]:
    return {
        "powered_closing": duty.powered_closing,
        "regime": duty.regime,
        "no_rules": duty.no_rules,
        "deciding_facts": list(duty.deciding_facts),
        "deciding_sets": [list(each) for each in duty.deciding_sets],
        "rules": [
            {
                "id": rule.id,
                "verdict": rule.verdict,
                "asks": render(rule.asks, reader),
                "waits_for": list(rule.facts),
                "source": rule.source.as_json(),
            }
            for rule in duty.rules
        ],
        "devices": [
            {
                "fact": device.path,
                "kind": device.kind,
                "works": device.works,
                "watched": device.watched,
                "listed": device.listed,
                "monitored": device.monitored,
                "links": [
                    {"name": link.name, "listed": link.listed, "evidence": render(link.evidence, reader)}
                    for link in device.links
                ],
            }
            for device in duty.devices
        ],
        "enforced": [
            {"who": render(each.who, reader), "what": render(each.what, reader), "source": each.source.as_json()}
            for each in duty.enforced
        ],
    }


def _exposure(exposure: Exposure, reader: Reader) -> dict[str, Any]:
    return {
        "contact": exposure.contact,
        "contact_band": exposure.band,
        "limits": [
            {
                "id": each.id,
                "quantity": each.quantity,
                "limit": each.limit,
                "unit": each.unit,
                "verdict": each.verdict,
                "source": each.source.as_json(),
            }
            for each in exposure.limits
        ],
        "inputs": [
            {
                "name": each.name,
                "unit": each.unit,
                "low": each.low,
                "middle": each.middle,
                "high": each.high,
                "fact": each.fact,
                "origin": each.origin,
                "source": as_json(each.source),
            }
            for each in exposure.inputs
        ],
        "measure_next": exposure.measure_next,
        "assumptions": [render(each, reader) for each in exposure.assumptions],
        "sources": [each.as_json() for each in exposure.sources],
    }
