"""Acknowledgements of orders: what the maker confirmed, what differs from the order, and what was answered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from io import BytesIO
from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from sillwright.survey.workbook import Cell, cells_of
from sillwright.takeoff.ordering.acknowledgement import (
    MOST_BYTES,
    MOST_CELLS,
    Acknowledgement,
    read_acknowledgement,
    read_rows,
)
from sillwright.takeoff.ordering.agreed import Agreed, agreed
from sillwright.takeoff.ordering.compare import Answer, Difference, compare, open_ones
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.web.orders.models import Order, OrderNote
from sillwright.web.orders.orders import Lines, Ordered, line_of, lines_now
from sillwright.web.records.log import Refused
from sillwright.web.records.text import unkept

_WORKBOOK = b"PK"
HOLDS = ("ordered", "confirmed")


@dataclass(frozen=True)
class Compared:
    """The newest acknowledgement of an order beside it."""

    note: OrderNote
    differences: tuple[Difference, ...]
    answers: Mapping[str, Answer]

    @property
    def open(self) -> tuple[Difference, ...]:
        """The differences that nobody has answered."""
        return open_ones(self.differences, self.answers)


def compared(lines: Sequence[OrderLine], notes: Iterable[OrderNote]) -> Compared | None:
    """What the newest acknowledgement says beside the lines; None where there is none."""
    told = list(notes)
    newest = next((each for each in reversed(told) if each.kind == "acknowledgement"), None)
    if newest is None:
        return None
    answers = {
        each.told["about"]: Answer(
            holds=each.told["holds"],
            by=each.told["name"],
            on=date.fromisoformat(each.told["on"]),
            words=each.told["words"],
        )
        for each in told
        if each.kind == "answer" and each.told["of"] == newest.pk
    }
    return Compared(newest, compare(lines, acknowledgement_of(newest.told)), answers)


def agreed_of(row: Order, lines: Sequence[OrderLine]) -> Agreed | None:
    """A released order as agreed with its maker; None while nothing came, or a difference is open."""
    found = compared(lines, notes_of(row)) if row.state == "released" else None
    return agreed(lines, found.differences, found.answers) if found else None


def line_built(row: Order, number: int) -> Ordered | None:
    """The line of a released order that is built: as it was ordered, or as it was agreed since."""
    found = lines_now(row) if row.state == "released" else Lines(())
    ordered = line_of(found.lines, number)
    settled = agreed_of(row, found.plain) if ordered is not None else None
    if ordered is None or settled is None:
        return ordered
    built = next(each.line for each in settled.lines if each.line.number == number)
    return replace(ordered, line=built)


def notes_of(order: Order) -> QuerySet[OrderNote]:
    """What was said of an order since it was released, oldest first."""
    return order.notes.exclude(kind="release").select_related("by").order_by("pk")


def acknowledgement_of(told: Mapping[str, Any]) -> Acknowledgement:
    """An acknowledgement from what is kept of it."""
    return read_rows(told["rows"]) if told.get("rows") else read_acknowledgement(told["text"])


def pasted(text: str) -> dict[str, Any]:
    """An acknowledgement that came as text, as it is kept.

    Raises :class:`Refused` where it is empty or cannot be kept, :class:`InputError` where it is too large.
    """
    words = text.replace("\r\n", "\n").strip()
    if not words:
        raise Refused(_("Paste what the maker confirmed, or choose the file: text, CSV or XLSX."))
    if sign := unkept(words):
        raise Refused(_("The sign %(sign)s cannot be kept.") % {"sign": sign})
    told = {"text": words, "name": ""}
    _refuse_empty(acknowledgement_of(told))
    return told


def uploaded(content: bytes, name: str) -> dict[str, Any]:
    """An acknowledgement that came as a file, as it is kept; told apart by its content, never by its name.

    Raises what :func:`pasted` raises, and :class:`DocumentError` for a workbook that cannot be read.
    """
    called = "".join(each for each in name if not unkept(each))[:80]
    if not content.startswith(_WORKBOOK):
        return {**pasted(_decoded(content[: 8 * MOST_BYTES])), "name": called}
    told = {"text": "", "rows": _rows(content, called), "name": called}
    if not told["rows"] or any(unkept(cell) for row in told["rows"] for cell in row):
        raise Refused(_("Nothing can be read in this workbook; keep the table of this order on its first sheet."))
    _refuse_empty(acknowledgement_of(told))
    return told


def _refuse_empty(found: Acknowledgement) -> None:
    if not found.items:
        words = _("Nothing in it could be read as a line of an order.")
        raise Refused(words + " " + _("A line says, for example, “tag: B2” and “body length: 10 ft 6 in”."))


def _decoded(content: bytes) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("cp1252", errors="replace")


def _rows(content: bytes, name: str) -> list[list[str]]:
    """The rows of the first sheet, as text."""
    import openpyxl

    cells_of(content, name, ())  # looks before anything is unpacked
    titles = openpyxl.load_workbook(BytesIO(content), read_only=True, keep_links=False).sheetnames
    cells = cells_of(content, name, tuple(titles[:1])).get(titles[0], []) if titles else []
    wide = max((each.column for each in cells), default=0)
    if wide > MOST_CELLS:
        raise Refused(_("This sheet has too many columns; keep those of this order."))
    return _filled(cells, wide)


def _filled(cells: Iterable[Cell], wide: int) -> list[list[str]]:
    rows: dict[int, list[str]] = {}
    for each in cells:
        rows.setdefault(each.row, [""] * wide)[each.column - 1] = each.text
    return [rows[number] for number in sorted(rows)]


def answer_from(found: Compared, about: str, holds: str, words: str, *, name: str, on: date) -> dict[str, Any]:
    """An answer to a difference, as it is kept. Raises :class:`Refused` where there is no such difference."""
    difference = next((each for each in found.differences if each.id == about), None)
    if difference is None:
        raise Refused(_("The newest acknowledgement has no such difference; load the page again."))
    if holds not in HOLDS:
        raise Refused(_("Say which holds: what was ordered, or what was confirmed."))
    if holds == "confirmed" and not difference.can_hold:
        said = _("What the maker wrote of it does not say enough to hold.")
        raise Refused(said + " " + _("Say that what was ordered holds, or ask him for another acknowledgement."))
    if len(words) > 500 or unkept(words):
        raise Refused(_("Words of at most %(most)d signs can be kept.") % {"most": 500})
    return {
        "of": found.note.pk, "about": about, "holds": holds, "words": words, "name": name, "on": on.isoformat()
    }  # fmt: skip
