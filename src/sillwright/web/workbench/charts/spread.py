"""Bands of a contact with ranges: from 5 to 95 of 100, with the middle and the number of the standard."""

from __future__ import annotations

from collections.abc import Iterator

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from sillwright.base.display import rounded
from sillwright.base.words import Reader
from sillwright.drawing.lettering import width_of
from sillwright.drawing.shapes import Drawing, Group, Line, Rect, Shape, Text
from sillwright.mechanics import Band, force_limits
from sillwright.mechanics.model import ContactSpreadResult
from sillwright.web.workbench.amounts import shown
from sillwright.web.workbench.charts.plot import LETTERS, WIDTH, round_numbers
from sillwright.web.workbench.choices import Words

SHOWN = {
    "N": ("peak_force", "lasting_force", "end_force"),
    "s": ("contact_duration", "time_above_150", "time_above_25"),
}
TITLES: dict[str, Words] = {
    "peak_force": gettext_lazy("Greatest force"),
    "lasting_force": gettext_lazy("Force after 0.75 s"),
    "end_force": gettext_lazy("Force at the end"),
    "contact_duration": gettext_lazy("Touching"),
    "time_above_150": gettext_lazy("Above 150 N"),
    "time_above_25": gettext_lazy("Above 25 N"),
}
LIMITS = {"lasting_force": "fs", "time_above_150": "td", "time_above_25": "tt"}
REST = 25.0
LEFT, RIGHT, ROW = 4.0, 112.0, 17.0


def band_chart(result: ContactSpreadResult, unit: str, reader: Reader) -> Drawing:
    """The outcomes of one unit, a row each, on one axis."""
    rows = [result.band(name) for name in SHOWN[unit]]
    limits = {each.name: _limit(result, each.name) for each in rows}
    numbers = [each.p95 for each in rows if each.p95 is not None] + [each for each in limits.values() if each]
    most = max(numbers, default=1.0) * 1.08 or 1.0
    height = ROW * len(rows) + 13
    parts = [_axis(most, unit)]
    for at, band in enumerate(rows):
        y = 15.0 + ROW * (len(rows) - 1 - at)
        parts.append(_row(band, str(TITLES[band.name]), limits[band.name], y, most, reader))
    paper = Rect(x=0.0, y=0.0, width=WIDTH, height=height + 2, fill="blank")
    title = _("Bands of the forces") if unit == "N" else _("Bands of the times")
    described = "; ".join(_said(each, str(TITLES[each.name]), reader) for each in rows)
    return Drawing(
        title=title,
        described=described,
        parts=(Group(name="", role="dimension", parts=(paper,)), *parts),
        metres_per_mm=1.0,
    )


def _limit(result: ContactSpreadResult, name: str) -> float | None:
    if name == "peak_force":
        return result.case.peak_limit
    if name == "end_force":
        return REST
    return next((each.number for each in force_limits() if each.id == LIMITS.get(name)), None)


def _x(value: float, most: float) -> float:
    return LEFT + (RIGHT - LEFT) * value / most


def _axis(most: float, unit: str) -> Group:
    parts: list[Shape] = [Line(start=(LEFT, 9.0), end=(RIGHT, 9.0))]
    for value in round_numbers(0.0, most):
        x = _x(value, most)
        parts.append(Line(start=(x, 9.0), end=(x, 7.6)))
        parts.append(Text(x=x, y=3.0, words=rounded(value, 4), size=LETTERS, anchor="middle"))
    parts.append(Text(x=WIDTH, y=9.6, words=unit, size=LETTERS, anchor="end", bold=True))
    return Group(name="axes", role="structure", parts=tuple(parts), title=_("axes"))


def _row(band: Band, title: str, limit: float | None, y: float, most: float, reader: Reader) -> Group:
    parts: list[Shape] = [Text(x=LEFT, y=y + 6.6, words=title, size=LETTERS, bold=True)]
    parts += _bar(band, y, most, reader)
    if limit is not None:
        x = _x(limit, most)
        parts.append(Line(start=(x, y - 1.5), end=(x, y + 5.5), hidden=True))
        words = _("limit {limit}").format(limit=f"{rounded(limit)} {band.unit}")
        parts.append(Text(x=RIGHT, y=y + 6.6, words=words, size=LETTERS * 0.9, anchor="end"))
    return Group(name=f"band.{band.name}", role="leaf", parts=tuple(parts), title=_said(band, title, reader))


def _bar(band: Band, y: float, most: float, reader: Reader) -> Iterator[Shape]:
    if band.p5 is None or band.p50 is None:
        yield Text(x=LEFT, y=y, words=_("has no end in most cases"), size=LETTERS)
        return
    low, middle = _x(band.p5, most), _x(band.p50, most)
    high = _x(band.p95, most) if band.p95 is not None else RIGHT
    yield Rect(x=low, y=y, width=max(high - low, 0.4), height=3.6, fill="shade")
    yield Line(start=(middle, y - 1.0), end=(middle, y + 4.6))
    words = shown(band.p95, band.unit, reader).partition(" (")[0] if band.p95 else ""
    if high + 1.5 + width_of(words) * LETTERS < WIDTH:
        yield Text(x=high + 1.5, y=y + 0.4, words=words, size=LETTERS * 0.9)


def _said(band: Band, title: str, reader: Reader) -> str:
    ends = [_("never") if end is None else shown(end, band.unit, reader) for end in (band.p5, band.p50, band.p95)]
    words = _("{title}: 5 of 100 below {low}, half below {middle}, 95 of 100 below {high}")
    return words.format(title=title, low=ends[0], middle=ends[1], high=ends[2])
