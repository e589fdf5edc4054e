"""What the wires of an opening let the operator watch, and what that means for closing under power.

Each opening is one whose instructions were read and list the device; only the wires differ. Two elements side by
side read half, and a cut to one of them leaves what the other reads, which is right: by the divider (computed).
"""

from __future__ import annotations

from typing import Any, ClassVar

import pytest

from tests.duty.test_answers import COMMERCIAL, EDGE, EYE, OLD, PLAIN, answer, duty, finding_ids
from tests.duty.test_doubt import reading, twice

TEN = {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}
AUX = {"name": "aux", "circuit": "plain"}
FOUR = {"name": "four", "circuit": "four_wire"}
PULSES = {"name": "eye", "circuit": "pulse_two_wire"}
TWO_WAYS = (("e1", "end_to_end"), ("e2", "side_by_side"))
TWO_MODELS = {**COMMERCIAL, "operator.lists_devices": ["edge-m", "eye-t", "conv-2"]}


def edge(id: str = "e1", **facts: Any) -> dict[str, Any]:
    return {**EDGE, "id": id, **facts}


def on(inputs: Any, *devices: dict[str, Any], **facts: Any) -> tuple[str, tuple[str, ...]]:
    found = duty(TWO_MODELS, operator__inputs=inputs, protection=list(devices), **facts)
    return found.powered_closing, found.deciding_facts


class TestTheInput:
    def test_instructions_that_list_the_edge_have_an_input_for_it_where_nobody_was_asked(self) -> None:
        assert on(..., edge()) == ("yes", ())
        assert "duty.input_not_seen" in finding_ids(duty(COMMERCIAL))
        assert "duty.input_not_seen" not in finding_ids(duty(COMMERCIAL, operator__inputs=[TEN]))

    def test_inputs_that_somebody_could_not_make_out_are_open(self) -> None:
        assert on(None, edge()) == ("unknown", ("operator.inputs",))

    def test_an_edge_that_was_found_on_no_input_is_not_watched(self) -> None:
        nowhere = edge(input={"value": None, "from": "measured"})
        assert on([TEN], nowhere)[0] == on(..., nowhere)[0] == "no"

    def test_not_knowing_which_input_the_edge_is_on_is_open_where_one_would_not_watch_it(self) -> None:
        assert on([TEN, AUX], edge(input=None)) == ("unknown", ("protection.e1.input",))
        assert on([TEN], edge(input=None)) == ("yes", ())
        assert on([TEN, AUX], edge()) == ("yes", ())

    def test_a_name_is_read_however_it_is_written(self) -> None:
        assert on([TEN, {**AUX, "name": "Edge"}], edge(input="EDGE"))[0] == "unknown"
        assert on([{**TEN, "name": "Edge"}, AUX], edge(input="EDGE")) == ("yes", ())
        assert on([TEN, AUX], edge(input="Aux"))[0] == "no"

    @pytest.mark.parametrize(("ohms", "closes"), [
        ("9 kohm", "yes"), ("8.99 kohm", "no"), ("11 kohm", "yes"), ("11.05 kohm", "no"), ("8.2 kohm", "no"),
        ("4.7 kohm", "no"), ("501 ohm", "no"), ("22 kohm", "no"), ("10 ohm", "no"), ("10 Mohm", "no"),
    ])  # fmt: skip
    def test_an_end_element_is_the_one_expected_within_a_tenth_of_it(self, ohms: str, closes: str) -> None:
        assert on([TEN], edge(resistance=ohms))[0] == closes

    @pytest.mark.parametrize("slip", [10, "10 ohm", "500 ohm", "10 Mohm"])
    def test_a_slip_of_a_thousand_on_both_sides_is_no_end_element(self, slip: Any) -> None:
        own, both = "protection.e1.resistance", [{**TEN, "resistance": slip}]
        assert on(both, edge(resistance=slip)) == ("unknown", ("operator.inputs[0].resistance", own))
        assert on(..., edge(resistance=slip)) == ("unknown", (own,))
        assert on(both, edge()) == ("unknown", ("operator.inputs[0].resistance",))

    @pytest.mark.parametrize("name", ["stop", "STOP", "emergency_stop", "interlock"])
    def test_a_terminal_that_stops_does_not_reverse(self, name: str) -> None:
        stops = {**TEN, "name": name}
        assert on([stops], edge(input=name)) == ("unknown", ("protection.e1.input",))
        assert on([stops], edge()) == ("unknown", ("protection.e1.input",))
        assert on(..., edge(input=name)) == ("unknown", ("protection.e1.input",))
        assert on([stops, TEN], edge(input="edge")) == ("yes", ())

    @pytest.mark.parametrize("name", ["stop/reverse", "reopen", "nonstop"])
    def test_a_terminal_that_also_reverses_is_no_mere_stop(self, name: str) -> None:
        assert on([{**TEN, "name": name}], edge(input=name)) == ("yes", ())

    def test_an_older_operator_whose_edge_only_stops_it_is_open_too(self) -> None:
        stops = [{"name": "stop", "circuit": "plain"}]
        assert answer(OLD, operator__inputs=stops) == "unknown"
        assert answer(OLD, operator__inputs=[{**stops[0], "name": "reverse"}]) == "yes"


