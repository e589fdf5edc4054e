"""A contact: force over time, force over travel, and the leaf from the side."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass

from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.drawing.shapes import Drawing, Group, Line, Polyline, Rect, Text
from sillwright.mechanics import ContactResult, force_limits
from sillwright.paper.chart import FREE, LASTING, PRESSED
from sillwright.web.workbench.amounts import Scale, axis_scale, shown
from sillwright.web.workbench.charts.plot import LETTERS, Axis, Chart, Plot, chart_of

MOST_FRAMES = 240
NEWTONS = Scale("N", 1.0)


@dataclass(frozen=True)
class Frame:
    """One moment of a contact: time, force, place of the leaf, how far the obstruction gives; SI."""

    time: float
    force: float
    place: float
    gives: float


def frames_of(result: ContactResult) -> list[Frame]:
    """The record in so few moments that a page can carry it; of each stretch the ends of its force are kept."""
    trace = result.trace
    if trace is None or len(trace.time) < 2:
        return []
    last = bisect_left(trace.time, _shown_until(result))
    count = max(2, min(last + 1, len(trace.time)))
    step = -(-count // (MOST_FRAMES // 2))
    kept = {0, count - 1}
    for start in range(0, count, step):
        part = range(start, min(start + step, count))
        kept |= {min(part, key=trace.force.__getitem__), max(part, key=trace.force.__getitem__)}
    stiffness = result.case.obstruction.stiffness
    return [
        Frame(
            trace.time[at],
            trace.force[at],
            trace.position[at],
            0.0 if stiffness is None else trace.force[at] / stiffness,
        )
        for at in sorted(kept)
    ]


def _shown_until(result: ContactResult) -> float:
    """To a little after the last touch, and to 0.75 s after the force has passed 150 N."""
    trace = result.trace
    assert trace is not None  # noqa: S101 (asked by frames_of)
    ends = result.contact_duration or trace.time[-1]
    begun = _begun(result)
    return min(trace.time[-1], max(ends * 1.08, 0.2, 0.0 if begun is None else begun + LASTING * 1.1))


def _begun(result: ContactResult) -> float | None:
    trace = result.trace
    pairs = zip(trace.time, trace.force, strict=True) if trace else ()
    return next((time for time, force in pairs if force > PRESSED), None)


def force_over_time(result: ContactResult, frames: list[Frame], reader: Reader) -> Chart:
    """The force from the touch on, with the numbers of the force standard as lines."""
    limit = next(each.number for each in force_limits() if each.id == "fd-400")
    high = max(result.peak_force, PRESSED, limit if limit < 2.5 * result.peak_force else 0.0) * 1.12
    last = frames[-1].time
    across = Axis(_("time from the touch"), 0.0, last, axis_scale("s", last, reader))
    plot = Plot(across, Axis(_("contact force"), 0.0, high, NEWTONS))
    lines = [("line.25", FREE, _("25 N")), ("line.150", PRESSED, _("150 N")), ("limit.peak", limit, _("400 N"))]
    words = shown(result.peak_force, "N", reader)
    parts = (
        plot.frame(_("axes")),
        *plot.uprights(list(_events(result, last))),
        *plot.levels([each for each in lines if each[1] <= high]),
        plot.curve("force", _("contact force"), [(each.time, each.force) for each in frames]),
        plot.dot("peak", result.peak_time, result.peak_force, words),
    )
    said = _("Greatest force {force}, {time} after the touch.")
    described = said.format(force=words, time=shown(result.peak_time, "s", reader))
    return chart_of(plot, _("Contact force over time"), described, parts)


def _events(result: ContactResult, last: float) -> Iterator[tuple[str, float, str]]:
    begun = _begun(result)
    found = (
        ("answers", result.actuation_time, _("edge answers")),
        ("lasting", None if begun is None else begun + LASTING, _("0.75 s after 150 N")),
        ("parts", result.contact_duration, _("lets go")),
    )
    return ((f"mark.{name}", time, words) for name, time, words in found if time is not None and time <= last)


def force_over_travel(result: ContactResult, reader: Reader) -> Chart:
    """The force over the travel of the leaf: what edge and obstruction together give."""
    trace = result.trace
    law = sorted(set(zip(trace.position, trace.force, strict=True))) if trace else []
    furthest = max(law[-1][0], 1e-6) * 1.08
    high = max(result.peak_force, PRESSED) * 1.12
    across = Axis(_("travel of the leaf from the touch"), 0.0, furthest, axis_scale("m", furthest, reader))
    plot = Plot(across, Axis(_("contact force"), 0.0, high, NEWTONS))
    parts = (
        plot.frame(_("axes")),
        *plot.uprights(list(_answers(result))),
        *plot.levels([("line.150", PRESSED, _("150 N"))]),
        plot.curve("force", _("contact force"), thinned([(0.0, 0.0), *(each for each in law if each[0] > 0)])),
        plot.dot("peak", law[-1][0], result.peak_force, shown(result.peak_force, "N", reader)),
    )
    said = _("Greatest force {force} at a travel of {travel}.")
    described = said.format(force=shown(result.peak_force, "N", reader), travel=shown(law[-1][0], "m", reader))
    return chart_of(plot, _("Contact force over the travel of the leaf"), described, parts)


def _answers(result: ContactResult) -> Iterator[tuple[str, float, str]]:
    if result.actuation_time is not None and result.trace is not None:
        at = bisect_left(result.trace.time, result.actuation_time)
        yield "mark.answers", result.trace.position[min(at, len(result.trace.position) - 1)], _("edge answers")


def thinned(law: list[tuple[float, float]], most: int = 120) -> list[tuple[float, float]]:
    """Points of a curve that bends only here and there, evenly spread; the last one is kept.

    >>> thinned([(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)], most=2)
    [(0.0, 0.0), (2.0, 2.0), (3.0, 3.0)]
    """
    step = -(-len(law) // most)
    return law[::step] if law[::step][-1] == law[-1] else [*law[::step], law[-1]]


SIDE_WIDTH, SIDE_HEIGHT = 70.0, 84.0
TOUCH = 46.0
"""The height at which leaf and obstruction meet, in the side view."""
TALLEST = 26.0


@dataclass(frozen=True)
class Side:
    """The view from the side, and how many of its units a metre is."""

    drawing: Drawing
    per_metre: float


def side_view(result: ContactResult, frames: list[Frame]) -> Side:
    """Leaf, edge and obstruction at the touch. A script moves the groups by these names."""
    edge = result.case.edge
    needed = max(*(each.place for each in frames), *(each.gives for each in frames), 0.005)
    tall = max(edge.curve[-1][0], result.peak_edge_travel) * 1.3 if edge else 0.0
    per_metre = TALLEST / max(tall, needed * 1.1)
    height = tall * per_metre
    paper = Rect(x=0.0, y=0.0, width=SIDE_WIDTH, height=SIDE_HEIGHT, fill="blank")
    found = Drawing(
        title=_("Leaf, edge and obstruction from the side"),
        described=_("The leaf comes from above; what it meets stands on the floor."),
        parts=(Group(name="", role="dimension", parts=(paper,)), *_bodies(height), _names(height)),
        metres_per_mm=1.0,
    )
    return Side(found, per_metre)


def _bodies(height: float) -> Iterator[Group]:
    """Floor, obstruction, leaf, and an edge of this height where there is one."""
    left, right, top = 25.0, 45.0, TOUCH + height
    floor = Line(start=(2.0, 4.0), end=(SIDE_WIDTH - 2, 4.0))
    yield Group(name="floor", role="structure", parts=(floor,), title=_("floor"))
    block = Rect(x=left - 7, y=4.0, width=34.0, height=TOUCH - 4, fill="paper")
    yield Group(name="obstruction", role="structure", parts=(block,), title=_("what the leaf meets"))
    leaf = Rect(x=left + 5, y=top, width=10.0, height=SIDE_HEIGHT - 4 - top, fill="shade")
    yield Group(name="leaf", role="leaf", parts=(leaf,), title=_("leaf"))
    if height:
        middle = TOUCH + height / 2
        outline = (
            (left + 5, top), (left + 2, middle), (left + 6, TOUCH),
            (right - 6, TOUCH), (right - 2, middle), (right - 5, top),
        )  # fmt: skip
        shape = Polyline(points=outline, closed=True, fill="paper")
        yield Group(name="edge", role="device", parts=(shape,), title=_("sensing edge"))


def _names(height: float) -> Group:
    labels = (
        Text(x=2.0, y=SIDE_HEIGHT - 9, words=_("leaf"), size=LETTERS),
        *((Text(x=2.0, y=TOUCH + 6, words=_("edge"), size=LETTERS),) if height else ()),
        Text(x=21.0, y=7.0, words=_("obstruction"), size=LETTERS),
    )
    return Group(name="names", role="note", parts=labels)
