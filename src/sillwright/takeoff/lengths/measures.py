"""Numbers that lengths are taken by, and the rounding of the trade: down to the quarter inch below, exactly."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from math import floor
from typing import Any

from sillwright.base import data
from sillwright.base.scale import INCH
from sillwright.base.source import Source

ROUND_OFF = 1e-9  # metre: what a sum of lengths loses in binary, far below what a tape shows
QUARTER = INCH / 4


def down(length: float) -> float:
    """The quarter inch at or below a length, in metres.

    A length that is a quarter up to round-off keeps it; the answer is the double nearest to the exact fraction.

    >>> down(3.2004), round(down(3.2003) / 0.0254, 9)
    (3.2004, 125.75)
    """
    return float(floor((length + ROUND_OFF) / float(QUARTER)) * QUARTER)


def above(value: float, limit: float) -> bool:
    """Whether a length is above a limit by more than round-off."""
    return value > limit + ROUND_OFF


def just(value: float, limit: float) -> bool:
    """Whether a length is the limit, up to round-off."""
    return abs(value - limit) <= ROUND_OFF


@cache
def _rows() -> dict[str, dict[str, Any]]:
    return {row["id"]: row for row in data.table("sillwright.takeoff", "lengths")["value"]}


def number(name: str) -> float:
    """The number called ``name`` of the table of lengths: metres, or a share."""
    return float(_rows()[name]["number"])


def up_to(name: str) -> float:
    """Up to which length a number holds, or the upper end of a range."""
    return float(_rows()[name]["up_to"])


@cache
def source(name: str) -> Source:
    """Where a number of the table comes from."""
    row = _rows()[name]
    return Source(document=row["document"], clause=row.get("clause"), sure=row["sure"], id=name)


def sources(names: Iterable[str]) -> tuple[Source, ...]:
    """Where numbers come from, each document and clause once."""
    found: dict[tuple[str, str | None], Source] = {}
    for name in names:
        each = source(name)
        found.setdefault((each.document, each.clause), each)
    return tuple(found.values())
