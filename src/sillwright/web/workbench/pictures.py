"""The charts of a result, with what stands above them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import groupby
from typing import Any

from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from sillwright.base.words import Reader
from sillwright.drawing.shapes import Drawing
from sillwright.mechanics.model import ContactResult, ContactSpreadResult
from sillwright.paper.svg import svg
from sillwright.takeoff.cutting.cutlist_model import CutlistResult
from sillwright.takeoff.cutting.layout import bars_drawing
from sillwright.takeoff.floors.floor_model import FloorResult
from sillwright.takeoff.ways.cord_model import CordResult
from sillwright.web.workbench.charts.contact import Frame, force_over_time, force_over_travel
from sillwright.web.workbench.charts.cord import cord_chart
from sillwright.web.workbench.charts.floor import floor_chart
from sillwright.web.workbench.charts.plot import Chart
from sillwright.web.workbench.charts.spread import band_chart

MOST_BARS = 40
"""Bars of different cutting that are drawn."""


@dataclass(frozen=True)
class Drawn:
    """A chart as the page shows it; ``places`` tells a script where values lie in it."""

    name: str
    svg: SafeString
    places: str = ""
    shape: str = ""  # "long": as wide as its words need, in a box that scrolls


@dataclass(frozen=True)
class Pictures:
    """The charts, what they are called together, and how they are read."""

    head: str = ""
    note: str = ""
    charts: tuple[Drawn, ...] = ()


def pictures_of(result: Any, frames: list[Frame], reader: Reader) -> Pictures:
    """The charts of a result; none where it has no chart of its own."""
    if isinstance(result, ContactResult) and frames:
        return _of_contact(result, frames, reader)
    if isinstance(result, ContactSpreadResult):
        note = _("A bar holds 90 of 100 cases, the line in it parts the halves. Dashed: the limit of EN 12453.")
        named = (("forces", "N"), ("times", "s"))
        charts = tuple(Drawn(name, drawn(band_chart(result, unit, reader), name)) for name, unit in named)
        return Pictures(_("What to expect"), note, charts)
    if isinstance(result, CordResult):
        note = _("Dashed across: the cord hanging by itself, and the farthest that it may be drawn.")
        chart = Drawn("cord", drawn(cord_chart(result, reader), "cord"))
        return Pictures(_("From box to lead, as the leaf goes up"), note if result.retracted else "", (chart,))
    if isinstance(result, FloorResult):
        note = _(
            "Inside looking out; heights are drawn larger than widths. Straight: the bottom edge of the leaf. "
            "Dashed: the best line."
        )
        chart = Drawn("floor", drawn(floor_chart(result, reader), "floor"))
        return Pictures(_("The floor, and the leaf where it first touches"), note, (chart,))
    return _of_bars(result, reader) if isinstance(result, CutlistResult) else Pictures()


def _of_contact(result: ContactResult, frames: list[Frame], reader: Reader) -> Pictures:
    over_time, over_travel = force_over_time(result, frames, reader), force_over_travel(result, reader)
    named = (("time", over_time), ("travel", over_travel))
    return Pictures(charts=tuple(Drawn(name, drawn(each.drawing, name), _places(each)) for name, each in named))


def _of_bars(result: CutlistResult, reader: Reader) -> Pictures:
    kinds = [list(same) for _key, same in groupby(result.bars, key=lambda bar: (bar.stock, bar.cuts))]
    shown = replace(result, bars=tuple(bar for same in kinds[:MOST_BARS] for bar in same))
    note = _("To scale, from the start of each bar. Shaded: goes back to stock.")
    if len(kinds) > MOST_BARS:
        note += " " + _("The first {most} kinds are drawn; the table has all.").format(most=MOST_BARS)
    chart = Drawn("bars", drawn(bars_drawing(shown, reader), "bars"), shape="long")
    return Pictures(_("The bars and their cuts"), note, (chart,))


def _places(chart: Chart) -> str:
    return " ".join(f"{each:.6g}" for each in chart.places)


def drawn(drawing: Drawing, name: str) -> SafeString:
    """A drawing as SVG inside a page. Every text in it has been escaped by its writer."""
    return mark_safe(svg(drawing, prefix=f"{name}-"))  # noqa: S308
