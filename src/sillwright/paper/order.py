"""The order sheet: one block a line, with everything the maker needs, the lead said twice, and its sketch."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from sillwright.base.words import N_, Amount, Reader, in_words
from sillwright.drawing.shapes import Drawing
from sillwright.paper.letter import Letter, paper_of
from sillwright.paper.report import Pictures
from sillwright.paper.voice import Voice
from sillwright.takeoff.ordering.fields import FIELDS, shown
from sillwright.takeoff.ordering.line import (
    CONSTRUCTIONS,
    PLACES,
    OrderLine,
    confirmed_of,
    lead_of,
    length_of,
    written,
)

LABELS = {
    "quantity": N_("quantity"),
    "lead": N_("Lead end"),
    "confirmed": N_("Confirmed"),
    "parts": N_("With it"),
    "remarks": N_("For the maker and the crew"),
    "note": N_("Note"),
    "open": N_("This line cannot be released yet"),
    "released": N_("Released"),
    "release": N_("Release: name"),
    "answer": N_(
        "Send back what you confirm, line by line, in the same words. A difference is settled before it is built."
    ),
}
_SAID_ELSEWHERE = {"length", "word", "pieces", "end"}
"""Fields that stand in a block's head, or in words of their own."""


def order_paper(
    lines: Sequence[OrderLine],
    reader: Reader,
    *,
    letter: Letter,
    made_on: date,
    version: str,
    sketches: Mapping[int, Drawing] | None = None,
) -> bytes:
    """The order sheet as a tagged PDF; ``sketches`` by the number of their line.

    The same lines, letter, date and version give the same bytes.
    Raises :class:`OutputError` where it cannot be set.
    """
    voice, pictures = Voice(reader), Pictures()
    drawn = sketches or {}
    open_lines = [line.label for line in lines if line.open]
    said = {
        "title": voice(N_("Order {reference}"), reference=letter.reference or "–"),
        "running": letter.reference[:70],
        "open": voice(N_("Not released yet: {labels}."), labels=open_lines) if open_lines else "",
        "lines": [_block(line, voice, pictures, drawn.get(line.number)) for line in lines],
        "none": voice(N_("There is no line to order.")),
    }
    return paper_of(
        "order.typ", said, voice, letter=letter, made_on=made_on, version=version, labels=LABELS, pictures=pictures
    )


def _block(line: OrderLine, voice: Voice, pictures: Pictures, sketch: Drawing | None) -> dict[str, Any]:
    mark = "? " if line.open else ""
    what = (
        voice.word(CONSTRUCTIONS[line.construction]) if line.construction else voice(N_("edge, no profile chosen"))
    )
    place = voice.word(PLACES[line.place])
    return {
        "heading": voice(N_("{mark}{number}. {tag}: {what}, {place}"), **_head(line, mark, what, place)),
        "length": voice.of(length_of(line)),
        "rows": _rows(line, voice),
        "lead": [voice.of(each) for each in lead_of(line)],
        "confirmed": voice.of(confirmed_of(line)),
        "parts": ", ".join(each for each in (line.cord, line.reel, line.radio, line.box, line.converter) if each),
        "remarks": [voice.of(each) for each in line.remarks],
        "note": line.note,
        "blocked": [[voice.of(each.reason), voice.of(each.releases)] for each in line.blocked],
        "released": _released(line, voice),
        "sketch": pictures.add(sketch) if sketch else None,
    }


def _head(line: OrderLine, mark: str, what: str, place: str) -> dict[str, Any]:
    return {"mark": mark, "number": line.number, "tag": line.tag, "what": what, "place": place}


def _rows(line: OrderLine, voice: Voice) -> list[list[str]]:
    rows = [
        [voice.word(spec.title), _value(line, spec.key, voice)]
        for spec in FIELDS
        if spec.key not in _SAID_ELSEWHERE
    ]
    if line.sensing is not None and line.word == "body":
        rows.append([voice(N_("answers over")), in_words(Amount(line.sensing, "m"), voice.reader)])
    if line.to_buy is not None:
        rows.append([voice(N_("roll to buy")), in_words(Amount(line.to_buy, "m"), voice.reader)])
    return rows


def _value(line: OrderLine, key: str, voice: Voice) -> str:
    """A field in words; of the channel its pieces; a question mark where a fact that is needed is missing."""
    spec = next(each for each in FIELDS if each.key == key)
    value = spec.value(line)
    if key == "channel_length" and line.channel_pieces and line.channel:
        return " + ".join(written(each, line.units) for each in line.channel_pieces)
    if value is None and key in {"profile", "exit", "lead_length", "wires", "circuit", "ship"} and line.wires != 0:
        return "?"
    if key == "end_element" and value is None and line.circuit in {"resistor", None}:
        return "?"
    if key == "from_end" and line.from_end is None:
        return "?"
    return in_words(shown(key, value), voice.reader)


def _released(line: OrderLine, voice: Voice) -> str:
    if line.released_on is None:
        return ""
    return voice(N_("released by {by} on {on}"), by=line.released_by, on=line.released_on)
