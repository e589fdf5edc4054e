"""The wiring of a device as a list for a narrow page: which terminal goes to which wire, and by what way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest
from typing import Any

from sillwright.base.words import N_
from sillwright.hookup.answer import Point, Run, Wiring
from sillwright.paper.voice import Voice

TERMINALS = {"operator", "converter"}
"""Points whose ends are terminals; elsewhere they are wires."""


def connections(sheet: Wiring, voice: Voice) -> dict[str, Any]:
    """The stretches from the operator to the far end, each with its way and its ends; what to mind, what is open.

    A box hands every wire on: it stands in the way of a stretch. A converter ends one stretch and begins the next.
    """
    drawn = sheet.way != "not_joinable"
    return {
        "stretches": [_stretch(*each, voice) for each in _stretches(sheet)] if drawn else [],
        "mind": [voice.of(each) for each in sheet.remarks],
        "open": [voice.of(each) for each in sheet.questions],
    }


def _stretches(sheet: Wiring) -> Iterator[tuple[Sequence[Point], Sequence[Run]]]:
    """The points and runs of each stretch: it ends where something other than a box stands."""
    start = 0
    for at, point in enumerate(sheet.points):
        if at > start and not _hands_on(point, sheet):
            yield sheet.points[start : at + 1], sheet.runs[start:at]
            start = at


def _hands_on(point: Point, sheet: Wiring) -> bool:
    return point.id == "box" and point.behind == point.terminals and point is not sheet.points[-1]


def _stretch(points: Sequence[Point], runs: Sequence[Run], voice: Voice) -> dict[str, Any]:
    first, last = points[0], points[-1]
    way = [voice.of(runs[0].words)]
    for point, run in zip(points[1:-1], runs[1:], strict=True):
        way += [_called(point, voice), voice.of(run.words)]
    return {
        "from": voice.of(first.title),
        "of": [voice.of(each) for each in first.notes],
        "to": voice.of(last.title),
        "into": [voice.of(each) for each in last.notes],
        "way": way,
        "pairs": list(_pairs(first, last, runs[-1], voice)),
    }


def _called(point: Point, voice: Voice) -> str:
    return ", ".join([voice.of(point.title), *(voice.of(each) for each in point.notes)])


def _pairs(first: Point, last: Point, run: Run, voice: Voice) -> Iterator[tuple[str, str]]:
    """Both ends of every conductor, in their order; none of a hose or of radio."""
    if run.kind in {"radio", "hose"}:
        return
    ends = zip_longest(first.behind or first.terminals, last.terminals, fillvalue="")
    for number, (one, other) in enumerate(ends, start=1):
        yield _end(first, one, number, voice), _end(last, other, number, voice)


def _end(point: Point, name: str, number: int, voice: Voice) -> str:
    if point.id in TERMINALS:
        named, unnamed = N_("terminal {name}"), N_("terminal {number}, name not known")
    else:
        named, unnamed = N_("wire {name}"), N_("wire {number}, colour not known")
    return voice(named, name=name) if name else voice(unnamed, number=number)
