"""Calls played to their end: drawn from a model, led by a policy, counted in minutes to the right repair.

Every policy asks the same harm-first tests before anything else, and pays the same for somebody else to come in the
end. ``believed`` is the model that a policy goes by; the door behaves as ``true`` says.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np

from sillwright.trouble.answer import Call
from sillwright.trouble.choosing import Choice, choose, open_tests
from sillwright.trouble.compiled import compiled
from sillwright.trouble.model import FaultModel, Symptom, Test
from sillwright.trouble.next_step import information
from sillwright.trouble.posterior import Belief, believe
from sillwright.trouble.saying import chances

MOST_STEPS = 200
SURE = 0.8
Policy = Callable[[FaultModel, Call, Belief], Choice]


@dataclass
class Door:
    """A door with its faults, and a caller who answers wrongly now and then."""

    model: FaultModel
    faults: list[str]
    dice: random.Random
    wrong: float = 0.0
    asked: dict[str, str] = field(default_factory=dict)

    def answer(self, test: Test) -> str:
        """What a test shows at this door."""
        names = [outcome.id for outcome in test.outcomes]
        rows = dict(test.likelihood)
        own = [rows[fault] for fault in self.faults if fault in rows] or [test.otherwise]
        if self.faults == ["?"]:
            own = [tuple(1 / len(names) for _ in names)]
        shown = max(self.dice.choices(range(len(names)), row)[0] for row in own)
        if self.dice.random() < self.wrong:
            shown = self.dice.choice([at for at in range(len(names)) if at != shown])
        return names[shown]

    def mend(self, repair: str) -> bool:
        """Whether a repair ends the trouble."""
        each = next(one for one in self.model.repairs if one.id == repair)
        remedy = {fault.id: fault.remedy for fault in self.model.faults}
        if self.dice.random() < each.success:
            self.faults = [fault for fault in self.faults if remedy.get(fault) != repair]
        return not self.faults


def draw(true: FaultModel, dice: random.Random, wrong: float = 0.0) -> tuple[Door, str]:
    """A door as the model has them, and what its caller complains of."""
    frame = compiled(true, ()).frame
    at = dice.choices(range(len(frame.share)), frame.share.tolist())[0]
    shown = np.exp(frame.log_symptom[:, at]).tolist()
    symptom = dice.choices([each.id for each in true.symptoms], shown)[0]
    return Door(model=true, faults=list(frame.hypotheses[at]) or ["?"], dice=dice, wrong=wrong), symptom


def play(believed: FaultModel, door: Door, symptom: str, policy: Policy) -> float:
    """Minutes until the trouble is ended, or somebody else has come."""
    call, minutes = Call(who="technician", symptom=symptom), 0.0
    tests = {test.id: test for test in believed.tests}
    for _ in range(MOST_STEPS):
        harm = [test for test in believed.tests if test.stage == "harm" and test.id not in dict(call.answers)]
        choice = (
            Choice(kind="test", at=believed.tests.index(harm[0]), expected=0.0)
            if harm
            else policy(believed, call, believe(believed, call))
        )
        if choice.kind == "further":
            return minutes + believed.referral
        if choice.kind == "test":
            test = believed.tests[choice.at]
            minutes += test.minutes
            call = replace(call, answers=(*call.answers, (test.id, door.answer(tests[test.id]))))
        else:
            repair = believed.repairs[choice.at]
            minutes += repair.minutes
            if door.mend(repair.id):
                return minutes
            call = replace(call, repaired=(*call.repaired, repair.id))
    raise AssertionError("a call that does not end")


def ours(ahead: int = 2) -> Policy:
    """What the product advises."""
    return lambda model, call, belief: choose(model, call, belief, ahead=ahead, engine="kernel").best


def _left(model: FaultModel, call: Call) -> list[int]:
    return [at for at, repair in enumerate(model.repairs) if repair.id not in call.repaired]


def _likeliest(model: FaultModel, call: Call, belief: Belief) -> Choice:
    """The repair that is most likely to help, while one is worth its minutes; then somebody else."""
    likely = chances(belief)
    left = [at for at in _left(model, call) if likely[at] * model.referral > model.repairs[at].minutes]
    if not left:
        return Choice(kind="further", at=-1, expected=0.0)
    return Choice(kind="repair", at=max(left, key=lambda at: likely[at]), expected=0.0)


def most_probable_first(model: FaultModel, call: Call, belief: Belief) -> Choice:
    """No tests: the likeliest repair, then the next."""
    return _likeliest(model, call, belief)


def most_information_first(model: FaultModel, call: Call, belief: Belief) -> Choice:
    """The test that tells most bits, until a fault is nearly sure or nothing tells anything; then repairs."""
    names = [test.id for test in open_tests(model, call, belief)]
    bits = information(belief.frame, belief.weights)
    worth = [at for at, test in enumerate(model.tests) if test.id in names and bits[at] > 0.05]
    if not worth or belief.weights.max() >= SURE:
        return _likeliest(model, call, belief)
    return Choice(kind="test", at=max(worth, key=lambda at: bits[at]), expected=0.0)


def list_with_shares(model: FaultModel, call: Call, belief: Belief) -> Choice:
    """The fixed list in its order, but with every answer weighed; repairs when nearly sure or at its end."""
    asked = dict(call.answers)
    steps = dict(model.checklist).get(call.symptom or "", ())
    left = [name for name in steps if name not in asked]
    if not left or belief.weights.max() >= SURE:
        return _likeliest(model, call, belief)
    at = next(at for at, test in enumerate(model.tests) if test.id == left[0])
    return Choice(kind="test", at=at, expected=0.0)


def list_on_paper(model: FaultModel, call: Call, belief: Belief) -> Choice:
    """The fixed list as it is used: a step that shows something is followed by the repair that it speaks for."""
    asked = dict(call.answers)
    tests = {test.id: test for test in model.tests}
    repairs = {repair.id: at for at, repair in enumerate(model.repairs)}
    remedy = {fault.id: fault.remedy for fault in model.faults}
    symptom = next(each for each in model.symptoms if each.id == call.symptom)
    causes = sorted(symptom.causes, key=lambda cause: -cause[1])
    for name in dict(model.checklist).get(symptom.id, ()):
        test = tests[name]
        if name not in asked:
            return Choice(kind="test", at=model.tests.index(test), expected=0.0)
        shown = [each.id for each in test.outcomes].index(asked[name] or "")
        if shown > 0:
            rows = dict(test.likelihood)
            fits = {fault: share * rows[fault][shown] for fault, share in causes if fault in rows}
            likely = max(fits, key=lambda fault: fits[fault], default=None)
            if likely and remedy[likely] not in call.repaired:
                return Choice(kind="repair", at=repairs[remedy[likely]], expected=0.0)
    for fault, _ in causes:
        if remedy[fault] not in call.repaired:
            return Choice(kind="repair", at=repairs[remedy[fault]], expected=0.0)
    return Choice(kind="further", at=-1, expected=0.0)


def mean_minutes(
    true: FaultModel,
    policy: Policy,
    calls: int,
    *,
    seed: int = 1,
    believed: FaultModel | None = None,
    wrong: float = 0.0,
) -> tuple[float, float, list[float]]:
    """Mean minutes of calls drawn from a model, its standard error, and the minutes of each."""
    found = []
    for at in range(calls):
        dice = random.Random(f"{seed}-{at}")  # noqa: S311
        door, symptom = draw(true, dice, wrong)
        found.append(play(believed or true, door, symptom, policy))
    return float(np.mean(found)), float(np.std(found, ddof=1) / np.sqrt(calls)), found


def misjudged(model: FaultModel, factor: float, seed: int = 1) -> FaultModel:
    """The model with each cause taken for so many times as frequent as it is, or as rare, at random."""
    dice = random.Random(seed)  # noqa: S311

    def wrong(symptom: Symptom) -> Symptom:
        moved = [(fault, share * factor ** dice.choice((-1, 1))) for fault, share in symptom.causes]
        total = sum(share for _, share in moved)
        return replace(symptom, causes=tuple((fault, share / total) for fault, share in moved))

    return replace(model, symptoms=tuple(wrong(symptom) for symptom in model.symptoms))
