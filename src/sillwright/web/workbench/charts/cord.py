"""The length between box and lead while the leaf goes up, with what the cord can do."""

from __future__ import annotations

from math import hypot

from django.utils.translation import gettext as _

from sillwright.base.display import rounded
from sillwright.base.words import Reader
from sillwright.drawing.shapes import Drawing
from sillwright.takeoff.ways.cord_model import CordResult
from sillwright.web.workbench.amounts import axis_scale, shown
from sillwright.web.workbench.charts.plot import Axis, Plot, chart_of

POINTS = 61


def cord_chart(result: CordResult, reader: Reader) -> Drawing:
    """The length over the height of the lead; dashed the cord as it hangs and its greatest length."""
    case, box = result.case, result.box_height
    step = (case.highest - case.lowest) / (POINTS - 1)
    heights = [case.lowest + step * at for at in range(POINTS)]
    points = [(each, hypot(each - box, case.offset)) for each in heights]
    levels = _levels(result, reader)
    high = 1.08 * max([result.longest, *(value for _name, value, _words in levels)])
    plot = Plot(
        Axis(_("height of the lead"), case.lowest, case.highest, axis_scale("m", case.highest, reader)),
        Axis(_("from box to lead"), 0.0, high, axis_scale("m", high, reader)),
    )
    marks = [("box", box, _("box"))] if case.lowest <= box <= case.highest else []
    title = _("Length between box and lead as the leaf goes up")
    told = {"least": shown(result.shortest, "m", reader), "most": shown(result.longest, "m", reader)}
    parts = [
        plot.frame(_("axes")),
        *plot.levels(levels),
        *plot.uprights(marks),
        plot.curve("curve", title, points),
    ]
    described = _("Between {least} and {most}.").format(**told)
    return chart_of(plot, title, described, parts).drawing


def _levels(result: CordResult, reader: Reader) -> list[tuple[str, float, str]]:
    """The chosen cord hanging by itself, and drawn as far as it may be where no rated length says otherwise."""
    if result.retracted is None:
        return []
    most = result.case.most_ratio * result.retracted
    rated = any(each.extended is not None for each in result.case.stock)
    ends = [("retracted", result.retracted), *([] if rated else [("most", most)])]
    scale = axis_scale("m", most, reader)
    return [(name, value, f"{rounded(value / scale.factor)} {scale.unit}") for name, value in ends]
