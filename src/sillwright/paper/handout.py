"""The handout of a lesson: its answer first, then parts of short lines, in one language or in two side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from sillwright.base.words import N_, Reader, translate
from sillwright.paper.legible import legible
from sillwright.paper.letter import LABELS, Letter, paper_of
from sillwright.paper.report import Pictures
from sillwright.paper.voice import Voice

Said = tuple[str, ...]
"""A text, once in each language of the handout."""
BLANK = 12  # rows to be signed by hand


@dataclass(frozen=True, kw_only=True)
class Part:
    """A heading with the lines under it, in order where they are numbered."""

    heading: Said
    lines: Sequence[Said]
    numbered: bool = False


@dataclass(frozen=True, kw_only=True)
class Handout:
    """The handout; ``readers`` are the languages of each of its texts, ``note`` what is said of a translation."""

    readers: Sequence[Reader]
    title: Said
    answer: Said
    parts: Sequence[Part]
    note: Said = ()

    @property
    def head(self) -> Said:
        """What stands over it all."""
        return tuple(translate(N_("Lesson: finding the fault"), each) for each in self.readers)


@dataclass(frozen=True, kw_only=True)
class Signed:
    """Somebody who was there. ``drawn`` is the path of a drawn signature in the field of the roll."""

    name: str
    drawn: str
    written: str
    result: Said
    day: str
    due: str


@dataclass(frozen=True, kw_only=True)
class Roll:
    """Who was there: five columns and their rows; ``field`` is how wide and high signatures are drawn."""

    heading: Said
    heads: Sequence[Said]
    rows: Sequence[Signed]
    field: tuple[int, int]


def handout_paper(sheet: Handout, *, company: str, made_on: date, version: str, roll: Roll | None = None) -> bytes:
    """The handout as a tagged PDF; the first language is that of the frame. The roll stands on a page of its own.

    The same sheet, roll, date and version give the same bytes. Raises :class:`OutputError` where it cannot be set.
    """
    pictures = Pictures()
    said: dict[str, Any] = {
        "title": " · ".join(sheet.head),
        "titles": sheet.head,
        "running": sheet.title[0][:70],
        "langs": [each.language for each in sheet.readers],
        "complaint": sheet.title,
        "answer": sheet.answer,
        "note": sheet.note,
        "parts": [asdict(each) for each in sheet.parts],
        "roll": _roll(roll, pictures) if roll else None,
    }
    labels = {key: " · ".join(translate(words, each) for each in sheet.readers) for key, words in LABELS.items()}
    return paper_of(
        "handout.typ",
        said,
        Voice(sheet.readers[0]),
        letter=Letter(company=(company,)),
        made_on=made_on,
        version=version,
        labels=labels,
        pictures=pictures,
    )


def _roll(roll: Roll, pictures: Pictures) -> dict[str, Any]:
    return {
        "heading": roll.heading,
        "heads": roll.heads,
        "rows": [{**asdict(each), "drawn": _picture(each, roll.field, pictures)} for each in roll.rows],
        "blank": 0 if roll.rows else BLANK,
    }


def _picture(row: Signed, field: tuple[int, int], pictures: Pictures) -> int | None:
    """The number of the picture of a drawn signature."""
    if not row.drawn:
        return None
    pen = 'fill="none" stroke="black" stroke-width="10" stroke-linecap="round" stroke-linejoin="round"'
    box = f'xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {field[0]} {field[1]}"'
    svg = f'<svg {box}><path d="{row.drawn}" {pen}/></svg>'
    pictures.images.append({"svg": svg, "alt": legible(row.name), "width": 30.0})
    return len(pictures.images) - 1
