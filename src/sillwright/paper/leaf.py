"""The leaf of an overhead door with its opening, guides and what is above the head."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from sillwright.base.fact import Fact
from sillwright.base.words import N_, translate
from sillwright.drawing.shapes import Box, Circle, Group, Line, Polyline, Rect, Shape
from sillwright.paper.frame import Frame, away, drawn
from sillwright.paper.sheet import Sheet, scale_for
from sillwright.paper.terms import LEAF
from sillwright.survey.model import Opening

OPEN = 0.38
"""How far open a leaf is drawn, as a share of the height: its bottom edge shows."""


def frame_of(opening: Opening, coarser: int = 0) -> tuple[Frame, float]:
    """The frame of an overhead door and the scale it is drawn at."""
    door = opening.door
    width = drawn(door.clear_width) or 3.0
    height = drawn(door.clear_height) or 3.0
    offset = drawn(opening.box.offset) or 0.0
    leaf_width = drawn(leaf_width_fact(opening)) or width
    scale = scale_for(max(width, leaf_width) + min(offset, width), height, coarser)
    side = (leaf_width - width) / 2
    leaf = Box(-side, height * OPEN, width + side, height)
    return (
        Frame(
            kind=door.kind.value or "sectional",
            width=width,
            height=height,
            leaf=leaf,
            guide=2.2 * scale,
            shaft=height + 8 * scale,
            behind=door.mounted.value == "outside",
        ),
        scale,
    )


def leaf_width_fact(opening: Opening) -> Fact[float]:
    """The fact that says how wide the leaf is, by its kind."""
    door = opening.door
    if door.kind.value == "sectional":
        return door.panel_width
    if door.kind.value in {"rolling", "rolling_fire", "grille"}:
        clear = door.guide_clear
        heights = (clear.floor, clear.chest, clear.head)
        return next((each for each in heights if drawn(each) is not None), door.leaf_width)
    return door.leaf_width


def draw_leaf(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """Opening, guides, head, leaf and bottom."""
    _opening(sheet, frame)
    _guides(sheet, frame)
    _head(sheet, frame)
    leaf = frame.leaf
    known = opening.door.kind.value
    pattern = _PATTERNS[frame.kind](sheet, leaf) if known else ()
    panel = Rect(
        x=leaf.left, y=leaf.bottom, width=leaf.width, height=leaf.height, fill="paper", hidden=frame.behind
    )
    kind = translate(LEAF.get(known or "", N_("leaf, kind not known")), sheet.reader)
    sheet.add("leaf", "leaf", panel, Group(name="", role="note", parts=tuple(pattern)), title=kind)
    thick = sheet.mm(1.3)
    bar = Rect(x=leaf.left, y=leaf.bottom, width=leaf.width, height=thick, fill="shade")
    sheet.add("bottom", "leaf", bar, title=translate(N_("bottom of the leaf"), sheet.reader))
    _words(sheet, frame, opening, kind)


def _words(sheet: Sheet, frame: Frame, opening: Opening, kind: str) -> None:
    face = opening.door.mounted.value
    said = kind
    if face == "outside":
        said = sheet.say(N_("{kind}, on the outside face"), kind=kind)
    target = (frame.leaf.left + frame.leaf.width * 0.2, frame.leaf.bottom + frame.leaf.height * 0.72)
    asks = opening.door.kind.value is None
    sheet.note("leaf", target, sheet.say(N_("{kind}, drawn partly open"), kind=said), question=asks)
    if "bottom" in sheet.flags:
        words = translate(N_("bottom of the leaf"), sheet.reader)
        sheet.note("bottom", (frame.leaf.x - frame.leaf.width * 0.2, frame.leaf.bottom), words)
    for side, words in (("left", N_("left guide")), ("right", N_("right guide"))):
        if f"guide.{side}" in sheet.flags:
            point = (frame.outer(side), frame.height * 0.2)
            sheet.note(f"guide.{side}", point, translate(words, sheet.reader), side=side)


def _opening(sheet: Sheet, frame: Frame) -> None:
    edge = ((0.0, 0.0), (0.0, frame.height), (frame.width, frame.height), (frame.width, 0.0))
    words = translate(N_("clear opening"), sheet.reader)
    sheet.add("opening", "structure", Polyline(points=edge), title=words)


def _guides(sheet: Sheet, frame: Frame) -> None:
    top = frame.height + (sheet.mm(4) if frame.kind != "one_piece" else 0.0)
    for side in ("left", "right"):
        inner = frame.outer(side) - away(side) * frame.guide
        x = min(inner, frame.outer(side))
        rail = Rect(x=x, y=0.0, width=frame.guide, height=top, hidden=frame.behind)
        words = N_("left guide") if side == "left" else N_("right guide")
        sheet.add(f"guide.{side}", "structure", rail, title=translate(words, sheet.reader))


def _head(sheet: Sheet, frame: Frame) -> None:
    y, left, right = frame.shaft, frame.left, frame.right
    if frame.kind == "one_piece":
        return
    if frame.kind == "sectional":
        half, drum = sheet.mm(0.5), sheet.mm(1.7)
        shaft = Rect(x=left, y=y - half, width=right - left, height=2 * half)
        drums = [
            Rect(x=x - drum / 2, y=y - drum, width=drum, height=2 * drum, fill="shade")
            for x in (left + 2 * drum, right - 2 * drum)
        ]
        words = translate(N_("shaft with drums"), sheet.reader)
        sheet.add("shaft", "structure", shaft, *drums, title=words)
        return
    half = sheet.mm(3.4)
    hood = Rect(x=left, y=y - half, width=right - left, height=2 * half, hidden=frame.behind)
    axis = Line(start=(left, y), end=(right, y), hidden=True)
    ends = [Circle(x=x, y=y, radius=half * 0.55) for x in (left + half, right - half)]
    words = translate(N_("barrel"), sheet.reader)
    sheet.add("barrel", "structure", hood, axis, *ends, title=words)


Pattern = Callable[[Sheet, Box], Iterator[Shape]]


def _sections(sheet: Sheet, leaf: Box) -> Iterator[Shape]:
    for n in range(1, 4):
        y = leaf.bottom + leaf.height * n / 4
        yield Line(start=(leaf.left, y), end=(leaf.right, y))


def _slats(sheet: Sheet, leaf: Box) -> Iterator[Shape]:
    rows = max(2, int(leaf.height / sheet.mm(1.6)))
    for n in range(1, min(rows, 80)):
        y = leaf.bottom + leaf.height * n / rows
        yield Line(start=(leaf.left, y), end=(leaf.right, y))


def _links(sheet: Sheet, leaf: Box) -> Iterator[Shape]:
    rows = min(40, max(2, int(leaf.height / sheet.mm(3.2))))
    step = max(leaf.width / 40, sheet.mm(5.0))
    for n in range(1, rows):
        y = leaf.bottom + leaf.height * n / rows
        yield Line(start=(leaf.left, y), end=(leaf.right, y))
    tall = leaf.height / rows
    for n in range(rows):
        x = leaf.left + step * (0.5 if n % 2 else 1.0)
        y = leaf.bottom + tall * n
        while x < leaf.right:
            yield Line(start=(x, y), end=(x, y + tall))
            x += step


def _fabric(sheet: Sheet, leaf: Box) -> Iterator[Shape]:
    for share in (0.28, 0.72):
        y = leaf.bottom + leaf.height * share
        yield Line(start=(leaf.left, y), end=(leaf.right, y), hidden=True)


def _panel(sheet: Sheet, leaf: Box) -> Iterator[Shape]:
    yield Line(start=(leaf.left, leaf.bottom), end=(leaf.x, leaf.top))
    yield Line(start=(leaf.right, leaf.bottom), end=(leaf.x, leaf.top))


_PATTERNS: dict[str, Pattern] = {
    "sectional": _sections,
    "rolling": _slats,
    "rolling_fire": _slats,
    "grille": _links,
    "high_speed": _fabric,
    "one_piece": _panel,
}
