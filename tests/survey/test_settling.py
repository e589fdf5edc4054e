"""What several readings of a fact come to, line by line as the rulings say, and what stands without any."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sillwright.base.errors import DocumentError
from sillwright.base.fact import Fact, Reading, settle

from .building import opening_of, survey_of, text_of

INCH = 0.0254


def width(*readings: object) -> Fact[float]:
    """The clear width that these readings come to."""
    return opening_of({"door.clear_width": list(readings) if len(readings) > 1 else readings[0]}).door.clear_width


def said(value: object, origin: str | None = None, **more: object) -> dict[str, object]:
    return {"value": value, **({"from": origin} if origin else {}), **more}


# nothing, null, none


def test_a_fact_that_the_file_does_not_mention_was_not_asked():
    fact = opening_of({}).operator.made
    assert (fact.standing, fact.value, fact.known, fact.readings) == ("not asked", None, False, ())


def test_a_bare_null_was_asked_and_is_not_known():
    fact = opening_of({"operator.made": None}).operator.made
    assert (fact.standing, fact.known) == ("not known", False)
    assert fact.readings[0].value is None


def test_a_wrapped_null_without_origin_is_not_known_either():
    assert opening_of({"operator.made": said(None)}).operator.made.standing == "not known"


def test_a_null_with_an_origin_was_looked_for_and_is_none():
    fact = opening_of({"operator.board_made": said(None, "measured")}).operator.board_made
    assert (fact.standing, fact.value, fact.known, fact.origin) == ("none there", None, True, "measured")


def test_an_empty_list_says_that_there_is_none():
    opening = opening_of({"protection": [], "operator.lists_devices": []})
    assert (opening.protection.standing, len(opening.protection)) == ("known", 0)
    assert (opening.operator.lists_devices.standing, opening.operator.lists_devices.value) == ("known", ())


@pytest.mark.parametrize(
    ("given", "standing"),
    [
        ({}, "not asked"),
        ({"protection": None}, "not known"),
        ({"protection": said(None)}, "not known"),
        ({"protection": said(None, "measured")}, "known"),
        ({"protection": said([], "told")}, "known"),
        ({"protection": said([{"id": "e1"}], "assumed")}, "assumed"),
        ({"protection": [said([{"id": "e1"}], "told"), said([{"id": "e2"}], "photo")]}, "two readings"),
        ({"protection": [said([{"id": "e1"}], "assumed"), said([{"id": "e2"}], "photo")]}, "known"),
    ],
)
def test_a_list_of_devices_may_be_unknown_none_told_or_contradicted(given, standing):
    assert opening_of(given).protection.standing == standing


def test_an_assumed_list_gives_way_to_one_that_was_seen():
    opening = opening_of({"protection": [said([{"id": "e1"}], "assumed"), said([{"id": "e2"}], "photo")]})
    assert [each.id.value for each in opening.protection] == ["e2"]


def test_a_null_group_makes_each_of_its_facts_unknown():
    room = opening_of({"door.side_room": None}).door.side_room
    assert (room.left.standing, room.right.standing) == ("not known", "not known")


# where a value comes from


def test_a_bare_value_is_known_and_its_origin_not_recorded():
    fact = width("10 ft")
    assert (fact.standing, fact.known, fact.origin) == ("known", True, None)


@pytest.mark.parametrize("origin", ["measured", "plate", "instructions", "photo", "support", "told"])
def test_a_value_with_an_origin_is_known(origin):
    fact = width(said("10 ft", origin))
    assert (fact.standing, fact.known, fact.origin) == ("known", True, origin)


def test_an_assumed_value_is_used_in_numbers_and_known_to_no_rule():
    fact = width(said("10 ft", "assumed"))
    assert (fact.standing, fact.value, fact.known) == ("assumed", pytest.approx(3.048), False)


def test_a_reading_keeps_what_was_typed_by_whom_when_and_on_what_evidence():
    (reading,) = width(
        said("10 ft 4 in", "measured", by="technician", on="2026-03-04", evidence="photo-3")
    ).readings
    assert reading.typed == "10 ft 4 in"
    assert (reading.origin, reading.by, reading.on, reading.evidence) == (
        "measured", "technician", "2026-03-04", "photo-3",
    )  # fmt: skip
    assert reading.line


def test_an_assumption_gives_way_to_any_other_reading():
    fact = width(said("12 ft", "assumed"), said("10 ft", "told"))
    assert (fact.standing, fact.origin) == ("known", "told")
    assert len(fact.readings) == 2, "both are kept and shown"


def test_two_assumptions_that_differ_are_two_readings():
    assert width(said("12 ft", "assumed"), said("10 ft", "assumed")).standing == "two readings"


def test_of_readings_that_agree_the_best_origin_is_used():
    assert width(said("10 ft", "told"), said("10 ft", "plate"), said("10 ft")).origin == "plate"


def test_a_value_whose_origin_was_not_recorded_outranks_a_told_one():
    fact = settle("x", [Reading(value=1, origin="told"), Reading(value=1)])
    assert fact.origin is None


# equal, repeated, contradicted


@pytest.mark.parametrize(
    ("other", "standing"),
    [
        ("10 ft", "known"),
        ("10 ft 1/16 in", "known"),
        ("3.048 m", "known"),
        ("10 ft 9/16 in", "known"),  # 0.47 %
        ("10 ft 5/8 in", "two readings"),  # 0.52 %
        ("10 ft 6 in", "two readings"),
    ],
)
def test_told_lengths_are_equal_within_half_a_percent(other, standing):
    assert width(said("10 ft", "told"), said(other, "photo")).standing == standing


@pytest.mark.parametrize(
    ("other", "standing"),
    [("2-1/16 in", "known"), ("2-3/32 in", "two readings"), ("1-15/16 in", "known")],
)
def test_short_lengths_are_equal_within_a_sixteenth_of_an_inch(other, standing):
    seat = opening_of(
        {"door.bottom.seat_width": [said("2 in", "told"), said(other, "photo")]}
    ).door.bottom.seat_width
    assert seat.standing == standing


@pytest.mark.parametrize(
    ("apart", "standing"),
    [(Fraction(1, 4), "known"), (Fraction(1, 2), "known"), (Fraction(9, 16), "two readings"), (1, "two readings")],
)
def test_measured_lengths_half_an_inch_apart_are_repeats(apart, standing):
    inches = float(24 + apart)
    room = opening_of(
        {"door.headroom": [said(f"{inches} in", "measured"), said("24 in", "measured")]}
    ).door.headroom
    assert room.standing == standing
    assert room.value == (pytest.approx(24 * INCH) if standing == "known" else None)


def test_of_repeats_the_smallest_is_used_with_its_own_reading():
    readings = [
        said("24-3/8 in", "measured", by="A"),
        said("24 in", "measured", by="B"),
        said("24-1/4 in", "measured"),
    ]
    fact = opening_of({"door.headroom": readings}).door.headroom
    assert fact.value == pytest.approx(24 * INCH)
    assert fact.reading is not None
    assert fact.reading.by == "B"


@pytest.mark.parametrize("typed", [("12 ft", "12 ft 1/2 in"), ("12 ft 1/2 in", "12 ft")])
def test_a_wide_leaf_measured_twice_is_as_wide_as_the_smaller_says(typed):
    """Half an inch on 12 ft is less than 0.5 %, and still the order of the readings changes nothing."""
    assert width(*(said(each, "measured") for each in typed)).value == pytest.approx(144 * INCH)


def test_a_told_length_that_agrees_with_a_repeat_changes_nothing():
    readings = [said("24-3/8 in", "measured"), said("24 in", "measured"), said("24-3/8 in", "told")]
    assert opening_of({"door.headroom": readings}).door.headroom.standing == "known"


def test_a_told_length_outside_the_repeats_contradicts_them():
    readings = [said("24-3/8 in", "measured"), said("24 in", "measured"), said("30 in", "told")]
    fact = opening_of({"door.headroom": readings}).door.headroom
    assert fact.standing == "two readings"


def test_only_lengths_repeat():
    speeds = [said("8 in/s", "measured"), said("8.3 in/s", "measured")]
    assert opening_of({"door.closing_speed": speeds}).door.closing_speed.standing == "two readings"


def test_one_measured_and_one_told_length_half_an_inch_apart_are_no_repeats():
    readings = [said("24-3/8 in", "measured"), said("24 in", "told")]
    assert opening_of({"door.headroom": readings}).door.headroom.standing == "two readings"


def test_two_readings_make_the_fact_unknown_and_keep_both_values():
    fact = width(said("10 ft", "told"), said("11 ft", "plate"), said("10 ft", "photo"))
    assert (fact.standing, fact.value, fact.known, fact.origin) == ("two readings", None, False, None)
    assert fact.rivals == (pytest.approx(3.048), pytest.approx(3.3528))
    assert len(fact.readings) == 3
    assert not fact.doubtful


def test_a_value_and_none_there_contradict_each_other():
    fact = opening_of({"operator.board_made": [said(None, "measured"), said("2020", "told")]}).operator.board_made
    assert fact.standing == "two readings"
    assert None in fact.rivals


def test_measured_repeats_beside_none_there_are_two_readings():
    room = opening_of({"door.headroom": [said(v, "measured") for v in ("24 in", "24-1/2 in", None)]}).door.headroom
    assert room.standing == "two readings"


def test_an_unknown_reading_beside_a_known_one_says_nothing():
    assert width(said(None), said("10 ft", "told")).standing == "known"


@pytest.mark.parametrize(
    ("path", "one", "other"),
    [
        ("door.lift", "high", "vertical"),
        ("operator.model", "class J", "class K"),
        ("operator.station_in_view", True, False),
        ("operator.side", "left", "right"),
        ("use.downtime_cost", "400 USD/h", "400 EUR/h"),
        ("use.closings_per_day", 120, 130),
        ("operator.made", "2010-03", "2010-08"),
        ("operator.lists_devices", ["a"], ["a", "b"]),
        ("floor.points", [["0 in", "0 in"]], [["0 in", "1 in"]]),
        ("floor.points", [["0 in", "0 in"]], [["0 in", "0 in"], ["1 in", "0 in"]]),
    ],
)
def test_whatever_differs_is_two_readings_and_whatever_is_the_same_is_known(path, one, other):
    group, name = path.split(".")

    def fact(*values):
        return getattr(getattr(opening_of({path: [said(value, "told") for value in values]}), group), name)

    assert fact(one, other).standing == "two readings"
    assert fact(one, one).standing == "known"


def test_floor_points_within_a_sixteenth_are_the_same_floor():
    twice = [
        said([["0 in", "0 in"], ["1 ft", "1/4 in"]], "told"),
        said([["0 in", "0 in"], ["1 ft", "5/16 in"]], "told"),
    ]
    assert opening_of({"floor.points": twice}).floor.points.standing == "known"


def test_counts_are_equal_within_half_a_percent():
    assert opening_of({"use.closings_per_day": [said(1000), said(1004)]}).use.closings_per_day.standing == "known"


# dates


@pytest.mark.parametrize(
    ("one", "other", "standing"),
    [
        ("2010", "2010-08", "known"),
        ("2010-08", "2010", "known"),
        ("2010-08-29", "2010-08", "known"),
        ("2010-08-29", "2010-08-30", "two readings"),
        ("2009", "2010-01", "two readings"),
    ],
)
def test_dates_that_can_be_said_of_one_day_agree(one, other, standing):
    assert (
        opening_of({"operator.made": [said(one, "told"), said(other, "told")]}).operator.made.standing == standing
    )


def test_of_dates_that_agree_and_are_equally_good_the_narrower_is_used():
    made = opening_of({"operator.made": [said("2010", "plate"), said("2010-08-30", "plate")]}).operator.made
    assert str(made.value) == "2010-08-30"


# decimal feet


def test_a_width_in_decimal_feet_is_used_as_written_and_is_doubtful():
    fact = width("10.6 ft")
    assert fact.value == pytest.approx(10.6 * 0.3048)
    assert fact.doubtful


def test_a_doubtful_width_gives_way_to_a_measured_one():
    fact = width(said("10.6 ft", "told"), said("10 ft 6 in", "measured"))
    assert (fact.standing, fact.doubtful) == ("known", False)
    assert fact.value == pytest.approx(126 * INCH)


def test_a_doubtful_measurement_gives_way_to_a_clear_one():
    assert not width(said("10.6 ft", "measured"), said("10 ft 6 in", "measured")).doubtful


def test_a_doubtful_width_does_not_give_way_to_a_told_one():
    assert width(said("10.6 ft", "measured"), said("10 ft 6 in", "told")).standing == "two readings"


def test_decimal_inches_and_metres_are_not_doubtful():
    assert not width("126.5 in").doubtful
    assert not width(3.2).doubtful


# wrapped groups and lists


def test_an_origin_given_for_a_group_goes_to_every_fact_inside():
    door = opening_of({"door.side_room": said({"left": "10 in", "right": "20 in"}, "measured", by="A")}).door
    assert [(fact.origin, fact.reading.by) for fact in (door.side_room.left, door.side_room.right)] == [
        ("measured", "A")
    ] * 2


def test_an_inner_origin_is_nearer_than_an_outer_one():
    room = opening_of({"door.side_room": said({"left": said("10 in", "told"), "right": "20 in"}, "measured")})
    assert (room.door.side_room.left.origin, room.door.side_room.right.origin) == ("told", "measured")


def test_a_group_may_be_read_twice():
    twice = [said({"left": "10 in"}, "measured"), said({"left": "15 in", "right": "20 in"}, "told")]
    room = opening_of({"door.side_room": twice}).door.side_room
    assert (room.left.standing, room.right.standing) == ("two readings", "known")


def test_a_list_fact_is_wrapped_whole():
    codes = survey_of({"site": {"codes": said(["IBC 2021", "IFC 2021"], "told")}}).site.codes
    assert (codes.value, codes.origin) == (("IBC 2021", "IFC 2021"), "told")


def test_a_wrapped_list_of_devices_gives_its_origin_to_each():
    opening = opening_of({"protection": said([{"id": "e1", "kind": "sensing_edge"}], "photo")})
    assert opening.fact("protection.e1.kind").origin == "photo"


def refused(*openings: dict[str, object], **site: object) -> str:
    with pytest.raises(DocumentError) as caught:
        survey_of(*openings, **site)
    return str(caught.value)


@pytest.mark.parametrize("path", ["door.clear_width", "operator.lists_devices", "protection", "door.side_room"])
def test_plain_values_and_readings_are_not_mixed_in_one_list(path):
    assert "are mixed" in refused({path: [said("10 ft", "told"), "11 ft"]})


def test_several_plain_values_of_one_fact_are_refused():
    assert "several values of one fact" in refused({"door.clear_width": ["10 ft", "11 ft"]})


def test_a_mapping_without_value_is_no_wrapped_fact():
    assert "one value is wanted here" in refused({"door.clear_width": {"from": "measured"}})


def test_more_readings_of_one_fact_than_anybody_takes_are_refused():
    assert "more than 50 readings" in refused({"door.headroom": [said(f"{n} in", "told") for n in range(1, 60)]})


# sides, seen from outside


def test_a_side_seen_from_outside_is_turned():
    opening = opening_of({"operator.side": said("left", "photo", seen_from="outside")})
    assert opening.operator.side.value == "right"
    assert opening_of({"operator.side": said("left", "photo", seen_from="inside")}).operator.side.value == "left"


def test_what_is_no_side_is_not_turned():
    assert opening_of({"lead.end": said("both", "told", seen_from="outside")}).lead.end.value == "both"
    assert (
        opening_of(
            {"door.kind": "swing_gate", "door.opens": said("in", "told", seen_from="outside")}
        ).door.opens.value
        == "in"
    )


def test_a_group_of_left_and_right_changes_places_seen_from_outside():
    opening = opening_of({"free_wall": said({"left": "10 in", "right": "20 in"}, "measured", seen_from="outside")})
    assert opening.free_wall.left.value == pytest.approx(20 * INCH)
    assert opening.free_wall.right.value == pytest.approx(10 * INCH)


def test_everything_inside_a_group_seen_from_outside_is_turned():
    given = {"side": "left", "height": "7 ft"}
    box = opening_of({"box": said(given, "measured", seen_from="outside")}).box
    assert (box.side.value, box.height.value) == ("right", pytest.approx(84 * INCH))
    bottom = said({"brackets": {"left": "1 in", "right": "0 in"}}, "measured", seen_from="outside")
    assert opening_of({"door.bottom": bottom}).door.bottom.brackets.right.value == pytest.approx(INCH)


def test_what_is_seen_from_inside_in_a_group_seen_from_outside_stays():
    given = said({"side": said("left", "told", seen_from="inside")}, "photo", seen_from="outside")
    assert opening_of({"box": given}).box.side.value == "left"


def test_a_viewpoint_of_what_has_no_side_is_refused():
    assert "seen_from says nothing here" in refused({"door.headroom": said("30 in", "told", seen_from="outside")})


def test_the_same_side_seen_from_both_places_agrees():
    twice = [said("left", "told", seen_from="outside"), said("right", "photo")]
    assert opening_of({"operator.side": twice}).operator.side.standing == "known"


@pytest.mark.parametrize(
    ("wrap", "message"),
    [
        ({"value": "left", "from": "mesured"}, "did you mean “measured”?"),
        ({"value": "left", "seen_from": "above"}, "inside or outside"),
        ({"value": "left", "form": "told"}, "did you mean “from”?"),
        ({"value": "left", "by": ["A"]}, "one word is wanted here"),
        ({"value": "left", "from": {"a": 1}}, "one word is wanted here"),
    ],
)
def test_a_wrong_word_of_an_origin_is_refused(wrap, message):
    assert message in refused({"operator.side": wrap})


def test_an_origin_left_null_is_not_recorded():
    fact = opening_of({"operator.side": {"value": "left", "from": None, "by": None}}).operator.side
    assert (fact.standing, fact.origin) == ("known", None)


def test_a_survey_is_not_changed():
    opening = opening_of({})
    with pytest.raises(AttributeError, match="read anew"):
        opening.door = None
    with pytest.raises(AttributeError, match="read anew"):
        opening.path = "x"
    with pytest.raises(AttributeError, match="colour"):
        opening.door.colour  # noqa: B018


def test_text_of_writes_what_survey_of_reads():
    assert "clear_width: 10 ft 4 in" in text_of({})
