"""What can be solved and what is refused, and the node voltages against closed forms and another way of solving."""

from __future__ import annotations

import random
from math import exp, inf, log, nan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.circuit.many import solve_many
from sillwright.circuit.netlist import GROUND, Capacitor, Diode, Netlist, Resistor, Source
from sillwright.circuit.solving import THERMAL, sensitivities, solve

from .nets import random_web

SUPPLY = Source("supply", "hot", GROUND, 5.0)
PULL_UP = Resistor("pull_up", "hot", "in", 10e3)
END = Resistor("end", "in", GROUND, 10e3)


def by_matrix(net: Netlist) -> dict[str, float]:
    """The same by a dense matrix with a row for each source's current; shares no code with the elimination."""
    nodes = sorted(net.names - {GROUND})
    place = {node: at for at, node in enumerate(nodes)}
    size = len(nodes) + len(net.sources)
    matrix, right = np.zeros((size, size)), np.zeros(size)
    for each in net.resistors:
        for node, sign in ((each.a, 1), (each.b, -1)):
            for far, other in ((each.a, 1), (each.b, -1)):
                if node != GROUND and far != GROUND:
                    matrix[place[node], place[far]] += sign * other / each.ohm
    for at, source in enumerate(net.sources, start=len(nodes)):
        right[at] = source.volt
        for node, sign in ((source.plus, 1), (source.minus, -1)):
            if node != GROUND:
                matrix[place[node], at] += sign
                matrix[at, place[node]] += sign
    found = np.linalg.solve(matrix, right)
    return {node: float(found[at]) for node, at in place.items()} | {GROUND: 0.0}


def test_a_divider_divides() -> None:
    assert solve(Netlist((PULL_UP, END), (SUPPLY,)))["in"] == 2.5


@pytest.mark.parametrize(("pull_up", "end", "volt"), [(10e3, 8.2e3, 2.25), (4.7e3, 10e3, 3.40), (10e3, 22e3, 3.44)])
def test_dividers_of_the_trade_come_out(pull_up: float, end: float, volt: float) -> None:
    parts = (Resistor("up", "hot", "in", pull_up), Resistor("end", "in", GROUND, end))
    assert solve(Netlist(parts, (SUPPLY,)))["in"] == pytest.approx(volt, abs=0.005)  # printed to 0.01 V


def test_a_ladder_of_equal_rungs_reaches_the_golden_ratio() -> None:
    """An endless ladder of 1 ohm rungs looks like (1 + √5) / 2 ohm from its end."""
    parts = [Resistor("up", "hot", "n0", 1.0)]
    for at in range(40):
        parts += [Resistor(f"s{at}", f"n{at}", f"n{at + 1}", 1.0), Resistor(f"r{at}", f"n{at + 1}", GROUND, 1.0)]
    golden = (1 + 5**0.5) / 2
    assert solve(Netlist(tuple(parts), (SUPPLY,)))["n0"] == pytest.approx(5 * golden / (1 + golden), rel=1e-14)


def test_no_digits_cancel_over_fifteen_orders_of_magnitude() -> None:
    """A leak of 1 Tohm behind wires of 1 mohm: the divider is known exactly."""
    parts = [Resistor("up", "hot", "n0", 10e3)]
    parts += [Resistor(f"w{at}", f"n{at}", f"n{at + 1}", 1e-3) for at in range(20)]
    parts.append(Resistor("leak", "n20", GROUND, 1e12))
    found = solve(Netlist(tuple(parts), (SUPPLY,)))["n0"]
    assert 5.0 - found == pytest.approx(5.0 * 1e4 / (1e12 + 1e4), rel=1e-6)


@given(st.integers(0, 10**6), st.integers(1, 9), st.integers(0, 12))
def test_elimination_agrees_with_a_dense_matrix(seed: int, nodes: int, more: int) -> None:
    net = random_web(random.Random(seed), nodes, more)  # noqa: S311 - test cases
    other = by_matrix(net)
    for node, volt in solve(net).items():
        assert volt == pytest.approx(other[node], rel=1e-9, abs=1e-9)


def test_floating_and_stacked_sources_are_solved() -> None:
    parts = (
        Resistor("r1", "a", GROUND, 100.0), Resistor("r2", "b", GROUND, 300.0), Resistor("r3", "top", "b", 50.0),
    )  # fmt: skip
    sources = (Source("one", "a", "b", 4.0), Source("two", "top", "a", 1.5))
    net = Netlist(parts, sources)
    other = by_matrix(net)
    assert solve(net) == pytest.approx(other, rel=1e-12)


