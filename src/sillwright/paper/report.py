"""The report of a site as one tagged PDF: data for a fixed template, never markup made from text."""

from __future__ import annotations

import json
from collections.abc import Iterable
from datetime import UTC, date, datetime
from functools import cache
from typing import Any

from sillwright.base.data import folder
from sillwright.base.errors import OutputError
from sillwright.base.source import Source
from sillwright.base.words import N_, Reader, dated, say
from sillwright.drawing.shapes import Drawing
from sillwright.paper.chart import contact_chart
from sillwright.paper.elevation import elevation
from sillwright.paper.engineer import engineer_page
from sillwright.paper.labels import LABELS
from sillwright.paper.legible import breakable, legible
from sillwright.paper.ohm_chart import ohm_chart
from sillwright.paper.owner import CAUTIONS, owner_page, short
from sillwright.paper.svg import MARGIN, svg
from sillwright.paper.takeoff_page import lead_picture
from sillwright.paper.technician import heading, technician_page
from sillwright.paper.voice import Voice
from sillwright.study.model import OpeningStudy, SiteStudy

NARROW = {"tag", "name"}
"""Names that stand in a narrow column."""
LETTER = frozenset(["BO", "CA", "CL", "CO", "CR", "DO", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"])
"""Countries whose printers hold Letter; everywhere else it is A4."""


def report(study: SiteStudy, *, made_on: date, version: str) -> bytes:
    """The report of a site: the owner's page, a page for each opening, the engineer's appendix.

    The same study, date and version give the same bytes. Raises :class:`OutputError` where it cannot be set.
    """
    return typeset(report_data(study, made_on=made_on, version=version), made_on)


def report_data(study: SiteStudy, *, made_on: date, version: str) -> dict[str, Any]:
    """Everything the template prints, as text that the papers' letters can show."""
    voice = Voice(study.reader)
    pictures = Pictures()
    site = study.survey.site
    openings = [_technician(each, voice, pictures) for each in study.openings]
    cited = numbered(study, voice)
    appendix = [
        engineer_page(each, voice, _rests(each, voice), _chart(each, voice, pictures), cited)
        for each in study.openings
    ]
    name, day = short(site.name.value), dated(made_on, study.reader)
    surveyed = site.surveyed_on.value
    on = "" if surveyed is None else str(surveyed)
    if surveyed is not None and surveyed.first == surveyed.last:
        on = dated(surveyed.first, study.reader)
    place = ", ".join(part for part in (site.country.value, site.subdivision.value) if part)
    said = {
        "title": voice(N_("Powered openings at {site}"), site=name),
        "running": short(name, 70),
        "site_line": voice(N_("{site} · {place}"), site=name, place=place),
        "dated": voice(N_("Surveyed {on} · report of {day}"), on=on, day=day) if on else day,
        "made": voice(N_("Sillwright {version} · {day}"), version=version, day=day),
        "words": {key: voice.word(words) for key, words in LABELS.items()},
        "cautions": [voice.word(each) for each in CAUTIONS],
        "caution_line": " ".join(voice.word(each) for each in CAUTIONS),
        "owner": owner_page(study, voice),
        "openings": openings,
        "appendix": appendix,
        "sources": list(cited),
    }
    return {
        **printable(said),
        "paper": "us-letter" if site.country.value in LETTER else "a4",
        "lang": study.reader.language.replace("-", "_").partition("_")[0].lower(),
        "region": study.reader.country,
        "has_contact": any(each.exposure for each in study.openings),
        "images": pictures.images,
    }


def _technician(study: OpeningStudy, voice: Voice, pictures: Pictures) -> dict[str, Any]:
    drawing = pictures.add(_elevation(study, voice.reader))
    sketch = pictures.add_any(lead_picture(study, voice))
    charts = [pictures.add_any(ohm_chart(each, voice.reader)) for each in study.ohms]
    return technician_page(study, voice, drawing, sketch, charts)


def _rests(study: OpeningStudy, voice: Voice) -> str:
    return voice(N_("{opening}: what the answer rests on"), opening=heading(study))


class Pictures:
    """The pictures of a report, by number."""

    def __init__(self) -> None:
        self.images: list[dict[str, Any]] = []

    def add(self, drawing: Drawing) -> int:
        """Keep a drawing; its number."""
        width = drawing.box.width / drawing.metres_per_mm + 2 * MARGIN
        alt = breakable(legible(drawing.described))
        self.images.append({"svg": svg(drawing), "alt": alt, "width": round(min(width, 180.0), 2)})
        return len(self.images) - 1

    def add_any(self, drawing: Drawing | None) -> int | None:
        """Keep a drawing where there is one; its number."""
        return None if drawing is None else self.add(drawing)


def _chart(study: OpeningStudy, voice: Voice, pictures: Pictures) -> int | None:
    drawing = contact_chart(study.exposure, voice.reader) if study.exposure else None
    return pictures.add(drawing) if drawing else None


def numbered(study: SiteStudy, voice: Voice) -> dict[str, int]:
    """Every source of a report, with the number by which tables refer to it."""
    found = {voice.cite(source) for each in study.openings for source in sources_of(each)}
    return {words: number for number, words in enumerate(sorted(found), start=1)}


def sources_of(study: OpeningStudy) -> Iterable[Source]:
    """Every source that an opening's answers rest on."""
    yield from (rule.source for rule in study.duty.rules if rule.verdict != "not applicable")
    yield from (each.source for each in study.duty.enforced)
    yield from (source for finding in study.findings for source in finding.sources)
    yield from study.hookup.sources if study.hookup.joints else ()
    yield from (source for each in study.ohms if each.trend for source in each.trend.sources)
    if study.exposure:
        yield from study.exposure.sources
        yield from (each.source for each in study.exposure.limits)
        yield from (each.source for each in study.exposure.inputs if each.source)


def _narrow(name: str) -> str:
    return breakable(legible(name), longest=9, every=5)


def printable(data: Any) -> Any:
    """Data with every text made legible and breakable."""
    if isinstance(data, str):
        return breakable(legible(data))
    if isinstance(data, dict):
        return {key: _narrow(value) if key in NARROW else printable(value) for key, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [printable(each) for each in data]
    return data


def _elevation(study: OpeningStudy, reader: Reader) -> Drawing:
    return elevation(study.opening, reader, study.findings, study.takeoff)


@cache
def _fonts() -> Any:
    import typst

    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=True, font_paths=[folder("sillwright.paper") / "fonts"]
    )


def typeset(data: dict[str, Any], made_on: date, template: str = "report.typ") -> bytes:
    """The PDF of a template and its data, tagged, to PDF/UA-1."""
    import typst  # the typesetter is only loaded where a paper is made

    root = folder("sillwright.paper")
    try:
        made = typst.compile(
            root / template,
            root=root,
            font_paths=_fonts(),
            sys_inputs={"data": json.dumps(data, ensure_ascii=False, separators=(",", ":"))},
            pdf_standards=["ua-1"],
            timestamp=datetime(made_on.year, made_on.month, made_on.day, tzinfo=UTC),
        )
    except typst.TypstError as error:
        said = N_("the report cannot be set: {why}; report this with the survey file")
        raise OutputError(say(said, why=error.message)) from error
    return bytes(made)
