"""Every word of findings, drawings and the report comes from the catalogue: said in a language nobody speaks."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from sillwright.base import words
from sillwright.drawing.canvas import record
from sillwright.drawing.shapes import Drawing
from sillwright.paper.chart import contact_chart
from sillwright.paper.elevation import elevation
from sillwright.paper.ohm_chart import ohm_chart
from sillwright.paper.report import report_data, sources_of
from sillwright.study import OpeningStudy, SiteStudy, opening_as_json, study_opening
from sillwright.survey.model import Survey
from sillwright.survey.reading import read_survey

from ..pseudo import PSEUDO, Pseudo, catalogue, foreign, translations, typed_in, unmarked
from ..surveys_at_random import survey_at_random

ROOT = Path(__file__).parents[2]
READ_BY_HAND = ("examples/ferry-yard.yaml", "tests/survey/full.yaml", "tests/paper/kinds.yaml")
AT_RANDOM = range(24)
POINTS = 64  # of the contact band: its words are the same with few
READ = {"headline", "text", "why", "do", "asks", "evidence", "who", "what", "assumptions"}
NOT_READ = {"images", "paper", "lang", "region", "level", "mark", "at"}
NAMES = {"Sillwright", "USD", "{page}", "{pages}"}

Told = Iterator[tuple[str, str]]  # where it stands, and the text


@pytest.fixture(autouse=True)
def _another_language(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(words, "_catalogue", translations)


def texts_below(data: Any, wanted: Callable[[str], bool], key: str = "") -> Told:
    """The texts of nested data whose key is wanted."""
    if isinstance(data, dict):
        for name, value in data.items():
            if wanted(name):
                yield from texts_below(value, wanted, name)
    elif isinstance(data, (list, tuple)):
        for value in data:
            yield from texts_below(value, wanted, key)
    elif isinstance(data, str):
        yield key, data


def drawn(drawing: Drawing) -> Told:
    """The texts of a drawing, its text alternatives too."""
    seen = record(drawing)
    for text in (*seen.words, drawing.title, drawing.described, *(group.title for group in seen.groups)):
        yield "drawing", text


def answered(study: OpeningStudy) -> Told:
    """The sentences of the answer that programs read."""
    answer = opening_as_json(study, PSEUDO)
    nested = {"duty", "rules", "devices", "links", "enforced", "exposure", "findings", "unknown"}
    yield from texts_below(answer, lambda key: key in READ or key in nested)


@cache
def at_random(seed: int) -> tuple[Survey, tuple[OpeningStudy, ...]]:
    """A survey at random, and its openings studied."""
    survey = survey_at_random(seed)
    return survey, studied(survey)


def studied(survey: Survey) -> tuple[OpeningStudy, ...]:
    """Every opening of a survey, studied."""
    return tuple(study_opening(survey.site, opening, points=POINTS) for opening in survey.openings)


def everything(survey: Survey, studies: tuple[OpeningStudy, ...]) -> Iterator[tuple[OpeningStudy, Told]]:
    """Each opening of a survey with all that is said of it."""
    for study in studies:
        opening = study.opening
        site = SiteStudy(survey=survey, openings=(study,), reader=PSEUDO)
        told = [
            *texts_below(report_data(site, made_on=date(2026, 3, 4), version="1"), lambda key: key not in NOT_READ)
        ]
        told += [*answered(study), *drawn(elevation(opening, PSEUDO, study.findings))]
        charts = [contact_chart(study.exposure, PSEUDO)] if study.exposure else []
        charts += [ohm_chart(each, PSEUDO) for each in study.ohms]
        told += [one for chart in charts if chart for one in drawn(chart)]
        yield study, iter(told)


def published(study: OpeningStudy) -> set[str]:
    """Titles and clauses of what is cited, where they are not in our own words."""
    parts = {part for each in sources_of(study) for part in (each.document, each.edition, each.clause) if part}
    return parts - catalogue()


def unmarked_words(survey: Survey, studies: tuple[OpeningStudy, ...]) -> list[str]:
    """What is said of a survey in words that are neither marked nor somebody's own."""
    typed = typed_in(survey)
    lines = {word for text in typed for word in text.split()}  # in a drawing a text is broken into lines
    found = []
    for study, told in everything(survey, studies):
        allowed = typed | published(study) | NAMES
        for place, text in told:
            also = lines if place == "drawing" else set()
            if loose := unmarked(text.replace("\u200b", ""), allowed | also):
                found.append(f"{place}: {' '.join(loose)}: {text}")
    return found


