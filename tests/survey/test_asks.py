"""Plausibility: each question is asked on its side of the threshold, and no value is corrected.

Thresholds are those of the trade's rules of thumb, from memory (ASK-1 to ASK-8).
"""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.fact import ORIGINS
from sillwright.base.words import Reader, render
from sillwright.survey.asks import ORIGIN_IN_WORDS, plausibility

from .building import opening_of, survey_of

US = Reader()
SIZE = {"door.clear_width": "10 ft 4 in", "door.clear_height": "10 ft"}


def asked(facts: dict[str, Any]) -> dict[str, str]:
    """The questions by id, rendered."""
    return {each.id: render(each.text, US) for each in plausibility(opening_of({**SIZE, **facts}))}


def measured(value: object, **more: object) -> dict[str, object]:
    return {"value": value, "from": "measured", **more}


def test_a_plausible_opening_raises_no_question():
    assert asked({"door.panel_width": "10 ft 6 in", "lead.end": "right", "operator.side": "right"}) == {}


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("10.6 ft", "The clear width was written “10.6 ft”: 10 ft 6 in, or 10.6 ft = 10 ft 7-3/16 in?"),
        ("10.75 ft", "The clear width was written “10.75 ft”, feet with a decimal point: is 10 ft 9 in meant?"),
        ("10.0 ft", "The clear width was written “10.0 ft”, feet with a decimal point: is 10 ft meant?"),
    ],
)
def test_ask_1_decimal_feet_are_asked_about_and_used_as_written(typed, said):
    facts = {"door.clear_width": typed}
    assert asked(facts)["ASK-1"] == said
    assert opening_of(facts).door.clear_width.value == pytest.approx(float(typed.split()[0]) * 0.3048)


def test_ask_1_stands_as_a_note_once_somebody_measured():
    both = [{"value": "10.6 ft", "from": "told"}, measured("10 ft 6 in")]
    levels = {each.id: each.level for each in plausibility(opening_of({**SIZE, "door.clear_width": both}))}
    assert levels == {"ASK-1": "note"}


def test_ask_1_is_asked_of_a_reading_that_is_contradicted_too():
    both = [measured("10.6 ft"), {"value": "10 ft 6 in", "from": "told"}]
    assert {"ASK-1", "survey.two_readings"} <= set(asked({"door.clear_width": both}))


@pytest.mark.parametrize(
    ("panel", "is_asked"),
    [("10 ft 3-15/16 in", True), ("10 ft 4 in", False), ("10 ft 10 in", False), ("10 ft 10-1/16 in", True)],
)
def test_ask_2_a_panel_is_up_to_six_inches_wider_than_the_opening(panel, is_asked):
    assert ("ASK-2" in asked({"door.panel_width": measured(panel)})) is is_asked


def test_ask_2_is_for_sectional_leaves():
    assert "ASK-2" not in asked({"door.kind": "rolling", "door.panel_width": measured("12 ft 1 in")})


@pytest.mark.parametrize(
    ("over", "is_asked"), [("1-7/16 in", False), ("1-1/2 in", True), ("6 in", True), ("6-1/16 in", False)]
)
def test_ask_3_a_bar_measured_over_the_guides(over, is_asked):
    facts = {
        "door.kind": "rolling",
        "door.guide_clear.floor": "120 in",
        "door.guide_clear.head": "120-1/4 in",
        "door.bottom.bar_overall": f"{120 + int(over.split('-')[0].split()[0])}{over[1:]}",
    }
    assert ("ASK-3" in asked(facts)) is is_asked
    assert "ASK-3" not in asked({**facts, "door.kind": "sectional"})


@pytest.mark.parametrize(
    ("width", "is_asked"),
    [("10 ft", True), (3.048, True), ("10 ft 1/16 in", False), ({"value": "10 ft", "from": "told"}, True)],
)
def test_ask_4_a_whole_number_of_feet_may_be_nominal(width, is_asked):
    assert ("ASK-4" in asked({"door.clear_width": width})) is is_asked


def test_ask_4_is_silent_where_somebody_measured():
    assert "ASK-4" not in asked({"door.clear_width": measured("10 ft")})


def test_ask_5_shows_both_measurements_who_and_when():
    twice = [measured("10 ft", by="technician", on="2026-03-04"), measured("10 ft 5/8 in", by="advisor")]
    said = asked({"door.clear_width": twice})["ASK-5"]
    assert "10 ft (measured, technician, 2026-03-04)" in said
    assert "10 ft 5/8 in (measured, advisor)" in said


def test_measurements_half_an_inch_apart_are_not_asked_about():
    assert asked({"door.headroom": [measured("24 in"), measured("24-1/2 in")]}) == {}


@pytest.mark.parametrize(
    ("path", "called"),
    [
        ("door.guide_clear.floor", "clear between the guides at the floor"),
        ("door.side_room.left", "side room, left"),
        ("box.height", "height of the box"),
        ("door.closing_speed", "closing speed"),
    ],
)
def test_a_fact_in_doubt_is_called_by_a_name_that_says_which_it_is(path, called):
    unit = "in/s" if path.endswith("speed") else "in"
    readings = [measured(f"20 {unit}"), {"value": f"25 {unit}", "from": "told"}]
    assert asked({path: readings})["survey.two_readings"].startswith(f"Two readings of the {called} do not agree")


def test_a_member_of_a_list_in_doubt_has_its_name_too():
    stations = [{"height": "5.5 ft"}]
    assert asked({"stations": stations})["ASK-1"].startswith("The height of the station was written “5.5 ft”")


