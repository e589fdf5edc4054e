"""The narrowest strip between two parallel lines that holds a floor: the line whose greatest error is least.

Computed exactly: every floating-point number is a whole number over a power of two, so that after scaling all of it
is done in whole numbers and fractions of them. Nothing is lost where points lie almost on a line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

Point = tuple[float, float]
Whole = tuple[int, int]


@dataclass(frozen=True, kw_only=True)
class Strip:
    """Two parallel lines around a floor."""

    slope: float  # rise over run, positive where it rises to the right
    width: float  # upright distance between the lines
    middle: float  # height of the line halfway between them, at x = 0
    touches: tuple[Point, ...]  # the points on either line, from left to right


def narrowest_strip(points: Sequence[Point], steepest: float | None = None) -> Strip:
    """The narrowest strip of all slopes, or of those up to ``steepest`` either way.

    Parameters: points [m, m] at no fewer than two places, in any order; ``steepest`` as rise over run. Returns the
    strip; where many slopes are equally good, the one nearest to level.

    The width is convex in the slope, and least where the points that hold the upper and the lower line change
    sides; walking along both convex hulls finds that slope in as many steps as they have corners.

    >>> found = narrowest_strip([(0, 0), (1, 1), (2, 0)])
    >>> found.slope, found.width, found.middle, found.touches
    (0.0, 1.0, 0.5, ((0, 0), (1, 1), (2, 0)))

    Source: alternation theorem of the best uniform approximation by a line (Chebyshev).
    """
    whole, scale = _whole(points)
    slope = _best_slope(whole)
    if steepest is not None:
        most = Fraction(steepest)
        slope = max(-most, min(most, slope))
    over, under = slope.denominator, slope.numerator
    heights = [z * over - x * under for x, z in whole]
    low, high = min(heights), max(heights)
    held = {point for point, height in zip(points, heights, strict=True) if height in (low, high)}
    return Strip(
        slope=float(slope),
        width=float(Fraction(high - low, over * scale)),
        middle=float(Fraction(high + low, 2 * over * scale)),
        touches=tuple(sorted(held)),
    )


def _whole(points: Sequence[Point]) -> tuple[list[Whole], int]:
    """The points times the least number that makes all of them whole."""
    ratios = [(x.as_integer_ratio(), z.as_integer_ratio()) for x, z in points]
    scale = max(under for pair in ratios for _, under in pair)  # powers of two: the greatest holds the others
    return [(a * (scale // b), c * (scale // d)) for (a, b), (c, d) in ratios], scale


def _best_slope(points: Sequence[Whole]) -> Fraction:
    lower, upper = _hull(points, 1), _hull(points, -1)
    left, right = 0, len(upper) - 1  # what holds a line that falls most steeply
    slope = Fraction(0)
    while upper[right][0] > lower[left][0]:
        slope, left, right = _next(lower, upper, left, right)
    if upper[right][0] < lower[left][0]:
        return slope
    until, *_ = _next(lower, upper, left, right)  # one above the other: every slope up to the next corner
    return max(slope, min(until, Fraction(0)))


def _next(lower: Sequence[Whole], upper: Sequence[Whole], left: int, right: int) -> tuple[Fraction, int, int]:
    """The next slope at which a line goes over to another corner, and the corners that hold it then."""
    one = _slope(upper[right - 1], upper[right]) if right > 0 else None
    other = _slope(lower[left], lower[left + 1]) if left + 1 < len(lower) else None
    if one is not None and (other is None or one <= other):
        return one, left, right - 1
    if other is None:
        raise ValueError("a line needs points at two places")
    return other, left + 1, right


def _slope(one: Whole, other: Whole) -> Fraction:
    return Fraction(other[1] - one[1], other[0] - one[0])


def _hull(points: Sequence[Whole], side: int) -> list[Whole]:
    """The lower convex hull from left to right; the upper one where ``side`` is -1."""
    hull: list[Whole] = []
    for x, z in sorted((x, side * z) for x, z in points):
        if hull and hull[-1][0] == x:
            continue  # the lowest at a place came first
        while len(hull) > 1:
            (x1, z1), (x2, z2) = hull[-2:]
            if (x2 - x1) * (z - z1) > (z2 - z1) * (x - x1):  # turns left: a corner
                break
            hull.pop()
        hull.append((x, z))
    return [(x, side * z) for x, z in hull]
