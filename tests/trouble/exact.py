"""The fewest minutes that any way of asking and mending can take, by exact dynamic programming on small models.

Every test may be made once and every repair once; somebody else ends it all. Shares no code with the product.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sillwright.trouble.model import FaultModel

from . import by_hand

Weights = by_hand.Weights
Told = tuple[tuple[str, int, tuple[str, ...]], ...]  # test, outcome, and the repairs made before it


@dataclass(frozen=True)
class Step:
    """What is done in a state: a test, a repair, or somebody else."""

    kind: str
    id: str = ""


class Way:
    """The states of a model, with their weights before they are divided by their sum."""

    def __init__(self, model: FaultModel, symptom: str) -> None:
        self.model = model
        prior = by_hand.priors(model, {})
        start = {faults: share * by_hand.symptom_chance(model, symptom, faults) for faults, share in prior.items()}
        total = sum(start.values())
        self.start: Weights = {faults: share / total for faults, share in start.items()}
        self.rows = {
            test.id: {faults: by_hand.row(model, test.id, faults) for faults in prior} for test in model.tests
        }
        self.minutes = {test.id: test.minutes for test in model.tests}
        self.minutes |= {repair.id: repair.minutes for repair in model.repairs}
        self.tests = [test.id for test in model.tests]

    def after_test(self, weights: Weights, test: str, outcome: int) -> Weights:
        return {faults: share * self.rows[test][faults][outcome] for faults, share in weights.items()}

    def after_repair(self, weights: Weights, repair: str) -> Weights:
        return by_hand.failed(self.model, weights, repair)

    def best(self) -> float:
        """Expected minutes of the best way there is."""
        known: dict[tuple[Told, tuple[str, ...]], float] = {}
        remedy = {fault.id: fault.remedy for fault in self.model.faults}
        halves = {remedy[name] for one, other, _ in self.model.pairs for name in (one, other)}

        def value(weights: Weights, told: Told, made: tuple[str, ...]) -> float:
            # What was repaired before an answer matters only where the repair leaves the other fault of a pair.
            early = sorted(
                (test, outcome, tuple(r for r in before if r in halves)) for test, outcome, before in told
            )
            key = (tuple(early), made)
            total = sum(weights.values())
            if total < 1e-12:
                return 0.0
            if key not in known:
                found = self.model.referral * total
                for test in self.tests:
                    if all(test != each for each, *_ in told):
                        cost = self.minutes[test] * total
                        for outcome in range(len(self.rows[test][()])):
                            then = self.after_test(weights, test, outcome)
                            cost += value(then, (*told, (test, outcome, made)), made)
                        found = min(found, cost)
                for repair in (each.id for each in self.model.repairs):
                    if repair not in made:
                        then = self.after_repair(weights, repair)
                        cost = self.minutes[repair] * total + value(then, told, tuple(sorted((*made, repair))))
                        found = min(found, cost)
                known[key] = found
            return known[key]

        return float(value(self.start, (), ()))

    def cost_of(self, policy: Callable[[Told, tuple[str, ...]], Step]) -> float:
        """Expected minutes of a policy, followed through every outcome."""

        def value(weights: Weights, told: Told, made: tuple[str, ...]) -> float:
            total = sum(weights.values())
            if total < 1e-9:
                return 0.0
            step = policy(told, made)
            if step.kind == "test":
                cost = self.minutes[step.id] * total
                for outcome in range(len(self.rows[step.id][()])):
                    then = self.after_test(weights, step.id, outcome)
                    cost += value(then, (*told, (step.id, outcome, made)), made)
                return cost
            if step.kind == "repair":
                then = self.after_repair(weights, step.id)
                return self.minutes[step.id] * total + value(then, told, (*made, step.id))
            return self.model.referral * total

        return value(self.start, (), ())
