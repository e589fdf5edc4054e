"""Known cases that ship with the program: what a source printed, computed here and compared."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import isclose
from typing import Any

from sillwright.base import data
from sillwright.base.case_reading import read_case
from sillwright.base.words import ENGLISH, N_, Reader, Sentence, render, translate
from sillwright.duty import rulebook
from sillwright.duty.examples import verdict_of
from sillwright.study.calculations import calculation
from sillwright.survey.from_facts import node_of


@dataclass(frozen=True, kw_only=True)
class Check:
    """One value against its source."""

    what: str
    expected: str
    got: str
    met: bool
    source: str


VERDICTS = (N_("holds"), N_("fails"), N_("unknown"), N_("not applicable"))
"""How rules judge an example, in the words in which the examples stand beside them."""


def run_all(reader: Reader = ENGLISH) -> list[Check]:
    """Every known case: numbers of calculations, then verdicts of rules on their examples."""
    return [*_numbers(reader), *_rules(reader)]


def _numbers(reader: Reader) -> Iterator[Check]:
    for row in data.table("sillwright.study", "known")["case"]:
        found = calculation(row["calculation"])
        result = found.function(read_case(found.case, node_of(row["given"]), row["id"]))
        for name, expected in row["expect"].items():
            got: Any = getattr(result, name)
            tolerance = row.get("within", {}).get(name, row.get("relative", 1e-6) * abs(expected))
            yield Check(
                what=f"{row['id']}: {name}",
                expected=f"{expected:g}",
                got="–" if got is None else f"{got:.9g}",
                met=got is not None and isclose(got, expected, rel_tol=0.0, abs_tol=tolerance),
                source=translate(row["source"], reader),
            )


def _rules(reader: Reader) -> Iterator[Check]:
    for rule in rulebook.rules():
        for number, example in enumerate(rule.examples, 1):
            got = verdict_of(rule, example)
            yield Check(
                what=render(Sentence(N_("{rule}, example {number}"), {"rule": rule.id, "number": number}), reader),
                expected=translate(example.verdict, reader),
                got=translate(got, reader),
                met=got == example.verdict,
                source=rule.source.in_words(reader),
            )
