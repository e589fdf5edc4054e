"""Vehicular gates on an elevation: leaf between posts, the way it opens, operator, zones by their number."""

from __future__ import annotations

from sillwright.base.words import N_, translate
from sillwright.drawing.shapes import Box, Circle, Group, Line, Point, Polyline, Rect, Shape, Text
from sillwright.paper.frame import Frame, away, drawn
from sillwright.paper.sheet import Sheet, scale_for
from sillwright.paper.terms import LEAF, OPERATOR
from sillwright.survey.devices import Zone
from sillwright.survey.model import Opening

NOMINAL_LENGTH, NOMINAL_HEIGHT, NOMINAL_GAP = 5.0, 1.6, 0.08
"""The shape of a gate whose sizes are not known; such a drawing says that it is not to scale."""
MOST_ZONES = 16


def gate_frame(opening: Opening, coarser: int = 0) -> tuple[Frame, float, bool]:
    """The frame of a gate, the scale it is drawn at, and whether it is to scale."""
    door = opening.door
    long = drawn(door.leaf_length, door.leaf_width)
    tall = drawn(door.leaf_height)
    known = long is not None and tall is not None
    length = long if known and long else NOMINAL_LENGTH
    height = tall if known and tall else NOMINAL_HEIGHT
    width = (drawn(door.clear_width) if known else None) or length
    gap = (drawn(door.underside) if known else None) or (NOMINAL_GAP if not known else 0.0)
    slid = 0.3 * length if door.kind.value == "slide_gate" else 0.0
    scale = scale_for(max(width, length) + slid, height + gap, coarser)
    way = {"left": -1.0, "right": 1.0}.get(door.opens.value or "", 0.0) * slid
    start = (width - length) / 2 + way
    leaf = Box(start, gap, start + length, gap + height)
    kind = door.kind.value or "slide_gate"
    frame = Frame(kind=kind, width=width, height=gap + height, leaf=leaf, guide=2.6 * scale, shaft=height * 0.4)
    return frame, scale, known


