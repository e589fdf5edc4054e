"""The chart of a contact: force over time of the middle case, the limits, and the band of the greatest force.

Drawn on the same canvas as an elevation; its lengths are millimetres of paper.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import floor, log10

from sillwright.base.display import rounded
from sillwright.base.words import N_, Amount, Reader, translate
from sillwright.drawing.shapes import Box, Circle, Drawing, Group, Line, Point, Polyline, Rect, Shape, Text
from sillwright.exposure.answer import Exposure
from sillwright.paper.voice import Voice

WIDTH, HEIGHT = 172.0, 74.0
PLOT = Box(16.0, 12.0, 108.0, 70.0)
LETTERS = 2.7
LASTING = 0.75  # seconds after the force first exceeded 150 N, EN 12453
PRESSED, FREE = 150.0, 25.0
MOST_POINTS = 600


@dataclass(frozen=True)
class _Scale:
    last: float  # seconds
    most: float  # newtons

    def x(self, seconds: float) -> float:
        return PLOT.left + PLOT.width * seconds / self.last

    def y(self, newtons: float) -> float:
        return PLOT.bottom + PLOT.height * newtons / self.most

    def at(self, seconds: float, newtons: float) -> Point:
        return self.x(seconds), self.y(newtons)


def contact_chart(exposure: Exposure, reader: Reader) -> Drawing | None:
    """The chart of an opening's contact; None where there is no record of a middle case."""
    trace = thinned(exposure.trace)
    if len(trace) < 2:
        return None
    scale = _scale(exposure, trace)
    say = Voice(reader)
    shown = tuple(scale.at(time, force) for time, force in trace if time <= scale.last)
    curve = Group(
        name="force",
        role="leaf",
        parts=(Polyline(points=shown),),
        title=say(N_("contact force of the middle case")),
    )
    parts = (
        _axes(scale, say),
        *_limits(exposure, scale, say),
        *_lasting(trace, scale, say),
        curve,
        *_band(exposure, scale, say),
    )
    title = say(N_("Contact force over time"))
    return Drawing(title=title, described=_described(exposure, say), parts=parts, metres_per_mm=1.0)


