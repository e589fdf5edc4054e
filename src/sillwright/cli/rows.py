"""Lists in a result, as tables: bars of a cut list, bodies of a leaf, profiles on a floor."""

from __future__ import annotations

from typing import Any

from sillwright.base.display import show
from sillwright.base.model import FieldSpec, fields_of
from sillwright.base.words import Reader, in_words, translate
from sillwright.cli.table import plain, table

APART = {"bands", "influences", "sources"}
"""Lists that the screen shows in another way."""
MOST_ROWS = 60
WIDEST = 36
MOST_COLUMNS = 8
"""A table of more columns lies on its side: each part a column, each of its fields a line."""


def heading(spec: FieldSpec, reader: Reader) -> tuple[str, str]:
    """A title as people read it, and what it means where there is no value; programs read the whole of it."""
    title, _, nothing = (translate(spec.limits.title, reader) or spec.name).partition("; null ")
    return title, nothing.removeprefix("= ")


def tables_of(result: Any, reader: Reader) -> list[str]:
    """A table for every list of parts in a result, with its title; columns that say nothing are left out."""
    found = []
    for spec in fields_of(type(result)):
        rows = getattr(result, spec.name)
        if spec.name not in APART and isinstance(rows, tuple) and rows and hasattr(rows[0], "__dataclass_fields__"):
            found.append(f"{translate(spec.limits.title, reader)}\n{_table(rows, reader)}")
    return found


def _table(rows: tuple[Any, ...], reader: Reader) -> str:
    specs = fields_of(type(rows[0]))
    shown = [[_cell(spec, getattr(row, spec.name), reader) for spec in specs] for row in rows[:MOST_ROWS]]
    said = [at for at in range(len(specs)) if any(row[at] for row in shown)]
    head = [heading(specs[at], reader)[0] for at in said]
    if len(said) > MOST_COLUMNS:
        lines = [[title, *(row[at] for row in shown)] for title, at in zip(head[1:], said[1:], strict=True)]
        return table([head[0], *(row[said[0]] for row in shown)], lines, widest=WIDEST)
    more = [["…", *[""] * (len(said) - 1)]] if len(rows) > MOST_ROWS else []
    return table(head, [*([row[at] for at in said] for row in shown), *more], widest=WIDEST)


def _cell(spec: FieldSpec, value: Any, reader: Reader) -> str:
    if value is None or value in ("", ()) or spec.kind == "pairs":  # curves are for programs
        return ""
    if isinstance(value, tuple):
        return "; ".join(_of_list(each, reader) for each in value)
    if isinstance(value, float) and spec.kind == "number":
        return show(value, spec.unit, "us") if spec.unit != "1" else f"{value:.6g}"
    if isinstance(value, str):
        return plain(translate(value, reader) if spec.kind == "choice" else value)
    return in_words(value, reader)


def _of_list(each: Any, reader: Reader) -> str:
    """A part of a part in one go: what it is called and its first number."""
    if not hasattr(each, "__dataclass_fields__"):
        return in_words(each, reader)
    specs = fields_of(type(each))[:2]
    return " ".join(filter(None, (_cell(spec, getattr(each, spec.name), reader) for spec in specs)))
