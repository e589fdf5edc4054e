"""An order as its page shows it: its lines, what stands against them, what the maker confirmed, what came."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from django.utils.translation import gettext_lazy

from sillwright.base.finding import by_weight
from sillwright.base.words import Reader, in_words, render, translate
from sillwright.paper.agreed import SETTLED, settled_row, unconfirmed
from sillwright.paper.voice import Voice
from sillwright.takeoff.ordering.agreed import Agreed, agreed
from sillwright.takeoff.ordering.goods_in import goods_in
from sillwright.takeoff.ordering.line import OrderLine, length_of
from sillwright.takeoff.ordering.warranty import SORTS_IN_WORDS
from sillwright.web.orders.acknowledging import Compared, compared, notes_of
from sillwright.web.orders.catalogues import newest_of
from sillwright.web.orders.chosen import chosen_of
from sillwright.web.orders.models import Order, OrderNote
from sillwright.web.orders.orders import Lines, Ordered, lines_now
from sillwright.web.orders.received import received_of, sorted_claim
from sillwright.web.orders.showing import line_shown

LEVELS = {
    "stop": gettext_lazy("stop"),
    "act": gettext_lazy("not as ordered"),
    "note": gettext_lazy("still to be looked at"),
    "good": gettext_lazy("in order"),
}
"""What a finding on an edge that came is called; nothing of it is quoted or watched."""


def order_shown(row: Order, reader: Reader) -> dict[str, Any]:
    """Everything that the page of an order says."""
    found = lines_now(row)
    notes = list(notes_of(row)) if row.state == "released" else []
    beside = compared(found.plain, notes)
    newest = newest_of(row.organisation_id)
    draft = row.state == "draft"
    settled = agreed(found.plain, beside.differences, beside.answers) if beside else None
    built = {each.line.number: each.line for each in settled.lines} if settled else {}
    lines = [_line(each, built.get(each.line.number, each.line), notes, reader) for each in found.lines]
    return {
        "order": row,
        "site": row.site,
        "draft": draft,
        "lines": lines,
        "gone": found.gone,
        "devices": _devices(row),
        "blocked": len(found.blocked),
        "may_split": draft and 0 < len({each.opening for each in found.blocked}) < _openings(found),
        "mark": found.mark,
        "newer": newest if draft and newest and newest.pk != row.catalogue_id else None,
        "release": row.notes.filter(kind="release").select_related("paper", "by").first(),
        "released_by": _released_by(found, reader),
        "beside": _beside(beside, reader) if beside else None,
        "agreed": _agreed(settled, reader) if settled else None,
        "received": sum(1 for each in lines if each["goods"]),
    }


def _devices(row: Order) -> list[tuple[str, str]]:
    """What is bought beside the edges, by opening: it was quoted, and is on no line of this order."""
    tags = {str(each.pk): each.tag for each in row.site.openings.all()}
    chosen = [chosen_of(each) for each in row.lines]
    told = [(tags.get(each.opening, "?"), each.devices) for each in chosen if each.devices]
    return [(tag, ", ".join(f"{each.quantity} × {each.device}" for each in devices)) for tag, devices in told]


def _openings(found: Lines) -> int:
    return len({each.opening for each in found.lines})


def _released_by(found: Lines, reader: Reader) -> tuple[str, str] | None:
    line = found.lines[0].line if found.lines else None
    if line is None or line.released_on is None:
        return None
    return line.released_by, in_words(line.released_on, reader)


def _line(ordered: Ordered, built: OrderLine, notes: Sequence[OrderNote], reader: Reader) -> dict[str, Any]:
    """A line as it was ordered; what came is judged by what was agreed, where that is another."""
    line = ordered.line
    of_line = [each for each in notes if each.line == line.number]
    return {
        **line_shown(line, reader),
        "opening": ordered.opening,
        "wanted": built.quantity * built.pieces,
        "goods": [goods_shown(each, built, reader) for each in of_line if each.kind == "goods_in"],
        "claims": [claim_shown(each, built, reader) for each in of_line if each.kind == "claim"],
    }


def _agreed(found: Agreed, reader: Reader) -> dict[str, Any]:
    """The order as agreed: of each line what was settled, and whose value holds."""
    voice = Voice(reader)
    return {
        "heads": [voice.word(each) for each in SETTLED],
        "lines": [
            {
                "number": each.line.number,
                "label": each.line.label,
                "length": render(length_of(each.line), reader),
                "dropped": bool(each.dropped),
                "unconfirmed": unconfirmed(each, voice),
                "settled": [settled_row(one, voice) for one in each.settled],
            }
            for each in found.lines
        ],
        "besides": [settled_row(each, voice) for each in found.besides],
    }


def goods_shown(note: OrderNote, line: OrderLine, reader: Reader) -> dict[str, Any]:
    """One edge that came: what was found, heaviest first."""
    found = by_weight(goods_in(line, received_of(note.told["found"])))
    return {
        "by": note.by.name,
        "at": note.at,
        "photo": note.told["found"]["photo"],
        "level": found[0].level if found else "good",
        "findings": [
            {
                "level": each.level,
                "words": str(LEVELS[each.level]),
                "text": render(each.text, reader),
                "do": render(each.do, reader) if each.do else "",
            }
            for each in found
        ],
    }


def claim_shown(note: OrderNote, line: OrderLine, reader: Reader) -> dict[str, Any]:
    """One claim: where its evidence points, what it rests on, what is still to be sent."""
    found = sorted_claim(note.told, line)
    return {
        "by": note.by.name,
        "at": note.at,
        "words": note.told["words"],
        "sort": translate(SORTS_IN_WORDS[found.sort], reader),
        "text": render(found.text, reader),
        "evidence": [
            (
                render(each.title, reader),
                in_words(each.said, reader),
                translate(SORTS_IN_WORDS[each.points_to], reader) if each.points_to else "",
            )
            for each in found.evidence
        ],
        "send": [render(each, reader) for each in found.send],
    }


def _beside(found: Compared, reader: Reader) -> dict[str, Any]:
    return {
        "note": found.note,
        "open": len(found.open),
        "differences": list(_differences(found, reader)),
        "settled": not found.open,
    }


def _differences(found: Compared, reader: Reader) -> Iterable[dict[str, Any]]:
    for at, each in enumerate(found.differences):
        answer = found.answers.get(each.id)
        yield {
            "at": at,
            "id": each.id,
            "text": render(each.text, reader),
            "can_hold": each.can_hold,
            "answer": answer if answer and (answer.holds == "ordered" or each.can_hold) else None,
            "day": in_words(answer.on, reader) if answer else "",
        }
