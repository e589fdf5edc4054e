"""Shapes: a drawing as data, in metres, y upwards. They know nothing of doors and nothing of files.

A group has a name, by which findings and tests point at it, and a role, which decides how heavy its lines are and
whether they are dashed. A drawing reads in black and white: roles differ by weight and dash, never by tint alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from sillwright.drawing.lettering import width_of

Role = Literal["leaf", "structure", "device", "dimension", "note", "unknown"]
Fill = Literal["none", "paper", "shade", "ink", "blank"]  # blank: paper without a line around it
Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]


@dataclass(frozen=True, kw_only=True)
class Pen:
    """How a role is drawn: line weight and dash in millimetres on paper."""

    weight: float
    dash: tuple[float, ...] = ()


PENS: dict[Role, Pen] = {
    "leaf": Pen(weight=0.5),
    "structure": Pen(weight=0.25),
    "device": Pen(weight=0.7),
    "dimension": Pen(weight=0.13),
    "note": Pen(weight=0.18),
    "unknown": Pen(weight=0.35, dash=(1.2, 0.9)),
}
HIDDEN = (2.0, 1.0)
"""The dash of what lies behind something else."""


@dataclass(frozen=True)
class Box:
    """The extents of a shape."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def x(self) -> float:
        """The middle, from left to right."""
        return (self.left + self.right) / 2

    @property
    def y(self) -> float:
        """The middle, from bottom to top."""
        return (self.bottom + self.top) / 2

    @property
    def width(self) -> float:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top."""
        return self.top - self.bottom

    def meets(self, other: Box, gap: float = 0.0) -> bool:
        """Whether two boxes overlap, or come nearer to each other than ``gap``.

        >>> Box(0, 0, 2, 1).meets(Box(1, 0, 3, 1)), Box(0, 0, 1, 1).meets(Box(1, 0, 2, 1))
        (True, False)
        """
        return (
            self.left < other.right + gap
            and other.left < self.right + gap
            and self.bottom < other.top + gap
            and other.bottom < self.top + gap
        )


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box around others; an empty one at the origin where there are none."""
    found = list(boxes)
    if not found:
        return Box(0.0, 0.0, 0.0, 0.0)
    return Box(
        min(each.left for each in found),
        min(each.bottom for each in found),
        max(each.right for each in found),
        max(each.top for each in found),
    )


@dataclass(frozen=True, kw_only=True)
class Line:
    """A straight line."""

    start: Point
    end: Point
    hidden: bool = False


@dataclass(frozen=True, kw_only=True)
class Polyline:
    """A line through points, closed or open."""

    points: tuple[Point, ...]
    closed: bool = False
    fill: Fill = "none"
    hidden: bool = False


@dataclass(frozen=True, kw_only=True)
class Rect:
    """An upright rectangle from its lower left corner."""

    x: float
    y: float
    width: float
    height: float
    fill: Fill = "none"
    hidden: bool = False


@dataclass(frozen=True, kw_only=True)
class Circle:
    """A circle around its middle."""

    x: float
    y: float
    radius: float
    fill: Fill = "none"


@dataclass(frozen=True, kw_only=True)
class Text:
    """Real text on its base line; ``size`` is the height of an em. ``turned`` runs upwards."""

    x: float
    y: float
    words: str
    size: float
    anchor: Anchor = "start"
    bold: bool = False
    turned: bool = False
    ink: bool = True  # False: in the colour of paper, on something filled with ink


@dataclass(frozen=True, kw_only=True)
class Dimension:
    """A length between two points, upright or level, drawn ``offset`` beside them; ``size`` of its label."""

    start: Point
    end: Point
    offset: float
    label: str
    size: float

    @property
    def upright(self) -> bool:
        """Whether it measures a height."""
        return abs(self.end[1] - self.start[1]) > abs(self.end[0] - self.start[0])


@dataclass(frozen=True, kw_only=True)
class Group:
    """Shapes that belong together under one name, with what they are in words."""

    name: str
    role: Role
    parts: tuple[Shape, ...]
    title: str = ""


