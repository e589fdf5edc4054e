"""Drawings as data: shapes, and the canvas they go to."""

from sillwright.drawing.canvas import Canvas, Recorder, draw, record
from sillwright.drawing.shapes import (
    Box,
    Circle,
    Dimension,
    Drawing,
    Group,
    Line,
    Polyline,
    Rect,
    Shape,
    Text,
)

__all__ = [
    "Box",
    "Canvas",
    "Circle",
    "Dimension",
    "Drawing",
    "Group",
    "Line",
    "Polyline",
    "Recorder",
    "Rect",
    "Shape",
    "Text",
    "draw",
    "record",
]
