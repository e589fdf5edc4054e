"""What the papers of the trade share: who writes to whom, how they are dated, and the page that they stand on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from sillwright.base.words import N_, dated
from sillwright.paper.report import LETTER, Pictures, printable, typeset
from sillwright.paper.voice import Voice

MOST_LINES, LONGEST_LINE = 8, 120
LABELS = {
    "page": N_("page {page} of {pages}"),
    "viewpoint": N_("Sides are said inside, looking out."),
    "from": N_("from"),
    "to": N_("to"),
    "name": N_("name"),
    "signature": N_("signature"),
    "date": N_("date"),
}


@dataclass(frozen=True, kw_only=True)
class Letter:
    """Who writes, and to whom, line by line as they want to be called; ``reference`` is what both call it by."""

    company: tuple[str, ...] = ()
    to: tuple[str, ...] = ()
    reference: str = ""


def paper_of(
    template: str,
    said: dict[str, Any],
    voice: Voice,
    *,
    letter: Letter,
    made_on: date,
    version: str,
    labels: dict[str, str],
    pictures: Pictures | None = None,
) -> bytes:
    """A paper from its template and what it says. The same data, date and version give the same bytes.

    Raises :class:`OutputError` where it cannot be set.
    """
    reader, day = voice.reader, dated(made_on, voice.reader)
    told = {
        **said,
        "from": _lines(letter.company),
        "to": _lines(letter.to),
        "reference": letter.reference[:LONGEST_LINE],
        "dated": day,
        "made": voice(N_("Sillwright {version} · {day}"), version=version, day=day),
        "words": {key: voice.word(words) for key, words in {**LABELS, **labels}.items()},
    }
    data = {
        **printable(told),
        "paper": "us-letter" if reader.country in LETTER else "a4",
        "lang": reader.language.replace("-", "_").partition("_")[0].lower(),
        "region": reader.country,
        "images": pictures.images if pictures else [],
    }
    return typeset(data, made_on, template)


def _lines(words: tuple[str, ...]) -> list[str]:
    return [each[:LONGEST_LINE] for each in words[:MOST_LINES]]


def paragraphs(text: str) -> list[str]:
    """The paragraphs of a text that somebody wrote, parted by line ends.

    >>> paragraphs("One.\\n\\n  Two.\\n")
    ['One.', 'Two.']
    """
    return [each.strip() for each in text.splitlines() if each.strip()]
