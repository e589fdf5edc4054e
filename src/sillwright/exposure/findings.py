"""What the contact band has to say, in sentences."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sillwright.base.display import show
from sillwright.base.finding import Finding, Level
from sillwright.base.words import N_, Amount, Sentence
from sillwright.exposure.answer import JudgedLimit
from sillwright.mechanics import SpreadBand
from sillwright.survey.model import Opening, Site

SMALL_GAP = 0.5  # m: up to it a gate's limit is the lower one (EN 12453; gap bands from memory)
WIDE_GAP_LIMIT = "fd-1400"
_NO_FORCE_LIMIT = "US"
_ABOVE = {
    "peak_force": N_(
        "The closing leaf would press with {low} to {high} at its greatest, above the {limit} of the force standard."
    ),
    "time_above_150": N_(
        "The closing leaf would press with more than 150 N for {low} to {high}, longer than the {limit} of the force standard."
    ),
    "lasting_force": N_(
        "The closing leaf would go on pressing with {low} to {high}, above the {limit} of the force standard."
    ),
    "time_above_25": N_(
        "The closing leaf would not let go in time: above 25 N for longer than the {limit} of the force standard."
    ),
}
_AT_GAPS = {
    True: N_(
        "The closing leaf would press with {low} to {high} at its greatest, above the {limit} of the force standard for gaps above {gap}."
    ),
    False: N_(
        "The closing leaf would press with {low} to {high} at its greatest, above the {limit} of the force standard for gaps up to {gap}."
    ),
}
_WHY = N_(
    "A limit of the standard is no promise that nobody is hurt: it accepts pain, and it does not cover children in the way of the leaf."
)
_WHY_TYPICAL = N_(
    "It rests on typical values alone: nothing of this leaf was taken down yet. A limit of the standard is no promise that nobody is hurt."
)


def contact_findings(
    site: Site,
    opening: Opening,
    band: SpreadBand,
    limits: Sequence[JudgedLimit],
    measure_next: str | None,
    *,
    typical: bool = False,
) -> Iterator[Finding]:
    """One finding for each limit that is exceeded; one that says within or not known.

    ``typical`` where every input of the band is a typical range.
    """
    why = Sentence(_WHY_TYPICAL if typical else _WHY)
    level: Level = "note" if site.country.value == _NO_FORCE_LIMIT else "act"
    above = [each for each in limits if each.verdict == "above"]
    peaks = sum(each.quantity == "peak_force" for each in limits)
    for each in above:
        yield Finding(
            id=f"exposure.{each.quantity}",
            level=level,
            text=Sentence(_text(each, by_gap=peaks > 1), _values(band, each)),
            why=why,
            do=Sentence(
                N_(
                    "Slow the leaf, shorten its stop, or choose an edge with more overtravel; confirm by a force record."
                )
            ),
            facts=(measure_next,) if measure_next else (),
            place="bottom",
            sources=(each.source,),
        )
    if above:
        return
    peak = next(each for each in limits if each.quantity == "peak_force")
    known = all(each.verdict == "within" for each in limits)
    values = _values(band, peak)
    if known:
        text = N_(
            "Computed against the force gauge the closing leaf presses with {low} to {high} at its greatest, within the {limit} of the force standard."
        )
    else:
        text = N_(
            "Computed against the force gauge the closing leaf presses with {low} to {high} at its greatest; whether it stays within the {limit} and the times of the force standard is not known."
        )
    yield Finding(
        id="exposure.contact",
        level="good" if known else "note",
        text=Sentence(text, values),
        why=why,
        do=Sentence(N_("Measure the fact named under “what to ask next”, or take a force record.")),
        facts=(measure_next,) if measure_next else (),
        place="bottom",
        sources=(peak.source,),
    )


def _text(limit: JudgedLimit, *, by_gap: bool) -> str:
    """Of a leaf with gaps of both kinds it is said for which of them a limit holds."""
    if by_gap and limit.quantity == "peak_force":
        return _AT_GAPS[limit.id == WIDE_GAP_LIMIT]
    return _ABOVE[limit.quantity]


def _values(band: SpreadBand, limit: JudgedLimit) -> dict[str, object]:
    found = band.band(limit.quantity)
    ends = {"low": found.p5, "high": found.p95}
    shown = {name: _amount(end, limit) for name, end in ends.items()}
    return {**shown, "limit": Amount(limit.limit, limit.unit), "gap": Amount(SMALL_GAP, "m")}


def _amount(end: float | None, limit: JudgedLimit) -> Sentence | Amount:
    """An end of a band, with enough digits that it never reads like the limit it is not."""
    if end is None:
        return Sentence(N_("no end"))
    alike = end != limit.limit and show(end, limit.unit, "metric") == show(limit.limit, limit.unit, "metric")
    return Amount(end, limit.unit, digits=6 if alike else 3)
