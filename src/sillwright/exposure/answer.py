"""How hard a leaf would meet someone: the answer of this chapter for one opening."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import Sentence

Engine = Literal["plain", "kernel"]
EdgeState = Literal["works", "dead", "none", "unknown"]
LimitVerdict = Literal["within", "above", "not known"]


@dataclass(frozen=True, kw_only=True)
class Input:
    """One input of the contact model: a fact of the survey, or a typical range with its source."""

    name: str  # closing_speed, drive.push_limit …
    title: Sentence
    unit: str
    low: float
    middle: float
    high: float
    fact: str | None  # the survey's fact it is, or would be
    origin: str  # measured, plate, … ; typical; derived
    source: Source | None


@dataclass(frozen=True, kw_only=True)
class JudgedLimit:
    """One limit of the force standard and how the band lies to it."""

    id: str
    title: Sentence
    quantity: str  # peak_force, time_above_150, lasting_force, time_above_25
    limit: float
    unit: str
    verdict: LimitVerdict
    source: Source


@dataclass(frozen=True, kw_only=True)
class Exposure:
    """The contact of a closing leaf with a force gauge: the middle case, the band and the verdicts."""

    contact: dict[str, Any]  # the middle case's results, SI numbers
    trace: tuple[tuple[float, float], ...]  # time and force of the middle case, for the chart
    band: dict[str, dict[str, float | None]]  # result → p5, p50, p95
    limits: tuple[JudgedLimit, ...]
    inputs: tuple[Input, ...]
    measure_next: str | None  # the fact worth measuring next
    findings: tuple[Finding, ...]
    assumptions: tuple[Sentence, ...]
    sources: tuple[Source, ...]
