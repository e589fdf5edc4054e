"""What the ohm readings of a device warn of: months before an input takes the loop for a press, or for open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from sillwright.base.finding import Finding, Level
from sillwright.base.words import N_, Amount, Sentence
from sillwright.circuit.bands import DEEDS, WORDS
from sillwright.circuit.ohm_trend import SOURCES, OhmTrend
from sillwright.study.ohms import OhmHistory, ReadOhms, months_after

SOON = 12.0
"""Months within which something is to be done rather than watched."""
FALLS = N_(
    "The readings of {device} fall by {slope} a year, to {last} on {on}. At that pace they reach {trips}, where "
    "the input reads pressed, about {month}; {earliest} at the earliest."
)
RISES = N_(
    "The readings of {device} rise by {slope} a year, to {last} on {on}. At that pace they reach {trips}, where "
    "the input reads open, about {month}; {earliest} at the earliest."
)
DRY = N_("Open the box and the low end of the edge, look and dry before then, and read again at the next visit.")
JOINTS = N_("Move the cord and the splices while you read, before then: where it jumps, there is the joint.")
WARNS = N_("Below {warns} it is damp: a warning, months before the leaf stops closing.")
WARNS_HIGH = N_("Above {warns} there is a bad joint somewhere: a warning, before the leaf stops closing.")
SEEN = {"duty.reading", "ASK-9"}
"""Findings that speak of a single reading already."""


def ohm_findings(histories: Iterable[OhmHistory], already: Iterable[Finding] = ()) -> Iterator[Finding]:
    """A finding for every device whose readings fall or rise towards a trip, or whose last reading is off.

    What another finding says of the last reading is not said again; a trend is said all the same.
    """
    told = tuple(already)
    for each in histories:
        last, trend = each.last, each.trend
        if last is None or trend is None:
            continue
        if trend.sure and trend.months is not None and trend.rows:
            yield _of_trend(each, trend, trend.months, told)
        elif not _said(each, last, told):
            yield from _of_last(each, last)


def _of_trend(history: OhmHistory, trend: OhmTrend, months: float, told: tuple[Finding, ...]) -> Finding:
    falls, newest = (trend.ohm_per_month or 0.0) < 0, trend.rows[-1]
    earliest = months if trend.months_least is None else trend.months_least
    near = earliest <= SOON or (trend.band in {"wet", "trips", "open"})
    values = {
        "device": history.name,
        "slope": Amount(abs(trend.ohm_per_month or 0.0) * 12, "ohm", 2),
        "last": Amount(newest.ohm, "ohm"),
        "on": newest.on,
        "trips": Amount(trend.trips or 0.0, "ohm"),
        "month": months_after(newest.on, months),
        "earliest": months_after(newest.on, earliest),
        "warns": Amount(trend.warns or 0.0, "ohm"),
    }
    return _found(
        history,
        "act" if near else "note",
        FALLS if falls else RISES,
        values,
        why=WARNS if falls else WARNS_HIGH,
        do=DRY if falls else JOINTS,
    )


def _of_last(history: OhmHistory, last: ReadOhms) -> Iterator[Finding]:
    if last.band is None or last.band in {"good", "dry"}:
        return
    values: dict[str, Any] = {
        "device": history.name,
        "last": Amount(last.ohm, "ohm"),
        "on": str(last.on),
        "element": Amount(history.element or 0.0, "ohm"),
        "band": Sentence(WORDS[last.band]),
    }
    yield _found(
        history,
        "note" if last.band in {"damp", "look"} else "act",
        N_("{device} read {last} on {on}, with an end element of {element}: {band}."),
        values,
        do=DEEDS[last.band],
    )


def _said(history: OhmHistory, last: ReadOhms, told: tuple[Finding, ...]) -> bool:
    """Whether a finding speaks of the last reading already."""
    return any(
        each.id in SEEN and (last.fact in each.facts or (each.id != "ASK-9" and each.place == history.device))
        for each in told
    )


def _found(
    history: OhmHistory, level: Level, text: str, values: dict[str, Any], *, do: str, why: str | None = None
) -> Finding:
    last = history.last
    return Finding(
        id="hookup.ohms",
        level=level,
        text=Sentence(text, values),
        why=Sentence(why, values) if why else None,
        do=Sentence(do, values),
        facts=tuple(
            dict.fromkeys(path for path in (last.fact if last else "", f"{history.device}.resistance") if path)
        ),
        place=history.device if "[" not in history.device else None,
        sources=SOURCES,
    )
