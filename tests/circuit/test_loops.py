"""What an input reads from each kind of loop, sound and hurt, pressed anywhere; and what a meter shows."""

from __future__ import annotations

from dataclasses import replace
from math import inf
from typing import Literal, get_args

import pytest

from sillwright.base.errors import OutOfRange
from sillwright.circuit.hurting import NEEDS_OHM, PLACES, PULSED, applies
from sillwright.circuit.loops import meter, outputs, reads, typical, voltage, voltages
from sillwright.circuit.model import Circuit, EndElement, Hurt, HurtKind, Loop, Place, Press, Read, State, Threshold

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)
MONITORED: tuple[Circuit, ...] = ("resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire",
                                  "radio")  # fmt: skip


def hurt(kind: HurtKind, place: Place = "cord", ohm: float | None = None, *, press: float | None = None) -> State:
    """A state with one hurt, pressed somewhere or nowhere."""
    return State(hurts=(Hurt(kind=kind, place=place, ohm=ohm),), press=None if press is None else Press(at=press))


def pressed(at: float) -> State:
    return State(press=Press(at=at))


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_a_sound_loop_reads_rest_and_a_press_anywhere_reads_pressed(circuit: Circuit) -> None:
    loop = typical(circuit)
    assert reads(loop) == "rest"
    assert {reads(loop, pressed(at)) for at in (0.0, 0.03, 1 / 3, 0.5, 0.77, 1.0)} == {"pressed"}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("circuit", MONITORED)
def test_a_watched_circuit_never_rests_on_a_broken_conductor(circuit: Circuit, place: Place) -> None:
    assert reads(typical(circuit), hurt("cut", place)) in {"open", "pressed"}


@pytest.mark.parametrize("place", PLACES)
def test_a_plain_circuit_rests_on_a_broken_conductor_and_so_does_a_missing_edge(place: Place) -> None:
    assert reads(typical("plain"), hurt("cut", place)) == "rest"


def test_a_cut_plain_edge_still_answers_on_the_near_side() -> None:
    plain = typical("plain")
    assert reads(plain, hurt("cut", "edge_middle", press=0.3)) == "pressed"
    assert reads(plain, hurt("cut", "edge_middle", press=0.7)) == "rest"


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("circuit", ["plain", "resistor", "diode_capacitor", "four_wire"])
def test_a_short_reads_as_a_press(circuit: Circuit, place: Place) -> None:
    assert reads(typical(circuit), hurt("short", place)) == "pressed"


@pytest.mark.parametrize("place", ["board", "lead", "cord", "edge_near"])
def test_a_short_before_a_contact_that_opens_hides_every_press(place: Place) -> None:
    assert reads(typical("normally_closed"), hurt("short", place, press=1.0)) == "rest"


def test_a_broken_conductor_of_a_contact_that_opens_reads_as_a_press() -> None:
    assert reads(typical("normally_closed"), hurt("cut", "lead")) == "pressed"


def test_an_element_before_the_edge_rests_and_the_edge_is_dead() -> None:
    for circuit in ("resistor", "diode_capacitor", "four_wire"):
        for place in ("board", "lead", "box", "cord", "edge_near"):
            state = hurt("element_before", place, press=0.5)
            assert reads(typical(circuit), state) == "rest", (circuit, place)


def test_two_elements_in_parallel_still_rest_and_read_half() -> None:
    second = hurt("element_second", "edge_near", 10e3)
    assert reads(typical("resistor"), second) == "rest"
    assert meter(typical("resistor"), second) == pytest.approx(5.0e3, rel=0.01)


def test_strips_that_no_longer_touch_beyond_the_middle_answer_before_it() -> None:
    torn = typical("resistor")
    assert reads(torn, hurt("dead_beyond", "edge_middle", press=0.4)) == "pressed"
    assert reads(torn, hurt("dead_beyond", "edge_middle", press=0.6)) == "rest"
    assert reads(torn, hurt("dead_beyond", "cord", press=0.0)) == "rest"


@pytest.mark.parametrize("circuit", MONITORED)
def test_a_wet_edge_trips_a_watched_circuit_and_a_damp_one_does_not(circuit: Circuit) -> None:
    assert reads(typical(circuit), hurt("wet", "edge_middle", 1e3)) == "pressed"
    assert reads(typical(circuit), hurt("wet", "edge_middle", 1e6)) == "rest"


