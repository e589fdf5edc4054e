"""The margin of a loop on its input: the trade's table of voltages, the worst case, and what uses it up."""

from __future__ import annotations

from dataclasses import replace
from math import isfinite
from typing import Any

import pytest

from sillwright.base.calculation import as_json
from sillwright.base.errors import OutOfRange
from sillwright.circuit import MarginCase, MarginResult, margin
from sillwright.circuit.circuits import netlists
from sillwright.circuit.loops import reads, typical, voltage
from sillwright.circuit.margin_model import StateName
from sillwright.circuit.model import Circuit, EndElement, Hurt, Loop, Press, State, Threshold
from sillwright.circuit.typical import threshold

from ..verification import Verify
from .by_ngspice import ngspice
from .nets import CIRCUITS

TABLE = "trade table of input voltages, thresholds at 25 % and 75 % of the supply (computed)"
# Supply, pull-up, end; volts at rest and with 500 ohm alone; loop below which it reads pressed, above which open;
# leak beside the end and joint that trip. As printed: two decimals of a volt, two or three figures of an ohm.
ROWS = [
    (5.0, 10e3, 10e3, 2.50, 0.24, 3.3e3, 30e3, 5.0e3, 20e3),
    (5.0, 4.7e3, 10e3, 3.40, 0.48, 1.57e3, 14.1e3, 1.86e3, 4.1e3),
    (12.0, 4.7e3, 10e3, 8.16, 1.15, 1.57e3, 14.1e3, 1.86e3, 4.1e3),
    (24.0, 10e3, 10e3, 12.0, 1.14, 3.3e3, 30e3, 5.0e3, 20e3),
    (5.0, 10e3, 8.2e3, 2.25, 0.24, 3.3e3, 30e3, 5.6e3, 21.8e3),
    (24.0, 8.2e3, 8.2e3, 12.0, 1.38, 2.7e3, 24.6e3, 4.1e3, 16.4e3),
    (5.0, 10e3, 22e3, 3.44, 0.24, 3.3e3, 30e3, 3.9e3, 8.0e3),
]
NAMES = [f"{row[0]:g} V, {row[1] / 1e3:g} k, {row[2] / 1e3:g} k" for row in ROWS]


def bare(supply: float, pull_up: float, end: float, circuit: Circuit = "resistor") -> Loop:
    """A loop whose wires and strips resist nothing, as tables take them."""
    loop = typical(circuit)
    return replace(
        loop,
        input=replace(
            loop.input,
            supply=supply,
            pull_up=pull_up,
            pressed=threshold(supply, 0.25, 0.02),
            open=threshold(supply, 0.75, 0.02),
        ),
        lead=replace(loop.lead, length=0.0),
        cord=replace(loop.cord, length=0.0),
        strips=replace(loop.strips, strip_resistance=0.0, contact=500.0, insulation=1e12),
        end=EndElement(resistance=end),
    )


def found(loop: Loop, **changed: Any) -> MarginResult:
    return margin(MarginCase(loop=loop, **{"samples": 100, **changed}))


def row_of(result: MarginResult, state: StateName, probe: int = 1) -> Any:
    return next(each for each in result.states if (each.state, each.probe) == (state, probe))


@pytest.mark.parametrize("row", ROWS, ids=NAMES)
def test_every_row_of_the_trades_table(row: tuple[float, ...], verify: Verify) -> None:
    supply, pull_up, end, rest, pressed, low, high, leak, joint = row
    result, name = found(bare(supply, pull_up, end)), f"{supply:g} V, {pull_up / 1e3:g} k, {end / 1e3:g} k"
    told = [
        ("at rest", row_of(result, "rest").voltage, rest, 0.005, False),
        ("reads pressed below", result.total_pressed, low, 0.02, True),
        ("reads open above", result.total_open, high, 0.02, True),
        ("leak that trips", result.leak_trips, leak, 0.02, True),
        ("joint that trips", result.joint_trips, joint, 0.02, True),
    ]
    for what, got, expected, within, relative in told:
        verify(f"{name}: {what}", got=got, expected=expected, within=within, relative=relative, source=TABLE)
    # The table takes the 500 ohm alone; the end beside them lowers it by a few per cent.
    alone = voltage(replace(bare(supply, pull_up, end), circuit="plain", end=None), State(press=Press(at=1.0)))
    assert isinstance(alone, float)
    verify(f"{name}: pressed", got=alone, expected=pressed, within=0.005, relative=False, source=TABLE)
    assert 0.93 * alone < row_of(result, "pressed_far").voltage < alone


