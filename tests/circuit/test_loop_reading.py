"""What hangs behind a few wires, from what a meter shows; the bands are those of the trade's rules."""

from __future__ import annotations

from math import inf
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.calculation import as_json
from sillwright.base.errors import OutOfRange
from sillwright.circuit import LoopReadingCase, LoopReadingResult, MeterReading, loop_reading
from sillwright.circuit.bands import DEEDS, WORDS, element_band, insulation_band, table
from sillwright.circuit.guesses import Guess, Look, fits, guesses, spans
from sillwright.circuit.loops import meter, typical
from sillwright.circuit.model import Hurt, Loop, Press, State
from sillwright.circuit.settling import outcomes

from ..verification import Verify

TEN = 10e3
OL: dict[str, Any] = {"over_range": True}

# A 10 kohm end part, kilohms: just below, at and just above each edge.
TEN_K = [
    (0.0, "pressed"), (0.499, "pressed"), (0.5, "pressed"), (0.501, "trips"), (3.399, "trips"), (3.4, "wet"),
    (6.999, "wet"), (7.0, "damp"), (8.999, "damp"), (9.0, "look"), (9.499, "look"), (9.5, "good"), (10.0, "good"),
    (10.5, "good"), (10.501, "look"), (12.0, "look"), (12.001, "joint"), (30.0, "joint"), (30.001, "open"),
    (inf, "open"),
]  # fmt: skip
# Insulation between conductors that nothing joins, kilohms.
APART = [
    (0.5, "pressed"), (0.501, "trips"), (3.399, "trips"), (3.4, "wet"), (49.999, "wet"), (50.0, "damp"),
    (1000.0, "damp"), (1000.001, "look"), (5000.0, "look"), (5000.001, "dry"), (inf, "dry"),
]  # fmt: skip


def read(*readings: dict[str, Any], **case: Any) -> LoopReadingResult:
    """What some readings tell, taken at the operator unless they say otherwise."""
    taken = tuple(MeterReading(**{"at": "operator", **each}) for each in readings)
    return loop_reading(LoopReadingCase(readings=taken, **case))


def can_be(found: LoopReadingResult) -> set[tuple[str, str]]:
    return {(each.circuit, each.condition) for each in found.candidates}


@pytest.mark.parametrize(("kilohm", "band"), TEN_K)
def test_the_bands_of_a_ten_kilohm_end_part(kilohm: float, band: str) -> None:
    assert element_band(kilohm * 1e3, TEN) == band
    assert WORDS[band]
    assert DEEDS[band]


@pytest.mark.parametrize("element", [1e3, 8.2e3, 22e3])
@pytest.mark.parametrize(("kilohm", "band"), TEN_K)
def test_the_bands_scale_with_the_end_part(kilohm: float, band: str, element: float) -> None:
    shifted = kilohm * (1 + 1e-9 if band not in {"pressed", "good", "joint"} else 1 - 1e-9)
    if (kilohm, band) in {(9.5, "good"), (12.0, "look")}:
        shifted = kilohm * (1 + 1e-9 if kilohm == 9.5 else 1 - 1e-9)
    assert element_band(shifted * 1e3 * element / TEN, element) == band


@pytest.mark.parametrize(("kilohm", "band"), APART)
def test_the_bands_of_open_insulation(kilohm: float, band: str) -> None:
    assert insulation_band(kilohm * 1e3) == band


def test_with_a_smaller_pull_up_the_input_reads_open_sooner_and_pressed_later() -> None:
    assert element_band(14.2e3, TEN, pull_up=4.7e3) == "open"
    assert element_band(13.9e3, TEN, pull_up=4.7e3) == "joint"
    assert element_band(2e3, TEN, pull_up=4.7e3) == "wet"
    assert element_band(TEN, TEN, pull_up=47e3) == "trips"
    assert insulation_band(2e3, pull_up=4.7e3) == "wet"


