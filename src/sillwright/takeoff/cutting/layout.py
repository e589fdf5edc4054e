"""The bars as a drawing: one row for equal bars, each piece with its length and what it is for, to scale."""

from __future__ import annotations

from itertools import groupby

from sillwright.base.words import N_, Amount, Reader, Sentence, in_words, render
from sillwright.drawing.lettering import cut, width_of
from sillwright.drawing.shapes import Drawing, Group, Rect, Shape, Text
from sillwright.takeoff.cutting.cutlist_model import Cut, CutBar, CutlistResult

WIDTH = 150.0  # of the longest bar, in millimetres of paper
BAR, TITLE, GAP = 10.0, 4.5, 4.0  # heights, in millimetres of paper
LETTERS = 2.2
MARGIN = 0.8  # ems, beside words inside a piece


def bars_drawing(result: CutlistResult, reader: Reader) -> Drawing:
    """The bars of a cut list in a reader's words and units.

    Bars that look the same share a row. A piece too short for its words shows its length alone, upright where it
    must; all of it is in the title of its shape.
    """
    rows = [list(same) for _, same in groupby(result.bars, key=_looks)]
    scale = max(bar.length for bar in result.bars) / WIDTH
    parts: list[Group] = []
    for number, same in enumerate(rows):
        top = -number * (TITLE + BAR + GAP) * scale
        parts += _row(f"bar.{number + 1}", same[0], _heading(same, reader), top, scale, reader)
    title = Sentence(N_("Cut list, {count} bars"), {"count": len(result.bars)})
    described = " ".join(_described(same, reader) for same in rows)
    return Drawing(title=render(title, reader), described=described, parts=tuple(parts), metres_per_mm=scale)


def _looks(bar: CutBar) -> tuple[int, tuple[tuple[str, float], ...]]:
    return bar.stock, tuple((each.label, each.length) for each in bar.cuts)


def _row(name: str, bar: CutBar, heading: str, top: float, scale: float, reader: Reader) -> list[Group]:
    size, low = LETTERS * scale, top - (TITLE + BAR) * scale
    outline = Rect(x=0.0, y=low, width=bar.length, height=BAR * scale)
    over = Text(
        x=0.0, y=top - LETTERS * scale, words=cut(heading, WIDTH / LETTERS, bold=True), size=size, bold=True
    )
    groups = [Group(name=name, role="structure", parts=(outline, over), title=heading)]
    for number, each in enumerate(bar.cuts, start=1):
        words = _said(each, reader)
        box = Rect(x=each.from_start, y=low, width=each.length, height=BAR * scale, fill="paper")
        parts: tuple[Shape, ...] = (box, *_inside(box, words, _length(each.length, reader), size))
        groups.append(Group(name=f"{name}.piece.{number}", role="leaf", parts=parts, title=words))
    if bar.kept:
        words = render(Sentence(N_("off-cut {length}, to stock"), {"length": Amount(bar.off_cut, "m")}), reader)
        box = Rect(x=bar.off_cut_start, y=low, width=bar.off_cut, height=BAR * scale, fill="shade")
        parts = (box, *_inside(box, words, _length(bar.off_cut, reader), size))
        groups.append(Group(name=f"{name}.off_cut", role="note", parts=parts, title=words))
    return groups


def _inside(box: Rect, words: str, short: str, size: float) -> tuple[Shape, ...]:
    """Words in the middle of a piece as far as they fit: all, cut to length, the length alone, upright, none."""
    room, height = box.width / size - MARGIN, box.height / size - MARGIN / 2
    x, y = box.x + box.width / 2, box.y + box.height / 2
    if width_of(short) <= room:
        return (Text(x=x, y=y - 0.36 * size, words=cut(words, room), size=size, anchor="middle"),)
    if width_of(short) <= height and room + MARGIN >= 1.1:
        return (Text(x=x + 0.36 * size, y=y, words=short, size=size, anchor="middle", turned=True),)
    return ()


def _length(metres: float, reader: Reader) -> str:
    return in_words(Amount(metres, "m"), reader)


def _heading(same: list[CutBar], reader: Reader) -> str:
    values = {"count": len(same), "name": same[0].name, "length": Amount(same[0].length, "m")}
    said = N_("{count} × {name}, {length}") if same[0].name else N_("{count} × {length}")
    return render(Sentence(said, values), reader)


def _described(same: list[CutBar], reader: Reader) -> str:
    """A row in words, for somebody who does not see it."""
    pieces = ", ".join(_said(each, reader) for each in same[0].cuts)
    left = Amount(same[0].off_cut, "m")
    values = {"bar": _heading(same, reader), "pieces": pieces, "left": left}
    return render(Sentence(N_("{bar}: {pieces}; {left} left."), values), reader)


def _said(each: Cut, reader: Reader) -> str:
    length = _length(each.length, reader)
    return f"{length}, {each.label}" if each.label else length
