"""What a meter shows, and what the input reads: against the trade's table of readings and plain dividers.

The table of good readings and bad signs is from memory; dividers are computed by hand in the comments.
"""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import render
from sillwright.catalogue import demo
from sillwright.catalogue.reading import catalogue_of
from sillwright.hookup.answer import Expected
from sillwright.hookup.loops import input_side

from ..catalogue.building import HEAD
from ..verification import Verify
from .openings import EYE, PULSES, TEN, US, edge, hooked, plain_edge

J: dict[str, Any] = {"catalogue": demo(), "operator__model": "Operator class J"}


def shown(inputs: Any, device: dict[str, Any], **facts: Any) -> dict[tuple[str, str], Expected]:
    """The readings of a device by state and place."""
    found = hooked(inputs, device, **facts).readings
    return {(each.id, each.at): each for each in found if each.low is not None}


def between(each: Expected, low: float, high: float) -> bool:
    """Whether a band holds both of these readings."""
    return each.low is not None and each.low <= low and (each.high is None or high <= each.high)


@pytest.mark.parametrize("at", ["operator", "box", "edge"])
def test_a_sound_10_k_edge_reads_its_element_at_every_place(at: str) -> None:
    """Trade table: 9.5 to 10.5 k at the edge, the same within 0.1 k at box and operator, pressed below 500 ohm."""
    found = shown([TEN], edge())
    assert between(found["rest", at], 9.5e3, 10.5e3)
    assert (found["rest", at].high or 0.0) < 10.9e3
    assert (found["pressed", at].low, found["pressed", at].high) == (0.0, 500.0)


@pytest.mark.parametrize(("state", "low", "high"), [
    ("damp", 7.0e3, 9.0e3),
    ("wet", 3.4e3, 7.0e3),
    ("joint", 12.0e3, 30e3),
    ("second", 5.0e3, 5.0e3),
])  # fmt: skip
def test_the_bad_signs_of_a_10_k_edge_are_the_trades(state: str, low: float, high: float) -> None:
    each = shown([TEN], edge())[state, "anywhere"]
    assert between(each, low, high)
    assert each.low is not None
    assert each.high is not None
    assert each.low > low * 0.9
    assert each.high < high * 1.1
    assert not each.good


def test_a_broken_wire_reads_open() -> None:
    each = shown([TEN], edge())["open", "anywhere"]
    assert (each.low, each.high) == (30e3, None)


def test_other_elements_have_their_own_bands() -> None:
    inputs = [{**TEN, "resistance": "8.2 kohm"}]
    assert between(shown(inputs, edge(resistance="8.2 kohm"))["rest", "operator"], 7.79e3, 8.61e3)


def test_what_is_there_is_expected_and_not_what_should_be() -> None:
    """A meter at an edge with the wrong element shows the wrong element."""
    assert between(shown([TEN], edge(resistance="8.2 kohm"))["rest", "edge"], 7.8e3, 8.6e3)


def test_a_plain_edge_reads_open_at_rest_and_dead_alike() -> None:
    found = shown([{"name": "r", "circuit": "plain"}], plain_edge("plain"))
    assert (found["rest", "edge"].low, found["rest", "edge"].high) == (5e6, None)
    assert between(found["damp", "anywhere"], 5e4, 1e6)
    assert between(found["wet", "anywhere"], 600, 5e4)
    assert ("second", "anywhere") not in found


def test_a_four_wire_edge_reads_each_strip_and_nothing_between_them() -> None:
    """Trade table: a strip 1 to 50 ohm for a metre end to end; between strips above 5 M."""
    found = shown([{"name": "in", "circuit": "four_wire"}], plain_edge("four_wire", length="4 m"))
    assert (found["rest", "edge"].low, found["rest", "edge"].high) == (5e6, None)
    assert between(found["strip", "edge"], 5.0, 200.0)
    assert found["strip", "operator"].low is not None
    assert found["strip", "operator"].low > (found["strip", "edge"].low or 0.0)


def test_a_longer_edge_adds_the_ohms_of_its_strips() -> None:
    short, long = (shown([TEN], edge(length=each))["rest", "edge"].high for each in ("1 m", "8 m"))
    assert short is not None
    assert long is not None
    assert 100 < long - short < 200  # 7 m × 2 strips × 10 ohm/m


def test_the_strips_of_the_catalogue_count() -> None:
    """Class B has 8 ohm for a metre, an unknown one 10: over 6 m and two strips 24 ohm less."""
    known, other = (
        shown([TEN], edge(length="6 m", model=each), catalogue=demo())["rest", "edge"].high
        for each in ("Edge class B", "something")
    )
    assert known is not None
    assert other is not None
    assert other - known == pytest.approx(24 * 1.01, rel=0.02)


