"""The same netlists by ngspice, an independent circuit simulator; many in one run, side by side."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from pathlib import Path

import pytest

from sillwright.circuit.netlist import GROUND, Netlist

OPTIONS = ".options reltol=1e-9 abstol=1e-18 vntol=1e-15 gmin=1e-18 itl1=2000 numdgt=15"
TOGETHER = 60  # netlists in one run


def ngspice_path() -> str:
    """Debian's ngspice; without it the test is skipped, under CI it fails."""
    found = shutil.which("ngspice")
    if not found:
        if os.environ.get("CI"):
            pytest.fail("ngspice is not here (Debian package ngspice)")
        pytest.skip("ngspice is not here (Debian package ngspice)")
    return found


def deck(netlists: Sequence[Netlist], asked: Sequence[Sequence[str]]) -> str:
    """One netlist for the simulator that holds all of ours; their nodes share nothing but ground."""
    lines = ["all at once", OPTIONS]
    names: list[dict[str, str]] = []
    for at, net in enumerate(netlists):
        nodes = {node: f"n{at}_{number}" for number, node in enumerate(sorted(net.names))} | {GROUND: "0"}
        names.append(nodes)
        for number, each in enumerate(net.resistors):
            ends = f"{nodes[each.a]} {nodes[each.b]}"
            lines.append(f"R{at}_{number} {ends} {each.ohm!r}" if each.ohm else f"V{at}w{number} {ends} 0")
        for number, source in enumerate(net.sources):
            lines.append(f"V{at}_{number} {nodes[source.plus]} {nodes[source.minus]} {source.volt!r}")
        for number, diode in enumerate(net.diodes):
            lines.append(f"D{at}_{number} {nodes[diode.anode]} {nodes[diode.cathode]} M{at}_{number}")
            lines.append(f".model M{at}_{number} D(IS={diode.saturation!r} N={diode.emission!r})")
        for number, charged in enumerate(net.capacitors):
            lines.append(f"C{at}_{number} {nodes[charged.a]} {nodes[charged.b]} {charged.farad!r}")
    lines += [".control", "set numdgt=15", "op"]
    lines += [f"print v({names[at][node]})" for at, some in enumerate(asked) for node in some if node != GROUND]
    return "\n".join([*lines, "quit", ".endc", ".end", ""])


def ngspice(netlists: Sequence[Netlist], asked: Sequence[Sequence[str]]) -> list[dict[str, float]]:
    """The voltages of the asked nodes of each netlist."""
    found: list[dict[str, float]] = []
    together = 1 if any(net.diodes for net in netlists) else TOGETHER  # many diodes at once do not settle there
    for start in range(0, len(netlists), together):
        found += _run(netlists[start : start + together], asked[start : start + together])
    return found


def _run(netlists: Sequence[Netlist], asked: Sequence[Sequence[str]]) -> list[dict[str, float]]:
    wanted = [tuple(node for node in some if node != GROUND) for some in asked]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "all.cir"
        path.write_text(deck(netlists, wanted), encoding="utf-8")
        done = subprocess.run(
            [ngspice_path(), "-b", str(path)], capture_output=True, text=True, check=False, timeout=120
        )
    found = [float(each) for each in re.findall(r"^v\(n\w+\) = (\S+)$", done.stdout, flags=re.MULTILINE)]
    assert len(found) == sum(len(some) for some in wanted), done.stdout[-500:] + done.stderr[-1500:]
    values = iter(found)
    return [{node: next(values) for node in some} for some in wanted]
