"""Risk in two scales: the required performance level of a safeguard, and the level of a consumer risk."""

from __future__ import annotations

from math import prod
from typing import Literal

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Number
from sillwright.base.words import N_, say

Severity = Literal["S1", "S2"]
Frequency = Literal["F1", "F2"]
Avoidance = Literal["P1", "P2"]

ROUND_OFF: Number = 1e-9  # 1/10 of 1/10 is not above 1/100, though it is in binary
_GRAPH = Source(document="ISO 13849-1", clause=N_("Annex A"), sure="memory", id="plr-graph")
_SEVERITY = Source(document="Decision (EU) 2019/417", clause=N_("annex, table 3"), sure="read", id="rapex-severity")
_LEVEL = Source(document="Decision (EU) 2019/417", clause=N_("annex, table 4"), sure="memory", id="rapex-level")


class PerformanceLevelCase(Case):
    """A hazardous situation in the words of the risk graph."""

    severity: Severity = field(title="S1 slight, S2 serious")
    exposure: Frequency = field(title="F1 seldom, F2 often or long")
    avoidance: Avoidance = field(title="P1 possible, P2 hardly possible")


class PerformanceLevelResult(Result):
    """The performance level that a safeguard is required to reach."""

    level: Literal["a", "b", "c", "d", "e"] = field(title="Required performance level")
    case: PerformanceLevelCase = field(title="The case as it was judged")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the graph comes from")


def performance_level(case: PerformanceLevelCase) -> PerformanceLevelResult:
    """Which performance level does the risk graph require of a safeguard?

    Parameters: severity, exposure and avoidance as the graph names them. Returns the level a to e. Valid for
    safeguards judged by ISO 13849-1. Raises :class:`OutOfRange` where the case names none of these.

    Source: ISO 13849-1, Annex A, from memory; the path S2 F1 P1 was read in a worked example.

    >>> performance_level(PerformanceLevelCase(severity="S2", exposure="F1", avoidance="P1")).level
    'c'
    """
    table = data.table("sillwright.exposure", "risk")["performance_level"]
    return PerformanceLevelResult(
        level=table[case.severity + case.exposure + case.avoidance],
        case=case,
        assumptions=(say(N_("The graph is from memory, to be confirmed.")),),
        sources=(_GRAPH,),
    )


class RiskLevelCase(Case):
    """A scenario of harm: the probability of each of its steps and how bad it ends."""

    steps: tuple[Number, ...] = field(title="Probability of each step, 0 to 1")
    severity: int = field(at_least=1, at_most=4, title="1 first aid, 2 emergency visit, 3 hospital, 4 fatal")

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.steps or not all(0.0 <= step <= 1.0 for step in self.steps):
            said = N_("{path}: at least one probability from 0 to 1 is accepted")
            raise OutOfRange(say(said, path="RiskLevelCase.steps"))


class RiskLevelResult(Result):
    """The level of a risk over the life of a product."""

    probability: Number = field(title="Probability of the harm over the product's life")
    level: Literal["low", "medium", "high", "serious"] = field(title="Risk level")
    case: RiskLevelCase = field(title="The case as it was judged")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the table comes from")


def risk_level(case: RiskLevelCase) -> RiskLevelResult:
    r"""How grave is a scenario of harm, from the probability of its steps and its severity?

    .. math:: p = \prod_i p_i

    Parameters: steps (each a probability), severity 1 to 4. Returns probability and level. Valid for independent
    steps. Raises :class:`OutOfRange` where a step is no probability.

    Source: Decision (EU) 2019/417, annex, tables 3 (read) and 4 (memory).

    >>> risk_level(RiskLevelCase(steps=(1.0, 0.02, 0.1, 1.0), severity=1)).level
    'low'
    """
    probability = prod(case.steps)
    rows = data.table("sillwright.exposure", "risk")["risk_level"]
    row = next((row for row in rows if probability > row["above"] * (1 + ROUND_OFF)), rows[-1])
    return RiskLevelResult(
        probability=probability,
        level=row["levels"][case.severity - 1],
        case=case,
        assumptions=(say(N_("The steps are independent of each other.")),),
        sources=(_SEVERITY, _LEVEL),
    )