@pytest.mark.parametrize("ohm", [-1.0, float("nan")])
def test_what_is_no_resistance_has_no_band(ohm: float) -> None:
    with pytest.raises(OutOfRange):
        element_band(ohm, TEN)
    with pytest.raises(OutOfRange):
        insulation_band(ohm)


def test_the_end_parts_met_are_preferred_numbers_of_the_twelve_a_decade(verify: Verify) -> None:
    twelve = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)
    for ohm in table("element")["met"]:
        nearest = min((each * 10**power for each in twelve for power in (1, 2, 3)), key=lambda one: abs(one - ohm))
        verify(f"end part of {ohm:g} ohm", got=ohm, expected=nearest, within=0, source="IEC 60063, series E12")


# --- what it is


def test_open_at_rest_is_the_same_for_a_good_and_a_dead_plain_edge() -> None:
    found = read(OL, wires=2)
    assert {("plain", "sound"), ("plain", "dead"), ("plain", "broken")} <= can_be(found)
    assert not found.settled
    assert any("press to know" in each for each in found.notes)
    assert found.next_reading is not None
    assert found.next_reading.pressed


def test_a_plain_edge_that_answers_a_press_is_in_order_there_and_may_be_dead_elsewhere() -> None:
    found = read(OL, {"ohm": 120.0, "pressed": True}, wires=2, circuit="plain")
    assert ("plain", "sound") in can_be(found)
    assert ("plain", "dead") not in can_be(found)
    alone = read({"ohm": TEN}, {"ohm": 120.0, "pressed": True}, wires=2, element=TEN)
    assert alone.settled
    assert alone.answer == "It is an edge with an end element of 10 kΩ, in order."
    assert any("press along the whole length" in each for each in alone.notes)


def test_a_plain_edge_that_stays_open_when_pressed_is_never_in_order() -> None:
    found = read(OL, {**OL, "pressed": True}, circuit="plain")
    assert can_be(found) == {("plain", "broken"), ("plain", "dead")}


def test_the_right_value_that_a_press_does_not_change_is_an_element_before_the_edge_or_a_dead_edge() -> None:
    found = read({"ohm": TEN}, {"ohm": TEN, "pressed": True, "at": "box"}, element=TEN, wires=2)
    assert can_be(found) == {("resistor", "before"), ("resistor", "dead")}
    assert any("stands before the edge" in each for each in found.notes)
    following = found.next_reading
    assert following is not None
    assert following.at == "edge"
    assert [each.shows for each in found.outcomes] == ["9.5 kΩ to 10.5 kΩ", "1 MΩ or more, or OL"]
    settled = read(
        {"ohm": TEN}, {"ohm": TEN, "pressed": True, "at": "box"}, {**OL, "at": "edge"}, element=TEN, wires=2
    )
    assert settled.settled
    assert settled.candidates[0].condition == "before"
    assert settled.candidates[0].where == ("cord",)
    assert "Take the leaf out of powered use" in settled.candidates[0].do


def test_half_the_end_part_and_steady_is_two_of_them_and_wandering_is_water() -> None:
    still, loose, unwatched = (
        read({"ohm": 5e3, "steady": each}, element=TEN, wires=2) for each in ("steady", "wanders", None)
    )
    assert still.candidates[0].condition == "second"
    assert ("resistor", "second") not in can_be(loose)
    assert {("resistor", "second"), ("resistor", "wet")} <= can_be(unwatched)
    assert any("two of them side by side" in each for each in unwatched.notes)


@pytest.mark.parametrize(
    ("ohm", "condition", "band"),
    [
        (8e3, "damp", "damp"), (6e3, "wet", "wet"), (2e3, "trips", "trips"), (9.2e3, "off", "look"),
        (11e3, "off", "look"), (20e3, "joint", "joint"), (5.0, "shorted", "pressed"),
    ],
)  # fmt: skip
def test_an_edge_with_a_known_end_part_is_named_by_its_band(ohm: float, condition: str, band: str) -> None:
    found = read({"ohm": ohm}, {"ohm": 100.0, "pressed": True}, element=TEN, wires=2, circuit="resistor")
    assert found.candidates[0].condition == condition
    assert [each.band for each in found.meanings] == [band]
    assert found.meanings[0].words
    assert found.meanings[0].do