def test_wires_without_resistance_join_their_nodes() -> None:
    parts = (PULL_UP, Resistor("wire", "in", "far", 0.0), Resistor("end", "far", GROUND, 10e3))
    found = solve(Netlist(parts, (SUPPLY,)))
    assert found["far"] == found["in"] == 2.5
    shorted = solve(Netlist((PULL_UP, Resistor("wire", "in", GROUND, 0.0), END), (SUPPLY,)))
    assert shorted["in"] == 0.0
    ring = (PULL_UP, END, Resistor("w1", "in", "x", 0.0), Resistor("w2", "x", "in", 0.0))
    assert solve(Netlist(ring, (SUPPLY,)))["x"] == 2.5


def test_a_charged_capacitor_is_an_open_place() -> None:
    net = Netlist(
        (PULL_UP, END, Resistor("r", "c", GROUND, 1e3)), (SUPPLY,), (), (Capacitor("c1", "in", "c", 1e-6),)
    )
    assert solve(net)["in"] == 2.5
    assert solve(net)["c"] == 0.0


@pytest.mark.parametrize("pull_up", [10.0, 1e3, 1e5, 1e9])
@pytest.mark.parametrize("supply", [0.3, 5.0, 24.0])
def test_a_diode_keeps_its_law_down_to_round_off(pull_up: float, supply: float) -> None:
    net = Netlist(
        (Resistor("up", "hot", "in", pull_up),), (Source("s", "hot", GROUND, supply),), (Diode("d", "in", GROUND),)
    )
    volt = solve(net)["in"]
    through = 2.52e-9 * (exp(volt / (1.752 * THERMAL)) - 1)
    assert through == pytest.approx((supply - volt) / pull_up, rel=1e-9)


def test_a_diode_the_other_way_passes_its_saturation_current() -> None:
    net = Netlist((Resistor("up", "hot", "in", 1e6),), (SUPPLY,), (Diode("d", GROUND, "in"),))
    assert 5.0 - solve(net)["in"] == pytest.approx(2.52e-9 * 1e6, rel=1e-9)


def test_two_diodes_in_series_share_the_voltage() -> None:
    parts = (Resistor("up", "hot", "in", 1e3),)
    net = Netlist(parts, (SUPPLY,), (Diode("d1", "in", "mid"), Diode("d2", "mid", GROUND)))
    found = solve(net)
    assert found["mid"] == pytest.approx(found["in"] / 2, rel=1e-12)
    assert found["in"] == pytest.approx(2 * 1.752 * THERMAL * log((5 - found["in"]) / 1e3 / 2.52e-9 + 1), rel=1e-9)


def test_a_diode_with_both_ends_on_one_wire_does_nothing() -> None:
    parts = (PULL_UP, END, Resistor("w", "in", "x", 0.0))
    assert solve(Netlist(parts, (SUPPLY,), (Diode("d", "in", "x"),)))["in"] == 2.5


def test_sensitivities_are_those_of_small_changes() -> None:
    net = random_web(random.Random(5), 7, 9)  # noqa: S311 - test cases
    found = sensitivities(net, "n3")
    for at, each in enumerate(net.resistors):
        volts = []
        for factor in (1 - 1e-5, 1 + 1e-5):
            parts = list(net.resistors)
            parts[at] = Resistor(each.name, each.a, each.b, each.ohm * factor)
            volts.append(solve(Netlist(tuple(parts), net.sources))["n3"])
        assert found[each.name] == pytest.approx((volts[1] - volts[0]) / 2e-5, rel=1e-5, abs=1e-8)


def test_sensitivities_of_a_node_on_the_source_are_nothing() -> None:
    assert set(sensitivities(Netlist((PULL_UP, END), (SUPPLY,)), "hot").values()) == {0.0}


def test_side_by_side_gives_what_one_by_one_gives() -> None:
    parts = (PULL_UP, Resistor("w", "in", "x", 0.0), Resistor("r", "x", "y", 1e3))
    net = Netlist(parts, (SUPPLY,), (Diode("d", "y", GROUND), Diode("back", GROUND, "y")))
    ups = np.array([0.5, 1.0, 2.0, 100.0])
    volts = np.array([0.1, 1.0, 3.0, 4.0])
    found = solve_many(net, "in", {"pull_up": ups, "supply": volts}, 4)
    for at in range(4):
        one = (Resistor("pull_up", "hot", "in", 10e3 * ups[at]), *parts[1:])
        alone = Netlist(one, (Source("supply", "hot", GROUND, 5.0 * volts[at]),), net.diodes)
        assert found[at] == pytest.approx(solve(alone)["in"], rel=1e-10)


