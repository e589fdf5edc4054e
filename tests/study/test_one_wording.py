"""A person is asked once: what take-off and hookup find of the same wires and elements is one finding."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import Reader
from sillwright.catalogue import demo
from sillwright.study import opening_as_json, study_opening
from sillwright.survey.from_facts import survey_from_facts

DOOR = {"door.kind": "sectional", "door.clear_width": "10 ft 4 in", "door.clear_height": "12 ft"}
TEN = {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}
FOUR = {"name": "edge", "circuit": "four_wire"}


def answer(device: dict[str, Any], **facts: Any) -> dict[str, Any]:
    told = {"id": "e1", "kind": "sensing_edge", "through": [], **device}
    survey = survey_from_facts({**DOOR, "operator.inputs": [TEN], "protection": [told], **facts})
    return opening_as_json(study_opening(survey.site, survey.openings[0], points=16, catalogue=demo()), Reader())


def about_wires(found: dict[str, Any]) -> list[dict[str, Any]]:
    return [each for each in found["findings"] if each["id"] in {"ASK-9", "HOOK-2", "HOOK-3"}]


def test_an_element_of_another_value_is_asked_about_once_and_blocks_the_order() -> None:
    found = answer({"circuit": "resistor", "resistance": "8.2 kohm"})
    (finding,) = about_wires(found)
    assert finding["id"] == "ASK-9"
    assert finding["text"] == "e1 ends in 8.2 kΩ, the input edge expects 10 kΩ."
    assert finding["do"].startswith("Stop the order")
    assert "never added at the board" in finding["do"]
    assert "ASK-9" in found["takeoff"]["questions"]


def test_a_four_wire_edge_on_two_conductors_is_asked_about_once() -> None:
    found = answer({"circuit": "four_wire"}, **{"operator.inputs": [FOUR], "cord.conductors": 2})
    (finding,) = about_wires(found)
    assert finding["id"] == "ASK-9"
    assert "only 2 conductors come back" in finding["text"]
    assert "Stop the order" in finding["do"]


def test_an_element_before_the_edge_stays_a_finding_of_its_own() -> None:
    found = answer({"circuit": "resistor", "resistance": "8.2 kohm", "end_element_at": "board"})
    assert [(each["id"], each["level"]) for each in about_wires(found)] == [("HOOK-3", "stop"), ("ASK-9", "act")]


def test_two_edges_with_the_wrong_element_are_two_questions() -> None:
    both = [
        {"id": name, "kind": "sensing_edge", "circuit": "resistor", "resistance": "8.2 kohm", "through": []}
        for name in ("e1", "e2")
    ]
    inputs = [TEN, {**TEN, "name": "two"}]
    devices = [{**each, "input": name} for each, name in zip(both, ("edge", "two"), strict=True)]
    found = answer({}, protection=devices, **{"operator.inputs": inputs})
    assert {each["text"][:2] for each in about_wires(found)} == {"e1", "e2"}
    assert len(about_wires(found)) == 2


@pytest.mark.parametrize("facts", [{"operator.inputs": None}, {}])
def test_what_the_wiring_waits_for_is_asked_after_what_decides(facts: dict[str, Any]) -> None:
    found = answer({"circuit": "resistor"}, **facts)
    asked = {each["fact"]: each for each in found["unknown"]}
    for fact in found["hookup"]["asks"]:
        assert {"hookup.joints", "hookup.power"} & set(asked[fact]["decides"]), fact
        assert asked[fact]["why"]
    first = [each["decides"][0] for each in found["unknown"]]
    deciding = len(found["duty"]["deciding_facts"])
    assert first[:deciding] == ["duty.powered_closing"] * deciding
    order = ["duty.powered_closing", "exposure.contact", "hookup.joints"]
    ranks = [order.index(each) for each in first if each in order]
    assert ranks == sorted(ranks)


def test_older_readings_do_not_ask_which_element_is_in() -> None:
    rows = [
        {"at": "operator", "of": "e1", "pressed": False, "ohms": ohms, "on": on}
        for ohms, on in (("10 kohm", "2024-05-02"), ("8.3 kohm", "2025-05-02"), ("7.6 kohm", "2026-05-02"))
    ]
    edge = {"circuit": "resistor"}
    assert about_wires(answer(edge, readings=rows)) == []
    (finding,) = about_wires(answer(edge, readings=rows[:2]))
    assert "which end element is in" in finding["text"]


@pytest.mark.parametrize(
    ("ohms", "band", "level"),
    [
        ("8 kohm", "damp", "note"),
        ("8.2 kohm", "damp", "note"),
        ("5.6 kohm", "wet", "act"),
        ("4.7 kohm", "wet", "act"),
    ],
)
def test_an_edge_whose_element_is_known_reads_damp_or_wet_and_not_like_another_element(
    ohms: str, band: str, level: str
) -> None:
    reading = {"at": "operator", "of": "e1", "pressed": False, "ohms": ohms, "on": "2026-05-02"}
    found = answer({"circuit": "resistor", "resistance": "10 kohm"}, readings=[reading])
    assert about_wires(found) == []
    assert "ASK-9" not in found["takeoff"]["questions"]
    (finding,) = [each for each in found["findings"] if each["id"] == "hookup.ohms"]
    assert (finding["level"], band in finding["text"]) == (level, True)


def test_an_element_that_is_only_assumed_does_not_answer_which_one_is_in() -> None:
    reading = {"at": "operator", "of": "e1", "pressed": False, "ohms": "8.2 kohm", "on": "2026-05-02"}
    edge = {"circuit": "resistor", "resistance": {"value": "10 kohm", "from": "assumed"}}
    (finding,) = about_wires(answer(edge, readings=[reading]))
    assert "which end element is in" in finding["text"]
