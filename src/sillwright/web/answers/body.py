"""The body of an opening's page: all that depends on its facts and on language, units and country of who reads it.

It is made once and kept until a fact changes; nothing in it belongs to a person or a session.
"""

from __future__ import annotations

from typing import Any

from django.template.loader import render_to_string
from django.utils import translation

from sillwright.base.words import N_, Reader
from sillwright.paper.engineer import HEADS, engineer_page
from sillwright.paper.labels import LABELS
from sillwright.paper.ohm_chart import ohm_chart
from sillwright.paper.owner import short
from sillwright.paper.report import numbered
from sillwright.paper.svg import svg
from sillwright.paper.takeoff_page import lead_picture, takeoff_page
from sillwright.paper.technician import REGIMES, technician_page
from sillwright.paper.voice import Voice
from sillwright.study.model import OpeningStudy, SiteStudy
from sillwright.web.answers.asking import asked, missing_in_words, origins
from sillwright.web.answers.contact import contact
from sillwright.web.answers.doubts import rivals, unread
from sillwright.web.answers.findings import found, map_of
from sillwright.web.answers.rests import taken
from sillwright.web.records.answers import Studied
from sillwright.web.records.models import Opening


def body_of(opening: Opening, studied: Studied, reader: Reader) -> str:
    """The body of the page of an opening, as HTML."""
    with translation.override(reader.language):
        return render_to_string("answers/_body.html", _told(opening, studied, reader))


def _told(opening: Opening, studied: Studied, reader: Reader) -> dict[str, Any]:
    voice, study = Voice(reader), studied.study
    about = studied.facts.rebuilt.survey.openings[0]
    findings = study.findings if study else ()
    drawn = map_of(about, reader, findings, study.takeoff if study else None)
    listed = found(findings, voice, drawn)
    first, rest = asked(opening, studied, reader)
    told = {
        "opening": opening,
        "tag": opening.tag,
        "name": short(about.name.value, 80),
        "headline": voice.of(study.headline) if study else missing_in_words(studied, reader),
        "drawing": drawn.svg,
        "findings": listed,
        "flags": [each for each in listed if each.at],
        "asked": first,
        "asked_later": rest,
        "origins": origins(reader),
        "unread": unread(opening, studied, reader),
        "rivals": rivals(opening, studied, reader),
        "taken": taken(opening, studied, reader),
        "words": {key: voice.word(words) for key, words in LABELS.items()},
        "study": study,
    }
    return told | (_chapters(study, studied, reader) if study else {})


def _chapters(study: OpeningStudy, studied: Studied, reader: Reader) -> dict[str, Any]:
    """What the technician's page and the engineer's appendix of the papers say, for the chapters of the page."""
    voice = Voice(reader)
    whole = SiteStudy(survey=studied.facts.rebuilt.survey, openings=(study,), reader=reader)
    cited = numbered(whole, voice)
    appendix, page = engineer_page(study, voice, "", None, cited), technician_page(study, voice, 0)
    return {
        "judged": _judged(study, voice),
        "wired": page["wired"],
        "ohms": list(zip(page["wired"]["ohms"], _charts(study, reader), strict=True)),
        "order": takeoff_page(study, voice, svg(sketch) if (sketch := lead_picture(study, voice)) else None),
        "contact": contact(study.exposure, voice, appendix["next"]) if study.exposure else None,
        "appendix": appendix,
        "devices": [(row[0], list(zip(page["device_head"][1:], row[1:], strict=True))) for row in page["devices"]],
        "rules": list(zip(appendix["rules"], _marks(study), strict=True)),
        "enforced": [
            {"who": voice.of(each.who), "what": voice.of(each.what), "source": voice.cite(each.source)}
            for each in study.duty.enforced
        ],
        "sources": list(cited),
        "heads": {key: [voice.word(each) for each in head] for key, head in HEADS.items()},
    }


def _charts(study: OpeningStudy, reader: Reader) -> list[str]:
    """A chart for every device of which there are ohm readings; empty where they are too few to draw."""
    drawn = (ohm_chart(each, reader) for each in study.ohms)
    return [svg(each, prefix=f"o{n}-") if each else "" for n, each in enumerate(drawn)]


def _judged(study: OpeningStudy, voice: Voice) -> str:
    regime = study.duty.regime
    if study.duty.no_rules or regime is None:
        return voice(N_("No rules are known to this program for this place."))
    return voice(N_("Judged by the {regime}."), regime=voice.word(REGIMES.get(regime, regime)))


def _marks(study: OpeningStudy) -> list[str]:
    """The verdicts of the rules in the order of the appendix, as names for marks."""
    order = ("fails", "unknown", "holds")
    return [verdict for verdict in order for each in study.duty.rules if each.verdict == verdict]
