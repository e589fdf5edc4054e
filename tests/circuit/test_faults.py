"""The table of faults: what the operator sees of each, and what the leaf still feels."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.calculation import as_json
from sillwright.base.errors import OutOfRange
from sillwright.circuit import FaultsCase, FaultsResult, faults
from sillwright.circuit.circuits import netlists
from sillwright.circuit.fault_rows import AT_THE_BOARD, coverage_of, fault, hurts_of, rows_of, still_of
from sillwright.circuit.fault_words import felt, of_row
from sillwright.circuit.faults_model import FaultRow
from sillwright.circuit.hurting import CONVERTED
from sillwright.circuit.loops import reads, typical, voltages
from sillwright.circuit.model import (
    Circuit,
    EndElement,
    Hurt,
    HurtKind,
    LeadWire,
    Loop,
    Place,
    Press,
    State,
    Strips,
)
from sillwright.circuit.pressing import SPOTS, _volts, forget, pressed_reads, together

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)
WATCHED: tuple[Circuit, ...] = ("resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire",
                                "radio")  # fmt: skip


@pytest.fixture(scope="module")
def every() -> FaultsResult:
    return faults(FaultsCase())


def row(found: FaultsResult, circuit: str, kind: str, place: str, nth: int = 0) -> FaultRow:
    """A row of the table; ``nth`` of those with several resistances."""
    fitting = [each for each in found.rows if (each.circuit, each.kind, each.place) == (circuit, kind, place)]
    return fitting[nth]


def slowly(loop: Loop, *hurts: Hurt) -> tuple[str, ...]:
    """At rest and pressed at every spot, each as a circuit of its own."""
    presses = (None, *(Press(at=each) for each in SPOTS))
    return tuple(reads(loop, State(hurts=hurts, press=each)) for each in presses)


# --- what it says of doors


def test_a_cut_plain_edge_still_answers_on_the_near_side_and_nobody_is_told(every: FaultsResult) -> None:
    middle = row(every, "plain", "cut", "edge_middle")
    assert (middle.seen, middle.still, middle.answers_share) == ("never", "near_side", 0.5)
    assert of_row(middle).endswith("only its near side, 50 %, still answers, and nobody is told.")
    for place in ("board", "lead", "box", "cord", "edge_near"):
        assert (row(every, "plain", "cut", place).seen, row(every, "plain", "cut", place).still) == (
            "never",
            "nothing",
        )
    far = row(every, "plain", "cut", "edge_far")
    assert (far.seen, far.still) == ("never", "all")


@pytest.mark.parametrize("circuit", WATCHED)
def test_a_broken_wire_of_a_watched_circuit_is_always_seen(every: FaultsResult, circuit: str) -> None:
    cuts = [each for each in every.rows if (each.circuit, each.kind) == (circuit, "cut")]
    assert len(cuts) == 7
    assert {each.seen for each in cuts} <= {"at_once", "next_close"}


def test_the_operator_never_sees_a_plain_circuit_open(every: FaultsResult) -> None:
    assert "at_once" not in {each.seen for each in every.rows if each.circuit in {"plain", "normally_closed"}}


@pytest.mark.parametrize("circuit", ["plain", "resistor", "diode_capacitor", "four_wire"])
def test_a_short_stops_the_next_close(every: FaultsResult, circuit: str) -> None:
    for place in ("lead", "cord", "edge_near", "edge_far"):
        short = row(every, circuit, "short", place)
        assert (short.seen, short.still) == ("next_close", "stands")


def test_a_short_across_a_contact_that_opens_hides_every_press(every: FaultsResult) -> None:
    assert row(every, "normally_closed", "short", "cord").still == "nothing"
    assert row(every, "normally_closed", "short", "cord").seen == "never"
    assert row(every, "normally_closed", "cut", "cord").still == "stands"


def test_an_element_before_the_edge_is_never_seen_and_the_edge_is_dead(every: FaultsResult) -> None:
    for circuit in ("resistor", "diode_capacitor", "four_wire"):
        before = row(every, circuit, "element_before", "cord")
        assert (before.seen, before.still) == ("never", "nothing")
        middle = row(every, circuit, "element_before", "edge_middle")
        assert (middle.still, middle.answers_share) == ("near_side", 0.5)


def test_strips_that_no_longer_touch_are_seen_by_no_circuit(every: FaultsResult) -> None:
    dead = [each for each in every.rows if each.kind == "dead_beyond"]
    assert len(dead) == 2 * len(CIRCUITS)
    assert {each.seen for each in dead} == {"never"}
    assert {each.still for each in dead} == {"nothing", "near_side"}


def test_a_joint_as_large_as_the_element_hides_presses_of_a_resistor_loop(every: FaultsResult) -> None:
    light, heavy = (row(every, "resistor", "joint", "cord", nth) for nth in (0, 1))
    assert (light.ohm, light.still) == (1e3, "all")
    assert (heavy.ohm, heavy.seen, heavy.still) == (10e3, "never", "nothing")


def test_a_lost_radio_link_is_seen_and_a_receiver_that_sticks_is_not(every: FaultsResult) -> None:
    assert row(every, "radio", "no_link", "box").seen == "at_once"
    stuck = row(every, "radio", "contact_welded", "box")
    assert (stuck.seen, stuck.still) == ("never", "nothing")
    assert not [each for each in every.rows if each.kind == "no_link" and each.circuit != "radio"]


def test_a_watched_circuit_sees_more_than_a_plain_one(every: FaultsResult) -> None:
    share = {each.circuit: each.coverage for each in every.circuits}
    assert set(share) == set(CIRCUITS)
    for circuit in WATCHED:
        assert share[circuit] > share["plain"] > 0  # type: ignore[operator]
    assert max(each for each in share.values() if each is not None) < 1


def test_every_coverage_counts_every_row_once(every: FaultsResult) -> None:
    for each in every.circuits:
        own = [one for one in every.rows if one.circuit == each.circuit]
        assert each.seen + each.unseen + each.uncertain + each.harmless == len(own)
        assert each.coverage == each.seen / (each.seen + each.unseen + each.uncertain)


def test_what_is_not_sure_does_not_count_as_seen() -> None:
    loop = typical("resistor")
    unsure = fault(loop, Hurt(kind="wet", place="edge_near", ohm=4.7e3))
    assert unsure.seen == "uncertain"
    assert of_row(unsure).endswith("and whether the operator sees it hangs on the part in hand.")
    found = coverage_of("resistor", [unsure])
    assert (found.seen, found.uncertain, found.coverage) == (0, 0, None) if unsure.still == "all" else (0, 1, 0.0)


def test_nothing_that_matters_has_no_coverage() -> None:
    harmless = fault(typical("plain"), Hurt(kind="cut", place="edge_far"))
    found = coverage_of("plain", [harmless])
    assert found.coverage is None
    assert "nothing that is looked at" in found.words


def test_the_lessons_are_of_what_nobody_is_told(every: FaultsResult) -> None:
    assert any(
        each.startswith("Plain edge, a broken wire at the board, in the lead") and each.endswith("nobody is told.")
        for each in every.notes
    )
    assert not [each for each in every.notes if "sees it at" in each]
    unsure = sum(each.unseen + each.uncertain for each in every.circuits)
    assert len(every.arrangements) < len(every.notes) < unsure


def test_parts_at_the_board_are_for_trainers() -> None:
    shown, all_of_it = (faults(FaultsCase(circuit="resistor", trainer=each)).rows for each in (False, True))
    hidden = {(each.kind, each.place) for each in all_of_it} - {(each.kind, each.place) for each in shown}
    assert hidden == {(kind, "board") for kind in AT_THE_BOARD}


def test_no_sentence_shows_how_a_device_is_got_round(every: FaultsResult) -> None:
    said = " ".join((*map(of_row, every.rows), *every.notes)).lower()
    for word in ("bridge", "jumper", "bypass", "tape ", "defeat"):
        assert word not in said


def test_where_a_press_is_felt_has_a_name() -> None:
    some = [True, False, True], [False, True, True], [True, False, False], [False] * 3, [True] * 3
    assert [still_of("rest", each) for each in some] == ["part", "far_side", "near_side", "nothing", "all"]
    assert still_of("pressed", [True] * 3) == "stands"
    assert felt("far_side", 0.25) == "only its far side, 25 %, still answers"
    assert felt("part", 0.3) == "only 30 % of the edge still answers"


# --- several edges on one input


def arrangement(found: FaultsResult, circuit: str, joined: str) -> Any:
    return next(each for each in found.arrangements if (each.circuit, each.joined) == (circuit, joined))


def test_two_end_elements_side_by_side_look_wet_and_lose_an_edge_unseen(every: FaultsResult) -> None:
    chain, parallel = (arrangement(every, "resistor", each) for each in ("chain", "parallel"))
    assert chain.cuts_seen
    assert not parallel.cuts_seen
    assert parallel.ohm == pytest.approx(5e3, rel=0.02)
    assert any("nobody is told" in each and "5.03 kΩ, as if it were wet" in each for each in every.notes)
    three = faults(FaultsCase(circuit="resistor", devices=4, joined="parallel"))
    assert arrangement(three, "resistor", "parallel").reads == "pressed"


def test_plain_edges_lose_one_unseen_however_they_are_joined(every: FaultsResult) -> None:
    assert not arrangement(every, "plain", "chain").cuts_seen
    assert not arrangement(every, "plain", "parallel").cuts_seen
    assert arrangement(every, "four_wire", "chain").cuts_seen


def test_a_chain_is_one_long_edge() -> None:
    loop = replace(typical("plain"), devices=3)
    middle = fault(loop, Hurt(kind="cut", place="edge_middle"))
    assert (middle.still, middle.answers_share) == ("near_side", 0.5)


def test_a_loop_that_somebody_gave_is_looked_at_alone() -> None:
    loop = typical("resistor")
    weak = replace(loop, input=replace(loop.input, pull_up=1e3))
    found = faults(FaultsCase(loop=weak))
    assert {each.circuit for each in found.rows} == {"resistor"}
    assert found.arrangements == ()
    joints = [each.seen for each in found.rows if each.kind == "joint" and each.place == "cord"]
    assert joints == ["at_once", "at_once"]
    assert not any("typical" in each for each in found.assumptions)


def test_a_loop_and_another_circuit_are_refused() -> None:
    with pytest.raises(OutOfRange, match="plain, but the loop is resistor"):
        FaultsCase(circuit="plain", loop=typical("resistor"))
    with pytest.raises(OutOfRange, match="end element"):
        FaultsCase(loop=replace(typical("resistor"), end=None))


def test_the_table_has_json_and_every_circuit_its_own(every: FaultsResult) -> None:
    as_json(every)
    for circuit in CIRCUITS:
        alone = faults(FaultsCase(circuit=circuit))
        assert alone.rows == tuple(each for each in every.rows if each.circuit == circuit)


def test_every_hurt_of_the_table_is_one_that_its_loop_can_have() -> None:
    for circuit in CIRCUITS:
        loop = typical(circuit)
        listed = list(hurts_of(loop, trainer=True))
        assert len(listed) == len(set(listed))
        assert len(rows_of(loop, trainer=True)) == len(listed) > 30
        assert {each.kind for each in listed} >= {"cut", "joint", "short", "wet", "dead_supply", "dead_beyond"}
        welded = {each.place for each in listed if each.kind == "contact_welded"}
        assert welded == ({"box"} if circuit in CONVERTED else {"edge_middle"})


# --- the fast way against the plain one


def some_loops() -> Iterator[Loop]:
    """Typical loops, and some of their kind that are not."""
    for circuit in CIRCUITS:
        loop = typical(circuit)
        yield loop
        yield replace(loop, strips=Strips(length=8.0, strip_resistance=50.0, contact=400.0, insulation=2e5))
        yield replace(loop, strips=replace(loop.strips, strip_resistance=0.0), cord=LeadWire(length=0.0))
        if circuit != "diode_capacitor":
            yield replace(loop, devices=2)
            yield replace(loop, devices=3, joined="parallel")


@pytest.mark.parametrize("number", range(len(list(some_loops()))))
def test_all_presses_at_once_read_what_each_reads_alone(number: int) -> None:
    loop = list(some_loops())[number]
    dice = random.Random(number)  # noqa: S311 - rows to look at
    for hurt in dice.sample(list(hurts_of(loop, trainer=True)), 6):
        assert pressed_reads(loop, (hurt,)) == slowly(loop, hurt), hurt
    assert pressed_reads(loop) == slowly(loop)


def test_two_diodes_side_by_side_are_read_one_by_one() -> None:
    loop = replace(typical("diode_capacitor"), devices=2, joined="parallel")
    cut = Hurt(kind="cut", place="cord")
    assert not together(loop, netlists(loop, State(hurts=(cut,))))
    assert pressed_reads(loop, (cut,)) == slowly(loop, cut)


def test_strips_that_leak_much_or_a_press_without_resistance_are_read_one_by_one() -> None:
    loop = typical("four_wire")
    poor = replace(loop, strips=replace(loop.strips, insulation=2e3))
    assert together(loop, netlists(loop))
    assert not together(poor, netlists(poor))
    hard = replace(loop, strips=replace(loop.strips, contact=0.0))
    assert not together(hard, netlists(hard))
    bare = LeadWire(length=0.0)
    wires = replace(typical("plain"), lead=bare, cord=bare, strips=Strips(length=1.0, strip_resistance=0.0))
    assert pressed_reads(wires) == slowly(wires)
    forget()
    assert pressed_reads(wires) == slowly(wires)


def test_a_converter_in_the_window_of_its_own_threshold_says_so() -> None:
    loop = typical("radio")
    unsure = Hurt(kind="wet", place="edge_near", ohm=4.7e3)
    assert pressed_reads(loop, (unsure,)) == slowly(loop, unsure)
    assert pressed_reads(loop, (unsure,))[0] == "between"


KINDS: tuple[HurtKind, ...] = ("cut", "joint", "short", "wet", "crushed", "element_second", "dead_beyond")
ALONG: tuple[Place, ...] = ("edge_near", "edge_middle", "edge_far")


@given(
    st.sampled_from(["plain", "resistor", "four_wire", "normally_closed", "diode_capacitor"]),
    st.lists(
        st.builds(Hurt, kind=st.sampled_from(KINDS), place=st.sampled_from(ALONG), ohm=st.floats(1, 1e7)),
        max_size=2,
    ),
    st.floats(0.1, 100),
    st.floats(2e6, 1e9),
    st.floats(100, 1e5),
)
def test_random_loops_have_the_same_voltages_both_ways(
    circuit: Circuit, hurts: list[Hurt], strip: float, insulation: float, element: float
) -> None:
    loop = typical(circuit)
    end = None if loop.end is None else EndElement(resistance=element)
    loop = replace(loop, end=end, strips=Strips(length=3.0, strip_resistance=strip, insulation=insulation))
    rows = _volts(loop, tuple(hurts))
    for at in (0, 1, 5, 6, 10):
        press = None if at == 0 else Press(at=SPOTS[at - 1])
        wanted = voltages(loop, State(hurts=tuple(hurts), press=press))
        assert tuple(rows[at]) == pytest.approx(wanted, rel=2e-3, abs=2e-3)
