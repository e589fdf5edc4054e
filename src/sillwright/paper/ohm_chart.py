"""The chart of ohm readings over the years: the band of a sound edge, the warning, the trip, and the trend.

Drawn on the same canvas as an elevation; its lengths are millimetres of paper.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from sillwright.base.display import show
from sillwright.base.words import N_, Amount, Reader
from sillwright.circuit.bands import table
from sillwright.circuit.ohm_trend import MONTH, OhmTrend
from sillwright.drawing.shapes import Box, Circle, Drawing, Group, Line, Point, Polyline, Rect, Shape, Text
from sillwright.paper.chart import ticks
from sillwright.paper.voice import Voice
from sillwright.study.ohms import OhmHistory, months_after

PLOT = Box(15.0, 9.0, 70.0, 48.0)
LETTERS = 2.7
AHEAD = 1.5
"""How far beyond the readings the line is drawn, in their own span; what lies further is told in words."""
LEAST_AHEAD = 12.0  # months
YEARS = 540  # days from which the time is marked in years


@dataclass(frozen=True)
class _Scale:
    first: date
    last: date
    most: float  # ohm

    def x(self, day: date) -> float:
        return PLOT.left + PLOT.width * (day - self.first).days / max(1, (self.last - self.first).days)

    def y(self, ohm: float) -> float:
        return PLOT.bottom + PLOT.height * min(max(ohm, 0.0), self.most) / self.most

    def at(self, day: date, ohm: float) -> Point:
        return self.x(day), self.y(ohm)


def ohm_chart(history: OhmHistory, reader: Reader) -> Drawing | None:
    """The chart of a device's readings; None where there are not two days of them, or no end element to compare."""
    trend, element = history.trend, history.element
    if trend is None or element is None or len({each.on for each in trend.rows}) < 2:
        return None
    say, scale = Voice(reader), _scale(trend, element)
    dots = tuple(Circle(x=scale.x(each.on), y=scale.y(each.ohm), radius=0.9, fill="ink") for each in trend.rows)
    parts = (
        _sound(element, scale, say),
        _axes(scale, say),
        *_lines(trend, element, scale, say),
        *_line(trend, scale, say),
        Group(name="readings", role="leaf", parts=dots, title=say(N_("readings at rest"))),
    )
    title = say(N_("Ohm readings of {device}"), device=history.name)
    return Drawing(title=title, described=_described(history, trend, say), parts=parts, metres_per_mm=1.0)


def _scale(trend: OhmTrend, element: float) -> _Scale:
    days = [each.on for each in trend.rows]
    span = max(LEAST_AHEAD, (days[-1] - days[0]).days / MONTH * AHEAD)
    ahead = span / 6 if trend.months is None else min(trend.months * 1.05 + 1, span)
    highest = max(element * 1.25, *(each.ohm * 1.1 for each in trend.rows))
    return _Scale(first=days[0], last=days[-1] + timedelta(days=ahead * MONTH), most=min(highest, element * 3.5))


def _sound(element: float, scale: _Scale, say: Voice) -> Group:
    low, high = (share * element for share in table("element")["good"])
    bottom, top = scale.y(low), scale.y(high)
    band = Rect(x=PLOT.left, y=bottom, width=PLOT.width, height=top - bottom, fill="shade")
    return Group(name="band.good", role="dimension", parts=(band,), title=say(N_("as it should be")))


def _axes(scale: _Scale, say: Voice) -> Group:
    left, bottom = PLOT.left, PLOT.bottom
    parts: list[Shape] = [Polyline(points=((left, PLOT.top), (left, bottom), (PLOT.right, bottom)))]
    for ohm in ticks(scale.most, 5):
        y = scale.y(ohm)
        words = show(ohm, "ohm", say.reader.units)
        parts.append(Line(start=(left, y), end=(left - 1.2, y)))
        parts.append(Text(x=left - 1.8, y=y - 0.9, words=words, size=LETTERS, anchor="end"))
    free = -1e9
    for day, words in _days(scale):
        x = scale.x(day)
        parts.append(Line(start=(x, bottom), end=(x, bottom - 1.2)))
        if x - free > 4.5 * LETTERS:
            parts.append(Text(x=x, y=bottom - 4.4, words=words, size=LETTERS, anchor="middle"))
            free = x
    return Group(name="axes", role="structure", parts=tuple(parts), title=say(N_("axes")))


