"""A survey as single entries, and back: into the study and into a file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import Reader
from sillwright.study import site_as_json, study_site
from sillwright.survey.as_text import survey_text
from sillwright.survey.entries import Entry, Rebuilt, entries_of, survey_from_entries
from sillwright.survey.reading import read_survey
from sillwright.survey.required import missing_for_study

ROOT = Path(__file__).parents[2]
FILES = sorted([*(ROOT / "examples").glob("*yard.yaml"), *(ROOT / "tests").rglob("full.yaml")])


def _told(path: Path) -> tuple[str, list[Entry], dict[str, list[Entry]]]:
    survey = read_survey(path, draft=True)
    openings = {str(each.tag.value): list(entries_of(each)) for each in survey.openings}
    return str(survey.site.name.value), list(entries_of(survey.site, "site")), openings


def _plain(survey: Any) -> list[tuple[str, str, str, str, str]]:
    groups = [survey.site, *survey.openings]
    return [
        (fact.path, fact.standing, repr(fact.value), repr(fact.origin), repr([each.by for each in fact.readings]))
        for group in groups
        for _, fact in group.facts()
        if fact.standing != "not asked"
    ]


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_survey_taken_apart_and_put_together_says_the_same(path: Path) -> None:
    rebuilt = survey_from_entries(*_told(path))
    assert not rebuilt.mistakes
    before = read_survey(path, draft=True)
    assert _plain(rebuilt.survey) == _plain(before)
    if not missing_for_study(before):
        reader = Reader()
        assert site_as_json(study_site(rebuilt.survey, reader)) == site_as_json(study_site(before, reader))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_survey_written_from_entries_reads_as_the_file_it_came_from(path: Path, tmp_path: Path) -> None:
    name, site, openings = _told(path)
    file = tmp_path / "out.yaml"
    file.write_text(survey_text(name, "US", site, openings, "Written by a test."), encoding="utf-8")
    assert _plain(read_survey(file, draft=True)) == _plain(read_survey(path, draft=True))


def one(*entries: Entry) -> Rebuilt:
    """An opening of which this was said."""
    return survey_from_entries("Ferry Yard", [], {"B1": entries})


EDGE = Entry(path="protection.e1.kind", typed="sensing_edge")


def test_a_text_that_cannot_be_read_is_named_and_holds_up_no_other() -> None:
    rebuilt = one(Entry(path="door.clear_width", typed="wide"), Entry(path="door.kind", typed="grille"))
    assert rebuilt.survey.openings[0].door.kind.value == "grille"
    assert rebuilt.survey.openings[0].door.clear_width.standing == "not asked"
    assert list(rebuilt.mistakes) == ["door.clear_width"]


def test_a_device_that_was_taken_away_is_not_there() -> None:
    rebuilt = one(Entry(path="protection.e1", says="removed"))
    assert rebuilt.survey.openings[0].protection.standing == "known"
    assert not rebuilt.survey.openings[0].protection.items


def test_a_device_taken_away_by_one_and_described_by_another_is_two_readings_of_the_list() -> None:
    assert one(EDGE, Entry(path="protection.e1", says="removed")).survey.openings[0].protection.standing == (
        "two readings"
    )


def test_none_said_beside_a_device_is_two_readings_of_the_list() -> None:
    rebuilt = one(EDGE, Entry(path="protection", says="none"))
    assert rebuilt.survey.openings[0].protection.standing == "two readings"


def test_not_known_beside_a_device_leaves_the_device() -> None:
    rebuilt = one(EDGE, Entry(path="protection", says="unknown"))
    assert len(rebuilt.survey.openings[0].protection) == 1


def test_a_device_all_of_which_cannot_be_read_is_still_there() -> None:
    rebuilt = one(Entry(path="protection.e1.kind", typed="a stick"))
    assert len(rebuilt.survey.openings[0].protection) == 1


def test_a_list_that_was_only_assumed_stays_assumed() -> None:
    assumed = Entry(path="protection.e1.kind", typed="sensing_edge", origin="assumed")
    assert one(assumed).survey.openings[0].protection.standing == "assumed"


def test_a_member_without_an_id_is_found_again_by_its_key() -> None:
    rebuilt = one(Entry(path="use.traffic.m7.who", typed="adult"))
    assert rebuilt.named("use.traffic[0].who") == "use.traffic.m7.who"
    assert rebuilt.named("door.kind") == "door.kind"


@pytest.mark.parametrize("path", ["door", "colour", "door.kind.more", "protection.e1.e2.kind", "", "."])
def test_a_path_that_names_nothing_is_named_and_changes_nothing(path: str) -> None:
    rebuilt = one(Entry(path=path, typed="x"), Entry(path="door.kind", typed="grille"))
    assert rebuilt.survey.openings[0].door.kind.value == "grille"


FACTS = st.sampled_from(
    [
        ("door.kind", ["grille", "sectional", "nonsense"]),
        ("door.clear_width", ["10 ft 4 in", "3.1 m", "wide", "10.5 ft"]),
        ("operator.made", ["2010", "2019-03", "soon"]),
        ("site_words", ["x"]),
        ("use.children", ["yes", "no", "perhaps"]),
        ("protection.e1.kind", ["sensing_edge", "loop", "a stick"]),
        ("protection.e2.state", ["works", "dead"]),
        ("use.traffic.m1.who", ["adult", "forklift; two", "#1: “a”"]),
        ("operator.listed_to", ["UL 325; EN 12453", "none"]),
        ("floor.points", ["0 in, 0 in; 48 in, 1/4 in", "1 m"]),
        ("name", ["a: b", "- x", "{y}", "null", "é \\ \" '"]),
    ]
)


@st.composite
def entry(draw: Any) -> Entry:
    """Something that somebody may have said."""
    path, words = draw(FACTS)
    says = draw(st.sampled_from(["value", "value", "value", "unknown", "none"]))
    return Entry(
        path=path,
        says=says,
        typed=draw(st.sampled_from(words)) if says == "value" else "",
        origin=draw(st.sampled_from([None, "measured", "told", "assumed"])),
        by=draw(st.sampled_from([None, "Ana", "a: {b}"])),
        on=draw(st.sampled_from([None, "2026-03-04"])),
    )


@given(st.lists(entry(), max_size=12))
def test_whatever_was_said_goes_into_a_file_and_comes_back(tmp_path_factory: Any, entries: list[Entry]) -> None:
    text = survey_text("Ferry Yard", "US", [], {"B1": entries})
    file = tmp_path_factory.mktemp("written") / "out.yaml"
    file.write_text(text, encoding="utf-8")
    assert _plain(read_survey(file, draft=True)) == _plain(one(*entries).survey), text
