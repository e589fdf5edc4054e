"""Which length would be ordered for a survey, by which measurement, and which traps are noticed.

The sites are invented. Each trap is one that makes edges come out wrong: the opening measured in place of the
panel, the bar over the guides, sizes from the telephone, feet with a decimal point, a bent guide, metres.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import Reader, render
from sillwright.catalogue.profile import Ends, Profile
from sillwright.takeoff.lengths.bodies import bodies
from sillwright.takeoff.lengths.length_facts import guides_as_told

from .openings import (
    ROLLING,
    SECTIONAL,
    SLIDE_GATE,
    SWING_GATE,
    US,
    assumed,
    at,
    bodies_at,
    body_at,
    inches,
    measured,
    said,
    told,
    without,
)

METRIC = Reader(units="metric")


def test_a_measured_panel_gives_the_body_and_says_who_measured_it():
    body = body_at(SECTIONAL)
    assert (inches(body.body), body.rule, body.place) == (126, "LEN-1", "bottom")
    assert (body.measured, body.origin, body.by) == (("door.panel_width",), "measured", "technician")
    assert body.missing == ()


def test_the_opening_is_never_taken_for_the_panel():
    body = body_at(without(SECTIONAL, "door.panel_width"))
    assert (body.body, body.channel, body.dead_left) == (None, None, None)
    assert body.missing == ("door.panel_width",)
    assert "width of the bottom panel" in said(body)["measure"]


def test_twelve_by_twelve_from_the_telephone_tells_no_length():
    facts = {**without(SECTIONAL, "door"), "door.kind": "sectional"}
    body = body_at({**facts, "door.clear_width": told("12 ft"), "door.clear_height": told("12 ft")})
    assert body.body is None


def test_a_told_panel_is_used_and_marked():
    body = body_at({**SECTIONAL, "door.panel_width": told("12 ft")})
    assert (inches(body.body), body.origin, body.by) == (144, "told", "shift lead")


def test_an_assumed_panel_is_used_in_numbers_and_marked():
    body = body_at({**SECTIONAL, "door.panel_width": assumed("10 ft 6 in")})
    assert (inches(body.body), body.origin) == (126, "assumed")


def test_a_bare_panel_is_known_and_its_origin_is_not_recorded():
    assert body_at({**SECTIONAL, "door.panel_width": "10 ft 6 in"}).origin == "unrecorded"


def test_of_repeated_measurements_the_smallest_counts_with_its_name():
    readings = [measured("10 ft 6-1/2 in", "technician"), measured("10 ft 6-1/8 in", "second pair of hands")]
    body = body_at({**SECTIONAL, "door.panel_width": readings})
    assert (inches(body.body), body.by, body.origin) == (126, "second pair of hands", "measured")


@pytest.mark.parametrize("other", [measured("10 ft 10 in"), told("10 ft 8 in")])
def test_two_readings_that_give_two_lengths_tell_none_and_show_both(other):
    body = body_at({**SECTIONAL, "door.panel_width": [measured("10 ft 6 in"), other]})
    assert (body.body, body.piece, body.order, body.origin) == (None, None, None, "two readings")
    assert "10 ft 6 in" in said(body)["two_lengths"]


def test_two_readings_that_give_one_length_tell_it():
    """The guides decide, whichever of the two readings of the seat holds."""
    body = body_at({**ROLLING, "door.bottom.seat_length": [measured("14 ft"), told("15 ft")]})
    assert (inches(body.body), body.origin) == (163, "two readings")


def test_measurements_of_a_wide_leaf_more_than_half_an_inch_apart_are_two_readings():
    """An inch on 20 ft is less than 0.5 %, and too much between fixed parts."""
    wide = {**SECTIONAL, "door.clear_width": measured("20 ft")}
    apart = body_at({**wide, "door.panel_width": [measured("20 ft 3 in"), measured("20 ft 2 in")]})
    assert (apart.body, apart.origin) == (None, "two readings")
    near = body_at({**wide, "door.panel_width": [measured("20 ft 3 in"), measured("20 ft 2-1/2 in")]})
    assert (inches(near.body), near.origin) == (242.5, "measured")


def test_a_contradicted_opening_gives_the_length_and_the_worse_strip():
    width = [measured("10 ft 4 in"), told("10 ft 7 in")]
    body = body_at({**SECTIONAL, "door.clear_width": width})
    assert inches(body.body) == 126
    assert inches(body.dead_left) == 2.5  # 2 in, and half of 1 in


def test_a_contradicted_kind_that_gives_two_lengths_tells_none():
    facts = {**ROLLING, "door.panel_width": measured("13 ft 9 in")}
    body = body_at({**facts, "door.kind": [told("rolling"), {"value": "sectional", "from": "photo"}]})
    assert (body.body, body.place) == (None, "bottom")
    assert "13 ft 7 in" in said(body)["two_lengths"]


def test_a_kind_that_nobody_knows_gives_no_body():
    site, opening = at({**SECTIONAL, "door.kind": None})
    assert bodies(site, opening) == ()


def test_a_decimal_foot_is_used_as_it_is_written():
    """10.6 ft are 127.2 in, and not 10 ft 6 in."""
    assert inches(body_at({**SECTIONAL, "door.panel_width": told("10.6 ft")}).body) == 127


def test_a_metric_survey_gives_the_quarter_inch_below():
    body = body_at({**SECTIONAL, "door.panel_width": measured("3.20 m"), "door.clear_width": measured("3.15 m")})
    assert inches(body.body) == 125.75  # 3.20 m are 125.98 in
    assert body.usual_mistake is not None
    assert "1-3/4 in too short" in render(body.usual_mistake, US)
    assert "44 mm too short" in render(body.usual_mistake, METRIC)


def test_the_width_of_the_leaf_stands_in_for_the_panel_and_the_panel_stays_missing():
    facts = {**without(SECTIONAL, "door.panel_width"), "door.leaf_width": measured("10 ft 6 in")}
    body = body_at(facts)
    assert (inches(body.body), body.measured, body.missing) == (126, ("door.leaf_width",), ("door.panel_width",))
    assert "something else in its place" in said(body)["measure"]


def test_the_width_of_a_curtain_stands_in_for_nothing():
    facts = {**without(ROLLING, "door.guide_clear"), "door.leaf_width": measured("13 ft 10 in")}
    assert body_at(facts).body is None


def test_the_bar_over_all_stands_in_for_nothing():
    facts = {**without(ROLLING, "door.guide_clear"), "door.bottom.bar_overall": measured("14 ft")}
    assert body_at(facts).body is None


def test_the_bar_over_all_is_the_mistake_that_is_told():
    body = body_at({**ROLLING, "door.bottom.bar_overall": measured("14 ft")})
    assert body.usual_mistake is not None
    assert "14 ft, 5 in too long. It would stand in the guides." in render(body.usual_mistake, US)
    assert inches(body.body) == 163


def test_the_bar_written_down_as_the_clear_is_noticed():
    same = {f"door.guide_clear.{place}": measured("14 ft") for place in ("floor", "chest", "head")}
    found = said(body_at({**ROLLING, **same, "door.bottom.bar_overall": measured("14 ft")}))
    assert "a bar reaches into the guides" in found["bar_as_clear"]


def test_the_panel_copied_from_the_opening_is_noticed():
    found = said(body_at({**SECTIONAL, "door.panel_width": measured("10 ft 4 in")}))
    assert "both 10 ft 4 in" in found["panel_is_opening"]
    assert "panel_is_opening" not in said(body_at(SECTIONAL))


def test_the_deciding_height_stands_first_among_the_measurements():
    body = body_at(ROLLING)
    assert inches(body.body) == 163  # 163-7/8 − 2 × 3/8 in, down
    assert body.measured[0] == "door.guide_clear.chest"


def test_the_origin_is_that_of_the_weakest_measurement():
    assert body_at({**ROLLING, "door.guide_clear.floor": told("13 ft 8 in")}).origin == "told"


def test_ro_5_a_bent_guide_gives_the_smaller_body_and_says_straighten_first():
    facts = {**ROLLING, "door.guide_clear.chest": measured("13 ft 7-1/4 in")}
    body = body_at(facts)
    assert (inches(body.body), inches(body.clearance)) == (162.25, 0.5)
    assert "13 ft 7-1/4 in to 13 ft 8 in" in said(body)["guide_bent"]
    assert "guide_bent" not in said(body_at(ROLLING))


def test_a_guide_called_bent_that_reads_straight_is_told_with_its_one_reading():
    same = dict.fromkeys(
        ("door.guide_clear.floor", "door.guide_clear.chest", "door.guide_clear.head"), "13 ft 8 in"
    )
    bent = said(body_at({**ROLLING, **same, "door.guide_condition": "bent"}))["guide_bent"]
    assert "read as 13 ft 8 in all the same" in bent
    assert " to 13 ft 8 in" not in bent


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("straight", "looked_at"),
        ("looked at, good", "looked_at"),
        ("not bent, no dents", "looked_at"),
        ("no idea", "not_looked_at"),
        ("not straight", "not_looked_at"),
        ("not sure", "not_looked_at"),
        ("straight, not bent", "looked_at"),
        ("left one bent at the knee", "bent"),
        ("good but for a dent", "bent"),
        ("wind locks", "wind_locks"),
        ("good, wind-locks fitted", "wind_locks"),
        ("straight, no wind locks", "looked_at"),
        ("not looked at", "not_looked_at"),
        ("straight?", "not_looked_at"),
        ("unknown", "not_looked_at"),
        ("galvanized", "not_looked_at"),
        ("", "not_looked_at"),
        (None, "not_looked_at"),
        ("<b>straight</b>", "looked_at"),
    ],
)
def test_words_on_the_guides_count_as_looked_at_only_when_they_say_so(words, expected):
    assert guides_as_told(words) == expected


def test_three_heights_count_as_looked_at_and_one_does_not():
    one = without(ROLLING, "door.guide_clear.chest", "door.guide_clear.head")
    assert inches(body_at(ROLLING).clearance) == 0.375
    assert inches(body_at(one).clearance) == 0.5
    assert inches(body_at({**one, "door.guide_condition": "straight"}).clearance) == 0.375


def test_a_dead_end_that_nobody_told_makes_the_finding_ask_for_the_data_sheet():
    wide = {**SECTIONAL, "door.clear_width": measured("10 ft 8 in")}
    body = body_at(wide)
    (finding,) = (each for each in body.findings if each.id == "takeoff.dead_strip")
    assert (finding.level, inches(body.dead_left)) == ("act", 3)
    assert finding.do is not None
    assert "data sheet" in render(finding.do, US)
    assert any(each.id == "edge-dead-end" for each in finding.sources)


def profile(**more: Any) -> Profile:
    return Profile(
        name="Invented B", construction="factory_sealed", height=0.045, actuation_travel=0.005,
        circuits=("resistor",), **more,
    )  # fmt: skip


def test_a_profile_brings_its_dead_ends_its_word_and_its_longest_piece():
    short = profile(ends=Ends(lead=0.0254, far=0.0127), order_word="sensing", greatest=2.0)
    site, opening = at(SECTIONAL)
    (body,) = bodies(site, opening, short)
    assert (body.pieces, body.order_word, body.dead_known) == (2, "sensing", True)
    assert inches(body.dead_right) == 0.1875  # the lead is on the right: 1 in, less 13/16 in
    assert inches(body.dead_left) == 0
    assert body.piece is not None
    assert body.order == pytest.approx(body.piece - 0.0254 - 0.0127)
    (plain,) = bodies(site, opening)
    assert (plain.pieces, plain.order_word, plain.dead_known) == (1, "body", False)


@pytest.mark.parametrize(
    ("width", "level"), [("10 ft 6 in", None), ("10 ft 7 in", "note"), ("10 ft 7-1/8 in", "act")]
)
def test_the_dead_strip_at_its_boundaries(width, level):
    site, opening = at({**SECTIONAL, "door.clear_width": measured(width)})
    (body,) = bodies(site, opening, profile(ends=Ends(lead=0.0381, far=0.0381)))
    levels = [each.level for each in body.findings if each.id == "takeoff.dead_strip"]
    assert levels == ([level] if level else [])


def test_the_rule_on_dead_strips_is_said_to_be_another_countrys():
    wide = {**SECTIONAL, "door.clear_width": measured("10 ft 8 in")}
    for country, words in (("US", "residential operators"), ("DE", "a rule of the US")):
        (body,) = bodies(*at(wide, country=country))
        (finding,) = (each for each in body.findings if each.id == "takeoff.dead_strip")
        assert finding.why is not None
        assert words in render(finding.why, US)


def test_a_long_body_in_pieces_tells_of_its_joints():
    long = {"door.leaf_width": measured("48 ft 6 in"), "door.clear_width": measured("48 ft")}
    facts = {**SECTIONAL, "door.kind": "one_piece", "door.meets": "overlaps", **long}
    body = body_at(facts)
    assert (body.pieces, inches(body.piece)) == (3, 193.75)
    assert "3 pieces" in said(body)["joint"]


# Sizes that cannot be together.
IMPOSSIBLE = {
    "leaf between jambs": {
        "door.kind": "one_piece",
        "door.meets": "between_jambs",
        "door.leaf_width": measured("10 ft 5 in"),
    },
    "leaf overlaps": {
        "door.kind": "one_piece",
        "door.meets": "overlaps",
        "door.leaf_width": measured("10 ft 3 in"),
    },
    "bar and guides": {
        "door.kind": "rolling",
        "door.bottom.bar_overall": measured("10 ft"),
        "door.guide_clear.floor": measured("10 ft 2 in"),
    },
    "seat and bar": {
        "door.kind": "rolling",
        "door.bottom.bar_overall": measured("10 ft"),
        "door.bottom.seat_length": measured("10 ft 1 in"),
    },
    "top below underside": {
        "door.kind": "slide_gate",
        "door.leaf_top": measured("10 in"),
        "door.underside": measured("12 in"),
    },
    "three heights": {
        "door.kind": "slide_gate",
        "door.leaf_top": measured("84 in"),
        "door.underside": measured("2 in"),
        "door.leaf_height": measured("60 in"),
    },
}


@pytest.mark.parametrize("facts", IMPOSSIBLE.values(), ids=IMPOSSIBLE.keys())
def test_sizes_that_cannot_be_together_are_named(facts):
    assert "cannot_be" in said(body_at({**SECTIONAL, **facts}))


def test_sizes_that_can_be_together_are_not():
    for facts in (SECTIONAL, ROLLING, SLIDE_GATE, SWING_GATE):
        assert "cannot_be" not in said(body_at(facts))


def test_an_edge_that_is_longer_than_fits_is_not_copied():
    edge = [{"id": "e1", "kind": "sensing_edge", "circuit": "resistor", "length": measured("13 ft 10 in")}]
    found = said(body_at({**ROLLING, "protection": edge}))
    assert "13 ft 10 in, 3 in longer than fits" in found["edge_too_long"]


def edges_of(*lengths, **facts):
    return [
        {"id": f"e{number}", "kind": "sensing_edge", "length": length, **facts}
        for number, length in enumerate(lengths, 1)
    ]


@pytest.mark.parametrize(
    ("edges", "short"),
    [
        (edges_of("10 ft"), False),  # 4 in less than the opening: 2 in at each side may be dead (ref edge-dead-end)
        (edges_of("9 ft 11-15/16 in"), True),
        (edges_of("9 ft"), True),
        (edges_of("5 ft", "5 ft"), False),
        (edges_of("5 ft", None), False),
        (edges_of("9 ft", state="torn_off"), False),
    ],
)
def test_an_edge_that_cannot_reach_both_jambs_is_named(edges, short):
    facts = {**SECTIONAL, "door.clear_width": "10 ft 4 in", "protection": edges}
    assert ("edge_too_short" in said(body_at(facts))) is short


def test_between_guides_the_light_is_what_an_edge_has_to_reach_across():
    clear = {f"door.guide_clear.{place}": "9 ft 9 in" for place in ("floor", "chest", "head")}
    facts = {**ROLLING, **clear, "door.clear_width": "10 ft 4 in", "protection": edges_of("9 ft 6 in")}
    assert "edge_too_short" not in said(body_at(facts))


def test_brackets_shorten_the_channel_and_ask_for_a_look():
    body = body_at(
        {
            **SECTIONAL,
            "door.bottom.brackets.left": measured("1-1/2 in"),
            "door.bottom.brackets.right": measured("1-1/2 in"),
        }
    )
    assert (inches(body.body), inches(body.channel)) == (126, 123)
    assert "3 in of the channel" in said(body)["brackets"]


def test_a_fire_doors_body_is_for_information():
    body = body_at({**ROLLING, "door.kind": "rolling_fire"})
    assert (inches(body.body), body.rule, body.informs_only) == (163, "LEN-6", True)
    assert "dead_strip" not in said(body)
    assert "through the door's maker" in said(body)["fire_door_parts"]


def test_a_fabric_door_is_ordered_by_serial():
    fast = {**SECTIONAL, "door.kind": "high_speed", "door.bottom.seat_length": measured("10 ft")}
    body = body_at(fast)
    assert (body.body, body.missing) == (None, ("door.serial",))
    assert "9 ft 10 in to 9 ft 11 in" in said(body)["pocket"]
    assert body_at({**fast, "door.serial": "K-0071"}).missing == ()


# Gates: several bodies.
def test_a_slide_gate_has_a_body_for_each_edge_that_meets_something():
    found = {each.place: (inches(each.body), each.count) for each in bodies_at(SLIDE_GATE)}
    assert found == {"leading": (69, 1), "trailing": (69, 1), "post": (70, 2)}
    assert bodies_at(SLIDE_GATE)[0].place == "leading"


def test_zones_that_nobody_listed_leave_the_number_of_bodies_open():
    found = bodies_at(without(SLIDE_GATE, "zones"))
    assert {each.place: each.count for each in found} == {"leading": 1, "trailing": None, "post": None}
    assert "count" in said(found[1])


def test_an_empty_list_of_zones_says_that_there_are_none():
    assert [each.place for each in bodies_at({**SLIDE_GATE, "zones": []})] == ["leading"]


def test_a_gap_that_is_missing_in_the_list_leaves_the_number_open():
    found = bodies_at({**SLIDE_GATE, "zones": [{"place": "guide post"}, {"place": "tail end"}]})
    assert {each.place: each.count for each in found} == {"leading": 1, "trailing": None, "post": None}


def test_a_slide_gate_is_no_longer_than_its_opening_by_mistake():
    body = body_at({**SLIDE_GATE, "door.clear_width": measured("20 ft")})
    assert inches(body.body) == 69
    assert body.usual_mistake is not None


def test_a_gates_top_follows_from_its_height_and_gap():
    facts = {**without(SLIDE_GATE, "door.leaf_top"), "door.leaf_height": measured("48 in")}
    body = body_at(facts)
    assert (inches(body.body), body.measured) == (47, ("door.underside", "door.leaf_height"))


def test_a_swing_gate_has_a_body_at_its_tip_and_below():
    found = {each.place: inches(each.body) for each in bodies_at(SWING_GATE)}
    assert found == {"tip": 58, "underside": 88}
    assert bodies_at(SWING_GATE)[0].measured == ("door.leaf_height", "door.underside")


def test_the_ground_that_rises_along_the_swing_counts():
    low = {**SWING_GATE, "door.underside": measured("3 in")}
    assert [each.place for each in bodies_at(low)] == ["tip"]
    rising = [{"place": "underside at full open", "gap": "5 in"}]
    assert [each.place for each in bodies_at({**low, "zones": rising})] == ["tip", "underside"]
    unlisted = bodies_at(without(low, "zones"))[1]
    assert (unlisted.body, unlisted.missing) == (None, ("zones",))


def test_a_gap_that_nobody_measured_is_taken_and_said():
    tip = bodies_at(without(SWING_GATE, "door.underside"))[0]
    assert (inches(tip.body), tip.missing) == (58, ("door.underside",))
    assert any("nobody measured it" in render(each, US) for each in tip.assumptions)


# Whatever comes in.
@pytest.mark.parametrize(
    "facts",
    [
        {"door.kind": "rolling", "door.guide_clear.floor": "0 in"},
        {"door.kind": "rolling", "door.guide_clear.floor": {"value": None, "from": "measured"}},
        {"door.kind": "sectional", "door.bottom.brackets.left": "60 m", "door.panel_width": "3 m"},
        {"door.kind": "slide_gate", "door.leaf_top": "0 in", "door.underside": "10 m"},
        {"door.kind": "swing_gate", "door.leaf_height": "8 in", "zones": [{"place": "below", "gap": "20 m"}]},
        {"door.kind": "one_piece", "door.leaf_width": "60 m", "door.meets": "overlaps"},
        {"door.kind": "rolling", "door.guide_condition": "<script>alert(1)</script> {x} %s"},
        {"door.kind": "high_speed", "door.bottom.seat_length": "0 in", "door.serial": "{serial} <b>"},
    ],
)
def test_odd_surveys_are_answered_and_rendered(facts):
    for body in bodies_at({**SECTIONAL, **facts}):
        for each in body.findings:
            assert render(each.text, US)
            assert each.do is None or render(each.do, METRIC)
        assert body.body is None or body.body > 0


def test_many_readings_of_everything_stay_within_bounds():
    readings = [told(f"{13 + n} ft") for n in range(40)]
    clear = {f"door.guide_clear.{place}": readings for place in ("floor", "chest", "head")}
    body = body_at({**ROLLING, **clear, "door.clear_width": readings, "door.bottom.seat_length": readings})
    assert body.body is None


@given(st.integers(640, 3200), st.integers(-32, 96))
def test_no_body_is_ever_longer_than_what_it_was_measured_by(panel, less):
    """In sixteenths: a panel, and an opening that is narrower or wider by a little."""
    facts = {
        **SECTIONAL,
        "door.panel_width": measured(f"{panel / 16} in"),
        "door.clear_width": measured(f"{(panel - less) / 16} in"),
    }
    body = body_at(facts)
    assert body.body is not None
    assert panel / 16 * 0.0254 - 0.00636 < body.body <= panel / 16 * 0.0254 + 1e-9
