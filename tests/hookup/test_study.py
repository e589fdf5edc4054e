"""The hookup in the study: beside the other chapters, joined with what the rules' chapter found listed."""

from __future__ import annotations

import json
from typing import Any

import pytest

from sillwright.base.words import Reader
from sillwright.catalogue import demo
from sillwright.study import opening_as_json, study_opening
from sillwright.study.hookup_answer import monitored
from sillwright.survey.from_facts import survey_from_facts

from ..surveys_at_random import survey_at_random
from .openings import DOOR, EYE, PULSES, TEN, edge, plain_edge

READ = {
    "operator.instructions": {
        "title": "Installation and use",
        "page": "23",
        "read_by": "advisor",
        "on": "2026-03-04",
    },
    "operator.made": "2019",
}
POINTS = 32


def answer(
    *devices: dict[str, Any], inputs: Any = (TEN,), lists: Any = ("edge-m",), **facts: Any
) -> dict[str, Any]:
    """The answer for programs of an opening whose instructions were read."""
    told = {**DOOR, **READ, "protection": list(devices), "operator.inputs": list(inputs), **facts}
    survey = survey_from_facts({**told, "operator.lists_devices": list(lists)})
    study = study_opening(survey.site, survey.openings[0], points=POINTS, catalogue=demo())
    return opening_as_json(study, Reader())


def test_a_watched_edge_whose_chain_is_listed_is_monitored() -> None:
    (joint,) = answer(edge(model="edge-m", through=[]))["hookup"]["joints"]
    assert (joint["watched"], joint["monitored"]) == (True, "yes")


@pytest.mark.parametrize(("device", "inputs"), [
    (plain_edge("plain", model="edge-m", through=[]), [{"name": "r", "circuit": "plain"}]),
    (edge(model="edge-m", through=[]), [{"name": "r", "circuit": "plain"}]),
    (edge(model="edge-m", through=[], resistance="8.2 kohm"), [TEN]),
    (edge(model="edge-m", through=[], end_element_at="board"), [TEN]),
    (edge(model="edge-n", through=[]), [TEN]),
])  # fmt: skip
def test_what_is_not_watched_or_not_listed_is_not_monitored(device: dict[str, Any], inputs: Any) -> None:
    (joint,) = answer(device, inputs=inputs)["hookup"]["joints"]
    assert joint["monitored"] == "no"


def test_an_edge_of_unknown_circuit_is_not_known_to_be_monitored() -> None:
    device = {"id": "e1", "kind": "sensing_edge", "model": "edge-m", "through": []}
    assert answer(device)["hookup"]["joints"][0]["monitored"] == "unknown"


def test_a_chain_that_is_listed_as_a_whole_settles_what_its_converter_hands_on() -> None:
    device = edge(model="edge-m", through=["box of the dealer"])
    lists = ("edge-m", "box of the dealer")
    (joint,) = answer(device, inputs=[PULSES], lists=lists)["hookup"]["joints"]
    assert (joint["watched"], joint["monitored"]) == (None, "yes")
    (joint,) = answer(device, inputs=[PULSES])["hookup"]["joints"]
    assert joint["monitored"] == "no"


def test_a_device_that_the_rules_do_not_speak_of_is_never_monitored() -> None:
    survey = survey_from_facts({**DOOR, "operator.inputs": [TEN], "protection": [edge()]})
    study = study_opening(survey.site, survey.openings[0], points=POINTS)
    assert monitored(study.hookup.joints[0], None) == "unknown"


def test_findings_of_the_hookup_stand_among_those_of_the_opening() -> None:
    found = answer(edge(model="edge-m", through=[], end_element_at="board"))["findings"]
    (finding,) = [each for each in found if each["id"] == "HOOK-3"]
    assert finding["level"] == "stop"
    weights = [("stop", "act", "note", "good").index(each["level"]) for each in found]
    assert weights == sorted(weights)


def test_hookup_and_rules_agree_that_an_element_at_the_board_watches_no_edge() -> None:
    found = answer(edge(model="edge-m", through=[], end_element_at="board"))
    assert found["hookup"]["joints"][0]["watched"] is False
    assert found["duty"]["devices"][0]["watched"] == "no"
    assert found["duty"]["powered_closing"] == "no"


def test_the_answer_holds_what_a_program_needs() -> None:
    found = answer(
        edge(model="edge-m", through=[]), EYE, inputs=[TEN, PULSES, {"name": "stop", "circuit": "plain"}]
    )
    hookup = found["hookup"]
    assert hookup["inputs_left"] == ["stop"]
    assert hookup["joints"][0]["end_element"] == 10e3
    rest = next(each for each in hookup["readings"] if each["id"] == "rest" and each["at"] == "operator")
    assert rest["low"] < 10e3 < rest["high"]
    assert [each["id"] for each in hookup["wiring"][0]["points"]] == ["operator", "box", "edge"]


def test_the_lead_of_the_take_off_is_the_lead_that_is_judged() -> None:
    facts = {
        "door.clear_width": "150 ft", "door.clear_height": "40 ft", "operator.kind": "jackshaft",
        "operator.side": "left", "box.side": "right", "box.height": "20 ft", "box.offset": "1 ft",
        "lead.end": "right", "door.lift": "standard",
    }  # fmt: skip
    found = answer(edge(model="edge-m", through=[]), **facts)
    assert "HOOK-5" in {each["id"] for each in found["findings"]}


@pytest.mark.parametrize("seed", range(12))
def test_any_survey_is_hooked_up_and_told_in_plain_values(seed: int) -> None:
    survey = survey_at_random(seed)
    for opening in survey.openings:
        study = study_opening(survey.site, opening, points=POINTS, catalogue=demo())
        told = json.dumps(opening_as_json(study, Reader())["hookup"], allow_nan=False)
        assert "Sentence(" not in told
        for joint in study.hookup.joints:
            if joint.circuit in {"plain", "normally_closed", "air"}:
                assert joint.watched is False
            if joint.watched:
                assert joint.way in {"direct", "through"}
