"""Lists in a result as tables: bodies of a leaf, profiles on a floor, bars of a cut list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.model import FieldSpec, Result, fields_of
from sillwright.base.words import Amount, Reader, in_words
from sillwright.web.workbench.names import LABELS, label_of
from sillwright.web.workbench.numbers import shown_value

APART = {"bands", "influences", "sources"}
"""Lists that the page shows in another way."""
HIDDEN = {"compression_along", "off_cut_start", "rule", "missing"}
"""What a chart or a note says better, or only the program reads."""
QUIET = {"plugs", "leads", "end_elements", "informs_only", "at_start", "at_end"}
"""What is only told where it is something."""
BROAD = 7
"""Columns; a part of which more is known stands upright, its names in front."""
MOST = 200
"""Rows of a table."""

Row = tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class Listed:
    """A list with its heads and rows. Upright: a column for each part, what is known of it below each other."""

    name: str
    title: str
    heads: Row
    rows: tuple[Row, ...]
    upright: bool
    left_out: int


def lists_of(result: Result, reader: Reader) -> list[Listed]:
    """A table for every list of parts in a result; what is empty in all of them is left out."""
    found = []
    for spec in fields_of(type(result)):
        parts = getattr(result, spec.name)
        if spec.name not in APART and spec.item is not None and spec.item.model is not None and parts:
            found.append(_listed(spec, spec.item.model, parts, reader))
    return found


def _listed(spec: FieldSpec, model: Any, parts: Sequence[Any], reader: Reader) -> Listed:
    specs = [each for each in fields_of(model) if each.name not in HIDDEN]
    told = [tuple(_cell(each, getattr(part, each.name), reader) for each in specs) for part in parts]
    used = [at for at in range(len(specs)) if any(row[at] for row in told)]
    if any(specs[at].name == "name" for at in used):  # a stock that has a name needs no number
        used = [at for at in used if specs[at].name != "stock"]
    heads = tuple(_head(spec, specs[at], reader) for at in used)
    rows = _alike([tuple(row[at] or "–" for at in used) for row in told])
    if len(rows) < len(parts):
        heads, told_rows = (_("How many"), *heads), [(f"{count} ×", *row) for count, row in rows]
    else:
        told_rows = [row for _count, row in rows]
    upright = len(heads) > BROAD
    kept = tuple(told_rows[:MOST])
    title = label_of(spec.limits.title, reader)
    return Listed(
        name=spec.name,
        title=title,
        heads=heads if not upright else (heads[0], *(row[0] for row in kept)),
        rows=kept if not upright else tuple(zip(heads[1:], *(row[1:] for row in kept), strict=True)),
        upright=upright,
        left_out=len(told_rows) - len(kept),
    )


def _head(owner: FieldSpec, spec: FieldSpec, reader: Reader) -> str:
    own = LABELS.get(f"{owner.name}.{spec.name}")
    return str(own) if own else label_of(spec.limits.title, reader) or spec.name


def _alike(rows: list[Row]) -> list[tuple[int, Row]]:
    """Rows with how many times they stand below each other."""
    return [(len(list(same)), row) for row, same in groupby(rows)]


def _cell(spec: FieldSpec, value: Any, reader: Reader) -> str:
    if value is None or value in ("", ()) or (spec.name in QUIET and not value):
        return ""
    if spec.kind == "pairs":
        unit = spec.units[0]
        return "; ".join(" – ".join(in_words(Amount(end, unit), reader) for end in pair) for pair in value)
    if isinstance(value, tuple):
        return _together([_said(each, reader) for each in value], "; " if _parts(value) else " ")
    return shown_value(spec, value, reader)


def _parts(values: tuple[Any, ...]) -> bool:
    return any(hasattr(each, "__dataclass_fields__") for each in values)


def _together(said: list[str], between: str) -> str:
    """Several in one cell; equal ones beside each other are counted."""
    alike = [(len(list(same)), words) for words, same in groupby(said)]
    return between.join(f"{count} × {words}" if count > 1 else words for count, words in alike)


def _said(each: Any, reader: Reader) -> str:
    """A part of a part: what it is called, and its first number."""
    if not _parts((each,)):
        return in_words(each, reader)
    two = [_cell(spec, getattr(each, spec.name), reader) for spec in fields_of(type(each))[:2]]
    return ": ".join(filter(None, two))
