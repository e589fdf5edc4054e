"""Several devices on one input, joined in each way: what is watched, what is unknown, what is said.

What the rules of watching say of edges is held against the loop itself, solved by ``circuit``: an edge is watched
where cutting it off moves what a meter reads out of what the input takes for a loop at rest.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from math import inf
from typing import Any, Literal

import pytest

from sillwright.base.words import render
from sillwright.catalogue import demo
from sillwright.circuit.bands import element_band
from sillwright.circuit.metering import meter
from sillwright.circuit.model import Hurt, Loop, State
from sillwright.circuit.typical import typical
from sillwright.survey.devices import DEVICE_CIRCUITS, SHARED
from sillwright.survey.operator import INPUT_CIRCUITS

from .openings import EYE, PULSES, TEN, US, edge, hooked, ids, one, plain_edge, text
from .test_agreement import agrees, said

FOUR = {"name": "edge", "circuit": "four_wire"}
NONE = {"value": None, "from": "measured"}
TWICE = [{"value": "end_to_end", "from": "told"}, {"value": "side_by_side", "from": "measured"}]
GUESSED = {"value": "end_to_end", "from": "assumed"}
WAYS: tuple[Any, ...] = (*SHARED, None, ..., "in_series", "in_parallel", GUESSED, TWICE)


def pair(circuit: str, way: Any, *elements: Any) -> list[dict[str, Any]]:
    """Two edges told to be on one input; ``...``: nobody was asked."""
    told = {} if way is ... else {"joined": way}
    found = [plain_edge(circuit, id, input="edge", through=[], **told) for id in ("e1", "e2")]
    for each, ohm in zip(found, elements, strict=False):
        if ohm is not ...:
            each["resistance"] = ohm
    return found


TWO_ELEMENTS, ONE_ELEMENT, NOT_LOOKED = ("10 kohm", "10 kohm"), (NONE, "10 kohm"), (..., "10 kohm")
CASES: list[tuple[str, tuple[Any, ...], Any, list[bool | None]]] = [
    ("four_wire", (), "end_to_end", [True, True]),
    ("four_wire", (), "in_series", [True, True]),
    ("four_wire", (), "side_by_side", [False, False]),
    ("four_wire", (), "in_parallel", [False, False]),
    ("four_wire", (), "own_wires", [False, False]),
    ("four_wire", (), None, [None, None]),
    ("four_wire", (), ..., [None, None]),
    ("four_wire", (), TWICE, [None, None]),
    ("four_wire", (), GUESSED, [None, None]),
    ("resistor", ONE_ELEMENT, "end_to_end", [True, True]),
    ("resistor", ONE_ELEMENT, "side_by_side", [False, True]),
    ("resistor", ONE_ELEMENT, "own_wires", [False, True]),
    ("resistor", ONE_ELEMENT, None, [None, True]),
    ("resistor", ONE_ELEMENT, ..., [True, True]),
    ("resistor", NOT_LOOKED, "end_to_end", [None, None]),
    ("resistor", NOT_LOOKED, "side_by_side", [False, None]),
    ("resistor", NOT_LOOKED, ..., [None, None]),
    *[("resistor", TWO_ELEMENTS, way, [False, False]) for way in WAYS],
    *[(circuit, (), way, [False, False]) for circuit in ("plain", "diode_capacitor") for way in WAYS],
]


@pytest.mark.parametrize(("circuit", "elements", "way", "watched"), CASES)
def test_what_is_watched_of_two_edges_on_one_input(
    circuit: str, elements: tuple[Any, ...], way: Any, watched: list[bool | None]
) -> None:
    inputs = [TEN if circuit == "resistor" else {"name": "edge", "circuit": circuit}]
    found = hooked(inputs, *pair(circuit, way, *elements))
    assert [each.watched for each in found.joints] == watched


@pytest.mark.parametrize("circuit", DEVICE_CIRCUITS)
def test_the_rules_never_part_company_with_the_wires_over_devices_that_share_an_input(circuit: str) -> None:
    for way in WAYS:
        for elements in (TWO_ELEMENTS, ONE_ELEMENT, NOT_LOOKED, (NONE, NONE)):
            for input in (TEN, *([{"name": "edge", "circuit": circuit}] if circuit in INPUT_CIRCUITS else [])):
                found = said([input], *pair(circuit, way, *elements))
                assert agrees(found), (way, elements, input, found)


@pytest.mark.parametrize("inputs", [..., None, [], [TEN], [TEN, {**TEN, "name": "second"}], [PULSES], [FOUR]])
def test_nor_over_edges_of_which_one_was_looked_at_and_holds_no_element(inputs: Any) -> None:
    places = (..., "edge", "second", None)
    for first, second, other in product(places, places, (None, ..., "10 kohm", NONE)):
        told = [{} if each is ... else {"input": each} for each in (first, second)]
        ohms = {} if other is ... else {"resistance": other}
        found = said(inputs, edge(resistance=NONE, **told[0]), {**edge("e2", **told[1]), **ohms})
        assert agrees(found), (first, second, other, found)
        alone = said(inputs, edge(resistance=NONE, **told[0]))
        assert alone[0][1] in {"no", "unknown"}, (first, alone)


def test_an_edge_and_an_eye_hide_each_other_however_they_are_joined() -> None:
    for way in SHARED:
        eye = {**EYE, "input": "eye", "joined": way}
        found = hooked([PULSES], edge(input="eye", through=["conv-a"], joined=way), {**eye, "through": []})
        assert [each.watched for each in found.joints] in ([False, False], [None, False])
        assert "yes" not in {wires for wires, _ in said([PULSES], edge(input="eye"), eye)}


@pytest.mark.parametrize(("way", "counts"), [
    ("own_wires", "yes"), (..., "yes"), ("side_by_side", "no"), (None, "unknown"), ("end_to_end", "no"),
])  # fmt: skip
def test_one_part_made_for_two_tells_apart_what_has_wires_of_its_own(way: Any, counts: str) -> None:
    """Told to meet before the part they are as good as one device to it; each here holds an element."""
    told: dict[str, Any] = {"through": ["conv-a"], "input": "eye"} | ({} if way is ... else {"joined": way})
    assert said([PULSES], edge(**told), edge("e2", **told)) == 2 * [(counts, counts)]


def test_what_was_said_of_one_of_them_holds_for_both_and_a_contradiction_is_open() -> None:
    first, last = pair("four_wire", ...)
    found = hooked([FOUR], {**first, "joined": "end_to_end"}, last)
    assert [each.watched for each in found.joints] == [True, True]
    found = hooked([FOUR], {**first, "joined": "end_to_end"}, {**last, "joined": "own_wires"})
    assert [each.watched for each in found.joints] == [None, None]
    assert set(found.asks) >= {"protection.e1.joined", "protection.e2.joined"}


def test_how_they_share_it_is_what_is_asked() -> None:
    found = hooked([FOUR], *pair("four_wire", ...))
    assert "protection.e1.joined" in found.asks
    assert "protection.e1.joined" not in hooked([FOUR], *pair("four_wire", "own_wires")).asks


def test_two_devices_whose_circuits_nobody_knows_are_open_not_blind() -> None:
    found = hooked([FOUR], edge(circuit=None, input="edge"), edge("e2", circuit=None, input="edge"))
    assert [each.watched for each in found.joints] == [None, None]


# what is said


def reason(found: Any) -> str:
    return render(found.joints[0].reasons[-1], US)


def test_each_way_has_its_own_words() -> None:
    four = {way: hooked([FOUR], *pair("four_wire", way)) for way in SHARED}
    assert "end to end in one loop with e2" in reason(four["end_to_end"])
    assert "cut off, it is not missed" in reason(four["side_by_side"])
    assert "HOOK-4" not in ids(four["end_to_end"])
    for way in ("side_by_side", "own_wires"):
        finding = one(four[way], "HOOK-4")
        assert (finding.level, text(finding)) == ("act", "e1, e2 hang side by side on edge.")
        assert "protection.e1.joined" in finding.facts
    only = hooked([TEN], *pair("resistor", "side_by_side", *ONE_ELEMENT))
    assert "holds the only end element" in render(only.joints[1].reasons[-1], US)


@pytest.mark.parametrize(("way", "words"), [
    ("side_by_side", "are side by side on edge"), ("end_to_end", "are end to end on edge"), (..., "would read"),
])  # fmt: skip
def test_two_elements_read_half_and_the_cut_that_nobody_sees_reads_one(way: Any, words: str) -> None:
    """10 and 10 kΩ are 5 kΩ by the divider; cut behind the first, or beside it, 10 kΩ are left."""
    finding = one(hooked([TEN], *pair("resistor", way, *TWO_ELEMENTS)), "HOOK-4")
    assert words in text(finding)
    assert "5.0" in text(finding)
    assert finding.why is not None
    assert "cut off 10 kΩ are left" in render(finding.why, US)


def test_unlike_and_many_elements_are_computed_too() -> None:
    ohms = ("10 kohm", "8.2 kohm", "22 kohm")
    edges = [edge(f"e{n}", input="edge", joined="side_by_side", resistance=ohm) for n, ohm in enumerate(ohms, 1)]
    finding = one(hooked([TEN], *edges), "HOOK-4")
    assert "they read 3.75 kΩ" in text(finding)  # 3.74 kΩ by the divider, wires and strips on top
    assert finding.why is not None
    assert "5.97 kΩ" in render(finding.why, US)  # 8.2 beside 22


@pytest.mark.parametrize("way", [*SHARED, ...])
def test_no_element_in_any_of_them_is_said(way: Any) -> None:
    found = hooked([TEN], *pair("resistor", way, NONE, NONE))
    words = [text(each) for each in found.findings if each.id == "HOOK-4"]
    assert words == ["e1, e2 are on edge, and none of them holds an end element."]
    assert [each.watched for each in found.joints] == [False, False]


def test_an_edge_alone_without_an_element_is_said_to_be_plain() -> None:
    bare = plain_edge("resistor", "e1", input="edge", through=[], resistance=NONE)
    found = hooked([TEN], bare)
    assert [text(each) for each in found.findings if each.id == "HOOK-3"] == [
        "e1 was looked at and holds no end element."
    ]
    assert found.joints[0].watched is False
    assert "holds no end element" in reason(found)


def test_the_wiring_sheet_says_how_they_hang_and_how_they_belong() -> None:
    beside = hooked([FOUR], *pair("four_wire", "side_by_side"))
    assert any("side by side now" in render(each, US) for each in beside.wiring[0].remarks)
    chain = hooked([FOUR], *pair("four_wire", "end_to_end"))
    assert any("the last closes it" in render(each, US) for each in chain.wiring[0].remarks)
    told: dict[str, Any] = {"through": ["Converter class N"], "input": "eye", "joined": "own_wires"}
    apart = hooked([PULSES], edge(**told), edge("e2", **told), catalogue=demo())
    assert not any("one loop" in render(each, US) for each in apart.wiring[0].remarks)


# the loop itself


def loop_of_two(circuit: Literal["resistor", "four_wire"], joined: Literal["chain", "parallel"]) -> Loop:
    return replace(typical(circuit), devices=2, joined=joined)


CUT = State(hurts=(Hurt(kind="cut", place="edge_near"),))
CUT_BETWEEN = State(hurts=(Hurt(kind="cut", place="edge_middle"),))


def seen(loop: Loop, cut: State, *hurts: Hurt) -> bool:
    """Whether the cut moves the loop from what the input takes for rest to what it does not."""
    rest, hurt = meter(loop, State(hurts=hurts)), meter(loop, State(hurts=(*hurts, *cut.hurts)))
    return element_band(rest, 10e3) != "open" and element_band(hurt, 10e3) == "open"


def test_a_cut_between_two_edges_end_to_end_with_one_element_is_seen() -> None:
    assert seen(loop_of_two("resistor", "chain"), CUT)
    assert seen(loop_of_two("resistor", "chain"), CUT_BETWEEN)


def test_a_cut_behind_an_element_in_the_first_edge_reads_as_it_should_be() -> None:
    first = Hurt(kind="element_second", place="edge_middle", ohm=10e3)
    loop = loop_of_two("resistor", "chain")
    assert not seen(loop, CUT_BETWEEN, first)
    assert element_band(meter(loop, State(hurts=(first, *CUT_BETWEEN.hurts))), 10e3) == "good"


def test_a_cut_of_one_of_two_side_by_side_is_not_seen() -> None:
    loop = loop_of_two("resistor", "parallel")
    assert not seen(loop, CUT)
    assert element_band(meter(loop, CUT), 10e3) == "good"
    assert meter(loop) == pytest.approx(meter(loop, CUT) / 2, rel=0.01)


def test_four_wire_strips_end_to_end_lose_the_loop_with_one_cut_and_side_by_side_they_do_not() -> None:
    chain, beside = loop_of_two("four_wire", "chain"), loop_of_two("four_wire", "parallel")
    assert meter(chain, CUT_BETWEEN, probes="first_strip") == inf
    assert meter(beside, CUT, probes="first_strip") < 500
