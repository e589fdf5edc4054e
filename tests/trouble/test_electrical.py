"""What a meter and a lamp show of a hurt loop: computed from the loop, never certain, and the same every time."""

from __future__ import annotations

from dataclasses import replace
from math import fsum, inf, log
from statistics import NormalDist, fmean
from typing import Any

import pytest

from sillwright.base.errors import UnknownName
from sillwright.circuit.model import Circuit, EndElement
from sillwright.circuit.typical import typical
from sillwright.trouble.answer import Call
from sillwright.trouble.banding import band, change, display, settings
from sillwright.trouble.book import fault_book
from sillwright.trouble.electrical import circuit_of, for_circuit, measurable, reading_rows, rows
from sillwright.trouble.measuring import CIRCUITS, FEW, POINTS, READINGS, Way, points, shown, ways
from sillwright.trouble.model import Test as Step

from ..long import cases

BOOK = fault_book()
TESTS = {each.id: each for each in BOOK.tests}
MISREAD = 0.02


def seen(circuit: Circuit, reading: str, hurt: str | None) -> dict[str, float]:
    """The shipped row of a hurt, by outcome."""
    row = reading_rows()[circuit][reading][hurt or "sound"]
    return dict(zip(READINGS[reading], row, strict=True))


# ---------------------------------------------------------------- the shipped rows are the computed ones

ROUNDED = 6e-5  # to four digits


def recomputed(circuit: Circuit, reading: str, hurt: str) -> bool:
    """Whether the shipped row is what the loop gives today."""
    row = shown(reading, typical(circuit), None if hurt == "sound" else hurt)
    return reading_rows()[circuit][reading][hurt] == pytest.approx(row, abs=ROUNDED)


@pytest.mark.parametrize("circuit", CIRCUITS)
@pytest.mark.parametrize(("reading", "hurt"), [("box", "wet_edge"), ("edge_pressed", "edge_cut"), ("lamp", "torn")])
def test_a_shipped_row_is_the_computed_one(circuit: Circuit, reading: str, hurt: str) -> None:
    assert recomputed(circuit, reading, hurt), "run tools/write_reading_rows.py"


@pytest.mark.slow
@pytest.mark.long
@pytest.mark.parametrize("circuit", CIRCUITS)
def test_the_shipped_rows_are_the_computed_ones(circuit: Circuit) -> None:
    """Every row in a long run; else every third, other ones for each circuit."""
    step = cases(3, 1)
    shipped = [(name, hurt) for name, by_hurt in reading_rows()[circuit].items() for hurt in by_hurt]
    looked_at = shipped[CIRCUITS.index(circuit) % step :: step]
    assert [(name, hurt) for name, hurt in looked_at if not recomputed(circuit, name, hurt)] == []


def test_every_circuit_has_every_hurt_of_every_reading_that_a_test_takes() -> None:
    hurts = {"sound", *settings()["hurt"]}
    assert set(reading_rows()) == set(CIRCUITS)
    for its in reading_rows().values():
        assert all(set(by_hurt) == hurts for by_hurt in its.values())
    for test in BOOK.tests:
        if test.reading:
            assert all(test.reading in reading_rows()[circuit] for circuit in measurable(test))


def test_every_hurt_belongs_to_a_fault() -> None:
    assert {each.hurt for each in BOOK.faults} - {None} == set(settings()["hurt"])


def test_the_shares_of_circuits_and_of_ways_are_shares() -> None:
    assert fsum(settings()["circuits"].values()) == pytest.approx(1)
    assert set(settings()["circuits"]) == set(dict(BOOK.facts)["circuit"])
    for hurt, its in settings()["hurt"].items():
        for circuit in CIRCUITS:
            met = [row["share"] for row in its if circuit in row.get("circuits", CIRCUITS)]
            assert 0 <= fsum(met) < 1, (hurt, circuit)


# ---------------------------------------------------------------- what the trade says of readings


def test_a_broken_lead_reads_open_with_an_end_element_and_as_good_without_one() -> None:
    assert seen("resistor", "operator", "lead_open")["open"] > 0.9
    assert seen("plain", "operator", "lead_open") == seen("plain", "operator", None)
    assert seen("plain", "operator_pressed", "lead_open")["no_change"] > 0.9, "press to know"


