"""The rules' chapter and the chapter of wires never part company over what counts as monitored.

Every opening here has instructions that were read and list every device and every link: only the wires decide.
"""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from sillwright.catalogue import demo
from sillwright.duty._assess import Judge
from sillwright.duty.devices import device_standings
from sillwright.duty.model import DeviceStanding
from sillwright.hookup import hook_up
from sillwright.study.hookup_answer import monitored
from sillwright.survey.devices import DEVICE_CIRCUITS
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.model import Opening, Site
from sillwright.survey.operator import INPUT_CIRCUITS

from ..duty.test_answers import READ
from ..surveys_at_random import survey_at_random
from .openings import DOOR, EYE, PULSES, TEN, edge, plain_edge

LISTED = {
    **DOOR,
    "site.country": "US",
    "operator.made": "2019",
    "operator.instructions": READ,
    "operator.closing_control": "momentary",
    "operator.station_in_view": True,
    "operator.lists_devices": ["edge-m", "conv-a", "transmitter-a", "receiver-a"],
}
Said = list[tuple[str, str]]


def by_the_rules(site: Site, opening: Opening) -> dict[str, DeviceStanding]:
    """What the rules' chapter says of every device, by its path."""
    return {each.path: each for each in device_standings(Judge.of(site, opening).kleene, opening)}


def said(inputs: Any, *devices: dict[str, Any], catalogue: Any = None, **facts: Any) -> Said:
    """What each chapter says of every device: the wires joined with the rules, and the rules alone."""
    told = {} if inputs is ... else {"operator.inputs": inputs}
    named = {name.replace("__", "."): value for name, value in facts.items()}
    here = [{"model": "edge-m", "state": "works", **each} for each in devices]
    survey = survey_from_facts({**LISTED, **told, "protection": here, **named})
    standings = by_the_rules(survey.site, survey.openings[0])
    joints = hook_up(survey.openings[0], catalogue).joints
    return [(monitored(each, standings[each.device]), standings[each.device].monitored) for each in joints]


def agrees(found: Said) -> bool:
    """Whether neither calls monitored what the other does not."""
    return all((wires == "yes") == (rules == "yes") for wires, rules in found)


THROUGH: tuple[Any, ...] = (..., [], None, ["conv-a"], ["transmitter-a", "receiver-a"])


@pytest.mark.parametrize("device", DEVICE_CIRCUITS)
def test_a_device_of_any_circuit_on_any_input_through_anything(device: str) -> None:
    for input, through in product(INPUT_CIRCUITS, THROUGH):
        told = {} if through is ... else {"through": through}
        found = said([{"name": "in", "circuit": input, "resistance": "10 kohm"}], plain_edge(device, **told))
        assert agrees(found), (input, through, found)
        if input in {"plain", "normally_closed"} or device in {"plain", "air", "normally_closed"}:
            assert found[0][0] == "no", (input, through)


def wired(id: str = "e1", **facts: Any) -> dict[str, Any]:
    """A sensing edge that goes straight to the operator."""
    return edge(id, through=[], **facts)


