"""Callouts: words in the margins of a drawing, each with a line to what it speaks of; they never overlap.

A finding's number stands on a small flag before the words of its place.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sillwright.drawing.lettering import cut, width_of, wrapped
from sillwright.drawing.shapes import Box, Circle, Group, Line, Point, Rect, Shape, Text

LETTERS = 2.7
"""The height of letters in millimetres of paper (7.7 points)."""
LEADING = 1.3
COLUMN = 37.0
GAP = 3.0


@dataclass(frozen=True, kw_only=True)
class Callout:
    """Words for the margin, the point they speak of, and the side they should stand on, where it matters."""

    name: str
    target: Point
    words: str
    side: str = ""
    question: bool = False


@dataclass(frozen=True, kw_only=True)
class _Block:
    callout: Callout
    flag: str
    lines: tuple[str, ...]
    height: float


def placed(
    callouts: Sequence[Callout],
    picture: Box,
    metres_per_mm: float,
    flags: Mapping[str, tuple[int, ...]],
) -> tuple[Group, ...]:
    """The callouts on both sides of a picture."""
    sides: dict[str, list[_Block]] = {"left": [], "right": []}
    for callout in callouts:
        side = callout.side or _nearer(callout, picture, sides)
        sides[side].append(_block(callout, flags, metres_per_mm))
    return tuple(group for side, blocks in sides.items() for group in _column(side, blocks, picture, metres_per_mm))


def _nearer(callout: Callout, picture: Box, sides: Mapping[str, Sequence[_Block]]) -> str:
    off = callout.target[0] - picture.x
    if abs(off) > picture.width * 0.1:
        return "left" if off < 0 else "right"
    left, right = (sum(block.height for block in sides[side]) for side in ("left", "right"))
    return "left" if left <= right else "right"


def _block(callout: Callout, flags: Mapping[str, tuple[int, ...]], unit: float) -> _Block:
    numbers = flags.get(callout.name, ())
    flag = ",".join(map(str, numbers[:4])) + ("…" if len(numbers) > 4 else "")
    words = f"{callout.words} ?" if callout.question and not callout.words.endswith("?") else callout.words
    lines = wrapped(words, (COLUMN - (_flag_width(flag) + 1 if flag else 0)) / LETTERS, most=5)
    return _Block(callout=callout, flag=flag, lines=lines, height=len(lines) * LETTERS * LEADING * unit)


def _flag_width(flag: str) -> float:
    return width_of(flag, bold=True) * LETTERS + 1.6


def _column(side: str, blocks: list[_Block], picture: Box, unit: float) -> list[Group]:
    gap = 1.6 * unit
    blocks = sorted(blocks, key=lambda block: -block.callout.target[1])
    tops = _tops(blocks, picture, gap)
    edge = picture.left - GAP * unit if side == "left" else picture.right + GAP * unit
    return [_group(side, block, (edge, top), unit) for block, top in zip(blocks, tops, strict=True)]


def _tops(blocks: Sequence[_Block], picture: Box, gap: float) -> list[float]:
    """Where each block starts: at the height of its target, pushed down by the one above, up by the foot."""
    tops: list[float] = []
    free = picture.top
    for block in blocks:
        top = min(free, block.callout.target[1] + block.height / 2)
        tops.append(top)
        free = top - block.height - gap
    foot = picture.bottom
    for index in range(len(blocks) - 1, -1, -1):
        tops[index] = max(tops[index], foot + blocks[index].height)
        foot = tops[index] + gap
    return tops


def _group(side: str, block: _Block, corner: Point, unit: float) -> Group:
    edge, top = corner
    size = LETTERS * unit
    step = size * LEADING
    width = max((width_of(line) for line in block.lines), default=0) * size
    flag_width = (_flag_width(block.flag) + 1) * unit if block.flag else 0.0
    left = edge - width - flag_width if side == "left" else edge
    first = top - size * 0.95
    parts: list[Shape] = [_leader(block, (edge, first + size * 0.3), side, unit)]
    parts.append(Circle(x=block.callout.target[0], y=block.callout.target[1], radius=0.45 * unit, fill="ink"))
    if block.flag:
        parts.extend(_flag(block, left, first, unit))
    for index, line in enumerate(block.lines):
        parts.append(Text(x=left + flag_width, y=first - index * step, words=plain(line), size=size))
    name = f"note.{block.callout.name}" if block.callout.name else ""
    return Group(name=name, role="note", parts=tuple(parts), title=cut(plain(block.callout.words), 60))


def plain(words: str) -> str:
    """Words without the no-break spaces that hold numbers and units together in a column."""
    return words.replace("\u00a0", " ")


def _leader(block: _Block, start: Point, side: str, unit: float) -> Line:
    away = (0.8 if side == "left" else -0.8) * unit
    return Line(start=(start[0] + away, start[1]), end=block.callout.target, hidden=block.callout.question)


def _flag(block: _Block, left: float, y: float, unit: float) -> tuple[Shape, ...]:
    size = LETTERS * unit
    wide = _flag_width(block.flag) * unit
    box = Rect(x=left, y=y - size * 0.25, width=wide, height=size * 1.15, fill="ink")
    number = Text(x=left + wide / 2, y=y, words=block.flag, size=size, anchor="middle", bold=True, ink=False)
    return (box, number)