@pytest.mark.parametrize("name", READ_BY_HAND)
def test_a_site_is_told_in_marked_words_alone(name: str) -> None:
    survey = read_survey(ROOT / name, draft=True)
    assert not unmarked_words(survey, studied(survey))


@pytest.mark.parametrize("seed", AT_RANDOM)
def test_a_site_at_random_is_told_in_marked_words_alone(seed: int) -> None:
    assert not unmarked_words(*at_random(seed))


def test_a_sentence_that_is_not_in_the_catalogue_would_be_found(monkeypatch: pytest.MonkeyPatch) -> None:
    class Poorer(Pseudo):
        def gettext(self, message: str) -> str:
            return message if message == "Inside, looking out" else super().gettext(message)

    monkeypatch.setattr(words, "_catalogue", lambda language: Poorer())
    survey = read_survey(ROOT / READ_BY_HAND[0], draft=True)
    found = unmarked_words(survey, studied(survey))
    assert [line for line in found if "looking" in line]


def test_only_the_words_of_a_sentence_change_and_what_is_put_into_it_shows() -> None:
    said = words.render(words.Sentence("{asks} Waits for: {facts}.", {"asks": "Asked", "facts": "a lead"}), PSEUDO)
    assert said == f"Asked {foreign('Waits for')}: a lead."
    assert unmarked(said) == ["Asked", "lead"]


def test_the_surveys_at_random_are_of_every_kind_and_raise_many_findings() -> None:
    studies = [study for seed in AT_RANDOM for study in at_random(seed)[1]]
    assert len({each.opening.door.kind.value for each in studies}) == 8
    assert len({finding.id for each in studies for finding in each.findings}) > 35


LITERALS = {
    "Sillwright",
    "Noto Sans",
    "DejaVu Sans",
    "New Computer Modern Math",
    "svg",
    "clip",
    "{page}",
    "{pages}",
}


def words_of_the_template(source: str) -> set[str]:
    """Words that a template says of its own: in literals, in markup, at the beginning of a line."""
    bare = re.sub(r"//[^\n]*", "", source)
    found = {text for text in re.findall(r'"([^"\n]*)"', bare) if re.search(r"[A-Za-z]{3}", text)}
    markup = re.sub(r"\$[^$]*\$", "", bare)
    while "(" in markup:  # what stands in brackets is code
        markup = re.sub(r"\([^()]*\)", "", markup)
    inside = [re.sub(r"#[\w.]+", "", text) for text in re.findall(r"\[([^\[\]]*)\]", markup) if "{" not in text]
    found |= {text.strip() for text in inside if re.search(r"[A-Za-z]{3}", text)}
    return found | {line for line in bare.splitlines() if re.match(r"=* ?[A-Za-z]{3}", line)}


def test_the_template_of_the_report_says_nothing_of_its_own() -> None:
    source = (ROOT / "src/sillwright/paper/data/report.typ").read_text(encoding="utf-8")
    assert words_of_the_template(source) == LITERALS


@pytest.mark.parametrize("planted", ["= Findings", "#block[== Findings]", '#strong("Findings")', "[. Do this]"])
def test_words_in_the_template_would_be_found(planted: str) -> None:
    assert words_of_the_template(f"#let data = json(bytes(sys.inputs.data))\n{planted}\n")
