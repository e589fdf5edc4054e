"""An answer to a call in a reader's words, as plain data: for programs, and as it is kept with a call."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from math import isfinite
from typing import Any

from sillwright.base.words import Reader, render, translate
from sillwright.trouble.answer import Advice, Call, Step
from sillwright.trouble.model import Fault, FaultModel, Repair, Symptom, Test
from sillwright.trouble.safety import ANSWERS, questions

MOST_SUSPECTS = 12


@dataclass(frozen=True)
class Named:
    """The parts of a fault model by id."""

    model: FaultModel

    @cached_property
    def faults(self) -> Mapping[str, Fault]:
        """Faults by id."""
        return {each.id: each for each in self.model.faults}

    @cached_property
    def tests(self) -> Mapping[str, Test]:
        """Tests by id."""
        return {each.id: each for each in self.model.tests}

    @cached_property
    def repairs(self) -> Mapping[str, Repair]:
        """Repairs by id."""
        return {each.id: each for each in self.model.repairs}

    @cached_property
    def symptoms(self) -> Mapping[str, Symptom]:
        """Symptoms by id."""
        return {each.id: each for each in self.model.symptoms}

    def fault(self, name: str, reader: Reader) -> str:
        """What a fault is called; its id where this version no longer has it."""
        found = self.faults.get(name)
        return translate(found.words, reader) if found else name

    def outcome(self, test: str, outcome: str | None, reader: Reader) -> str:
        """What an answer says; empty for "don't know"."""
        found = self.tests.get(test)
        words = {each.id: each.words for each in found.outcomes} if found else {}
        return translate(words.get(outcome or "", outcome or ""), reader)


def call_as_json(call: Call) -> dict[str, Any]:
    """A call as plain data; :func:`call_from` reads it back."""
    return {
        "who": call.who,
        "symptom": call.symptom,
        "harm": [list(each) for each in call.harm],
        "answers": [list(each) for each in call.answers],
        "facts": [list(each) for each in call.facts],
        "repaired": list(call.repaired),
        "after": [list(each) for each in call.after],
        "booked_in": list(call.booked_in),
    }


def call_from(told: Mapping[str, Any]) -> Call:
    """The call that :func:`call_as_json` wrote down."""

    def pairs(name: str) -> tuple[tuple[str, Any], ...]:
        return tuple((one, other) for one, other in told.get(name, ()))

    return Call(
        who=told.get("who"),
        symptom=told.get("symptom"),
        harm=pairs("harm"),
        answers=pairs("answers"),
        facts=pairs("facts"),
        repaired=tuple(told.get("repaired", ())),
        after=pairs("after"),
        booked_in=tuple(told.get("booked_in", ())),
    )


def advice_as_json(named: Named, advice: Advice, reader: Reader) -> dict[str, Any]:
    """An answer with every sentence in the reader's words; the most likely faults first."""
    suspects = [
        {"faults": list(each.faults), "words": [named.fault(name, reader) for name in each.faults]}
        | {"probability": round(each.probability, 6)}
        for each in advice.suspects[:MOST_SUSPECTS]
    ]
    return {
        "suspects": suspects,
        "next": _step(named, advice.next, reader) if advice.next else None,
        "others": [_step(named, each, reader) for each in advice.others],
        "stop": render(advice.stop, reader) if advice.stop else None,
        "because": [render(each, reader) for each in advice.because],
        "surprises": list(advice.surprises),
        "bring": [translate(each, reader) for each in advice.bring],
        "do": [translate(each, reader) for each in advice.do],
        "prove": [translate(each, reader) for each in advice.prove],
        "cautions": [render(each, reader) for each in advice.cautions],
        "blocked_by": list(advice.blocked_by),
    }


def _step(named: Named, step: Step, reader: Reader) -> dict[str, Any]:
    told: dict[str, Any] = {"kind": step.kind, "id": step.id, "words": "", "how": "", "outcomes": []}
    if step.kind == "test" and (test := named.tests.get(step.id)):
        told["words"], told["how"] = translate(test.question, reader), translate(test.how, reader)
        told["outcomes"] = [{"id": each.id, "words": translate(each.words, reader)} for each in test.outcomes]
    elif step.kind == "make_safe":
        told["words"] = next(render(each.words, reader) for each in questions() if each.id == step.id)
        told["outcomes"] = [{"id": name, "words": translate(words, reader)} for name, words in ANSWERS.items()]
    elif step.kind == "repair" and (repair := named.repairs.get(step.id)):
        told["words"] = translate(repair.words, reader)
    return {
        **told,
        "minutes": step.minutes,
        "expected_minutes": round(step.expected_minutes, 2) if isfinite(step.expected_minutes) else None,
        "why": [render(each, reader) for each in step.why],
    }
