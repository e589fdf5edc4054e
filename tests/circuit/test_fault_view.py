"""A loop on the fault bench: what the operator sees, what a meter shows, where a press is felt."""

from __future__ import annotations

from typing import get_args

import pytest

from sillwright.base.errors import OutOfRange
from sillwright.circuit.fault_choices import go_together, hurt_at, listed, seconds
from sillwright.circuit.fault_rows import fault, hurts_of
from sillwright.circuit.fault_view import HurtBench, hurt_bench
from sillwright.circuit.loops import meter, reads, typical, voltages
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Place, Press, State
from sillwright.circuit.pressing import SPOTS

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)


def hurt(kind: HurtKind, place: Place = "cord", ohm: float | None = None, press: float | None = None) -> State:
    return State(hurts=(Hurt(kind=kind, place=place, ohm=ohm),), press=None if press is None else Press(at=press))


def answers(found: HurtBench) -> list[bool | None]:
    return [each.felt for each in found.spots]


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_a_sound_loop_rests_and_feels_a_press_on_each_tenth(circuit: Circuit) -> None:
    found = hurt_bench(typical(circuit))
    assert (found.reads, found.seen, found.still) == ("rest", "never", "all")
    assert [each.at for each in found.spots] == list(SPOTS)
    assert answers(found) == [True] * 10
    assert found.felt == "the whole edge still answers"
    assert {each.at for each in found.meters} == {"operator", "box", "edge"}


def test_a_press_on_the_bench_is_what_the_operator_sees_at_that_moment() -> None:
    found = hurt_bench(typical("plain"), hurt("cut", "edge_middle", press=0.2))
    assert found.reads == "pressed"
    assert found.operator == "It reads pressed: the operator does not close, or opens again."
    assert (found.seen, found.still) == ("never", "near_side")
    beyond = hurt_bench(typical("plain"), hurt("cut", "edge_middle", press=0.8))
    assert beyond.operator.startswith("It reads rest: the operator knows of nothing")
    assert answers(beyond) == answers(found) == [True] * 5 + [False] * 5


def test_the_bench_shows_the_voltages_and_the_meter_of_the_loop() -> None:
    loop, state = typical("resistor"), hurt("wet", "edge_middle", 10e3)
    found = hurt_bench(loop, state)
    assert found.voltages == voltages(loop, state)
    assert [each.ohm for each in found.meters] == [meter(loop, state, at) for at in ("operator", "box", "edge")]


def test_a_broken_loop_shows_ol_and_the_operator_knows() -> None:
    found = hurt_bench(typical("resistor"), hurt("cut", "edge_near"))
    assert [each.ohm for each in found.meters] == [None, None, None]
    assert (found.seen, found.told) == ("at_once", "the operator sees it at once")
    assert found.operator == "It reads open: the operator knows that something is wrong."


def test_a_diode_is_read_both_ways_and_four_wires_along_each_strip() -> None:
    diode = hurt_bench(typical("diode_capacitor"))
    shown = {(each.at, each.swapped): each.ohm for each in diode.meters}
    assert len(shown) == 6
    for at in ("operator", "box", "edge"):
        one, other = shown[at, False], shown[at, True]
        assert one is not None
        assert other is None
    wires = hurt_bench(typical("four_wire"))
    assert [each.probes for each in wires.meters[:3]] == ["pair", "first_strip", "second_strip"]
    assert len(wires.meters) == 9


def test_what_hangs_on_the_part_in_hand_is_neither_felt_nor_not_felt() -> None:
    found = hurt_bench(typical("resistor"), hurt("wet", "edge_near", 4.7e3))
    assert (found.reads, found.seen) == ("between", "uncertain")
    assert found.operator == "What the operator makes of it hangs on the part in hand."
    joint = hurt_bench(typical("resistor"), hurt("joint", "cord", 3.2e3))
    assert joint.still == "nothing"
    assert set(answers(joint)) == {None}


def test_a_loop_that_is_held_stands() -> None:
    found = hurt_bench(typical("resistor"), hurt("crushed", "edge_middle"))
    assert (found.seen, found.still) == ("next_close", "stands")
    assert found.felt == "it reads as a press, so that the leaf does not close under power"


@pytest.mark.parametrize("kind", ["short", "element_before", "element_second"])
def test_a_part_at_the_board_is_shown_to_trainers_only(kind: HurtKind) -> None:
    state = hurt(kind, "board", 10e3)
    with pytest.raises(OutOfRange, match="trainers only"):
        hurt_bench(typical("resistor"), state)
    assert hurt_bench(typical("resistor"), state, trainer=True).reads in {"rest", "pressed"}


