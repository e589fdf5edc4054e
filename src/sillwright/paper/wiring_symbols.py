"""The signs of a wiring sheet: terminals, wires, coiled cord, radio, an edge with its strips and what ends them.

In metres of paper, y upwards. Signs are our own, plain, and read in black and white.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin

from sillwright.base.words import Amount, Reader, in_words
from sillwright.drawing.lettering import cut, width_of
from sillwright.drawing.shapes import Circle, Group, Line, Point, Polyline, Rect, Role, Shape, Text
from sillwright.hookup.answer import Run, Wiring

MM = 0.001
SIZE = 2.7 * MM
"""The height of letters."""
STEP = 6.0 * MM
"""Between two wires."""
DOT = 0.9 * MM
TURNS = 5
CROSSINGS = 4
"""Of a twisted pair, as it is drawn: even, so that each wire comes out where it went in."""


def rows(count: int, middle: float) -> tuple[float, ...]:
    """The heights of so many wires around a middle, from the top.

    >>> [round(each * 1000, 1) for each in rows(2, 0.0)]
    [3.0, -3.0]
    """
    return tuple(middle + STEP * ((count - 1) / 2 - at) for at in range(count))


def landing(start: Sequence[float], end: Sequence[float]) -> tuple[tuple[float, float], ...]:
    """Which wire goes where: as many as there are on the fuller side, in their order, never crossing.

    >>> landing((2.0, 0.0), (3.0, 2.0, 1.0, 0.0))
    ((2.0, 3.0), (2.0, 2.0), (0.0, 1.0), (0.0, 0.0))
    """
    count = max(len(start), len(end))
    return tuple((start[at * len(start) // count], end[at * len(end) // count]) for at in range(count))


def terminal(x: float, y: float) -> Circle:
    """A terminal, or the place where two wires are joined."""
    return Circle(x=x, y=y, radius=DOT, fill="paper")


def run_of(run: Run, left: float, right: float, start: Sequence[float], end: Sequence[float]) -> Group:
    """What goes from one point to the next, drawn as what it is; dashed where its conductors are not known."""
    role: Role = "leaf" if run.known else "unknown"
    if run.kind == "radio":
        return Group(name=run.kind, role="leaf", parts=_waves(left, right, (start[0] + start[-1]) / 2))
    draw = {"cord": _coiled, "hose": _hose}.get(run.kind, _straight)
    parts = [shape for one, other in landing(start, end) for shape in draw((left, one), (right, other))]
    if run.kind == "lead" and len(parts) == 2:
        parts = list(_twisted(left, right, start, end))
    if run.kind == "cord":
        parts.append(Group(name="", role="structure", parts=tuple(_reliefs(left, right, start, end))))
    return Group(name=run.kind, role=role, parts=tuple(parts))


def _straight(start: Point, end: Point) -> tuple[Shape, ...]:
    """A wire: level, then across, then level, where its ends are not at one height."""
    if abs(start[1] - end[1]) < 1e-9:
        return (Line(start=start, end=end),)
    middle = (start[0] + end[0]) / 2
    return (Polyline(points=(start, (middle, start[1]), (middle, end[1]), end)),)


def _twisted(left: float, right: float, start: Sequence[float], end: Sequence[float]) -> tuple[Shape, ...]:
    """Two wires that cross each other and come back: a twisted pair."""
    lines = []
    for one, other in ((0, -1), (-1, 0)):
        points = [(left, start[one])]
        for at in range(1, CROSSINGS + 1):
            x = left + (right - left) * at / (CROSSINGS + 1)
            points += [
                (x - 0.8 * MM, start[one if at % 2 else other]),
                (x + 0.8 * MM, start[other if at % 2 else one]),
            ]
        points.append((right, end[one]))
        lines.append(Polyline(points=tuple(points)))
    return tuple(lines)


def _coiled(start: Point, end: Point) -> tuple[Shape, ...]:
    """A wire of a coiled cord: a wave."""
    (x1, y1), (x2, y2) = start, end
    inset = max(3.4 * MM, (x2 - x1) * 0.2)
    count = TURNS * 12
    wave = [
        (
            x1 + inset + (x2 - x1 - 2 * inset) * at / count,
            y1 + (y2 - y1) * at / count + 1.1 * MM * sin(2 * pi * TURNS * at / count),
        )
        for at in range(count + 1)
    ]
    return (Polyline(points=((x1, y1), *wave, (x2, y2))),)


def _hose(start: Point, end: Point) -> tuple[Shape, ...]:
    """A hose: two lines beside each other."""
    half = 0.8 * MM
    return tuple(
        Polyline(
            points=(
                (start[0], start[1] + off),
                ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2 + off),
                (end[0], end[1] + off),
            )
        )
        for off in (half, -half)
    )


def _reliefs(left: float, right: float, start: Sequence[float], end: Sequence[float]) -> list[Shape]:
    """The strain reliefs at both ends of a cord: a bar across its wires."""
    bars: list[Shape] = []
    for x, heights in ((left + 2.6 * MM, start), (right - 2.6 * MM, end)):
        low, high = min(heights) - 1.4 * MM, max(heights) + 1.4 * MM
        bars.append(Rect(x=x - 0.6 * MM, y=low, width=1.2 * MM, height=high - low, fill="ink"))
    return bars


def _waves(left: float, right: float, y: float) -> tuple[Shape, ...]:
    """Radio: arcs that go out from the leaf."""
    arcs: list[Shape] = []
    for at in range(1, 5):
        radius, x = at * (right - left) / 8, right - 1.5 * MM
        points = tuple(
            (x - radius * cos(turn), y + radius * sin(turn)) for turn in (k * pi / 48 - pi / 5 for k in range(20))
        )
        arcs.append(Polyline(points=points))
    return tuple(arcs)


def edge_of(
    wiring: Wiring,
    names: Sequence[str],
    left: float,
    right: float,
    heights: Sequence[float],
    middle: float,
    reader: Reader,
) -> Group:
    """The edge as a long body: its wires by colour, its strips, and what closes them at the far end."""
    inner, far = left + (18.0 if any(names) else 6.0) * MM, right - 13 * MM
    reach = (heights[0] - heights[-1]) / 2 if heights else 0.0
    half = max(8.5 * MM, reach + 3.5 * MM)
    parts: list[Shape] = [Rect(x=left, y=middle - half, width=right - left, height=2 * half)]
    if wiring.ends_in in {"element", "diode", "plain", "loop"} and len(heights) in {2, 4}:
        upper, lower = heights[0], heights[-1]
        parts += _strips(left, inner, far, upper, lower)
        if wiring.ends_in == "loop":
            parts.append(_returns(left, far, heights))
        elif wiring.ends_in == "element":
            parts += _element(far, upper, lower, wiring.element, reader)
        elif wiring.ends_in == "diode":
            parts.append(_diode(far, upper, lower))
    parts += [Group(name="", role="structure", parts=tuple(terminal(left, each) for each in heights))]
    parts += _colours(names, heights, left)
    return Group(name=wiring.device, role="device", parts=tuple(parts))


def _colours(names: Sequence[str], heights: Sequence[float], left: float) -> list[Shape]:
    """The colours of wires, above each."""
    size = 2.4 * MM
    return [
        Text(x=left + 1.6 * MM, y=y + 0.7 * MM, words=cut(name, 15.0 * MM / size), size=size)
        for name, y in zip(names, heights, strict=False)
        if name
    ]


def _strips(left: float, inner: float, far: float, upper: float, lower: float) -> list[Shape]:
    """Two strips that touch where they are pressed, thick, and the wires that lead to them."""
    bars: list[Shape] = [
        Rect(x=inner, y=y - 0.4 * MM, width=far - inner, height=0.8 * MM, fill="ink") for y in (upper, lower)
    ]
    return [*bars, _thin([Line(start=(left, y), end=(inner, y)) for y in (upper, lower)])]


def _returns(left: float, far: float, heights: Sequence[float]) -> Group:
    """The ways back of a four-wire loop, from the far ends of both strips."""
    x = far + 3 * MM
    return _thin(
        [
            Polyline(points=((far, strip), (x, strip), (x, back), (left, back)))
            for strip, back in ((heights[0], heights[1]), (heights[3], heights[2]))
        ]
    )


def _element(far: float, upper: float, lower: float, ohms: float | None, reader: Reader) -> list[Shape]:
    """A resistor across the far ends, with its value; a question where that is not known."""
    middle, x = (upper + lower) / 2, far + 3 * MM
    words = in_words(Amount(ohms, "ohm"), reader) if ohms is not None else "?"
    wire = Polyline(points=((far, upper), (x, upper), (x, lower), (far, lower)))
    body = Rect(x=x - 1 * MM, y=middle - 1.9 * MM, width=2 * MM, height=3.8 * MM, fill="paper")
    size = min(SIZE, 8.0 * MM / max(0.1, width_of(words)))
    return [_thin([wire, body]), Text(x=x + 1.7 * MM, y=middle - size * 0.36, words=words, size=size)]


def _diode(far: float, upper: float, lower: float) -> Group:
    """A diode across the far ends."""
    middle, x, half = (upper + lower) / 2, far + 3 * MM, 1.5 * MM
    wire = Polyline(points=((far, upper), (x, upper), (x, lower), (far, lower)))
    arrow = Polyline(
        points=((x - half, middle + half), (x + half, middle + half), (x, middle - half)), closed=True, fill="ink"
    )
    bar = Line(start=(x - half, middle - half), end=(x + half, middle - half))
    return _thin([wire, arrow, bar])


def _thin(parts: Sequence[Shape]) -> Group:
    """Wires inside a device: thinner than its body."""
    return Group(name="", role="structure", parts=tuple(parts))
