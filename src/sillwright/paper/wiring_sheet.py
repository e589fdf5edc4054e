"""The wiring sheet as a drawing: each device from the operator's terminals to its far end. Not to scale."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base.words import N_, Reader, Sentence, render
from sillwright.drawing.lettering import cut, wrapped
from sillwright.drawing.shapes import Circle, Drawing, Group, Shape, Text, box_of
from sillwright.hookup.answer import Hookup, Wiring
from sillwright.paper.callouts import plain
from sillwright.paper.wiring_picture import WIDTH, picture
from sillwright.paper.wiring_symbols import MM, SIZE

LEADING = 1.4 * SIZE
APART = 10.0 * MM
NOTE_EMS = (WIDTH - 6.0 * MM) / SIZE
NO_DEVICE = N_("No device is there to be wired.")
NOT_LOOKED = N_("Which devices are there is not known.")
MOST_LINES = 40
"""Lines under one picture; the page for print has all."""


def wiring_sheet(found: Hookup, reader: Reader, *, tag: str) -> Drawing:
    """All devices of an opening, one under the other, with what to mind at each."""
    groups: list[Group] = []
    top = 0.0
    for each in found.wiring:
        groups += _whole(each, reader, top)
        top = min(box_of(group).bottom for group in groups) - APART
    if not groups:
        groups = [_text(render(Sentence(NO_DEVICE if found.looked else NOT_LOOKED), reader), 0.0, -SIZE)]
    title = render(Sentence(N_("Wiring of {tag}"), {"tag": tag[:60]}), reader)
    described = " ".join(in_words_of(each, reader) for each in found.wiring) or title
    return Drawing(title=title, described=plain(described), parts=tuple(groups), metres_per_mm=MM)


def wiring_drawing(found: Wiring, reader: Reader) -> Drawing:
    """One device from the operator to its far end, without what is said of it."""
    return Drawing(
        title=render(found.title, reader),
        described=plain(in_words_of(found, reader)),
        parts=picture(found, reader, 0.0),
        metres_per_mm=MM,
    )


def in_words_of(found: Wiring, reader: Reader) -> str:
    """The wiring of a device for somebody who cannot see the drawing: every point, and what leads to the next."""
    said = [f"{render(found.title, reader)}:"]
    for at, point in enumerate(found.points):
        words = ", ".join(render(each, reader) for each in (point.title, *point.notes))
        names = " / ".join(each or "?" for each in point.terminals)
        said.append(f"{words} ({names});" if any(point.terminals) else f"{words};")
        if at < len(found.runs):
            said.append(f"{render(found.runs[at].words, reader)};")
    return " ".join(said).rstrip(";") + "."


def _whole(found: Wiring, reader: Reader, top: float) -> Iterator[Group]:
    """A heading, the picture, its numbers, what to mind and what is not known."""
    heading = cut(plain(render(found.title, reader)), WIDTH / (SIZE * 1.3), bold=True)
    yield _text(heading, 0.0, top - SIZE * 1.3, bold=True)
    y = top - SIZE * 3.0
    if found.way != "not_joinable":
        drawn = picture(found, reader, y)
        yield from drawn
        y = min(box_of(each).bottom for each in drawn) - SIZE
        for at, run in enumerate(found.runs, 1):
            words = wrapped(plain(render(run.words, reader)), NOTE_EMS)
            yield _note(words, y - SIZE, str(at))
            y -= LEADING * len(words)
    left = MOST_LINES
    for sentences, mark in ((found.remarks, ""), (found.questions, "?")):
        for each in sentences:
            lines = wrapped(plain(render(each, reader)), NOTE_EMS)[:left]
            left -= len(lines)
            if lines:
                yield _note(lines, y - SIZE, mark)
            y -= LEADING * len(lines)


def _text(words: str, x: float, y: float, *, bold: bool = False) -> Group:
    size = SIZE * 1.3 if bold else SIZE
    return Group(name="", role="note", parts=(Text(x=x, y=y, words=words, size=size, bold=bold),))


def _note(lines: tuple[str, ...], y: float, mark: str) -> Group:
    """A sentence under the picture, after a dash, the number of a run, or the mark of a question."""
    sign: tuple[Shape, ...] = (Text(x=0.0, y=y, words="–", size=SIZE),)
    if mark:
        radius = SIZE * 0.62
        ring = Circle(x=radius, y=y + SIZE * 0.36, radius=radius)
        sign = (ring, Text(x=radius, y=y, words=mark, size=SIZE * 0.9, anchor="middle", bold=True))
    said = tuple(Text(x=5.0 * MM, y=y - at * LEADING, words=line, size=SIZE) for at, line in enumerate(lines))
    return Group(name="", role="unknown" if mark == "?" else "note", parts=(*sign, *said))
