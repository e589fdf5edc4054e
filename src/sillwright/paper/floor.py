"""The floor under the leaf: a level line, or the points that were read, to scale."""

from __future__ import annotations

from sillwright.base.words import N_, Amount, translate
from sillwright.drawing.shapes import Line, Polyline
from sillwright.paper.frame import Frame
from sillwright.paper.sheet import Sheet
from sillwright.survey.model import Opening

Heights = tuple[tuple[float, float], ...]


def heights(opening: Opening) -> Heights:
    """The floor's heights above the first point, where it is known how they were read; else none."""
    points, way = opening.floor.points.value, opening.floor.read_as.value
    if not points or way is None:
        return ()
    sign = 1.0 if way == "heights" else -1.0
    ordered = sorted(points)
    first = ordered[0][1]
    return tuple((x, sign * (z - first)) for x, z in ordered)


def draw_floor(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """The floor line, past both sides of the opening, with hatching under it."""
    left, right = frame.left - sheet.mm(14), frame.right + sheet.mm(14)
    profile = heights(opening)
    inside = tuple((x, z) for x, z in profile if left < x < right)
    ends = (inside[0][1], inside[-1][1]) if inside else (0.0, 0.0)
    line = Polyline(points=((left, ends[0]), *inside, (right, ends[1])))
    step, size = sheet.mm(4), sheet.mm(1.2)
    count = min(200, int((right - left) / step))
    low = min((z for _, z in inside), default=0.0)
    hatch = [Line(start=(left + n * step, low - size), end=(left + n * step + size, low)) for n in range(count)]
    sheet.add("floor", "structure", line, title=translate(N_("floor"), sheet.reader))
    sheet.add("", "dimension", *hatch)
    _words(sheet, frame, opening, profile)


def _words(sheet: Sheet, frame: Frame, opening: Opening, profile: Heights) -> None:
    target = (frame.left - sheet.mm(9), 0.0)
    if profile:
        apart = max(z for _, z in profile) - min(z for _, z in profile)
        said = N_("floor read at {count} points, {apart} between highest and lowest")
        words = sheet.say(said, count=len(profile), apart=Amount(apart, "m"))
        sheet.note("floor", target, words, side="left")
    elif opening.floor.points.value:
        words = translate(N_("floor points: read as heights, or as gaps below a level?"), sheet.reader)
        sheet.note("floor", target, words, side="left", question=True)
    elif "floor" in sheet.flags:
        sheet.note("floor", target, translate(N_("floor"), sheet.reader), side="left")