@pytest.mark.parametrize(
    ("leak", "total", "volt"), [(100e3, 9.1e3, 2.38), (30e3, 7.5e3, 2.14), (10e3, 5.0e3, 1.67), (4e3, 2.9e3, 1.11)]
)
def test_a_wet_edge_on_5_volts(leak: float, total: float, volt: float, verify: Verify) -> None:
    result = found(bare(5.0, 10e3, 10e3), wet=leak)
    verify(f"wet edge of {leak / 1e3:g} k: voltage", got=row_of(result, "wet").voltage, expected=volt, within=0.005,
           relative=False, source=TABLE)  # fmt: skip
    assert 1 / (1 / leak + 1 / 10e3) == pytest.approx(total, rel=0.02)
    assert row_of(result, "wet").reads == ("pressed" if leak == 4e3 else "rest")


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_a_typical_loop_of_each_kind_works_with_all_parts_at_their_worst(circuit: Circuit) -> None:
    result = found(typical(circuit))
    assert result.works
    assert result.margin > 0
    assert result.case.loop.circuit == circuit
    assert result.longest_lead is not None
    assert result.longest_lead > 150 * 0.3048  # lead resistance is never the fault
    for each in result.states:
        assert each.least_voltage - 1e-9 <= each.voltage_p5 <= each.voltage_p50 <= each.voltage_p95
        assert each.voltage_p95 <= each.greatest_voltage + 1e-9
        assert each.wanted is None or each.reads == each.reads_worst == each.wanted
        assert each.misread_share in {None, 0.0}
        assert each.certified or circuit == "diode_capacitor"
    as_json(result)


@pytest.mark.parametrize("circuit", ["resistor", "four_wire", "diode_capacitor", "pulse_three_wire"])
def test_the_nominal_voltages_are_the_simulators(circuit: Circuit) -> None:
    loop = typical(circuit)
    for state in (State(), State(press=Press(at=0.0)), State(press=Press(at=1.0))):
        nets = list(netlists(loop, state))
        others = ngspice(nets, [["in"]] * len(nets))
        if state == State():
            result = found(loop)
            for probe, other in enumerate(others, start=1):
                assert row_of(result, "rest", probe).voltage == pytest.approx(other["in"], rel=1e-6)


def test_the_worst_case_of_a_bare_divider_is_the_one_by_hand() -> None:
    loop = replace(bare(5.0, 10e3, 10e3), end=EndElement(resistance=10e3, tolerance=0.05))
    rest = row_of(found(loop, insulation_tolerance=0.0), "rest")
    assert rest.greatest_voltage == pytest.approx(5.25 * 10.5 / (10.5 + 9.5), rel=1e-6)
    assert rest.least_voltage == pytest.approx(4.75 * 9.5 / (9.5 + 10.5), rel=1e-6)
    assert rest.to_pressed == pytest.approx(rest.least_voltage - 1.35)
    assert rest.to_open == pytest.approx(3.65 - rest.greatest_voltage)
    assert rest.margin == pytest.approx(min(rest.to_pressed, rest.to_open))


def test_the_first_that_trips_does_so_before_a_typical_one_and_is_found_by_its_own_worst_case() -> None:
    result = found(typical("resistor"))
    assert result.leak_trips is not None
    assert result.leak_trips_first is not None
    assert result.joint_trips is not None
    assert result.joint_trips_first is not None
    assert result.leak_trips_first > result.leak_trips
    assert result.joint_trips_first < result.joint_trips
    at_leak = State(hurts=(Hurt(kind="wet", place="edge_far", ohm=result.leak_trips),))
    assert voltage(typical("resistor"), at_leak) == pytest.approx(1.25, abs=1e-6)
    at_joint = State(hurts=(Hurt(kind="joint", place="cord", ohm=result.joint_trips),))
    assert voltage(typical("resistor"), at_joint) == pytest.approx(3.75, abs=1e-6)


