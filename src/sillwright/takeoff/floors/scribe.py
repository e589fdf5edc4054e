"""The scribe: the line along which a wooden bottom section is planed so that it meets its floor, at full size.

The leaf is blocked level just clear of the highest point of the floor, and the line is drawn at the greatest gap:
over the lowest point nothing is taken off, over the highest as much as the floor is uneven.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Amount, Reader, Sentence, in_words, render, say, translate
from sillwright.drawing.shapes import Dimension, Drawing, Group, Line, Polyline, Shape, Text
from sillwright.takeoff.floors.strip import Point

FULL_SIZE = 0.001
"""Metres of the drawing to a millimetre of paper."""
BAND = 0.040
"""How much of the leaf is shown above the line."""
LETTERS = 0.0035
LAYERS = {"leaf": "leaf", "floor": "floor", "scribe": "scribe", "measures": "dimension"}
"""The layer of each group in a drawing file; words have their own."""


@dataclass(frozen=True, kw_only=True)
class ScribeCurve:
    """What is planed off the leaf, from its left end to its right, in metres from the left jamb."""

    cut: tuple[Point, ...]  # place, height of the line above the leaf's bottom edge

    @property
    def left(self) -> float:
        """The left end of the leaf."""
        return self.cut[0][0]

    @property
    def right(self) -> float:
        """The right end of the leaf."""
        return self.cut[-1][0]

    @property
    def greatest(self) -> float:
        """The most that is taken off; at which the scribe is set."""
        return max(height for _, height in self.cut)

    @property
    def floor(self) -> tuple[Point, ...]:
        """The floor under the leaf blocked just clear of it."""
        return tuple((x, height - self.greatest) for x, height in self.cut)


def scribe(heights: Sequence[Point], left: float, right: float) -> ScribeCurve:
    """The scribe curve of a leaf from ``left`` to ``right`` [m] over a floor's ``heights`` [m, m].

    Beyond the first and the last point that was read the floor is taken to go on level. Points beyond the leaf do
    not count.

    Raises :class:`OutOfRange` where the leaf has no length, or no point was read.

    >>> scribe([(0.0, 0.004), (1.0, 0.0)], 0.0, 2.0).cut
    ((0.0, 0.004), (1.0, 0.0), (2.0, 0.0))

    Source: trade rules of thumb, from memory: scribed at the greatest gap.
    """
    if not heights or not right > left:
        raise OutOfRange(say(N_("the scribe needs points of the floor, and a leaf from left to right")))
    ordered = sorted(heights)
    inside = [(x, z) for x, z in ordered if left < x < right]
    along = [(left, _height(ordered, left)), *inside, (right, _height(ordered, right))]
    low = min(z for _, z in along)
    return ScribeCurve(cut=tuple((x, z - low) for x, z in along))


def _height(ordered: Sequence[Point], x: float) -> float:
    if x <= ordered[0][0]:
        return ordered[0][1]
    for (x1, z1), (x2, z2) in pairwise(ordered):
        if x1 <= x <= x2 and x2 > x1:
            return z1 + (z2 - z1) * (x - x1) / (x2 - x1)
    return ordered[-1][1]


def scribe_drawing(curve: ScribeCurve, reader: Reader, name: str = "") -> Drawing:
    """The scribe at full size: leaf, line to plane to, floor below, what to take off at every point.

    x is measured from the left jamb, inside looking out; height 0 is the leaf's bottom edge before it is planed.
    """
    left, right, top = curve.left, curve.right, curve.greatest + BAND
    leaf = Polyline(points=((left, top), (left, 0.0), (right, 0.0), (right, top)))
    line = Polyline(points=curve.cut)
    ground = Polyline(points=curve.floor)
    words = {"greatest": Amount(curve.greatest, "m"), "name": name}
    title = Sentence(N_("Scribe of the bottom edge, full size: {name}"), words)
    described = Sentence(
        N_(
            "The line to plane the bottom edge to, inside, looking out, the left jamb at the left end; {greatest} "
            "comes off at most."
        ),
        words,
    )
    return Drawing(
        title=render(title, reader),
        described=render(described, reader),
        parts=(
            Group(name="leaf", role="leaf", parts=(leaf,)),
            Group(name="floor", role="structure", parts=(ground,)),
            Group(name="scribe", role="device", parts=(line,)),
            Group(name="measures", role="dimension", parts=_measures(curve, reader)),
            Group(name="words", role="note", parts=_words(curve, reader, top)),
        ),
        metres_per_mm=FULL_SIZE,
    )


def _measures(curve: ScribeCurve, reader: Reader) -> tuple[Shape, ...]:
    bottom = -curve.greatest - 0.015
    length = in_words(Amount(curve.right - curve.left, "m"), reader)
    wide = Dimension(
        start=(curve.left, -curve.greatest),
        end=(curve.right, -curve.greatest),
        offset=bottom + curve.greatest,
        label=length,
        size=LETTERS,
    )
    if curve.greatest == 0.0:
        return (wide,)
    deepest = in_words(Amount(curve.greatest, "m"), reader)
    ends = (curve.right, 0.0), (curve.right, curve.greatest)
    return wide, Dimension(start=ends[0], end=ends[1], offset=0.020, label=deepest, size=LETTERS)


def _words(curve: ScribeCurve, reader: Reader, top: float) -> tuple[Shape, ...]:
    """What comes off at every point, with a line up to it, and which way round the drawing is."""
    view = translate(N_("Inside, looking out"), reader)
    jamb = translate(N_("left jamb"), reader)
    shapes: list[Shape] = [
        Text(x=curve.left, y=top + 3 * LETTERS, words=f"{view} – {jamb}", size=LETTERS * 1.4, bold=True),
    ]
    for x, height in curve.cut:
        said = Sentence(N_("at {x}: {height}"), {"x": Amount(x, "m"), "height": Amount(height, "m")})
        shapes.append(Line(start=(x, height), end=(x, top + LETTERS), hidden=True))
        shapes.append(Text(x=x + LETTERS * 0.4, y=top + LETTERS * 0.5, words=render(said, reader), size=LETTERS))
    return tuple(shapes)
