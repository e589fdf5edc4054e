"""The extremes over all tolerances: against trying every corner, against samples, and where nothing is claimed."""

from __future__ import annotations

import random
from itertools import product

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.circuit.netlist import GROUND, Capacitor, Diode, Netlist, Resistor, Source
from sillwright.circuit.signs import directions
from sillwright.circuit.solving import sensitivities, solve
from sillwright.circuit.worst import at_corner, worst

from .nets import CIRCUITS, SPREAD, every_netlist, random_web


def by_enumeration(net: Netlist, node: str) -> tuple[float, float]:
    """Every corner of the box; shares nothing with the directions."""
    parts = net.tolerances.items()
    volts = []
    for ways in product((-1, 1), repeat=len(parts)):
        corner = {name: 1 + way * each for (name, each), way in zip(parts, ways, strict=True)}
        volts.append(solve(at_corner(net, corner))[node])
    return min(volts), max(volts)


@given(st.integers(0, 10**6), st.integers(1, 5), st.integers(0, 4))
def test_the_extremes_are_those_of_all_corners(seed: int, nodes: int, more: int) -> None:
    dice = random.Random(seed)  # noqa: S311 - test cases
    net = random_web(dice, nodes, more)
    node = f"n{dice.randrange(nodes)}"
    found = worst(net, node)
    assert found.certified
    assert (found.least, found.greatest) == pytest.approx(by_enumeration(net, node), rel=1e-9, abs=1e-12)


@given(st.integers(0, 10**6), st.integers(2, 8), st.integers(0, 10))
def test_no_random_loop_leaves_the_extremes(seed: int, nodes: int, more: int) -> None:
    dice = random.Random(seed)  # noqa: S311 - test cases
    net = random_web(dice, nodes, more, tolerance=0.9)
    found = worst(net, "n0")
    assert at_corner(net, found.least_at).resistors is not None
    assert solve(at_corner(net, found.least_at))["n0"] == pytest.approx(found.least, rel=1e-9, abs=1e-12)
    for _ in range(10 * found.certified):
        inside = {name: 1 + each * dice.uniform(-1, 1) for name, each in net.tolerances.items()}
        assert found.least - 1e-9 <= solve(at_corner(net, inside))["n0"] <= found.greatest + 1e-9


@given(st.integers(0, 10**6), st.integers(2, 7), st.integers(0, 10))
def test_a_direction_that_is_claimed_holds_anywhere_in_the_box(seed: int, nodes: int, more: int) -> None:
    dice = random.Random(seed)  # noqa: S311 - test cases
    net = random_web(dice, nodes, more, tolerance=0.8)
    if net.sources[0].volt <= 0:
        return
    found = directions(net, "n1")
    assert found is not None
    for _ in range(4):
        inside = {each.name: 1 + each.tolerance * dice.uniform(-1, 1) for each in net.resistors}
        moved = sensitivities(at_corner(net, inside), "n1")
        for name, sign in found.sign.items():
            assert sign * moved[name] >= -1e-12
            assert sign != 0 or abs(moved[name]) < 1e-9


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_every_loop_in_every_state_has_exact_extremes_unless_a_diode_is_in_it(circuit: str) -> None:
    for state, net in every_netlist(circuit, SPREAD)[::7]:  # type: ignore[arg-type]
        found = worst(net, "in")
        assert found.certified == (not net.diodes and not net.capacitors), state
        assert found.least <= solve(net)["in"] * (1 + 1e-12) + 1e-15
        assert solve(net)["in"] <= found.greatest * (1 + 1e-12) + 1e-15


def test_a_hundred_thousand_samples_see_far_less_than_the_worst_case() -> None:
    """Samples are no substitute: the corner is where all parts conspire."""
    from sillwright.circuit.sampling import sample

    net = next(net for _, net in every_netlist("resistor", SPREAD))
    found, seen = worst(net, "in"), sample(net, "in", 100_000, 1)
    assert found.least < float(np.min(seen)) - 0.003
    assert found.greatest > float(np.max(seen)) + 0.003


def test_the_balance_of_a_bridge_is_uncertain_and_both_ends_are_tried() -> None:
    parts = (
        Resistor("a", "hot", "left", 1e3, 0.1), Resistor("b", "left", GROUND, 1e3, 0.1),
        Resistor("c", "hot", "right", 1e3, 0.1), Resistor("d", "right", GROUND, 1e3, 0.1),
        Resistor("bridge", "left", "right", 500.0, 0.5),
    )  # fmt: skip
    net = Netlist(parts, (Source("supply", "hot", GROUND, 10.0, 0.05),))
    found = directions(net, "left")
    assert found is not None
    assert found.uncertain == ["bridge"]
    extremes = worst(net, "left")
    assert extremes.certified
    assert (extremes.least, extremes.greatest) == pytest.approx(by_enumeration(net, "left"), rel=1e-12)


