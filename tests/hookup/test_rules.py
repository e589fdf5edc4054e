"""The rules of the trade, HOOK-1 to HOOK-6, each where it speaks and where it is silent."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import render
from sillwright.catalogue import demo

from .openings import EYE, PULSES, TEN, US, edge, hooked, ids, joint, one, plain_edge, text, why

FOUR = {"name": "edge", "circuit": "four_wire"}
FOOT = 0.3048


# HOOK-1: converters


def test_a_converter_that_is_needed_and_not_there_is_an_act() -> None:
    finding = one(hooked([PULSES], edge(through=[])), "HOOK-1")
    assert finding.level == "act"
    assert "without the converter that it needs" in text(finding)


def test_a_converter_that_nobody_took_down_is_a_note_with_what_it_needs() -> None:
    finding = one(hooked([PULSES], edge()), "HOOK-1")
    assert finding.level == "note"
    assert finding.do is not None
    assert "supply" in render(finding.do, US)


@pytest.mark.parametrize("there", [{"converters": [{"name": "box"}]}, {}])
def test_a_converter_that_is_there_needs_no_word(there: dict[str, Any]) -> None:
    device = edge() if there else edge(through=["box"])
    assert "HOOK-1" not in ids(hooked([PULSES], device, **there))


def test_eye_and_edge_on_the_only_input_want_a_converter_for_two() -> None:
    finding = one(hooked([PULSES], edge(through=["a"]), EYE, catalogue=demo()), "HOOK-1")
    assert finding.level == "act"
    assert "Converter class V, two devices" in render(finding.do, US) if finding.do else False


def test_without_a_catalogue_the_converter_for_two_is_not_named() -> None:
    finding = one(hooked([PULSES], edge(through=["a"]), EYE), "HOOK-1")
    assert finding.do is not None
    assert "such as" not in render(finding.do, US)


def test_a_converter_for_two_that_is_there_hides_nothing() -> None:
    both = ["Converter class V, two devices"]
    found = hooked([PULSES], edge(through=both), {**EYE, "through": both}, catalogue=demo())
    assert "HOOK-1" not in ids(found)
    assert [each.watched for each in found.joints] == [True, None]


def test_a_device_that_is_gone_shares_nothing() -> None:
    found = hooked([PULSES], {**EYE, "state": "torn_off"}, {**EYE, "id": "y2"})
    assert "HOOK-1" not in ids(found)


def test_contacts_that_nobody_watches_may_stand_side_by_side() -> None:
    inputs = [{"name": "rev", "circuit": "plain"}]
    found = hooked(inputs, plain_edge("plain"), plain_edge("plain", "e2"))
    assert "HOOK-1" not in ids(found)
    assert found.joints[0].shared_with == ("protection.e2",)


# HOOK-2: pairs and polarity


@pytest.mark.parametrize(("circuit", "words"), [
    ("four_wire", "Find the pairs first"),
    ("diode_capacitor", "right way round"),
    ("resistor", "Either wire"),
    ("plain", "Either wire"),
])  # fmt: skip
def test_the_sheet_says_which_way_round(circuit: str, words: str) -> None:
    inputs = [{"name": "in", "circuit": circuit, "resistance": "10 kohm"}]
    (sheet,) = hooked(inputs, plain_edge(circuit)).wiring
    assert any(words in render(each, US) for each in sheet.remarks)


def test_pulses_of_a_converter_have_a_right_way_round() -> None:
    (sheet,) = hooked([PULSES], edge()).wiring
    assert any("Pulses have a right way round" in render(each, US) for each in sheet.remarks)


def test_a_four_wire_edge_told_to_have_two_wires_is_said() -> None:
    finding = one(hooked([FOUR], plain_edge("four_wire", wires=2)), "HOOK-2")
    assert finding.place == "protection.e1"
    assert "HOOK-2" not in ids(hooked([FOUR], plain_edge("four_wire", wires=4), cord__conductors=4))


def test_a_resistor_edge_is_content_with_two_conductors() -> None:
    assert ids(hooked([TEN], edge(), cord__conductors=2)) == []


# HOOK-3: the end element


def test_the_element_of_the_input_belongs_in_the_far_end() -> None:
    (sheet,) = hooked([TEN], edge()).wiring
    assert (sheet.ends_in, sheet.element) == ("element", 10e3)
    assert any("inside the far end" in render(each, US) for each in sheet.remarks)


def test_of_an_element_that_nobody_read_the_wanted_one_is_named() -> None:
    found = hooked([TEN], plain_edge("resistor"))
    assert found.joints[0].end_element == 10e3
    assert "protection.e1.resistance" in found.joints[0].asks
    assert "HOOK-3" not in ids(found)


# HOOK-4: several edges on one input


def test_two_edges_on_one_input_are_watched_once_one_element_is_all_that_was_found() -> None:
    first, last = {**plain_edge("resistor", "e1"), "input": "edge"}, edge("e2", input="edge")
    found = hooked([TEN], first, last)
    assert one(found, "HOOK-4").level == "note"
    assert [each.watched for each in found.joints] == [None, None]
    assert "protection.e1.resistance" in found.asks
    looked = hooked([TEN], {**first, "resistance": {"value": None, "from": "measured"}}, last)
    assert [each.watched for each in looked.joints] == [True, True]


def test_two_edges_on_one_input_with_an_element_each_hide_each_other() -> None:
    found = hooked([TEN], edge(input="edge"), edge("e2", input="edge"))
    assert [each.watched for each in found.joints] == [False, False]
    assert [each.watched for each in hooked([TEN], edge(), edge("e2")).joints] == [None, None]


def test_two_end_elements_side_by_side_look_wet() -> None:
    finding = one(hooked([TEN], edge(), edge("e2")), "HOOK-4")
    assert finding.level == "act"
    assert "would read 5.02 kΩ" in text(finding)  # with the wires and strips of the first; 5.00 is the bare divider


def test_four_wire_edges_belong_end_to_end_and_whether_they_are_nobody_knows_from_their_input() -> None:
    found = hooked([FOUR], plain_edge("four_wire"), plain_edge("four_wire", "e2"))
    assert one(found, "HOOK-4").level == "note"
    assert [each.watched for each in found.joints] == [None, None]


def test_an_edge_alone_is_no_chain() -> None:
    assert "HOOK-4" not in ids(hooked([TEN], edge()))


# HOOK-5: the lead


@pytest.mark.parametrize(("feet", "says"), [(149, False), (150, False), (151, True), (400, True)])
def test_a_lead_of_more_than_150_ft_is_a_note(feet: float, says: bool) -> None:
    assert ("HOOK-5" in ids(hooked([TEN], edge(), lead_run=feet * FOOT))) is says


def test_the_resistance_of_a_long_lead_is_never_the_fault() -> None:
    """22 AWG has 3.2 ohm in 100 ft of pair: trade rule, computed from the wire table."""
    finding = one(hooked([TEN], edge(), lead_run=200 * FOOT), "HOOK-5")
    assert finding.why is not None
    assert "6.46 Ω" in render(finding.why, US)
    assert (finding.level, finding.place) == ("note", "lead")


# HOOK-6: stop is not reverse


def test_a_device_on_the_stop_terminal_does_not_reverse() -> None:
    found = hooked([{"name": "stop", "circuit": "plain"}], edge(input="stop"))
    assert found.joints[0].reverses is False
    assert one(found, "HOOK-6").level == "act"


@pytest.mark.parametrize("name", ["reverse", "stop/reverse", "edge", "nonstop"])
def test_other_terminals_are_not_taken_for_a_stop(name: str) -> None:
    found = hooked([{"name": name, "circuit": "plain"}], edge())
    assert found.joints[0].reverses is None
    assert "HOOK-6" not in ids(found)


def test_an_operator_that_is_held_may_only_stop() -> None:
    finding = one(hooked([TEN], edge(), operator__closing_control="held"), "HOOK-6")
    assert finding.level == "note"
    assert "HOOK-6" not in ids(hooked([TEN], edge(), operator__closing_control="momentary"))


# all of them


def test_a_device_that_is_gone_raises_no_finding() -> None:
    assert ids(hooked([TEN], edge(resistance="1 kohm", end_element_at="board", state="missing"))) == []


def test_findings_point_at_shapes_of_the_drawing() -> None:
    device = {"kind": "sensing_edge", "circuit": "plain"}  # without a name it has no shape
    found = hooked([FOUR], device)
    assert one(found, "hookup.not_joinable").place is None


def test_every_sheet_begins_with_power_locked_out() -> None:
    assert "Lock the power out" in render(hooked([TEN], edge()).cautions[0], US)


def test_no_sentence_of_the_chapter_promises_anything() -> None:
    found = hooked([TEN, PULSES], edge(end_element_at="board"), EYE, catalogue=demo())
    said = [text(each) for each in found.findings] + [why(each) for each in found.joints]
    said += [render(each, US) for each in found.cautions]
    for word in ("safe", "compliant", "certified", "approved", "guarantee", "!"):
        assert word not in " ".join(said).lower()


def test_a_joint_names_what_it_counts_on() -> None:
    assert "list the whole chain" in why(joint([TEN], edge()))
    assert "list the whole chain" not in why(joint([{"name": "r", "circuit": "plain"}], edge()))