def draw_gate(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """Posts, leaf, the way it opens, and its zones."""
    for side in ("left", "right"):
        inner = frame.outer(side) - away(side) * frame.guide
        post = Rect(x=min(inner, frame.outer(side)), y=0.0, width=frame.guide, height=frame.height + sheet.mm(4))
        words = translate(N_("left post") if side == "left" else N_("right post"), sheet.reader)
        sheet.add(f"post.{side}", "structure", post, title=words)
    leaf = frame.leaf
    panel = Rect(x=leaf.left, y=leaf.bottom, width=leaf.width, height=leaf.height, fill="none")
    bars = Group(name="", role="note", parts=tuple(_bars(sheet, leaf)))
    kind = translate(LEAF[frame.kind], sheet.reader)
    sheet.add("leaf", "leaf", panel, bars, title=kind)
    sheet.note("leaf", (leaf.x, leaf.bottom + leaf.height * 0.8), _said(sheet, opening, kind))
    bottom = Line(start=(leaf.left, leaf.bottom), end=(leaf.right, leaf.bottom))
    sheet.add("bottom", "leaf", bottom, title=translate(N_("bottom of the leaf"), sheet.reader))
    _way(sheet, frame, opening)
    for index, zone in enumerate(opening.zones, start=1):
        _zone(sheet, frame, zone, index)


def _said(sheet: Sheet, opening: Opening, kind: str) -> str:
    if opening.door.opens.value in {"left", "right"}:
        return sheet.say(N_("{kind}, drawn partly open"), kind=kind)
    return sheet.say(N_("{kind}, drawn closed"), kind=kind)


def _bars(sheet: Sheet, leaf: Box) -> list[Shape]:
    count = max(2, min(60, int(leaf.width / sheet.mm(4))))
    step = leaf.width / count
    return [
        Line(start=(leaf.left + n * step, leaf.bottom), end=(leaf.left + n * step, leaf.top))
        for n in range(1, count)
    ]


def _way(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    opens = opening.door.opens.value
    x, y = frame.leaf.x, frame.leaf.top + sheet.mm(3)
    if opens in {"in", "out"}:
        words = N_("opens inwards, towards you") if opens == "in" else N_("opens outwards, away from you")
        dot = Circle(x=x, y=y, radius=sheet.mm(1.2), fill="ink" if opens == "in" else "none")
        sheet.add("way", "note", dot, title=translate(words, sheet.reader))
        sheet.note("way", (x, y), translate(words, sheet.reader))
        return
    sides = (opens,) if opens else ("left", "right")
    arrows = [shape for side in sides for shape in _arrow(sheet, x, y, side)]
    if opens:
        words = translate(N_("opens to the left") if opens == "left" else N_("opens to the right"), sheet.reader)
        sheet.add("way", "note", *arrows, title=words)
        sheet.note("way", (x, y), words)
        return
    words = translate(N_("which way it opens"), sheet.reader)
    sheet.add("way", "unknown", *arrows, sheet.mark(x, y + sheet.mm(2.5)), title=words)
    sheet.note("way", (x, y), words, question=True)


def _arrow(sheet: Sheet, x: float, y: float, side: str) -> tuple[Shape, ...]:
    way, long, barb = away(side), sheet.mm(9), sheet.mm(1.4)
    tip = x + way * long
    head = ((tip - way * barb, y + barb), (tip, y), (tip - way * barb, y - barb))
    return (Line(start=(x + way * sheet.mm(1), y), end=(tip, y)), Polyline(points=head))


def draw_gate_operator(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """The operator at the post of its side; asked about where the side is not known."""
    operator = opening.operator
    name = translate(OPERATOR.get(operator.kind.value or "", N_("operator, kind not known")), sheet.reader)
    side = operator.side.value
    if side not in {"left", "right"}:
        sheet.ask("operator", sheet.say(N_("{operator}: side not known"), operator=name))
        return
    wide, tall = sheet.mm(8), min(sheet.mm(9), frame.height)
    start = frame.outer(side) + away(side) * sheet.mm(1.5)
    x = start if side == "right" else start - wide
    parts: list[Shape] = [Rect(x=x, y=0.0, width=wide, height=tall, fill="paper")]
    if operator.kind.value in {"arm", "ram"}:
        parts.append(Line(start=(start, tall * 0.7), end=(start - away(side) * sheet.mm(16), tall * 0.7)))
    sheet.add("operator", "device", *parts, title=name)
    sheet.note("operator", (x + wide / 2, tall / 2), name, side=side)


def _zone(sheet: Sheet, frame: Frame, zone: Zone, index: int) -> None:
    place = zone.place.value or ""
    said = sheet.say(
        N_("zone {n}: {place}"), n=index, place=place or translate(N_("place not known"), sheet.reader)
    )
    if zone.means.standing != "known" or not zone.means.value:
        what = N_("no means against entrapment") if zone.means.value == () else N_("means not known")
        said = f"{said}; {translate(what, sheet.reader)}"
    at = _zone_point(sheet, frame, place, index)
    if at is None or index > MOST_ZONES:
        sheet.ask(f"zone.{index}", said)
        return
    x, y = at
    ring = Circle(x=x, y=y, radius=sheet.mm(2.2), fill="paper")
    number = Text(x=x, y=y - sheet.size * 0.36, words=str(index), size=sheet.size, anchor="middle", bold=True)
    sheet.add(f"zone.{index}", "device", ring, number, title=said)
    sheet.note(f"zone.{index}", (x, y + sheet.mm(2.2)), said)


_PLACE_WORDS: tuple[tuple[tuple[str, ...], str], ...] = (
    (("leading", "receiving", "closing edge", "latch"), "leading"),
    (("trailing", "rear", "back", "tail"), "trailing"),
    (("underside", "under the", "bottom"), "under"),
    (("roller", "carriage", "guide"), "roller"),
)
"""Words of a place that say where on the leaf it is. Any other place is listed under the drawing."""


def _zone_point(sheet: Sheet, frame: Frame, place: str, index: int) -> Point | None:
    if frame.kind != "slide_gate":
        return None
    low = place.casefold()
    where = next((name for words, name in _PLACE_WORDS if any(word in low for word in words)), None)
    leaf = frame.leaf
    off = leaf.x - frame.width / 2
    if where == "under":
        taken = sum(1 for group in sheet.groups if group.name.startswith("zone."))
        return leaf.x - sheet.mm(8) + taken * sheet.mm(5.5), leaf.bottom + sheet.mm(2.4)
    if where is None or abs(off) < 1e-9:
        return None
    opening_side = "left" if off < 0 else "right"
    side = opening_side if where in {"trailing", "roller"} else ("right" if opening_side == "left" else "left")
    y = leaf.bottom + leaf.height * (0.25 if where == "roller" else 0.55)
    taken = sum(1 for group in sheet.groups if group.name.startswith("zone."))
    end = leaf.left if side == "left" else leaf.right
    return end - away(side) * sheet.mm(3), y + (taken % 3) * sheet.mm(5.2)
