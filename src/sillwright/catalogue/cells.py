"""One cell of a catalogue's workbook as the value that its field reads."""

from __future__ import annotations

import re

from sillwright.base import quantity
from sillwright.base.errors import Mistake
from sillwright.base.model import FieldSpec
from sillwright.base.node import Mistakes, Node, short
from sillwright.base.words import N_, say
from sillwright.catalogue.columns import FEET_AND_INCHES
from sillwright.survey.merged import of_merged
from sillwright.survey.workbook import Cell, of_its_format, shows_another

DAYS = {"priced_on", "on"}
_FLAGS = {"yes": True, "true": True, "no": False, "false": False}
_WHOLE = re.compile(r"[+-]?\d{1,9}(?:\.0*)?", re.ASCII)


def note(mistakes: Mistakes, cell: Cell, message: str, accepted: str = "", *, got: bool = True) -> None:
    """A mistake by the name of its cell."""
    shown = say(N_("“{text}”"), text=short(cell.text)) if got else ""
    mistakes.append(Mistake(path=cell.address, message=message, accepted=accepted, got=shown))


def at(cell: Cell, **parts: object) -> Node:
    """A node at a cell: its line is the row, its column the column."""
    return Node(line=cell.row, column=cell.column, **parts)  # type: ignore[arg-type]


def key_at(cell: Cell, name: str) -> Node:
    """The node of a key whose value stands in this cell."""
    return at(cell, kind="scalar", scalar=name, text=name)


def value_in(cell: Cell, spec: FieldSpec, unit: str, mistakes: Mistakes) -> Node | None:
    """The node of one value; None where the cell is refused or says ``?``, which is as good as empty."""
    if cell.over:
        note(mistakes, cell, *of_merged(cell.over))
        return None
    if cell.kind == "f":
        accepted = say(N_("write its value: what it showed is nobody's reading"))
        note(mistakes, cell, say(N_("a formula")), accepted)
        return None
    if cell.kind == "e":
        note(mistakes, cell, say(N_("an error of the spreadsheet")), say(N_("write the value, or leave it empty")))
        return None
    if cell.kind == "d" and spec.name not in DAYS:
        said = say(N_("the spreadsheet made a date or time of this"))
        note(mistakes, cell, said, say(N_("format the cell as text, type it anew")))
        return None
    if cell.text == "?":
        return None
    if spec.kind != "list" or spec.item is None:
        return _scalar(cell, cell.text, spec, unit, mistakes)
    if cell.text.casefold() == "none":
        return at(cell, kind="list")
    texts = filter(None, (text.strip() for text in cell.text.split(";")))
    items = [_scalar(cell, text, spec.item, unit, mistakes) for text in texts]
    return None if None in items else at(cell, kind="list", items=tuple(items))


def _scalar(cell: Cell, text: str, spec: FieldSpec, unit: str, mistakes: Mistakes) -> Node | None:
    found: str | int | float | bool = text
    if spec.kind == "number" and cell.percent:
        said = say(N_("the format of the cell shows a percentage, a hundred times what is in it"))
        note(mistakes, cell, said, say(N_("format the cell as a number, type it anew")))
        return None
    if spec.kind == "number" and unit and quantity.BARE.fullmatch(text):
        if shows_another(cell, unit):
            note(mistakes, cell, *of_its_format(cell))
            return None
        if unit == FEET_AND_INCHES:
            accepted = say(N_("write for example {one}, or {other}"), one="10 ft 6 in", other="126 in")
            note(mistakes, cell, say(N_("a number without feet or inches")), accepted)
            return None
        found = text = f"{text} {unit}"
    elif spec.kind == "number" and isinstance(cell.value, (int, float)) and not isinstance(cell.value, bool):
        found = cell.value
    elif spec.kind == "integer" and _WHOLE.fullmatch(text):
        found = int(float(text))
    elif spec.kind == "flag":
        found = _FLAGS.get(text.casefold(), text)
    return at(cell, kind="scalar", scalar=found, text=text)
