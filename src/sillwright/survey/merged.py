"""Cells of a sheet that are merged down: one value, and nothing that says for which of the rows it stands."""

from __future__ import annotations

from typing import Any
from xml.sax.handler import ContentHandler

from defusedxml import sax
from openpyxl.utils import range_boundaries

from sillwright.base.words import N_, say


class _Ranges(ContentHandler):
    """Gathers the names of merged ranges."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def startElement(self, name: str, attrs: Any) -> None:  # noqa: N802 (the library's name)
        if name.rpartition(":")[2] == "mergeCell" and "ref" in attrs:
            self.found.append(attrs["ref"])


def merged_down(sheet: bytes) -> dict[tuple[int, int], str]:
    """The merged ranges over more than one row of a sheet's XML, by the row and column of their first cell.

    Raises :class:`ValueError` for a range that is none.

    >>> merged_down(b'<mergeCells><mergeCell ref="B3:B5"/><mergeCell ref="A1:C1"/></mergeCells>')
    {(3, 2): 'B3:B5'}
    """
    ranges = _Ranges()
    sax.parseString(sheet, ranges)
    found = {}
    for name in ranges.found:
        left, top, _, bottom = range_boundaries(name)
        if left is not None and top is not None and bottom is not None and bottom > top:
            found[top, left] = name
    return found


def of_merged(name: str) -> tuple[str, str]:
    """What is wrong with a value in such a cell, and what would be right."""
    said = say(N_("one cell merged over {cells}: for which of the rows it stands is not said"), cells=name)
    return said, say(N_("part it, and write the value into each row"))
