"""The empty workbook of a catalogue: one sheet a list, with a row of names and a row of units."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from io import BytesIO
from typing import Any

import xlsxwriter

from sillwright.base.model import FieldSpec
from sillwright.base.words import N_, Units
from sillwright.catalogue.columns import HEAD, Sheet, head, sheets, unit_shown
from sillwright.catalogue.model import FORMAT
from sillwright.catalogue.sheet import FIRST_ROW, UNIT_ROW

_MADE = datetime(2026, 1, 1)  # of every template, so that its bytes are the same
_ROWS = 200  # with drop-down lists
_HOW = (
    N_("One entry a row, from row 3 on. Row 1 names the fields, row 2 the unit of each quantity."),
    N_("Put another unit into row 2 where yours differs. “ft in” means text like 10 ft 6 in."),
    N_("What is not known stays empty. Sheets, columns and rows that you do not need may stay empty or go."),
    N_("Words of a list are parted by semicolons: plain; resistor. Formulas are not read."),
    N_("curves: one point a row, from no travel and no force on, each temperature by itself, from cold to warm."),
    N_("via: a circuit that an input takes through a converter. listings: a device that its instructions list."),
    N_("A listing counts only with title, page, who read it and when."),
    N_("Prices are plain numbers in the one currency of the first sheet, by the metre or by the foot."),
)


def template(units: Units, translate: Callable[[str], str] = str) -> bytes:
    """The workbook as bytes, the same every time.

    ``translate`` gives what explains it in another language; the names of sheets and columns that are read stay.
    """
    target = BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(target, options)
    book.set_properties({"title": translate(N_("Catalogue of parts and prices")), "created": _MADE})
    looks = {
        "head": book.add_format({"bold": True, "text_wrap": True, "valign": "top"}),
        "unit": book.add_format({"italic": True, "font_color": "#555555"}),
        "text": book.add_format({"num_format": "@"}),  # so that 2026-03 and 1/2 stay what was typed
    }
    _head(book.add_worksheet(HEAD), looks)
    for sheet in sheets().values():
        _list(book.add_worksheet(sheet.title), sheet, units, looks)
    how = book.add_worksheet(translate(N_("How to")))
    how.set_column(0, 0, 110)
    for number, line in enumerate(_HOW):
        _row(how, number, [translate(line)], looks["text"])
    book.close()
    return target.getvalue()


def _row(sheet: Any, number: int, words: Iterable[str], look: Any) -> None:
    for column, word in enumerate(words):
        if word:
            sheet.write_string(number, column, word, look)


def _head(sheet: Any, looks: dict[str, Any]) -> None:
    sheet.set_column(0, 0, 18)
    sheet.set_column(1, 1, 40, looks["text"])
    _row(sheet, 0, ("key", "value"), looks["head"])
    for number, name in enumerate(head(), 1):
        _row(sheet, number, (name, FORMAT if name == "format" else ""), looks["text"])
    sheet.freeze_panes(1, 1)


def _list(page: Any, sheet: Sheet, units: Units, looks: dict[str, Any]) -> None:
    page.set_row(0, 48)
    page.freeze_panes(UNIT_ROW, 1)
    for number, (name, spec) in enumerate(sheet.columns.items()):
        choices = _choices(spec)
        page.set_column(number, number, max(12, *map(len, choices or ("",)), len(name) / 2), looks["text"])
        if choices:
            listed = {"validate": "list", "source": list(choices), "error_type": "warning"}
            page.data_validation(FIRST_ROW - 1, number, FIRST_ROW + _ROWS, number, listed)
    _row(page, 0, sheet.columns, looks["head"])
    shown = [unit_shown(spec, units) for spec in sheet.columns.values()]
    _row(page, UNIT_ROW - 1, ["unit", *shown[1:]], looks["unit"])


def _choices(spec: FieldSpec) -> tuple[str, ...]:
    """The words that a column offers; a list of words is typed."""
    return ("yes", "no") if spec.kind == "flag" else spec.choices
