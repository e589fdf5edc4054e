"""The workbook to fill in: sheets *Site*, *Openings* and *How to*, with the facts in the order of the questions."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from io import BytesIO
from typing import Any

import xlsxwriter

from sillwright.base.fact import ORIGINS
from sillwright.base.words import N_, Units
from sillwright.survey.model import FORMAT
from sillwright.survey.questions import Question, questions, spec_at
from sillwright.survey.sheet import EXAMPLE, FEET_AND_INCHES, FIRST_ROW, OPENINGS, SITE, UNIT_ROW
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


def columns() -> tuple[str, ...]:
    """The names of the columns of *Openings*: the facts that are asked, devices and streams one by one."""
    names: dict[str, None] = {}
    for question in questions():
        for path in _members(question):
            if not path.startswith("site."):
                names[path] = None
                names.update({f"{path}.from": None} if path in _WITH_ORIGIN else {})
    return tuple(names)


def _members(question: Question) -> list[str]:
    """The columns of a question; those of a list come member by member, after the column of the list itself."""
    if not question.each:
        return [question.path]
    inside = [each.path for each in questions() if each.each == question.each]
    members = _MEMBERS[question.each]
    return [question.each, *(path.replace("*", member) for member in members for path in inside)]


def template(units: Units, translate: Callable[[str], str] = str) -> bytes:
    """The workbook as bytes, the same every time; its example reads back as an opening.

    ``translate`` gives what explains it in another language; the names of sheets and columns that are read stay.
    """
    target = BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(target, options)
    book.set_properties({"title": translate(N_("Survey of openings")), "created": _MADE})
    bold = book.add_format({"bold": True, "text_wrap": True, "valign": "top"})
    quiet = book.add_format({"italic": True, "font_color": "#555555"})
    text = book.add_format({"num_format": "@"})  # so that 2019-03 stays what was typed
    _site(book.add_worksheet(SITE), units, bold, text, translate(N_("Invented site")))
    _openings(book.add_worksheet(OPENINGS), units, {"head": bold, "unit": quiet, "text": text})
    how = book.add_worksheet(translate(N_("How to")))
    how.set_column(0, 0, 110)
    for row, line in enumerate(_HOW):
        how.write_string(row, 0, translate(line))
    book.close()
    return target.getvalue()


def _site(sheet: Any, units: Units, bold: Any, text: Any, name: str) -> None:
    rows = [("format", FORMAT), ("name", name), ("country", "US" if units == "us" else "DE")]
    rows += [("subdivision", ""), ("units", units), ("surveyed_on", "")]
    sheet.set_column(0, 0, 18)
    sheet.set_column(1, 1, 40, text)
    sheet.write_string(0, 0, "key", bold)
    sheet.write_string(0, 1, "value", bold)
    for row, (key, value) in enumerate(rows, 1):
        sheet.write_string(row, 0, key)
        if value:
            sheet.write_string(row, 1, value, text)
    sheet.freeze_panes(1, 1)


def _openings(sheet: Any, units: Units, formats: dict[str, Any]) -> None:
    example = {**_EXAMPLE, **_MEASURES[units]}
    names = columns()
    sheet.set_row(0, 48)
    sheet.freeze_panes(UNIT_ROW, 1)
    for number, name in enumerate(names):
        spec = _spec(name)
        choices = _choices(name, spec)
        plain = spec is not None and spec.kind in {"quantity", "count"} and not name.endswith(".from")
        sheet.set_column(number, number, max(12, *map(len, choices or ("",)), len(name) / 2), formats["text"])
        sheet.write_string(0, number, name, formats["head"])
        if spec is not None and spec.kind == "quantity" and plain:
            sheet.write_string(1, number, _UNITS[units][spec.unit], formats["unit"])
        if name in example:
            sheet.write_string(FIRST_ROW - 1, number, example[name], formats["text"])
        if choices:
            listed = {"validate": "list", "source": [*choices, "?"], "error_type": "warning"}
            sheet.data_validation(FIRST_ROW - 1, number, FIRST_ROW + _ROWS, number, listed)
    sheet.write_string(1, 0, "unit", formats["unit"])


def _spec(name: str) -> Spec | None:
    return None if name in _MEMBERS else spec_at(name.removesuffix(".from"))


def _choices(name: str, spec: Spec | None) -> tuple[str, ...]:
    if spec is None:
        return ("none",)
    if name.endswith(".from"):
        return ORIGINS
    return ("yes", "no") if spec.kind == "flag" else spec.choices
