"""A survey as single entries, and back into the study."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import Reader
from sillwright.study import site_as_json, study_site
from sillwright.survey.entries import Entry, Rebuilt, entries_of, survey_from_entries
from sillwright.survey.reading import read_survey
from sillwright.survey.required import missing_for_study

from .entries_at_random import FILES, entry, facts, told_by


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_survey_taken_apart_and_put_together_says_the_same(path: Path) -> None:
    name, country, site, openings = told_by(path)
    rebuilt = survey_from_entries(name, site, openings, country)
    assert not rebuilt.mistakes
    before = read_survey(path, draft=True)
    assert facts(rebuilt.survey) == facts(before)
    if not missing_for_study(before):
        reader = Reader()
        assert site_as_json(study_site(rebuilt.survey, reader)) == site_as_json(study_site(before, reader))


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


@pytest.mark.parametrize(
    ("path", "named"),
    [("door.colour", "door.colour"), ("protection.e1.colour", "protection.e1.colour"), ("operator.kind.x", None)],
)
def test_a_fact_that_no_survey_has_is_named_as_a_mistake(path: str, named: str | None) -> None:
    rebuilt = one(Entry(path=path, typed="x"), EDGE)
    assert list(rebuilt.mistakes) == [named or path]
    assert len(rebuilt.survey.openings[0].protection) == 1


def test_a_list_that_the_file_leaves_out_and_one_that_it_has_is_told_member_by_member() -> None:
    rebuilt = one(EDGE, Entry(path="protection.e1", says="removed"))
    again = [each for each in entries_of(rebuilt.survey.openings[0]) if each.path.startswith("protection")]
    assert [(each.path, each.says) for each in again] == [
        ("protection.e1.kind", "value"),
        ("protection.e1", "removed"),
    ]


@given(st.lists(entry(), max_size=12))
def test_entries_of_what_entries_came_to_come_to_the_same(entries: list[Entry]) -> None:
    survey = one(*entries).survey
    again = survey_from_entries("Ferry Yard", [], {"B1": entries_of(survey.openings[0])})
    assert facts(again.survey) == facts(survey)
    assert not again.mistakes