def test_a_reading_of_an_end_part_nobody_told_is_the_value_met_most_or_another_one_damp() -> None:
    found = read({"ohm": 8.2e3}, wires=2)
    first, second = found.candidates[:2]
    assert (first.element, first.condition) == (8.2e3, "sound")
    assert (second.element, second.condition) == (TEN, "damp")
    assert sum(each.share for each in found.candidates) == pytest.approx(1)


def test_a_diode_lets_one_way_through_and_knows_which() -> None:
    one, other = {"volt": 0.6, "diode_test": True}, {**OL, "diode_test": True, "swapped": True}
    found = read(one, other, {"ohm": 120.0, "pressed": True}, wires=2)
    assert (found.candidates[0].circuit, found.candidates[0].condition) == ("diode_capacitor", "sound")
    turned = read({**OL, "diode_test": True}, {**one, "swapped": True}, wires=2)
    assert turned.candidates[0].circuit == "diode_capacitor"
    both = read(one, {**one, "swapped": True}, wires=2, circuit="diode_capacitor")
    assert {condition for _, condition in can_be(both)} <= {"wet", "shorted", "damp"}
    neither = read({**OL, "diode_test": True}, other, wires=2, circuit="diode_capacitor")
    assert neither.candidates[0].condition == "broken"


def test_a_contact_that_a_press_opens_is_told_from_a_short_by_a_press() -> None:
    low = {"ohm": 3.0}
    found = read(low, wires=2)
    assert {("normally_closed", "sound"), ("plain", "shorted")} <= can_be(found)
    assert found.next_reading is not None
    assert found.next_reading.pressed
    assert read(low, {**OL, "pressed": True}, wires=2).candidates[0].condition == "sound"
    assert ("normally_closed", "sound") not in can_be(read(low, {**low, "pressed": True}, wires=2))


def test_four_wires_are_strips_from_end_to_end_and_open_between() -> None:
    found = read(OL, {"ohm": 60.0, "between": "first_strip"}, {"ohm": 90.0, "pressed": True}, wires=4)
    assert found.candidates[0].condition == "sound"
    assert found.settled
    cut = read(OL, {**OL, "between": "second_strip"}, wires=4)
    assert can_be(cut) == {("four_wire", "broken")}
    damp = read({"ohm": 400e3}, wires=4)
    assert can_be(damp) == {("four_wire", "damp")}
    assert any("Find the pairs first" in each for each in read(wires=4).notes)


def test_a_strip_cannot_be_read_at_two_wires() -> None:
    found = read({"ohm": 60.0, "between": "first_strip"}, wires=2)
    assert not found.candidates
    assert "No circuit shows these readings together" in found.answer


@pytest.mark.parametrize("wires", [1, 3, 5, 16])
def test_other_counts_of_wires_are_sorted_first(wires: int) -> None:
    found = read({"ohm": TEN}, wires=wires)
    assert not found.candidates
    assert not found.settled
    assert found.next_reading is None
    assert f"{wires} wires" in found.answer


@pytest.mark.parametrize("circuit", ["pulse_two_wire", "pulse_three_wire", "radio"])
def test_ohms_tell_nothing_of_what_pulses_or_sends(circuit: Any) -> None:
    assert "look at its lamp" in read({"ohm": TEN}, circuit=circuit).answer


def test_readings_that_contradict_each_other_are_called_so() -> None:
    found = read({"ohm": TEN}, OL, element=TEN, circuit="resistor")
    assert (found.candidates, found.settled, found.next_reading) == ((), False, None)
    assert "Read again" in found.answer


