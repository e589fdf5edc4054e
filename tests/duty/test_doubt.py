"""What is in doubt never counts in favour of closing: lists told twice, records that contradict, assumptions.

The bands of resistance are those of ``duty.evidence``, from memory; dates of rules are second-hand (ANSI/UL 325).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.duty.test_answers import COMMERCIAL, EDGE, EUROPE, EYE, GATE, OLD, PLAIN, READ, answer, duty, finding_ids

DEAD = {**EYE, "state": "dead"}


def twice(first: Any, second: Any) -> list[dict[str, Any]]:
    return [{"value": first, "from": "told"}, {"value": second, "from": "measured"}]


def reading(**facts: Any) -> dict[str, Any]:
    return {"at": "operator", "of": "e1", "ohms": "10 kohm", **facts}


class TestListsToldTwice:
    def test_what_both_readings_of_a_list_show_stands(self) -> None:
        failed = [{"what": "TEST-9", "result": "not met"}]
        assert answer(COMMERCIAL, tests=twice(failed, [*failed, {"what": "TEST-4", "result": "met"}])) == "no"
        assert answer(COMMERCIAL, temporary_parts=twice(["jumper"], ["resistor"])) == "no"

    def test_what_only_one_reading_shows_is_open(self) -> None:
        found = duty(COMMERCIAL, temporary_parts=twice(["jumper"], []))
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("temporary_parts",)
        assert "duty.temporary_part" in finding_ids(found)

    def test_devices_told_twice_are_both_tried(self) -> None:
        assert answer(COMMERCIAL, protection=twice([EDGE, DEAD], [EDGE, {**EYE, "state": "torn_off"}])) == "no"
        assert duty(COMMERCIAL, protection=twice([EDGE], [PLAIN])).deciding_facts == ("protection",)

    def test_the_same_list_twice_is_one(self) -> None:
        assert answer(COMMERCIAL, protection=twice([EDGE], [EDGE])) == "yes"

    def test_members_that_carry_an_origin_each_are_members(self) -> None:
        found = [{"value": reading(ohms="50 kohm", pressed=False), "from": "measured"}]
        assert answer(COMMERCIAL, readings=found) == "no"
        assert answer(COMMERCIAL, temporary_parts=[{"value": "jumper", "from": "measured"}]) == "no"
        assert answer(COMMERCIAL, temporary_parts="a jumper") == "no"


class TestInputs:
    def test_an_input_of_which_two_things_are_said_may_be_plain(self) -> None:
        inputs = [{"name": "edge", "circuit": twice("resistor", "plain")}]
        assert duty(COMMERCIAL, operator__inputs=inputs).deciding_facts == ("operator.inputs[0].circuit",)

    def test_an_operator_without_an_input_watches_nothing(self) -> None:
        assert answer(COMMERCIAL, operator__inputs=[]) == "no"

    def test_an_assumed_list_of_inputs_that_would_not_fit_is_open(self) -> None:
        found = duty(COMMERCIAL, operator__inputs={"value": [{"circuit": "plain"}], "from": "assumed"})
        assert found.deciding_facts == ("operator.inputs",)

    def test_a_converter_on_the_wall_stands_somewhere_in_the_chain(self) -> None:
        edge = {key: value for key, value in EDGE.items() if key != "through"}
        found = duty(COMMERCIAL, protection=[edge], converters=[{"name": "converter-k"}])
        assert found.deciding_facts == ("protection.e1.through",)

    @pytest.mark.parametrize("links", [[], ["transmitter-a"]])
    def test_a_radio_with_less_than_two_links_is_not_the_whole_chain(self, links: list[str]) -> None:
        radio = {**EDGE, "circuit": "radio", "through": links}
        lists = ["edge-m", "transmitter-a", "receiver-a"]
        assert answer(COMMERCIAL, protection=[radio], operator__lists_devices=lists) == "unknown"
        whole = {**radio, "through": ["transmitter-a", "receiver-a"]}
        assert answer(COMMERCIAL, protection=[whole], operator__lists_devices=lists) == "yes"


class TestReadings:
    def test_a_reading_that_fails_whatever_the_circuit_needs_no_circuit(self) -> None:
        assert answer(OLD, readings=[reading(ohms="2 kohm", pressed=True)]) == "no"

    def test_a_circuit_not_known_leaves_a_reading_open(self) -> None:
        unknown = {"id": "e1", "kind": "sensing_edge", "state": "works"}
        found = duty(OLD, protection=[unknown], readings=[reading(pressed=True)])
        assert found.deciding_facts == ("protection.e1.circuit",)

    def test_two_kilohm_is_bad_pressed_or_not(self) -> None:
        assert answer(COMMERCIAL, readings=[reading(ohms="2 kohm")]) == "no"

    def test_a_hundred_ohm_is_bad_only_at_rest(self) -> None:
        found = duty(COMMERCIAL, readings=[reading(ohms="100 ohm")])
        assert found.deciding_facts == ("readings[0].pressed",)

    def test_two_ohm_values_of_which_one_is_bad(self) -> None:
        assert answer(COMMERCIAL, readings=[reading(ohms=twice("10 kohm", "50 kohm"), pressed=False)]) == "unknown"

    def test_a_good_reading_at_rest_does_not_take_back_a_failed_press(self) -> None:
        pressed, rest = reading(pressed=True, on="2026-01-01"), reading(pressed=False, on="2026-01-02")
        assert answer(COMMERCIAL, readings=[pressed, rest]) == "no"

    def test_a_diode_element_is_pressed_below_500_ohm_too(self) -> None:
        diode = {**EDGE, "circuit": "diode_capacitor"}
        assert answer(COMMERCIAL, protection=[diode], readings=[reading(ohms="5 Mohm", pressed=True)]) == "no"

    def test_a_bad_reading_of_a_device_nobody_knows_leaves_it_open(self) -> None:
        assert answer(COMMERCIAL, readings=[reading(of="E1", ohms="50 kohm", pressed=False)]) == "unknown"


class TestTests:
    def test_not_tested_never_counts_as_met(self) -> None:
        done = [
            {"what": "TEST-9", "result": "not met", "on": "2026-01-01"},
            {"what": "TEST-9", "result": "not tested (rain)", "on": "2026-02-01"},
        ]
        assert answer(COMMERCIAL, tests=done) == "no"

    def test_a_later_one_that_was_met_takes_it_back(self) -> None:
        done = [
            {"what": "TEST-9", "result": "not met", "on": "2026-01-01"},
            {"what": "TEST-9", "result": "met", "on": "2026-02-01"},
        ]
        assert answer(COMMERCIAL, tests=done) == "yes"

    def test_an_order_that_nobody_can_tell_leaves_it_open(self) -> None:
        done = [
            {"what": "TEST-9", "result": "met", "on": "2026"},
            {"what": "TEST-9", "result": "failed", "on": "2026-02-01"},
        ]
        assert answer(COMMERCIAL, tests=done) == "unknown"

    def test_an_assumed_result_decides_nothing(self) -> None:
        assumed = [{"what": "TEST-9", "result": {"value": "not met", "from": "assumed"}}]
        assert answer(COMMERCIAL, tests=assumed) == "yes"

    @pytest.mark.parametrize("name", ["force", "force_record", "Force record", "TEST-12"])
    def test_a_force_record_has_several_names(self, name: str) -> None:
        assert answer(EUROPE, tests=[{"what": name, "result": "met", "on": "2026-02-01"}]) == "yes"


class TestOrigins:
    @pytest.mark.parametrize("origin", ["support", "told", "assumed"])
    def test_instructions_that_somebody_told_of_are_not_read(self, origin: str) -> None:
        assert answer(COMMERCIAL, operator__instructions={"value": READ, "from": origin}) == "unknown"

    def test_an_assumed_state_is_open(self) -> None:
        for state in ("dead", "works"):
            assumed = {**EDGE, "state": {"value": state, "from": "assumed"}}
            assert duty(COMMERCIAL, protection=[assumed]).deciding_facts == ("protection.e1.state",)

    def test_an_assumed_newer_board_opens_the_date(self) -> None:
        assert answer(OLD, operator__board_made={"value": "2019", "from": "assumed"}) == "unknown"

    def test_a_newer_board_of_before_the_rule_is_an_older_installation(self) -> None:
        found = duty(OLD, operator__board_made="2009")
        assert found.powered_closing == "yes"
        assert "duty.older_installation" in finding_ids(found)

    def test_a_board_older_than_its_operator_is_a_slip_and_makes_nothing_older(self) -> None:
        found = duty(OLD, operator__made="2015", operator__board_made="2005")
        assert found.powered_closing == "no"
        assert not finding_ids(found) & {"duty.older_installation", "duty.newer_board"}

    def test_two_readings_of_an_early_date_are_an_older_installation_all_the_same(self) -> None:
        either = [{"value": "2005", "from": "told"}, {"value": "2006", "from": "plate"}]
        found = duty(OLD, operator__made=either)
        assert found.powered_closing == "yes"
        assert "duty.older_installation" in finding_ids(found)

    def test_what_is_assumed_of_a_leaf_is_no_stop(self) -> None:
        found = duty(COMMERCIAL, as_found={"value": "closes_on_objects", "from": "assumed"})
        assert "duty.closes_on_objects" not in finding_ids(found)


class TestGates:
    def test_a_zone_without_a_direction_covers_neither_for_certain(self) -> None:
        zones = [{"place": "post", "means": ["i1", "e1"]}]
        assert "zones[0].direction" in duty(GATE, zones=zones).deciding_facts

    def test_a_newer_board_decides_at_a_gate_too(self) -> None:
        old = {"operator.made": "2010", "protection": [GATE["protection"][0], PLAIN]}
        assert answer({**GATE, **old}) == "yes"
        assert answer({**GATE, **old}, operator__board_made="2020") == "no"

    def test_means_that_are_not_among_the_devices_are_not_there(self) -> None:
        zones = [{"place": "post", "direction": "both", "means": ["inherent", "photo_eye"]}]
        assert answer(GATE, protection=[], zones=zones) == "no"

    def test_only_what_is_not_known_decides(self) -> None:
        assert duty(GATE, zones=...).deciding_facts == ("zones",)
        assert duty(COMMERCIAL, protection=None).deciding_facts == ("protection",)


class TestPlaces:
    def test_a_country_told_twice_is_an_open_fact(self) -> None:
        found = duty(COMMERCIAL, site__country=[{"value": "US", "from": "told"}, {"value": "DE", "from": "told"}])
        assert (found.powered_closing, found.no_rules) == ("unknown", False)
        assert "site.country" in found.deciding_facts

    def test_stations_that_nobody_knows_are_an_open_fact(self) -> None:
        assert duty(COMMERCIAL, stations=None).deciding_facts == ("stations",)

    def test_a_finding_points_at_the_device_it_is_about(self) -> None:
        high = {**EYE, "height": "30 in"}
        places = {each.id: each.place for each in duty(COMMERCIAL, protection=[EDGE, high]).findings}
        assert places["eye-height"] == "protection.y1"
        left = duty(COMMERCIAL, temporary_parts=[{"what": "jumper", "of": "zz"}])
        assert {each.place for each in left.findings if each.id == "duty.temporary_part"} == {"operator"}

    def test_a_zone_that_lacks_its_means_is_the_one_pointed_at(self) -> None:
        bare = [*GATE["zones"], {"place": "tail end", "direction": "opening", "means": []}]
        places = {each.id: each.place for each in duty(GATE, zones=bare).findings}
        assert places["ul325-gate-different-types"] == "zone.1"

    def test_a_one_piece_leaf_follows_the_commercial_rule_unless_it_is_a_house(self) -> None:
        assert answer(COMMERCIAL, door__kind="one_piece", door__occupancy=...) == "yes"

    def test_a_curtain_that_can_be_stepped_over_sees_no_area(self) -> None:
        low = {"id": "c1", "kind": "light_curtain", "state": "works", "height": "0.3 m"}
        assert answer(COMMERCIAL, operator__closing_control="unattended", protection=[EDGE, low]) == "no"


INPUT = {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}


class TestSecondLook:
    def test_many_stations_and_devices_are_answered_at_once(self) -> None:
        assert answer(COMMERCIAL, stations=[{"place": f"wall {number}"} for number in range(60)]) == "yes"
        many = [{"id": f"d{number}", "kind": "sensing_edge"} for number in range(60)]
        assert answer(COMMERCIAL, protection=many) == "unknown"

    def test_what_is_too_entangled_is_answered_by_three_values(self, monkeypatch: pytest.MonkeyPatch) -> None:
        monkeypatch.setattr("sillwright.base.logic.MOST_NODES", 3)
        found = duty(OLD, operator__made=None, protection=None, operator__closing_control=None)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts
        assert answer(COMMERCIAL) == "yes"
        assert answer(COMMERCIAL, temporary_parts=["jumper"]) == "no"

    def test_a_board_date_never_hides_a_doubt_of_the_operators(self) -> None:
        plain = {**OLD, "operator.lists_devices": []}
        boards = [{"value": "2005", "from": "told"}, {"value": "2006", "from": "plate"}]
        assert answer(plain, operator__made="2019", operator__board_made=boards) == "no"
        made = [{"value": "2005", "from": "told"}, {"value": "2019", "from": "plate"}]
        assert answer(plain, operator__made=made, operator__board_made="2006") == "unknown"
        assumed = {"value": "2019", "from": "assumed"}
        assert answer(plain, operator__made=assumed, operator__board_made="2006") == "unknown"

    def test_two_dates_in_doubt_meet_every_rule(self) -> None:
        made = [{"value": "2005", "from": "told"}, {"value": "2019", "from": "plate"}]
        for base in (COMMERCIAL, GATE, {**COMMERCIAL, "door.occupancy": "residential"}):
            assert duty(base, operator__made=made, operator__board_made="2017").rules

    def test_a_later_reading_without_a_value_takes_nothing_back(self) -> None:
        bad = reading(ohms="100 ohm", pressed=False, on="2026-01-01")
        assert answer(COMMERCIAL, readings=[bad, reading(ohms=None, pressed=False, on="2026-02-01")]) == "no"

    def test_a_reading_of_nobodys_device_counts_beside_one_without_an_id(self) -> None:
        nameless = {"kind": "photo_eye", "circuit": "optical"}
        bad = {"at": "operator", "ohms": "100 ohm", "pressed": False}
        assert answer(COMMERCIAL, protection=[EDGE, nameless], readings=[bad]) == "unknown"

    def test_a_result_told_in_two_ways_is_open(self) -> None:
        assert answer(COMMERCIAL, tests=[{"what": "TEST-6", "result": twice("met", "not met")}]) == "unknown"
        assert answer(EUROPE, tests=[{"what": "force", "result": twice("met", "not met")}]) == "unknown"

    @pytest.mark.parametrize("name", ["test-6", "TEST-6 monitoring"])
    def test_a_code_is_read_as_people_write_it(self, name: str) -> None:
        assert answer(COMMERCIAL, tests=[{"what": name, "result": "not met"}]) == "no"

    def test_what_is_taken_back_on_an_assumed_day_stays_in_doubt(self) -> None:
        failed = {"what": "TEST-6", "result": "not met", "on": "2026-01-01"}
        later = {"what": "TEST-6", "result": "met", "on": {"value": "2026-02-01", "from": "assumed"}}
        assert answer(COMMERCIAL, tests=[failed, later]) == "no"

    @pytest.mark.parametrize("view", [None, {"value": False, "from": "assumed"}])
    def test_a_station_asked_about_is_not_overridden(self, view: Any) -> None:
        stations = [{"closes": True, "in_view": True}, {"closes": True, "in_view": view}]
        assert duty(COMMERCIAL, stations=stations).deciding_facts == ("stations[1].in_view",)

    def test_contradictions_at_the_input_are_open(self) -> None:
        one = {"operator.inputs": [INPUT]}
        circuit = [{**EDGE, "circuit": twice("resistor", "four_wire")}]
        assert answer({**COMMERCIAL, **one}, protection=circuit) == "unknown"
        both_wrong = [{**EDGE, "resistance": twice("100 ohm", "3 kohm")}]
        assert answer({**COMMERCIAL, **one}, protection=both_wrong) == "no"
        two = {"operator.inputs": [INPUT, {"name": "aux", "circuit": "plain"}]}
        assert answer({**COMMERCIAL, **two}, protection=[{**EDGE, "input": "no such input"}]) == "unknown"

    def test_the_end_element_is_that_of_its_own_input(self) -> None:
        inputs = [{**INPUT, "name": "other", "resistance": "1 kohm"}, INPUT]
        edge = [{**EDGE, "input": "edge"}]
        base = {**COMMERCIAL, "operator.inputs": inputs, "protection": edge}
        assert answer(base, readings=[reading(ohms="10 kohm", pressed=False)]) == "yes"
        assert answer(base, readings=[reading(ohms="400 ohm", pressed=False)]) == "no"

    def test_controls_of_the_operator_count_like_the_others(self) -> None:
        closes = [{"kind": "portable", "closes": True}]
        assert answer(COMMERCIAL, operator__controls=closes) == "no"
        assert answer(COMMERCIAL, operator__controls=None) == "unknown"
        assert answer(COMMERCIAL, operator__controls=twice([], closes)) == "unknown"

    def test_an_assumed_harm_is_open(self) -> None:
        objects = {"value": "closes_on_objects", "from": "assumed"}
        assert duty(COMMERCIAL, as_found=objects).deciding_facts == ("as_found",)
        public = {"value": True, "from": "assumed"}
        assert answer(EUROPE, use__public=public) == "unknown"

    def test_ohms_that_are_assumed_or_not_to_be_had_are_open(self) -> None:
        for ohms in ({"value": "100 ohm", "from": "assumed"}, {"value": None, "from": "measured"}):
            assert answer(COMMERCIAL, readings=[reading(ohms=ohms, pressed=False)]) == "unknown"


class TestTestsByName:
    """A test counts by its number in the test plan (TEST-1 to TEST-27), however it is written."""

    @pytest.mark.parametrize(
        "what", ["TEST-10", "test 10", "Test_10", "TEST10", "TEST-010", "TEST–10 board", "TEST-10: middle"]
    )
    def test_a_number_is_read_as_it_was_written(self, what: str) -> None:
        failed = [{"what": what, "result": "not met", "on": "2026-01-05"}]
        assert answer(COMMERCIAL, tests=failed) == "no"
        later = {"what": "TEST-10", "result": "met", "on": "2026-02-05"}
        assert answer(COMMERCIAL, tests=[*failed, later]) == "yes"

    @pytest.mark.parametrize(
        "what", ["pushed the edge", "TEST-99", "test 2x4 flat", "test 1 ft from the jamb", None]
    )
    def test_a_failure_of_nobody_knows_which_test_is_open(self, what: str | None) -> None:
        found = duty(COMMERCIAL, tests=[{"what": what, "result": "not met", "on": "2026-01-05"}])
        assert (found.powered_closing, found.deciding_facts) == ("unknown", ("tests",))
        assert "duty.test_unclear" in finding_ids(found)

    def test_its_own_words_take_it_back(self) -> None:
        told = [{"what": "pushed the edge", "result": result, "on": day} for result, day in
                (("not met", "2026-01-05"), ("met", "2026-02-05"))]  # fmt: skip
        assert answer(COMMERCIAL, tests=told) == "yes"

    def test_what_is_no_test_of_a_device_changes_nothing(self) -> None:
        assert answer(COMMERCIAL, tests=[{"what": "TEST-26", "result": "not met"}]) == "yes"
        assert answer(COMMERCIAL, tests=[{"what": twice("TEST-1", "TEST-26"), "result": "not met"}]) == "yes"
        assert answer(COMMERCIAL, tests=[{"what": twice("TEST-1", "test 9"), "result": "not met"}]) == "unknown"


class TestAsFound:
    def test_a_held_leaf_that_closes_on_objects_was_not_found_closing_by_a_tap(self) -> None:
        found = duty(COMMERCIAL, operator__closing_control="held", as_found="closes_on_objects")
        assert "duty.closes_on_objects" in finding_ids(found)
        assert "duty.found_by_tap" not in finding_ids(found)
        said = next(each for each in found.findings if each.id == "duty.powered_closing")
        assert said.level == "stop"

    def test_found_only_held_speaks_against_a_yes(self) -> None:
        assert "duty.found_only_held" in finding_ids(duty(COMMERCIAL, as_found="only_held"))
        held = duty(COMMERCIAL, as_found="only_held", operator__closing_control="held")
        assert "duty.found_only_held" not in finding_ids(held)
        assert "duty.found_only_held" not in finding_ids(duty(COMMERCIAL, as_found="only_held", protection=[PLAIN]))

    def test_found_by_a_tap_it_is_not_held_whatever_it_is_set_to(self) -> None:
        found = duty(COMMERCIAL, protection=[PLAIN], operator__closing_control="held", as_found="closes_by_tap")
        assert "duty.found_by_tap" in finding_ids(found)
        assert "duty.held" not in finding_ids(found)
        said = next(each for each in found.findings if each.id == "duty.powered_closing")
        assert said.level == "stop"
