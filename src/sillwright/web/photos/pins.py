"""The drawing of an opening with numbered pins where its photos were taken.

A pin is kept as shares of a frame around the opening, or the leaf of a gate, three times as wide and twice as high:
so it stays where it was put when a label makes the drawing wider, and means the same in feet and in metres.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from sillwright.base.words import Reader
from sillwright.drawing.shapes import Box
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.web.photos.listed import Listed
from sillwright.web.taking.pictures import Picture, Pictures

RADIUS = 3.4  # millimetres of paper


@dataclass(frozen=True, kw_only=True)
class Pin:
    """A numbered pin, in millimetres of paper."""

    number: int
    x: float
    y: float
    id: str


@dataclass(frozen=True, kw_only=True)
class PinMap:
    """The drawing as text of a page, and its pins."""

    svg: str
    frame: Box
    pins: tuple[Pin, ...]

    @property
    def drawn(self) -> str:
        """The drawing with its pins as one picture."""
        return self.svg.rstrip().removesuffix("</svg>") + "".join(map(_drawn, self.pins)) + "</svg>"

    @property
    def framed(self) -> str:
        """The frame that shares are of: left, top, width, height."""
        return f"{self.frame.left:.3f} {self.frame.bottom:.3f} {self.frame.width:.3f} {self.frame.height:.3f}"


def pin_map(about: OpeningFacts, reader: Reader, photos: Iterable[Listed]) -> PinMap:
    """The drawing with a pin for every photo that has a place on it."""
    picture = Pictures(about, reader).map
    frame = frame_of(picture)
    return PinMap(svg=picture.svg, frame=frame, pins=tuple(_pins(picture, frame, photos)))


def frame_of(picture: Picture) -> Box:
    """The frame that shares are of."""
    around = picture.places.get("opening") or picture.places["leaf"]
    wide, high = around.width, around.height / 2
    return Box(around.left - wide, around.bottom - high, around.right + wide, around.top + high)


def _pins(picture: Picture, frame: Box, photos: Iterable[Listed]) -> Iterator[Pin]:
    """Pins that somebody put; of the other photos the newest of each shot, at the place of its shot."""
    shown = list(photos)
    newest = {each.photo.shot: each.number for each in shown if each.photo.copy_of_id is None}
    at_place: Counter[str] = Counter()
    for each in shown:
        photo = each.photo
        if photo.x is not None and photo.y is not None:
            x, y = frame.left + photo.x * frame.width, frame.bottom + photo.y * frame.height
        elif photo.place in picture.places and newest.get(photo.shot) == each.number:
            box = picture.places[photo.place]
            x, y = box.x + at_place[photo.place] * 2 * RADIUS, box.y
            at_place[photo.place] += 1
        else:
            continue
        yield Pin(number=each.number, x=x, y=y, id=str(photo.pk))


def _drawn(pin: Pin) -> str:
    return (
        f'<g class="pin" data-pin="{pin.id}"><circle cx="{pin.x:.2f}" cy="{pin.y:.2f}" r="{RADIUS}" fill="#fff"'
        f' stroke="#000" stroke-width=".6"/><text x="{pin.x:.2f}" y="{pin.y + 1.3:.2f}" font-size="3.8"'
        f' font-weight="700" fill="#000" stroke="none" text-anchor="middle">{pin.number}</text></g>'
    )
