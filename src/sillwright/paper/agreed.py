"""The order as agreed on paper: every line as it is built, and of each field that was settled whose value holds."""

from __future__ import annotations

from datetime import date
from typing import Any

from sillwright.base.words import N_, Reader, in_words
from sillwright.paper.letter import Letter, paper_of
from sillwright.paper.voice import Voice
from sillwright.takeoff.ordering.agreed import HOLDS_IN_WORDS, Agreed, AgreedField, AgreedLine
from sillwright.takeoff.ordering.line import CONSTRUCTIONS, PLACES, lead_of, length_of

LABELS = {
    "answer": N_("Both sides build by this sheet. The order sheet stays as it went out."),
    "lead": N_("Lead end"),
    "settled": N_("Settled between us"),
    "rest": N_("Everything else, as ordered and confirmed"),
    "besides": N_("Said beside the lines"),
    "for_us": N_("For us: name"),
    "for_maker": N_("For the maker: name"),
}
SETTLED = (N_("what"), N_("agreed"), N_("whose"), N_("instead of"), N_("settled by"))


def agreed_paper(found: Agreed, reader: Reader, *, letter: Letter, made_on: date, version: str) -> bytes:
    """The order as agreed as a tagged PDF.

    The same order, letter, date and version give the same bytes. Raises :class:`OutputError` where it cannot be
    set.
    """
    voice = Voice(reader)
    said = {
        "title": voice(N_("Order {reference} as agreed"), reference=letter.reference or "–"),
        "running": letter.reference[:70],
        "lines": [_block(each, voice) for each in found.lines],
        "besides": [settled_row(each, voice) for each in found.besides],
        "heads": [voice.word(each) for each in SETTLED],
    }
    return paper_of("agreed.typ", said, voice, letter=letter, made_on=made_on, version=version, labels=LABELS)


def _block(each: AgreedLine, voice: Voice) -> dict[str, Any]:
    line = each.line
    what = [voice.word(CONSTRUCTIONS[line.construction])] if line.construction else []
    about = ", ".join([*what, voice.word(PLACES[line.place])])
    return {
        "heading": voice(N_("{number}. {tag}: {what}"), number=line.number, tag=line.label, what=about),
        "dropped": unconfirmed(each, voice) if each.dropped else "",
        "kept": unconfirmed(each, voice) if each.kept else "",
        "length": voice.of(length_of(line)),
        "lead": [voice.of(one) for one in lead_of(line)],
        "settled": [settled_row(one, voice) for one in each.settled],
        "rest": [
            [voice.of(one.title), in_words(one.value, voice.reader)] for one in each.fields if one.holds == "both"
        ],
    }


def unconfirmed(each: AgreedLine, voice: Voice) -> str:
    """What was settled of a line that the maker did not confirm; nothing for one that he did."""
    said = each.dropped or each.kept
    if said is None:
        return ""
    words = N_("Not made: the maker did not confirm it, and that holds. Settled by {by} on {on}. {words}")
    if each.kept:
        words = N_("Made as ordered, though the maker did not confirm it. Settled by {by} on {on}. {words}")
    return voice(words, by=said.by, on=said.on, words=said.words).strip()


def settled_row(each: AgreedField, voice: Voice) -> list[str]:
    """A field that was settled: what it is called, what holds, whose that is, instead of what, by whom and when."""
    by = voice(N_("{by}, {on}"), by=each.by, on=each.on) if each.on else each.by
    return [
        voice.of(each.title),
        _value(each.value, voice),
        voice.word(HOLDS_IN_WORDS[each.holds]),
        _value(each.instead_of, voice),
        f"{by}. {each.words}".strip() if each.words else by,
    ]


def _value(value: Any, voice: Voice) -> str:
    return "–" if value is None else in_words(value, voice.reader)
