"""What a meter shows at a device, as rows of a table: one a state, a column a place."""

from __future__ import annotations

from collections.abc import Sequence

from sillwright.base.words import N_, Amount, Sentence
from sillwright.hookup.answer import Expected
from sillwright.paper.voice import Voice

READINGS_HEAD = (
    N_("State"),
    N_("at the operator"),
    N_("at the box"),
    N_("at the edge"),
    N_("volts at the input"),
)
SHORT_HEAD = (N_("State"), N_("the meter shows"))
BETWEEN = {
    "pair": "",
    "strips": N_("between the strips"),
    "strip": "",
    "reversed": N_("probes the other way round"),
}


def readings_rows(expected: Sequence[Expected], voice: Voice) -> list[list[str]]:
    """One row a state: what a meter shows at each place, or what it does in words alone."""
    rows: dict[tuple[str, str, str], dict[str, Expected]] = {}
    for each in expected:
        words = voice.of(each.words)
        rows.setdefault((each.id, each.between, "" if each.low is not None else words), {})[each.at] = each
    return [_row(next(iter(row.values())), row, voice) for row in rows.values()]


def short_rows(expected: Sequence[Expected], voice: Voice) -> list[list[str]]:
    """One row a state for a narrow page: the places side by side only where they differ by more than wires do.

    What a sound device shows comes first, then what is wrong.
    """
    ordered = sorted(expected, key=lambda each: not each.good)
    return [_short(row, voice) for row in readings_rows(ordered, voice)]


def _short(row: list[str], voice: Voice) -> list[str]:
    state, *places, volts = row
    told = [each for each in places if each not in {"", "–"}]
    if len(set(told)) > 1:
        words = N_("{operator} at the operator, {box} at the box, {edge} at the edge")
        shown = voice(words, operator=places[0], box=places[1], edge=places[2])
    else:
        shown = told[0] if told else "–"
    if volts not in {"", "–"}:
        shown = voice(N_("{ohms}; wired and powered {volts}"), ohms=shown, volts=volts)
    return [state, shown]


def _row(first: Expected, row: dict[str, Expected], voice: Voice) -> list[str]:
    state = voice.of(first.state)
    between = BETWEEN[first.between]
    if between:
        state = voice(N_("{state}, {between}"), state=state, between=Sentence(between))
    if first.low is None:
        return [state, voice.of(first.words), "", "", ""]
    cells = [_band(row.get(at) or row.get("anywhere"), voice) for at in ("operator", "box", "edge")]
    volts = next((each.volts for each in row.values() if each.volts is not None), None)
    return [state, *cells, _volts(volts, voice)]


def _band(each: Expected | None, voice: Voice) -> str:
    """Two values, or a bound: what lies below or above it."""
    if each is None or each.low is None:
        return "–"
    if each.high is None:
        return voice(N_("above {low}"), low=Amount(each.low, "ohm"))
    if each.low < 1.0:
        return voice(N_("below {high}"), high=Amount(each.high, "ohm"))
    low, high = Amount(each.low, "ohm"), Amount(each.high, "ohm")
    return voice(N_("{low} to {high}"), low=low, high=high)


def _volts(volts: tuple[float, float] | None, voice: Voice) -> str:
    if volts is None:
        return "–"
    low, high = (f"{each:.2f}" if each < 10 else f"{each:.1f}" for each in volts)
    return voice(N_("{low} to {high} V"), low=low, high=high)
