"""The cells of a workbook, read within limits.

A workbook is an archive, and what it unpacks to is capped before it is read. Macros, passwords and links to other
workbooks are refused.
"""

from __future__ import annotations

import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from copy import copy
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any
from xml.sax import SAXException
from xml.sax.handler import ContentHandler

import openpyxl
from defusedxml import sax
from openpyxl.utils import get_column_letter

from sillwright.base.errors import DocumentError, Mistake
from sillwright.base.node import MOST_BYTES, short
from sillwright.base.words import N_, say
from sillwright.survey.merged import merged_down

MOST_ROWS, MOST_COLUMNS = 5_000, 400
MOST_CELLS = 100_000
_LAST_ROW, _LAST_COLUMN = 20_000, 500  # further out not even empty cells are waited for
_MOST_PARTS = 500
_MOST_UNPACKED = 2_500_000
_SMALL_PARTS = {"styles.xml": 300_000, "sharedStrings.xml": 1_500_000}
_SMALL_PART = 1_000_000
_PACKED = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
_MOST_DEPTH, _MOST_ELEMENTS = 60, 200_000
_BEFORE_XML = b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n"
_OLD_WORKBOOK = b"\xd0\xcf\x11\xe0"
_LITERAL = re.compile(r'"([^"]*)"|\\(.)')
_SIGNS = {'"': "in", "″": "in", "'": "ft", "′": "ft"}
_WORDS = re.compile(r"""[^\W\d_]|['"′″]""")
_FOREIGN = (
    ArithmeticError, AssertionError, AttributeError, EOFError, LookupError, NotImplementedError, OSError,
    RecursionError, SyntaxError, TypeError, ValueError, zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error,
)  # fmt: skip
_UNREADABLE = say(N_("a workbook that cannot be read"))


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell that is not empty."""

    sheet: str
    row: int
    column: int
    value: Any
    kind: str  # the library's letter: n number, s text, b boolean, d date, f formula, e error
    added: str = ""  # words that the format of a number shows and the cell does not hold: mm of ``0" mm"``
    percent: bool = False  # the format of a number shows a hundred times what the cell holds
    over: str = ""  # the range over which it is merged, where that is more than one row

    @property
    def address(self) -> str:
        """How messages call it: ``Openings!C5``."""
        return address(self.sheet, self.row, self.column)

    @property
    def text(self) -> str:
        """What was typed; a whole number without its point, a date as year-month-day."""
        if isinstance(self.value, bool):
            return "true" if self.value else "false"
        if isinstance(self.value, float):
            return f"{self.value:.15g}"
        if isinstance(self.value, datetime):
            return self.value.date().isoformat()
        if self.kind == "f" and not isinstance(self.value, str):
            return "="  # of a whole range, which the library gives as an object
        return str(self.value).strip()


def shows_another(cell: Cell, unit: str) -> bool:
    """Whether the format of a number shows a unit that is not the column's."""
    return bool(cell.added) and _SIGNS.get(cell.added, cell.added) != _SIGNS.get(unit, unit)


def of_its_format(cell: Cell) -> tuple[str, str]:
    """What is wrong with such a number, and what would be right."""
    said = say(N_("the format of the cell shows “{unit}”, the column has another unit"), unit=short(cell.added))
    return said, say(
        N_("type the unit with the number, as text: {example}"), example=f"{cell.text} {short(cell.added)}"
    )


def address(sheet: str, row: int, column: int) -> str:
    """The name of a cell.

    >>> address("Openings", 5, 3)
    'Openings!C5'
    """
    return f"{sheet}!{get_column_letter(column)}{row}"


def _refused(name: str, message: str, accepted: str) -> DocumentError:
    return DocumentError(name, (Mistake(path="", message=message, accepted=accepted),))


def _look_before_unpacking(content: bytes, name: str) -> None:
    """Refuse what is no plain workbook, and what would unpack to more than an honest one."""
    if len(content) > MOST_BYTES:
        raise _refused(name, say(N_("the file is larger than 2 MB")), say(N_("split it")))
    if content.startswith(_OLD_WORKBOOK):
        accepted = say(N_("save it as .xlsx without a password"))
        raise _refused(name, say(N_("an old or encrypted workbook")), accepted)
    try:
        archive = zipfile.ZipFile(BytesIO(content))
        parts = archive.infolist()
    except _FOREIGN:
        raise _refused(name, say(N_("not a workbook")), say(N_("save it as .xlsx"))) from None
    names = [part.filename for part in parts]
    if any(part.flag_bits & 1 for part in parts):
        raise _refused(name, say(N_("an encrypted workbook")), say(N_("save it without a password")))
    if any(each.lower().endswith("vbaproject.bin") for each in names):
        raise _refused(name, say(N_("a workbook with macros")), say(N_("save it as .xlsx without macros")))
    if any("externallinks/" in each.lower() for each in names):
        said = say(N_("a workbook with links to other workbooks"))
        raise _refused(name, said, say(N_("write the values themselves")))
    if len(names) > _MOST_PARTS or sum(part.file_size for part in parts) > _MOST_UNPACKED:
        said = say(N_("a workbook that unpacks to more than 2.5 MB"))
        raise _refused(name, said, say(N_("copy the openings into a new workbook")))
    for part in parts:
        inner = part.filename.rpartition("/")[2]
        rows = part.filename.startswith("xl/worksheets/") and inner.endswith(".xml")
        if not rows and part.file_size > _SMALL_PARTS.get(inner, _SMALL_PART):
            said = say(N_("too large a part inside: {part}"), part=short(inner))
            raise _refused(name, said, say(N_("copy the openings into a new workbook")))
    _look_into_the_parts(archive, name)


