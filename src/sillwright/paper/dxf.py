"""Drawings as DXF, for whoever draws on: full size in millimetres or inches, layers by role, true dimensions.

The same drawing gives the same bytes, in every process. What somebody typed stays text: the codes that drawing
programs read inside text are escaped. Fillings are left out; everything reads by its lines.
"""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from sillwright.base.words import Units
from sillwright.drawing.shapes import (
    HIDDEN,
    PENS,
    Circle,
    Dimension,
    Drawing,
    Group,
    Line,
    Point,
    Polyline,
    Rect,
    Shape,
    Text,
    dimension_parts,
)
from sillwright.paper.legible import legible

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

Version = Literal["R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]
PER_METRE: dict[Units, float] = {"us": 1 / 0.0254, "metric": 1000.0}
INSUNITS: dict[Units, int] = {"us": 1, "metric": 4}
"""What a drawing program reads as inches and millimetres."""
CAPITALS = 0.714
"""Height of capitals to the em by which our sizes are given; DXF measures letters by their capitals."""
TEXT_LAYER = "text"
HIDDEN_LINE, DASHED_LINE = "SILLWRIGHT_HIDDEN", "SILLWRIGHT_UNKNOWN"
FONT = "arial.ttf"  # a name that every drawing program knows or replaces
_CODES = re.compile(r"%(?=%)|(?<=%)%|\^|\\(?=[UuMm]\+)")
_DIMENSION_CODES = re.compile(r"%(?=%)|(?<=%)%|[\\{}^]|<(?=>)")


def drawing_as_dxf(
    drawing: Drawing, units: Units, *, layers: Mapping[str, str] | None = None, version: Version = "R2010"
) -> bytes:
    """A drawing as a DXF file, full size, in inches for ``us`` and millimetres for ``metric``.

    A shape lies on the layer that ``layers`` gives for the name of its group, else on the layer of its role; words
    lie on a layer of their own. Lengths are those of the drawing, whatever its scale on paper.
    """
    import ezdxf  # only loaded where a drawing file is made

    ezdxf.options.write_fixed_meta_data_for_testing = True  # no clock and no chance in the file
    document = ezdxf.new(version)
    document.header["$INSUNITS"] = INSUNITS[units]
    document.header["$MEASUREMENT"] = 0 if units == "us" else 1
    writer = _Writer(document=document, factor=PER_METRE[units], layers=dict(layers or {}))
    writer.prepare(drawing)
    for group in drawing.parts:
        writer.group(group, "")
    for name in sorted(document.entitydb.dxf_types_in_use()):  # else in the order of a set
        document.classes.add_class(name)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode(document.output_encoding, errors="dxfreplace")


def one_line(words: str) -> str:
    """Words as a one-line text of a DXF file shows them, letter for letter.

    >>> one_line("50%%d"), one_line("a^J"), one_line("100 %")
    ('50%%%%%%d', 'a^ J', '100 %')
    """
    return _CODES.sub(lambda found: {"%": "%%%", "^": "^ ", "\\": r"\U+005C"}[found[0]], legible(words))


def in_dimension(words: str) -> str:
    r"""Words as the text of a dimension shows them; nothing where there are none.

    >>> in_dimension(r"{\H5;x} <>")
    '\\{\\\\H5;x\\} < >'
    """
    signs = {"%": "%%%", "^": "^ ", "<": "< "}
    return _DIMENSION_CODES.sub(lambda found: signs.get(found[0], "\\" + found[0]), legible(words)) or " "


@dataclass
class _Writer:
    """Puts shapes into a document, group by group."""

    document: Document
    factor: float
    layers: dict[str, str]

    def prepare(self, drawing: Drawing) -> None:
        """Line types, the style of letters, and a layer for each role."""
        paper = drawing.metres_per_mm * self.factor
        for name, dashes in ((HIDDEN_LINE, HIDDEN), (DASHED_LINE, PENS["unknown"].dash)):
            long, gap = (each * paper for each in dashes)
            self.document.linetypes.add(name, pattern=[long + gap, long, -gap])
        self.document.styles.add("SILLWRIGHT", font=FONT)
        self.document.dimstyles.duplicate_entry("STANDARD", "SILLWRIGHT")
        self._layer(TEXT_LAYER, 18)
        for role, pen in PENS.items():
            self._layer(role, round(pen.weight * 100), DASHED_LINE if pen.dash else "CONTINUOUS")

    def _layer(self, name: str, weight: int, line: str = "CONTINUOUS") -> None:
        if not self.document.layers.has_entry(name):
            self.document.layers.add(name, lineweight=weight, linetype=line)

    def group(self, group: Group, above: str) -> None:
        """The shapes of a group, on its layer; a group without one of its own lies on that of the group above."""
        layer = self.layers.get(group.name) or above or group.role
        pen = PENS[group.role]
        self._layer(layer, round(pen.weight * 100), DASHED_LINE if pen.dash else "CONTINUOUS")
        for shape in group.parts:
            if isinstance(shape, Group):
                self.group(shape, self.layers.get(group.name, above))
            else:
                self.shape(shape, layer, self.document.modelspace())

    def shape(self, shape: Shape, layer: str, space: Any) -> None:
        """One shape, into the drawing or into the block of a dimension."""
        hidden = {"linetype": HIDDEN_LINE} if getattr(shape, "hidden", False) else {}
        look = {"layer": layer, **hidden}
        match shape:
            case Line():
                space.add_line(self._at(shape.start), self._at(shape.end), dxfattribs=look)
            case Polyline() if len(shape.points) > 1:
                points = [self._at(each) for each in shape.points]
                space.add_lwpolyline(points, close=shape.closed, dxfattribs=look)
            case Rect() if shape.fill != "blank":
                right, top = shape.x + shape.width, shape.y + shape.height
                corners = ((shape.x, shape.y), (right, shape.y), (right, top), (shape.x, top))
                space.add_lwpolyline([self._at(each) for each in corners], close=True, dxfattribs=look)
            case Circle() if shape.radius > 0:
                space.add_circle(self._at((shape.x, shape.y)), shape.radius * self.factor, dxfattribs=look)
            case Text():
                self._text(shape, space)
            case Dimension():
                self._dimension(shape, layer)

    def _at(self, point: Point) -> Point:
        return point[0] * self.factor, point[1] * self.factor

    def _text(self, text: Text, space: Any) -> None:
        from ezdxf.enums import TextEntityAlignment as Align

        said = one_line(text.words)
        if not said.strip() or text.size <= 0:
            return
        look = {"layer": TEXT_LAYER, "style": "SILLWRIGHT", "rotation": 90.0 if text.turned else 0.0}
        written = space.add_text(said, height=text.size * CAPITALS * self.factor, dxfattribs=look)
        align = {"start": Align.LEFT, "middle": Align.CENTER, "end": Align.RIGHT}[text.anchor]
        written.set_placement(self._at((text.x, text.y)), align=align)

    def _dimension(self, dimension: Dimension, layer: str) -> None:
        """A true dimension, with its picture as every other paper draws it."""
        parts = dimension_parts(dimension)
        if dimension.start == dimension.end:
            for part in parts:
                self.shape(part, layer, self.document.modelspace())
            return
        *lines, label = parts
        base = next(part for part in lines if isinstance(part, Line)).end
        made = (
            self.document.modelspace()
            .add_linear_dim(
                base=self._at(base),
                p1=self._at(dimension.start),
                p2=self._at(dimension.end),
                angle=90 if dimension.upright else 0,
                text=in_dimension(dimension.label),
                dimstyle="SILLWRIGHT",
                dxfattribs={"layer": layer},
            )
            .dimension
        )
        block = self.document.blocks.new_anonymous_block(type_char="D")
        for part in (*lines, label):
            self.shape(part, layer, block)
        made.dxf.geometry = block.name
        made.dxf.actual_measurement = made.get_measurement()
        if isinstance(label, Text):
            made.dxf.text_midpoint = self._at((label.x, label.y))