class TestTheLoop:
    @pytest.mark.parametrize("count", [2, 3])
    def test_a_four_wire_edge_on_fewer_conductors_is_a_plain_edge(self, count: int) -> None:
        four = edge(circuit="four_wire")
        assert on([FOUR], four, cord__conductors=count)[0] == "no"
        assert on([FOUR], edge(circuit="four_wire", wires=count))[0] == "no"
        assert on([FOUR], four, cord__conductors=4) == on([FOUR], four) == ("yes", ())

    def test_conductors_that_were_counted_twice_or_assumed_are_open(self) -> None:
        four, where = edge(circuit="four_wire"), ("unknown", ("cord.conductors",))
        assert on([FOUR], four, cord__conductors=twice(2, 4)) == where
        assert on([FOUR], four, cord__conductors={"value": 2, "from": "assumed"}) == where

    def test_a_resistor_edge_needs_no_more_than_two(self) -> None:
        assert on([TEN], edge(wires=2), cord__conductors=2) == ("yes", ())

    def test_a_circuit_told_in_two_ways_is_not_watched_for_certain_by_an_element_at_the_board(self) -> None:
        either = edge(circuit=twice("resistor", "four_wire"), end_element_at="board")
        assert on(..., either)[0] == "unknown"
        assert on(..., edge(circuit=twice("resistor", "diode_capacitor"), end_element_at="board"))[0] == "no"


class TestAnEdgeWithoutAnElement:
    NONE: ClassVar = {"value": None, "from": "measured"}

    @pytest.mark.parametrize("inputs", [..., [TEN], [TEN, AUX]])
    def test_looked_for_and_not_found_it_is_a_plain_edge(self, inputs: Any) -> None:
        assert on(inputs, edge(resistance=self.NONE))[0] == "no"
        assert on(inputs, edge(resistance=None))[0] == "yes"

    def test_it_is_so_behind_a_converter_too(self) -> None:
        assert on([PULSES], edge(resistance=self.NONE, through=["conv-2"]))[0] == "no"

    def test_where_another_edge_may_hold_the_element_of_both_its_input_is_asked(self) -> None:
        both = [edge(resistance=self.NONE), edge("e2", resistance="10 kohm")]
        found = duty(TWO_MODELS, operator__inputs=[TEN, {**TEN, "name": "second"}], protection=both)
        assert [each.watched for each in found.devices] == ["unknown", "yes"]

    def test_on_an_input_of_its_own_no_other_edge_helps_it(self) -> None:
        both = [edge(resistance=self.NONE, input="edge"), edge("e2", resistance="10 kohm", input="second")]
        found = duty(TWO_MODELS, operator__inputs=[TEN, {**TEN, "name": "second"}], protection=both)
        assert [each.watched for each in found.devices] == ["no", "yes"]

    def test_a_circuit_told_in_two_ways_is_open(self) -> None:
        either = twice("resistor", "diode_capacitor")
        assert on(..., edge(resistance=self.NONE, circuit=either)) == ("unknown", ("protection.e1.circuit",))


