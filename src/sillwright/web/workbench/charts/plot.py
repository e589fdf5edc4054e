"""A frame with two axes, and what is drawn into it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from sillwright.base.display import rounded
from sillwright.drawing.lettering import width_of, wrapped
from sillwright.drawing.shapes import Box, Circle, Drawing, Group, Line, Point, Polyline, Rect, Shape, Text
from sillwright.paper.svg import MARGIN
from sillwright.web.workbench.amounts import Scale

WIDTH, HEIGHT = 118.0, 90.0
PLOT = Box(17.0, 15.0, 103.0, 73.0)
TALL = Box(17.0, 15.0, 103.0, 82.0)
"""The frame where nothing is named above it."""
LETTERS = 4.1
SMALL = LETTERS * 0.9
ROOM = 0.86 * WIDTH / LETTERS
"""What a line of words may take, in ems; a browser's own letters are wider than those of the papers."""


@dataclass(frozen=True)
class Axis:
    """From a low to a high end, SI; written in a unit of its own."""

    title: str
    low: float
    high: float
    scale: Scale

    def share(self, value: float) -> float:
        """Where a value lies, 0 at the low end and 1 at the high one."""
        return (value - self.low) / (self.high - self.low)

    def marks(self) -> list[tuple[float, str]]:
        """Round numbers between the ends, in SI and as they are written."""
        factor, zero = self.scale.factor, self.scale.zero
        low, high = ((end - zero) / factor for end in (self.low, self.high))
        return [(each * factor + zero, written(each)) for each in round_numbers(low, high)]

    @property
    def words(self) -> str:
        """What stands along it."""
        return f"{self.title}, {self.scale.unit}" if self.scale.unit else self.title


def round_numbers(low: float, high: float, count: int = 5) -> list[float]:
    """Round numbers from low to high, about so many.

    >>> round_numbers(0.0, 1.3), round_numbers(4.0, 16.0)
    ([0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2], [4.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0])
    """
    raw = (high - low) / count
    power = 10.0 ** floor(log10(raw))
    step = next(n * power for n in (1, 2, 5, 10) if n * power >= raw * 0.75)
    start, end = ceil(low / step - 1e-9), floor(high / step + 1e-9)
    return [round(n * step, 12) for n in range(start, end + 1)]


def written(number: float) -> str:
    """A number along an axis; very small ones by their power of ten.

    >>> written(0.25), written(1500.0), written(2e-7)
    ('0.25', '1,500', '2e-07')
    """
    return f"{number:.0e}" if 0 < abs(number) < 1e-4 else rounded(number, 4)


