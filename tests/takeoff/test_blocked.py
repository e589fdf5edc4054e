"""What stands against ordering, and what takes it away: every reason appears with its cause and goes with it.

Reasons and questions follow the trade's rules ASK-1 to ASK-12, LEN-6, LEN-7, PRO-9 and SIDE, from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.fact import ORIGINS
from sillwright.base.words import Reader, render
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.profile import Profile
from sillwright.survey.asks import plausibility
from sillwright.takeoff.blocking.asks import asked, asks

from .openings import (
    ROLLING,
    SECTIONAL,
    SLIDE_GATE,
    SWING_GATE,
    US,
    assumed,
    at,
    blocks_at,
    measured,
    told,
    without,
)

METRIC = Reader(units="metric")


def profile(*circuits: str, **more: Any) -> Profile:
    shape: dict[str, Any] = {"construction": "factory_sealed", "height": 0.045, "actuation_travel": 0.005, **more}
    return Profile(name="Invented B", circuits=circuits or ("resistor",), **shape)  # type: ignore[arg-type]


def questions(facts: dict[str, Any], *more: Any) -> dict[str, str]:
    """The questions of the take-off by id, as they read."""
    return {each.id: render(each.text, US) for each in asks(at(facts)[1], *more)}


@pytest.mark.parametrize("facts", [SECTIONAL, ROLLING, SLIDE_GATE, SWING_GATE], ids=["SE", "RO", "SG", "SW"])
def test_what_is_measured_and_confirmed_is_not_blocked(facts):
    assert blocks_at(facts) == {}


def test_a_one_piece_leaf_that_is_measured_and_confirmed_is_not_blocked():
    facts = {
        **SECTIONAL,
        "door.kind": "one_piece",
        "door.meets": "overlaps",
        "door.leaf_width": measured("10 ft 8 in"),
    }
    assert blocks_at(facts) == {}


# Each reason with its cause: what is changed in an opening that nothing stands against, and what is blocked then.
CAUSES: dict[str, tuple[dict[str, Any], str]] = {
    "kind told in two ways or not at all": ({"door.kind": None}, "kind_unknown"),
    "assumed kind": ({"door.kind": assumed("sectional")}, "kind_unknown"),
    "fire label on a sectional leaf": ({"door.fire_label.number": "F-12"}, "fire_label"),
    "fire label seen": ({"door.fire_label.readable": True}, "fire_label"),
    "fire label unreadable": ({"door.fire_label.readable": False}, "fire_label_unreadable"),
    "fire door with its label": ({"door.kind": "rolling_fire", "door.fire_label.number": "F-12"}, "fire_label"),
    "fire door, nobody looked": ({"door.kind": "rolling_fire"}, "fire_label_unreadable"),
    "fabric door without serial": ({"door.kind": "high_speed"}, "serial_missing"),
    "fabric door, serial assumed": ({"door.kind": "high_speed", "door.serial": assumed("K-1")}, "serial_missing"),
    "fabric door with serial": ({"door.kind": "high_speed", "door.serial": "K-1"}, "by_serial"),
    "classified": ({"surroundings.classified_area": "Class I Division 2"}, "classified_area"),
    "classified, perhaps": ({"surroundings.classified_area": "zone?"}, "classified_area"),
    "classified, nobody knows": ({"surroundings.classified_area": "unknown"}, "classified_area"),
    "classified, told twice": (
        {"surroundings.classified_area": [told("none"), {"value": "zone 2", "from": "photo"}]},
        "classified_area",
    ),
    "panel measured twice": ({"door.panel_width": [measured("10 ft 6 in"), measured("11 ft")]}, "two_readings"),
    "width told twice": ({"door.clear_width": [measured("10 ft 4 in"), told("10 ft")]}, "two_readings"),
    "weight told twice": ({"door.leaf_mass": [told("300 kg"), told("400 kg")]}, "two_readings"),
    "inputs told twice": (
        {"operator.inputs": [{"value": [{"circuit": "plain"}]}, {"value": [{"circuit": "four_wire"}]}]},
        "two_readings",
    ),
    "feet with a point": ({"door.panel_width": measured("10.6 ft")}, "decimal_feet"),
    "opening in feet with a point": ({"door.clear_width": told("10.6 ft")}, "decimal_feet"),
    "panel not measured": ({"door.panel_width": None}, "length_missing"),
    "panel told": ({"door.panel_width": told("10 ft 6 in")}, "length_told"),
    "panel told by support": ({"door.panel_width": {"value": "10 ft 6 in", "from": "support"}}, "length_told"),
    "panel assumed": ({"door.panel_width": assumed("10 ft 6 in")}, "length_assumed"),
    "whole feet": ({"door.panel_width": "10 ft", "door.clear_width": "9 ft 11 in"}, "nominal_width"),
    "whole feet from a plate": (
        {"door.panel_width": {"value": "10 ft", "from": "plate"}, "door.clear_width": "9 ft 11 in"},
        "nominal_width",
    ),
    "panel narrower than the opening": ({"door.panel_width": measured("10 ft")}, "panel_or_opening"),
    "panel far wider": ({"door.panel_width": measured("11 ft")}, "panel_or_opening"),
    "width and height swapped": ({"door.clear_height": measured("4 ft")}, "swapped"),
    "end not known": ({"lead.end": None, "operator.side": None}, "lead_unknown"),
    "end told twice": ({"lead.end": [told("left"), told("right")]}, "lead_unknown"),
    "side assumed": ({"lead.end": None, "operator.side": assumed("right")}, "lead_assumed"),
    "end assumed": ({"lead.end": assumed("left"), "operator.side": None}, "lead_assumed"),
    "nobody confirmed": ({"lead.confirmed.by": None}, "lead_unconfirmed"),
    "no day": ({"lead.confirmed.on": None}, "lead_unconfirmed"),
    "confirmed by assumption": ({"lead.confirmed.by": assumed("advisor")}, "lead_unconfirmed"),
    "not the operator's side": ({"lead.end": "left"}, "lead_reason"),
    "photo and form": ({"lead.end": [told("right"), {"value": "left", "from": "photo"}]}, "photo_lead"),
    "wires not known": ({"protection": [], "operator.inputs": None}, "wires_unknown"),
    "wires assumed": (
        {"protection": [{"id": "e1", "kind": "sensing_edge", "wires": assumed(2)}], "operator.inputs": None},
        "wires_unknown",
    ),
    "four wires and two conductors": (
        {
            "protection": [{"id": "e1", "kind": "sensing_edge", "wires": 4}],
            "operator.inputs": None,
            "cord.conductors": 2,
        },
        "wires_differ",
    ),
    "another end element": (
        {"protection": [{"id": "e1", "kind": "sensing_edge", "circuit": "resistor", "resistance": "8.2 kohm"}]},
        "wires_differ",
    ),
    "as last time": ({"statements": [{"by": "owner", "words": "same as last time, please"}]}, "same_as_last_time"),
}  # fmt: skip


@pytest.mark.parametrize(("change", "reason"), CAUSES.values(), ids=CAUSES.keys())
def test_each_cause_blocks_the_order_and_says_what_releases_it(change, reason):
    found = blocks_at({**SECTIONAL, **change})
    assert reason in found
    for reader in (US, METRIC):
        assert render(found[reason].reason, reader)
        assert render(found[reason].releases, reader)
    assert found[reason].facts


def test_the_reasons_of_a_curtain():
    bent = {"door.guide_clear.chest": measured("13 ft 7 in")}
    assert set(blocks_at({**ROLLING, **bent})) == {"guide_bent"}
    bar = {"door.bottom.bar_overall": measured("13 ft")}
    assert set(blocks_at({**ROLLING, **bar})) == {"cannot_be"}
    assert set(blocks_at(without(ROLLING, "door.guide_clear"))) == {"length_missing"}
    one = {f"door.guide_clear.{place}": told("13 ft 8 in") for place in ("floor", "chest", "head")}
    assert set(blocks_at({**ROLLING, **one})) == {"length_told"}


def test_the_bar_over_all_alone_is_asked_about_and_blocks_nothing_where_the_guides_are_measured():
    facts = {**ROLLING, "door.bottom.bar_overall": measured("13 ft 11 in")}
    assert "ASK-3" in {each.id for each in plausibility(at(facts)[1])}
    assert blocks_at(facts) == {}


def test_the_reasons_of_gates():
    assert set(blocks_at(without(SLIDE_GATE, "zones"))) == {"zones_unknown"}
    assert set(blocks_at(without(SLIDE_GATE, "door.underside"))) == {"length_missing"}
    assert set(blocks_at(without(SWING_GATE, "door.underside"))) == {"length_missing", "zones_unknown"}
    assert set(blocks_at(without(SLIDE_GATE, "lead.confirmed"))) == {"lead_unconfirmed"}
    assert blocks_at(without(SLIDE_GATE, "lead.end")) == {}  # left and right say nothing on an upright edge


def test_a_one_piece_leaf_whose_way_of_closing_follows_from_its_width_is_looked_at_first():
    facts = {**SECTIONAL, "door.kind": "one_piece", "door.leaf_width": measured("10 ft 8 in")}
    found = blocks_at(facts)
    assert set(found) == {"length_missing"}
    assert "way the leaf closes" in render(found["length_missing"].reason, US)


# What releases.
@pytest.mark.parametrize("origin", sorted(ORIGINS))
def test_a_length_is_released_by_what_is_known_and_by_nothing_less(origin):
    found = blocks_at({**SECTIONAL, "door.panel_width": {"value": "10 ft 6 in", "from": origin}})
    assert bool(found) is (origin in {"told", "support", "assumed"})


def test_a_measurement_outranks_feet_with_a_point():
    both = [told("10.6 ft"), measured("10 ft 6 in")]
    assert blocks_at({**SECTIONAL, "door.panel_width": both}) == {}


def test_repeats_within_half_an_inch_block_nothing_and_beyond_it_they_do_on_a_wide_leaf_too():
    wide = {**SECTIONAL, "door.clear_width": measured("20 ft")}
    near = {"door.panel_width": [measured("20 ft 2 in"), measured("20 ft 2-1/2 in")]}
    far = {"door.panel_width": [measured("20 ft 2 in"), measured("20 ft 2-9/16 in")]}
    assert "two_readings" not in blocks_at({**wide, **near})
    assert "two_readings" in blocks_at({**wide, **far})
    assert "20 ft 2 in (technician)" in questions({**wide, **far})["ASK-5"]
    assert "ASK-5" not in questions({**wide, **near})


@pytest.mark.parametrize("path", ["use.closings_per_day", "name", "last_work.what"])
def test_a_contradiction_that_no_part_of_the_order_rests_on_blocks_nothing(path):
    values = (20, 30) if path.startswith("use") else ("one", "another")
    assert blocks_at({**SECTIONAL, path: [told(value) for value in values]}) == {}


def test_one_line_of_reason_releases_a_lead_on_the_other_side():
    reason = [{"by": "technician", "words": "a downspout is on the right", "about": "lead"}]
    assert blocks_at({**SECTIONAL, "lead.end": "left", "statements": reason}) == {}


def test_a_wall_that_was_measured_is_a_reason_by_itself():
    assert blocks_at({**SECTIONAL, "lead.end": "left", "free_wall.right": measured("2 in")}) == {}


@pytest.mark.parametrize("about", ["door.panel_width", "ASK-2", "ask-2"])
def test_a_statement_about_the_panel_answers_the_question(about):
    wide = {**SECTIONAL, "door.panel_width": measured("11 ft")}
    why = [{"by": "technician", "words": "panel covers the side frames", "about": about}]
    assert blocks_at({**wide, "statements": why}) == {}


@pytest.mark.parametrize(
    "words", ["none", "No", "not classified", "ordinary location", "unclassified", "non-hazardous"]
)
def test_an_area_that_is_said_to_be_ordinary_blocks_nothing(words):
    assert blocks_at({**SECTIONAL, "surroundings.classified_area": words}) == {}


@pytest.mark.parametrize("words", [None, {"value": None, "from": "measured"}])
def test_an_area_that_nobody_calls_classified_blocks_nothing(words):
    assert blocks_at({**SECTIONAL, "surroundings.classified_area": words}) == {}


def test_the_owners_document_and_an_air_edge_release_a_classified_area():
    document = {"value": "Class I Division 2", "from": "instructions", "evidence": "drawing E-4"}
    facts = {**SECTIONAL, "surroundings.classified_area": document}
    assert set(blocks_at(facts)) == {"classified_area_circuit"}
    assert set(blocks_at(facts, profile=profile("resistor", "air"))) == {"classified_area_circuit"}
    assert "classified_area_circuit" not in blocks_at(facts, profile=profile("air"))
    hearsay = {**document, "from": "told"}
    assert set(blocks_at({**facts, "surroundings.classified_area": hearsay})) == {"classified_area"}


def test_a_fire_doors_order_is_the_makers_whatever_else_is_known():
    facts = {**ROLLING, "door.kind": "rolling_fire", "door.fire_label.number": "F-12"}
    assert set(blocks_at(facts)) == {"fire_label"}
    assert set(blocks_at(without(facts, "lead", "protection"))) == {"fire_label"}


def test_a_nominal_opening_blocks_nothing_where_the_panel_is_measured():
    facts = {**SECTIONAL, "door.clear_width": told("10 ft"), "door.panel_width": measured("10 ft 3 in")}
    assert blocks_at(facts) == {}


def read(ohms: str, **more: Any) -> dict[str, Any]:
    """An edge with a resistor at an input that wants 10 kohm, and what the meter read."""
    at = {"at": "operator", "of": "e1", "ohms": ohms, "pressed": False, **more}
    inputs = [{"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}]
    return {**edge(circuit="resistor"), "operator.inputs": inputs, "readings": [at]}


@pytest.mark.parametrize(
    ("ohms", "asked_for"),
    [
        ("8.2 kohm", True), ("8.3 kohm", True), ("4.7 kohm", True), ("22 kohm", True),
        ("10.1 kohm", False), ("9.6 kohm", False), ("9.2 kohm", False), ("3 Mohm", False), ("0 ohm", False),
    ],
)  # fmt: skip
def test_ask_9_a_meter_that_reads_another_end_element_than_the_input_expects(ohms, asked_for):
    assert ("ASK-9" in questions(read(ohms))) is asked_for


def test_ask_9_a_pressed_reading_or_one_of_another_device_tells_nothing_of_the_end_element():
    assert "ASK-9" not in questions(read("8.2 kohm", pressed=True))
    assert "ASK-9" not in questions(read("8.2 kohm", of="y1"))
    assert "ASK-9" in questions(read("8.2 kohm", of=None))
    assert "8.2 kΩ at rest" in questions(read("8.2 kohm"))["ASK-9"]


# ASK-9: wires and end elements.
def edge(**more: Any) -> dict[str, Any]:
    return {**SECTIONAL, "protection": [{"id": "e1", "kind": "sensing_edge", **more}]}


@pytest.mark.parametrize(
    ("wires", "conductors", "asked_for"),
    [(4, 2, True), (4, 4, False), (2, 2, False), (2, 4, False), (4, None, False)],
)
def test_ask_9_more_wires_than_conductors(wires, conductors, asked_for):
    facts = {**edge(wires=wires), "operator.inputs": None, "cord.conductors": conductors}
    assert ("ASK-9" in questions(facts)) is asked_for


def test_ask_9_a_four_wire_circuit_is_four_wires():
    facts = {**edge(circuit="four_wire"), "operator.inputs": [{"circuit": "four_wire"}], "cord.conductors": 2}
    assert questions(facts)["ASK-9"] == "The body has 4 wires, the cord 2 conductors."


def test_ask_9_edge_and_input_that_do_not_agree_unless_a_converter_stands_between():
    facts = {**edge(circuit="resistor"), "operator.inputs": [{"circuit": "four_wire"}]}
    assert "do not agree" in questions(facts)["ASK-9"]
    assert "ASK-9" not in questions({**facts, "converters": [{"name": "conv-a"}]})
    assert "ASK-9" not in questions(
        {**edge(circuit="resistor", through=["conv-a"]), "operator.inputs": [{"circuit": "four_wire"}]}
    )


@pytest.mark.parametrize(
    ("ohms", "asked_for"),
    [("10 kohm", False), ("10.4 kohm", False), ("9.1 kohm", True), ("8.2 kohm", True), (None, False)],
)
def test_ask_9_the_end_element_is_the_inputs(ohms, asked_for):
    assert ("ASK-9" in questions(edge(circuit="resistor", resistance=ohms))) is asked_for


def test_ask_9_the_input_that_the_edge_is_joined_to_counts():
    inputs = [
        {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"},
        {"name": "safety 2", "circuit": "resistor", "resistance": "8.2 kohm"},
    ]
    one = {**edge(circuit="resistor", resistance="8.2 kohm", input="safety 2"), "operator.inputs": inputs}
    other = {**edge(circuit="resistor", resistance="8.2 kohm", input="edge"), "operator.inputs": inputs}
    assert "ASK-9" not in questions(one)
    assert "8.2 kΩ" in questions(other)["ASK-9"]


def test_ask_9_the_profile_has_to_be_offered_with_the_inputs_value():
    taken = OperatorInput(operator="invented", name="edge", circuit="resistor", resistance=8200.0)
    assert "ASK-9" in questions(edge(circuit="resistor"), profile(end_elements=(10_000.0,)), taken)
    assert "ASK-9" not in questions(edge(circuit="resistor"), profile(end_elements=(10_000.0, 8200.0)), taken)


def test_an_air_edge_has_no_wires_to_count():
    air = {**SECTIONAL, "protection": [{"id": "a1", "kind": "air_edge", "circuit": "air"}], "operator.inputs": None}
    assert blocks_at(air) == {}
    assert "wires_unknown" not in blocks_at({**air, "protection": []}, profile=profile("air"))


# ASK-10: taller than the old seal.
@pytest.mark.parametrize(
    ("old", "level"),
    [
        ("1-9/32 in", None),
        ("1-1/4 in", "note"),
        ("1/2 in", "note"),
        ("15/32 in", "act"),
        ("1-3/4 in", None),
        (None, None),
    ],
)
def test_ask_10_a_taller_body_is_noted_from_half_an_inch_and_acted_on_above_an_inch_and_a_quarter(old, level):
    """A body of 1-3/4 in."""
    facts = {**SECTIONAL, "door.bottom.old_height": old}
    found = [each for each in asks(at(facts)[1], profile(height=1.75 * 0.0254)) if each.id == "ASK-10"]
    assert [each.level for each in found] == ([level] if level else [])


def test_ask_10_is_not_asked_while_no_profile_is_chosen():
    assert "ASK-10" not in questions({**SECTIONAL, "door.bottom.old_height": "1/4 in"})


# ASK-11: as last time.
@pytest.mark.parametrize(
    ("words", "about", "asked_for"),
    [
        ("Same as last time", None, True),
        ("make it like the last one", "door", True),
        ("same again", "lead", True),
        ("identical to the previous order", None, True),
        ("just as before", None, True),
        ("the door sounds the same as before", "operator", False),
        ("it was last week", None, False),
        ("same side as the box", None, False),
    ],
)
def test_ask_11_an_order_by_what_was_ordered_before(words, about, asked_for):
    facts = {**SECTIONAL, "statements": [{"by": "owner", "words": words, "about": about}]}
    assert ("ASK-11" in questions(facts)) is asked_for


def test_ask_11_is_answered_by_the_last_bodys_own_measurement_wires_ohms_and_photos():
    known = edge(length=measured("10 ft 6 in"), wires=2, circuit="resistor", resistance="10 kohm")
    said_so = {**known, "statements": [{"by": "owner", "words": "same as last time"}]}
    photos = [{"shot": "left end of the edge"}, {"shot": "right end of the edge"}]
    assert "same_as_last_time" in blocks_at(said_so)
    assert blocks_at({**said_so, "photos": photos}) == {}
    assert [each.level for each in asks(at({**said_so, "photos": photos})[1])] == ["note"]


# ASK-12: photo and form.
def test_ask_12_shows_both():
    facts = {**SECTIONAL, "lead.end": [told("right"), {"value": "left", "from": "photo"}]}
    assert questions(facts)["ASK-12"] == "The photo shows the lead: left. The form says: right."


def test_ask_12_a_photo_told_from_outside_agrees_after_it_is_turned():
    turned = {"value": "left", "from": "photo", "seen_from": "outside"}
    assert "ASK-12" not in questions({**SECTIONAL, "lead.end": [told("right"), turned]})


def test_ask_12_what_somebody_says_of_a_photo_counts():
    said_so = [{"by": "advisor", "words": "photo 3 shows it on the left", "about": "lead"}]
    assert "ASK-12" in questions({**SECTIONAL, "statements": said_so})
    assert "photo_lead" in blocks_at({**SECTIONAL, "statements": said_so})
    same = [{"by": "advisor", "words": "the photo shows the lead on the right", "about": "lead"}]
    assert "ASK-12" not in questions({**SECTIONAL, "statements": same})


def test_the_questions_come_in_the_order_of_their_numbers():
    facts = {
        **SECTIONAL,
        "door.panel_width": told("9.5 ft"),
        "lead.end": [told("right"), {"value": "left", "from": "photo"}],
        "statements": [{"by": "owner", "words": "same as last time"}],
    }
    opening = at(facts)[1]
    assert asked([*asks(opening), *plausibility(opening)]) == ("ASK-1", "ASK-2", "ASK-11", "ASK-12")


# Hostile words, and whatever is known or not.
def test_odd_words_are_only_put_into_the_sentence():
    facts = {
        **SECTIONAL,
        "surroundings.classified_area": "<script>{area}</script> %s",
        "statements": [{"by": "owner", "words": "same as last time {0} <b>"}],
    }
    found = blocks_at(facts)
    assert "<script>{area}</script> %s" in render(found["classified_area"].reason, US)
    assert "{0} <b>" in render(found["same_as_last_time"].reason, US)


@pytest.mark.parametrize(
    "kind",
    ["sectional", "rolling", "grille", "rolling_fire", "high_speed", "one_piece", "slide_gate", "swing_gate", None],
)
def test_an_opening_of_which_nothing_is_known_is_blocked(kind):
    found = blocks_at({"door.kind": kind})
    assert found
    assert {"kind_unknown", "length_missing", "fire_label_unreadable", "serial_missing"} & set(found)


@pytest.mark.parametrize(
    "gone", sorted(path for path in SECTIONAL if path.startswith(("door.panel", "lead.confirmed")))
)
def test_whatever_is_taken_away_from_a_released_order_blocks_it(gone):
    assert blocks_at(without(SECTIONAL, gone))


def test_an_assumption_never_releases_an_order():
    """Every fact that the order rests on, assumed in place of known."""
    for path in ("door.kind", "door.panel_width", "lead.confirmed.by", "lead.confirmed.on"):
        value = SECTIONAL[path]
        plain = value["value"] if isinstance(value, dict) else value
        assert blocks_at({**SECTIONAL, path: assumed(plain)}), path
