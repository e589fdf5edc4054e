"""Force over travel: how hard something pushes back the farther it is pressed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Annotated

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Unit
from sillwright.base.words import N_, say

Curve = Annotated[tuple[tuple[float, float], ...], Unit("m"), Unit("N")]
MOST_POINTS = 64


def checked_curve(curve: Sequence[Sequence[float]], owner: str) -> tuple[tuple[float, float], ...]:
    """A force–travel curve as pairs: it starts at [0, 0] and both columns rise strictly."""
    try:
        pairs = tuple((float(travel), float(force)) for travel, force in curve)
    except (TypeError, ValueError) as error:
        said = N_("{path}: a list of pairs [travel in m, force in N] is accepted")
        raise OutOfRange(say(said, path=f"{owner}.curve")) from error
    if not 2 <= len(pairs) <= MOST_POINTS:
        said = N_("{path}: {count} points; 2 to {most} are accepted")
        raise OutOfRange(say(said, path=f"{owner}.curve", count=len(pairs), most=MOST_POINTS))
    if pairs[0] != (0.0, 0.0):
        said = N_("{path}: starts at {point}; [0, 0] is accepted")
        raise OutOfRange(say(said, path=f"{owner}.curve", point=str(list(pairs[0]))))
    for (travel, force), (further, harder) in pairwise(pairs):
        if not (further > travel and harder > force):
            points = {"point": f"[{further:g}, {harder:g}]", "before": f"[{travel:g}, {force:g}]"}
            said = N_("{path}: {point} after {before}; travel and force must both rise from point to point")
            raise OutOfRange(say(said, path=f"{owner}.curve", **points))
    return pairs
