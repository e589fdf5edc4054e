"""The install sheet on paper: what the crew reads at the opening, with boxes to tick and room to sign."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from sillwright.base.words import N_, Reader
from sillwright.catalogue.profile import Profile
from sillwright.drawing.shapes import Drawing
from sillwright.paper.letter import Letter, paper_of
from sillwright.paper.owner import short
from sillwright.paper.report import Pictures
from sillwright.paper.voice import Voice
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import TakeOff
from sillwright.takeoff.leads.lead_words import lead_sketch
from sillwright.takeoff.ordering.install import Section, install
from sillwright.takeoff.ordering.line import OrderLine

LABELS = {
    "done": N_("Done"),
    "readings": N_("Readings"),
    "first": N_("First person"),
    "second": N_("Second person"),
    "at_edge": N_("ohms, edge alone"),
    "at_box": N_("ohms, at the box"),
    "at_operator": N_("ohms, at the operator"),
    "pressed": N_("ohms, pressed"),
    "temperature": N_("temperature"),
}
TICKED = {"bring", "tests"}
"""Sections whose sentences are ticked off."""


def install_sheet_of(
    opening: Opening,
    take_off: TakeOff,
    profile: Profile | None,
    lines: tuple[OrderLine, ...],
    reader: Reader,
    *,
    made_on: date,
    version: str,
    reference: str = "",
) -> bytes:
    """The install sheet of an opening for the lines that are ordered; ``reference`` is the order they stand in.

    Raises :class:`OutputError` where it cannot be set.
    """
    tag = str(opening.tag.value)
    bodies = take_off.bodies[:1]
    return install_paper(
        install(opening, take_off, profile, lines),
        reader,
        tag=tag,
        letter=Letter(reference=", ".join(each for each in (tag, reference) if each)),
        made_on=made_on,
        version=version,
        sketches=tuple(lead_sketch(take_off.lead, body, reader=reader) for body in bodies if body.body),
    )


def install_paper(
    sections: Sequence[Section],
    reader: Reader,
    *,
    tag: str,
    letter: Letter,
    made_on: date,
    version: str,
    sketches: Sequence[Drawing] = (),
) -> bytes:
    """The install sheet of an opening as a tagged PDF, with the sketches of its leads.

    The same sections, date and version give the same bytes. Raises :class:`OutputError` where it cannot be set.
    """
    voice, pictures = Voice(reader), Pictures()
    said: dict[str, Any] = {
        "title": voice(N_("Install sheet: {tag}"), tag=short(tag)),
        "running": short(tag, 70),
        "sections": [
            {
                "id": each.id,
                "heading": voice.of(each.title),
                "sentences": [voice.of(one) for one in each.sentences],
                "numbered": each.numbered,
                "ticked": each.id in TICKED,
            }
            for each in sections
        ],
        "sketches": [pictures.add(each) for each in sketches],
    }
    return paper_of(
        "install.typ",
        said,
        voice,
        letter=letter,
        made_on=made_on,
        version=version,
        labels=LABELS,
        pictures=pictures,
    )