def test_a_joint_hides_a_press_long_before_it_is_seen_on_a_plain_loop() -> None:
    result = found(typical("plain"))
    assert result.joint_trips is None
    assert result.joint_hides is not None
    hidden = State(hurts=(Hurt(kind="joint", ohm=result.joint_hides * 1.1),), press=Press(at=1.0))
    assert reads(typical("plain"), hidden) in {"rest", "between"}
    assert row_of(result, "open_far").wanted is None


def test_a_leak_hides_the_press_of_a_contact_that_opens() -> None:
    result = found(typical("normally_closed"))
    assert result.leak_hides == pytest.approx(10e3, rel=1e-3)
    assert result.leak_trips is None
    assert result.total_pressed is None


def test_the_longest_lead_is_where_the_margin_ends() -> None:
    loop = typical("resistor")
    thin = replace(loop, lead=replace(loop.lead, gauge=40.0))
    thin = replace(thin, strips=replace(thin.strips, contact=2000.0), end=EndElement(resistance=12e3))
    result = found(thin)
    assert result.longest_lead is not None
    for share, works in ((0.995, True), (1.005, False)):
        lead = replace(thin.lead, length=share * result.longest_lead)
        assert found(replace(thin, lead=lead)).works is works


def test_a_lead_that_resists_next_to_nothing_is_only_bounded_by_what_is_tried() -> None:
    loop = typical("pulse_two_wire")
    loud = replace(loop, input=replace(loop.input, pressed=Threshold(least_voltage=9.0, greatest_voltage=9.1)))
    fat = replace(loud, lead=replace(loud.lead, gauge=4.0))
    result = found(fat)
    assert result.longest_lead is not None
    assert result.longest_lead > 1000


def test_a_loop_that_does_not_work_says_so_and_no_lead_does() -> None:
    poor = bare(5.0, 4.7e3, 10e3)
    result = found(poor)
    assert not result.works
    assert result.margin < 0
    assert result.deciding_state == "rest"
    assert result.longest_lead is None
    assert row_of(result, "rest").reads == "rest"
    assert row_of(result, "rest").reads_worst == "between"
    assert result.joint_trips_first == 0.0


def test_the_weakest_part_is_the_one_that_gives_most_margin_back_when_exact() -> None:
    loop = typical("resistor")
    result = found(loop)
    assert result.weakest == "supply"
    exact = replace(loop, input=replace(loop.input, supply_tolerance=0.0))
    assert found(exact).margin - result.margin == pytest.approx(result.parts[0].costs, rel=0.35)
    sloppy = replace(loop, end=EndElement(resistance=10e3, tolerance=0.3))
    assert found(sloppy).weakest == "end_element"


def test_without_tolerances_nothing_is_weak_and_the_extremes_are_the_nominal() -> None:
    loop = typical("resistor")
    exact = replace(
        loop,
        input=replace(loop.input, supply_tolerance=0.0, pull_up_tolerance=0.0),
        end=EndElement(resistance=10e3, tolerance=0.0),
    )
    none = dict.fromkeys(("wire_tolerance", "strip_tolerance", "contact_tolerance", "insulation_tolerance"), 0.0)
    result = found(exact, **none)
    assert result.weakest is None
    assert result.parts == ()
    for each in result.states:
        assert each.least_voltage == pytest.approx(each.greatest_voltage, rel=1e-12)


def test_hysteresis_takes_of_the_margin_of_coming_back_to_rest() -> None:
    loop = typical("resistor")
    slow = replace(loop, input=replace(loop.input, hysteresis=0.2))
    assert found(slow).margin == pytest.approx(found(loop).margin - 0.2)
    assert row_of(found(slow), "pressed_far").margin == pytest.approx(row_of(found(loop), "pressed_far").margin)


