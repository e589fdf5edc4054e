"""The answers that a phone keeps are those that the circuits give."""

from __future__ import annotations

import random
from typing import Any, get_args

import pytest

from sillwright.circuit.fault_answers import Combination, answers, combinations, firsts, worked
from sillwright.circuit.fault_choices import for_trainers
from sillwright.circuit.fault_rows import along
from sillwright.circuit.model import Circuit
from sillwright.circuit.typical import typical

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)
DRAWN = 24  # of each circuit


def kept(asked: Combination) -> dict[str, Any]:
    """What the file has of a combination."""
    told = answers()
    pattern, volts, meters = told["views"][told["circuits"][asked.circuit][asked.first][asked.second]]
    columns = [told["columns"][each] for each in told["meters"][meters]]
    return {"pattern": told["patterns"][pattern], "volts": told["volts"][volts], "columns": columns}


def numbers(told: Any) -> list[float]:
    """Every number in lists of lists; OL counts as a large one."""
    if isinstance(told, list):
        return [number for each in told for number in numbers(each)]
    return [1e12 if told is None else told]


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_the_answers_of_the_file_are_computed_again(circuit: Circuit) -> None:
    dice = random.Random(circuit)  # noqa: S311 - answers to look at
    for asked in dice.sample(list(combinations(circuit)), DRAWN):
        found, there = worked(asked), kept(asked)
        assert there["pattern"] == found.pattern, asked
        for name in ("volts", "columns"):
            wanted = pytest.approx(
                numbers(getattr(found, name)), rel=0.006, abs=1e-9
            )  # a digit may round elsewhere
            assert numbers(there[name]) == wanted, (asked, name)


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_what_is_seen_and_felt_of_every_single_fault_is_computed_again(circuit: Circuit) -> None:
    for hurt, name in firsts(circuit).items():
        found = along(typical(circuit), (hurt,))
        letters = "".join(each[0] for each in (found.rest, *found.pressed))
        assert kept(Combination(circuit=circuit, first=name, second=""))["pattern"] == letters, name


@pytest.mark.parametrize("circuit", CIRCUITS)
def test_the_file_has_every_combination_and_no_other(circuit: Circuit) -> None:
    rows = answers()["circuits"][circuit]
    there = {(first, second) for first, own in rows.items() for second in own}
    assert there == {(each.first, each.second) for each in combinations(circuit)}


def test_the_file_has_no_part_at_the_board() -> None:
    for circuit in CIRCUITS:
        hidden = {name for hurt, name in firsts(circuit, trainer=True).items() if for_trainers(hurt)}
        assert hidden
        assert not hidden & set(answers()["circuits"][circuit])
        assert not [each for each in combinations(circuit) if any(map(for_trainers, each.hurts))]


def test_a_sound_circuit_feels_every_press() -> None:
    for circuit in CIRCUITS:
        assert kept(Combination(circuit=circuit, first="", second=""))["pattern"] == "rpppppppppp"
        assert len(kept(Combination(circuit=circuit, first="", second=""))["volts"]) == 5
