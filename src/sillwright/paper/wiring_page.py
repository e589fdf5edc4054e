"""The wiring sheet on paper: pictures, readings to compare with, room to write, cautions before everything."""

from __future__ import annotations

from datetime import date
from typing import Any

from sillwright.base.words import N_, Amount, Reader
from sillwright.hookup.answer import Hookup, InputUse, Joint, Power, Wiring
from sillwright.hookup.cautions import METER
from sillwright.hookup.words import circuit
from sillwright.paper.letter import Letter, paper_of
from sillwright.paper.owner import short
from sillwright.paper.readings_table import READINGS_HEAD, readings_rows
from sillwright.paper.report import Pictures
from sillwright.paper.voice import Voice
from sillwright.paper.wiring_sheet import NO_DEVICE, NOT_LOOKED, wiring_drawing

LABELS = {
    "cautions": N_("Before anybody opens a box"),
    "readings": N_("Readings"),
    "inputs": N_("Inputs of the operator"),
    "supply": N_("Supply"),
    "taken": N_("Taken for granted"),
    "first": N_("Wired and measured by: name"),
}
WRITTEN = N_("read, at, on")
"""Room to write what the meter did show."""
INPUT_HEAD = (N_("Input"), N_("reads"), N_("terminals"), N_("joined to it"))
WATCHED: dict[bool | None, str] = {
    True: N_("By its circuit the operator can watch it; whether it counts, the operator's instructions say."),
    False: N_("As it stands the operator does not watch it: test it at every visit."),
    None: N_("Whether the operator watches it is not known; until then it counts as not watched."),
}


def wiring_paper(found: Hookup, reader: Reader, *, tag: str, made_on: date, version: str) -> bytes:
    """The wiring sheet of an opening as a tagged PDF. The same hookup, date and version give the same bytes.

    Raises :class:`OutputError` where it cannot be set.
    """
    voice, pictures = Voice(reader), Pictures()
    said: dict[str, Any] = {
        "title": voice(N_("Wiring sheet: {tag}"), tag=short(tag)),
        "running": short(tag, 70),
        "cautions": [voice.of(each) for each in found.cautions],
        "meter": [voice.of(each) for each in METER],
        "devices": [_device(each, found, voice, pictures) for each in found.wiring],
        "input_head": [voice.word(each) for each in INPUT_HEAD],
        "inputs": [_input(each, found, voice) for each in found.inputs],
        "supply": _supply(found.power, voice),
        "taken": [voice.of(each) for each in (*found.assumptions, *found.power.assumptions)],
    }
    return paper_of(
        "wiring.typ",
        said,
        voice,
        letter=Letter(reference=tag),
        made_on=made_on,
        version=version,
        labels={**LABELS, "none": NO_DEVICE if found.looked else NOT_LOOKED},
        pictures=pictures,
    )


def _device(sheet: Wiring, found: Hookup, voice: Voice, pictures: Pictures) -> dict[str, Any]:
    joint = next(each for each in found.joints if each.device == sheet.device)
    expected = [each for each in found.readings if each.device == sheet.device]
    drawn = sheet.way != "not_joinable"
    return {
        "heading": voice.of(sheet.title),
        "watched": voice.word(WATCHED[joint.watched]),
        "reasons": [voice.of(each) for each in joint.reasons],
        "picture": pictures.add(wiring_drawing(sheet, voice.reader)) if drawn else None,
        "runs": [voice.of(each.words) for each in sheet.runs] if drawn else [],
        "remarks": [] if sheet.remarks == joint.reasons else [voice.of(each) for each in sheet.remarks],
        "questions": [voice.of(each) for each in sheet.questions],
        "head": [voice.word(each) for each in (*READINGS_HEAD, WRITTEN)],
        "rows": [[*row, ""] for row in readings_rows(expected, voice)],
        "shared": _shared(joint, found, voice),
    }


def _shared(joint: Joint, found: Hookup, voice: Voice) -> str:
    names = [each.name for each in found.joints if each.device in joint.shared_with]
    return voice(N_("On the same input: {devices}."), devices=names) if names else ""


def _input(use: InputUse, found: Hookup, voice: Voice) -> list[str]:
    names = [each.name for each in found.joints if each.device in use.devices]
    reads = voice.of(circuit(use.circuit, of_input=True))
    if use.resistance is not None:
        reads = voice(N_("{circuit}, {ohms}"), circuit=reads, ohms=Amount(use.resistance, "ohm"))
    joined = ", ".join(names) if names else voice(N_("nothing"))
    return [use.name or "?", reads, ", ".join(use.terminals) or "–", joined]


def _supply(power: Power, voice: Voice) -> list[str]:
    lines = [voice.of(power.why)] if power.why else []
    for draw in power.draws:
        name = draw.name or voice(N_("converter, not named"))
        said = voice(N_("{part}: draws {current}"), part=name, current=voice.amount(draw.current, "A"))
        if draw.far_voltage is not None:
            words = N_("{said}; {volts} left at the far end, under load")
            said = voice(words, said=said, volts=voice.amount(draw.far_voltage, "V"))
        lines.append(f"{said}.")
    return lines
