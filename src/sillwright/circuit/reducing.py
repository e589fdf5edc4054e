"""Taking nodes out of a web of conductances, for single values and for intervals; nothing is ever subtracted."""

from __future__ import annotations

from collections.abc import Iterable

Interval = tuple[float, float]
Bounds = dict[str, dict[str, Interval]]
NOTHING: Interval = (0.0, 0.0)
SLACK = 1e-9  # of relative round-off, far more than any elimination makes


def reduced(web: Bounds, keep: Iterable[str]) -> Bounds:
    """The web with every other node taken out: conductances between those kept, as intervals that hold every case.

    A node with ties g1, g2 … becomes ties gi gj / (g1 + g2 + …), which grow with gi and gj and fall with all the
    others, so that both bounds of each are exact for the step.
    """
    rest = {node: dict(row) for node, row in web.items()}
    waiting = set(rest) - set(keep)
    while waiting:
        node = min(waiting, key=lambda each: (len(rest[each]), each))
        waiting.remove(node)
        ties = list(rest.pop(node).items())
        low, high = sum(each[0] for _, each in ties), sum(each[1] for _, each in ties)
        for at, (one, first) in enumerate(ties):
            del rest[one][node]
            for other, second in ties[at + 1 :]:
                least = _through(first[0], second[0], high - first[1] - second[1])
                most = _through(first[1], second[1], low - first[0] - second[0])
                old = rest[one].get(other, NOTHING)
                rest[one][other] = rest[other][one] = (old[0] + least, old[1] + most)
    return rest


def _through(one: float, other: float, rest: float) -> float:
    """The tie between two neighbours of a node that is taken out."""
    return one * other / (one + other + max(rest, 0.0))


def lean(web: Bounds, hot: str, cold: str, one: str, other: str) -> int | None:
    """Whether ``one`` lies above ``other`` for all values: 1, -1, 0 for equal; None where it depends.

    ``hot`` is above ``cold``. As in a bridge, one is above other where its tie to hot times the other's tie to cold
    is the greater of the two such products.
    """
    kept = {hot, cold, one, other}
    left = reduced(web, kept)

    def tie(near: str, far: str) -> Interval:
        return left.get(near, {}).get(far, NOTHING)

    level = {hot: 1, cold: 0}
    if one in level and other in level:
        return level[one] - level[other]
    if one in level or other in level:
        fixed, free, way = (one, other, 1) if one in level else (other, one, -1)
        pulled = tie(free, cold if fixed == hot else hot)
        towards = 1 if fixed == hot else -1
        return way * towards if pulled[0] > 0 else 0 if pulled[1] == 0 else None
    (a, b), (c, d) = _times(tie(one, hot), tie(other, cold)), _times(tie(other, hot), tie(one, cold))
    if b == 0 == d:
        return 0
    return 1 if a > d * (1 + SLACK) else -1 if b * (1 + SLACK) < c else None


def _times(one: Interval, other: Interval) -> Interval:
    return one[0] * other[0], one[1] * other[1]
