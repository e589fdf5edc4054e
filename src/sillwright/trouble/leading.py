"""What comes next on a call, from its first word on: nobody gets hurt, and only then the fault."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from sillwright.trouble.advising import advise
from sillwright.trouble.answer import Advice, Call, Step
from sillwright.trouble.electrical import circuit_of, for_circuit
from sillwright.trouble.model import FaultModel
from sillwright.trouble.next_step import Engine
from sillwright.trouble.safety import MakeSafe, make_safe
from sillwright.trouble.same import Same

HANGING = dict.fromkeys(("cable_slack", "leaf_crooked", "spring_gap", "grinding"), "no")
"""Tests that one question of making safe asks all at once: who said no to it is not asked each of them again."""
STAYS = ("emergency", "as_it_is")
"""States in which nobody goes on to look for the fault: the leaf may fall, or somebody may be under it."""
SAFE_MINUTES = 0.2  # that a question of making safe takes


def lead(model: FaultModel, call: Call, *, engine: Engine = "plain") -> Advice:
    """The advice on a call: questions of making safe come first, and where nobody goes on no step comes at all.

    The meter readings of the model are those of the circuit that the call tells. Raises :class:`UnknownName` where
    the call names what there is not.
    """
    found, once = make_safe(call), asked_once(model, call)
    put_in = dict(once.answers).keys() - dict(call.answers).keys()
    advice = advise(of_circuit(model, call), once, engine=engine, unsaid=put_in)
    if found.next is not None:
        left = advice.next.expected_minutes if advice.next else 0.0
        step = Step(kind="make_safe", id=found.next.id, minutes=SAFE_MINUTES, expected_minutes=left)
        return replace(advice, next=step, others=(), cautions=(*found.sentences, *advice.cautions))
    if stays(found):
        state, *more = found.sentences
        return replace(advice, next=None, others=(), stop=state, cautions=(*more, *advice.cautions))
    return advice


def of_circuit(model: FaultModel, call: Call) -> FaultModel:
    """The model with its meter readings for the circuit that a call tells; the same object for the same model."""
    circuit = circuit_of(model, call)
    return _of_circuit(Same(model), circuit) if circuit else model


def stays(found: MakeSafe) -> bool:
    """Whether nobody goes on to look for the fault."""
    return found.state in STAYS


def asked_once(model: FaultModel, call: Call) -> Call:
    """The call without a second question about what holds the leaf, where none of it is wrong."""
    if dict(call.harm).get("hanging") != "no":
        return call
    outcomes = {test.id: {each.id for each in test.outcomes} for test in model.tests}
    given = {name for name, _ in call.answers}
    known = [(name, said) for name, said in HANGING.items() if name not in given and said in outcomes.get(name, ())]
    return replace(call, answers=(*known, *call.answers))


@lru_cache(maxsize=32)
def _of_circuit(key: Same, circuit: str) -> FaultModel:
    return for_circuit(key.model, circuit)
