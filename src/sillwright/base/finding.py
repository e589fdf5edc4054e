"""Findings: the one currency between chapters and papers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Literal

from sillwright.base.source import Source
from sillwright.base.words import N_, Reader, Sentence, render

Level = Literal["stop", "act", "note", "good"]
LEVELS: tuple[Level, ...] = ("stop", "act", "note", "good")
LEVEL_IN_WORDS: dict[Level, str] = {
    "stop": N_("stop today"),
    "act": N_("quote"),
    "note": N_("watch"),
    "good": N_("in order"),
}


@dataclass(frozen=True, kw_only=True)
class Finding:
    """What was found, why it matters, what to do, what it rests on and where it is on the drawing."""

    id: str
    level: Level
    text: Sentence
    why: Sentence | None = None
    do: Sentence | None = None
    facts: tuple[str, ...] = ()
    place: str | None = None
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Unknown:
    """A fact that is not known, what it decides and why it is worth asking."""

    fact: str
    decides: tuple[str, ...]
    why: Sentence


def by_weight(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in order of weight; those of one level stay in the order in which they were made."""
    return tuple(sorted(findings, key=lambda finding: LEVELS.index(finding.level)))


def finding_as_json(finding: Finding, reader: Reader) -> dict[str, Any]:
    """A finding as the machine-read answer prints it."""
    return {
        "id": finding.id,
        "level": finding.level,
        "text": render(finding.text, reader),
        "why": render(finding.why, reader) if finding.why else None,
        "do": render(finding.do, reader) if finding.do else None,
        "facts": list(finding.facts),
        "place": finding.place,
        "sources": [source.as_json() for source in finding.sources],
    }