class TestTwoOnOneInput:
    def test_two_edges_with_an_element_each_hide_each_other(self) -> None:
        both = [edge(each, input="edge", resistance="10 kohm") for each in ("e1", "e2")]
        assert on([TEN], *both)[0] == on(..., *both)[0] == "no"

    def test_two_edges_with_one_element_that_was_looked_for_stand_in_one_loop(self) -> None:
        last = edge("e2", input="edge", resistance="10 kohm")
        first = edge(input="edge", resistance={"value": None, "from": "measured"})
        assert on([TEN], first, last) == ("yes", ())

    def test_two_edges_of_which_nobody_knows_the_elements_are_open(self) -> None:
        last = edge("e2", input="edge", resistance="10 kohm")
        assert on([TEN], edge(input="edge"), last) == ("unknown", ("protection.e1.resistance",))

    @pytest.mark.parametrize(("way", "closes"), [
        ("end_to_end", "yes"), ("in_series", "yes"), ("side_by_side", "no"), ("in_parallel", "no"),
        ("own_wires", "no"), (None, "unknown"), (..., "unknown"),
        ({"value": "end_to_end", "from": "assumed"}, "unknown"),
    ])  # fmt: skip
    def test_two_four_wire_edges_are_watched_in_one_loop_and_not_side_by_side(self, way: Any, closes: str) -> None:
        told = {} if way is ... else {"joined": way}
        both = [edge(each, input="four", circuit="four_wire") for each in ("e1", "e2")]
        asked = ("protection.e1.joined",) if closes == "unknown" else ()
        assert on([FOUR], {**both[0], **told}, both[1]) == (closes, asked)

    def test_two_that_say_otherwise_of_how_they_share_it_are_open(self) -> None:
        both = [edge(each, input="four", circuit="four_wire", joined=way) for each, way in TWO_WAYS]
        assert on([FOUR], *both) == ("unknown", ("protection.e1.joined", "protection.e2.joined"))
        told = twice("end_to_end", "side_by_side")
        both = [edge(each, input="four", circuit="four_wire", joined=told) for each in ("e1", "e2")]
        assert on([FOUR], *both) == ("unknown", ("protection.e1.joined", "protection.e2.joined"))

    def test_side_by_side_only_the_one_with_the_only_element_is_watched(self) -> None:
        last = edge("e2", input="edge", resistance="10 kohm", joined="side_by_side")
        first = edge(input="edge", resistance={"value": None, "from": "measured"})
        found = duty(TWO_MODELS, operator__inputs=[TEN], protection=[first, last])
        assert [each.watched for each in found.devices] == ["no", "yes"]

    def test_one_part_hears_each_on_its_own_wires_but_not_those_that_meet_before_it(self) -> None:
        for way, closes in (("own_wires", "yes"), ("side_by_side", "no"), ("end_to_end", "no")):
            told: dict[str, Any] = {"through": ["conv-2"], "input": "eye", "joined": way, "resistance": "10 kohm"}
            assert on([PULSES], edge(**told), edge("e2", **told))[0] == closes

    def test_an_edge_and_an_eye_on_one_input_hide_each_other(self) -> None:
        eye = {**EYE, "input": "eye", "state": "works"}
        assert on([PULSES], edge(input="eye", through=["conv-1"]), eye)[0] == "no"

    def test_one_listed_converter_for_both_hands_on_either(self) -> None:
        through: dict[str, Any] = {"through": ["conv-2"], "input": "eye"}
        assert on([PULSES], edge(**through), {**EYE, **through}) == ("yes", ())

    def test_a_plain_edge_told_on_the_same_input_hides_the_watched_one(self) -> None:
        assert on([TEN], edge(input="edge"), edge("e2", circuit="plain", input="edge"))[0] == "no"

    def test_where_two_need_the_only_input_which_is_on_it_is_to_be_found_out(self) -> None:
        assert on([TEN], edge(), edge("e2")) == ("unknown", ("protection.e1.input", "protection.e2.input"))
        assert on([TEN, AUX], edge(), edge("e2"))[0] == "unknown"
        assert on([TEN, {**TEN, "name": "second"}], edge(), edge("e2")) == ("yes", ())
        assert on([TEN], edge(input="edge"), edge("e2")) == ("unknown", ("protection.e2.input",))

    def test_a_device_of_another_circuit_takes_no_input_away(self) -> None:
        assert on([TEN], edge(), EYE) == ("yes", ())
        assert on([TEN], edge(), {key: value for key, value in EYE.items() if key != "through"}) == ("yes", ())
        assert on([TEN], edge(), {"id": "i1", "kind": "inherent", "state": "works"}) == ("yes", ())

    @pytest.mark.parametrize("state", ["missing", "torn_off"])
    def test_what_is_gone_hides_nothing(self, state: str) -> None:
        beside = edge("e2", input="edge", state=state, resistance="10 kohm")
        found = duty(
            TWO_MODELS, operator__inputs=[TEN], protection=[edge(input="edge", resistance="10 kohm"), beside]
        )
        assert next(each.watched for each in found.devices) == "yes"

    def test_of_very_many_devices_none_is_taken_to_have_an_input_of_its_own(self) -> None:
        inputs = [{**TEN, "name": f"in{each}"} for each in range(26)]
        assert on(inputs, *(edge(f"e{each}") for each in range(25)))[0] == "unknown"


class TestReadings:
    @pytest.mark.parametrize(("element", "ohms", "closes"), [
        ("10 kohm", "500 ohm", "yes"), ("10 kohm", "501 ohm", "no"),
        ("1 kohm", "340 ohm", "yes"), ("1 kohm", "341 ohm", "no"), ("1.2 kohm", "450 ohm", "no"),
    ])  # fmt: skip
    def test_a_press_has_to_come_below_what_the_input_takes_for_one(
        self, element: str, ohms: str, closes: str
    ) -> None:
        pressed = [reading(ohms=ohms, pressed=True)]
        assert answer(COMMERCIAL, protection=[edge(resistance=element)], readings=pressed) == closes

    def test_a_good_value_and_a_press_that_changes_nothing_is_a_failure(self) -> None:
        felt = [reading(pressed=False), reading(at="box", pressed=True)]
        assert answer(COMMERCIAL, protection=[edge(resistance="10 kohm")], readings=felt) == "no"


def test_a_plain_edge_is_monitored_on_no_input_at_all() -> None:
    for input in (TEN, AUX, FOUR, PULSES):
        assert on([input], {**PLAIN, "model": "edge-m", "through": []})[0] == "no"
