"""The seam between shapes and files: shapes go to a small canvas, which writes them or remembers them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Protocol

from sillwright.drawing.shapes import (
    Box,
    Circle,
    Dimension,
    Drawing,
    Fill,
    Group,
    Line,
    Point,
    Polyline,
    Rect,
    Role,
    Shape,
    Text,
    around,
    box_of,
    dimension_parts,
)


@dataclass(frozen=True, kw_only=True)
class Stroke:
    """How a path is drawn: by the role of its group, hidden or not, filled or not."""

    role: Role
    hidden: bool = False
    fill: Fill = "none"


class Canvas(Protocol):
    """What a backend has to be able to draw."""

    def open(self, group: Group) -> None:
        """Everything until the matching close belongs to this group."""

    def close(self) -> None:
        """The end of the group that was opened last."""

    def path(self, points: tuple[Point, ...], closed: bool, stroke: Stroke) -> None:
        """A line through points."""

    def circle(self, circle: Circle, stroke: Stroke) -> None:
        """A circle."""

    def text(self, text: Text, role: Role) -> None:
        """Real text."""


def draw(drawing: Drawing, canvas: Canvas) -> None:
    """Send a drawing to a canvas."""
    for group in drawing.parts:
        _draw(group, group.role, canvas)


def _draw(shape: Shape, role: Role, canvas: Canvas) -> None:
    match shape:
        case Group():
            canvas.open(shape)
            for part in shape.parts:
                _draw(part, shape.role, canvas)
            canvas.close()
        case Dimension():
            for part in dimension_parts(shape):
                _draw(part, role, canvas)
        case Line():
            canvas.path((shape.start, shape.end), False, Stroke(role=role, hidden=shape.hidden))
        case Polyline():
            stroke = Stroke(role=role, hidden=shape.hidden, fill=shape.fill)
            canvas.path(shape.points, shape.closed, stroke)
        case Rect():
            canvas.path(corners(shape), True, Stroke(role=role, hidden=shape.hidden, fill=shape.fill))
        case Circle():
            canvas.circle(shape, Stroke(role=role, fill=shape.fill))
        case Text():
            canvas.text(shape, role)


def corners(rect: Rect) -> tuple[Point, ...]:
    """The corners of a rectangle, from the lower left, counter-clockwise."""
    right, top = rect.x + rect.width, rect.y + rect.height
    return ((rect.x, rect.y), (right, rect.y), (right, top), (rect.x, top))


@dataclass(frozen=True, kw_only=True)
class Seen:
    """A named group as a recorder saw it: its extents, its words, its role."""

    name: str
    role: Role
    box: Box
    words: tuple[str, ...]
    roles: frozenset[Role]  # its own and those of the groups inside it

    @property
    def x(self) -> float:
        """The middle, from left to right."""
        return self.box.x

    @property
    def y(self) -> float:
        """The middle, from bottom to top."""
        return self.box.y

    @property
    def left(self) -> float:
        """The left end."""
        return self.box.left

    @property
    def right(self) -> float:
        """The right end."""
        return self.box.right

    @property
    def bottom(self) -> float:
        """The lower end."""
        return self.box.bottom

    @property
    def top(self) -> float:
        """The upper end."""
        return self.box.top

    @property
    def asks(self) -> bool:
        """Whether it is drawn as a question."""
        return "unknown" in self.roles and any("?" in each for each in self.words)


@dataclass
class Recorder:
    """The canvas that tests use: it remembers what was drawn."""

    texts: list[tuple[Text, Role]] = field(default_factory=list)
    paths: list[tuple[tuple[Point, ...], Stroke]] = field(default_factory=list)
    circles: list[tuple[Circle, Stroke]] = field(default_factory=list)
    groups: list[Group] = field(default_factory=list)
    depth: int = 0

    def open(self, group: Group) -> None:
        """Remember a group."""
        self.groups.append(group)
        self.depth += 1

    def close(self) -> None:
        """The end of a group."""
        self.depth -= 1

    def path(self, points: tuple[Point, ...], closed: bool, stroke: Stroke) -> None:
        """Remember a line."""
        self.paths.append(((*points, points[0]) if closed else points, stroke))

    def circle(self, circle: Circle, stroke: Stroke) -> None:
        """Remember a circle."""
        self.circles.append((circle, stroke))

    def text(self, text: Text, role: Role) -> None:
        """Remember words."""
        self.texts.append((text, role))

    @property
    def names(self) -> tuple[str, ...]:
        """The names of all groups, in the order in which they were drawn."""
        return tuple(dict.fromkeys(group.name for group in self.groups if group.name))

    @property
    def words(self) -> tuple[str, ...]:
        """All words, in the order in which they were drawn."""
        return tuple(text.words for text, _ in self.texts)

    def one(self, name: str) -> Seen:
        """The group of a name. Raises :class:`LookupError` unless there is exactly one."""
        found = [group for group in self.groups if group.name == name]
        if len(found) != 1:
            raise LookupError(f"{len(found)} shapes are called {name!r}; there are {', '.join(self.names)}")
        return _seen(found[0])

    def has(self, name: str) -> bool:
        """Whether anything of that name was drawn."""
        return name in self.names

    def overlaps(self) -> list[tuple[str, str]]:
        """Pairs of words that stand on each other."""
        boxes = [(text.words, box_of(text)) for text, _ in self.texts]
        return [
            (one, other)
            for index, (one, box) in enumerate(boxes)
            for other, twin in boxes[index + 1 :]
            if box.meets(twin)
        ]


def _seen(group: Group) -> Seen:
    inside = list(_below(group))
    shapes = [each for each in inside if not isinstance(each, (Group, Text))]
    texts = tuple(each.words for each in inside if isinstance(each, Text))
    labels = tuple(each.label for each in inside if isinstance(each, Dimension))
    roles = frozenset({group.role, *(each.role for each in inside if isinstance(each, Group))})
    box = around(box_of(each) for each in shapes) if shapes else box_of(group)
    return Seen(name=group.name, role=group.role, box=box, words=texts + labels, roles=roles)


def _below(group: Group) -> Iterator[Shape]:
    for part in group.parts:
        yield part
        if isinstance(part, Group):
            yield from _below(part)


def record(drawing: Drawing) -> Recorder:
    """A drawing as a recorder saw it."""
    recorder = Recorder()
    draw(drawing, recorder)
    return recorder
