"""What a maker confirmed, read from pasted text, a table or rows; what cannot be read is shown, never dropped."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from sillwright.base.errors import InputError
from sillwright.base.words import N_, say
from sillwright.takeoff.ordering.wording import NotRead, Read, heading, read_value

MOST_BYTES = 64 * 1024
MOST_LINES = 500
MOST_CELLS = 60
SHOWN = 200  # signs of a text that was not read
_PAIR = re.compile(r"\s*([^:=\t]{1,60}?)\s*[:=]\s*(.*)")
_DELIMITERS = ("\t", ";", "|", ",")


@dataclass(frozen=True)
class Unread:
    """Something that could not be read: on which line, under which heading, and what it says."""

    line: int
    heading: str
    text: str


@dataclass(frozen=True, kw_only=True)
class Confirmed:
    """One item of an acknowledgement, by our names of its fields."""

    line: int
    values: Mapping[str, Read] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Acknowledgement:
    """Everything that a maker confirmed, and everything that could not be read."""

    items: tuple[Confirmed, ...]
    unread: tuple[Unread, ...]


def read_acknowledgement(text: str) -> Acknowledgement:
    """What pasted text or a CSV file confirms: a table with headings, or lines like ``body length: 10 ft 6 in``.

    Units are read as everywhere; a unit may stand in the heading. Raises :class:`InputError` where it is larger
    than 64 KB or longer than 500 lines.

    >>> read_acknowledgement("tag: B2\\nlead end: left\\ncolour: black").items[0].values["end"].value
    'left'
    """
    if len(text.encode("utf-8", "surrogatepass")) > MOST_BYTES:
        raise InputError(say(N_("the acknowledgement is larger than 64 KB; paste the lines of this order only")))
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if len(lines) > MOST_LINES:
        said = N_("the acknowledgement has {count} lines; at most {most} are read; paste this order only")
        raise InputError(say(said, count=len(lines), most=MOST_LINES))
    for delimiter in _DELIMITERS:
        for at, line in enumerate(lines):
            if _is_head(_split(line, delimiter)):
                return _joined(_before(lines[:at]), _table(lines[at:], delimiter, at + 1))
    return _pairs(lines)


def read_rows(rows: Sequence[Sequence[str]]) -> Acknowledgement:
    """What the rows of a workbook confirm: the first row with headings, then an item a row.

    Raises :class:`InputError` where there are more than 500 rows, or more than 64 KB of text.
    """
    size = sum(len(str(cell).encode("utf-8", "surrogatepass")) for row in rows for cell in row)
    if len(rows) > MOST_LINES or size > MOST_BYTES:
        said = N_("the sheet is larger than {most} rows or 64 KB; keep the rows of this order only")
        raise InputError(say(said, most=MOST_LINES))
    texts = [[str(cell).strip() for cell in row] for row in rows]
    for at, row in enumerate(texts):
        if _is_head(row):
            return _joined(_before(map(" ".join, texts[:at])), _items(row, texts[at + 1 :], at + 2))
    return _pairs([" ".join(filter(None, row)) if len(row) != 2 else ": ".join(row) for row in texts])


def _is_head(cells: Sequence[str]) -> bool:
    """Whether these are headings: at least two are known, and at least half."""
    known = [each for each in cells[:MOST_CELLS] if heading(each)]
    said = [each for each in cells if each.strip()]
    return len(known) >= 2 and 2 * len(known) >= len(said)


def _split(line: str, delimiter: str) -> list[str]:
    """The cells of a line. A quotation mark inside a cell is that of inches."""
    if delimiter not in line:
        return []
    try:
        return [each.strip() for each in next(csv.reader([line], delimiter=delimiter), [])]
    except csv.Error:
        return [each.strip() for each in line.split(delimiter)]


def _before(lines: Iterable[str]) -> tuple[Unread, ...]:
    """What stands above the headings: nobody reads it as an item, so it is shown."""
    return tuple(Unread(at, "", each.strip()[:SHOWN]) for at, each in enumerate(lines, 1) if each.strip())


def _joined(before: tuple[Unread, ...], table: Acknowledgement) -> Acknowledgement:
    return Acknowledgement(items=table.items, unread=before + table.unread)


def _table(lines: Sequence[str], delimiter: str, first: int) -> Acknowledgement:
    head = _split(lines[0], delimiter)
    return _items(head, [_split(line, delimiter) or [line.strip()] for line in lines[1:]], first + 1)


def _items(head: Sequence[str], rows: Sequence[Sequence[str]], first: int) -> Acknowledgement:
    items: list[Confirmed] = []
    unread: list[Unread] = []
    for at, cells in enumerate(rows, first):
        pairs = [(head[n] if n < len(head) else "", cell) for n, cell in enumerate(cells) if cell]
        values = _values(pairs, at, unread)
        if values:
            items.append(Confirmed(line=at, values=values))
    return Acknowledgement(items=tuple(items), unread=tuple(unread))


def _values(pairs: Iterable[tuple[str, str]], line: int, unread: list[Unread]) -> dict[str, Read]:
    """The cells of one item that can be read; the others go to what was not."""
    values: dict[str, Read] = {}
    for name, text in pairs:
        known = heading(name)
        if known is None or known[0] in values:
            unread.append(Unread(line, name[:SHOWN], text[:SHOWN]))
            continue
        try:
            values[known[0]] = read_value(known[0], text[: SHOWN * 5], known[1])
        except NotRead:
            unread.append(Unread(line, name[:SHOWN], text[:SHOWN]))
    return values


def _pairs(lines: Sequence[str]) -> Acknowledgement:
    """Lines of ``name: value``; an item begins where a name comes again, or with its tag or line number."""
    items: list[Confirmed] = []
    unread: list[Unread] = []
    for block in _blocks(lines, unread):
        values = dict[str, Read]()
        for line, name, text in block:
            values.update(_values([(name, text)], line, unread))
        if values:
            items.append(Confirmed(line=block[0][0], values=values))
    return Acknowledgement(items=tuple(items), unread=tuple(sorted(unread, key=lambda each: each.line)))


def _blocks(lines: Sequence[str], unread: list[Unread]) -> Iterator[list[tuple[int, str, str]]]:
    block: list[tuple[int, str, str]] = []
    seen: set[str] = set()
    for at, line in enumerate(lines, 1):
        if not line.strip():
            continue
        match = _PAIR.fullmatch(line)
        known = heading(match[1]) if match else None
        if match is None or known is None:
            unread.append(
                Unread(at, match[1][:SHOWN] if match else "", (match[2] if match else line).strip()[:SHOWN])
            )
            continue
        starts = known[0] in seen or (known[0] in {"tag", "number"} and seen - {"tag", "number"})
        if starts:
            yield block
            block, seen = [], set()
        seen.add(known[0])
        block.append((at, match[1], match[2].strip()))
    if block:
        yield block
