"""Where to look: the opening's own elevation, once a page, and a window on it for each question.

What is not drawn yet – a box whose place nobody knows – is shown at an example door of the same kind.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache, cached_property

from sillwright.base.words import Reader
from sillwright.drawing.shapes import Box, Drawing, Group, around, box_of
from sillwright.paper.elevation import elevation
from sillwright.paper.svg import MARGIN, svg
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.model import Opening

LEAST = (54.0, 27.0)  # millimetres of paper that a window shows at least; it is twice as wide as high
AROUND = 6.0


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A drawing as text of a page, and where its shapes are on it, in millimetres of paper."""

    name: str
    svg: str
    places: Mapping[str, Box]


@dataclass(frozen=True, kw_only=True)
class Window:
    """A part of a picture with one place framed."""

    picture: str  # whose shapes are shown
    place: str
    view: str
    x: str
    y: str
    width: str
    height: str

    @property
    def example(self) -> bool:
        """Whether it shows an example door, not this one."""
        return self.picture != "map"

    def as_json(self) -> list[str]:
        """What a page needs to look at another place of the same drawing."""
        return [self.view, self.x, self.y, self.width, self.height]


@dataclass
class Pictures:
    """The pictures of one page."""

    opening: Opening
    reader: Reader

    @cached_property
    def map(self) -> Picture:
        """The opening itself."""
        return _picture("map", elevation(self.opening, self.reader))

    @property
    def example(self) -> Picture:
        """An example door of the same kind, with everything a question can ask for."""
        return example_of(self.opening.door.kind.value or "sectional", self.reader)

    def window(self, places: Sequence[str], key: str = "", number: int = 0, kind: str = "") -> Window | None:
        """The window on the first place that is drawn; ``*`` in it stands for the member with this key and number.

        ``kind`` is that of the device: an example door shows one of each kind.
        """
        for place in places:
            named = place.replace("*", key if place.startswith("protection") else str(number))
            if named in self.map.places:
                return window(self.map, named)
            named = place.replace("*", kind or "sensing_edge" if place.startswith("protection") else "1")
            if named in self.example.places:
                return window(self.example, named)
        return None

    def windows(self) -> dict[str, list[str]]:
        """Every place of the opening itself, for a page that is open while the drawing changes."""
        return {place: window(self.map, place).as_json() for place in self.map.places}


def window(picture: Picture, place: str) -> Window:
    """The window on a place of a picture."""
    box = picture.places[place]
    wide = max(LEAST[0], box.width + 2 * AROUND, 2 * (box.height + 2 * AROUND))
    high = max(LEAST[1], wide / 2)
    left, top = box.x - wide / 2, box.y - high / 2
    framed = [box.left - 1.2, box.bottom - 1.2, box.width + 2.4, box.height + 2.4]
    x, y, width, height = (f"{number:.1f}" for number in framed)
    view = f"{left:.1f} {top:.1f} {wide:.1f} {high:.1f}"
    return Window(picture=picture.name, place=place, view=view, x=x, y=y, width=width, height=height)


def _picture(name: str, drawing: Drawing) -> Picture:
    shapes: list[Group] = []
    for group in drawing.parts:
        if group.name == "viewpoint":  # what follows stands in words under the picture
            break
        if not group.name.startswith("note."):
            shapes.append(group)
    whole = Group(name="picture", role="structure", parts=tuple(shapes))
    alone = Drawing(
        title=drawing.title, described=drawing.described, parts=(whole,), metres_per_mm=drawing.metres_per_mm
    )
    box, unit = alone.box, drawing.metres_per_mm
    found: dict[str, Box] = {}
    for group in shapes:
        if group.name:
            here = box_of(group)
            left, right = ((x - box.left) / unit + MARGIN for x in (here.left, here.right))
            top, bottom = ((box.top - y) / unit + MARGIN for y in (here.top, here.bottom))
            placed = Box(left, top, right, bottom)  # on paper y grows downwards: bottom of the box is its top line
            found[group.name] = around([found[group.name], placed]) if group.name in found else placed
    return Picture(name=name, svg=svg(alone, prefix=f"{name}-"), places=found)


_GATE = {
    "door.leaf_length": "16 ft",
    "door.leaf_height": "6 ft",
    "door.underside": "3 in",
    "door.opens": "left",
    "operator.kind": "chain",
    "operator.side": "left",
    "zones": [{"place": "underside"}],
}
_DOOR = {
    "door.clear_width": "10 ft",
    "door.clear_height": "10 ft",
    "door.panel_width": "10 ft 3 in",
    "door.leaf_width": "10 ft 3 in",
    "operator.kind": "jackshaft",
    "operator.side": "right",
    "lead.end": "right",
    "box.side": "right",
    "box.height": "5 ft",
    "box.offset": "1 ft",
    "cord.retracted": "2 ft",
    "stations": [{"place": "wall inside", "height": "4 ft 6 in"}],
}
_DEVICES = [
    {"id": "sensing_edge", "kind": "sensing_edge"},
    {"id": "air_edge", "kind": "air_edge"},
    {"id": "photo_eye", "kind": "photo_eye", "height": "5 in"},
    {"id": "light_curtain", "kind": "light_curtain", "height": "5 ft"},
    {"id": "presence", "kind": "presence", "height": "9 ft"},
    {"id": "motion", "kind": "motion", "height": "9 ft"},
    {"id": "loop", "kind": "loop"},
    {"id": "inherent", "kind": "inherent"},
]


@cache
def example_of(kind: str, reader: Reader) -> Picture:
    """An invented door or gate of a kind, with one of everything."""
    gate = kind in {"slide_gate", "swing_gate"}
    sizes = {**_GATE, "door.opens": "in" if kind == "swing_gate" else "left"} if gate else _DOOR
    survey = survey_from_facts({"door.kind": kind, **sizes, "protection": _DEVICES})
    return _picture("example", elevation(survey.openings[0], reader))