def test_several_sources_are_tried_at_every_corner_while_there_are_few_and_not_claimed_after() -> None:
    few = Netlist(
        (
            Resistor("a", "p", "x", 1e3, 0.1),
            Resistor("b", "q", "x", 2e3, 0.1),
            Resistor("c", "x", GROUND, 1e3, 0.1),
        ),
        (Source("one", "p", GROUND, 5.0, 0.1), Source("two", "q", GROUND, -3.0, 0.1)),
    )
    found = worst(few, "x")
    assert found.certified
    assert (found.least, found.greatest) == pytest.approx(by_enumeration(few, "x"), rel=1e-12)
    chain = [Resistor(f"r{at}", f"n{at}", f"n{at + 1}", 100.0, 0.1) for at in range(12)]
    many = Netlist(
        (*few.resistors, Resistor("j", "x", "n0", 10.0, 0.1), *chain, Resistor("e", "n12", GROUND, 1e3, 0.1)),
        few.sources,
    )
    unsure = worst(many, "x")
    assert not unsure.certified
    assert unsure.least < solve(many)["x"] < unsure.greatest
    dice = random.Random(1)  # noqa: S311 - test cases
    for _ in range(200):
        inside = {name: 1 + each * dice.uniform(-1, 1) for name, each in many.tolerances.items()}
        assert unsure.least <= solve(at_corner(many, inside))["x"] <= unsure.greatest


def test_nothing_is_claimed_with_diodes_or_capacitors() -> None:
    parts = (Resistor("up", "hot", "in", 10e3, 0.05), Resistor("r", "in", "mid", 1e3, 0.05))
    supply = (Source("supply", "hot", GROUND, 5.0, 0.05),)
    diode = worst(Netlist(parts, supply, (Diode("d", "mid", GROUND),)), "in")
    assert not diode.certified
    assert diode.least < diode.greatest
    end = Resistor("end", "mid", GROUND, 1e4, 0.05)
    charged = worst(Netlist((*parts, end), supply, (), (Capacitor("c", "in", GROUND, 1e-6),)), "in")
    assert not charged.certified
    assert (charged.least, charged.greatest) == pytest.approx(
        by_enumeration(Netlist((*parts, end), supply), "in"), rel=1e-12
    )


def test_a_bridge_of_diodes_is_followed_from_corner_to_corner() -> None:
    parts = (
        Resistor("a", "hot", "left", 1e3, 0.2), Resistor("b", "left", GROUND, 1e3, 0.2),
        Resistor("c", "hot", "right", 1.1e3, 0.2), Resistor("d", "right", GROUND, 1e3, 0.2),
    )  # fmt: skip
    net = Netlist(parts, (Source("supply", "hot", GROUND, 5.0, 0.1),), (Diode("x", "left", "right"),))
    found = worst(net, "left")
    assert not found.certified
    assert (found.least, found.greatest) == pytest.approx(by_enumeration(net, "left"), rel=1e-6)


def test_a_negative_supply_turns_the_extremes_round() -> None:
    parts = (Resistor("up", "hot", "in", 1e3, 0.1), Resistor("end", "in", GROUND, 1e3, 0.1))
    net = Netlist(parts, (Source("supply", "hot", GROUND, -5.0, 0.1),))
    found = worst(net, "in")
    assert (found.least, found.greatest) == pytest.approx(by_enumeration(net, "in"), rel=1e-12)


def test_a_node_on_the_supply_or_on_ground_moves_with_nothing_else() -> None:
    parts = (Resistor("up", "hot", "in", 1e3, 0.1), Resistor("wire", "in", GROUND, 0.0, 0.1))
    net = Netlist(parts, (Source("supply", "hot", GROUND, 5.0, 0.1),))
    assert (worst(net, "hot").least, worst(net, "hot").greatest) == (4.5, 5.5)
    assert (worst(net, "in").least, worst(net, "in").greatest) == (0.0, 0.0)


def test_a_node_that_is_not_there_is_refused() -> None:
    net = Netlist((Resistor("up", "hot", GROUND, 1e3),), (Source("supply", "hot", GROUND, 5.0),))
    with pytest.raises(OutOfRange, match="node out"):
        worst(net, "out")
