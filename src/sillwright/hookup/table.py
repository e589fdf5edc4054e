"""The tables of this chapter: what joins what, and the numbers of the trade, with their standing."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from sillwright.base import data
from sillwright.base.source import Source
from sillwright.base.words import N_

PRACTICE = Source(document=N_("trade practice of joining devices"), sure="practice")
MEMORY = Source(document=N_("trade rules of thumb"), sure="memory")


@dataclass(frozen=True)
class Cell:
    """One field of the table: a device of one circuit on an input of another."""

    way: Literal["direct", "through", "no"]
    watched: Literal["yes", "no", "ask"]
    because: str


@cache
def cells() -> dict[tuple[str, str], Cell]:
    """The whole table, by the circuit of the device and that of the input.

    >>> cells()["resistor", "plain"]
    Cell(way='direct', watched='no', because='end_unseen')
    """
    rows = data.table("sillwright.hookup", "joins")
    return {(device, input): Cell(**cell) for device, row in rows.items() for input, cell in row.items()}


def number(group: str, name: str) -> Any:
    """A number of the trade, in SI units; two of them where it is a range.

    >>> number("lead", "most")
    45.72
    """
    return data.table("sillwright.hookup", "practice")[group][name]
