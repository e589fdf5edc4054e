"""The edge body under the leaf, to scale: what answers, what does not, and its length."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base.words import N_, Amount, Sentence, render
from sillwright.drawing.shapes import Rect
from sillwright.paper.frame import Frame
from sillwright.paper.sheet import Sheet
from sillwright.takeoff.answer import Body, TakeOff
from sillwright.takeoff.leads.lead import SIDE_IN_WORDS

THICK = 1.0  # millimetres of paper
LANE = -20.0


def draw_body(sheet: Sheet, frame: Frame, order: TakeOff) -> None:
    """The body that would be ordered for the bottom edge, with its dead ends and its length measured."""
    body = next((each for each in order.bodies if each.place == "bottom" and each.body), None)
    if body is None or body.body is None:
        return
    left, right = frame.width / 2 - body.body / 2, frame.width / 2 + body.body / 2
    top = frame.leaf.bottom
    thick = sheet.mm(THICK)
    whole = Rect(x=left, y=top - thick, width=right - left, height=thick, fill="paper")
    dead = (
        Rect(x=start, y=top - thick, width=long, height=thick, fill="ink")
        for start, long in _dead(left, right, body)
        if long > 0
    )
    words = _called(sheet, body)
    sheet.add("body", "device", whole, *dead, title=words)
    sheet.measure((left, 0.0), (right, 0.0), LANE, words, name="body")
    for each in (order.way.why, *_lead(order)):
        sheet.remarks.append(render(each, sheet.reader))


def _lead(order: TakeOff) -> Iterator[Sentence]:
    """The end of a lead that the survey does not tell: what the rule gives, else why it is open."""
    lead = order.lead
    if lead.end is None:
        yield lead.why
    elif "lead.end" not in lead.facts:
        said = N_("Nobody told the end of the lead; by rule: {end}. {why}")
        yield Sentence(said, {"end": Sentence(SIDE_IN_WORDS[lead.end]), "why": lead.why})


def _dead(left: float, right: float, body: Body) -> Iterator[tuple[float, float]]:
    """Where each stretch begins that does not answer, and how long it is: at both ends of every piece."""
    piece = body.piece if body.piece is not None else right - left
    end = 0.0 if body.sensing is None else max(0.0, (piece - body.sensing / body.pieces) / 2)
    gap = (right - left - body.pieces * piece) / max(1, body.pieces - 1)
    for at in range(body.pieces):
        start = left + at * (piece + gap)
        yield start, end
        yield start + piece - end, end


def _called(sheet: Sheet, body: Body) -> str:
    length = Amount(body.body or 0.0, "m")
    if body.informs_only:
        return render(Sentence(N_("body {length}, for information"), {"length": length}), sheet.reader)
    if body.pieces > 1:
        said = Sentence(N_("body {length} in {count} pieces"), {"length": length, "count": body.pieces})
        return render(said, sheet.reader)
    return render(Sentence(N_("body {length}"), {"length": length}), sheet.reader)
