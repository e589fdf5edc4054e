"""A floor from the left jamb to the right, with the straight leaf where it first touches."""

from __future__ import annotations

from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.drawing.shapes import Drawing, Group, Line, Text
from sillwright.takeoff.floors.floor_model import FloorResult
from sillwright.web.workbench.amounts import axis_scale, shown
from sillwright.web.workbench.charts.plot import LETTERS, TALL, Axis, Plot, chart_of

LEAST = 0.006
"""Metres that the height of the chart stands for at least: a level floor is drawn as one."""


def floor_chart(result: FloorResult, reader: Reader) -> Drawing:
    """The floor, the leaf that just touches it at its highest place, the best line and the widest gap."""
    heights, left, right = result.heights, result.heights[0][0], result.heights[-1][0]
    rests = max(z - result.leaf_slope * x for x, z in heights)
    gaps = [(rests + result.leaf_slope * x - z, x, z) for x, z in heights]
    gap, at, low = max(gaps)
    leaf = [(x, rests + result.leaf_slope * x) for x in (left, right)]
    best = [(x, result.strip_middle + result.slope * x) for x in (left, right)]
    tops = [z for _x, z in (*leaf, *best, *heights)]
    lowest = min(tops)
    high = max(max(tops) + 0.25 * (max(tops) - lowest), lowest + LEAST)
    plot = Plot(
        Axis(_("from the left jamb"), left, right, axis_scale("m", right, reader)),
        Axis(_("height"), lowest, high, axis_scale("m", high, reader)),
        TALL,
    )
    parts: list[Group] = [
        plot.frame(_("axes")),
        plot.curve("floor", _("floor"), heights),
        plot.dashed("best", _("best line"), best),
        plot.curve("leaf", _("bottom edge of the leaf"), leaf),
    ]
    if gap > 0:
        parts.append(_gap(plot, at, low, gap, reader))
    words = _("Highest at {high}, lowest at {low}; {gap} below the leaf there.").format(
        high=shown(result.highest_at, "m", reader),
        low=shown(result.lowest_at, "m", reader),
        gap=shown(gap, "m", reader),
    )
    return chart_of(plot, _("The floor and the leaf"), words, parts).drawing


def _gap(plot: Plot, at: float, low: float, gap: float, reader: Reader) -> Group:
    """The widest gap between floor and leaf, its words right below the leaf."""
    (x, bottom), (_x, top) = plot.at(at, low), plot.at(at, low + gap)
    words = _("gap {gap}").format(gap=shown(gap, "m", reader))
    late = x > plot.box.x
    text = Text(
        x=x + (-1.5 if late else 1.5),
        y=top - LETTERS - 0.6,
        words=words,
        size=LETTERS,
        anchor="end" if late else "start",
        bold=True,
    )
    return Group(name="gap", role="note", parts=(Line(start=(x, bottom), end=(x, top)), text), title=words)
