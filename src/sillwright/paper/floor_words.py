"""The floor in words: what is done along the sill, and how each profile of the catalogue lies on it."""

from __future__ import annotations

from typing import Any

from sillwright.base.words import N_
from sillwright.paper.voice import Voice
from sillwright.takeoff.answer import FloorFit
from sillwright.takeoff.floors.floor_model import FloorVerdict, SealedBy, Stretch, StretchWork

WORK: dict[StretchWork, str] = {
    "grind": N_("{where}: grind off up to {most}."),
    "patch": N_("{where}: fill, up to {most} deep."),
    "fin": N_("{where}: the body is off the floor by up to {most}; a fin or brush seals there."),
    "taper": N_("{where}: a tapered piece, {at_start} thick at its left end, {at_end} at its right end."),
    "scribe": N_("{where}: take off up to {most} of the section where the floor is high."),
}
SEALED: dict[SealedBy, str] = {
    "body": N_("the body touches everywhere"),
    "fin": N_("body and fin together touch everywhere"),
    "nothing": N_("open: {stretches}, by up to {gap}"),
}
HEAD = (N_("Profile"), N_("pressed, highest point"), N_("pressed, lowest point"), N_("sealing"))


def floor_told(found: FloorFit, voice: Voice) -> dict[str, Any]:
    """What the take-off page says of the floor: why, stretch by stretch, and a row for each profile."""
    return {
        "floor": [voice.of(found.why), *(stretch_in_words(each, voice) for each in found.stretches)],
        "floor_head": [voice.word(each) for each in HEAD],
        "floor_rows": [_row(each, voice) for each in found.verdicts],
    }


def stretch_in_words(stretch: Stretch, voice: Voice) -> str:
    """What is done along a stretch of the sill, measured from the left jamb."""
    lengths = {name: voice.amount(getattr(stretch, name), "m") for name in ("most", "at_start", "at_end")}
    said = voice(WORK[stretch.work], where=_where(stretch.start, stretch.end, voice), **lengths)
    return f"{said[:1].upper()}{said[1:]}"


def _where(start: float, end: float, voice: Voice) -> str:
    """A stretch in words; inside looking out, from the left jamb."""
    words = N_("from {start} to {end} from the left jamb")
    return voice(words, start=voice.amount(start, "m"), end=voice.amount(end, "m"))


def _row(verdict: FloorVerdict, voice: Voice) -> list[str]:
    stretches = [_where(start, end, voice) for start, end in verdict.unsealed]
    words = SEALED["nothing"] if stretches or not verdict.seals else SEALED[verdict.sealed_by]
    sealing = voice(words, stretches="; ".join(stretches), gap=voice.amount(verdict.open_gap, "m"))
    against = [voice.word(each) for each in verdict.reasons]
    if verdict.answers_when_shut:
        against.append(voice(N_("Shut, it is pressed so far that it answers: the cut-out is needed.")))
    low = max(0.0, verdict.lowest_compression)
    return [
        verdict.name,
        voice.amount(verdict.highest_compression, "m"),
        voice.amount(low, "m") if verdict.lowest_compression >= 0 else voice(N_("not at all")),
        " ".join([f"{sealing[:1].upper()}{sealing[1:]}.", *against]),
    ]
