"""The elevation of an opening, inside, looking out: to scale, in metres, what is not known as questions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sillwright.base.finding import Finding
from sillwright.base.words import N_, Reader, Sentence, render, translate
from sillwright.drawing.lettering import width_of
from sillwright.drawing.shapes import Drawing
from sillwright.paper.body import draw_body
from sillwright.paper.devices import draw_devices, eye_lanes
from sillwright.paper.fittings import draw_box, draw_cord, draw_lead, draw_operator, draw_stations
from sillwright.paper.floor import draw_floor
from sillwright.paper.frame import Frame
from sillwright.paper.gate import draw_gate, draw_gate_operator, gate_frame
from sillwright.paper.leaf import draw_leaf, frame_of, leaf_width_fact
from sillwright.paper.sheet import SCALES, WIDTH, Sheet
from sillwright.paper.terms import LEAF
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import TakeOff


def elevation(
    opening: Opening, reader: Reader, findings: Sequence[Finding] = (), order: TakeOff | None = None
) -> Drawing:
    """The elevation of an opening in a reader's words and units.

    ``findings`` in the order in which they are numbered; each number stands on a flag beside its place. With the
    ``order`` the edge body stands under the leaf, with its length.
    """
    flags = flags_of(findings)
    for coarser in range(len(SCALES)):
        drawing = _at_scale(opening, reader, flags, coarser, order)
        if drawing.box.width <= (WIDTH + 1) * drawing.metres_per_mm:
            break
    return drawing


def _at_scale(
    opening: Opening, reader: Reader, flags: Mapping[str, tuple[int, ...]], coarser: int, order: TakeOff | None
) -> Drawing:
    if opening.door.is_gate:
        frame, scale, known = gate_frame(opening, coarser)
        sheet = Sheet(reader=reader, metres_per_mm=scale, flags=flags, to_scale=known)
        draw_floor(sheet, frame, opening)
        draw_gate(sheet, frame, opening)
        draw_gate_operator(sheet, frame, opening)
        draw_devices(sheet, frame, opening)
        _measure_gate(sheet, frame, opening)
    else:
        frame, scale = frame_of(opening, coarser)
        sheet = Sheet(reader=reader, metres_per_mm=scale, flags=flags)
        draw_floor(sheet, frame, opening)
        draw_leaf(sheet, frame, opening)
        draw_operator(sheet, frame, opening)
        draw_devices(sheet, frame, opening)
        if order is not None:
            draw_body(sheet, frame, order)
        draw_lead(sheet, frame, opening)
        draw_cord(sheet, frame, opening, draw_box(sheet, frame, opening))
        draw_stations(sheet, frame, opening)
        _measure_door(sheet, frame, opening)
    _remarks(sheet)
    return sheet.drawing(_title(opening, reader), _described(sheet, opening))


def flags_of(findings: Sequence[Finding]) -> Mapping[str, tuple[int, ...]]:
    """The numbers of the findings at each place, counted from 1.

    >>> from sillwright.base.words import Sentence
    >>> flags_of([Finding(id="a", level="act", text=Sentence("A"), place="box")])
    {'box': (1,)}
    """
    flags: dict[str, tuple[int, ...]] = {}
    for number, finding in enumerate(findings, start=1):
        if finding.place:
            flags[finding.place] = (*flags.get(finding.place, ()), number)
    return flags


def _measure_door(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    door = opening.door
    width, height = sheet.value(door.clear_width), sheet.value(door.clear_height)
    clear = sheet.say(N_("clear width {length}"), length=width)
    sheet.measure((0.0, 0.0), (frame.width, 0.0), -8.0, clear, name="clear_width")
    leaf = leaf_width_fact(opening)
    said = N_("panel width {length}") if frame.kind == "sectional" else N_("leaf width {length}")
    label = sheet.say(said, length=sheet.value(leaf))
    ends = (frame.leaf.left, 0.0), (frame.leaf.right, 0.0)
    sheet.measure(*ends, -14.0, label, name="leaf_width")
    side = 1.0 if opening.box.side.value == "left" else -1.0
    x = frame.right if side > 0 else frame.left
    label = _upright_label(sheet, N_("clear height {length}"), height, frame.height)
    lane = side * (6.0 + 4.5 * eye_lanes(opening))
    sheet.measure((x, 0.0), (x, frame.height), lane, label, name="clear_height")


def _upright_label(sheet: Sheet, template: str, value: str, height: float) -> str:
    """The label of a height: in words where they fit beside it, else the length alone."""
    label = sheet.say(template, length=value)
    return label if (width_of(label) + 1) * sheet.size <= height else value


def _measure_gate(sheet: Sheet, frame: Frame, opening: Opening) -> None:
    door, leaf = opening.door, frame.leaf
    long = door.leaf_length if door.leaf_length.standing != "not asked" else door.leaf_width
    label = sheet.say(N_("leaf length {length}"), length=sheet.value(long))
    sheet.measure((leaf.left, 0.0), (leaf.right, 0.0), -8.0, label, name="leaf_length")
    if door.clear_width.standing != "not asked":
        label = sheet.say(N_("clear width {length}"), length=sheet.value(door.clear_width))
        sheet.measure((0.0, 0.0), (frame.width, 0.0), -14.0, label, name="clear_width")
    right = opening.operator.side.value == "left"
    x = max(leaf.right, frame.right) if right else min(leaf.left, frame.left)
    label = _upright_label(sheet, N_("leaf height {length}"), sheet.value(door.leaf_height), leaf.height)
    lane = (7.0 + 4.5 * eye_lanes(opening)) * (1.0 if right else -1.0)
    sheet.measure((x, leaf.bottom), (x, leaf.top), lane, label, name="leaf_height")
    gap = sheet.value(door.underside)
    sheet.remarks.append(sheet.say(N_("Gap under the leaf: {gap}"), gap=gap))


def _remarks(sheet: Sheet) -> None:
    if not sheet.to_scale:
        sheet.remarks.append(translate(N_("Not to scale: the size of the leaf is not known."), sheet.reader))
        return
    ratio = round(sheet.metres_per_mm * 1000)
    said = N_(
        "Scale 1:{ratio} for what has a dimension; everything else is drawn as a sign. A dashed “?” is a question."
    )
    sheet.remarks.append(sheet.say(said, ratio=ratio))


def _title(opening: Opening, reader: Reader) -> str:
    said = Sentence(N_("Elevation of {tag}, inside, looking out"), {"tag": str(opening.tag.value)[:60]})
    return render(said, reader)


def _described(sheet: Sheet, opening: Opening) -> str:
    """The text alternative: what somebody who cannot see the drawing needs to know of it."""
    kind = translate(LEAF.get(opening.door.kind.value or "", N_("leaf, kind not known")), sheet.reader)
    parts = [sheet.say(N_("{kind} seen from inside, looking out."), kind=kind)]
    width, height = sheet.value(opening.door.clear_width), sheet.value(opening.door.clear_height)
    parts.append(sheet.say(N_("Clear width {width}, clear height {height}."), width=width, height=height))
    parts.extend(f"{each.words}." for each in sheet.notes[:20])
    parts.extend(f"{words}." for _, words in sheet.asked[:20])
    return " ".join(parts)