REFUSED = [
    ((PULL_UP,), (SUPPLY, Source("second", "lost", GROUND, 1.0)), "second: nothing hangs on its end lost"),
    ((PULL_UP, END, Resistor("r", "x", "y", 1.0)), (SUPPLY,), "node x: nothing ties it to node 0"),
    ((PULL_UP, END, Resistor("r", "x", "y", 1.0)), (SUPPLY, Source("s2", "x", "y", 1.0)), "node x: nothing ties"),
    ((PULL_UP, END, Resistor("w", "hot", GROUND, 0.0)), (SUPPLY,), "lie across a source"),
    (
        (PULL_UP, END),
        (SUPPLY, Source("s2", "hot", GROUND, 4.0)),
        "s2: wires without resistance lie across a source",
    ),
    ((PULL_UP, Resistor("pull_up", "in", GROUND, 1.0)), (SUPPLY,), "pull_up: two parts have this name"),
    ((PULL_UP, Resistor("end", "in", GROUND, -1.0)), (SUPPLY,), "end: -1 ohm"),
    ((PULL_UP, Resistor("end", "in", GROUND, nan)), (SUPPLY,), "end: nan ohm"),
    ((PULL_UP, Resistor("end", "in", GROUND, inf)), (SUPPLY,), "end: inf ohm"),
    ((PULL_UP, Resistor("end", "in", GROUND, 1.0, 1.0)), (SUPPLY,), "end: 1 ohm ± 1"),
    ((PULL_UP, Resistor("end", "in", GROUND, 1.0, nan)), (SUPPLY,), "end: 1 ohm ± nan"),
    ((PULL_UP, END), (Source("supply", "hot", GROUND, inf),), "supply: inf V"),
]


@pytest.mark.parametrize(("resistors", "sources", "said"), REFUSED)
def test_what_cannot_be_solved_is_refused_with_place_and_remedy(
    resistors: tuple[Resistor, ...], sources: tuple[Source, ...], said: str
) -> None:
    with pytest.raises(OutOfRange, match=said):
        Netlist(resistors, sources)


def test_diodes_and_capacitors_of_no_kind_are_refused() -> None:
    with pytest.raises(OutOfRange, match="d: a saturation current"):
        Netlist((PULL_UP, END), (SUPPLY,), (Diode("d", "in", GROUND, saturation=0.0),))
    with pytest.raises(OutOfRange, match="c: a capacitance"):
        Netlist((PULL_UP, END), (SUPPLY,), (), (Capacitor("c", "in", GROUND, nan),))


def test_a_node_that_is_not_there_is_refused_and_the_others_are_named() -> None:
    with pytest.raises(OutOfRange, match="node out: not in this circuit; one of 0, hot, in is"):
        Netlist((PULL_UP, END), (SUPPLY,)).place("out")


def test_a_current_that_does_not_settle_is_said_with_the_names_of_the_diodes(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    net = Netlist((PULL_UP,), (SUPPLY,), (Diode("one", "in", "mid"), Diode("two", "mid", GROUND)))
    monkeypatch.setattr("sillwright.circuit.solving.STEPS", 2)
    with pytest.raises(OutOfRange, match="one, two: the current does not settle"):
        solve(net)
    monkeypatch.setattr("sillwright.circuit.many.STEPS", 2)
    with pytest.raises(OutOfRange, match="one, two: the current does not settle"):
        solve_many(net, "in", {"pull_up": np.ones(3)}, 3)


def test_a_diode_that_a_step_threw_far_back_comes_forward_again() -> None:
    """Between a negative and a positive rail Newton's steps go past zero on the way."""
    parts = (
        Resistor("up", "hot", "in", 10.0),
        Resistor("down", "low", "out", 10.0),
        Resistor("r", "out", GROUND, 1e6),
    )
    sources = (SUPPLY, Source("minus", "low", GROUND, -24.0))
    net = Netlist(parts, sources, (Diode("d", "in", "out"), Diode("back", "out", "in")))
    found = solve(net)
    over = found["in"] - found["out"]
    forward = 2.52e-9 * (exp(over / (1.752 * THERMAL)) - 1)
    assert forward == pytest.approx((5 - found["in"]) / 10, rel=1e-6)
