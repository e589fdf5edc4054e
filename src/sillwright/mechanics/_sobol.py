"""Sobol' points, plain and scrambled, without any library.

Direction numbers: Joe and Kuo (2008), ``data/sobol.toml``. Scrambling: a random lower triangular matrix of bits
in front of each dimension and a random shift (Matoušek 1998), from a seed. A dimension's points depend on the
seed and its own number only, so asking for more dimensions does not move the ones that were there.
"""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base.data import table
from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, say

BITS = 32
MOST_DIMENSIONS = 40
MOST_POINTS = 2**20
_WORD = (1 << 64) - 1


def sobol(dimensions: int, points: int, seed: int | None = None) -> list[list[float]]:
    """Sobol' points in [0, 1): one list for each dimension. Without a seed they are not scrambled.

    ``points`` is a power of two. Raises :class:`OutOfRange` otherwise, and beyond 40 dimensions.

    >>> sobol(2, 4)
    [[0.0, 0.5, 0.75, 0.25], [0.0, 0.5, 0.25, 0.75]]

    Source: Joe and Kuo, SIAM J. Sci. Comput. 30 (2008); scrambling by Matoušek, J. Complexity 14 (1998).
    """
    if not 1 <= dimensions <= MOST_DIMENSIONS:
        told = {"path": "dimensions", "number": dimensions, "most": MOST_DIMENSIONS}
        raise OutOfRange(say(N_("{path}: {number}; 1 to {most} are accepted"), **told))
    if points < 1 or points & (points - 1) or points > MOST_POINTS:
        told = {"path": "points", "number": points, "most": MOST_POINTS}
        raise OutOfRange(say(N_("{path}: {number}; a power of two up to {most} is accepted"), **told))
    return [_column(dimension, points, seed) for dimension in range(dimensions)]


def _column(dimension: int, points: int, seed: int | None) -> list[float]:
    directions = _directions(dimension)[: points.bit_length() - 1]
    shift = 0
    if seed is not None:
        words = _words(seed * MOST_DIMENSIONS + dimension)
        rows = [(next(words) >> 32 | 1) << row & (1 << BITS) - 1 for row in range(BITS)]
        shift = next(words) >> 32
        directions = [_scrambled(each, rows) for each in directions]
    found = [shift]
    for each in directions:  # in the order of the Gray code, which is its own mirror image
        found += [number ^ each for number in reversed(found)]
    return [number * 2.0**-BITS for number in found]


def _directions(dimension: int) -> list[int]:
    if dimension == 0:
        return [1 << (BITS - 1 - place) for place in range(BITS)]
    data = table("sillwright.mechanics", "sobol")
    polynomial, first = data["polynomials"][dimension - 1], data["first"][dimension - 1]
    degree = len(first)
    found = [number << (BITS - 1 - place) for place, number in enumerate(first)]
    for place in range(degree, BITS):
        number = found[place - degree] ^ found[place - degree] >> degree
        for back in range(1, degree):
            if polynomial >> (degree - back) & 1:
                number ^= found[place - back]
        found.append(number)
    return found


def _scrambled(direction: int, rows: list[int]) -> int:
    """A direction number behind the matrix; row r mixes bits r and above, its own bit stays."""
    return sum(((direction & rows[row]).bit_count() & 1) << row for row in range(BITS))


def _words(seed: int) -> Iterator[int]:
    """Pseudo-random words of 64 bits (splitmix64: Steele, Lea and Flood 2014)."""
    state = seed & _WORD
    while True:
        state = (state + 0x9E3779B97F4A7C15) & _WORD
        word = (state ^ state >> 30) * 0xBF58476D1CE4E5B9 & _WORD
        word = (word ^ word >> 27) * 0x94D049BB133111EB & _WORD
        yield word ^ word >> 31