def _days(scale: _Scale) -> Iterator[tuple[date, str]]:
    """The first days of the years, or of the months, that lie on the axis."""
    if (scale.last - scale.first).days > YEARS:
        for year in range(scale.first.year + 1, scale.last.year + 1):
            yield date(year, 1, 1), str(year)
        return
    month = scale.first.year * 12 + scale.first.month
    while (day := date(month // 12, month % 12 + 1, 1)) <= scale.last:
        yield day, f"{day.year}-{day.month:02}"
        month += 1


def _lines(trend: OhmTrend, element: float, scale: _Scale, say: Voice) -> Iterator[Group]:
    """The warning and the trip, on the side to which the readings go; below where they go nowhere."""
    edges = table("element")
    rises = (trend.ohm_per_month or 0.0) > 0 and trend.sure
    trips = trend.trips if trend.trips is not None and trend.sure else element * edges["trips"]
    warns = element * edges["look" if rises else "damp"]
    reads = N_("reads open") if rises else N_("reads pressed")
    for name, ohm, words in (("line.warns", warns, N_("warning")), ("line.trips", trips, reads)):
        if ohm > scale.most:
            continue
        y = scale.y(ohm)
        line = Line(start=(PLOT.left, y), end=(PLOT.right, y), hidden=name == "line.warns")
        said = f"{show(ohm, 'ohm', say.reader.units)}"
        labels = (
            Text(x=PLOT.right + 1.4, y=y + 0.2, words=said, size=LETTERS, bold=True),
            Text(x=PLOT.right + 1.4, y=y - 2.9, words=say.word(words), size=LETTERS),
        )
        yield Group(name=name, role="structure", parts=(line, *labels), title=say.word(words))


def _line(trend: OhmTrend, scale: _Scale, say: Voice) -> Iterator[Group]:
    """The line through the readings, and on to where it trips; only where it is more than chance."""
    if not trend.sure or trend.here is None or trend.ohm_per_month is None:
        return
    newest = trend.rows[-1].on
    back = (newest - trend.rows[0].on).days / MONTH
    ahead = (scale.last - newest).days / MONTH
    if trend.months is not None:
        ahead = min(ahead, trend.months)
    start = scale.at(trend.rows[0].on, trend.here - trend.ohm_per_month * back)
    now = scale.at(newest, trend.here)
    end = scale.at(newest + timedelta(days=ahead * MONTH), trend.here + trend.ohm_per_month * ahead)
    parts = (Line(start=start, end=now), Line(start=now, end=end, hidden=True))
    yield Group(name="trend", role="structure", parts=parts, title=say(N_("trend of the readings")))


def _described(history: OhmHistory, trend: OhmTrend, say: Voice) -> str:
    first, last = trend.rows[0], trend.rows[-1]
    words = N_("Ohm readings of {device}: {count}, from {first} on {day} to {last} on {newest}.")
    parts = [
        say(
            words,
            device=history.name,
            count=len(trend.rows),
            first=Amount(first.ohm, "ohm"),
            day=first.on,
            last=Amount(last.ohm, "ohm"),
            newest=last.on,
        )
    ]
    if trend.sure and trend.months is not None:
        said = N_("The line through them reaches {trips} about {month}.")
        parts.append(say(said, trips=Amount(trend.trips or 0.0, "ohm"), month=months_after(last.on, trend.months)))
    return " ".join(parts)