def test_a_share_of_random_loops_misreads_where_the_margin_is_gone() -> None:
    result = found(bare(5.0, 4.7e3, 14e3), samples=5000)
    share = row_of(result, "rest").misread_share
    assert 0.3 < share < 1.0
    assert result == found(bare(5.0, 4.7e3, 14e3), samples=5000)
    assert row_of(found(bare(5.0, 4.7e3, 14e3), samples=5000, seed=2), "rest").misread_share != share


def test_with_a_converter_leak_and_joint_are_those_of_the_edges_own_loop() -> None:
    result = found(typical("radio"))
    assert result.leak_trips == pytest.approx(5e3, rel=0.03)
    assert any("typical one" in each for each in result.assumptions)
    assert row_of(result, "open_far").wanted == "open"
    assert row_of(found(typical("pulse_two_wire")), "open_far", 2).wanted == "pressed"


def test_a_diode_is_judged_from_both_sides_and_its_extremes_are_not_claimed() -> None:
    result = found(typical("diode_capacitor"))
    assert (row_of(result, "rest", 1).voltage, row_of(result, "rest", 2).voltage) == pytest.approx(
        (0.57, 5.0), abs=0.01
    )
    assert result.total_open is None
    assert any("not proven" in each for each in result.assumptions)
    assert any("5000 random loops" in each for each in found(typical("diode_capacitor"), samples=6000).assumptions)


@pytest.mark.parametrize(
    ("low", "high"), [((1.0, 3.8), (3.7, 4.0)), ((2.0, 1.0), (3.0, 4.0)), ((1.0, 2.0), (4.0, 3.0))]
)
def test_thresholds_that_overlap_or_stand_on_their_heads_are_refused(
    low: tuple[float, float], high: tuple[float, float]
) -> None:
    loop = typical("resistor")
    low_one, high_one = (Threshold(least_voltage=each[0], greatest_voltage=each[1]) for each in (low, high))
    with pytest.raises(OutOfRange, match=r"overlap|swap them"):
        MarginCase(loop=replace(loop, input=replace(loop.input, pressed=low_one, open=high_one)))


@pytest.mark.parametrize(
    "changed",
    [
        {"samples": 0},
        {"samples": 10**9},
        {"wet": 0.0},
        {"wet": float("nan")},
        {"strip_tolerance": 1.0},
        {"seed": -1},
    ],
)
def test_a_case_out_of_range_is_refused(changed: dict[str, Any]) -> None:
    with pytest.raises(OutOfRange):
        MarginCase(loop=typical("resistor"), **changed)


@pytest.mark.parametrize("supply", [0.01, 60.0])
@pytest.mark.parametrize("pull_up", [1e-3, 1e7])
@pytest.mark.parametrize("circuit", CIRCUITS)
def test_the_farthest_values_still_give_finite_numbers(circuit: Circuit, supply: float, pull_up: float) -> None:
    loop = typical(circuit)
    given = replace(loop.input, supply=supply, pull_up=pull_up, supply_tolerance=0.5, pull_up_tolerance=0.5)
    lead, cord = replace(loop.lead, gauge=40.0, length=1000.0), replace(loop.cord, length=0.0)
    result = found(replace(loop, input=given, devices=3, joined="parallel", lead=lead, cord=cord))
    assert isfinite(result.margin)
    as_json(result)


def test_a_resistor_loop_on_an_input_that_tells_no_open_is_a_plain_contact() -> None:
    loop = typical("resistor")
    assert margin(MarginCase(loop=loop, samples=100)).sees_break is True
    contact = replace(loop, input=replace(loop.input, open=None))
    found = margin(MarginCase(loop=contact, samples=100))
    assert (found.works, found.sees_break) == (True, False)
    assert margin(MarginCase(loop=typical("plain"), samples=100)).sees_break is False


def test_two_elements_side_by_side_hide_a_break_and_no_lead_mends_that() -> None:
    found = margin(MarginCase(loop=replace(typical("resistor"), devices=2, joined="parallel"), samples=100))
    assert (found.works, found.sees_break, found.longest_lead) == (False, False, None)


def test_of_a_diode_loop_nothing_is_called_proven() -> None:
    assert margin(MarginCase(loop=typical("diode_capacitor"), samples=100)).certified is False
    assert margin(MarginCase(loop=typical("resistor"), samples=100)).certified is True
