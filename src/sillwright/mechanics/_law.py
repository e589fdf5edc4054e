"""The law of contact: how hard edge and obstruction push back, as straight lines between break points.

Written in the part of Python that also compiles (:mod:`sillwright.mechanics.kernel`).
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence

SHORT, LONG = 25.0, 150.0  # forces whose durations the force standard asks for, N (EN 12453)


def place(
    depths: MutableSequence[float],
    forces: MutableSequence[float],
    slopes: MutableSequence[float],
    count: int,
    depth: float,
) -> tuple[int, int]:
    """Make ``depth`` a break point of the law of contact; its index and the new count of points."""
    index = 0
    while index < count and depths[index] < depth * (1.0 - 1e-12):
        index += 1
    if index < count and depths[index] <= depth * (1.0 + 1e-12):
        return index, count  # it is one already
    for at in range(count, index, -1):
        depths[at], forces[at], slopes[at] = depths[at - 1], forces[at - 1], slopes[at - 1]
    before = index - 1
    depths[index] = depth
    slopes[index] = slopes[before]
    forces[index] = forces[before] + slopes[before] * (depth - depths[before])
    return index, count + 1


def depth_at(
    depths: Sequence[float], forces: Sequence[float], slopes: Sequence[float], count: int, force: float
) -> float:
    """How deep the leaf is when the contact carries ``force``."""
    at = count - 1
    while forces[at] > force:
        at -= 1
    return depths[at] + (force - forces[at]) / slopes[at]


def force_at(
    depths: Sequence[float], forces: Sequence[float], slopes: Sequence[float], count: int, depth: float
) -> float:
    """The contact force with the leaf at ``depth``."""
    if depth <= 0.0:
        return 0.0
    at = count - 1
    while depths[at] > depth:
        at -= 1
    return forces[at] + slopes[at] * (depth - depths[at])


def lay_out(
    travel: Sequence[float],
    force: Sequence[float],
    points: int,
    end_stiffness: float,
    obstruction: float,
    actuation: float,
    depths: MutableSequence[float],
    forces: MutableSequence[float],
    slopes: MutableSequence[float],
) -> tuple[int, int, int, int]:
    """Edge and obstruction in series, with actuation, 25 N and 150 N as break points.

    ``points`` 0 means no edge. Fills ``depths``, ``forces``, ``slopes`` (room for ``points`` + 3, at least 4);
    returns their count and the indices of actuation (-1 where the edge never answers), 25 N and 150 N.
    """
    give = 1.0 / obstruction  # m/N; 0 where the obstruction is rigid (inf)
    count = 1 if points == 0 else points
    depths[0] = forces[0] = 0.0
    slopes[0] = obstruction
    for at in range(points):
        depths[at] = travel[at] + force[at] * give
        forces[at] = force[at]
    for at in range(points):
        soft = 1.0 / end_stiffness
        if at + 1 < points:
            soft = (travel[at + 1] - travel[at]) / (force[at + 1] - force[at])
        slopes[at] = 1.0 / (soft + give)
    short, count = place(depths, forces, slopes, count, depth_at(depths, forces, slopes, count, SHORT))
    long, count = place(depths, forces, slopes, count, depth_at(depths, forces, slopes, count, LONG))
    if points == 0 or not actuation > 0.0:
        return count, -1, short, long
    at = points - 1
    while travel[at] > actuation:
        at -= 1
    stiff = end_stiffness
    if at + 1 < points:
        stiff = (force[at + 1] - force[at]) / (travel[at + 1] - travel[at])
    answering = actuation + give * (force[at] + stiff * (actuation - travel[at]))
    more = count
    index, count = place(depths, forces, slopes, count, answering)
    if count > more:
        short += 1 if index <= short else 0
        long += 1 if index <= long else 0
    return count, index, short, long
