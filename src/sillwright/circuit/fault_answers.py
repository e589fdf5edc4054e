"""Every answer of the fault bench, computed beforehand: for a phone without a signal.

The file ``data/fault_answers.json`` is computed from typical loops by ``tools/write_fault_answers.py``, never by
hand; a test computes answers again. Parts that somebody can put at the board are not among them.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, get_args

from sillwright.base import data
from sillwright.base.units import Ohm, Volt
from sillwright.circuit.fault_choices import PRESSES, go_together, hurt_at, kinds, listed, seconds
from sillwright.circuit.fault_rows import along, hurts_of
from sillwright.circuit.fault_view import hurt_bench
from sillwright.circuit.model import Circuit, Hurt, Press, Read, State
from sillwright.circuit.typical import typical

NAME = "fault_answers.json"
READS: dict[str, Read] = {read[0]: read for read in get_args(Read)}
"""What an input reads, by the letter that stands for it in the file."""


@dataclass(frozen=True, kw_only=True)
class Combination:
    """A circuit, and by their short names what is wrong with it and what besides; nothing where nothing is."""

    circuit: Circuit
    first: str
    second: str

    @property
    def hurts(self) -> tuple[Hurt, ...]:
        """What is wrong."""
        found = [hurt_at(*self.first.split("@"))] if self.first else []  # type: ignore[arg-type]
        return (*found, *((seconds()[self.second],) if self.second else ()))


def combinations(circuit: Circuit) -> Iterator[Combination]:
    """Everything that can be chosen of a circuit, parts at the board left out."""
    loop, there = typical(circuit), listed(circuit)
    besides = {name: hurt for name, hurt in seconds().items() if hurt in there}
    yield Combination(circuit=circuit, first="", second="")
    for hurt, name in firsts(circuit).items():
        yield Combination(circuit=circuit, first=name, second="")
        for second, other in besides.items():
            if go_together(loop, hurt, other):
                yield Combination(circuit=circuit, first=name, second=second)


def firsts(circuit: Circuit, trainer: bool = False) -> dict[Hurt, str]:
    """What can be wrong with a circuit, with its short name, in the order of the table."""
    names = {wrong: name for name, wrong in kinds().items()}
    there = hurts_of(typical(circuit), trainer=trainer)
    return {each: f"{names[each.kind, each.ohm]}@{each.place}" for each in there}


@dataclass(frozen=True, kw_only=True)
class Worked:
    """A combination as the file has it, numbers to the digits that a reader sees."""

    pattern: str  # what the input reads at rest and at a press on each tenth of the edge: the first letter of each
    volts: list[list[Volt]]  # at the input's terminals, for each press that can be chosen
    columns: list[list[Ohm | None]]  # of every way to hold the meter, for each press; None: OL


def worked(asked: Combination) -> Worked:
    """A combination, solved.

    >>> worked(Combination(circuit="plain", first="cut@edge_middle", second="")).pattern
    'rppppprrrrr'
    """
    loop = typical(asked.circuit)
    found = along(loop, asked.hurts)
    presses = (None if at is None else Press(at=at) for at in PRESSES.values())
    shown = [hurt_bench(loop, State(hurts=asked.hurts, press=each)) for each in presses]
    return Worked(
        pattern="".join(each[0] for each in (found.rest, *found.pressed)),
        volts=[[_seen(each) for each in one.voltages] for one in shown],
        columns=[[None if each.ohm is None else _seen(each.ohm) for each in way]
                 for way in zip(*(one.meters for one in shown), strict=True)],
    )  # fmt: skip


def _seen(value: float) -> float:
    return float(f"{value:.3g}")


@cache
def answers() -> dict[str, Any]:
    """The file."""
    told: dict[str, Any] = json.loads(data.text("sillwright.circuit", NAME))
    return told
