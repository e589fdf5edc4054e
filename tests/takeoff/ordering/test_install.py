"""The install sheet says what to bring, what to do in which order, what never to do and what to test."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from sillwright.base.words import Sentence
from sillwright.takeoff.answer import Way
from sillwright.takeoff.ordering import install

from ...survey.building import survey_of
from .orders import COMMON, METRIC, line, lines, said, take_off


def opening(**facts):
    return survey_of({"tag": "B2", **facts}).openings[0]


def sheet(taken=None, profile=COMMON, made=None, reader=None, **facts):
    """The sections of a sheet in words, by id."""
    found = install(opening(**facts), taken or take_off(), profile, lines() if made is None else made)
    return {each.id: [said(one, reader) if reader else said(one) for one in each.sentences] for each in found}


def test_every_section_says_something_in_this_order():
    found = sheet()
    assert list(found) == ["cautions", "bring", "rest", "fix", "way", "connect", "never", "tests"]
    assert all(found.values())


def test_the_cautions_come_first():
    said_first = " ".join(sheet()["cautions"])
    for told in ("locked out", "Two people", "under the leaf", "Springs", "blocked at working height"):
        assert told in said_first


def test_a_fire_door_and_an_open_question_are_cautions_of_their_own():
    assert "Fire door" in " ".join(sheet(door={"kind": "rolling_fire"})["cautions"])
    assert "A question of the order still stands" in " ".join(
        sheet(made=lines(take_off(lead=replace(take_off().lead, confirmed_by=""))))["cautions"]
    )
    assert "question" not in " ".join(sheet()["cautions"])


def test_what_to_bring_names_lengths_parts_and_the_word_of_the_length():
    words = " ".join(sheet()["bring"])
    assert "B2: Invented common, overall body 10 ft 6 in (3.200 m)." in words
    assert "Channel Invented slide-in: 10 ft 6 in." in words
    assert "With it: Cord 2 ft, two; Box with glands." in words
    assert "two plugs" not in words
    assert "two plugs" in " ".join(sheet(profile=replace(COMMON, construction="cut_on_site"))["bring"])


def test_without_order_lines_the_crew_is_sent_for_them():
    assert "bring the order sheet" in " ".join(sheet(made=())["bring"])


def test_a_coiled_edge_rests_before_it_is_fitted():
    words = " ".join(sheet()["rest"])
    assert "at least 15 minutes" in words
    assert "flat within 1/4 in" in words
    assert "Unroll" not in " ".join(sheet(made=(line(ship="straight"),))["rest"])


def test_len_16_to_18_say_how_it_is_fixed():
    words = " ".join(sheet()["fix"])
    for told in (
        "Push the body into the channel, never pull it", "through the foot, never through the tube",
        "pieces up to 12 ft, 1/8 in between them; first screw 2 in from each end",
        "a screw every 1 ft to 1 ft 4 in",
        "weep holes of 1/4 in every 4 ft", "toward the weather", "left, inside looking out",
        "on the right of someone who stands outside",
    ):  # fmt: skip
        assert told in words, told
    assert "305 mm to 406 mm" in " ".join(sheet(reader=METRIC)["fix"])


def test_a_channel_that_stays_needs_no_screws():
    stays = replace(take_off().channel, kind="existing", part=None)
    assert "weep holes" not in " ".join(sheet(take_off(channel=stays))["fix"])


@pytest.mark.parametrize(
    ("kind", "words"),
    [("cord", "near half the travel"), ("reel", "stay wound"), ("radio", "battery"), ("unknown", "is not known")],
)
def test_the_way_of_the_signal_has_its_own_words(kind, words):
    way = Way(kind=kind, why=Sentence("So it goes."))
    assert words in " ".join(sheet(take_off(way=way))["way"])


def test_connections_come_in_order_from_the_edge_to_the_input():
    found = sheet()["connect"]
    at = [
        next(n for n, each in enumerate(found) if word in each)
        for word in ("Lock out", "alone", "in the box", "Last")
    ]
    assert at == sorted(at)
    assert any("never at the operator" in each for each in found)
    assert not any("two strips" in each for each in found)
    assert any("two strips" in each for each in sheet(made=(line(circuit="four_wire"),))["connect"])


def test_a_sealed_body_is_never_cut_and_one_for_cutting_may_be():
    assert "Never cut, glue or trim" in " ".join(sheet()["never"])
    assert "Never cut, glue or trim" in " ".join(sheet(profile=None)["never"])
    assert "Never cut" not in " ".join(sheet(profile=replace(COMMON, construction="cut_on_site"))["never"])


def test_tests_1_to_11_come_in_order_and_where_people_live_only_the_last():
    names = [each.split(":")[0] for each in sheet(door={"occupancy": "residential"})["tests"]]
    assert names[:11] == [f"TEST-{n}" for n in range(1, 12)]
    commercial = [each.split(":")[0] for each in sheet(door={"occupancy": "commercial"})["tests"]]
    assert "TEST-11" not in commercial
    assert "TEST-11" in [each.split(":")[0] for each in sheet()["tests"]]  # not known: tested
    assert "press every 1 ft, and 2 in from each end" in " ".join(sheet()["tests"])


def test_no_sentence_promises_anything_or_shows_how_to_defeat_a_device():
    words = " ".join(" ".join(each) for each in sheet().values())
    assert not re.search(r"\b(safe|compliant|certified|approved|guaranteed)\b|!", words, re.IGNORECASE)
    assert not re.search(r"\bbridge|\btape over|\bjumper the", words, re.IGNORECASE)


def test_a_gate_a_converter_and_several_pieces_have_words_of_their_own():
    found = sheet(made=(line(converter="a converter", pieces=3, circuit="optical"),), door={"kind": "slide_gate"})
    assert "beside the operator" in " ".join(found["connect"])
    assert "in series" in " ".join(found["connect"])
    assert "polarity" in " ".join(found["connect"])
    assert "lie on the ground" in " ".join(found["never"])


def test_without_a_known_height_the_limit_is_set_anew_all_the_same():
    unknown = replace(take_off().changes, added_height=None)
    assert "Set the closed limit and the cut-out" in " ".join(sheet(take_off(changes=unknown))["fix"])


@pytest.mark.parametrize(
    ("material", "words"),
    [
        ("wood", "The bottom of the leaf: wood."),
        ("insulated", "The bottom of the leaf: insulated, metal over foam."),
        (None, "What the bottom of the leaf is made of is not known"),
        ({"value": "steel", "from": "assumed"}, "What the bottom of the leaf is made of is not known"),
    ],
)
def test_the_crew_reads_what_the_screws_go_into_or_that_nobody_looked(material, words):
    assert words in " ".join(sheet(door={"bottom": {"material": material}})["bring"])


@pytest.mark.parametrize(
    ("material", "never"), [("wood", False), ("steel", True), ("aluminium", True), (None, True)]
)
def test_only_wood_may_be_cut_to_the_floor(material, never):
    said_never = " ".join(sheet(door={"bottom": {"material": material}})["never"])
    assert ("metal are never cut to fit the floor" in said_never) == never
