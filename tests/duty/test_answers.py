"""May this leaf close under power? One site at a time, with the traps that a careful reader knows.

Dates: ANSI/UL 325, 2010 revision and 6th edition (second-hand). Warning of 5 s: 16 CFR 1211.14 (read). Eye up to
6 in: trade practice citing the federal rule (second-hand). Bands of resistance, EN 12453's table: from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.duty import Duty, assess
from sillwright.survey.from_facts import survey_from_facts

READ = {"title": "Installation", "page": "12", "read_by": "advisor", "on": "2026-03-04"}
EDGE = {
    "id": "e1",
    "kind": "sensing_edge",
    "model": "edge-m",
    "circuit": "resistor",
    "through": [],
    "state": "works",
}
EYE = {"id": "y1", "kind": "photo_eye", "model": "eye-t", "circuit": "pulse", "through": [], "height": "5 in"}
PLAIN = {"id": "e1", "kind": "sensing_edge", "circuit": "plain", "state": "works"}
CURTAIN = {"id": "c1", "kind": "light_curtain", "state": "works", "height": "2.5 m"}
INHERENT = {"id": "i1", "kind": "inherent", "state": "works"}

COMMERCIAL: dict[str, Any] = {
    "door.kind": "sectional",
    "door.occupancy": "commercial",
    "door.clear_width": "10 ft 4 in",
    "door.clear_height": "12 ft",
    "operator.made": "2014",
    "operator.closing_control": "momentary",
    "operator.station_in_view": True,
    "operator.lists_devices": ["edge-m"],
    "operator.instructions": READ,
    "protection": [EDGE],
}
OLD = {**COMMERCIAL, "operator.made": "2004", "protection": [PLAIN], "operator.lists_devices": None}
HOUSE = {
    **COMMERCIAL,
    "door.occupancy": "residential",
    "operator.lists_devices": ["eye-t"],
    "protection": [INHERENT, EYE],
}
GATE = {
    "door.kind": "slide_gate",
    "operator.made": "2018",
    "operator.closing_control": "momentary",
    "operator.lists_devices": ["edge-m"],
    "operator.instructions": READ,
    "protection": [INHERENT, EDGE],
    "zones": [{"place": "receiving post", "direction": "both", "means": ["i1", "e1"]}],
}
EUROPE = {
    **COMMERCIAL,
    "site.country": "DE",
    "use.users": "trained",
    "tests": [{"what": "force", "result": "met", "on": "2026-02-01"}],
}


def duty(base: dict[str, Any], **changes: Any) -> Duty:
    facts = {**base, **{name.replace("__", "."): value for name, value in changes.items()}}
    survey = survey_from_facts({name: value for name, value in facts.items() if value is not ...})
    return assess(survey.site, survey.openings[0])


def answer(base: dict[str, Any], **changes: Any) -> str:
    return duty(base, **changes).powered_closing


def finding_ids(found: Duty) -> set[str]:
    return {each.id for each in found.findings}


class TestCommercialDoor:
    def test_a_listed_watched_working_edge_with_the_control_in_view_lets_it_close(self) -> None:
        found = duty(COMMERCIAL)
        assert found.powered_closing == "yes"
        assert found.deciding_facts == ()

    def test_a_watched_device_of_unstated_state_counts_as_working(self) -> None:
        assert answer(COMMERCIAL, protection=[{**EDGE, "state": None}]) == "yes"

    def test_a_plain_circuit_is_never_monitored_even_if_listed(self) -> None:
        assert answer(COMMERCIAL, protection=[{**EDGE, "circuit": "plain"}]) == "no"

    def test_told_listing_is_not_evidence(self) -> None:
        found = duty(COMMERCIAL, operator__instructions=None)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("operator.instructions",)

    def test_listing_told_by_support_is_pending(self) -> None:
        told = {"value": ["edge-m"], "from": "support", "by": "desk", "on": "2026-03-04"}
        found = duty(COMMERCIAL, operator__lists_devices=told)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("operator.lists_devices",)

    def test_instructions_without_a_page_are_not_read(self) -> None:
        assert answer(COMMERCIAL, operator__instructions={**READ, "page": None}) == "unknown"

    def test_a_device_that_the_instructions_do_not_list_does_not_count(self) -> None:
        assert answer(COMMERCIAL, operator__lists_devices=["edge-z"]) == "no"

    def test_an_unlisted_converter_breaks_the_chain(self) -> None:
        assert answer(COMMERCIAL, protection=[{**EDGE, "through": ["converter-k"]}]) == "no"

    def test_a_listed_converter_keeps_the_chain(self) -> None:
        through = [{**EDGE, "through": ["converter-k"]}]
        assert answer(COMMERCIAL, protection=through, operator__lists_devices=["edge-m", "converter-k"]) == "yes"

    def test_a_radio_edge_has_links_that_somebody_must_name(self) -> None:
        radio = {key: value for key, value in EDGE.items() if key != "through"} | {"circuit": "radio"}
        found = duty(COMMERCIAL, protection=[radio])
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("protection.e1.through",)

    def test_a_watched_edge_on_a_plain_input_is_not_watched(self) -> None:
        assert answer(COMMERCIAL, operator__inputs=[{"name": "aux", "circuit": "plain"}]) == "no"

    def test_an_end_element_of_another_value_is_not_watched(self) -> None:
        inputs = [{"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}]
        wrong = [{**EDGE, "resistance": "8.2 kohm"}]
        assert answer(COMMERCIAL, protection=wrong, operator__inputs=inputs) == "no"

    @pytest.mark.parametrize("where", ["in the box", "at the operator", "board", "near_end"])
    def test_an_end_element_before_the_edge_watches_no_edge(self, where: str) -> None:
        assert answer(COMMERCIAL, protection=[{**EDGE, "end_element_at": where}]) == "no"

    @pytest.mark.parametrize("where", ["far_end", "far end, in the plug", "Far"])
    def test_an_end_element_at_the_far_end_changes_nothing(self, where: str) -> None:
        assert answer(COMMERCIAL, protection=[{**EDGE, "end_element_at": where}]) == "yes"

    @pytest.mark.parametrize("where", [
        "somewhere", "not at the far end", "far end or box", "as far as I know at the start", "far end of the lead",
        "?", None, {"value": None, "from": "measured"},
    ])  # fmt: skip
    def test_an_end_element_that_somebody_could_not_place_leaves_it_open(self, where: Any) -> None:
        found = duty(COMMERCIAL, protection=[{**EDGE, "end_element_at": where}])
        assert (found.powered_closing, found.deciding_facts) == ("unknown", ("protection.e1.end_element_at",))

    def test_two_readings_of_the_place_of_the_end_element_are_both_tried(self) -> None:
        def told(*places: str) -> list[dict[str, Any]]:
            readings = [{"value": place, "from": "measured"} for place in places]
            return [{**EDGE, "end_element_at": readings}]

        assert answer(COMMERCIAL, protection=told("in the box", "at the operator")) == "no"
        assert answer(COMMERCIAL, protection=told("in the box", "far end")) == "unknown"

    def test_a_place_of_the_end_element_that_is_only_assumed_is_to_be_looked_at(self) -> None:
        guessed = {"value": "in the box", "from": "assumed"}
        found = duty(COMMERCIAL, protection=[{**EDGE, "end_element_at": guessed}])
        assert (found.powered_closing, found.deciding_facts) == ("unknown", ("protection.e1.end_element_at",))

    def test_the_rule_begins_on_29_august_2010(self) -> None:
        assert answer(OLD, operator__made="2010-08-28") == "yes"
        assert answer(OLD, operator__made="2010-08-29") == "no"

    @pytest.mark.parametrize("made", ["2010", "2010-08", None, ...])
    def test_a_date_that_straddles_the_rule_is_by_both_branches(self, made: Any) -> None:
        found = duty(OLD, operator__made=made)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("operator.made",)

    def test_a_straddling_date_does_not_matter_where_both_branches_agree(self) -> None:
        assert answer(COMMERCIAL, operator__made="2010") == "yes"
        assert answer(OLD, operator__made="2010", protection=[]) == "no"

    def test_an_unreadable_plate_is_an_unknown_date(self) -> None:
        found = duty(OLD, operator__made={"value": None, "from": "plate"})
        assert found.powered_closing == "unknown"
        assert "duty.plate_unreadable" in finding_ids(found)

    def test_an_assumed_date_decides_nothing(self) -> None:
        assert answer(OLD, operator__made={"value": "2004", "from": "assumed"}) == "unknown"

    def test_two_readings_of_the_date_are_both_tried(self) -> None:
        either = [{"value": "2004", "from": "told"}, {"value": "2014", "from": "plate"}]
        assert duty(OLD, operator__made=either).deciding_facts == ("operator.made",)
        both_late = [{"value": "2012", "from": "told"}, {"value": "2014", "from": "plate"}]
        assert answer(OLD, operator__made=both_late) == "no"

    def test_a_newer_board_decides_the_device_rules(self) -> None:
        found = duty(OLD, operator__board_made="2016")
        assert found.powered_closing == "no"
        assert "duty.newer_board" in finding_ids(found)

    def test_an_older_installation_closes_with_a_finding_to_act_on(self) -> None:
        found = duty(OLD)
        assert found.powered_closing == "yes"
        assert "duty.older_installation" in {each.id for each in found.findings if each.level == "act"}

    def test_an_older_installation_needs_a_device_that_has_been_tried(self) -> None:
        found = duty(OLD, protection=[{**PLAIN, "state": None}])
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("protection.e1.state",)

    def test_an_older_installation_without_a_device_may_not(self) -> None:
        assert answer(OLD, protection=[]) == "no"

    def test_devices_that_nobody_has_taken_down_are_unknown(self) -> None:
        found = duty(OLD, protection=...)
        assert found.powered_closing == "unknown"
        assert "protection" in found.deciding_facts

    def test_a_building_system_needs_a_device_that_sees_an_area(self) -> None:
        assert answer(OLD, operator__closing_control="unattended") == "no"
        assert answer(COMMERCIAL, operator__closing_control="unattended") == "no"
        assert answer(COMMERCIAL, operator__closing_control="unattended", protection=[EDGE, CURTAIN]) == "yes"

    @pytest.mark.parametrize("control", ["timer", "automatic"])
    def test_a_timer_or_a_sensor_in_view_may_close_it_and_is_to_be_quoted_for(self, control: str) -> None:
        found = duty(COMMERCIAL, operator__closing_control=control)
        assert found.powered_closing == "yes"
        assert "duty.closes_by_itself" in {each.id for each in found.findings if each.level == "act"}
        assert answer(COMMERCIAL, operator__closing_control=control, operator__station_in_view=False) == "no"

    def test_a_motion_sensor_loses_a_person_who_stands_still(self) -> None:
        motion = {"id": "m1", "kind": "motion", "state": "works"}
        assert answer(COMMERCIAL, operator__closing_control="unattended", protection=[EDGE, motion]) == "no"

    def test_held_is_a_setting_and_changes_no_answer(self) -> None:
        found = duty(COMMERCIAL, operator__closing_control="held")
        assert found.powered_closing == "yes"
        assert "duty.held" in finding_ids(found)

    @pytest.mark.parametrize(("in_view", "level"), [(True, "note"), (False, "stop")])
    def test_a_control_that_is_held_out_of_view_lowers_nothing(self, in_view: bool, level: str) -> None:
        changes: dict[str, Any] = {"operator__closing_control": "held", "operator__station_in_view": in_view}
        found = duty(COMMERCIAL, **changes, protection=[])
        levels = {each.id: each.level for each in found.findings}
        assert levels["duty.powered_closing"] == levels["ul325-commercial-date"] == level

    def test_a_second_station_out_of_view_counts(self) -> None:
        stations = [{"in_view": True, "closes": True}, {"in_view": False, "closes": True}]
        assert answer(COMMERCIAL, stations=stations) == "no"

    def test_a_station_out_of_view_that_does_not_close_does_no_harm(self) -> None:
        stations = [{"in_view": True, "closes": True}, {"in_view": False, "closes": False}]
        assert answer(COMMERCIAL, stations=stations) == "yes"

    def test_a_portable_transmitter_that_closes_is_a_station_out_of_view(self) -> None:
        assert answer(COMMERCIAL, controls=[{"kind": "portable", "opens": True, "closes": True}]) == "no"
        assert answer(COMMERCIAL, controls=[{"kind": "portable", "opens": True, "closes": False}]) == "yes"

    def test_an_eye_counts_up_to_six_inches(self) -> None:
        eyes = {"operator.lists_devices": ["eye-t"]}
        for height, expected in (("6 in", "yes"), ("6-1/16 in", "no"), ("18 in", "no"), (None, "unknown")):
            assert answer({**COMMERCIAL, **eyes}, protection=[{**EYE, "height": height}]) == expected

    def test_occupancy_decides_where_nobody_has_said_it(self) -> None:
        found = duty(COMMERCIAL, door__occupancy=...)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("door.occupancy",)

    @pytest.mark.parametrize("kind", ["rolling_fire", "high_speed"])
    def test_fire_doors_and_fast_doors_follow_the_commercial_rule_in_daily_use(self, kind: str) -> None:
        assert answer(COMMERCIAL, door__kind=kind, door__occupancy=...) == "yes"

    def test_with_two_open_facts_both_decide_in_the_order_of_the_file(self) -> None:
        found = duty(OLD, operator__made=None, protection=[{**PLAIN, "state": None}])
        assert found.deciding_facts == ("operator.made", "protection.e1.state")
        assert found.deciding_sets == (("operator.made", "protection.e1.state"),)


class TestWhateverElse:
    @pytest.mark.parametrize(
        "trouble",
        [
            {"temporary_parts": ["10 k part at the terminals"]},
            {"temporary_parts": [{"what": "jumper", "place": "edge input", "number": "7"}]},
            {"defeats": [{"what": "eye taped over", "of": "y1"}]},
            {"as_found": "closes_on_objects"},
            {"protection": [EDGE, {**EYE, "state": "dead"}]},
            {"protection": [EDGE, {**EYE, "state": "torn_off"}]},
            {"protection": [EDGE, {**EYE, "state": "defeated"}]},
            {"readings": [{"at": "operator", "of": "e1", "ohms": "40 kohm", "pressed": False}]},
            {"readings": [{"at": "operator", "of": "e1", "ohms": "2 ohm", "pressed": False}]},
            {"readings": [{"at": "operator", "of": "e1", "ohms": "10 kohm", "pressed": True}]},
            {"tests": [{"what": "TEST-9", "result": "not met", "on": "2026-03-04"}]},
        ],
    )
    @pytest.mark.parametrize("base", [COMMERCIAL, EUROPE, {**COMMERCIAL, "site.country": "BR"}])
    def test_what_is_wrong_here_no_device_makes_good(self, base: dict[str, Any], trouble: dict[str, Any]) -> None:
        found = duty({**base, **trouble})
        assert found.powered_closing == "no"
        assert found.deciding_facts == ()
        assert any(each.level == "stop" for each in found.findings)

    def test_a_device_that_is_gone_is_not_one_that_is_known_dead(self) -> None:
        assert answer(COMMERCIAL, protection=[EDGE, {**EYE, "state": "missing"}]) == "yes"

    def test_a_good_reading_shows_nothing(self) -> None:
        good = [{"at": "operator", "of": "e1", "ohms": "10.1 kohm", "pressed": False}]
        assert answer(COMMERCIAL, readings=good) == "yes"

    def test_a_later_good_reading_takes_back_an_earlier_bad_one(self) -> None:
        bad = {"at": "operator", "of": "e1", "ohms": "40 kohm", "pressed": False, "on": "2026-01-10"}
        good = {"at": "operator", "of": "e1", "ohms": "10 kohm", "pressed": False, "on": "2026-02-10"}
        assert answer(COMMERCIAL, readings=[bad, good]) == "yes"
        assert answer(COMMERCIAL, readings=[{**bad, "on": "2026-03-10"}, good]) == "no"

    def test_parts_that_nobody_can_tell_of_leave_it_open(self) -> None:
        found = duty(COMMERCIAL, temporary_parts=None)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("temporary_parts",)


class TestHouse:
    def test_force_sensing_and_a_listed_eye_let_it_close(self) -> None:
        assert answer(HOUSE) == "yes"

    def test_neither_alone_is_enough(self) -> None:
        assert answer(HOUSE, protection=[INHERENT]) == "no"
        assert answer(HOUSE, protection=[EYE]) == "no"

    def test_closing_by_itself_asks_for_a_warning_and_a_sectional_leaf(self) -> None:
        warned = {"sound": True, "light": True, "seconds": 5}
        timer = {**HOUSE, "operator.closing_control": "timer"}
        assert answer(timer, operator__warning=warned) == "yes"
        assert answer(timer, operator__warning={**warned, "seconds": 4}) == "no"
        assert answer(timer, operator__warning={**warned, "light": False}) == "no"
        assert answer(timer, operator__warning=warned, door__kind="one_piece") == "no"
        assert (
            "operator.warning.seconds" in duty(timer, operator__warning={**warned, "seconds": None}).deciding_facts
        )


class TestGate:
    def test_two_unlike_means_in_each_zone_let_it_close(self) -> None:
        assert answer(GATE) == "yes"

    def test_the_same_sort_twice_is_one_means(self) -> None:
        two = [{**EDGE, "id": "e1"}, {**EDGE, "id": "e2"}]
        zones = [{"place": "post", "direction": "both", "means": ["e1", "e2"]}]
        assert answer(GATE, protection=two, zones=zones) == "no"

    def test_a_zone_known_to_lack_them_decides(self) -> None:
        bare = [*GATE["zones"], {"place": "tail end", "direction": "opening", "means": []}]  # type: ignore[misc]
        assert answer(GATE, zones=bare) == "no"

    def test_zones_that_nobody_has_taken_down_are_unknown(self) -> None:
        found = duty(GATE, zones=...)
        assert found.powered_closing == "unknown"
        assert "zones" in found.deciding_facts

    def test_zones_of_one_direction_leave_the_other_open(self) -> None:
        one_way = [{"place": "receiving post", "direction": "closing", "means": ["i1", "e1"]}]
        assert duty(GATE, zones=one_way).deciding_facts == ("zones",)

    @pytest.mark.parametrize(
        ("gap", "place", "answered"),
        [
            ("8 in", "receiving post", "unknown"),
            ("8 in", None, "unknown"),
            ("8 in", "Underside of the leaf", "yes"),
            ("4 in", "receiving post", "yes"),
            ("16 in", "receiving post", "yes"),
            (None, "receiving post", "yes"),
        ],
    )
    def test_the_gap_beneath_a_swing_gate_is_a_zone_to_be_taken_down(
        self, gap: Any, place: Any, answered: str
    ) -> None:
        zones = [{**GATE["zones"][0], "place": place}]  # type: ignore[index]
        swing = {"door.kind": "swing_gate", "door.underside": gap}
        found = duty({**GATE, **swing}, zones=zones)
        assert found.powered_closing == answered
        if answered == "unknown":
            assert found.deciding_facts == ("zones",) if place else ("zones", "zones[0].place")
            assert place is None or "ul325-gate-underside" in finding_ids(found)

    def test_a_gap_beneath_that_was_measured_twice_is_open_where_one_is_a_zone(self) -> None:
        gaps = [{"value": "3 in", "from": "measured"}, {"value": "8 in", "from": "told"}]
        assert answer({**GATE, "door.kind": "swing_gate", "door.underside": gaps}) == "unknown"

    def test_means_may_be_named_by_kind(self) -> None:
        zones = [{"place": "post", "direction": "both", "means": ["inherent", "sensing_edge"]}]
        assert answer(GATE, zones=zones) == "yes"


class TestEurope:
    def test_force_limitation_counts_by_a_record_only(self) -> None:
        assert answer(EUROPE) == "yes"
        found = duty(EUROPE, tests=...)
        assert found.powered_closing == "unknown"
        assert found.deciding_facts == ("tests",)
        failed = [{"what": "force", "result": "not met", "on": "2026-02-01"}]
        assert answer(EUROPE, tests=failed) == "no"

    @pytest.mark.parametrize(
        ("users", "control", "in_view", "bare", "with_eye"),
        [
            ("trained", "momentary", True, "yes", "yes"),
            ("trained", "momentary", False, "yes", "yes"),
            ("trained", "automatic", True, "no", "yes"),
            ("trained_public", "momentary", True, "yes", "yes"),
            ("trained_public", "momentary", False, "no", "yes"),
            ("trained_public", "timer", True, "no", "yes"),
            ("public", "momentary", True, "no", "yes"),
            ("public", "momentary", False, "no", "yes"),
            ("public", "unattended", False, "no", "yes"),
        ],
    )
    def test_the_table_of_minimum_protection(
        self, users: str, control: str, in_view: bool, bare: str, with_eye: str
    ) -> None:
        changes = {"use__users": users, "operator__closing_control": control, "operator__station_in_view": in_view}
        assert answer(EUROPE, **changes) == bare
        assert answer(EUROPE, **changes, protection=[EDGE, {**EYE, "state": "works"}]) == with_eye

    def test_a_curtain_over_the_whole_plane_needs_no_force_record(self) -> None:
        assert answer(EUROPE, tests=..., protection=[CURTAIN]) == "yes"
        assert (
            answer(EUROPE, tests=..., protection=[{**CURTAIN, "height": "2 m"}], use__users="public") == "unknown"
        )

    def test_the_united_kingdom_follows(self) -> None:
        assert answer(EUROPE, site__country="GB") == "yes"

    def test_what_tests_said_and_nobody_knows_may_be_a_force_record_without_a_failed_test(self) -> None:
        gate = {"site.country": "DE", "door.kind": "slide_gate", "protection": []}
        asked, not_asked = duty(gate, tests=None), duty(gate)
        assert asked.powered_closing == not_asked.powered_closing == "unknown"
        assert asked.deciding_facts == not_asked.deciding_facts
        assert "tests" in asked.deciding_facts

    @pytest.mark.parametrize(
        ("users", "public", "in_view", "held_well"),
        [
            ("public", ..., True, False),
            (..., ..., True, False),
            ("trained", True, True, False),
            ("trained", ..., True, True),
            ("trained_public", False, True, True),
            ("trained", ..., False, False),
        ],
    )
    def test_a_held_control_is_for_trained_persons_in_view_and_never_for_the_public(
        self, users: object, public: object, in_view: bool, held_well: bool
    ) -> None:
        changes = {"use__users": users, "use__public": public, "operator__station_in_view": in_view}
        found = duty(EUROPE, **changes, operator__closing_control="held", defeats=[{"what": "edge", "of": "e1"}])
        (said,) = (each for each in found.findings if each.id == "duty.powered_closing")
        assert found.powered_closing == "no"
        assert said.level == ("note" if held_well else "stop")
        assert "a trained person, never the public" in said.text.template

    def test_a_door_of_the_public_is_never_left_to_a_held_control(self) -> None:
        found = duty(EUROPE, operator__closing_control="held", use__users="public", protection=[], tests=[])
        (rule,) = (each for each in found.findings if each.id == "en12453-matrix")
        assert rule.level == "stop"
        assert rule.do is not None
        assert "only a trained person, never the public" in rule.do.template


def test_a_place_without_known_rules_has_no_answer() -> None:
    found = duty(COMMERCIAL, site__country="BR")
    assert (found.powered_closing, found.deciding_facts, found.no_rules) == ("unknown", (), True)


def test_a_bare_opening_is_unknown_and_says_what_to_ask() -> None:
    bare = {name: COMMERCIAL[name] for name in ("door.kind", "door.clear_width", "door.clear_height")}
    found = duty(bare)
    assert found.powered_closing == "unknown"
    assert {"door.occupancy", "operator.made", "protection"} <= set(found.deciding_facts)