def test_the_edge_alone_clears_a_broken_lead_and_a_wet_edge_stays_wet() -> None:
    assert seen("resistor", "edge", "lead_open") == seen("resistor", "edge", None)
    assert seen("resistor", "edge", "wet_edge") == seen("resistor", "operator", "wet_edge")
    assert seen("resistor", "edge", "wet_box")["right"] > 0.9 > seen("resistor", "box", "wet_box")["right"]


def test_the_box_halves_the_way_of_a_broken_lead() -> None:
    at_box = seen("resistor", "box", "lead_open")
    assert 0.5 < at_box["open"] < seen("resistor", "operator", "lead_open")["open"]


def test_a_short_reads_near_zero_and_its_lamp_shows_pressed() -> None:
    assert seen("resistor", "operator", "lead_short")["zero"] > 0.9
    assert seen("resistor", "lamp", "lead_short")["pressed"] > 0.9
    assert seen("resistor", "lamp", "lead_open")["fault"] > 0.9
    assert seen("plain", "lamp", "lead_open")["rest"] > 0.9, "the operator does not see it"


def test_a_part_left_before_the_edge_reads_right_and_does_not_answer() -> None:
    assert seen("resistor", "operator", "part_left")["right"] > 0.5
    assert seen("resistor", "lamp", "part_left")["rest"] > 0.9
    assert seen("resistor", "lamp_pressed", "part_left")["no_change"] > 0.9


def test_a_cut_plain_edge_still_answers_on_its_near_side() -> None:
    found = seen("plain", "operator_pressed", "edge_cut")
    assert 0.3 < found["answers"] < 0.7
    assert seen("plain", "operator", "edge_cut") == seen("plain", "operator", None)


def test_a_lost_radio_link_shows_at_the_lamp_and_not_at_the_edge() -> None:
    assert seen("radio", "lamp", "no_link")["fault"] > 0.7
    assert seen("radio", "edge", "no_link") == seen("radio", "edge", None)


def test_four_wires_on_a_cord_of_two_read_open() -> None:
    assert seen("four_wire", "operator", "two_for_four")["open"] > 0.9


def test_a_fault_that_a_circuit_cannot_have_leaves_it_sound() -> None:
    assert seen("plain", "lamp", "no_link") == seen("plain", "lamp", None)
    assert seen("resistor", "box", "two_for_four") == seen("resistor", "box", None)


def test_how_often_a_wet_edge_reads_wet_follows_from_its_leak(verify: Any) -> None:
    """Below 7 kohm of 10 where the leak beside it is below 70/3 kohm; the leak is lognormal."""
    (row,) = settings()["hurt"]["wet_edge"]
    low, high = map(log, row["ohm"])
    spread = (high - low) / 2 / NormalDist().inv_cdf(0.9)
    leak = NormalDist((low + high) / 2, spread)
    wet = leak.cdf(log(70e3 / 3)) - leak.cdf(log(1 / (1 / 500 - 1 / 10e3)))
    expected = 0.98 * row["share"] * wet + MISREAD / 6
    # 48 even points are off by no more than one of them; the strips and the leads add under 1 % to the ohms
    got = seen("resistor", "operator", "wet_edge")["wet"]
    verify(
        "share of wet edges that read wet",
        got=got,
        expected=expected,
        within=1.5 / POINTS,
        source="parallel resistors and the normal distribution, closed form",
    )


# ---------------------------------------------------------------- computing


@pytest.mark.parametrize("reading", READINGS)
def test_a_sound_loop_is_misread_only(reading: str) -> None:
    row = shown(reading, typical("resistor"), None)
    assert row[0] == pytest.approx(1 - MISREAD + MISREAD / len(row))
    assert fsum(row) == pytest.approx(1)


def test_an_end_element_of_another_value_is_judged_by_its_own() -> None:
    loop = typical("resistor")
    european = replace(loop, end=EndElement(resistance=8.2e3))
    assert shown("edge", european, None)[0] > 0.95
    assert shown("edge", european, "wet_edge")[3] > 0.6


