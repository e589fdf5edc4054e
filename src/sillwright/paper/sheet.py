"""The sheet an elevation is laid out on: a scale, the reader's words, shapes by name, callouts in the margins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from sillwright.base.fact import Fact, Origin
from sillwright.base.words import N_, Amount, Reader, Sentence, in_words, render, translate
from sillwright.drawing.lettering import wrapped
from sillwright.drawing.shapes import (
    Box,
    Circle,
    Dimension,
    Drawing,
    Group,
    Line,
    Point,
    Role,
    Shape,
    Text,
    around,
    box_of,
)
from sillwright.paper.callouts import GAP, LETTERS, Callout, placed, plain

WIDTH = 176.0
LEADING = 1.35  # of lines of one note
NOTE_EMS = (WIDTH - 12.0) / LETTERS
"""The width of a drawing in millimetres of paper; it fits Letter and A4."""
SCALES = (5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750, 1000, 1500, 2000)
MOST_NOTES = 14
UNMEASURED: dict[Origin | None, str] = {"told": N_("told"), "support": N_("support"), "assumed": N_("assumed")}
"""Origins that a length is shown with: nobody measured it."""


def scale_for(width: float, height: float, coarser: int = 0) -> float:
    """The first usual scale at which a picture of so many metres fits its frame: metres to a millimetre.

    ``coarser`` takes a later one, for a picture with much beside it.

    >>> scale_for(3.2, 4.3)
    0.06
    """
    fits = [each for each in SCALES if width * 1000 / each <= 66 and height * 1000 / each <= 75]
    return (*fits, SCALES[-1])[min(coarser, len(fits))] / 1000


@dataclass
class Sheet:
    """Collects what is drawn. ``flags`` are the numbers of the findings at each place."""

    reader: Reader
    metres_per_mm: float
    flags: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    to_scale: bool = True
    groups: list[Group] = field(default_factory=list)
    measures: list[Group] = field(default_factory=list)
    notes: list[Callout] = field(default_factory=list)
    asked: list[tuple[str, str]] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    def mm(self, millimetres: float) -> float:
        """Metres in the drawing for so many millimetres of paper."""
        return millimetres * self.metres_per_mm

    @property
    def size(self) -> float:
        """The height of letters."""
        return self.mm(LETTERS)

    def say(self, template: str, **values: Any) -> str:
        """A sentence in the reader's language and units."""
        return render(Sentence(template, values), self.reader)

    def length(self, metres: float) -> str:
        """A length in the reader's units."""
        return in_words(Amount(metres, "m"), self.reader).replace(" ", "\u00a0")

    def add(self, name: str, role: Role, *parts: Shape, title: str = "") -> None:
        """Draw a named shape."""
        self.groups.append(Group(name=name, role=role, parts=parts, title=plain(title)))

    def note(self, name: str, target: Point, words: str, *, side: str = "", question: bool = False) -> None:
        """Write beside the drawing what a shape is, with a line to it."""
        self.notes.append(Callout(name=name, target=target, words=words, side=side, question=question))

    def ask(self, name: str, words: str) -> None:
        """Say of something that its place is not known; it is listed under the drawing, never placed by guess."""
        self.asked.append((name, plain(words)))

    def measure(self, start: Point, end: Point, offset: float, label: str, *, name: str = "") -> None:
        """A dimension; ``offset`` in millimetres of paper. One that asks is drawn as a question."""
        role: Role = "unknown" if label.endswith("?") else "dimension"
        said = plain(label)
        shape = Dimension(start=start, end=end, offset=self.mm(offset), label=said, size=self.size)
        self.measures.append(Group(name=name, role=role, parts=(shape,)))

    def mark(self, x: float, y: float) -> Text:
        """The mark of a question."""
        return Text(x=x, y=y - self.size * 0.5, words="?", size=self.size * 1.4, anchor="middle", bold=True)

    def value(self, fact: Fact[float]) -> str:
        """A length as far as it is known: with a word where nobody measured it, a question mark where unknown."""
        if fact.standing == "two readings":
            both = [self.length(each) for each in fact.rivals if each is not None]
            return self.say(N_("{readings}: which?"), readings=f" {translate(N_('or'), self.reader)} ".join(both))
        if fact.value is None:
            return "?"
        shown = self.length(fact.value)
        if fact.origin in UNMEASURED:
            origin = translate(UNMEASURED[fact.origin], self.reader)
            return self.say(N_("{length} ({origin})"), length=shown, origin=origin)
        return shown

    def drawing(self, title: str, described: str) -> Drawing:
        """The finished drawing: picture, callouts, title above, remarks and questions below."""
        picture = around(box_of(each) for each in (*self.groups, *self.measures))
        shown, rest = self.notes[: 2 * MOST_NOTES], self.notes[2 * MOST_NOTES :]
        for each in rest:
            self.ask(each.name, each.words)
        margins = placed(shown, picture, self.metres_per_mm, self.flags)
        around_all = around([picture, *(box_of(each) for each in margins)])
        centre = picture.x
        whole = Box(centre - self.mm(WIDTH / 2), around_all.bottom, centre + self.mm(WIDTH / 2), around_all.top)
        return Drawing(
            title=title,
            described=plain(described),
            parts=(*self.groups, *margins, *reversed(self.measures), *self._above(whole), *self._below(whole)),
            metres_per_mm=self.metres_per_mm,
        )

    def _above(self, whole: Box) -> tuple[Group, ...]:
        y = whole.top + self.mm(5)
        words = translate(N_("Inside, looking out"), self.reader)
        line = Line(start=(whole.left, y - self.mm(1.8)), end=(whole.right, y - self.mm(1.8)))
        heading = Text(x=whole.x, y=y, words=words, size=self.size * 1.15, anchor="middle", bold=True)
        sides = (
            Text(x=whole.left, y=y, words=translate(N_("left"), self.reader), size=self.size),
            Text(x=whole.right, y=y, words=translate(N_("right"), self.reader), size=self.size, anchor="end"),
        )
        return (Group(name="viewpoint", role="note", parts=(line, heading, *sides)),)

    def _below(self, whole: Box) -> tuple[Group, ...]:
        y = whole.bottom - self.mm(GAP)
        found: list[Group] = []
        for name, words in self.asked[:MOST_NOTES]:
            y -= self.mm(LETTERS * 1.6)
            question, lines = self._question(name, words, whole.left, y)
            found.append(question)
            y -= self.mm(LETTERS * LEADING) * (lines - 1)
        for remark in (*self._left_out(), *self.remarks):
            y -= self.mm(LETTERS * 1.5)
            parts = self._lines(plain(remark), whole.left, y, self.size * 0.95)
            found.append(Group(name="", role="note", parts=parts))
            y -= self.mm(LETTERS * LEADING) * (len(parts) - 1)
        return tuple(found)

    def _lines(self, words: str, left: float, y: float, size: float) -> tuple[Text, ...]:
        """Words under the picture, no wider than the sheet, one text a line."""
        lines = wrapped(words, NOTE_EMS)
        step = self.mm(LETTERS * LEADING)
        return tuple(Text(x=left, y=y - at * step, words=line, size=size) for at, line in enumerate(lines))

    def _left_out(self) -> Sequence[str]:
        more = len(self.asked) - MOST_NOTES
        return (self.say(N_("and {count} more; see the tables"), count=more),) if more > 0 else ()

    def _question(self, name: str, words: str, left: float, y: float) -> tuple[Group, int]:
        radius = self.mm(LETTERS * 0.62)
        ring = Circle(x=left + radius, y=y + self.size * 0.36, radius=radius)
        sign = Text(x=left + radius, y=y, words="?", size=self.size, anchor="middle", bold=True)
        numbers = self.flags.get(name, ())
        told = self.say(N_("{words} – finding {numbers}"), words=words, numbers=numbers) if numbers else words
        lines = self._lines(told, left + self.mm(LETTERS * 1.8), y, self.size)
        return Group(name=name, role="unknown", parts=(ring, sign, *lines), title=words), len(lines)
