"""Computes src/sillwright/circuit/data/fault_answers.json from typical loops: ``python tools/write_fault_answers.py``.

A test computes answers again. It takes about two minutes.
"""

import json
from pathlib import Path
from typing import get_args

from sillwright.circuit.fault_answers import NAME, combinations, worked
from sillwright.circuit.model import Circuit

TARGET = Path(__file__).parents[1] / "src/sillwright/circuit/data" / NAME


class Numbered(dict[str, int]):
    """Every text once, numbered as it comes."""

    def __missing__(self, text: str) -> int:
        self[text] = len(self)
        return self[text]


def text() -> str:
    """The file as it should stand: each list once, on a line of its own, and answers as numbers of lists."""
    lists = {name: Numbered() for name in ("patterns", "volts", "columns", "meters", "views")}
    circuits: dict[str, dict[str, dict[str, int]]] = {}
    for circuit in get_args(Circuit):
        own = circuits.setdefault(circuit, {})
        for each in combinations(circuit):
            told = worked(each)
            columns = [lists["columns"][_compact(one)] for one in told.columns]
            view = [
                lists["patterns"][_compact(told.pattern)],
                lists["volts"][_compact(told.volts)],
                lists["meters"][_compact(columns)],
            ]
            own.setdefault(each.first, {})[each.second] = lists["views"][_compact(view)]
    parts = [f'"{name}": [\n' + ",\n".join(every) + "\n]" for name, every in lists.items()]
    rows = [f'"{name}": {_compact(own)}' for name, own in circuits.items()]
    parts.append('"circuits": {\n' + ",\n".join(rows) + "\n}")
    return "{\n" + ",\n".join(parts) + "\n}\n"


def _compact(told: object) -> str:
    return json.dumps(told, separators=(",", ":"))


if __name__ == "__main__":
    TARGET.write_text(text(), encoding="utf-8")
