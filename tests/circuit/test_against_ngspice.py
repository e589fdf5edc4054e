"""Every netlist of these tests by an independent circuit simulator."""

from __future__ import annotations

import random

import pytest

from sillwright.circuit.model import Circuit
from sillwright.circuit.netlist import GROUND, Diode, Netlist, Resistor, Source
from sillwright.circuit.solving import solve

from ..verification import Verify
from .by_ngspice import ngspice
from .nets import CIRCUITS, every_netlist, random_web

SIMULATOR = "ngspice, operating point, reltol 1e-9 (independent circuit simulator)"
RESISTORS = 1e-9
DIODES = 1e-6


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_every_loop_in_every_state_reads_what_the_simulator_says(circuit: Circuit, verify: Verify) -> None:
    found = every_netlist(circuit)
    others = ngspice([net for _, net in found], [["in"]] * len(found))
    within = DIODES if circuit == "diode_capacitor" else RESISTORS
    for (state, net), other in zip(found, others, strict=True):
        assert solve(net)["in"] == pytest.approx(other["in"], rel=within, abs=within * 1e-3), state
    got, expected = solve(found[0][1])["in"], others[0]["in"]
    verify(f"{circuit}: voltage at rest", got=got, expected=expected, within=within, source=SIMULATOR)


def test_random_webs_have_the_simulators_voltages_at_every_node(verify: Verify) -> None:
    dice = random.Random(11)  # noqa: S311 - test cases
    nets = [random_web(dice, dice.randrange(2, 12), dice.randrange(0, 14)) for _ in range(120)]
    others = ngspice(nets, [sorted(net.names) for net in nets])
    for net, other in zip(nets, others, strict=True):
        found = solve(net)
        for node, volt in other.items():
            assert found[node] == pytest.approx(volt, rel=RESISTORS, abs=1e-12)
    got, expected = solve(nets[0])["n0"], others[0]["n0"]
    verify("random web of resistors: first node", got=got, expected=expected, within=RESISTORS, source=SIMULATOR)


def test_random_webs_with_diodes_have_them_too(verify: Verify) -> None:
    dice = random.Random(12)  # noqa: S311 - test cases
    nets = []
    for _ in range(40):
        web = random_web(dice, 6, 5)
        names = sorted(web.names)
        ends = [dice.sample(names, 2) for _ in range(dice.randrange(1, 4))]
        diodes = tuple(Diode(f"d{at}", anode, cathode) for at, (anode, cathode) in enumerate(ends))
        nets.append(Netlist(web.resistors, web.sources, diodes))
    others = ngspice(nets, [sorted(net.names) for net in nets])
    for net, other in zip(nets, others, strict=True):
        found = solve(net)
        for node, volt in other.items():
            assert found[node] == pytest.approx(volt, rel=DIODES, abs=2e-7)
    got, expected = solve(nets[0])["n1"], others[0]["n1"]
    verify("random web with diodes: a node", got=got, expected=expected, within=DIODES, source=SIMULATOR)


def test_wires_without_resistance_and_stacked_sources_agree_too() -> None:
    net = Netlist(
        (Resistor("r", "top", "x", 220.0), Resistor("w", "x", "y", 0.0), Resistor("e", "y", GROUND, 330.0),
         Resistor("s", "mid", GROUND, 1e3)),
        (Source("one", "mid", GROUND, 5.0), Source("two", "top", "mid", 2.5)),
    )  # fmt: skip
    (other,) = ngspice([net], [sorted(net.names)])
    assert {node: solve(net)[node] for node in other} == pytest.approx(other, rel=1e-9)