@dataclass(frozen=True)
class Plot:
    """Places in the frame."""

    across: Axis
    up: Axis
    box: Box = PLOT

    def at(self, x: float, y: float) -> Point:
        """The place of a pair of SI values."""
        return self.box.left + self.box.width * self.across.share(
            x
        ), self.box.bottom + self.box.height * self.up.share(y)

    def frame(self, title: str) -> Group:
        """The axes with their numbers and names; the upper one's name stands above it, level, to be read."""
        left, bottom = self.box.left, self.box.bottom
        parts: list[Shape] = [Polyline(points=((left, self.box.top), (left, bottom), (self.box.right, bottom)))]
        last = -1e9
        for value, words in self.across.marks():
            x = self.at(value, self.up.low)[0]
            parts.append(Line(start=(x, bottom), end=(x, bottom - 1.4)))
            wide = width_of(words) * LETTERS / 2
            if x - wide > last + 1.5 and x + wide < WIDTH + 1.5:
                parts.append(Text(x=x, y=bottom - 5.6, words=words, size=LETTERS, anchor="middle"))
                last = x + wide
        for value, words in self.up.marks():
            y = self.at(self.across.low, value)[1]
            parts.append(Line(start=(left, y), end=(left - 1.4, y)))
            parts.append(Text(x=left - 2.2, y=y - 1.4, words=words, size=LETTERS, anchor="end"))
        parts.extend(_named(self.across.words, bottom - 11.4))
        lines = wrapped(self.up.words, ROOM, most=1, bold=True)
        parts.extend(Text(x=1.0, y=HEIGHT - 4.0, words=line, size=LETTERS, bold=True) for line in lines)
        return Group(name="axes", role="structure", parts=tuple(parts), title=title)

    def curve(self, name: str, title: str, points: Sequence[tuple[float, float | None]]) -> Group:
        """A line through points; where one is missing it is broken."""
        parts = tuple(Polyline(points=run) for run in self._runs(points))
        return Group(name=name, role="leaf", parts=parts, title=title)

    def dashed(self, name: str, title: str, points: Sequence[tuple[float, float]]) -> Group:
        """A dashed line through points."""
        line = Polyline(points=tuple(self.at(x, y) for x, y in points), hidden=True)
        return Group(name=name, role="note", parts=(line,), title=title)

    def _runs(self, points: Sequence[tuple[float, float | None]]) -> Iterator[tuple[Point, ...]]:
        run: list[Point] = []
        for x, y in points:
            if y is None:
                if len(run) > 1:
                    yield tuple(run)
                run = []
            else:
                run.append(self.at(x, y))
        if len(run) > 1:
            yield tuple(run)

    def levels(self, marks: Sequence[tuple[str, float, str]]) -> list[Group]:
        """Dashed lines across, named to the right of the frame, one name above the other."""
        free, found = -1e9, []
        for name, value, words in sorted(marks, key=lambda each: each[1]):
            y = self.at(self.across.low, value)[1]
            line = Line(start=(self.box.left, y), end=(self.box.right, y), hidden=True)
            free = max(free + SMALL * 1.15, y - 1.3)
            text = Text(x=self.box.right + 0.8, y=free, words=words, size=SMALL)
            found.append(Group(name=name, role="note", parts=(line, text), title=words))
        return found

    def uprights(self, marks: Sequence[tuple[str, float, str]]) -> list[Group]:
        """Dashed lines upwards, named above the frame, in as many rows as keep the names apart."""
        ends: list[float] = []  # where each row is free from
        found = []
        for name, value, words in sorted(marks, key=lambda each: each[1]):
            x = self.at(value, self.up.low)[0]
            wide = width_of(words) * SMALL
            left = max(self.box.left, min(x - wide / 2, WIDTH - wide))
            row = next((at for at, free in enumerate(ends) if free < left), len(ends))
            ends[row : row + 1] = [left + wide + 1.5]
            y = self.box.top + 1.2 + row * SMALL * 1.2
            line = Line(start=(x, self.box.bottom), end=(x, y - 0.4), hidden=True)
            text = Text(x=left, y=y + 0.6, words=words, size=SMALL)
            found.append(Group(name=name, role="note", parts=(line, text), title=words))
        return found

    def dot(self, name: str, x: float, y: float, words: str, *, below: bool = False) -> Group:
        """A filled point with its words beside it; ``below`` it where the curve rises."""
        place = self.at(x, y)
        ends = place[0] + 2.5 + width_of(words, bold=True) * LETTERS * 1.1 > WIDTH
        text = Text(
            x=place[0] + (-2.2 if ends else 2.2),
            y=place[1] + (-LETTERS - 0.5 if below and place[1] > self.box.bottom + 2 * LETTERS else 1.2),
            words=words,
            size=LETTERS,
            anchor="end" if ends else "start",
            bold=True,
        )
        circle = Circle(x=place[0], y=place[1], radius=1.1, fill="ink")
        return Group(name=name, role="device", parts=(circle, text), title=words)


def _named(words: str, y: float) -> Iterator[Text]:
    (line,) = wrapped(words, ROOM, most=1, bold=True) or ("",)
    yield Text(x=WIDTH, y=y, words=line, size=LETTERS, anchor="end", bold=True)


@dataclass(frozen=True)
class Chart:
    """A drawing, and where in its file a pair of SI values lies: x = a + b · across, y = c + d · up."""

    drawing: Drawing
    places: tuple[float, float, float, float]


def chart_of(plot: Plot, title: str, described: str, parts: Sequence[Group]) -> Chart:
    """A chart of always the same size, so that nothing jumps when it is drawn anew."""
    paper = Group(name="", role="dimension", parts=(Rect(x=0.0, y=0.0, width=WIDTH, height=HEIGHT, fill="blank"),))
    drawing = Drawing(title=title, described=described, parts=(paper, *parts), metres_per_mm=1.0)
    box = drawing.box
    (x0, y0), (x1, y1) = (plot.at(value, value) for value in (0.0, 1.0))
    return Chart(drawing, (x0 - box.left + MARGIN, x1 - x0, box.top - y0 + MARGIN, y0 - y1))
