"""How likely each reading of a meter or a lamp is under each fault, by the circuit of the loop.

The rows come from :mod:`sillwright.trouble.measuring`, which computes them from the loop. For typical loops they
stand ready in ``data/reading_rows.toml``; a test computes them again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from sillwright.base import data
from sillwright.base.units import Number
from sillwright.trouble.answer import Call
from sillwright.trouble.banding import settings
from sillwright.trouble.model import Fault, FaultModel, Test

HERE = "sillwright.trouble"
SOUND = "sound"
Row = tuple[Number, ...]
Rows = tuple[Row, tuple[tuple[str, Row], ...]]  # of every other fault, and of those that show


def rows(test: Test, circuit: str | None, faults: Iterable[Fault]) -> Rows:
    """The row of a sound loop and the rows of the faults that hurt it, for a test that is a reading.

    Where the circuit is not known, the rows are a mixture over circuits: by their shares among edges, and for a
    fault by how the circuit moves its share, so that a fault of radio edges is judged by radio edges. Circuits in
    which the test cannot be made, or which have no loop to measure, are left out.

    Source: :mod:`sillwright.circuit` with the hurts of ``data/readings.toml``; their shares are invented.
    """
    shares = _circuits(test, circuit)
    found = []
    for fault in faults:
        moved = {name: share * _factor(fault, name) for name, share in shares.items()}
        if fault.hurt is not None and sum(moved.values()) > 0.0:
            found.append((fault.id, _mixed(test, moved, fault.hurt)))
    return _mixed(test, shares, SOUND), tuple(found)


def for_circuit(model: FaultModel, circuit: str | None) -> FaultModel:
    """The model with the rows of its readings for one circuit; None: for a circuit that is not known."""

    def of(test: Test) -> Test:
        if test.reading is None:
            return test
        otherwise, likelihood = rows(test, circuit, model.faults)
        return replace(test, otherwise=otherwise, likelihood=likelihood)

    return replace(model, tests=tuple(of(test) for test in model.tests))


def circuit_of(model: FaultModel, call: Call) -> str | None:
    """The circuit that a call tells: by its complaint, or as a fact that is told in one way only."""
    by_itself = {each.id: dict(each.tells) for each in model.symptoms}.get(call.symptom or "", {})
    told = {value for name, value in call.facts if name == "circuit"}
    return by_itself.get("circuit") or (told.pop() if len(told) == 1 else None)


def reading_rows() -> Mapping[str, Mapping[str, Mapping[str, list[float]]]]:
    """By circuit, reading and hurt: the row. Not every circuit has every reading."""
    return data.table(HERE, "reading_rows")


def measurable(test: Test) -> tuple[str, ...]:
    """The circuits in which a reading can be taken and tells something of the edge."""
    ruled_out = {move.value for move in test.needs if move.fact == "circuit" and move.factor == 0}
    return tuple(name for name, its in reading_rows().items() if test.reading in its and name not in ruled_out)


def _circuits(test: Test, circuit: str | None) -> dict[str, Number]:
    """The circuits that a loop may have, with their shares; they need not add to one."""
    met = measurable(test)
    shares: dict[str, Any] = settings()["circuits"]
    return {circuit: 1.0} if circuit in met else {name: float(shares[name]) for name in met}


def _factor(fault: Fault, circuit: str) -> Number:
    return next((each.factor for each in fault.moves if each.fact == "circuit" and each.value == circuit), 1.0)


def _mixed(test: Test, shares: Mapping[str, Number], hurt: str) -> Row:
    """The mean of the rows of a hurt, adding up to one to the last digit."""
    by_circuit = [(share, reading_rows()[name][str(test.reading)][hurt]) for name, share in shares.items()]
    found = [sum(share * row[at] for share, row in by_circuit) for at in range(len(test.outcomes))]
    return tuple(each / sum(found) for each in found)
