"""Random loops and the worst case: the compiled divider beside NumPy's batched solve and ngspice, in one run.

The same loops (parts uniform within their tolerances, one seed) go through all of them; times are warm, the best of
several, all cores. ngspice runs once as a process for every loop, and once as one process that alters the parts and
solves again. Exits with 1 where an answer differs by more than 1e-9, or a goal is missed by more than a factor of
two. Without ngspice its lines are left out.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import replace
from math import inf
from pathlib import Path
from time import perf_counter
from typing import Any

sys.path.insert(0, str(Path(__file__).parents[1]))
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # NumPy is fastest so: its matrices are small

import numpy as np
from numpy.typing import NDArray
from tests.circuit.by_ngspice import deck

from sillwright.circuit.building import Spread
from sillwright.circuit.circuits import netlists
from sillwright.circuit.loops import typical
from sillwright.circuit.model import Circuit
from sillwright.circuit.netlist import Netlist
from sillwright.circuit.sampling import Program, program, ratios
from sillwright.circuit.worst import worst

CASES, CHUNK, ROUNDS = 100_000, 5_000, 7
PROCESSES, ALTERED = 40, 400
SPREAD = Spread(wire=0.05, strip=0.3, contact=0.5, insulation=0.9, converter=0.1)
AGREE = 1e-9
GOALS = {"NumPy's batched solve": 10.0, "ngspice, a process a loop": 5_000.0}
WORST_CASE = 1e-3  # seconds


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    start = perf_counter()
    found = work()
    return perf_counter() - start, found


def best(work: Callable[[], Any], rounds: int = ROUNDS) -> tuple[float, Any]:
    seconds, found = inf, None
    for _ in range(rounds):
        took, found = timed(work)
        seconds = min(seconds, took)
    return seconds, found


def by_numpy(laid: Program, siemens: NDArray[np.float64]) -> NDArray[np.float64]:
    """A dense matrix for each loop, solved together; in chunks that fit into the cache better than all at once."""
    stamps, fed = np.zeros((len(laid.edges), laid.nodes, laid.nodes)), np.zeros((len(laid.edges), laid.nodes))
    for at, (one, other) in enumerate(laid.ends):
        stamps[at, other, other] += 1
        if one == -2:
            fed[at, other] += 1
        elif one >= 0:
            stamps[at, one, one] += 1
            stamps[at, one, other] = stamps[at, other, one] = -1
    flat = stamps.reshape(len(laid.edges), -1)
    out = np.empty(siemens.shape[1])
    for start in range(0, siemens.shape[1], CHUNK):
        some = siemens[:, start : start + CHUNK].T
        matrix = (some @ flat).reshape(-1, laid.nodes, laid.nodes)
        out[start : start + CHUNK] = np.linalg.solve(matrix, (some @ fed)[:, :, None])[:, -1, 0]
    return out


def with_ohms(net: Netlist, laid: Program, ohms: NDArray[np.float64]) -> Netlist:
    values = {edge[0]: float(ohm) for edge, ohm in zip(laid.edges, ohms, strict=True)}
    parts = tuple(replace(each, ohm=values.get(each.name, each.ohm)) for each in net.resistors)
    return replace(net, resistors=parts)


def run_ngspice(text: str) -> list[float]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "one.cir"
        path.write_text(text, encoding="utf-8")
        done = subprocess.run(["ngspice", "-b", str(path)], capture_output=True, text=True, check=False)
    return [float(each) for each in re.findall(r"^v\(n\w+\) = (\S+)$", done.stdout, flags=re.MULTILINE)]


def by_processes(net: Netlist, laid: Program, ohms: NDArray[np.float64]) -> list[float]:
    return [run_ngspice(deck([with_ohms(net, laid, column)], [["in"]]))[0] for column in ohms.T]


def by_altering(net: Netlist, laid: Program, ohms: NDArray[np.float64]) -> list[float]:
    """One process that alters every part, solves and prints, again and again."""
    places = {each.name: at for at, each in enumerate(net.resistors)}
    head, tail = deck([net], [["in"]]).split("op\n", 1)
    asked = tail.splitlines()[0]
    lines = []
    for column in ohms.T:
        lines += [
            f"alter R0_{places[edge[0]]} = {float(ohm)!r}" for edge, ohm in zip(laid.edges, column, strict=True)
        ]
        lines += ["op", asked]
    return run_ngspice("\n".join([head, *lines, "quit", ".endc", ".end", ""]))


def loops(name: str, net: Netlist) -> bool:
    """One kind of loop through everything; whether something was missed."""
    laid = program(net, "in")
    assert laid is not None
    dice = np.random.default_rng(1)
    base = np.array([[edge[3], edge[4]] for edge in laid.edges])
    ohms = base[:, :1] * (1 + base[:, 1:] * dice.uniform(-1, 1, (len(laid.edges), CASES)))
    siemens, supply = 1 / ohms, net.sources[0].volt
    ratios(laid, ohms[:, :64])
    print(f"{name}: {len(laid.edges)} resistors, {laid.nodes} nodes, band of {laid.width}, {CASES:,} loops")
    from sillwright.circuit import kernel

    ours, volts = best(lambda: supply * kernel.run(siemens, laid.ends, laid.nodes, laid.width))
    print(f"  {'compiled':28} {CASES / ours:14,.0f} loops a second")
    took, other = best(lambda: supply * by_numpy(laid, siemens), 2)
    rates = {"NumPy's batched solve": CASES / took}
    found = {"NumPy's batched solve": other}
    if shutil.which("ngspice"):
        took, other = timed(lambda: by_processes(net, laid, ohms[:, :PROCESSES]))
        rates["ngspice, a process a loop"], found["ngspice, a process a loop"] = PROCESSES / took, np.array(other)
        took, other = timed(lambda: by_altering(net, laid, ohms[:, :ALTERED]))
        rates["ngspice, one process"], found["ngspice, one process"] = ALTERED / took, np.array(other)
    missed = False
    for each, rate in rates.items():
        apart = float(np.max(np.abs(found[each] / volts[: found[each].size] - 1)))
        times, goal = CASES / ours / rate, GOALS.get(each)
        wanted = "" if goal is None else f", goal {goal:,.0f} x"
        print(f"  {each:28} {rate:14,.0f} loops a second, we are {times:,.0f} x{wanted}; apart by {apart:.1e}")
        missed |= apart > AGREE or (goal is not None and times < goal / 2)
    return missed


def worst_case(name: str, net: Netlist) -> bool:
    """The time of one worst case; whether it was missed."""
    parts = len(net.tolerances)
    seconds, found = best(lambda: worst(net, "in"), 300)
    print(
        f"{name}: worst case of {parts} parts in {seconds * 1e3:.2f} ms, {found.least:.4f} to {found.greatest:.4f} V, "
        f"{'exact' if found.certified else 'not claimed'}; budget {WORST_CASE * 1e3:g} ms"
    )
    return seconds > 2 * WORST_CASE


def main() -> int:
    missed = False
    names: tuple[Circuit, ...] = ("resistor", "four_wire")
    for name in names:
        (net,) = netlists(typical(name), spread=SPREAD)
        missed |= loops(name, net)
        missed |= worst_case(name, net)
    return int(missed)


if __name__ == "__main__":
    sys.exit(main())
