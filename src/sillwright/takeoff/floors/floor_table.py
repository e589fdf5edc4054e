"""The numbers that a floor is judged by, each with its source."""

from __future__ import annotations

from functools import cache
from typing import Any

from sillwright.base import data
from sillwright.base.source import Source

ROUND_OFF = 1e-9
"""Metres that binary fractions of an inch may be off; nothing on a floor is read so finely."""


@cache
def _rows() -> dict[str, dict[str, Any]]:
    return {row["id"]: row for row in data.table("sillwright.takeoff", "floor")["value"]}


def number(name: str) -> float:
    """A number of the table, in SI units.

    >>> number("board")
    0.0381
    """
    return float(_rows()[name]["number"])


def source(name: str) -> Source:
    """Where a number of the table comes from."""
    return Source(**{key: value for key, value in _rows()[name].items() if key not in {"what", "number", "unit"}})
