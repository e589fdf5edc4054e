"""What hangs beside an overhead leaf: operator, lead, box, cord, stations. What is not known is asked."""

from __future__ import annotations

from math import cos, hypot, pi, sin

from sillwright.base.words import N_, translate
from sillwright.drawing.shapes import Circle, Group, Line, Point, Polyline, Rect, Shape
from sillwright.paper.devices import eye_lanes
from sillwright.paper.frame import Frame, away, drawn, known_side
from sillwright.paper.sheet import Sheet
from sillwright.paper.terms import OPERATOR, SIDE
from sillwright.survey.model import Opening

MIDDLE = ("trolley", "rail")
"""Operators that stand over the middle of the opening."""
FARTHEST = 40.0
"""Millimetres of paper beyond which nothing is placed beside the opening."""


def draw_operator(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """The operator on its side; where the side is not known, on both sides as a question."""
    operator = opening.operator
    kind = operator.kind.value
    name = translate(OPERATOR.get(kind or "", N_("operator, kind not known")), sheet.reader)
    if operator.wall.value == "outside":
        name = sheet.say(N_("{operator}, on the outside face"), operator=name)
    if kind in MIDDLE:
        _in_the_middle(sheet, frame, name)
        return
    side = known_side(operator.side)
    if side is None:
        _on_which_side(sheet, frame, name)
        return
    parts, target = _beside(sheet, frame, side, kind)
    hidden = operator.wall.value == "outside"
    if kind is None:
        mark = sheet.mark(target[0] - away(side) * sheet.mm(3.5), target[1])
        sheet.add("operator", "unknown", *parts, mark, title=name)
    else:
        shown = tuple(_as_hidden(part) if hidden else part for part in parts)
        sheet.add("operator", "device", *shown, title=name)
    sheet.note("operator", target, name, side=side, question=kind is None)


def _as_hidden(part: Shape) -> Shape:
    if isinstance(part, Rect):
        return Rect(x=part.x, y=part.y, width=part.width, height=part.height, hidden=True)
    return part


def _in_the_middle(sheet: Sheet, frame: Frame, name: str) -> None:
    x, y = frame.width / 2, frame.shaft + sheet.mm(6)
    box = Rect(x=x - sheet.mm(4), y=y - sheet.mm(2.5), width=sheet.mm(8), height=sheet.mm(5), fill="paper")
    rail = Line(start=(x, y - sheet.mm(2.5)), end=(x, frame.height + sheet.mm(0.6)))
    sheet.add("operator", "device", box, rail, title=name)
    sheet.note("operator", (x, y), name)


def _beside(sheet: Sheet, frame: Frame, side: str, kind: str | None) -> tuple[tuple[Shape, ...], Point]:
    way = away(side)
    start = frame.outer(side) + way * sheet.mm(1.6)
    wide, tall = sheet.mm(7), sheet.mm(9)
    if kind == "barrel":
        x = frame.outer(side) - way * sheet.mm(7)
        tube = Rect(
            x=x - sheet.mm(5), y=frame.shaft - sheet.mm(1), width=sheet.mm(10), height=sheet.mm(2), fill="shade"
        )
        return (tube,), (x, frame.shaft)
    x = start if way > 0 else start - wide
    y = frame.shaft - tall / 2
    parts: list[Shape] = [Rect(x=x, y=y, width=wide, height=tall, fill="paper")]
    if kind == "chain":
        y -= sheet.mm(9)
        parts = [Rect(x=x, y=y, width=wide, height=tall, fill="paper")]
        parts.extend(
            Line(start=(x + wide * share, y + tall), end=(x + wide * share, frame.shaft + sheet.mm(1)))
            for share in (0.35, 0.65)
        )
    joint = Line(start=(frame.outer(side), frame.shaft), end=(start, frame.shaft))
    parts.append(joint)
    if kind == "hoist":
        foot = max(y - frame.height * 0.55, sheet.mm(10))
        loop = ((x + wide * 0.4, y), (x + wide * 0.4, foot), (x + wide * 0.6, foot), (x + wide * 0.6, y))
        parts.append(Group(name="", role="note", parts=(Polyline(points=loop),)))
    return tuple(parts), (x + wide if way > 0 else x, y + tall / 2)


def _on_which_side(sheet: Sheet, frame: Frame, name: str) -> None:
    parts: list[Shape] = []
    target = (0.0, 0.0)
    for side in ("left", "right"):
        ghost, target = _beside(sheet, frame, side, "jackshaft")
        parts.extend((*ghost[:1], sheet.mark(target[0] - away(side) * sheet.mm(3.5), target[1])))
    sheet.add("operator", "unknown", *parts, title=name)
    words = sheet.say(N_("{operator}: left or right"), operator=name)
    sheet.note("operator", target, words, side="right", question=True)


def draw_lead(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """The side on which the lead leaves the edge, as an arrow; as a question at both ends where nobody said."""
    edges = any(each.kind.value in {"sensing_edge", "air_edge"} for each in opening.protection)
    if not edges and not opening.lead.given:
        return
    end = opening.lead.end
    if end.standing == "none there":
        return
    sides = ("left", "right") if end.value in {None, "both"} else (str(end.value),)
    arrows = [shape for side in sides for shape in _arrow(sheet, frame, side)]
    if end.value is None:
        marks = [sheet.mark(_arrow_tip(sheet, frame, side)[0], frame.leaf.bottom - sheet.mm(3.4)) for side in sides]
        words = translate(N_("lead: left or right"), sheet.reader)
        sheet.add("lead", "unknown", *arrows, *marks, title=words)
        sheet.note("lead", _arrow_tip(sheet, frame, "left"), words, side="left", question=True)
        return
    words = sheet.say(N_("lead leaves on the {side}"), side=translate(SIDE[end.value], sheet.reader))
    if end.value == "both":
        words = translate(N_("lead at both ends"), sheet.reader)
    sheet.add("lead", "device", *arrows, title=words)
    sheet.note("lead", _arrow_tip(sheet, frame, sides[0]), words, side=sides[0])


def _arrow_tip(sheet: Sheet, frame: Frame, side: str) -> Point:
    return frame.leaf_end(side) + away(side) * sheet.mm(5.5), frame.leaf.bottom - sheet.mm(0.7)


def _arrow(sheet: Sheet, frame: Frame, side: str) -> tuple[Shape, ...]:
    x, y = _arrow_tip(sheet, frame, side)
    way, barb = away(side), sheet.mm(1.3)
    shaft = Line(start=(frame.leaf_end(side), y), end=(x, y))
    head = ((x - way * barb, y + barb * 0.7), (x, y), (x - way * barb, y - barb * 0.7))
    return (shaft, Polyline(points=head))


def draw_box(sheet: Sheet, frame: Frame, opening: Opening) -> Point | None:
    """The junction box on its side at its height, with the height measured; the point where the cord joins it."""
    if not opening.box.given:
        return None
    side, height = known_side(opening.box.side), drawn(opening.box.height)
    if side is None or height is None:
        _ask_box(sheet, side, height)
        return None
    offset = drawn(opening.box.offset)
    beside = min(offset if offset is not None else 0.0, sheet.mm(FARTHEST))
    middle = frame.outer(side) + away(side) * max(beside, sheet.mm(3.2))
    wide, tall = sheet.mm(3.6), sheet.mm(4.4)
    box = Rect(x=middle - wide / 2, y=height - tall / 2, width=wide, height=tall, fill="paper")
    words = translate(N_("junction box"), sheet.reader)
    sheet.add("box", "device", box, title=words)
    lane = away(side) * (wide / 2 / sheet.metres_per_mm + 4.5)
    sheet.measure((middle, 0.0), (middle, height), lane, sheet.value(opening.box.height), name="height.box")
    if offset is None:
        words = translate(N_("junction box; distance from the jamb not known"), sheet.reader)
    elif offset > beside:
        far = sheet.length(offset)
        words = sheet.say(N_("junction box, {far} from the jamb, drawn nearer"), far=far)
    sheet.note("box", (middle, height), words, side=side)
    return middle, height - tall / 2


def _ask_box(sheet: Sheet, side: str | None, height: float | None) -> None:
    if side is None and height is None:
        words = translate(N_("junction box: side and height not known"), sheet.reader)
    elif side is None:
        words = sheet.say(
            N_("junction box, {height} above the floor: side not known"), height=sheet.length(height or 0)
        )
    else:
        said = translate(SIDE[side], sheet.reader)
        words = sheet.say(N_("junction box on the {side}: height not known"), side=said)
    sheet.ask("box", words)


def draw_cord(sheet: Sheet, frame: Frame, opening: Opening, box: Point | None) -> None:
    """The coiled cord from the box to the leaf, where both ends are known."""
    end = opening.lead.end.value
    if not opening.cord.given:
        return
    if box is None or end is None:
        sheet.ask("cord", translate(N_("coiled cord: where it ends is not known"), sheet.reader))
        return
    side = end if end != "both" else str(opening.box.side.value)
    tip = _arrow_tip(sheet, frame, side)
    coil = Polyline(points=_coil(box, tip, sheet.mm(1.1), sheet.mm(2.0)))
    retracted = drawn(opening.cord.retracted)
    words = translate(N_("coiled cord"), sheet.reader)
    if retracted is not None:
        words = sheet.say(N_("coiled cord, {length} retracted"), length=sheet.value(opening.cord.retracted))
    sheet.add("cord", "note", coil, title=words)
    middle = ((box[0] + tip[0]) / 2, (box[1] + tip[1]) / 2)
    sheet.note("cord", middle, words, side=str(opening.box.side.value))


def _coil(start: Point, end: Point, half: float, pitch: float) -> tuple[Point, ...]:
    dx, dy = end[0] - start[0], end[1] - start[1]
    long = hypot(dx, dy) or 1e-9
    turns = max(2, min(60, round(long / pitch)))
    steps = turns * 8
    points = []
    for n in range(steps + 1):
        along = n / steps
        across = half * sin(2 * pi * turns * along) if 0.06 < along < 0.94 else 0.0
        back = half * 0.5 * (1 - cos(2 * pi * turns * along)) if across else 0.0
        at = along * long - back
        points.append((start[0] + (at * dx - across * dy) / long, start[1] + (at * dy + across * dx) / long))
    return tuple(points)


def draw_stations(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """Control stations at their height. The survey does not say on which side: they are drawn as questions."""
    side = "left" if opening.box.side.value == "right" else "right"
    x = frame.outer(side) + away(side) * sheet.mm(12 + 4.5 * eye_lanes(opening))
    used: list[float] = []
    for index, station in enumerate(opening.stations, start=1):
        height = drawn(station.height)
        place = station.place.value or ""
        said = (
            sheet.say(N_("station {n}: {place}"), n=index, place=place)
            if place
            else sheet.say(N_("station {n}"), n=index)
        )
        if height is None or height > frame.height * 1.2 or index > 3:
            sheet.ask(f"station.{index}", sheet.say(N_("{station}; height not known"), station=said))
            continue
        if any(abs(height - other) < sheet.mm(6) for other in used):
            x += away(side) * sheet.mm(9)
        used.append(height)
        _station(sheet, index, (x, height), side, said)


def _station(sheet: Sheet, index: int, at: Point, side: str, said: str) -> None:
    x, height = at
    wide, tall = sheet.mm(3.2), sheet.mm(5.2)
    plate = Rect(x=x - wide / 2, y=height - tall / 2, width=wide, height=tall)
    buttons = [Circle(x=x, y=height + sheet.mm(dy), radius=sheet.mm(0.3), fill="ink") for dy in (1.5, 0.0, -1.5)]
    mark = sheet.mark(x + away(side) * sheet.mm(3.2), height)
    sheet.add(f"station.{index}", "unknown", plate, *buttons, mark, title=said)
    high = sheet.length(height)
    words = sheet.say(
        N_("{station}, {height} above the floor; which side of the opening"), station=said, height=high
    )
    edge = (x + away(side) * wide / 2, height + tall / 4)
    sheet.note(f"station.{index}", edge, words, side=side, question=True)