# volts at the input


def test_the_input_of_class_j_reads_half_its_supply(verify: Verify) -> None:
    """5 V behind 10 k, 10 k at the end: the trade's table has 2.50 V at rest."""
    volts = shown(None, edge(), **J)["rest", "operator"].volts
    assert volts is not None
    verify(
        "input voltage at rest, 5 V, 10 k, 10 k, middle of the band",
        got=sum(volts) / 2,
        expected=2.50,
        within=0.03,
        source="trade table of input voltages, recomputed; divider 5 × 10 / 20",
    )


def test_the_band_of_the_voltage_holds_every_corner_of_its_parts() -> None:
    """Supply, pull-up and element ± 5 %: 4.75 × 9.5 / 20 = 2.256 V and 5.25 × 10.5 / 20 = 2.756 V, strips aside."""
    volts = shown(None, edge(length="5 cm"), **J)["rest", "operator"].volts
    assert volts == pytest.approx((2.256, 2.756), abs=0.006)


def test_a_pressed_edge_reads_up_to_a_quarter_of_a_volt() -> None:
    """500 ohm pressed: the trade's table has 0.24 V; with the corners of the parts a little more."""
    volts = shown(None, edge(length="5 cm"), **J)["pressed", "operator"].volts
    assert volts is not None
    assert 0.24 <= volts[1] <= 0.28


def test_a_broken_loop_shows_the_whole_supply() -> None:
    assert shown(None, edge(), **J)["open", "anywhere"].volts == pytest.approx((4.75, 5.25), abs=0.01)


def test_no_voltage_is_told_of_an_input_that_nobody_described() -> None:
    assert shown([TEN], edge())["rest", "operator"].volts is None


def test_no_voltage_is_told_behind_a_converter() -> None:
    found = shown(None, plain_edge("four_wire"), **J)
    assert {each.volts for each in found.values()} == {None}


@pytest.mark.parametrize("text", [
    "circuit: resistor",
    "circuit: resistor, supply: 5 V",
    "circuit: resistor, supply: 5 V, pull_up: 10 kohm",
    "circuit: resistor, supply: 5 V, below: {pressed: 1 V}",
])  # fmt: skip
def test_an_input_described_by_halves_is_not_computed(text: str) -> None:
    known = catalogue_of(f"{HEAD}inputs: [{{operator: O, name: in, {text}}}]".encode(), "test.yaml")
    assert input_side(known.inputs[0]) is None


# devices at which ohms say nothing


@pytest.mark.parametrize(("inputs", "device", "words"), [
    ([PULSES], EYE, "10 V to 30 V at the far eye"),
    ([{"name": "r", "circuit": "plain"}], {"id": "a", "kind": "air_edge"}, "closes for 0.3 to 1 s"),
    ([{"name": "d", "circuit": "diode_capacitor"}], plain_edge("diode_capacitor"), "diode test 0.5 to 0.7 V"),
    ([{"name": "n", "circuit": "normally_closed"}], {"id": "y", "kind": "photo_eye", "circuit": "normally_closed"},
     "contact closed"),
])  # fmt: skip
def test_what_no_ohm_tells_is_said_in_words(inputs: Any, device: dict[str, Any], words: str) -> None:
    told = " ".join(render(each.words, US) for each in hooked(inputs, device).readings if each.words)
    assert words in told


@pytest.mark.parametrize("circuit", ["optical", "radio"])
def test_where_nothing_can_be_told_nothing_is(circuit: str) -> None:
    assert hooked([TEN], plain_edge(circuit)).readings == ()


@pytest.mark.parametrize("facts", [{"state": "torn_off"}, {"state": "missing"}, {"circuit": None}])
def test_nothing_is_expected_of_what_is_gone_or_not_known(facts: dict[str, Any]) -> None:
    assert hooked([TEN], edge(**facts)).readings == ()


@pytest.mark.parametrize(
    "facts", [{"length": "0 m"}, {"length": "60 m"}, {"resistance": "1 ohm"}, {"resistance": "10 Mohm"}]
)
def test_bounds_of_the_survey_are_computed(facts: dict[str, Any]) -> None:
    assert hooked([TEN], edge(**facts)).readings


def test_a_press_at_a_one_kilohm_edge_is_good_only_below_what_the_input_takes_for_one() -> None:
    found = hooked([{**TEN, "resistance": "1 kohm"}], edge(resistance="1 kohm"))
    pressed = [each.high for each in found.readings if each.id == "pressed"]
    assert pressed == [340.0] * 3
