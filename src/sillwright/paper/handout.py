"""The handout of a lesson: its answer first, then parts of short lines; one language after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sillwright.base.words import N_, Reader
from sillwright.paper.letter import Letter, paper_of
from sillwright.paper.voice import Voice


@dataclass(frozen=True, kw_only=True)
class Part:
    """A heading with the lines under it, in order where they are numbered."""

    heading: str
    lines: Sequence[str]
    numbered: bool = False


@dataclass(frozen=True, kw_only=True)
class Handout:
    """The handout in one language."""

    language: str
    title: str
    answer: str
    parts: Sequence[Part]


def handout_paper(sheets: Sequence[Handout], *, company: str, made_on: date, version: str) -> bytes:
    """The handout as a tagged PDF; the first language is that of the frame. Each language begins a page.

    The same sheets, date and version give the same bytes. Raises :class:`OutputError` where it cannot be set.
    """
    voice = Voice(Reader(language=sheets[0].language))
    said = {
        "title": voice(N_("Lesson: finding the fault")),
        "running": sheets[0].title[:70],
        "sheets": [
            {
                "lang": each.language.replace("-", "_").partition("_")[0].lower(),
                "title": each.title,
                "answer": each.answer,
                "parts": [
                    {"heading": part.heading, "lines": list(part.lines), "numbered": part.numbered}
                    for part in each.parts
                ],
            }
            for each in sheets
        ],
    }
    letter = Letter(company=(company,))
    return paper_of("handout.typ", said, voice, letter=letter, made_on=made_on, version=version, labels={})
