"""A contact against the force standard: within, above, or not known."""

from __future__ import annotations

from functools import cache
from math import inf

from sillwright.base.data import table
from sillwright.base.source import Source
from sillwright.base.words import N_, say
from sillwright.mechanics.model import ContactCase, ContactResult, SpreadBand
from sillwright.mechanics.simple_model import ForceLimit, ForceVerdict, Leaf, LimitVerdict, Verdict

__all__ = ["force_limits", "judge", "judge_band"]

WIDE = 0.5  # m, the gap beyond which other leaves than vertical ones have the higher limit; from memory
GAUGE_TOLERANCE = 0.1  # of the gauge's stiffness; EN 12445:2000, 5.1.1, second-hand
LONG_ENOUGH = 6.0  # s, so that five seconds above 25 N can be seen
TOUCHING = say(N_("The leaf still touches at the end of the duration."))
UNSTOPPED = say(N_("No edge answers, so the drive never stops by itself."))
REST = 25.0  # N; EN 12453, second-hand
ASIDE = say(N_("An aid to a qualified person: a prediction is no force measurement."))


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
    blind = _blind(case, limits["gauge-spring"].number)
    doubt = _doubt(case, limits["gauge-spring"].number, still)
    higher = leaf == "horizontal" and (gap is None or gap > WIDE)
    peak = limits["fd-1400" if higher else "fd-400"]
    ends = [_one(limits[key], facts[key], doubt, blind) for key in ("td", "fs", "tt")]
    first = _one(peak, facts["fd"], doubt, blind)
    if higher and gap is None and first.verdict == "within" and facts["fd"][1] > limits["fd-400"].number:
        why = say(N_("The gap decides between 400 N and 1,400 N."))
        first = _said(peak, facts["fd"], "not known", why, number=None)
    if not blind and pressing[0] > REST:
        why = say(N_("The force is still above 25 N at the end."))
        ends[2] = _said(limits["tt"], facts["tt"], "above", why)
    elif pressing[1] > REST and ends[2].verdict == "within":
        why = say(N_("Some cases are still above 25 N at the end."))
        ends[2] = _said(limits["tt"], facts["tt"], "not known", why)
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
        return say(N_("Not computed against the gauge's spring of {stiffness}."), stiffness=f"{gauge:g} N/m")
    if case.duration < LONG_ENOUGH:
        times = {"time": f"{case.duration:g} s", "least": f"{LONG_ENOUGH:g} s"}
        return say(N_("Computed for {time}; at least {least} are needed."), **times)
    return still


def _one(limit: ForceLimit, ends: tuple[float, float], doubt: str, blind: bool) -> LimitVerdict:
    low, high = ends
    number = f"{limit.number:g} {limit.unit}"
    if low > limit.number and not blind:
        return _said(limit, ends, "above", say(N_("Above {limit}."), limit=number))
    if doubt:
        return _said(limit, ends, "not known", doubt)
    if high <= limit.number:
        return _said(limit, ends, "within", say(N_("At most {limit}."), limit=number))
    return _said(limit, ends, "not known", say(N_("The band straddles {limit}."), limit=number))


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