def thinned(trace: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """A record with at most so many points that a chart still shows every peak of it.

    >>> len(thinned([(n / 10000, float(n % 7)) for n in range(10000)])) <= MOST_POINTS + 2
    True
    """
    if len(trace) <= MOST_POINTS:
        return tuple(trace)
    step = -(-len(trace) // (MOST_POINTS // 2))
    kept: list[tuple[float, float]] = []
    for start in range(0, len(trace), step):
        part = trace[start : start + step]
        ends = {min(range(len(part)), key=lambda n: part[n][1]), max(range(len(part)), key=lambda n: part[n][1])}
        kept.extend(part[n] for n in sorted(ends))
    return (*kept, trace[-1])


def _scale(exposure: Exposure, trace: Sequence[tuple[float, float]]) -> _Scale:
    pressed = [time for time, force in trace if force > 1.0]
    ends = (pressed[-1] if pressed else trace[-1][0]) * 1.08
    begun = next((time for time, force in trace if force > PRESSED), None)
    last = max(ends, 0.2, begun + LASTING * 1.1 if begun is not None else 0.0)
    peak = max(force for _, force in trace)
    high = exposure.band.get("peak_force", {}).get("p95") or 0.0
    limits = [each.limit for each in exposure.limits if each.unit == "N"]
    return _Scale(last=last, most=max(peak, high, PRESSED, *limits) * 1.1)


def ticks(most: float, count: int = 6) -> tuple[float, ...]:
    """Round numbers from 0 to ``most``, about so many.

    >>> ticks(1.3), ticks(900)
    ((0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2), (0.0, 200.0, 400.0, 600.0, 800.0))
    """
    raw = most / count
    power = 10.0 ** floor(log10(raw))
    step = next(n * power for n in (1, 2, 5, 10) if n * power >= raw * 0.8)
    return tuple(round(n * step, 9) for n in range(int(most / step + 1e-9) + 1))


def _axes(scale: _Scale, say: Voice) -> Group:
    left, bottom = PLOT.left, PLOT.bottom
    parts: list[Shape] = [Polyline(points=((left, PLOT.top), (left, bottom), (PLOT.right, bottom)))]
    for value in ticks(scale.last):
        x = scale.x(value)
        parts.append(Line(start=(x, bottom), end=(x, bottom - 1.2)))
        parts.append(Text(x=x, y=bottom - 4.4, words=rounded(value), size=LETTERS, anchor="middle"))
    for value in ticks(scale.most):
        y = scale.y(value)
        parts.append(Line(start=(left, y), end=(left - 1.2, y)))
        parts.append(Text(x=left - 1.8, y=y - 0.9, words=rounded(value), size=LETTERS, anchor="end"))
    across = Text(x=PLOT.x, y=bottom - 9, words=say(N_("time from the touch, s")), size=LETTERS, anchor="middle")
    up = Text(x=3.2, y=PLOT.y, words=say(N_("contact force, N")), size=LETTERS, anchor="middle", turned=True)
    return Group(name="axes", role="structure", parts=(*parts, across, up), title=say(N_("axes")))


def _limits(exposure: Exposure, scale: _Scale, say: Voice) -> Iterator[Group]:
    lines = [(PRESSED, say(N_("150 N")), "line.150"), (FREE, say(N_("25 N")), "line.25")]
    for limit in exposure.limits:
        if limit.quantity == "peak_force":
            words = say(N_("peak limit {force} N"), force=rounded(limit.limit))
            lines.append((limit.limit, words, "limit.peak"))
    free = PLOT.top + 1.0
    for newtons, words, name in sorted(lines, reverse=True):
        y = scale.y(newtons)
        at = min(y - 0.9, free)
        free = at - LETTERS * 1.25
        line = Line(start=(PLOT.left, y), end=(PLOT.right, y), hidden=name != "limit.peak")
        joint = Line(start=(PLOT.right, y), end=(PLOT.right + 2.2, at + 0.9))
        label = Text(x=PLOT.right + 2.8, y=at, words=words, size=LETTERS, bold=name == "limit.peak")
        yield Group(name=name, role="note", parts=(line, joint, label), title=words)


def _lasting(trace: Sequence[tuple[float, float]], scale: _Scale, say: Voice) -> Iterator[Group]:
    begun = next((time for time, force in trace if force > PRESSED), None)
    if begun is None:
        return
    x = scale.x(begun + LASTING)
    words = say(N_("0.75 s after 150 N"))
    line = Line(start=(x, PLOT.bottom), end=(x, PLOT.top - 3.2), hidden=True)
    label = Text(x=min(x, PLOT.right - 13), y=PLOT.top - 2.2, words=words, size=LETTERS, anchor="middle")
    yield Group(name="mark.lasting", role="note", parts=(line, label), title=words)


def _band(exposure: Exposure, scale: _Scale, say: Voice) -> Iterator[Group]:
    band = exposure.band.get("peak_force", {})
    low, middle, high = (band.get(name) for name in ("p5", "p50", "p95"))
    if low is None or middle is None or high is None:
        return
    x = 147.0
    bar = Rect(x=x - 2, y=scale.y(low), width=4, height=max(scale.y(high) - scale.y(low), 0.2), fill="shade")
    tick = Line(start=(x - 3, scale.y(middle)), end=(x + 3, scale.y(middle)))
    dot = Circle(x=x, y=scale.y(middle), radius=0.8, fill="ink")
    shown = ((high, N_("95 of 100 below")), (middle, N_("middle")), (low, N_("5 of 100 below")))
    labels: list[Shape] = []
    free = PLOT.top + 2.0
    for newtons, template in shown:
        at = min(scale.y(newtons) + 0.4, free)
        labels.append(Text(x=x + 4, y=at, words=f"{rounded(newtons)} N", size=LETTERS, bold=True))
        labels.append(Text(x=x + 4, y=at - LETTERS * 1.15, words=say(template), size=LETTERS * 0.9))
        free = at - LETTERS * 2.6
    words = say(N_("band of the greatest force"))
    head = Text(x=x + 4, y=PLOT.bottom - 9, words=words, size=LETTERS, anchor="middle")
    yield Group(name="band", role="structure", parts=(bar, tick, dot, *labels, head), title=words)


def _described(exposure: Exposure, say: Voice) -> str:
    peak = exposure.contact.get("peak_force")
    parts = [say(N_("Contact force over time of the middle case."))]
    if peak is not None:
        parts.append(say(N_("Greatest force {force}."), force=Amount(float(peak), "N")))
    band = exposure.band.get("peak_force", {})
    low, high = band.get("p5"), band.get("p95")
    if low is not None and high is not None:
        said = N_("Band of the greatest force from {low} to {high}.")
        parts.append(say(said, low=Amount(low, "N"), high=Amount(high, "N")))
    for limit in exposure.limits:
        if limit.quantity == "peak_force":
            verdict = translate(limit.verdict, say.reader)
            said = N_("Peak limit {limit}: {verdict}.")
            parts.append(say(said, limit=Amount(limit.limit, limit.unit), verdict=verdict))
    return " ".join(parts)
