"""The advice on a call as far as it has come."""

from __future__ import annotations

from collections.abc import Collection, Iterable

import numpy as np

from sillwright.base.words import Sentence
from sillwright.trouble.answer import Advice, Call, Step, Suspect
from sillwright.trouble.changes import because
from sillwright.trouble.checking import check_call
from sillwright.trouble.choosing import STOP, Choice, Choices, choose, danger
from sillwright.trouble.danger import STOPPED, danger_seen
from sillwright.trouble.model import FaultModel
from sillwright.trouble.next_step import Engine
from sillwright.trouble.posterior import Belief, believe, marginals
from sillwright.trouble.saying import chances, watch, why
from sillwright.trouble.surprising import surprises, without_each

BRING = 0.1
"""Parts are brought for a repair that is as likely as that to mend what is wrong."""
DO = 0.25
MOST_DO = 3
"""Repairs are named that are as likely as that, at most so many; and the likeliest one in any case."""


def advise(
    model: FaultModel, call: Call, *, ahead: int = 2, engine: Engine = "plain", unsaid: Collection[str] = ()
) -> Advice:
    """What is likely, what comes next and why, what does not fit, and what to bring, do, prove and watch.

    ``ahead`` is 1 or 2 answers. ``engine`` "kernel" is compiled: it takes seconds once on a new machine and then
    milliseconds; "plain" needs no compiler. Answers to the tests that are ``unsaid`` were put in for another
    question, and are not explained. Raises :class:`UnknownName` where the call names what is not in the model, and
    :class:`OutOfRange` where an answer comes after more repairs than were made.
    """
    check_call(model, call)
    belief = believe(model, call)
    without = without_each(belief)
    dangerous = danger(belief) >= STOP or danger_seen(model, call)
    choices = None if dangerous else choose(model, call, belief, ahead=ahead, engine=engine)
    repairs = _repairs(call, belief, choices)
    brought = (*repairs, *_likely(call, belief, BRING))
    shares = marginals(belief.frame, belief.weights)
    return Advice(
        suspects=_suspects(belief),
        shares=tuple((model.faults[at].id, float(shares[at])) for at in np.argsort(-shares, kind="stable")),
        next=_step(model, choices.best, tuple(why(model, call, belief, choices))) if choices else None,
        others=tuple(_step(model, each) for each in choices.others) if choices else (),
        stop=STOPPED if dangerous else None,
        because=tuple(because(model, call, belief, without, unsaid)),
        surprises=surprises(without, belief),
        bring=_once(part for at in brought for part in model.repairs[at].parts),
        do=tuple(model.repairs[at].words for at in repairs),
        prove=_once(proof for at in repairs for proof in model.repairs[at].proof),
        cautions=_cautions(model, call, belief, choices),
        blocked_by=call.booked_in,
    )


def _suspects(belief: Belief) -> tuple[Suspect, ...]:
    """Every hypothesis that is possible, the most likely first; no fault: none of these."""
    order = np.argsort(-belief.weights, kind="stable")
    return tuple(
        Suspect(faults=belief.frame.hypotheses[at], probability=float(belief.weights[at]))
        for at in order
        if belief.weights[at] > 0
    )


def _step(model: FaultModel, choice: Choice, said: tuple[Sentence, ...] = ()) -> Step:
    if choice.kind == "further":
        return Step(kind="stop", id="further", minutes=model.referral, expected_minutes=choice.expected, why=said)
    each = model.tests[choice.at] if choice.kind == "test" else model.repairs[choice.at]
    return Step(kind=choice.kind, id=each.id, minutes=each.minutes, expected_minutes=choice.expected, why=said)


def _likely(call: Call, belief: Belief, least: float) -> list[int]:
    """Repairs not made so far, the likeliest to help first: those as likely as that, and one in any case."""
    chance = chances(belief)
    left = [at for at, repair in enumerate(belief.frame.model.repairs) if repair.id not in call.repaired]
    order = sorted(left, key=lambda at: -chance[at])
    return [at for place, at in enumerate(order) if chance[at] >= least or place == 0]


def _repairs(call: Call, belief: Belief, choices: Choices | None) -> tuple[int, ...]:
    """The repairs to think of: the one that comes next, and those that are likely to mend what is wrong."""
    found = _likely(call, belief, DO)
    if choices and choices.best.kind == "repair":
        found = [choices.best.at, *(at for at in found if at != choices.best.at)]
    return tuple(found[:MOST_DO])


def _once(texts: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(texts))


def _cautions(model: FaultModel, call: Call, belief: Belief, choices: Choices | None) -> tuple[Sentence, ...]:
    """What goes with the next step, and what holds until the fault is found."""
    texts: tuple[str, ...] = ()
    if choices and choices.best.kind == "test":
        texts = model.tests[choices.best.at].cautions
    elif choices and choices.best.kind == "repair":
        texts = model.repairs[choices.best.at].cautions
    return (*(Sentence(text) for text in texts), *watch(model, call, belief))
