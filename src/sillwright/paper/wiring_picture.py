"""The picture of one device's wiring: the points from left to right, and what goes from each to the next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sillwright.base.words import Reader, render
from sillwright.drawing.lettering import cut, wrapped
from sillwright.drawing.shapes import Anchor, Circle, Group, Line, Rect, Role, Shape, Text
from sillwright.hookup.answer import Point, Wiring
from sillwright.paper.callouts import plain
from sillwright.paper.wiring_symbols import MM, SIZE, STEP, edge_of, rows, run_of, terminal

WIDTH = 174.0 * MM
WIDE = {"operator": 30.0, "converter": 31.0, "box": 20.0, "edge": 47.0, "device": 36.0}
"""How wide each point is drawn, in millimetres of paper."""
GREATEST_GAP = 40.0 * MM
LEAST_HEIGHT = 17.0 * MM
LEADING = 1.25 * SIZE
NAME = 2.4 * MM
"""The height of letters of terminals and wires."""


@dataclass(frozen=True)
class _Block:
    """A point as it is placed: left and right end, and the heights of its terminals on either side."""

    point: Point
    left: float
    right: float
    near: tuple[float, ...]
    behind: tuple[float, ...]


def picture(found: Wiring, reader: Reader, top: float) -> tuple[Group, ...]:
    """The groups of the picture below ``top``."""
    heads = [_head(each, reader) for each in found.points]
    head = max((len(each) for each in heads), default=0) * LEADING
    most = max((max(len(each.terminals), len(each.behind)) for each in found.points), default=1)
    height = max(LEAST_HEIGHT, most * STEP + 7.0 * MM)
    foot = top - head - 2.0 * MM - height
    middle = foot + height / 2
    blocks = _placed(found.points, middle)
    groups = [_block(each, foot, height, found, reader) for each in blocks]
    groups += [_heading(each, lines, foot + height) for each, lines in zip(blocks, heads, strict=True)]
    for at, run in enumerate(found.runs):
        one, other = blocks[at], blocks[at + 1]
        start = one.behind or one.near or (middle,)
        groups.append(run_of(run, one.right, other.left, start, other.near or (middle,)))
        groups.append(_number(at + 1, _between(one.right, other.left, run.kind), foot + height - 1.0 * MM))
    return tuple(groups)


def _between(left: float, right: float, kind: str) -> float:
    """Where the number of a run stands: in its middle; beside the arcs of radio."""
    return left + 4.0 * MM if kind == "radio" else (left + right) / 2


def _placed(points: Sequence[Point], middle: float) -> list[_Block]:
    wide = [WIDE[each.id] * MM for each in points]
    gap = min(GREATEST_GAP, (WIDTH - sum(wide)) / max(1, len(points) - 1))
    blocks, left = [], 0.0
    for point, width in zip(points, wide, strict=True):
        near, behind = rows(len(point.terminals), middle), rows(len(point.behind), middle)
        blocks.append(_Block(point, left, left + width, near, behind))
        left += width + gap
    return blocks


def _head(point: Point, reader: Reader) -> list[tuple[str, bool]]:
    """The lines above a point: what it is, in bold, then what is said of it."""
    ems = WIDE[point.id] * MM / SIZE + (0.0 if point.id in {"edge", "device"} else 2.0)
    lines = [(line, True) for line in wrapped(plain(render(point.title, reader)), ems, most=2, bold=True)]
    for note in point.notes:
        lines += [(line, False) for line in wrapped(plain(render(note, reader)), ems, most=3)]
    return lines


def _heading(block: _Block, lines: Sequence[tuple[str, bool]], top: float) -> Group:
    y = top + 1.8 * MM + LEADING * (len(lines) - 1)
    said = tuple(
        Text(x=block.left, y=y - at * LEADING, words=line, size=SIZE, bold=bold)
        for at, (line, bold) in enumerate(lines)
    )
    return Group(name="", role="note", parts=said)


def _number(number: int, x: float, y: float) -> Group:
    """The number of a run, on a ring, above its wires."""
    ring = Circle(x=x, y=y, radius=1.9 * MM, fill="paper")
    word = Text(x=x, y=y - SIZE * 0.36, words=str(number), size=SIZE, anchor="middle", bold=True)
    return Group(name="", role="note", parts=(ring, word))


def _block(block: _Block, foot: float, height: float, found: Wiring, reader: Reader) -> Group:
    point = block.point
    if point.id == "edge":
        middle = foot + height / 2
        return edge_of(found, point.terminals, block.left, block.right, block.near, middle, reader)
    body = Rect(x=block.left, y=foot, width=block.right - block.left, height=height)
    known = any(point.terminals) or point.id in {"box", "device"}
    role: Role = "structure" if known else "unknown"
    inner: list[Shape] = []
    out = point.id == "operator"
    room = (WIDE[point.id] - 4.0) / (2 if point.behind else 1) * MM
    inner += _names(point.terminals, block.near, block.right if out else block.left, out, room, ask=out)
    inner += _names(point.behind, block.behind, block.right, True, room)
    if point.id == "box":
        inner += [
            Line(start=(block.left, y), end=(block.right, y)) for y in block.near if block.near == block.behind
        ]
    solid = Group(name="", role="structure", parts=tuple(inner))
    return Group(name=point.id if point.id != "device" else found.device, role=role, parts=(body, solid))


def _names(
    names: Sequence[str], heights: Sequence[float], x: float, on_right: bool, room: float, *, ask: bool = False
) -> list[Shape]:
    """Terminals on one side of a point, and what they are called; a question mark where nobody knows."""
    shapes: list[Shape] = []
    for name, y in zip(names, heights, strict=True):
        shapes.append(terminal(x, y))
        word = name or ("?" if ask else "")
        if word:
            at = x - 2.0 * MM if on_right else x + 2.0 * MM
            fits = cut(plain(word), room / NAME)
            anchor: Anchor = "end" if on_right else "start"
            shapes.append(Text(x=at, y=y - NAME * 0.36, words=fits, size=NAME, anchor=anchor))
    return shapes
