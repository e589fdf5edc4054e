"""The take-off in words: the floor stretch by stretch and profile by profile, who measured, how the body lies."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from sillwright.base.words import Reader
from sillwright.catalogue import demo
from sillwright.paper.floor_words import floor_told, stretch_in_words
from sillwright.paper.of_opening import opening_paper
from sillwright.paper.report import report_data
from sillwright.paper.takeoff_page import lead_picture, takeoff_page
from sillwright.paper.voice import Voice
from sillwright.study import study_opening, study_site
from sillwright.survey.reading import read_survey
from sillwright.takeoff.floors.floor_model import Stretch

from ..takeoff.openings import SECTIONAL, at
from .test_order_papers import words_of

US, METRIC = Voice(Reader(units="us")), Voice(Reader(units="metric"))
SITE = Path(__file__).parents[2] / "examples/ferry-yard.yaml"
FT = 0.3048


@pytest.fixture(scope="module")
def yard():
    """The example's site, studied with the invented catalogue."""
    return study_site(read_survey(SITE), Reader(units="us", country="US"), catalogue=demo())


@pytest.mark.parametrize(
    ("stretch", "said"),
    [
        (Stretch(start=2 * FT, end=4 * FT, work="grind", most=0.00635),
         "From 2 ft to 4 ft from the left jamb: grind off up to 1/4 in."),
        (Stretch(start=0.0, end=FT, work="patch", most=0.0127),
         "From 0 in to 1 ft from the left jamb: fill, up to 1/2 in deep."),
        (Stretch(start=0.0, end=10 * FT, work="taper", most=0.0254, at_start=0.0254, at_end=0.0),
         "From 0 in to 10 ft from the left jamb: a tapered piece, 1 in thick at its left end, 0 in at its right "
         "end."),
    ],
)  # fmt: skip
def test_what_is_done_along_the_sill_is_said_stretch_by_stretch(stretch, said):
    assert stretch_in_words(stretch, US) == said
    assert " m " in stretch_in_words(stretch, METRIC) or "mm" in stretch_in_words(stretch, METRIC)


def test_every_profile_says_how_it_lies_on_the_floor(yard):
    told = floor_told(yard.openings[0].takeoff.floor, US)
    rows = {row[0]: row[1:] for row in told["floor_rows"]}
    assert len(rows) == len(demo().profiles)
    assert rows["Edge class C"] == ["3/16 in", "1/16 in", "The body touches everywhere."]
    assert "the cut-out is needed" in rows["Edge class A"][2]


def test_where_a_profile_leaves_the_floor_open_it_says_from_where_to_where_and_how_far():
    points = [["0 in", "0 in"], ["5 ft", "1 in"], ["10 ft 4 in", "0 in"]]
    facts = {**SECTIONAL, "floor.read_as": "heights", "floor.points": points}
    site, opening = at(facts)
    told = floor_told(study_opening(site, opening, points=64, catalogue=demo()).takeoff.floor, US)
    (low,) = [row for row in told["floor_rows"] if row[0] == "Edge class A"]
    assert low[3].startswith("Open: from ")
    assert "from the left jamb" in low[3]
    assert any("from the left jamb" in each for each in told["floor"][1:])


def test_a_floor_that_nobody_read_has_no_rows():
    study = study_opening(*at(SECTIONAL), points=64, catalogue=demo())
    told = floor_told(study.takeoff.floor, US)
    assert told["floor_rows"] == []
    assert len(told["floor"]) == 1


def test_a_length_says_who_measured_it_and_when(yard):
    notes = takeoff_page(yard.openings[0], US)["notes"]
    assert "It comes from: door: bottom panel, stile to stile (measured, technician, 2026-03-04)." in notes


def test_prices_of_profiles_stand_with_their_currency(yard):
    rows = takeoff_page(yard.openings[0], US)["profiles"]
    assert all(row[2].endswith(" USD") for row in rows)


def test_the_report_shows_how_the_body_lies_and_how_it_comes_to_rest(yard):
    data = report_data(yard, made_on=date(2026, 3, 5), version="test")
    first = data["openings"][0]["order"]
    assert "face down" in data["images"][first["sketch"]]["svg"]
    assert any("at least 15 minutes" in each for each in first["rest"])


def test_what_the_doors_maker_supplies_is_neither_drawn_nor_rested():
    study = study_opening(*at({**SECTIONAL, "door.kind": "high_speed"}), points=64)
    assert lead_picture(study, US) is None
    assert takeoff_page(study, US)["rest"] == []


def test_a_body_without_an_end_for_its_lead_is_not_drawn(yard):
    found = {each.opening.tag.value: lead_picture(each, US) for each in yard.openings}
    assert found["B1"] is not None
    assert [found[each.opening.tag.value] is None for each in yard.openings] == [
        each.takeoff.lead.end is None or each.takeoff.bodies[0].body is None or each.opening.tag.value == "F1"
        for each in yard.openings
    ]


def test_no_install_sheet_runs_onto_a_third_page(yard, tmp_path):
    for each in yard.openings:
        for reader in (Reader(units="us", country="US"), Reader(units="metric", country="DE")):
            made = opening_paper("install", each, reader, made_on=date(2026, 3, 5), version="x", catalogue=demo())
            assert "page 1 of 2" in " ".join(words_of(made, tmp_path).split()), each.opening.tag.value