Shape = Line | Polyline | Rect | Circle | Text | Dimension | Group


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """Shapes with a title, a text alternative and a scale: metres to a millimetre of paper."""

    title: str
    described: str
    parts: tuple[Group, ...]
    metres_per_mm: float

    @property
    def box(self) -> Box:
        """The extents of everything drawn."""
        return around(box_of(each) for each in self.parts)


def box_of(shape: Shape) -> Box:
    """The extents of a shape, without the weight of its line."""
    if isinstance(shape, Group):
        return around(box_of(part) for part in shape.parts)
    if isinstance(shape, Dimension):
        return around(box_of(part) for part in dimension_parts(shape))
    if isinstance(shape, Rect):
        return Box(shape.x, shape.y, shape.x + shape.width, shape.y + shape.height)
    if isinstance(shape, Circle):
        r = shape.radius
        return Box(shape.x - r, shape.y - r, shape.x + r, shape.y + r)
    if isinstance(shape, Text):
        return _box_of_text(shape)
    points = (shape.start, shape.end) if isinstance(shape, Line) else shape.points
    return around(Box(x, y, x, y) for x, y in points)


def _box_of_text(text: Text) -> Box:
    wide = width_of(text.words, bold=text.bold) * text.size
    back = {"start": 0.0, "middle": wide / 2, "end": wide}[text.anchor]
    above, below = 0.77 * text.size, 0.24 * text.size
    if text.turned:
        return Box(text.x - above, text.y - back, text.x + below, text.y - back + wide)
    return Box(text.x - back, text.y - below, text.x - back + wide, text.y + above)


def dimension_parts(dimension: Dimension) -> tuple[Line | Rect | Text, ...]:
    """A dimension as lines and text: two witness lines, the line between them with ticks, and its label.

    The label stands along the line, on blank paper; where the line is too short for it, beyond the end.
    """
    *lines, label = _upright(dimension) if dimension.upright else _level(dimension)
    box = box_of(label)
    blank = Rect(x=box.left, y=box.bottom, width=box.width, height=box.height, fill="blank")
    return (blank, *lines, label)


def _level(dimension: Dimension) -> Iterator[Line | Text]:
    size = dimension.size
    (x1, y1), (x2, y2) = dimension.start, dimension.end
    y = (min if dimension.offset < 0 else max)(y1, y2) + dimension.offset
    past = size * 0.35 * (-1 if dimension.offset < 0 else 1)
    yield Line(start=(x1, y1), end=(x1, y + past))
    yield Line(start=(x2, y2), end=(x2, y + past))
    yield Line(start=(x1, y), end=(x2, y))
    for x in (x1, x2):
        yield Line(start=(x - size * 0.3, y - size * 0.3), end=(x + size * 0.3, y + size * 0.3))
    low, high = min(x1, x2), max(x1, x2)
    if width_of(dimension.label) * size + size <= high - low:
        yield Text(x=(low + high) / 2, y=y + size * 0.4, words=dimension.label, size=size, anchor="middle")
    else:
        yield Text(x=high + size * 0.7, y=y - size * 0.36, words=dimension.label, size=size)


def _upright(dimension: Dimension) -> Iterator[Line | Text]:
    size = dimension.size
    (x1, y1), (x2, y2) = dimension.start, dimension.end
    x = (min if dimension.offset < 0 else max)(x1, x2) + dimension.offset
    past = size * 0.35 * (-1 if dimension.offset < 0 else 1)
    yield Line(start=(x1, y1), end=(x + past, y1))
    yield Line(start=(x2, y2), end=(x + past, y2))
    yield Line(start=(x, y1), end=(x, y2))
    for y in (y1, y2):
        yield Line(start=(x - size * 0.3, y - size * 0.3), end=(x + size * 0.3, y + size * 0.3))
    low, high = min(y1, y2), max(y1, y2)
    fits = width_of(dimension.label) * size + size <= high - low
    anchor: Anchor = "middle" if fits else "start"
    at = (low + high) / 2 if fits else high + size * 0.5
    yield Text(x=x - size * 0.4, y=at, words=dimension.label, size=size, anchor=anchor, turned=True)