class _Counter(ContentHandler):
    """Counts elements and how deep they stand, so that no tree is built of what is too much."""

    def __init__(self) -> None:
        super().__init__()
        self.depth = 0
        self.count = 0

    def startElement(self, name: str, attrs: Any) -> None:  # noqa: N802 (the library's name)
        self.depth += 1
        self.count += 1
        if self.depth > _MOST_DEPTH or self.count > _MOST_ELEMENTS:
            raise ValueError("too deep or too many")

    def endElement(self, name: str) -> None:  # noqa: N802 (the library's name)
        self.depth -= 1


def _unpacked(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> bytes:
    """A part, unpacked no further than one byte beyond what it says of its size.

    Raises :class:`ValueError` where it holds more than it says, or is packed in another way than workbooks are: the
    archive's reader unpacks such a part whole before it cuts it off, and a kilobyte may hold gigabytes.
    """
    if part.compress_type not in _PACKED:
        raise ValueError("packed in another way")
    open_ended = copy(part)
    open_ended.file_size += 1
    with archive.open(open_ended) as file:
        content = file.read(open_ended.file_size)
    if len(content) != part.file_size:
        raise ValueError("another size than it says")
    return content


def _look_into_the_parts(archive: zipfile.ZipFile, name: str) -> None:
    counter = _Counter()
    try:
        for part in archive.infolist():
            inside = _unpacked(archive, part)
            if inside.lstrip(_BEFORE_XML).startswith(b"<"):  # whatever its name says
                counter.depth = 0
                sax.parseString(inside, counter)
    except (*_FOREIGN, SAXException):
        raise _refused(name, _UNREADABLE, say(N_("save it anew as .xlsx"))) from None


def cells_of(content: bytes, name: str, wanted: tuple[str, ...]) -> dict[str, list[Cell]]:
    """The cells of the wanted sheets that are not empty, in order; a sheet that is not there has no key.

    Raises :class:`DocumentError` where the workbook is none, is too large, or carries what is not read.
    """
    _look_before_unpacking(content, name)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of features that are not read
            book = openpyxl.load_workbook(BytesIO(content), read_only=True, keep_links=False)
            found: dict[str, list[Cell]] = {}
            for title in book.sheetnames:
                for known in wanted:
                    if title.strip().casefold() == known.casefold():
                        if known in found:
                            raise _refused(name, say(N_("two sheets “{sheet}”"), sheet=known), say(N_("keep one")))
                        found[known] = list(_cells_of(book[title], known, name))
            return found
    except _FOREIGN:
        raise _refused(name, _UNREADABLE, say(N_("save it anew as .xlsx"))) from None


def _cells_of(sheet: Any, title: str, name: str) -> Iterator[Cell]:
    if not hasattr(sheet, "reset_dimensions"):
        said = say(N_("“{sheet}” is a chart, not a table"), sheet=title)
        raise _refused(name, said, say(N_("name the table of openings so")))
    merged = merged_down(sheet.parent._archive.read(sheet._worksheet_path))  # the library reads none in this way
    sheet.reset_dimensions()  # what a file says of its own size is not believed
    count = 0
    for row, cells in enumerate(sheet.iter_rows(), 1):
        if row > _LAST_ROW or len(cells) > _LAST_COLUMN:
            raise _too_many(name, say(N_("{sheet}, row {row}"), sheet=title, row=row))
        for column, cell in enumerate(cells, 1):
            if cell.value is None or (isinstance(cell.value, str) and not cell.value.strip()):
                continue
            count += 1
            if row > MOST_ROWS or column > MOST_COLUMNS or count > MOST_CELLS:
                raise _too_many(name, address(title, row, column))
            style = cell.number_format if cell.data_type == "n" else ""
            shown, percent = _added(style), "%" in _LITERAL.sub("", style)
            over = merged.get((row, column), "")
            yield Cell(title, row, column, cell.value, cell.data_type, shown, percent, over)


def _added(style: str) -> str:
    """The words and marks of feet and inches that a number format shows beside the number."""
    quoted = _LITERAL.findall(style.split(";")[0])
    words = "".join(one or other for one, other in quoted).strip()
    return words if _WORDS.search(words) else ""


def _too_many(name: str, place: str) -> DocumentError:
    most = {"rows": MOST_ROWS, "columns": MOST_COLUMNS, "cells": MOST_CELLS}
    said = say(
        N_("{place}: more than {rows} rows, {columns} columns or {cells} cells are not read"), place=place, **most
    )
    return _refused(name, said, say(N_("split the workbook, or delete empty rows and columns beyond the last")))
