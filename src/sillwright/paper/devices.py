"""The protective devices on an elevation. One whose place is not known is asked about, never placed by guess."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sillwright.base.words import N_, translate
from sillwright.drawing.shapes import Circle, Fill, Group, Line, Point, Polyline, Rect, Shape, Text
from sillwright.paper.frame import Frame, drawn
from sillwright.paper.sheet import Sheet
from sillwright.paper.terms import BROKEN, DEVICE, STATE
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening

MOST = 24
"""Devices that are drawn one by one; a longer list is left to the tables."""


@dataclass(frozen=True, kw_only=True)
class Placed:
    """A device as it is drawn: its shapes and the point that its callout speaks of."""

    parts: tuple[Shape, ...]
    target: Point


def draw_devices(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    """Every protective device of an opening, by its kind."""
    lane = 0
    for index, device in enumerate(opening.protection):
        name = f"protection.{device.id.value or index + 1}"
        said = in_words(sheet, device)
        found = _PLACES[device.kind.value or ""](sheet, frame, device) if index < MOST else None
        if found and device.kind.value in {"sensing_edge", "air_edge"} and opening.lead.end.value != "left":
            found = Placed(parts=found.parts, target=(frame.leaf.left + frame.leaf.width * 0.25, found.target[1]))
        if found is None:
            sheet.ask(name, _unplaced(sheet, frame, device, said))
            continue
        broken = device.state.value in BROKEN
        crossed = _cross(sheet, found.target) if broken else ()
        sheet.add(name, "device", *found.parts, *crossed, title=said)
        sheet.note(name, found.target, said)
        if device.kind.value == "photo_eye" and lane < eye_lanes(opening):
            side = -1.0 if opening.box.side.value == "right" else 1.0
            _eye_height(sheet, frame, device, side * (5.0 + 4.5 * lane))
            lane += 1


def eye_lanes(opening: Opening) -> int:
    """How many heights of photo-eyes are measured beside the opening."""
    eyes = (each for each in opening.protection if each.kind.value == "photo_eye")
    return min(2, sum(1 for each in eyes if drawn(each.height) is not None))


def in_words(sheet: Sheet, device: Protection) -> str:
    """What a device is, which, how long or high, and that it does not work where that is known."""
    kind = translate(DEVICE.get(device.kind.value or "", N_("device, kind not known")), sheet.reader)
    words = sheet.say(N_("{kind} {id}"), kind=kind, id=device.id.value or "").strip()
    if device.height.value is not None:
        words = sheet.say(N_("{device}, {height} above the floor"), device=words, height=sheet.value(device.height))
    elif device.length.value is not None:
        words = sheet.say(N_("{device}, {length} long"), device=words, length=sheet.value(device.length))
    state = STATE.get(device.state.value or "")
    return f"{words}: {translate(state, sheet.reader)}" if state else words


def _unplaced(sheet: Sheet, frame: Frame, device: Protection, said: str) -> str:
    if device.kind.value in {"photo_eye", "light_curtain", "presence", "motion"} and drawn(device.height) is None:
        return sheet.say(N_("{device}; height not known"), device=said)
    if frame.gate and device.carries.value:
        end = N_("near end") if device.carries.value == "near" else N_("far end")
        return sheet.say(N_("{device}; carried at the {end}"), device=said, end=translate(end, sheet.reader))
    return sheet.say(N_("{device}; place not known"), device=said)


def _cross(sheet: Sheet, at: Point) -> tuple[Shape, ...]:
    x, y, half = *at, sheet.mm(1.8)
    return (
        Line(start=(x - half, y - half), end=(x + half, y + half)),
        Line(start=(x - half, y + half), end=(x + half, y - half)),
    )


def _eye_height(sheet: Sheet, frame: Frame, device: Protection, lane: float) -> None:
    height = drawn(device.height)
    if height is None:
        return
    x = frame.left if lane < 0 else frame.right
    name = f"height.{device.id.value or 'eye'}"
    sheet.measure((x, 0.0), (x, height), lane, sheet.value(device.height), name=name)


def _edge(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    if frame.gate:
        return None
    leaf, thick = frame.leaf, sheet.mm(1.4)
    fill: Fill = "none" if device.state.value in {"missing", "torn_off"} else "ink"
    bar = Rect(x=leaf.left, y=leaf.bottom - thick, width=leaf.width, height=thick, fill=fill)
    return Placed(parts=(bar,), target=(leaf.left + leaf.width * 0.7, leaf.bottom - thick / 2))


def _eye(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    height = drawn(device.height)
    if height is None or height > frame.height * 1.3:
        return None
    radius = sheet.mm(1.1)
    left, right = (Circle(x=x, y=height, radius=radius, fill="paper") for x in (0.0, frame.width))
    beam = Line(start=(radius, height), end=(frame.width - radius, height), hidden=True)
    return Placed(parts=(_thin(beam), left, right), target=(frame.width + radius, height))


def _curtain(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    height = drawn(device.height)
    if height is None:
        return None
    top = min(height, frame.height)
    wide = sheet.mm(1.4)
    posts = [Rect(x=x - wide / 2, y=0.0, width=wide, height=top, fill="paper") for x in (0.0, frame.width)]
    rows = max(2, min(12, int(top / sheet.mm(3))))
    beams = [
        Line(start=(wide / 2, top * n / rows), end=(frame.width - wide / 2, top * n / rows), hidden=True)
        for n in range(1, rows)
    ]
    return Placed(parts=(*posts, _thin(*beams)), target=(frame.width, top * 0.8))


def _sensor(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    height = drawn(device.height)
    if height is None or height > frame.height * 1.5:
        return None
    x, wide = frame.width / 2, sheet.mm(5)
    body = Rect(x=x - wide / 2, y=height - sheet.mm(1), width=wide, height=sheet.mm(2), fill="paper")
    foot = min(height, frame.width) * 0.35
    rays = [
        Line(start=(x, height - sheet.mm(1)), end=(x + way * foot, max(height - sheet.mm(14), 0.0)), hidden=True)
        for way in (-1.0, 1.0)
    ]
    return Placed(parts=(body, _thin(*rays)), target=(x, height))


def _thin(*lines: Shape) -> Group:
    """Lines of sight: thinner than the device they come from."""
    return Group(name="", role="note", parts=lines)


def _loop(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    x, wide, y, deep = frame.width / 2, frame.width * 0.5, -sheet.mm(1.8), sheet.mm(1.4)
    left, right = x - wide / 2, x + wide / 2
    coil = Polyline(points=((left, y), (left, y - deep), (right, y - deep), (right, y), (left, y)), hidden=True)
    return Placed(parts=(coil,), target=(right - wide * 0.1, y - deep))


def _inherent(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    place = next((each for each in sheet.groups if each.name == "operator" and each.role == "device"), None)
    box = next((part for part in place.parts if isinstance(part, Rect)), None) if place else None
    if box is None:
        return None
    x, y = box.x + box.width / 2, box.y + box.height / 2
    letter = Text(x=x, y=y - sheet.size * 0.36, words="F", size=sheet.size, anchor="middle", bold=True)
    return Placed(parts=(letter,), target=(x, box.y))


def _nowhere(sheet: Sheet, frame: Frame, device: Protection) -> Placed | None:
    return None


_PLACES: dict[str, Callable[[Sheet, Frame, Protection], Placed | None]] = {
    "sensing_edge": _edge,
    "air_edge": _edge,
    "photo_eye": _eye,
    "light_curtain": _curtain,
    "presence": _sensor,
    "motion": _sensor,
    "loop": _loop,
    "inherent": _inherent,
    "guard": _nowhere,
    "": _nowhere,
}
