"""The edge body under the leaf, to scale: what answers, what does not, and its length."""

from __future__ import annotations

from sillwright.base.words import N_, Amount, Sentence, render
from sillwright.drawing.shapes import Rect
from sillwright.paper.frame import Frame
from sillwright.paper.sheet import Sheet
from sillwright.takeoff.answer import Body, TakeOff

THICK = 1.0  # millimetres of paper
LANE = -20.0


def draw_body(sheet: Sheet, frame: Frame, order: TakeOff) -> None:
    """The body that would be ordered for the bottom edge, with its dead ends and its length measured."""
    body = next((each for each in order.bodies if each.place == "bottom" and each.body), None)
    if body is None or body.body is None:
        return
    left, right = frame.width / 2 - body.body / 2, frame.width / 2 + body.body / 2
    top = frame.leaf.bottom
    dead = max(0.0, (body.body - (body.sensing or body.body)) / 2)
    thick = sheet.mm(THICK)
    whole = Rect(x=left, y=top - thick, width=right - left, height=thick, fill="paper")
    ends = tuple(Rect(x=x, y=top - thick, width=dead, height=thick, fill="ink") for x in (left, right - dead))
    words = _called(sheet, body)
    sheet.add("body", "device", whole, *(ends if dead > 0 else ()), title=words)
    sheet.measure((left, 0.0), (right, 0.0), LANE, words, name="body")
    for each in (order.way.why, *((order.lead.why,) if order.lead.end is None else ())):
        sheet.remarks.append(render(each, sheet.reader))


def _called(sheet: Sheet, body: Body) -> str:
    length = Amount(body.body or 0.0, "m")
    if body.informs_only:
        return render(Sentence(N_("body {length}, for information"), {"length": length}), sheet.reader)
    if body.pieces > 1:
        said = Sentence(N_("body {length} in {count} pieces"), {"length": length, "count": body.pieces})
        return render(said, sheet.reader)
    return render(Sentence(N_("body {length}"), {"length": length}), sheet.reader)