def test_water_across_a_contact_that_opens_hides_the_press() -> None:
    assert reads(typical("normally_closed"), hurt("wet", "lead", 1e3, press=0.5)) == "rest"


def test_a_diode_the_wrong_way_round_is_no_element() -> None:
    forward, backward = voltages(typical("diode_capacitor"))
    turned = voltages(typical("diode_capacitor"), hurt("swapped", "box"))
    assert turned == pytest.approx((backward, forward))
    assert reads(typical("diode_capacitor"), hurt("swapped", "box")) == "open"
    twice = State(hurts=(Hurt(kind="swapped", place="box"), Hurt(kind="swapped", place="lead")))
    assert reads(typical("diode_capacitor"), twice) == "rest"


@pytest.mark.parametrize("circuit", ["plain", "normally_closed", "resistor", "four_wire", "radio"])
def test_changing_the_conductors_of_a_pair_changes_nothing_where_there_is_no_polarity(circuit: Circuit) -> None:
    assert voltage(typical(circuit), hurt("swapped", "lead")) == pytest.approx(voltage(typical(circuit)))


@pytest.mark.parametrize("circuit", sorted(PULSED))
def test_pulses_stop_for_whatever_is_wrong(circuit: Circuit) -> None:
    loop = typical(circuit)
    for state in (
        hurt("cut", "lead"), hurt("short", "lead"), hurt("swapped", "lead"), hurt("dead_supply", "box"),
        hurt("dead_supply", "board"), hurt("cut", "edge_far"), hurt("short", "cord"), pressed(0.5),
    ):  # fmt: skip
        assert reads(loop, state) == "pressed", state


@pytest.mark.parametrize("circuit", sorted(PULSED))
def test_the_average_of_the_pulses_lies_between_a_third_and_two_thirds_of_the_supply(circuit: Circuit) -> None:
    loop = typical(circuit)
    average = voltage(loop)
    assert isinstance(average, float)
    assert loop.input.supply / 3 < average < loop.input.supply * 2 / 3
    stopped = voltage(loop, pressed(0.5))
    assert isinstance(stopped, float)
    assert stopped > 0.9 * loop.input.supply


def test_a_long_thin_lead_lifts_the_low_level_of_a_three_wire_eye_by_the_current_in_its_common() -> None:
    near = typical("pulse_three_wire")
    far = replace(near, lead=replace(near.lead, gauge=26, length=200.0))
    assert voltages(far)[1] - voltages(near)[1] > 0.02 * 26 * 0.8  # 20 mA through some 26 ohm of common


def test_a_radio_without_a_link_or_a_battery_reads_open_and_a_stuck_contact_rests_on_everything() -> None:
    radio = typical("radio")
    assert reads(radio, hurt("no_link", "box")) == "open"
    assert reads(radio, hurt("dead_supply", "cord")) == "open"
    assert reads(radio, hurt("contact_welded", "box", press=0.5)) == "rest"
    assert reads(radio, hurt("cut", "edge_far")) == "open"


def test_a_transmitter_in_its_window_leaves_the_operator_in_doubt() -> None:
    radio = typical("radio")
    for leak in (3.0e3, 3.2e3, 3.4e3, 3.6e3, 5.0e3, 5.5e3):
        if len(outputs(radio, hurt("wet", "cord", leak))) == 2:
            assert reads(radio, hurt("wet", "cord", leak)) == "between"
            break
    else:
        pytest.fail("no leak falls into the window")
    joint = hurt("joint", "cord", 20.1e3)
    assert outputs(radio, joint) == ("rest", "open")


def test_a_dead_supply_behind_the_pull_up_reads_pressed_and_an_open_contact_never_again() -> None:
    assert reads(typical("resistor"), hurt("dead_supply", "board")) == "pressed"
    assert reads(typical("normally_closed"), hurt("dead_supply", "board", press=0.5)) == "rest"


@pytest.mark.parametrize("joined", ["chain", "parallel"])
@pytest.mark.parametrize("circuit", ["plain", "four_wire"])
def test_several_edges_on_one_input_answer_each(circuit: Circuit, joined: Literal["chain", "parallel"]) -> None:
    loop = replace(typical(circuit), devices=3, joined=joined)
    assert reads(loop) == "rest"
    assert {reads(loop, pressed(at)) for at in (0.0, 0.5, 1.0)} == {"pressed"}


