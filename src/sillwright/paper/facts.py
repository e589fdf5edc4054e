"""The facts of an opening as they were taken down: as written, as used, and where each comes from."""

from __future__ import annotations

from typing import Any

from sillwright.base.fact import Fact, Reading
from sillwright.base.words import N_, in_words
from sillwright.paper.voice import Voice, group_of
from sillwright.survey.model import Opening
from sillwright.survey.spec import Spec


def facts_by_group(opening: Opening, voice: Voice) -> list[list[str]]:
    """One row a group of facts: what the group is called, and its facts in a line."""
    found: dict[str, list[str]] = {}
    for spec, fact in opening.facts():
        said = _fact(spec, fact, voice)
        if said:
            found.setdefault(group_of(fact.path, voice.reader) or voice(N_("opening")), []).append(said)
    return [[group, " · ".join(facts)] for group, facts in found.items()]


def _fact(spec: Spec, fact: Fact[Any], voice: Voice) -> str:
    if fact.standing in {"not asked", "not known"}:
        return ""
    title = voice.word(spec.title)
    if fact.standing == "two readings":
        both = [_reading(spec, each, voice) for each in fact.readings]
        return voice(N_("{fact}: {readings}: not settled"), fact=title, readings=" / ".join(both))
    return voice(N_("{fact}: {value}"), fact=title, value=_reading(spec, fact.reading, voice))


def _reading(spec: Spec, reading: Reading[Any] | None, voice: Voice) -> str:
    used = shown(spec, reading.value if reading else None, voice)
    if reading is None:
        return used
    written = reading.typed if spec.kind in {"quantity", "date", "money"} else ""
    told = [f"“{written}”" if written and written != used else ""]
    told += [voice.origin(reading)] if reading.origin or reading.by or reading.evidence else []
    beside = "; ".join(part for part in told if part)
    return f"{used} ({beside})" if beside else used


def shown(spec: Spec, value: Any, voice: Voice) -> str:
    """A value of a fact in the reader's words and units."""
    if value is None:
        return voice(N_("none there"))
    if value == ():
        return voice(N_("none"))
    if spec.kind == "quantity":
        return voice.amount(value, spec.unit)
    if spec.kind == "points":
        return "; ".join(f"{voice.amount(x, 'm')}: {voice.amount(z, 'm')}" for x, z in value)
    if spec.kind == "count":
        return f"{value:g}"
    if spec.kind == "choice":
        return voice.word(str(value).replace("_", " "))
    return in_words(value, voice.reader)
