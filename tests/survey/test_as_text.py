"""What was said, written as a survey file: every reading with where it comes from, and read back the same."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.survey.as_text import survey_text
from sillwright.survey.entries import Entry, survey_from_entries
from sillwright.survey.from_node import MOST_READINGS
from sillwright.survey.model import Survey
from sillwright.survey.reading import survey_of

from ..surveys_at_random import survey_at_random
from .entries_at_random import FILES, entry, facts, told, told_by


def read(text: str) -> Survey:
    return survey_of(text.encode(), "out.yaml")


def written(*entries: Entry, site: list[Entry] | None = None, country: str = "US", head: str = "") -> str:
    """The file of a site with one opening of which this was said."""
    return survey_text("Ferry Yard", country, site or [], {"B1": entries}, head)


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_a_file_taken_apart_and_written_again_says_the_same(path: Path) -> None:
    assert told(read(survey_text(*told_by(path)))) == told_by(path)


@pytest.mark.parametrize("seed", range(12))
def test_a_survey_of_every_kind_of_fact_written_and_read_says_the_same(seed: int) -> None:
    survey = survey_at_random(seed)
    assert told(read(survey_text(*told(survey)))) == told(survey)


@given(st.lists(entry(), max_size=12))
def test_whatever_was_said_goes_into_a_file_and_comes_back(entries: list[Entry]) -> None:
    text = written(*entries)
    assert facts(read(text)) == facts(survey_from_entries("Ferry Yard", [], {"B1": entries}).survey), text


def test_a_reading_stands_with_where_it_comes_from() -> None:
    said = Entry(
        path="door.clear_width", typed="10' 4\"", origin="measured", by="Ana", on="2026-03-04", evidence="p: 3"
    )
    line = "clear_width: {value: 10' 4\", from: measured, by: Ana, on: '2026-03-04', evidence: 'p: 3'}"
    assert f"      {line}" in written(said).splitlines()


def test_two_readings_stand_in_a_list_and_keep_contradicting() -> None:
    text = written(Entry(path="door.kind", typed="grille"), Entry(path="door.kind", typed="rolling", origin="told"))
    assert "        - {value: grille}\n        - {value: rolling, from: told}" in text
    assert read(text).openings[0].door.kind.standing == "two readings"


def test_not_known_and_none_there_are_two_different_things() -> None:
    text = written(Entry(path="door.serial", says="unknown"), Entry(path="name", says="none"))
    assert "serial: null\n" in text
    assert "name: {value: null, from: measured}\n" in text


def test_a_text_that_cannot_be_read_goes_out_as_a_comment_and_holds_up_no_other() -> None:
    text = written(
        Entry(path="door.clear_width", typed="wide\n  as a barn"), Entry(path="door.kind", typed="grille")
    )
    assert "      # door.clear_width: “wide as a barn” cannot be read" in text.splitlines()
    assert read(text).openings[0].door.kind.value == "grille"


def test_a_group_of_which_nothing_can_be_read_is_left_out_but_for_its_comments() -> None:
    text = written(Entry(path="cord.retracted", typed="long"))
    assert "cord:" not in text
    assert "# cord.retracted: “long” cannot be read" in text


def test_a_device_of_which_nothing_can_be_read_is_still_there() -> None:
    text = written(Entry(path="use.traffic.m1.per_hour", typed="many"))
    assert len(read(text).openings[0].use.traffic) == 1


def test_more_readings_than_a_file_may_have_go_out_as_comments() -> None:
    text = written(*(Entry(path="door.clear_width", typed=f"{n} m") for n in range(1, MOST_READINGS + 3)))
    assert text.count("one reading more") == 2
    assert len(read(text).openings[0].door.clear_width.readings) == MOST_READINGS


def test_a_device_that_was_taken_away_is_left_out_and_one_in_dispute_stands_in_one_of_two_readings() -> None:
    gone = written(Entry(path="protection.e1", says="removed"))
    assert "protection: []" in gone
    edge, eye = (
        Entry(path=f"protection.{key}.kind", typed=kind) for key, kind in (("e1", "loop"), ("y1", "guard"))
    )
    disputed = read(written(edge, eye, Entry(path="protection.e1", says="removed"))).openings[0].protection
    assert [[item.id.value for item in each] for each in disputed.rivals] == [["e1", "y1"], ["y1"]]


def test_a_country_that_nobody_can_read_or_nobody_knows_is_the_one_that_is_kept() -> None:
    for said in ({"says": "unknown"}, {"typed": "Atlantis"}):
        site = [Entry(path="site.country", **said)]  # type: ignore[arg-type]
        assert read(written(site=site, country="GB")).site.country.value == "GB"


def test_a_part_of_another_country_goes_out_as_a_comment() -> None:
    text = written(site=[Entry(path="site.subdivision", typed="WA")], country="DE")
    assert "# site.subdivision: “WA” cannot be read" in text
    assert read(text).site.subdivision.standing == "not asked"


@pytest.mark.parametrize(
    "name", ["a: b", "- x", "null", "#", "é \u0081 \u2028 '", "{%", "'\"\\", "2026-03-04", "1e3"]
)
def test_any_name_and_any_tag_come_back_as_they_were(name: str) -> None:
    survey = read(survey_text(name, "US", [], {name: []}, f"{name}, written today.\nSecond line \u0007."))
    assert (survey.site.name.value, survey.openings[0].tag.value) == (name.strip(), name.strip())


def test_a_path_that_names_nothing_is_left_out() -> None:
    text = written(*(Entry(path=path, typed="x") for path in ("door", "colour", "door.kind.more", "", ".", "tag")))
    assert read(text).openings[0].given  # its tag
    assert "colour" not in text


def test_comments_are_in_the_language_of_the_reader() -> None:
    said = [Entry(path="door.kind", typed="{x}")]
    text = survey_text(
        "Ferry Yard", "US", [], {"B1": said}, translate=lambda words: words.replace("cannot", "can't")
    )
    assert "# door.kind: “{x}” can't be read" in text
