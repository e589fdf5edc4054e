"""A contact against the force standard: within, above, or not known."""

from __future__ import annotations

from functools import cache
from math import inf

from sillwright.base.data import table
from sillwright.base.source import Source
from sillwright.mechanics.model import ContactCase, ContactResult, SpreadBand
from sillwright.mechanics.simple_model import ForceLimit, ForceVerdict, Leaf, LimitVerdict, Verdict

__all__ = ["force_limits", "judge", "judge_band"]

WIDE = 0.5  # m, the gap beyond which other leaves than vertical ones have the higher limit; from memory
GAUGE_TOLERANCE = 0.1  # of the gauge's stiffness; EN 12445:2000, 5.1.1, second-hand
LONG_ENOUGH = 6.0  # s, so that five seconds above 25 N can be seen
TOUCHING = "The leaf still touches at the end of the duration."
UNSTOPPED = "No edge answers, so the drive never stops by itself."
REST = 25.0  # N; EN 12453, second-hand
ASIDE = "An aid to a qualified person: a prediction is no force measurement."


@cache
def force_limits() -> tuple[ForceLimit, ...]:
    """What the force standard asks, each number with its source.

    >>> [each.number for each in force_limits() if each.id == "fs"]
    [150.0]
    """
    return tuple(
        ForceLimit(
            id=row["id"],
            what=row["what"],
            number=row["number"],
            unit=row["unit"],
            source=Source(document=row["document"], clause=row.get("clause"), sure=row["sure"], id=row["id"]),
        )
        for row in table("sillwright.mechanics", "force")["limit"]
    )


def judge(result: ContactResult, *, leaf: Leaf = "vertical", gap: float | None = None) -> ForceVerdict:
    """Whether one computed contact stays within the force standard.

    Parameters: the result; ``leaf`` "vertical" or "horizontal" (sliding, hinged); ``gap`` at the contact in m, None
    where it is not known. Returns a verdict for each limit. A contact that was not computed against the gauge's
    spring, or for less than 6 s, or that still touches at its end, is never within. Source: EN 12453, second-hand.
    """
    numbers = {"td": result.time_above_150, "fs": result.lasting_force, "tt": result.time_above_25}
    facts = {key: (value, value) for key, value in {"fd": result.peak_force, **numbers}.items()}
    still = "" if result.contact_duration is not None else TOUCHING
    if result.actuation_time is None:
        still = UNSTOPPED
    pressing = (result.end_force, result.end_force)
    return _verdict(result.case, facts, still, pressing, leaf, gap)


def judge_band(
    band: SpreadBand, case: ContactCase, *, leaf: Leaf = "vertical", gap: float | None = None
) -> ForceVerdict:
    """The same for a band: within where p95 is, above where p5 is, not known where the band straddles a limit.

    Parameters: the band, the contact it was computed from, leaf and gap as for :func:`judge`.
    """
    names = {"fd": "peak_force", "td": "time_above_150", "fs": "lasting_force", "tt": "time_above_25"}
    facts = {key: _ends(band, name) for key, name in names.items()}
    still = TOUCHING if band.share_still_touching > 0.0 else ""
    if band.band("actuation_time").p95 is None:
        still = UNSTOPPED
    return _verdict(case, facts, still, _ends(band, "end_force"), leaf, gap)


def _ends(band: SpreadBand, name: str) -> tuple[float, float]:
    found = band.band(name)
    return (inf if found.p5 is None else found.p5), (inf if found.p95 is None else found.p95)


def _verdict(
    case: ContactCase,
    facts: dict[str, tuple[float, float]],
    still: str,
    pressing: tuple[float, float],
    leaf: Leaf,
    gap: float | None,
) -> ForceVerdict:
    limits = {each.id: each for each in force_limits()}
    doubt = _doubt(case, limits["gauge-spring"].number, still)
    higher = leaf == "horizontal" and (gap is None or gap > WIDE)
    peak = limits["fd-1400" if higher else "fd-400"]
    ends = [_one(limits[key], facts[key], doubt) for key in ("td", "fs", "tt")]
    first = _one(peak, facts["fd"], doubt)
    if higher and gap is None and first.verdict == "within" and facts["fd"][1] > limits["fd-400"].number:
        first = _said(peak, facts["fd"], "not known", "The gap decides between 400 N and 1,400 N.", number=None)
    if not _blind(case, limits["gauge-spring"].number) and pressing[0] > REST:
        ends[2] = _said(limits["tt"], facts["tt"], "above", "The force is still above 25 N at the end.")
    elif pressing[1] > REST and ends[2].verdict == "within":
        ends[2] = _said(limits["tt"], facts["tt"], "not known", "Some cases are still above 25 N at the end.")
    found = (first, *ends)
    verdicts = [each.verdict for each in found]
    whole: Verdict = "above" if "above" in verdicts else ("not known" if "not known" in verdicts else "within")
    return ForceVerdict(
        verdict=whole,
        limits=found,
        assumptions=(ASIDE,),
        sources=tuple(limits[each.id].source for each in found),
    )


def _blind(case: ContactCase, gauge: float) -> bool:
    stiffness = case.obstruction.stiffness
    return stiffness is None or abs(stiffness - gauge) > GAUGE_TOLERANCE * gauge * (1 + 1e-9)


def _doubt(case: ContactCase, gauge: float, still: str) -> str:
    """Why nothing can be within, or nothing."""
    if _blind(case, gauge):
        return f"Not computed against the gauge's spring of {gauge:g} N/m."
    if case.duration < LONG_ENOUGH:
        return f"Computed for {case.duration:g} s; at least {LONG_ENOUGH:g} s are needed."
    return still


def _one(limit: ForceLimit, ends: tuple[float, float], doubt: str) -> LimitVerdict:
    low, high = ends
    if low > limit.number and not doubt.startswith("Not computed"):
        return _said(limit, ends, "above", f"Above {limit.number:g} {limit.unit}.")
    if doubt:
        return _said(limit, ends, "not known", doubt)
    if high <= limit.number:
        return _said(limit, ends, "within", f"At most {limit.number:g} {limit.unit}.")
    return _said(limit, ends, "not known", f"The band straddles {limit.number:g} {limit.unit}.")


_SAME = object()


def _said(
    limit: ForceLimit, ends: tuple[float, float], verdict: Verdict, why: str, number: object = _SAME
) -> LimitVerdict:
    return LimitVerdict(
        id=limit.id,
        limit=limit.number if number is _SAME else None,
        unit=limit.unit,
        value=ends[1] if ends[1] < inf else None,
        verdict=verdict,
        why=why,
    )