def test_a_reading_that_differs_when_it_is_repeated_settles_nothing() -> None:
    found = read({"ohm": 6e3}, {"ohm": 4e3}, element=TEN, circuit="resistor")
    assert not found.settled
    assert any("6 kΩ and 4 kΩ" in each for each in found.notes)
    over = read(OL, {"ohm": 8e6}, circuit="plain")
    assert any("OL and 8 MΩ" in each for each in over.notes)
    assert read({"ohm": 6e3}, {"ohm": 6.2e3}, element=TEN, circuit="resistor").settled


def test_nothing_read_is_no_answer_and_the_first_reading_is_at_rest() -> None:
    found = read()
    assert found.answer == "Nothing is read yet."
    assert not found.settled
    assert found.next_reading is not None
    assert found.next_reading.words == "Read at the operator, between the two conductors, with nobody pressing."


# --- cautions


def test_fingers_and_the_beeper_are_warned_of_where_they_matter() -> None:
    for ohm in (100e3, 500e3, 1e6):
        assert any("Fingers" in each for each in read({"ohm": ohm}).notes)
    for ohm in (99e3, 1.1e6, TEN):
        assert not any("Fingers" in each for each in read({"ohm": ohm}).notes)
    for ohm in (51.0, 3e3, 3.4e3):
        assert any("beeper" in each for each in read({"ohm": ohm}).notes)
    for ohm in (50.0, 3.5e3):
        assert not any("beeper" in each for each in read({"ohm": ohm}).notes)


def test_before_the_edge_alone_is_read_something_else_may_be_on_the_way() -> None:
    assert any("receiver on the way" in each for each in read({"ohm": TEN, "at": "box"}).notes)
    assert not any("receiver on the way" in each for each in read({"ohm": TEN, "at": "edge"}).notes)


def test_no_sentence_says_how_a_loop_is_got_round() -> None:
    said = " ".join((*WORDS.values(), *DEEDS.values(), *(each.do for each in read().candidates))).lower()
    for word in ("bridge", "jumper", "bypass", "tape"):
        assert word not in said


# --- against the loop itself


HURTS: list[tuple[str, Hurt | None]] = [
    ("sound", None),
    ("damp", Hurt(kind="wet", place="edge_middle", ohm=40e3)),
    ("wet", Hurt(kind="wet", place="edge_middle", ohm=10.5e3)),
    ("trips", Hurt(kind="wet", place="edge_middle", ohm=2e3)),
    ("shorted", Hurt(kind="short", place="edge_near")),
    ("joint", Hurt(kind="joint", place="cord", ohm=8e3)),
    ("broken", Hurt(kind="cut", place="cord")),
    ("second", Hurt(kind="element_second", place="cord", ohm=TEN)),
    ("dead", Hurt(kind="dead_beyond", place="edge_near")),
    ("before", Hurt(kind="element_before", place="cord")),
]


def as_read(loop: Loop, hurt: Hurt | None, at: Any, pressed: float | None) -> MeterReading:
    """What a meter shows at a loop, as somebody would note it."""
    state = State(hurts=(hurt,) if hurt else (), press=None if pressed is None else Press(at=pressed))
    ohm = meter(loop, state, at)
    return MeterReading(
        at=at, pressed=pressed is not None, **({"over_range": True} if ohm == inf else {"ohm": ohm})
    )


@pytest.mark.parametrize("pressed", [0.0, 0.9])
@pytest.mark.parametrize(("condition", "hurt"), HURTS, ids=[name for name, _ in HURTS])
def test_a_loop_that_is_hurt_is_among_what_its_own_readings_can_be(
    condition: str, hurt: Hurt | None, pressed: float
) -> None:
    loop = typical("resistor")
    readings = [as_read(loop, hurt, at, press) for at in ("operator", "box", "edge") for press in (None, pressed)]
    found = loop_reading(LoopReadingCase(readings=tuple(readings), element=TEN, wires=2))
    assert ("resistor", condition) in can_be(found)