def test_two_resistor_edges_in_parallel_look_like_water_and_in_a_chain_do_not() -> None:
    loop = replace(typical("resistor"), devices=2)
    assert meter(loop) == pytest.approx(10e3, rel=0.02)
    assert meter(replace(loop, joined="parallel")) == pytest.approx(5e3, rel=0.02)


def test_contacts_that_open_do_not_answer_in_parallel() -> None:
    loop = replace(typical("normally_closed"), devices=2)
    assert reads(loop, pressed(0.5)) == "pressed"
    assert reads(replace(loop, joined="parallel"), pressed(0.5)) == "rest"


def test_a_threshold_has_a_window_in_which_parts_differ() -> None:
    loop = typical("resistor")
    assert reads(loop, hurt("wet", "edge_far", 5.0e3)) == "between"
    assert reads(loop, hurt("joint", "cord", 20.0e3)) == "between"


def test_an_input_without_a_threshold_for_open_takes_a_break_for_rest() -> None:
    loop = typical("resistor")
    assert reads(replace(loop, input=replace(loop.input, open=None)), hurt("cut", "lead")) == "rest"


# Readings with power locked out and the lead lifted, as the trade expects them (from memory).
METER = [
    ("plain", State(), inf, 0.0),
    ("plain", pressed(1.0), 160, 0.02),
    ("resistor", State(), 10_060, 0.001),
    ("resistor", hurt("cut", "edge_far"), inf, 0.0),
    ("resistor", hurt("wet", "edge_middle", 10e3), 5.0e3, 0.01),
    ("resistor", hurt("joint", "cord", 10e3), 20.0e3, 0.01),
    ("resistor", hurt("short", "edge_near"), 1.2, 0.2),
    ("resistor", hurt("element_missing"), inf, 0.0),
    ("resistor", hurt("element_wrong", ohm=1e3), 1060, 0.01),
    ("normally_closed", State(), 61, 0.02),
    ("normally_closed", pressed(0.5), inf, 0.0),
    ("four_wire", State(), inf, 0.0),
    ("four_wire", pressed(0.5), 131, 0.02),
    ("radio", State(), inf, 0.0),
    ("radio", hurt("contact_welded", "box"), 10e3, 0.001),
]


@pytest.mark.parametrize(("circuit", "state", "expected", "within"), METER)
def test_a_meter_at_the_operator_shows_what_the_trade_expects(
    circuit: Circuit, state: State, expected: float, within: float
) -> None:
    shown = meter(typical(circuit), state)
    assert shown == expected or shown == pytest.approx(expected, rel=within)


def test_lifting_the_lead_place_by_place_finds_the_joint() -> None:
    bad = hurt("joint", "box", 30e3)
    loop = typical("resistor")
    shown = [round(meter(loop, bad, at=at), -3) for at in ("operator", "box", "edge")]
    assert shown == [40e3, 40e3, 10e3]


def test_what_is_wrong_at_the_board_does_not_show_once_the_lead_is_lifted() -> None:
    assert meter(typical("resistor"), hurt("short", "board")) == meter(typical("resistor"))


def test_an_element_at_the_board_leaves_nothing_behind_the_lifted_lead() -> None:
    assert meter(typical("resistor"), hurt("element_before", "board")) == inf


def test_a_diode_shows_one_way_only_and_both_ways_when_wet() -> None:
    diode = typical("diode_capacitor")
    one, other = (meter(diode, swapped=swapped) for swapped in (False, True))
    assert 500 < one < 5000
    assert other == inf
    assert meter(diode, hurt("wet", "edge_middle", 2e3), swapped=True) == pytest.approx(2e3, rel=0.02)
    assert meter(diode, hurt("swapped"), swapped=True) == pytest.approx(one, rel=1e-6)


def test_a_diode_behind_a_resistor_shows_both() -> None:
    loop = replace(typical("diode_capacitor"), end=EndElement(resistance=2e3))
    assert meter(loop) > meter(typical("diode_capacitor")) + 1.9e3
    assert meter(loop, swapped=True) == inf
    assert reads(loop) == "rest"
    assert voltages(loop)[0] == pytest.approx(voltages(typical("diode_capacitor"))[0] + 0.72, abs=0.02)


