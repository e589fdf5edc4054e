"""Which input takes a device, and the traps: what looks joined and is not watched, what is not known."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.catalogue import Catalogue, demo
from sillwright.catalogue.reading import catalogue_of
from sillwright.hookup import Joint, join
from sillwright.hookup.inlets import inlets

from ..catalogue.building import HEAD
from .openings import EYE, PULSES, TEN, edge, hooked, ids, joint, one, opening, plain_edge, text, why

# the traps


def test_a_resistor_edge_on_a_plain_input_is_a_plain_edge() -> None:
    found = hooked([{"name": "rev", "circuit": "plain"}], edge())
    assert found.joints[0].way == "direct"
    assert found.joints[0].watched is False
    assert "does not see the resistor" in why(found.joints[0])
    assert "hookup.unseen" in ids(found)


def test_a_plain_edge_joins_no_four_wire_input() -> None:
    found = hooked([{"name": "edge", "circuit": "four_wire"}], plain_edge("plain"))
    assert found.joints[0].way == "not_joinable"
    assert one(found, "hookup.not_joinable").level == "act"


def test_an_end_element_of_8_2_k_on_a_10_k_input_is_named_and_not_watched() -> None:
    found = hooked([TEN], edge(resistance="8.2 kohm"))
    assert found.joints[0].watched is False
    assert found.joints[0].monitored_if_listed is True
    assert found.joints[0].end_element == 10e3
    assert text(one(found, "HOOK-3")) == "e1 ends in 8.2 kΩ, the input edge expects 10 kΩ."


def test_an_end_element_read_as_10_1_k_is_the_10_k_part() -> None:
    found = hooked([TEN], edge(resistance="10.1 kohm"))
    assert found.joints[0].watched is True
    assert ids(found) == []


@pytest.mark.parametrize("place", ["at the board", "operator terminals", "in the box", "near end"])
def test_an_end_element_before_the_edge_watches_nothing(place: str) -> None:
    found = hooked([TEN], edge(end_element_at=place))
    assert found.joints[0].watched is False
    finding = one(found, "HOOK-3")
    assert finding.level == "stop"
    assert finding.place == "protection.e1"
    assert place in text(finding)


@pytest.mark.parametrize("place", ["far_end", "far end of the edge"])
def test_an_end_element_in_the_far_end_is_where_it_belongs(place: str) -> None:
    found = hooked([TEN], edge(end_element_at=place))
    assert found.joints[0].watched is True
    assert found.joints[0].end_element_place == "edge_far"


def test_a_four_wire_edge_on_a_cord_of_two_is_not_watched() -> None:
    inputs = [{"name": "edge", "circuit": "four_wire"}]
    found = hooked(inputs, plain_edge("four_wire"), cord__conductors=2)
    assert found.joints[0].watched is False
    assert one(found, "HOOK-2").place == "cord"
    assert hooked(inputs, plain_edge("four_wire"), cord__conductors=4).joints[0].watched is True


def test_two_eyes_on_one_input_hide_each_other() -> None:
    found = hooked([PULSES], {**EYE, "input": "eye"}, {**EYE, "id": "y2", "input": "eye"})
    assert [each.watched for each in found.joints] == [False, False]
    assert found.joints[0].shared_with == ("protection.y2",)
    assert one(found, "HOOK-1").level == "act"


def test_where_nobody_told_that_two_share_an_input_it_is_not_known_that_they_are_watched() -> None:
    found = hooked([PULSES], EYE, {**EYE, "id": "y2"})
    assert [each.watched for each in found.joints] == [None, None]


def test_a_normally_closed_device_on_a_normally_open_input_wants_a_relay() -> None:
    found = joint([{"name": "rev", "circuit": "plain"}], plain_edge("normally_closed"))
    assert found.way == "through"
    assert "a relay has to turn it over" in why(found)


# which input


def test_each_device_gets_the_input_that_fits_it() -> None:
    found = hooked([PULSES, TEN], edge(), EYE)
    assert [(each.name, each.input, each.way) for each in found.joints] == [
        ("e1", "edge", "direct"),
        ("y1", "eye", "direct"),
    ]
    assert found.left == ()


def test_an_input_that_nothing_wants_is_left() -> None:
    found = hooked([TEN, PULSES], edge())
    assert [each.name for each in found.left] == ["eye"]


def test_the_input_that_was_told_goes_before_the_one_that_fits() -> None:
    inputs = [{"name": "rev", "circuit": "plain"}, TEN]
    assert joint(inputs, edge()).input == "edge"
    told = joint(inputs, edge(input="REV"))
    assert (told.input, told.watched) == ("rev", False)


def test_an_input_that_nobody_took_down_is_asked_for() -> None:
    found = joint([TEN], edge(input="aux"))
    assert found.way == "unknown"
    assert found.watched is None
    assert found.asks == ("protection.e1.input",)


def test_where_no_inputs_are_known_the_inputs_are_asked_for() -> None:
    found = hooked(None, edge())
    assert found.joints[0].way == "unknown"
    assert found.joints[0].watched is None
    assert found.asks == ("operator.inputs", "operator.model")


def test_a_plain_edge_is_known_not_to_be_watched_whatever_the_inputs_are() -> None:
    assert joint(None, plain_edge("plain")).watched is False
    assert joint(None, {"id": "a", "kind": "air_edge"}).watched is False


def test_an_operator_without_inputs_joins_nothing() -> None:
    found = hooked([], edge())
    assert found.joints[0].way == "not_joinable"
    assert "hookup.not_joinable" in ids(found)


def test_a_terminal_that_stops_is_the_last_to_be_chosen() -> None:
    inputs = [{"name": "stop", "circuit": "plain"}, {"name": "reverse", "circuit": "plain"}]
    assert joint(inputs, edge()).input == "reverse"


def test_force_sensing_and_guards_are_joined_to_nothing() -> None:
    assert hooked([TEN], {"id": "i", "kind": "inherent"}, {"id": "g", "kind": "guard"}).joints == ()


def joined(inputs: Any, device: dict[str, Any], catalogue: Catalogue | None = None, **facts: Any) -> Joint:
    """One device on its own, without the others."""
    there = opening(inputs, device, **facts)
    return join(there.protection.items[0], inlets(there, catalogue), catalogue)


def test_a_device_alone_takes_the_input_that_fits_it_best() -> None:
    assert joined([PULSES, TEN], edge()).input == "edge"
    assert joined([PULSES, TEN], edge(input="eye")).input == "eye"
    assert joined([PULSES, TEN], edge(input="aux")).way == "unknown"
    assert joined([], edge()).way == "not_joinable"
    assert joined(None, edge()).watched is None


def test_why_a_device_joins_no_input_is_said_of_each() -> None:
    found = hooked([TEN, PULSES], plain_edge("plain"))
    assert found.joints[0].input is None
    told = text(one(found, "hookup.not_joinable"))
    assert (
        "edge: This input wants an element at the end of the loop, which this circuit does not have. eye:" in told
    )


def test_a_list_of_a_thousand_devices_is_cut_and_said() -> None:
    devices = [edge(f"e{number}", length=f"{number + 1} cm") for number in range(1000)]
    found = hooked([TEN] * 300, *devices)
    assert (len(found.joints), len(found.inputs)) == (60, 60)
    assert any("Only the first" in each.template for each in found.assumptions)
    assert len({each.device for each in found.readings}) == 24


# facts that are open


def test_a_circuit_that_two_inputs_readings_leave_open_is_open() -> None:
    both = [{"value": "resistor", "from": "told"}, {"value": "four_wire", "from": "photo"}]
    found = joint([{"name": "in", "circuit": both}], edge())
    assert (found.way, found.watched) == ("unknown", None)
    assert "This input may be one of several" in why(found)


def test_an_input_that_nobody_read_is_open() -> None:
    found = joint([{"name": "in"}], edge())
    assert (found.way, found.watched) == ("unknown", None)
    assert "What this input reads is not known" in why(found)
    assert "operator.inputs[0].circuit" in found.asks


def test_what_was_taken_down_of_an_input_is_filled_up_from_the_catalogue() -> None:
    found = hooked([{"name": "Edge"}], edge(), catalogue=demo(), operator__model="Operator class J")
    assert (found.inputs[0].circuit, found.inputs[0].resistance) == ("resistor", 10e3)
    assert found.inputs[0].terminals == ("EDGE", "COM")
    by_circuit = hooked(
        [{"name": "S1", "circuit": "resistor"}], edge(), catalogue=demo(), operator__model="Operator class J"
    )
    assert by_circuit.inputs[0].terminals == ("EDGE", "COM")


def test_an_input_of_another_circuit_than_the_catalogues_is_believed_and_said() -> None:
    inputs = [{"name": "edge", "circuit": "four_wire"}]
    found = hooked(inputs, plain_edge("four_wire"), catalogue=demo(), operator__model="Operator class J")
    assert found.joints[0].way == "direct"
    assert "hookup.input_differs" in ids(found)


def test_the_circuit_that_the_catalogue_offers_alone_is_taken_and_said() -> None:
    device = {"id": "a", "kind": "sensing_edge", "model": "Edge class B, air"}
    found = joint([{"name": "r", "circuit": "plain"}], device, catalogue=demo())
    assert found.circuit == "air"
    assert any("offers it with" in each.template for each in found.assumptions)
    several = joint([TEN], {"id": "a", "kind": "sensing_edge", "model": "Edge class B"}, catalogue=demo())
    assert (several.circuit, several.watched) == (None, None)


def test_where_an_element_sits_is_open_while_somebody_only_assumed_it() -> None:
    found = joint([TEN], edge(end_element_at={"value": "board", "from": "assumed"}))
    assert found.watched is None


def test_what_stands_between_is_open_while_somebody_only_assumed_it() -> None:
    found = joint([PULSES], edge(through={"value": ["a"], "from": "assumed"}))
    assert found.converter is None
    assert "protection.e1.through" in found.asks


def test_a_circuit_that_nobody_knows_is_asked_for() -> None:
    found = joint([TEN], {"id": "e1", "kind": "sensing_edge"})
    assert (found.way, found.watched) == ("unknown", None)
    assert "protection.e1.circuit" in found.asks


def test_a_circuit_that_somebody_assumed_is_used_and_not_counted() -> None:
    found = joint([TEN], edge(circuit={"value": "resistor", "from": "assumed"}))
    assert found.way == "direct"
    assert found.watched is None
    assert "protection.e1.circuit" in found.asks


def test_two_readings_of_a_circuit_leave_it_open() -> None:
    both = [{"value": "resistor", "from": "told"}, {"value": "plain", "from": "photo"}]
    found = joint([TEN], edge(circuit=both))
    assert (found.way, found.watched) == ("unknown", None)


def test_two_readings_of_which_neither_is_watched_are_not_watched() -> None:
    both = [{"value": "resistor", "from": "told"}, {"value": "plain", "from": "photo"}]
    found = joint([{"name": "rev", "circuit": "plain"}], edge(circuit=both))
    assert (found.way, found.watched) == ("direct", False)
    assert "may be one of several" in why(found)


def test_an_input_that_somebody_assumed_is_not_counted() -> None:
    found = joint([{**TEN, "circuit": {"value": "resistor", "from": "assumed"}}], edge())
    assert (found.way, found.watched) == ("direct", None)
    assert found.asks == ("operator.inputs[0].circuit",)


def test_lists_of_inputs_that_contradict_each_other_leave_it_open() -> None:
    rivals = [{"value": [TEN], "from": "told"}, {"value": [PULSES], "from": "photo"}]
    found = hooked(None, edge(), operator__inputs=rivals)
    assert found.joints[0].way == "unknown"
    assert "operator.inputs" in found.asks


def test_a_contradicted_element_of_which_one_value_fits_is_open() -> None:
    both = [{"value": "10 kohm", "from": "told"}, {"value": "1.2 kohm", "from": "photo"}]
    assert joint([TEN], edge(resistance=both)).watched is None


# converters


def test_the_catalogue_names_the_converter() -> None:
    found = joint([PULSES], edge(), catalogue=demo())
    assert (found.way, found.converter, found.gives) == ("through", "Converter class V", "pulse_two_wire")
    assert found.standing == "catalogue"


def test_without_a_catalogue_the_converter_is_wanted_and_not_named() -> None:
    found = joint([PULSES], edge())
    assert found.converter is None
    assert found.standing == "practice"
    assert "Wanted: a converter" in why(found)


def test_what_was_taken_down_between_them_goes_before_the_catalogue() -> None:
    found = joint([PULSES], edge(through=["box of the dealer"]), catalogue=demo())
    assert (found.converter, found.standing) == ("box of the dealer", "survey")
    assert found.watched is None
    assert found.monitored_if_listed is True


def test_a_converter_that_gives_another_circuit_joins_nothing() -> None:
    found = joint([PULSES], edge(through=["Converter class W"]), catalogue=demo())
    assert found.way == "not_joinable"
    assert "gives another circuit" in why(found)


def test_a_converter_that_does_not_take_the_circuit_joins_nothing() -> None:
    found = joint([PULSES], plain_edge("plain", through=["Converter class V"]), catalogue=demo())
    assert found.way == "not_joinable"
    assert "does not take this circuit" in why(found)


def test_a_known_converter_that_fits_is_as_good_as_the_table_says() -> None:
    assert joint([PULSES], edge(through=["converter  CLASS v"]), catalogue=demo()).watched is True


def test_radio_links_that_were_taken_down_are_looked_up() -> None:
    inputs = [{"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}]
    known = joint(inputs, plain_edge("radio", through=["Radio link class R"]), catalogue=demo())
    assert (known.way, known.watched) == ("through", True)
    other = joint(inputs, plain_edge("radio", through=["Radio link class U"]), catalogue=demo())
    assert other.way == "not_joinable"


def test_a_radio_link_that_does_not_check_itself_is_not_watched() -> None:
    radios = "radios: [{name: U, gives: [resistor], circuits: [resistor]}]"
    known = catalogue_of((HEAD + radios).encode(), "test.yaml")
    found = joint([TEN], plain_edge("radio"), catalogue=known)
    assert (found.converter, found.watched) == ("U", False)
    assert joint([TEN], plain_edge("radio"), catalogue=demo()).converter == "Radio link class R"


# the operator's class in the catalogue


def test_inputs_that_nobody_took_down_come_from_the_catalogue_by_class() -> None:
    found = hooked(None, edge(), EYE, catalogue=demo(), operator__model="operator class j")
    assert [(each.input, each.way) for each in found.joints] == [("edge", "direct"), ("eye", "direct")]
    assert [each.standing for each in found.inputs] == ["catalogue", "catalogue"]
    assert any("nobody read its terminals" in each.template for each in found.assumptions)


def test_an_input_told_otherwise_than_the_catalogue_has_it_is_said() -> None:
    inputs = [{"name": "edge", "circuit": "resistor", "resistance": "8.2 kohm"}]
    found = hooked(inputs, edge(resistance="8.2 kohm"), catalogue=demo(), operator__model="Operator class J")
    assert found.joints[0].watched is True
    assert found.inputs[0].terminals == ()
    assert one(found, "hookup.input_differs").level == "note"


def test_the_catalogue_of_an_input_goes_before_practice() -> None:
    inputs = "inputs: [{operator: O, name: in, circuit: four_wire, direct: [resistor, plain]}]"
    known = catalogue_of((HEAD + inputs).encode(), "test.yaml")
    found = joint(None, edge(), catalogue=known, operator__model="O")
    assert (found.way, found.watched, found.standing) == ("direct", None, "catalogue")
    plain = joint(None, plain_edge("plain"), catalogue=known, operator__model="O")
    assert (plain.way, plain.watched) == ("direct", False)


def test_a_newer_operator_of_unknown_inputs_gives_a_hint_and_no_evidence() -> None:
    newer = joint(None, edge(), operator__made="2016")
    assert newer.way == "unknown"
    assert any("hint" in each.template for each in newer.assumptions)
    assert not joint(None, edge(), operator__made="2010").assumptions


@pytest.mark.parametrize("place", ["somewhere", "not at the far end", None])
def test_an_end_element_that_nobody_could_place_is_asked_for(place: str | None) -> None:
    found = joint([TEN], edge(end_element_at=place))
    assert found.watched is None
    assert "protection.e1.end_element_at" in found.asks
    assert "far end" in why(found)


def test_ten_ohm_are_a_press_and_no_end_element() -> None:
    found = joint([{**TEN, "resistance": "10 ohm"}], edge(resistance="10 ohm"))
    assert found.watched is None
    assert {"protection.e1.resistance", "operator.inputs[0].resistance"} <= set(found.asks)
    assert "10 Ω is no end element" in why(found)


def test_without_told_inputs_a_circuit_that_can_be_watched_counts_once_it_is_listed() -> None:
    found = joint(None, edge(through=[]))
    assert (found.way, found.watched, found.monitored_if_listed) == ("unknown", None, True)
    assert joint(None, plain_edge("plain")).monitored_if_listed is False
    assert joint(None, {"id": "e1", "kind": "sensing_edge"}).monitored_if_listed is None


def test_an_edge_that_was_found_on_no_input_is_not_watched() -> None:
    found = joint([TEN], edge(input={"value": None, "from": "measured"}))
    assert found.watched is False
    assert "joined to no input" in why(found)


def test_which_of_two_inputs_an_edge_is_on_decides_where_one_would_not_watch_it() -> None:
    aux = {"name": "aux", "circuit": "plain"}
    found = joint([TEN, aux], edge(input=None))
    assert found.watched is None
    assert "protection.e1.input" in found.asks
    assert joint([TEN, aux], edge()).watched is True
    assert joint([TEN, {**TEN, "name": "second"}], edge(input=None)).watched is True


def test_of_two_edges_on_the_only_input_that_would_watch_them_neither_is_watched_for_certain() -> None:
    found = hooked([TEN, {"name": "aux", "circuit": "plain"}], edge(), edge("e2"))
    assert [each.watched for each in found.joints] == [None, None]
    assert {"protection.e1.input", "protection.e2.input"} <= set(found.asks)
