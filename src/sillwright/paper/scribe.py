"""The scribe on paper: strips at full size, with marks to join them and a line to measure after printing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from math import ceil
from typing import Any, Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, Amount, Reader, Sentence, Units, in_words, render, say, translate
from sillwright.drawing.lettering import cut
from sillwright.drawing.shapes import Anchor, Circle, Drawing, Group, Line, Point, Polyline, Rect, Shape, Text
from sillwright.paper.dxf import drawing_as_dxf
from sillwright.paper.legible import breakable, legible
from sillwright.paper.report import LETTER, typeset
from sillwright.paper.svg import MARGIN, svg
from sillwright.takeoff.floors.scribe import FULL_SIZE, LAYERS, ScribeCurve, scribe_drawing

Paper = Literal["us-letter", "a4"]
Place = Callable[[float, float], Point]
"""Where a place along the sill, and a height above the leaf's bottom edge, stand on the page."""
SIZES: dict[Paper, tuple[float, float]] = {"us-letter": (279.4, 215.9), "a4": (297.0, 210.0)}
"""Width and height of the page lying on its side, in millimetres."""
EDGE, HEAD, FOOT = 12.0, 16.0, 24.0
OVERLAP = 20.0
BELOW, ABOVE = 10.0, 22.0
"""Millimetres of a strip below the bottom edge of the leaf, and above the highest point of the line."""
LETTERS = 3.0
MOST = 0.1
"""Metres that a scribe is drawn for on one page; more is work on the floor."""
APART = 34.0  # millimetres between two words along the line
HUNDRED, FOUR_INCHES = 0.1, 0.1016


def scribe_pdf(
    curve: ScribeCurve, reader: Reader, *, name: str, made_on: date, paper: Paper | None = None
) -> bytes:
    """The scribe as pages to print at full size, on the paper of the reader's country unless one is named.

    The same curve, reader, name and date give the same bytes. Raises :class:`OutOfRange` where more would come off
    than is a scribe, and :class:`OutputError` where it cannot be set.
    """
    chosen: Paper = paper or ("us-letter" if reader.country in LETTER else "a4")
    pages = scribe_pages(curve, reader, name=name, paper=chosen)
    width, height = SIZES[chosen]
    data: dict[str, Any] = {
        "title": breakable(legible(scribe_drawing(curve, reader, name).title)),
        "lang": reader.language.replace("-", "_").partition("_")[0].lower(),
        "region": reader.country,
        "width": width,
        "height": height,
        "pages": [{"svg": svg(each), "alt": breakable(legible(each.described))} for each in pages],
    }
    return typeset(data, made_on, "scribe.typ")


def scribe_dxf(curve: ScribeCurve, reader: Reader, *, name: str, units: Units | None = None) -> bytes:
    """The scribe as a drawing file at full size, in the reader's units unless others are named."""
    return drawing_as_dxf(scribe_drawing(curve, reader, name), units or reader.units, layers=LAYERS)


@dataclass(frozen=True, kw_only=True)
class Strip:
    """A piece of the scribe as long as a page, and where it begins and ends along the sill."""

    number: int
    start: float
    end: float
    step: float  # from the start of one strip to that of the next
    y: float  # of the leaf's bottom edge on the page


def scribe_pages(curve: ScribeCurve, reader: Reader, *, name: str, paper: Paper) -> tuple[Drawing, ...]:
    """One drawing a page, in metres from its lower left corner; strips from left to right, from the top down."""
    if curve.greatest > MOST:
        said = N_("the line rises by {greatest}; a scribe is drawn up to {most}, more is work on the floor")
        raise OutOfRange(say(said, greatest=Amount(curve.greatest, "m"), most=Amount(MOST, "m")))
    width, height = SIZES[paper]
    strips = _strips(curve, width, height)
    tops = [at for at, strip in enumerate(strips) if at == 0 or strip.y > strips[at - 1].y]
    sheets = [strips[first:last] for first, last in pairwise([*tops, len(strips)])]
    count = len(strips)
    return tuple(
        Drawing(
            title=name,
            described=_described(sheet, number, len(sheets), reader),
            parts=(
                *_frame(reader, name, (number, len(sheets)), (width, height)),
                *(part for strip in sheet for part in _strip(curve, strip, count, reader)),
            ),
            metres_per_mm=FULL_SIZE,
        )
        for number, sheet in enumerate(sheets, start=1)
    )


