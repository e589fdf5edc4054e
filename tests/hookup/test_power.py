"""The accessory supply: enough, nearly all, too little, or not known; and what is left at the far eye."""

from __future__ import annotations

import pytest

from sillwright.base.words import render
from sillwright.catalogue import Catalogue, demo
from sillwright.catalogue.reading import catalogue_of
from sillwright.hookup.power import far_voltage

from ..catalogue.building import HEAD
from ..verification import Verify
from .openings import EYE, PULSES, TEN, US, edge, hooked, ids, one

FOOT = 0.3048


def known(supply: str, eye: str = "50 mA", volts: str = "24 V") -> Catalogue:
    """A catalogue of one operator with an accessory supply, and one eye."""
    text = f"""{HEAD}
devices: [{{name: E, kind: photo_eye, circuit: pulse_two_wire, current: {eye}}}]
converters: [{{name: C, takes: [resistor], gives: pulse_two_wire, current: 40 mA}}]
inputs:
  - {{operator: O, name: eye, circuit: pulse_two_wire, accessory_current: {supply}, accessory_voltage: {volts}}}
"""
    return catalogue_of(text.encode(), "test.yaml")


@pytest.mark.parametrize(("supply", "enough"), [
    ("40 mA", "too little"),
    ("50 mA", "nearly all"),
    ("62 mA", "nearly all"),
    ("63 mA", "enough"),
    ("1 A", "enough"),
])  # fmt: skip
def test_what_the_eye_draws_is_held_against_the_supply(supply: str, enough: str) -> None:
    found = hooked(None, {**EYE, "model": "E"}, catalogue=known(supply), operator__model="O")
    assert found.power.enough == enough
    assert found.power.needs == pytest.approx(0.05)
    assert ("hookup.power" in ids(found)) is (enough != "enough")


def test_too_small_a_supply_is_an_act_and_a_tight_one_a_note() -> None:
    for supply, level in (("40 mA", "act"), ("50 mA", "note")):
        found = hooked(None, {**EYE, "model": "E"}, catalogue=known(supply), operator__model="O")
        assert one(found, "hookup.power").level == level


def test_a_converter_draws_too() -> None:
    found = hooked(None, edge(), catalogue=known("1 A"), operator__model="O")
    assert [(each.name, each.current) for each in found.power.draws] == [("C", 0.04)]


def test_a_converter_that_is_not_named_is_taken_to_draw_what_the_thirstiest_does() -> None:
    found = hooked([PULSES], edge())
    assert [each.current for each in found.power.draws] == [0.06]
    assert any("not named" in render(each, US) for each in found.power.assumptions)


def test_what_is_not_known_is_never_taken_for_nothing() -> None:
    found = hooked(None, {**EYE, "model": "other"}, catalogue=known("1 A"), operator__model="O")
    assert found.power.enough == "not known"
    assert found.power.asks == ("protection.y1.model",)
    assert "not known" in render(found.power.why, US) if found.power.why else False


def test_what_is_known_may_be_too_much_already() -> None:
    devices = {**EYE, "model": "E"}, {**EYE, "id": "y2", "model": "other"}
    found = hooked(None, *devices, catalogue=known("40 mA"), operator__model="O")
    assert found.power.enough == "too little"


def test_an_unknown_supply_is_asked_for_by_the_name_of_the_operator() -> None:
    found = hooked([PULSES], {**EYE, "model": "Eye class E"}, catalogue=demo())
    assert found.power.enough == "not known"
    assert found.power.asks == ("operator.model",)
    assert "35 mA" in render(found.power.why, US) if found.power.why else False


def test_an_edge_on_its_own_draws_nothing() -> None:
    found = hooked([TEN], edge())
    assert (found.power.enough, found.power.needs, found.power.draws) == ("enough", 0.0, ())


def test_a_converter_for_two_draws_once() -> None:
    both = ["Converter class V, two devices"]
    found = hooked([PULSES], edge(through=both), {**EYE, "through": both}, catalogue=demo())
    assert [each.name for each in found.power.draws].count(both[0]) == 1


def test_the_far_eye_is_told_what_is_left_for_it() -> None:
    found = hooked(None, {**EYE, "model": "E"}, catalogue=known("1 A"), operator__model="O")
    (draw,) = found.power.draws
    assert draw.far_voltage is not None
    assert 23.9 < draw.far_voltage < 24.0
    assert "hookup.eye_voltage" not in ids(found)


@pytest.mark.parametrize("volts", ["9 V", "36 V"])
def test_an_eye_that_would_be_left_with_too_little_or_too_much_is_an_act(volts: str) -> None:
    catalogue = known("1 A", volts=volts)
    found = hooked(None, {**EYE, "model": "E"}, catalogue=catalogue, operator__model="O")
    assert one(found, "hookup.eye_voltage").level == "act"


def test_at_a_gate_the_run_is_not_guessed() -> None:
    gate = {"door__kind": "slide_gate", "door__leaf_length": "20 ft"}
    found = hooked(None, {**EYE, "model": "E"}, catalogue=known("1 A"), operator__model="O", **gate)
    assert [each.far_voltage for each in found.power.draws] == [None]


def test_the_drop_of_a_pair_is_the_tables(verify: Verify) -> None:
    """18 AWG solid has 6.385 ohm in 1000 ft at 20 degC: 1 A through a pair of 100 ft loses 1.277 V."""
    drop = 24.0 - far_voltage(24.0, 1.0, 100 * FOOT, 18)
    verify(
        "drop of 100 ft of 18 AWG pair at 1 A",
        got=drop,
        expected=1.277,
        within=1e-3,
        source="handbook wire table, 18 AWG 6.385 ohm per 1000 ft at 20 °C",
    )