@pytest.mark.parametrize("circuit", ["plain", "resistor", "radio", "pulse_two_wire"])
def test_everything_of_the_table_can_be_put_on_the_bench(circuit: Circuit) -> None:
    loop = typical(circuit)
    for each in list(hurts_of(loop))[::5]:
        assert hurt_bench(loop, State(hurts=(each,))).operator


def test_what_a_loop_cannot_have_is_refused() -> None:
    with pytest.raises(OutOfRange):
        hurt_bench(typical("plain"), hurt("no_link", "box"))
    with pytest.raises(OutOfRange, match="give ohm"):
        hurt_bench(typical("plain"), hurt("wet"))


# --- one computation with the table of faults


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_the_bench_and_the_table_say_the_same_of_every_fault(circuit: Circuit) -> None:
    loop = typical(circuit)
    for each in list(hurts_of(loop))[::7]:
        found, row = hurt_bench(loop, State(hurts=(each,))), fault(loop, each)
        assert (found.seen, found.still, found.share) == (row.seen, row.still, row.answers_share), each
        assert found.share == sum(answer is True for answer in answers(found)) / 10


def test_a_cut_in_the_middle_leaves_half_of_a_plain_edge() -> None:
    found = hurt_bench(typical("plain"), hurt("cut", "edge_middle"))
    assert (found.share, found.felt) == (0.5, "only its near side, 50 %, still answers")


@pytest.mark.parametrize("at", [0.05, 0.45, 0.55, 0.95, 0.3])
def test_a_press_reads_on_the_bench_as_it_does_alone(at: float) -> None:
    for circuit, wrong in (("plain", "cut"), ("resistor", "dead_beyond"), ("normally_closed", "cut")):
        state = hurt(wrong, "edge_middle", press=at)  # type: ignore[arg-type]
        assert hurt_bench(typical(circuit), state).reads == reads(typical(circuit), state)  # type: ignore[arg-type]


@pytest.mark.parametrize("place", ["lead", "box", "cord", "edge_near", "edge_middle"])
def test_a_strip_is_measured_though_the_other_one_hangs_in_the_air(place: Place) -> None:
    found = hurt_bench(typical("four_wire"), hurt("element_before", place))
    assert all(each.ohm is not None for each in found.meters if each.probes != "pair")


# --- two faults at once


def both(*hurts: Hurt, circuit: Circuit = "resistor") -> HurtBench:
    return hurt_bench(typical(circuit), State(hurts=hurts))


def test_a_bad_joint_hides_a_short_behind_it() -> None:
    short, joint = hurt_at("short", "cord"), hurt_at("joint-1", "box")
    assert both(short).seen == "next_close"
    found = both(short, joint)
    assert (found.seen, found.still) == ("never", "nothing")


def test_water_beside_a_cut_can_take_the_place_of_the_end_element() -> None:
    cut, wet = hurt_at("cut", "edge_far"), hurt_at("wet-3", "edge_middle")
    assert both(cut).seen == "at_once"
    assert both(cut, wet).seen == "uncertain"  # 30 kΩ beside a pull-up of 10 kΩ is the threshold itself


def test_a_cut_before_a_spot_that_stays_pressed_is_seen_first() -> None:
    crushed, cut = hurt_at("crushed", "edge_middle"), hurt_at("cut", "edge_near")
    assert both(crushed).seen == "next_close"
    assert (both(crushed, cut).seen, both(crushed, cut).still) == ("at_once", "nothing")


def test_the_order_in_which_two_faults_are_told_does_not_matter() -> None:
    one, other = hurt_at("wet-3", "edge_far"), hurt_at("cut", "edge_middle")
    for circuit in ("plain", "resistor", "radio"):
        first, second = both(one, other, circuit=circuit), both(other, one, circuit=circuit)
        assert (first.reads, first.spots, first.told) == (second.reads, second.spots, second.told)


def test_the_same_twice_and_two_tales_of_one_end_element_do_not_go_together() -> None:
    loop = typical("resistor")
    missing, wrong = hurt_at("element_missing", "edge_far"), hurt_at("element_wrong-0.47", "edge_far")
    assert not go_together(loop, missing, wrong)
    assert not go_together(loop, hurt_at("wet-3", "edge_far"), hurt_at("wet-0.3", "edge_far"))
    assert go_together(loop, hurt_at("wet-3", "edge_far"), hurt_at("cut", "edge_far"))
    at_the_receiver = hurt_at("element_missing", "box")
    assert go_together(typical("radio"), at_the_receiver, wrong)
    assert not go_together(typical("radio"), missing, wrong)


def test_second_faults_are_few_and_each_is_a_first_one_somewhere_and_no_part_at_the_board() -> None:
    assert len(seconds()) <= 10
    for name, each in seconds().items():
        assert any(each in listed(circuit) for circuit in CIRCUITS), name