def test_pulses_and_alternate_probing_have_two_voltages_and_others_one() -> None:
    assert {circuit: len(voltages(typical(circuit))) for circuit in CIRCUITS} == {
        "plain": 1, "normally_closed": 1, "resistor": 1, "diode_capacitor": 2, "four_wire": 1, "pulse_two_wire": 2,
        "pulse_three_wire": 2, "radio": 1,
    }  # fmt: skip
    assert voltage(typical("diode_capacitor")) == voltages(typical("diode_capacitor"))


def test_each_strip_of_a_four_wire_edge_is_measured_from_end_to_end() -> None:
    loop = typical("four_wire")
    assert meter(loop, at="edge", probes="first_strip") == pytest.approx(30, abs=0.3)
    assert meter(loop, probes="second_strip") == pytest.approx(31.5, abs=1)
    assert meter(loop, hurt("cut", "edge_middle"), probes="first_strip") == inf
    assert meter(loop, hurt("cut", "edge_middle"), at="box", probes="second_strip") < 50
    with pytest.raises(OutOfRange, match="between its pair"):
        meter(typical("resistor"), probes="first_strip")


def test_with_a_converter_box_and_edge_look_at_the_edges_own_loop() -> None:
    for circuit in ("radio", "pulse_two_wire", "pulse_three_wire"):
        loop = typical(circuit)
        assert meter(loop, at="box") == pytest.approx(10e3, rel=0.01)
        assert meter(loop, hurt("cut", "edge_far"), at="edge") == inf
        assert meter(loop, hurt("short", "lead")) < 2


def test_every_hurt_at_every_place_is_either_answered_or_refused_with_its_name() -> None:
    for circuit in CIRCUITS:
        for kind in get_args(HurtKind):
            for place in PLACES:
                loop = typical(circuit)
                state = hurt(kind, place, 2e3 if kind in NEEDS_OHM else None, press=0.5)
                if applies(loop, kind, place):
                    assert reads(loop, state) in get_args(Read)
                    assert all(meter(loop, state, at=at) >= 0 for at in ("operator", "box", "edge"))
                else:
                    with pytest.raises(OutOfRange, match=kind):
                        reads(loop, state)


def test_two_breaks_leave_nothing_floating() -> None:
    both = State(hurts=(Hurt(kind="cut", place="lead"), Hurt(kind="cut", place="cord")))
    assert {reads(typical(circuit), both) for circuit in ("resistor", "four_wire", "radio")} == {"open"}


@pytest.mark.parametrize(
    ("loop", "said"),
    [
        (replace(typical("resistor"), end=None), "end: a resistor circuit has an end element"),
        (replace(typical("radio"), end=None), "end: a radio circuit has an end element"),
        (
            replace(
                typical("resistor"),
                input=replace(
                    typical("resistor").input, pressed=Threshold(least_voltage=2.0, greatest_voltage=4.0)
                ),
            ),
            "must not overlap",
        ),
        (
            replace(
                typical("plain"),
                input=replace(typical("plain").input, pressed=Threshold(least_voltage=2, greatest_voltage=1)),
            ),
            "swap them",
        ),
    ],
)
def test_a_loop_that_cannot_be_is_refused(loop: Loop, said: str) -> None:
    with pytest.raises(OutOfRange, match=said):
        reads(loop)


@pytest.mark.parametrize("kind", sorted(NEEDS_OHM))
def test_a_hurt_without_its_resistance_is_refused(kind: HurtKind) -> None:
    with pytest.raises(OutOfRange, match="give ohm"):
        reads(typical("resistor"), hurt(kind))


def test_wires_and_strips_without_any_resistance_are_no_trouble() -> None:
    loop = typical("resistor")
    bare = replace(
        loop,
        lead=replace(loop.lead, length=0.0),
        cord=replace(loop.cord, length=0.0),
        strips=replace(loop.strips, strip_resistance=0.0, contact=0.0),
        end=EndElement(resistance=10e3),
    )
    assert voltage(bare) == pytest.approx(2.5, rel=1e-4)
    assert voltage(bare, pressed(0.5)) == 0.0
    assert meter(bare, pressed(0.5)) == 0.0
