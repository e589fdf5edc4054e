"""What was found at an opening, numbered as the flags of the drawing are."""

from __future__ import annotations

import html
import re
from collections.abc import Mapping
from dataclasses import dataclass

from sillwright.base.finding import LEVEL_IN_WORDS, Finding
from sillwright.base.words import Reader
from sillwright.paper.elevation import elevation
from sillwright.paper.svg import svg
from sillwright.paper.voice import Voice
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import TakeOff

PREFIX = "d-"
_PLACES = re.compile(r'id="([^"]*)" data-place="([^"]*)"')


@dataclass(frozen=True)
class Map:
    """The drawing of an opening as it stands in a page, and under which id each place of it is found."""

    svg: str
    places: Mapping[str, str]


@dataclass(frozen=True)
class Found:
    """One finding in words; ``at`` is the id of its place on the drawing, empty where it has none there."""

    number: int
    level: str
    level_word: str
    text: str
    why: str
    act: str
    sources: tuple[str, ...]
    place: str
    at: str


def map_of(opening: Opening, reader: Reader, findings: tuple[Finding, ...], order: TakeOff | None = None) -> Map:
    """The elevation of an opening for a page."""
    drawn = svg(elevation(opening, reader, findings, order), prefix=PREFIX)
    places = {html.unescape(place): at for at, place in _PLACES.findall(drawn)}
    return Map(svg=drawn, places=places)


def found(findings: tuple[Finding, ...], voice: Voice, drawn: Map) -> list[Found]:
    """The findings in their order, each with its place on the drawing."""
    return [_found(number, each, voice, drawn) for number, each in enumerate(findings, start=1)]


def _found(number: int, finding: Finding, voice: Voice, drawn: Map) -> Found:
    place = finding.place or ""
    return Found(
        number=number,
        level=finding.level,
        level_word=voice.word(LEVEL_IN_WORDS[finding.level]),
        text=voice.of(finding.text),
        why=voice.of(finding.why),
        act=voice.of(finding.do),
        sources=tuple(dict.fromkeys(voice.cite(each) for each in finding.sources)),
        place=place,
        at=drawn.places.get(place, ""),
    )