def test_the_same_question_has_the_same_answer() -> None:
    loop = typical("four_wire")
    assert shown("operator", loop, "joint") == shown("operator", loop, "joint")
    assert points(FEW) is points(FEW)


@pytest.mark.parametrize("count", [FEW, POINTS])
@pytest.mark.parametrize("name", ["ohm", "element", "press", "meter", "threshold"])
def test_points_are_spread_evenly(count: int, name: str) -> None:
    values = sorted(getattr(point, name) for point in points(count))
    assert values == pytest.approx([(at + 0.5) / count for at in range(count)])


def test_a_leak_is_spread_without_regard_to_everything_else() -> None:
    """In each quarter of one direction there is about a quarter of every other one."""
    for name in ("element", "press", "meter", "threshold"):
        low = [getattr(point, name) for point in points(POINTS) if point.ohm < 0.25]
        assert fmean(low) == pytest.approx(0.5, abs=0.12), name


@pytest.mark.parametrize(("reading", "hurt"), [("moon", None), ("operator", "moody"), ("box_pressed", None)])
def test_a_reading_or_a_hurt_that_is_not_there_is_refused(reading: str, hurt: str | None) -> None:
    with pytest.raises(UnknownName):
        shown(reading, typical("plain"), hurt)


def test_a_spread_has_its_middle_between_its_ends_and_eight_tenths_inside() -> None:
    way = Way(kind="wet", place="edge_middle", ohm=(1e3, 100e3))
    assert way.at(0.5).ohm == pytest.approx(10e3)
    assert way.at(0.1).ohm == pytest.approx(1e3)
    assert way.at(0.9).ohm == pytest.approx(100e3)


def test_values_one_by_one_are_each_as_likely() -> None:
    way = Way(kind="element_wrong", place="edge_far", one_of=(1e3, 2e3))
    assert [way.at(share).ohm for share in (0.0, 0.49, 0.5, 0.99)] == [1e3, 1e3, 2e3, 2e3]


def test_what_is_left_of_the_ways_is_a_sound_loop() -> None:
    found = ways(typical("resistor"), "joint")
    assert found[-1][0] == pytest.approx(0.4)
    assert found[-1][1] is None
    assert ways(typical("plain"), "no_link") == [(1.0, None)]


# A hand meter of 6000 counts, 1 % and 2 digits: common practice.
@pytest.mark.parametrize(
    ("ohm", "least", "most"), [(500.0, 493.0, 507.0), (10e3, 9880.0, 10120.0), (100e3, 98.8e3, 101.2e3)]
)
def test_a_meter_shows_a_percent_and_two_digits_more_or_less(ohm: float, least: float, most: float) -> None:
    assert [display(ohm, error) for error in (0, 0.5, 1)] == pytest.approx([least, ohm, most])


def test_a_meter_shows_open_as_open_and_nothing_below_zero() -> None:
    assert (display(inf, 0), display(0, 0), display(1, 0)) == (inf, 0, 0)


BANDS = [
    ("resistor", [10.4e3], "right"),
    ("resistor", [8e3], "damp"),
    ("resistor", [5e3], "wet"),
    ("resistor", [30.0], "zero"),
    ("resistor", [20e3], "high"),
    ("resistor", [inf], "open"),
    ("plain", [inf], "right"),
    ("plain", [2e6], "right"),
    ("plain", [200e3], "damp"),
    ("plain", [20e3], "wet"),
    ("plain", [100.0], "zero"),
    ("normally_closed", [60.0], "right"),
    ("normally_closed", [4e3], "high"),
    ("normally_closed", [inf], "open"),
    ("diode_capacitor", [1e3, inf], "right"),
    ("diode_capacitor", [inf, 1e3], "right"),
    ("diode_capacitor", [inf, inf], "open"),
    ("diode_capacitor", [10e3, inf], "high"),
    ("diode_capacitor", [100.0, 100.0], "zero"),
    ("diode_capacitor", [1e3, 8e3], "wet"),
    ("diode_capacitor", [1e3, 300e3], "damp"),
    ("four_wire", [inf, 60.0, 60.0], "right"),
    ("four_wire", [inf, 60.0, inf], "open"),
    ("four_wire", [inf, 3e3, 60.0], "high"),
    ("four_wire", [5e3, 60.0, 60.0], "wet"),
    ("four_wire", [100.0, 60.0, inf], "zero"),
]


