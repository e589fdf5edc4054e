"""The compiled divider against the plain solution, sample by sample."""

from __future__ import annotations

import random
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.circuit import kernel, sampling
from sillwright.circuit.netlist import GROUND, Diode, Netlist, Resistor, Source
from sillwright.circuit.sampling import program, ratios, sample
from sillwright.circuit.solving import solve
from sillwright.circuit.worst import at_corner, worst

from .nets import CIRCUITS, SPREAD, every_netlist, random_web


def plain_ratios(net: Netlist, laid: sampling.Program, ohms: np.ndarray, node: str) -> list[float]:
    """The same by the plain solution of a netlist for each column."""
    found = []
    for column in ohms.T:
        values = {edge[0]: float(ohm) for edge, ohm in zip(laid.edges, column, strict=True)}
        parts = tuple(
            Resistor(each.name, each.a, each.b, values.get(each.name, each.ohm)) for each in net.resistors
        )
        found.append(solve(Netlist(parts, (Source("one", net.sources[0].plus, GROUND, 1.0),)))[node])
    return found


@given(st.integers(0, 10**6), st.integers(1, 9), st.integers(0, 12))
def test_the_kernel_solves_any_web_as_the_plain_way_does(seed: int, nodes: int, more: int) -> None:
    dice = random.Random(seed)  # noqa: S311 - test cases
    net = random_web(dice, nodes, more)
    node = f"n{dice.randrange(nodes)}"
    laid = program(net, node)
    assert laid is not None
    ohms = np.array([[edge[3] * dice.uniform(0.2, 3) for _ in range(3)] for edge in laid.edges])
    np.testing.assert_allclose(ratios(laid, ohms), plain_ratios(net, laid, ohms, node), rtol=1e-9)


@pytest.mark.parametrize("circuit", [each for each in CIRCUITS if each != "diode_capacitor"])
def test_every_loop_in_every_state_is_laid_out_and_solved(circuit: str) -> None:
    dice = np.random.default_rng(3)
    for state, net in every_netlist(circuit, SPREAD)[::9]:  # type: ignore[arg-type]
        laid = program(net, "in")
        assert laid is not None
        assert laid.width <= 4, state
        ohms = np.array([[edge[3]] for edge in laid.edges]) * dice.uniform(0.5, 2, (len(laid.edges), 2))
        np.testing.assert_allclose(ratios(laid, ohms), plain_ratios(net, laid, ohms, "in"), rtol=1e-9)


@pytest.mark.parametrize("count", [1, 63, 64, 65, 1000])
def test_a_loop_comes_out_the_same_in_every_company(count: int) -> None:
    net = next(net for _, net in every_netlist("resistor", SPREAD))
    laid = program(net, "in")
    assert laid is not None
    ohms = np.array([[edge[3]] for edge in laid.edges]) * np.ones((1, count))
    np.testing.assert_array_equal(ratios(laid, ohms), np.full(count, ratios(laid, ohms[:, :1])[0]))


def test_the_same_seed_gives_the_same_loops_and_another_others() -> None:
    net = next(net for _, net in every_netlist("resistor", SPREAD))
    np.testing.assert_array_equal(sample(net, "in", 300, 7), sample(net, "in", 300, 7))
    assert not np.array_equal(sample(net, "in", 300, 7), sample(net, "in", 300, 8))


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_samples_lie_within_the_worst_case_and_around_the_nominal(circuit: str) -> None:
    for state, net in every_netlist(circuit, SPREAD)[:10]:  # type: ignore[arg-type]
        found, volts = worst(net, "in"), sample(net, "in", 400, 1)
        assert found.least - 1e-9 <= float(volts.min()), state
        assert float(volts.max()) <= found.greatest + 1e-9, state


def test_loops_with_a_diode_are_sampled_as_they_are_solved() -> None:
    net = next(net for _, net in every_netlist("diode_capacitor", SPREAD))
    assert net.diodes
    volts = sample(net, "in", 20, 5)
    factors = sampling._factors(net, 20, np.random.default_rng(5))
    for at in range(20):
        corner = {name: float(each[at]) for name, each in factors.items()}
        assert volts[at] == pytest.approx(solve(at_corner(net, corner))["in"], rel=1e-9)


def test_a_node_on_the_supply_and_a_circuit_of_two_sources_go_without_the_kernel() -> None:
    parts = (Resistor("a", "p", "x", 1e3, 0.1), Resistor("b", "q", "x", 2e3), Resistor("c", "x", GROUND, 1e3))
    two = Netlist(parts, (Source("one", "p", GROUND, 5.0, 0.1), Source("two", "q", GROUND, 3.0)))
    assert program(two, "x") is None
    assert np.std(sample(two, "x", 100, 1)) > 0
    one = Netlist(parts[:1] + parts[2:], (Source("one", "p", GROUND, 5.0, 0.1),))
    assert program(one, "p") is None
    assert 4.5 <= sample(one, "p", 50, 1).min() < sample(one, "p", 50, 1).max() <= 5.5


def test_the_plain_loop_of_the_kernel_is_what_is_compiled() -> None:
    net = next(net for _, net in every_netlist("resistor", SPREAD))
    laid = program(net, "in")
    assert laid is not None
    ohms = np.array([[edge[3]] * 3 for edge in laid.edges])
    out = np.empty(3)
    plain: Any = kernel.batch
    plain(1 / ohms, laid.ends, laid.nodes, laid.width, out)
    np.testing.assert_allclose(out, ratios(laid, ohms), rtol=1e-13)


def test_diodes_that_do_nothing_keep_the_samples_of_the_divider() -> None:
    parts = (Resistor("up", "hot", "in", 1e4, 0.1), Resistor("end", "in", GROUND, 1e4, 0.1))
    net = Netlist(parts, (Source("s", "hot", GROUND, 5.0),), (Diode("d", "in", "in2"), Diode("e", GROUND, "in2")))
    assert abs(float(np.median(sample(net, "in", 200, 1))) - 2.5) < 0.1