def _strips(curve: ScribeCurve, width: float, height: float) -> list[Strip]:
    long, step = (width - 2 * EDGE) / 1000, (width - 2 * EDGE - OVERLAP) / 1000
    tall = curve.greatest * 1000 + BELOW + ABOVE
    rows = max(1, int((height - 2 * EDGE - HEAD - FOOT) // tall))
    count = max(1, ceil((curve.right - curve.left - OVERLAP / 1000) / step - 1e-9))
    top = height - EDGE - HEAD
    return [
        Strip(
            number=at + 1,
            start=curve.left + at * step,
            end=min(curve.right, curve.left + at * step + long),
            step=step,
            y=(top - tall * (at % rows + 1) + BELOW) / 1000,
        )
        for at in range(count)
    ]


def _described(sheet: list[Strip], number: int, pages: int, reader: Reader) -> str:
    ends = {"start": Amount(sheet[0].start, "m"), "end": Amount(sheet[-1].end, "m")}
    said = N_("Page {number} of {pages}: the line from {start} to {end} from the left jamb, inside, looking out.")
    return render(Sentence(said, {"number": number, "pages": pages, **ends}), reader)


def _frame(reader: Reader, name: str, page: tuple[int, int], size: tuple[float, float]) -> Iterator[Group]:
    """What stands on every page: whose scribe, which way round, page x of y, and the lines to measure."""
    width, height = (each / 1000 for each in size)
    edge = EDGE / 1000
    blank = Rect(
        x=MARGIN / 1000, y=MARGIN / 1000, width=width - MARGIN / 500, height=height - MARGIN / 500, fill="blank"
    )
    counted = render(Sentence(N_("Page {page} of {pages}"), {"page": page[0], "pages": page[1]}), reader)
    view = translate(N_("Inside, looking out"), reader)
    letter = LETTERS / 1000
    heading = cut(f"{view} · {name}", (width - 2 * edge) / (letter * 1.4) - 14, bold=True)
    yield Group(
        name="sheet",
        role="note",
        parts=(
            blank,
            Text(x=edge, y=height - edge - letter, words=heading, size=letter * 1.4, bold=True),
            Text(x=width - edge, y=height - edge - letter, words=counted, size=letter * 1.2, anchor="end"),
            *_hints(reader, height - edge - letter * 2.8),
        ),
    )
    yield Group(name="check", role="leaf", parts=tuple(_check(reader, edge)))


def _hints(reader: Reader, y: float) -> Iterator[Text]:
    said = N_(
        "Lay the strips over each other at equal numbers, the lower line on the bottom edge of the leaf; plane to "
        "the heavy line."
    )
    yield Text(x=EDGE / 1000, y=y, words=translate(said, reader), size=LETTERS / 1000)


def _check(reader: Reader, edge: float) -> Iterator[Shape]:
    """A line of 100 mm and one of 4 in, to be measured on the print."""
    letter = LETTERS / 1000
    said = N_(
        "Print at 100 %, not fitted to the page, then measure both lines; use the print only where both are right."
    )
    yield Text(x=edge, y=edge + 5.2 * letter, words=translate(said, reader), size=letter)
    for left, long, label in ((edge, HUNDRED, "100 mm"), (edge + 0.125, FOUR_INCHES, "4 in")):
        y = edge + 2 * letter
        yield Line(start=(left, y), end=(left + long, y))
        for x in (left, left + long):
            yield Line(start=(x, y - letter / 2), end=(x, y + letter / 2))
        yield Text(x=left + long / 2, y=y + letter * 0.6, words=label, size=letter, anchor="middle")


def _strip(curve: ScribeCurve, strip: Strip, count: int, reader: Reader) -> Iterator[Group]:
    """One strip: bottom edge, line to plane to, ends of the leaf, words along the line, marks where it joins."""

    def at(x: float, height: float) -> Point:
        return EDGE / 1000 + x - strip.start, strip.y + height

    line = tuple(at(x, height) for x, height in clipped(curve.cut, strip.start, strip.end))
    bottom = Line(start=at(strip.start, 0.0), end=at(strip.end, 0.0))
    top = curve.greatest + ABOVE / 2000
    ends = [Line(start=at(x, 0.0), end=at(x, top)) for x in (curve.left, curve.right) if _on(strip, x)]
    yield Group(name=f"bottom.{strip.number}", role="structure", parts=(bottom, *ends))
    yield Group(name=f"scribe.{strip.number}", role="device", parts=(Polyline(points=line),))
    words = tuple(_words(curve, strip, reader, at))
    numbered = Sentence(N_("strip {number} of {count}"), {"number": strip.number, "count": count})
    label = Text(x=EDGE / 1000 + 0.045, y=strip.y - 0.007, words=render(numbered, reader), size=LETTERS / 1000)
    yield Group(name=f"words.{strip.number}", role="dimension", parts=(*words, label))
    joints = [strip.number - 1] * (strip.number > 1) + [strip.number] * (strip.number < count)
    marks = tuple(part for joint in joints for part in _register(curve, joint, at, strip.step))
    if marks:
        yield Group(name=f"register.{strip.number}", role="note", parts=marks)


def _on(strip: Strip, x: float) -> bool:
    return strip.start - 1e-9 <= x <= strip.end + 1e-9


def _words(curve: ScribeCurve, strip: Strip, reader: Reader, at: Place) -> Iterator[Shape]:
    """A tick at every point, what comes off there where there is room to say it, and the left jamb."""
    letter, last = LETTERS / 1000, float("-inf")
    for x, height in curve.cut:
        if not _on(strip, x):
            continue
        yield Line(start=at(x, 0.0), end=at(x, curve.greatest + letter))
        at_the_end = strip.end - x < APART / 1000  # its words stand on the next strip, unless there is none
        if x - last < APART / 1000 or (at_the_end and x < curve.right):
            continue
        last = x
        lines = (in_words(Amount(x, "m"), reader), _off(height, reader))
        anchor: Anchor = "end" if at_the_end else "start"
        aside = -letter * 0.3 if anchor == "end" else letter * 0.3
        for row, words in enumerate(lines):
            left, y = at(x, curve.greatest + letter * (2.3 - 1.25 * row))
            yield Text(x=left + aside, y=y, words=words, size=letter, anchor=anchor)
    if _on(strip, 0.0):
        left, y = at(0.0, -0.007)
        yield Line(start=(left, y), end=at(0.0, 0.0))
        yield Text(x=left + letter * 0.3, y=y, words=translate(N_("left jamb"), reader), size=letter, bold=True)


def _off(height: float, reader: Reader) -> str:
    return render(Sentence(N_("take off {height}"), {"height": Amount(height, "m")}), reader)


def _register(curve: ScribeCurve, joint: int, at: Place, step: float) -> Iterator[Shape]:
    """The mark at which two strips are laid over each other: a dashed line, a ring with a cross, a number."""
    x = curve.left + joint * step + OVERLAP / 2000
    left, y = at(x, -0.005)
    yield Line(start=at(x, -BELOW / 1000 + 0.001), end=at(x, curve.greatest + 0.004), hidden=True)
    yield Circle(x=left, y=y, radius=0.002)
    yield Line(start=(left - 0.004, y), end=(left + 0.004, y))
    yield Text(x=left + 0.005, y=y - LETTERS / 2800, words=str(joint), size=LETTERS / 1000, bold=True)


def clipped(points: tuple[Point, ...], start: float, end: float) -> tuple[Point, ...]:
    """The part of a line through points that lies between two places.

    >>> clipped(((0.0, 0.0), (2.0, 2.0)), 0.5, 1.0)
    ((0.5, 0.5), (1.0, 1.0))
    """
    found: list[Point] = []
    for (x1, y1), (x2, y2) in pairwise(points):
        if x2 < start or x1 > end:
            continue
        for x in (max(x1, start), min(x2, end)):
            y = y1 + (y2 - y1) * (x - x1) / (x2 - x1) if x2 > x1 else y2
            if not found or found[-1] != (x, y):
                found.append((x, y))
    return tuple(found)