YES: Said = [("yes", "yes")]
NO: Said = [("no", "no")]
OPEN: Said = [("unknown", "unknown")]
CASES: dict[str, tuple[Any, list[dict[str, Any]], dict[str, Any], Said]] = {
    "an edge on its input": ([TEN], [wired()], {}, YES),
    "inputs that nobody was asked for": (..., [wired()], {}, YES),
    "inputs that somebody could not make out": (None, [wired()], {}, OPEN),
    "no inputs at all": ([], [wired()], {}, NO),
    "an edge whose end element nobody was asked for": ([TEN], [plain_edge("resistor", through=[])], {}, YES),
    "an end element that somebody could not place": ([TEN], [wired(end_element_at=None)], {}, OPEN),
    "an end element somewhere": ([TEN], [wired(end_element_at="somewhere")], {}, OPEN),
    "an end element that is not at the far end": ([TEN], [wired(end_element_at="not at the far end")], {}, OPEN),
    "an end element in the box": ([TEN], [wired(end_element_at="in the box")], {}, NO),
    "an edge told to be on an input that is not there": ([TEN], [wired(input="aux")], {}, OPEN),
    "an edge that is joined to nothing": ([TEN], [wired(input={"value": None, "from": "measured"})], {}, NO),
    "an edge on nobody knows which of two": (
        [TEN, {"name": "aux", "circuit": "plain"}], [wired(input=None)], {}, OPEN,
    ),
    "an edge that is dead": ([TEN], [wired(state="dead")], {}, NO),
    "an edge of an unknown name": ([TEN], [wired(model=None)], {}, OPEN),
    "an edge that the instructions do not list": ([TEN], [wired(model="edge-z")], {}, NO),
    "an edge whose listing is only told": ([TEN], [wired()], {"operator.instructions": {"title": "a book"}}, OPEN),
    "an edge of 11.05 kohm": ([TEN], [wired(resistance="11.05 kohm")], {}, NO),
    "an edge and an input of 10 ohm, which is a press": (
        [{**TEN, "resistance": "10 ohm"}], [wired(resistance="10 ohm")], {}, OPEN,
    ),
    "an edge of 10 ohm on an input of 10 kohm": ([TEN], [wired(resistance="10 ohm")], {}, NO),
    "an edge of two values": (
        [TEN], [wired(resistance=[{"value": "10 kohm", "from": "told"}, {"value": "8.2 kohm", "from": "plate"}])],
        {}, OPEN,
    ),
    "a converter that is wanted and not there": ([PULSES], [wired()], {}, NO),
    "a converter that nobody was asked for": ([PULSES], [edge()], {}, OPEN),
    "a listed converter": ([PULSES], [edge(through=["conv-a"])], {}, YES),
    "a converter that is not listed": ([PULSES], [edge(through=["conv-z"])], {}, NO),
    "a receiver without its transmitter": ([TEN], [plain_edge("radio", through=["receiver-a"])], {}, OPEN),
    "a four-wire edge on two conductors": (
        [{"name": "f", "circuit": "four_wire"}], [plain_edge("four_wire", through=[])], {"cord.conductors": 2}, NO,
    ),
    "two edges with an element each": ([TEN], [wired(input="edge"), wired("e2", input="edge")], {}, 2 * NO),
    "two edges that need the only input": ([TEN], [wired(), wired("e2")], {}, 2 * OPEN),
    "two edges in one loop": (
        [TEN],
        [plain_edge("resistor", through=[], input="edge", resistance={"value": None, "from": "measured"}),
         wired("e2", input="edge")],
        {}, 2 * YES,
    ),
    "an edge and an eye on one converter": (
        [PULSES],
        [edge(through=["conv-a"], input="eye"), {**EYE, "through": ["conv-a"], "input": "eye"}],
        {}, 2 * YES,
    ),
    "an edge and an eye on one input": (
        [PULSES], [edge(through=["conv-a"], input="eye"), {**EYE, "through": [], "input": "eye"}], {}, 2 * NO,
    ),
    "a motion sensor, which protects nobody": (
        [PULSES], [{"id": "m1", "kind": "motion", "circuit": "pulse_two_wire", "through": []}], {}, NO,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_both_chapters_say_the_same_of(name: str) -> None:
    inputs, devices, facts, expected = CASES[name]
    assert said(inputs, *devices, **facts) == expected


def test_what_only_the_catalogue_tells_of_an_input_is_no_more_than_unknown_to_the_rules() -> None:
    found = said(..., edge(through=[]), catalogue=demo(), operator__model="Operator class J")
    assert found[0][0] in {"no", "yes"}
    blind = {"id": "e1", "kind": "sensing_edge", "model": "Edge class A", "through": []}
    assert said([TEN], blind, catalogue=demo())[0][0] != "yes"  # its circuit is the catalogue's word alone


@pytest.mark.parametrize("seed", range(8))
def test_at_random_nothing_counts_for_the_wires_that_the_rules_do_not_count(seed: int) -> None:
    survey = survey_at_random(seed)
    for opening in survey.openings:
        standings = by_the_rules(survey.site, opening)
        for joint in hook_up(opening, demo()).joints:
            standing = standings.get(joint.device)
            if monitored(joint, standing) == "yes":
                assert standing is not None
                assert (standing.monitored, standing.watched, standing.listed) == ("yes", "yes", "yes")