@pytest.mark.parametrize(("circuit", "ohms", "outcome"), BANDS)
def test_a_reading_is_judged_by_its_circuit(circuit: Circuit, ohms: list[float], outcome: str) -> None:
    assert band(typical(circuit), ohms) == outcome


@pytest.mark.parametrize(
    ("circuit", "rest", "pressed", "outcome"),
    [
        ("resistor", 10e3, 130.0, "answers"),
        ("resistor", 10e3, 3e3, "weak"),
        ("resistor", 10e3, 10e3, "no_change"),
        ("resistor", 30.0, 25.0, "no_change"),
        ("plain", inf, inf, "no_change"),
        ("normally_closed", 60.0, inf, "answers"),
        ("normally_closed", 60.0, 4e3, "weak"),
        ("normally_closed", 60.0, 60.0, "no_change"),
        ("normally_closed", inf, inf, "no_change"),
    ],
)
def test_a_press_goes_down_and_up_where_a_contact_opens(
    circuit: Circuit, rest: float, pressed: float, outcome: str
) -> None:
    assert change(typical(circuit), rest, pressed) == outcome


# ---------------------------------------------------------------- circuits that are not known


def row_of(test: Step, fault: str, circuit: str | None) -> tuple[float, ...]:
    """The row of a fault in a test for a circuit."""
    return dict(rows(test, circuit, BOOK.faults)[1])[fault]


def test_an_unknown_circuit_is_a_mixture_between_the_known_ones() -> None:
    lamp = TESTS["input_lamp"]
    known = [row_of(lamp, "LEAD_OPEN", circuit)[2] for circuit in measurable(lamp)]
    assert min(known) < row_of(lamp, "LEAD_OPEN", None)[2] < max(known)


def test_a_fault_of_radio_edges_is_judged_by_radio_edges() -> None:
    lamp = TESTS["input_lamp"]
    assert row_of(lamp, "RADIO_BATT", None) == pytest.approx(row_of(lamp, "RADIO_BATT", "radio"), abs=0.02)


def test_a_meter_at_the_operator_tells_nothing_of_a_radio_or_a_converter() -> None:
    assert not {"radio", "pulse_two_wire", "pulse_three_wire"} & set(measurable(TESTS["ohms_operator"]))
    assert {"radio", "pulse_two_wire"} <= set(measurable(TESTS["ohms_edge"]))


@pytest.mark.parametrize("circuit", ["air", "optical", "none"])
def test_a_circuit_without_a_loop_changes_no_row(circuit: str) -> None:
    assert for_circuit(BOOK, circuit) == BOOK


def test_a_model_for_a_circuit_has_that_circuits_rows() -> None:
    (test,) = (each for each in for_circuit(BOOK, "resistor").tests if each.id == "ohms_operator")
    shipped = tuple(seen("resistor", "operator", "lead_open").values())
    assert dict(test.likelihood)["LEAD_OPEN"] == pytest.approx(shipped, abs=5e-4)
    assert test.otherwise == pytest.approx(tuple(seen("resistor", "operator", None).values()), abs=5e-4)


def test_a_fault_that_hurts_no_loop_has_no_row_of_a_meter() -> None:
    assert "EYE_ALIGN" not in dict(rows(TESTS["ohms_operator"], None, BOOK.faults)[1])


def test_the_circuit_of_a_call_is_what_the_complaint_says_or_one_fact() -> None:
    def told(symptom: str | None, *circuits: str) -> str | None:
        return circuit_of(BOOK, Call(symptom=symptom, facts=tuple(("circuit", each) for each in circuits)))

    assert told(None) is None
    assert told("CALL-01", "resistor") == "resistor"
    assert told("CALL-01", "resistor", "plain") is None, "told in two ways is not known"
    assert told("CALL-15", "resistor") == "radio"
    assert told("CALL-99", "plain") == "plain"
