"""Which step comes next: what keeps people from harm first, then what shortens the way to the right repair."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sillwright.trouble.answer import Call
from sillwright.trouble.compiled import known_facts, ruled_out, told_by_itself
from sillwright.trouble.danger import danger_open, danger_seen
from sillwright.trouble.model import FaultModel, Test, Who
from sillwright.trouble.next_step import (
    SHORTEST,
    Engine,
    Flags,
    Open,
    Outlook,
    information,
    known_for_sure,
    outlook,
)
from sillwright.trouble.posterior import Belief

ORDER: tuple[Who, ...] = ("owner", "shift_lead", "technician")
NO_MOVE = 0.01
"""From this chance of a mechanical danger on, no step that moves the leaf is offered."""
STOP = 0.1
"""From this chance of a mechanical danger on, nobody goes on."""

MOST_OTHERS = 3
ROUND_OFF = 1e-9

Kind = Literal["test", "repair", "further"]


@dataclass(frozen=True, kw_only=True, slots=True)
class Choice:
    """A step that could come next. ``further`` is to ask somebody else."""

    kind: Kind
    at: int  # of the test or the repair
    expected: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Choices:
    """The step that comes next, what comes close, and what it takes without asking anything now."""

    best: Choice
    others: tuple[Choice, ...]
    unasked: float
    harm: bool = False  # it comes first because it keeps people from harm


def may(who: Who | None, least: Who) -> bool:
    """Whether somebody may do what takes at least ``least``. Whoever does not say is taken for an owner."""
    return ORDER.index(who or "owner") >= ORDER.index(least)


def danger(belief: Belief) -> float:
    """How likely a mechanical danger is there."""
    frame = belief.frame
    dangerous = np.array([fault.danger for fault in frame.model.faults] + [False])  # the last one: no fault
    return float(belief.weights[dangerous[frame.first] | dangerous[frame.second]].sum())


def open_tests(model: FaultModel, call: Call, belief: Belief) -> tuple[Test, ...]:
    """Tests that were not asked and are not ruled out, whoever may do them; none that moves a leaf in danger."""
    asked = {test for test, _ in call.answers}
    facts = {**told_by_itself(model, call.symptom), **known_facts(call.facts)}
    still = danger(belief) >= NO_MOVE or danger_open(model, call) or danger_seen(model, call)
    return tuple(
        test
        for test in model.tests
        if test.id not in asked and not ruled_out(test.needs, facts) and not (still and test.stage == "move")
    )


def choose(model: FaultModel, call: Call, belief: Belief, *, ahead: int = 2, engine: Engine = "plain") -> Choices:
    """The next step of a call.

    A test of the stage "harm" that was not asked comes before all others, whatever is likely. Somebody who is no
    technician is asked as long as an answer shortens what a technician will need, who may do all the rest.
    """
    frame = belief.frame
    able = _able(model, call, belief)
    seen = outlook(frame, belief.weights, able, ahead=ahead, engine=engine)
    mine = able.offered & np.array([may(call.who, test.who) for test in model.tests], np.bool_)
    found = _sorted(seen, mine)
    harm = [at for at, test in enumerate(model.tests) if mine[at] and test.stage == "harm"]
    if harm:
        first = Choice(kind="test", at=harm[0], expected=model.tests[harm[0]].minutes + seen.unasked)
        return Choices(best=first, others=(), unasked=seen.unasked, harm=True)
    limit = model.referral if call.who == "technician" else min(model.referral, seen.unasked)
    best = found[0] if found else None
    if best is None or best.expected >= limit - ROUND_OFF:
        best = _when_nothing_pays(belief, seen, mine, able.repairs, limit)
    others = tuple(each for each in found if (each.kind, each.at) != (best.kind, best.at))
    return Choices(best=best, others=others[:MOST_OTHERS], unasked=seen.unasked)


def _able(model: FaultModel, call: Call, belief: Belief) -> Open:
    left = {test.id for test in open_tests(model, call, belief)}
    offered = np.array([test.id in left for test in model.tests], np.bool_)
    repairs = np.array([repair.id not in call.repaired for repair in model.repairs], np.bool_)
    return Open(offered=offered, later=offered, repairs=repairs)


def _sorted(seen: Outlook, mine: Flags) -> list[Choice]:
    """Steps by expected minutes; of equals the one that stands first in the model."""
    tests = [
        Choice(kind="test", at=int(at), expected=float(seen.tests[at]))
        for at in np.flatnonzero(mine & np.isfinite(seen.tests))
    ]
    repairs = [
        Choice(kind="repair", at=int(at), expected=float(seen.repairs[at]))
        for at in np.flatnonzero(np.isfinite(seen.repairs))
    ]
    return sorted([*tests, *repairs], key=lambda each: round(each.expected, 9))


def _when_nothing_pays(belief: Belief, seen: Outlook, mine: Flags, repairs: Flags, limit: float) -> Choice:
    """The step where asking does not shorten the way: a repair if one is worth it, else what tells most a minute.

    That no plan is shorter than to ask somebody else may only mean that it takes more answers than are looked
    ahead. A test is asked then only where its minutes are less than its part in what it would spare to know the
    fault for sure: the part of the bits that it tells.
    """
    frame, weights = belief.frame, belief.weights
    if seen.repairs.min(initial=np.inf) < frame.model.referral:
        at = int(np.argmin(seen.repairs))
        return Choice(kind="repair", at=at, expected=min(limit, float(seen.repairs[at])))
    bits = np.maximum(information(frame, weights), 0.0)
    spared = seen.unasked - float(known_for_sure(frame, repairs) @ weights)
    wanted = float(-(weights * np.log2(weights, out=np.zeros_like(weights), where=weights > 0)).sum())
    telling = mine & (frame.test_minutes * wanted < spared * bits)
    worth = np.where(telling, bits / np.maximum(frame.test_minutes, SHORTEST), 0.0)
    if worth.any():
        at = int(np.argmax(worth))  # one that was not looked at two ahead spares nothing, as far as is known
        cost = min(float(seen.tests[at]), seen.unasked + float(frame.test_minutes[at]))
        return Choice(kind="test", at=at, expected=cost)
    return Choice(kind="further", at=-1, expected=limit)
