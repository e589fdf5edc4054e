"""Where an answer lies among all that could have come out: a table with the present cell marked in words."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base import data
from sillwright.base.words import Reader
from sillwright.exposure import performance_level
from sillwright.web.workbench.amounts import shown
from sillwright.web.workbench.names import choice_word


@dataclass(frozen=True)
class Cell:
    """One outcome."""

    words: str
    here: bool


@dataclass(frozen=True)
class Levels:
    """The outcomes as a table."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[Cell, ...]], ...]


def levels_of(name: str, result: Any, reader: Reader) -> Levels | None:
    """The table of a calculation that answers with a level; None for others."""
    known = {"performance_level": _performance, "risk_level": _risk}
    return known[name](result, reader) if name in known else None


def _performance(result: Any, reader: Reader) -> Levels:
    avoidances = ("P1", "P2")
    rows = []
    for severity, exposure in product(("S1", "S2"), ("F1", "F2")):
        cases = [replace(result.case, severity=severity, exposure=exposure, avoidance=each) for each in avoidances]
        cells = tuple(Cell(performance_level(each).level, each == result.case) for each in cases)
        rows.append((f"{choice_word(severity)}, {choice_word(exposure)}", cells))
    heads = (_("injury and presence"), *(choice_word(each) for each in avoidances))
    return Levels(_("What the risk graph asks for"), heads, tuple(rows))


def _risk(result: Any, reader: Reader) -> Levels:
    table = data.table("sillwright.exposure", "risk")["risk_level"]
    here = next((at for at, row in enumerate(table) if result.probability > row["above"]), len(table) - 1)
    rows = []
    for at, row in enumerate(table):
        cells = tuple(
            Cell(choice_word(level), (at, column) == (here, result.case.severity))
            for column, level in enumerate(row["levels"], start=1)
        )
        rows.append((_band(table, at, reader), cells))
    heads = (_("probability"), *(choice_word(str(each), "risk_level.severity") for each in range(1, 5)))
    return Levels(_("Risk by probability and by how bad it ends"), heads, tuple(rows))


def _band(table: list[dict[str, Any]], at: int, reader: Reader) -> str:
    if at < len(table) - 1:
        return _("above {number}").format(number=shown(table[at]["above"], "1", reader))
    return _("at most {number}").format(number=shown(table[at - 1]["above"], "1", reader))
