"""A site as the workbook of openings: one opening a row, and on a sheet of its own what does not fit in a row.

Every value stands as it was typed, as text: nothing that somebody wrote becomes a formula or a link.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from io import BytesIO
from typing import Any

import xlsxwriter

from sillwright.base.errors import UnknownName
from sillwright.base.words import N_, Units
from sillwright.survey.entries import Entry
from sillwright.survey.model import FORMAT, Opening
from sillwright.survey.questions import mistake_in, spec_at
from sillwright.survey.sheet import FIRST_ROW, OPENINGS, SITE, UNIT_ROW
from sillwright.survey.spec import GroupSpec

_MADE = datetime(2026, 1, 1)
_REST_HEADS = ("tag", "fact", "value", "from", "by", "on")


def filled_workbook(
    name: str,
    country: str,
    site: Iterable[Entry],
    openings: Mapping[str, Iterable[Entry]],
    *,
    units: Units = "us",
    translate: Callable[[str], str] = str,
) -> bytes:
    """The workbook as bytes. Of several readings the first stands in the row, the others on the last sheet."""
    target = BytesIO()
    book = xlsxwriter.Workbook(target, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"created": _MADE})
    bold, text = book.add_format({"bold": True}), book.add_format({"num_format": "@"})
    rest: list[tuple[str, Entry]] = []
    rows = {tag: _row(tag, entries, rest) for tag, entries in openings.items()}
    about = _row("", site, rest)
    told = {"format": FORMAT, "name": name, "country": country, "units": units}
    told |= {path.removeprefix("site."): value for path, value in about.items() if path != "tag"}
    _pairs(book.add_worksheet(SITE), told, bold, text)
    _openings(book.add_worksheet(OPENINGS), rows, bold, text)
    if rest:
        _rest(book.add_worksheet(translate(N_("Further readings"))), rest, bold, text)
    book.close()
    return target.getvalue()


def _row(tag: str, entries: Iterable[Entry], rest: list[tuple[str, Entry]]) -> dict[str, str]:
    """The cells of an opening by the name of their column; what does not fit goes to ``rest``."""
    cells: dict[str, str] = {"tag": tag}
    members: dict[str, list[str]] = {}
    for each in entries:
        column = _column(each.path, members)
        wrong = each.says == "value" and mistake_in(each.path, each.typed) is not None
        if not column or column in cells or wrong or (each.says == "none" and not each.origin and "." in column):
            rest.append((tag, each))
            continue
        cells[column] = {"value": each.typed, "unknown": "?", "none": "none"}.get(each.says, "")
        if each.origin and each.says != "unknown" and column not in _LISTS:
            words = {"from": each.origin, "by": each.by, "on": each.on}
            cells.update({f"{column}.{key}": word for key, word in words.items() if word})
    return cells


_LISTS = {name for name, spec in Opening.specs.items() if isinstance(spec, GroupSpec) and spec.many}


def _column(path: str, members: dict[str, list[str]]) -> str:
    """A column's name: members without an id are counted. Empty for what no column can say."""
    if path.startswith("site.") or path in {"tag", "site.name"}:
        return "" if path in {"tag", "site.name"} else path
    group: Any = Opening
    names, said = path.split("."), []
    while names:
        spec = group.specs.get(names[0])
        said.append(names.pop(0))
        if not isinstance(spec, GroupSpec):
            return ".".join(said) if spec is not None and not names else ""
        group = spec.group
        if spec.many and names:
            key = names.pop(0)
            here = members.setdefault(".".join(said), [])
            if key not in here:
                here.append(key)
            said.append(key if "id" in group.specs else str(here.index(key) + 1))
            if not names:
                return ""
    return ".".join(said)


def _pairs(sheet: Any, told: Mapping[str, str], bold: Any, text: Any) -> None:
    sheet.set_column(0, 0, 18)
    sheet.set_column(1, 1, 40, text)
    sheet.write_string(0, 0, "key", bold)
    sheet.write_string(0, 1, "value", bold)
    for row, (key, value) in enumerate(told.items(), 1):
        sheet.write_string(row, 0, key)
        sheet.write_string(row, 1, value, text)


def _openings(sheet: Any, rows: Mapping[str, Mapping[str, str]], bold: Any, text: Any) -> None:
    columns = list(dict.fromkeys(["tag", *(column for cells in rows.values() for column in cells)]))
    sheet.freeze_panes(UNIT_ROW, 1)
    for number, column in enumerate(columns):
        sheet.set_column(number, number, max(12.0, len(column) / 2), text)
        sheet.write_string(0, number, column, bold)
        sheet.write_string(1, number, _unit(column), text)
    sheet.write_string(1, 0, "unit", text)
    for row, cells in enumerate(rows.values(), FIRST_ROW - 1):
        for column, value in cells.items():
            sheet.write_string(row, columns.index(column), value, text)


def _unit(column: str) -> str:
    """The unit that a column names; each cell carries its own beside its number."""
    try:
        spec = spec_at(column)
    except UnknownName:
        return ""
    return spec.unit if spec.kind == "quantity" else ""


def _rest(sheet: Any, rest: Iterable[tuple[str, Entry]], bold: Any, text: Any) -> None:
    sheet.set_column(0, len(_REST_HEADS) - 1, 24, text)
    for number, head in enumerate(_REST_HEADS):
        sheet.write_string(0, number, head, bold)
    for row, (tag, each) in enumerate(rest, 1):
        value = each.typed if each.says == "value" else each.says
        for number, word in enumerate((tag, each.path, value, each.origin or "", each.by or "", each.on or "")):
            sheet.write_string(row, number, word, text)
