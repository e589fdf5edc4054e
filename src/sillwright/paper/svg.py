"""Drawings as SVG: presentation attributes only, no style and no script, every text escaped, text as real text.

The same bytes stand alone in a browser and go into the PDF.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from xml.sax.saxutils import escape as escape_text  # writes only, reads nothing

from sillwright.drawing.canvas import Stroke, draw
from sillwright.drawing.shapes import HIDDEN, PENS, Circle, Drawing, Fill, Group, Point, Role, Text
from sillwright.paper.legible import legible

FONTS = "Noto Sans, DejaVu Sans, sans-serif"
INK, PAPER = "#000", "#fff"
FILLS: dict[Fill, str] = {"none": "none", "paper": PAPER, "shade": "#d4d4d4", "ink": INK, "blank": PAPER}
MARGIN = 1.5
_NOT_IN_ID = re.compile(r"[^A-Za-z0-9.-]")


def svg(drawing: Drawing, *, prefix: str = "") -> str:
    """A drawing as an SVG document in millimetres; ``prefix`` keeps ids apart where several share a page."""
    box = drawing.box
    writer = _Writer(prefix=prefix, unit=drawing.metres_per_mm, left=box.left, top=box.top)
    draw(drawing, writer)
    width, height = box.width / drawing.metres_per_mm + 2 * MARGIN, box.height / drawing.metres_per_mm + 2 * MARGIN
    title, described = f"{prefix}title", f"{prefix}described"
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm"'
        f' viewBox="0 0 {_n(width)} {_n(height)}" role="img" aria-labelledby="{title} {described}"'
        f' font-family="{FONTS}" fill="none" stroke="{INK}" stroke-linecap="round" stroke-linejoin="round">'
    )
    words = f'<title id="{title}">{escape(drawing.title)}</title>'
    alternative = f'<desc id="{described}">{escape(drawing.described)}</desc>'
    return "\n".join((head, words, alternative, *writer.lines, "</svg>", ""))


def escape(words: str) -> str:
    """Words as text of an XML document.

    >>> escape('<script> & "x"')
    '&lt;script&gt; &amp; &quot;x&quot;'
    """
    return escape_text(legible(words), {'"': "&quot;", "'": "&#39;"})


def _n(number: float) -> str:
    text = f"{number:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text


@dataclass
class _Writer:
    """The canvas that writes SVG lines."""

    prefix: str
    unit: float
    left: float
    top: float
    lines: list[str] = field(default_factory=list)
    ids: set[str] = field(default_factory=set)

    def open(self, group: Group) -> None:
        pen = PENS[group.role]
        dash = f' stroke-dasharray="{_dashes(pen.dash)}"' if pen.dash else ' stroke-dasharray="none"'
        named = f' id="{self._id(group.name)}" data-place="{escape(group.name)}"' if group.name else ""
        self.lines.append(f'<g{named} class="{group.role}" stroke-width="{_n(pen.weight)}"{dash}>')
        if group.title:
            self.lines.append(f"<title>{escape(group.title)}</title>")

    def close(self) -> None:
        self.lines.append("</g>")

    def path(self, points: tuple[Point, ...], closed: bool, stroke: Stroke) -> None:
        shown = " ".join(f"{self._x(x)},{self._y(y)}" for x, y in points)
        dash = f' stroke-dasharray="{_dashes(HIDDEN)}"' if stroke.hidden else ""
        fill = f' fill="{FILLS[stroke.fill]}"' if stroke.fill != "none" else ""
        fill += ' stroke="none"' if stroke.fill == "blank" else ""
        self.lines.append(f'<{"polygon" if closed else "polyline"} points="{shown}"{fill}{dash}/>')

    def circle(self, circle: Circle, stroke: Stroke) -> None:
        fill = f' fill="{FILLS[circle.fill]}"' if circle.fill != "none" else ""
        radius = _n(circle.radius / self.unit)
        self.lines.append(f'<circle cx="{self._x(circle.x)}" cy="{self._y(circle.y)}" r="{radius}"{fill}/>')

    def text(self, text: Text, role: Role) -> None:
        x, y = self._x(text.x), self._y(text.y)
        anchor = f' text-anchor="{text.anchor}"' if text.anchor != "start" else ""
        bold = ' font-weight="700"' if text.bold else ""
        turn = f' transform="rotate(-90 {x} {y})"' if text.turned else ""
        size, ink = _n(text.size / self.unit), INK if text.ink else PAPER
        marks = f'x="{x}" y="{y}" font-size="{size}" fill="{ink}" stroke="none"{anchor}{bold}{turn}'
        self.lines.append(f"<text {marks}>{escape(text.words)}</text>")

    def _x(self, x: float) -> str:
        return _n((x - self.left) / self.unit + MARGIN)

    def _y(self, y: float) -> str:
        return _n((self.top - y) / self.unit + MARGIN)

    def _id(self, name: str) -> str:
        wanted = self.prefix + _NOT_IN_ID.sub("_", name)
        found, count = wanted, 1
        while found in self.ids:
            count += 1
            found = f"{wanted}_{count}"
        self.ids.add(found)
        return found


def _dashes(lengths: tuple[float, ...]) -> str:
    return " ".join(_n(each) for each in lengths)