@pytest.mark.parametrize("circuit", ["plain", "normally_closed", "four_wire"])
def test_a_sound_loop_is_taken_for_sound_by_its_own_readings(circuit: Any) -> None:
    loop = typical(circuit)
    readings = [as_read(loop, None, at, press) for at in ("operator", "edge") for press in (None, 0.5)]
    found = loop_reading(LoopReadingCase(readings=tuple(readings)))
    assert (circuit, "sound") in can_be(found)


@given(
    st.lists(
        st.builds(
            MeterReading,
            at=st.sampled_from(["operator", "box", "edge"]),
            pressed=st.booleans(),
            ohm=st.floats(0, 1e12),
        ),
        max_size=4,
    ),
    st.sampled_from([None, 2, 4]),
    st.sampled_from([None, 1e3, TEN, 123.0]),
)
def test_whatever_is_read_has_an_answer_and_fits_what_is_named(
    readings: list[MeterReading], wires: int | None, element: float | None
) -> None:
    case = LoopReadingCase(readings=tuple(readings), wires=wires, element=element)
    found = loop_reading(case)
    assert found.answer
    as_json(found)
    fitting = {each.name for each in guesses(case) if all(fits(each, one) for one in readings)}
    assert {(each.circuit, each.element, each.condition) for each in found.candidates} <= fitting
    assert bool(fitting) == bool(found.candidates)


def test_the_next_reading_leaves_fewer_things_whatever_it_shows() -> None:
    for given_before in ([OL], [{"ohm": TEN}], [{"ohm": 3.0}], [OL, {**OL, "pressed": True}]):
        found = read(*given_before, wires=2)
        assert found.next_reading is not None
        for each in found.outcomes:
            assert len(each.leaves) <= len(found.candidates)
        assert any(len(each.leaves) < len(found.candidates) for each in found.outcomes)


def test_so_many_outcomes_that_they_tell_nothing_are_left_out() -> None:
    assert outcomes(Look("operator"), list(guesses(LoopReadingCase()))) == ()


def test_every_guess_shows_something_in_every_way_that_its_circuit_can_be_read() -> None:
    for guess in guesses(LoopReadingCase()):
        for look in (Look("operator"), Look("box", pressed=True), Look("edge", diode_test=True)):
            shown = spans(guess, look)
            assert shown, (guess, look)
            assert all(low <= high for low, high in shown), (guess, look)
        strip = spans(guess, Look("box", between="first_strip"))
        assert bool(strip) == (guess.circuit == "four_wire")
    assert spans(Guess("four_wire", "sound"), Look("box", between="first_strip", diode_test=True)) == ()


@pytest.mark.parametrize(
    "wrong",
    [
        {}, {"ohm": 1.0, "over_range": True}, {"ohm": 1.0, "volt": 0.5}, {"volt": 0.5}, {"ohm": -1.0},
        {"ohm": 1.0, "diode_test": True}, {"ohm": float("nan")}, {"ohm": inf}, {"ohm": 1.0, "at": "roof"},
        {"volt": 11.0, "diode_test": True},
    ],
    ids=str,
)  # fmt: skip
def test_what_is_no_reading_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(OutOfRange):
        MeterReading(**{"at": "box", **wrong})


def test_at_most_eight_readings_are_taken() -> None:
    with pytest.raises(OutOfRange, match="at most 8"):
        read(*[{"ohm": TEN}] * 9)


def test_a_low_reading_that_another_usual_element_shows_too_settles_nothing() -> None:
    found = read({"ohm": 8.2e3}, wires=2, element=TEN)
    assert not found.settled
    assert any("8.2 kΩ" in each and "which one is fitted" in each for each in found.notes)
    assert read({"ohm": 7.2e3}, wires=2, element=TEN).settled


@pytest.mark.parametrize(("ohm", "felt"), [(300.0, True), (340.0, True), (450.0, False)])
def test_a_press_at_a_one_kilohm_element_has_to_read_lower(ohm: float, felt: bool) -> None:
    found = read({"ohm": 1e3}, {"ohm": ohm, "pressed": True}, wires=2, element=1e3)
    assert (("resistor", "sound") in can_be(found)) is felt
