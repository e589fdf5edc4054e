"""A result over one varied input, with the present case marked."""

from __future__ import annotations

from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.drawing.shapes import Drawing, Group
from sillwright.mechanics import force_limits
from sillwright.takeoff.lengths.measures import number
from sillwright.web.workbench.amounts import axis_scale, shown
from sillwright.web.workbench.charts.plot import TALL, Axis, Plot, chart_of
from sillwright.web.workbench.vary import Curve

LIMITED = {"peak_force": "fd-400", "lasting_force": "fs", "time_above_150": "td", "time_above_25": "tt"}
CONTACTS = {"contact", "contact_spread"}
STRIPS = {"dead_left", "dead_right"}


def sweep_chart(calculation: str, curve: Curve, reader: Reader) -> Drawing | None:
    """The curve; None where no point of it could be computed."""
    heights = [y for _x, y in curve.points if y is not None]
    if len(heights) < 2:
        return None
    limit = _limit(calculation, curve)
    values = [*heights, *([limit] if limit is not None and limit < 3 * max(heights) else [])]
    low = min(0.0, *values)
    high = max(values) * 1.08 if max(values) > 0 else low + 1.0
    left, right = curve.points[0][0], curve.points[-1][0]
    plot = Plot(
        Axis(curve.title, left, right, axis_scale(curve.unit, right, reader)),
        Axis(curve.shown_title, low, high, axis_scale(curve.shown_unit, high, reader)),
        TALL,
    )
    title = heading_of(curve)
    parts: list[Group] = [plot.frame(_("axes"))]
    if limit is not None and limit <= high:
        words = shown(limit, curve.shown_unit, reader).partition(" (")[0]
        parts += plot.levels([("limit", limit, words)])
    parts.append(plot.curve("curve", title, curve.points))
    x, y = curve.now
    if y is not None and left <= x <= right:
        words = _("now: {value}").format(value=shown(y, curve.shown_unit, reader).partition(" (")[0])
        parts.append(plot.dot("now", x, y, words, below=heights[-1] > heights[0]))
    return chart_of(plot, title, _described(curve, reader), parts).drawing


def heading_of(curve: Curve) -> str:
    """What is drawn while what varies."""
    return _("{result} as this varies: {input}").format(result=curve.shown_title, input=curve.title)


def _limit(calculation: str, curve: Curve) -> float | None:
    if calculation == "length":
        return number("edge-dead-end") if curve.show in STRIPS else None
    wanted = LIMITED.get(curve.show.partition(".")[0]) if calculation in CONTACTS else None
    return next((each.number for each in force_limits() if each.id == wanted), None)


def _described(curve: Curve, reader: Reader) -> str:
    (low, first), (high, last) = curve.points[0], curve.points[-1]
    ends = [_("not accepted") if y is None else shown(y, curve.shown_unit, reader) for y in (first, last)]
    return _("From {first} at {low} to {last} at {high}.").format(
        first=ends[0], low=shown(low, curve.unit, reader), last=ends[1], high=shown(high, curve.unit, reader)
    )