def test_two_readings_of_anything_else_are_shown_with_their_origins():
    said = asked(
        {
            "operator.board_made": [
                {"value": None, "from": "measured"},
                {"value": "2020", "from": "told"},
                {"value": None},
            ]
        }
    )
    assert list(said) == ["survey.two_readings"]
    assert said["survey.two_readings"].endswith("board do not agree: none there (measured), 2020 (told).")


@pytest.mark.parametrize(
    ("path", "value", "other", "place"),
    [
        ("protection", [{"id": "e1", "wires": [{"value": 2}, {"value": 4}]}], None, "protection.e1"),
        ("operator.side", "left", "right", "operator"),
        ("floor.wet", True, False, "floor"),
        ("use.public", True, False, None),
    ],
)
def test_a_contradiction_knows_its_place_on_the_drawing(path, value, other, place):
    given = value if other is None else [{"value": value}, {"value": other}]
    (found,) = plausibility(opening_of({**SIZE, path: given, "door.clear_height": "10 ft 1 in"}))
    assert found.place == place


@pytest.mark.parametrize(
    ("width", "height", "is_asked"),
    [
        ("25 ft", "10 ft", False),
        ("25 ft 1 in", "10 ft", True),
        ("5 ft", "10 ft", False),
        ("4 ft 11 in", "10 ft", True),
    ],
)
def test_ask_6_width_and_height_may_be_swapped(width, height, is_asked):
    facts = {"door.clear_width": measured(width), "door.clear_height": height}
    assert ("ASK-6" in asked(facts)) is is_asked
    assert "ASK-6" not in asked({**facts, "door.kind": "grille"})


@pytest.mark.parametrize(("head", "is_asked"), [("120-3/8 in", False), ("120-7/16 in", True)])
def test_ask_7_a_guide_is_bent(head, is_asked):
    facts = {"door.kind": "rolling", "door.guide_clear": {"floor": "120 in", "chest": "120 in", "head": head}}
    assert ("ASK-7" in asked(facts)) is is_asked


@pytest.mark.parametrize(
    ("end", "side", "is_asked"),
    [
        ("left", "right", True),
        ("right", "right", False),
        ("both", "left", False),
        (None, "left", False),
        ("left", None, False),
    ],
)
def test_ask_8_a_lead_on_the_other_side_needs_a_reason(end, side, is_asked):
    facts = {"lead.end": end, "operator.side": side}
    assert ("ASK-8" in asked(facts)) is is_asked
    reason = {"statements": [{"words": "the wall is full", "about": "lead"}]}
    assert "ASK-8" not in asked({**facts, **reason})


def test_every_origin_has_its_words():
    assert set(ORIGIN_IN_WORDS) == {*ORIGINS, None}


def test_every_question_says_what_to_do_and_which_facts_it_rests_on():
    opening = opening_of(
        {"door.clear_width": "40 ft", "door.panel_width": "9.5 ft", "lead.end": "left", "operator.side": "right"}
    )
    found = plausibility(opening)
    assert {each.id for each in found} == {"ASK-1", "ASK-2", "ASK-4", "ASK-6", "ASK-8"}
    for each in found:
        assert each.do is not None
        assert all(opening.fact(path).standing != "not asked" for path in each.facts)
        assert each.sources[0].sure == "memory"


def test_somebody_of_unknown_size_is_asked_about():
    assert "survey.who" in asked({"use.traffic": [{"who": "dragon", "per_hour": 1}]})
    sized = {"who": "stilt walker", "height": "3 m", "depth": "0.5 m", "speed": "1 m/s"}
    assert asked({"use.traffic": [{"who": "adult"}, sized]}) == {}


def test_a_coldest_above_the_hottest_is_asked_about():
    sides = {"surroundings.cold_side": "40 degF", "surroundings.warm_side": "-10 degF"}
    assert "survey.temperatures" in asked(sides)
    assert "survey.temperatures" not in asked({**sides, "surroundings.warm_side": "40 degF"})
    survey = survey_of({}, coldest="100 degF", hottest="5 degF")
    found = plausibility(survey.openings[0], survey.site)
    assert [each.facts for each in found if each.id == "survey.temperatures"] == [("site.coldest", "site.hottest")]


def test_a_means_that_is_no_device_there_is_asked_about():
    gate = {"door.kind": "slide_gate", "protection": [{"id": "e1", "kind": "sensing_edge"}]}
    for means, wrong in ((["e1"], False), (["sensing_edge"], False), (["E1"], True), (["photo_eye"], True)):
        facts = {**gate, "zones": [{"place": "post", "means": means}]}
        assert ("survey.means" in asked(facts)) is wrong
    assert "survey.means" not in asked({"door.kind": "slide_gate", "zones": [{"place": "post", "means": ["e1"]}]})


def test_a_name_that_differs_from_the_list_by_a_hyphen_or_a_capital_is_asked_about():
    def facts(model, through=None):
        device = {"id": "e1", "kind": "sensing_edge", "model": model, "through": through or []}
        return {"operator.lists_devices": ["edge-m", "conv-a"], "protection": [device]}

    for model, wrong in (("edge-m", False), ("EDGE-M", True), ("edge m", True), ("edge-n", False), (None, False)):
        assert ("survey.name_alike" in asked(facts(model))) is wrong
    assert "“Conv A”" in asked(facts("edge-m", ["Conv A"]))["survey.name_alike"]
    both = {**facts("edge-m"), "operator.lists_devices": ["edge-m", "EDGE M", "–"]}
    assert "survey.name_alike" not in asked(both)
    assert "survey.name_alike" not in asked({**both, **facts("—"), "operator.lists_devices": ["–"]})
