"""The workbook to fill in: sheets *Site*, *Openings* and *How to*, with the facts in the order of the questions."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from io import BytesIO
from typing import Any

import xlsxwriter

from sillwright.base.fact import ORIGINS
from sillwright.base.words import N_, Units
from sillwright.survey.model import FORMAT
from sillwright.survey.questions import Question, questions
from sillwright.survey.sheet import EXAMPLE, FEET_AND_INCHES, FIRST_ROW, OPENINGS, SITE, UNIT_ROW, column_of
from sillwright.survey.spec import Spec

_MADE = datetime(2026, 1, 1)  # of every template, so that its bytes are the same
_ROWS = 200  # with drop-down lists
_UNITS: dict[Units, dict[str, str]] = {
    "us": {"m": FEET_AND_INCHES, "m/s": "in/s", "kg": "lb", "K": "degF"},
    "metric": {"m": "m", "m/s": "m/s", "kg": "kg", "K": "degC"},
}
_MEMBERS = {"protection": ("e1", "y1"), "use.traffic": ("1", "2")}
_WITH_ORIGIN = ("door.clear_width", "door.clear_height", "door.closing_speed", "operator.made")
_HOW = (
    N_("One opening a row, from row 3 on. The example in row 3 is invented: write over it or delete the row."),
    N_("Row 1 names the facts, row 2 the unit of each quantity. “ft in” means text like 10 ft 6 in."),
    N_("An empty cell was not asked. ? was asked and is not known. Sides are said inside, looking out."),
    N_("A device is called by its id: protection.e1.kind. Add columns for more, like protection.e2.kind."),
    N_("none in the column protection says: looked, and there is no device."),
    N_("door.clear_width.from says where the width comes from; .by and .on may stand beside it."),
    N_("from: measured, plate, instructions, photo, support, told, assumed."),
    N_("Words of a list are parted by semicolons. Formulas are not read."),
)
_EXAMPLE: dict[str, str] = {
    "tag": EXAMPLE,
    "door.kind": "sectional",
    "door.occupancy": "commercial",
    "operator.station_in_view": "yes",
    "operator.closing_control": "momentary",
    "operator.made": "2019-03",
    "operator.made.from": "plate",
    "operator.board_made": "?",
    "protection.e1.kind": "sensing_edge",
    "protection.e1.model": "edge class A",
    "protection.e1.circuit": "resistor",
    "protection.e1.state": "works",
    "door.clear_width.from": "measured",
    "door.clear_height.from": "measured",
    "use.traffic.1.who": "forklift",
    "use.traffic.1.per_hour": "20",
    "use.children": "no",
    "use.public": "no",
}
_MEASURES: dict[Units, dict[str, str]] = {
    "us": {"door.clear_width": "10 ft 4 in", "door.clear_height": "14 ft", "door.closing_speed": "8"},
    "metric": {"door.clear_width": "3.15", "door.clear_height": "4.27", "door.closing_speed": "0.2"},
}


def columns(members: Mapping[str, Sequence[str]] = _MEMBERS) -> tuple[str, ...]:
    """The names of the columns of *Openings*: the facts that are asked; of lists for each of these members."""
    names: dict[str, None] = {}
    for question in questions():
        for path in _columns_of(question, members):
            if not path.startswith("site."):
                names[path] = None
                names.update({f"{path}.from": None} if path in _WITH_ORIGIN else {})
    return tuple(names)


def _columns_of(question: Question, members: Mapping[str, Sequence[str]]) -> list[str]:
    """The columns of a question; those of a list come member by member, after the column of the list itself."""
    if not question.each:
        return [question.path]
    inside = [each.path for each in questions() if each.each == question.each]
    called = members.get(question.each) or _MEMBERS[question.each]
    return [question.each, *(path.replace("*", member) for member in called for path in inside)]


def template(units: Units, translate: Callable[[str], str] = str) -> bytes:
    """The workbook as bytes, the same every time; its example reads back as an opening.

    ``translate`` gives what explains it in another language; the names of sheets and columns that are read stay.
    """
    site = {"format": FORMAT, "name": translate(N_("Invented site")), "country": "US" if units == "us" else "DE"}
    site |= {"subdivision": "", "units": units, "surveyed_on": ""}
    names = columns()
    example = {name: typed for name, typed in {**_EXAMPLE, **_MEASURES[units]}.items() if name in names}
    how = [[translate(line)] for line in _HOW]
    return workbook(site, names, [example], units, translate, (translate(N_("How to")), 110, how))


Further = tuple[str, float, Sequence[Sequence[str]]]
"""One sheet more: its name, the width of its columns, its rows."""


def workbook(
    site: Mapping[str, str],
    names: Sequence[str],
    rows: Sequence[Mapping[str, str]],
    units: Units,
    translate: Callable[[str], str] = str,
    *further: Further,
) -> bytes:
    """A workbook of openings: columns by name, and each opening's cells by the name of their column.

    Everything is written as text: nothing that somebody typed becomes a formula, a number or a link.
    """
    target = BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(target, options)
    book.set_properties({"title": translate(N_("Survey of openings")), "created": _MADE})
    formats = {
        "head": book.add_format({"bold": True, "text_wrap": True, "valign": "top"}),
        "unit": book.add_format({"italic": True, "font_color": "#555555"}),
        "text": book.add_format({"num_format": "@"}),  # so that 2019-03 stays what was typed
    }
    _site(book.add_worksheet(SITE), site, formats)
    _openings(book.add_worksheet(OPENINGS), names, rows, units, formats)
    for title, width, lines in further:
        sheet = book.add_worksheet(title)
        sheet.set_column(0, max(map(len, lines), default=1) - 1, width)
        for number, line in enumerate(lines):
            _row(sheet, number, line, formats["text"])
    book.close()
    return target.getvalue()


def _row(sheet: Any, number: int, words: Iterable[str], looks: Any) -> None:
    for column, word in enumerate(words):
        if word:
            sheet.write_string(number, column, word, looks)


def _site(sheet: Any, pairs: Mapping[str, str], formats: Mapping[str, Any]) -> None:
    sheet.set_column(0, 0, 18)
    sheet.set_column(1, 1, 40, formats["text"])
    _row(sheet, 0, ("key", "value"), formats["head"])
    for number, pair in enumerate(pairs.items(), 1):
        _row(sheet, number, pair, formats["text"])
    sheet.freeze_panes(1, 1)


def _openings(
    sheet: Any,
    names: Sequence[str],
    rows: Sequence[Mapping[str, str]],
    units: Units,
    formats: Mapping[str, Any],
) -> None:
    sheet.set_row(0, 48)
    sheet.freeze_panes(UNIT_ROW, 1)
    last = FIRST_ROW + max(_ROWS, len(rows))
    for number, name in enumerate(names):
        choices = _choices(name)
        width = max(12, *map(len, choices or ("",)), len(name) / 2)
        sheet.set_column(number, number, width, formats["text"])
        if choices:
            listed = {"validate": "list", "source": [*choices, "?"], "error_type": "warning"}
            sheet.data_validation(FIRST_ROW - 1, number, last, number, listed)
    _row(sheet, 0, names, formats["head"])
    _row(sheet, UNIT_ROW - 1, ["unit", *(_unit(name, units) for name in names[1:])], formats["unit"])
    for number, row in enumerate(rows, FIRST_ROW - 1):
        _row(sheet, number, [row.get(name, "") for name in names], formats["text"])


def _unit(name: str, units: Units) -> str:
    """The unit that row 2 says for a column; empty where there is none to say."""
    column = column_of(name)
    spec = column.spec if column and not column.origin else None
    if not isinstance(spec, Spec) or spec.kind != "quantity":
        return ""
    return _UNITS[units].get(spec.unit, spec.unit)


def _choices(name: str) -> tuple[str, ...]:
    """The words that a column offers."""
    column = column_of(name)
    if column is None or column.origin:
        return ORIGINS if column and column.origin == "from" else ()
    if not isinstance(column.spec, Spec):
        return ("none",)
    return ("yes", "no") if column.spec.kind == "flag" else column.spec.choices
