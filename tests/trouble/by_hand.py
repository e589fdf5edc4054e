"""The fault model reckoned slowly in plain Python, straight from its tables; shares no code with the product."""

from __future__ import annotations

from collections.abc import Iterable
from math import prod

from sillwright.trouble.answer import Call
from sillwright.trouble.model import FaultModel

Weights = dict[tuple[str, ...], float]


def priors(model: FaultModel, facts: dict[str, str]) -> Weights:
    """The share of each hypothesis, moved by facts; they add to one."""
    shares = {fault.id: 0.0 for fault in model.faults}
    for symptom in model.symptoms:
        for name, share in symptom.causes:
            shares[name] += symptom.share * share
    factor = {
        fault.id: prod(move.factor for move in fault.moves if facts.get(move.fact) == move.value)
        for fault in model.faults
    }
    pairs = sum(share for *_, share in model.pairs)
    scale = (1 - model.unlisted - pairs) / sum(shares.values())
    found: Weights = {(): model.unlisted}
    found.update({(name,): scale * share * factor[name] for name, share in shares.items()})
    found.update({(one, other): share * factor[one] * factor[other] for one, other, share in model.pairs})
    return {key: value / sum(found.values()) for key, value in found.items()}


def symptom_chance(
    model: FaultModel, symptom: str, faults: tuple[str, ...], facts: dict[str, str] | None = None
) -> float:
    """How likely the caller complains of this."""
    where = next(each.where for each in model.symptoms if each.id == symptom)
    table = {each.id: (each.share, dict(each.causes)) for each in model.symptoms}
    if not faults:
        return table[symptom][0] / sum(share for share, _ in table.values())
    each = []
    for name in faults:
        whole = sum(share * causes.get(name, 0.0) for share, causes in table.values())
        seldom = prod(
            move.factor for fault, move in where if fault == name and (facts or {}).get(move.fact) == move.value
        )
        each.append(seldom * table[symptom][0] * table[symptom][1].get(name, 0.0) / whole)
    return sum(each) / len(each)


def row(model: FaultModel, test_id: str, faults: tuple[str, ...]) -> list[float]:
    """How likely each outcome of a test is."""
    test = next(each for each in model.tests if each.id == test_id)
    count = len(test.outcomes)
    if not faults:
        return [1 / count] * count
    own = [dict(test.likelihood)[name] for name in faults if name in dict(test.likelihood)]
    if len(own) < 2:
        return list(own[0] if own else test.otherwise)
    return [
        sum(own[0][a] * own[1][b] for a in range(count) for b in range(count) if max(a, b) == k)
        for k in range(count)
    ]


def outcome_chance(model: FaultModel, test: str, outcome: str, faults: tuple[str, ...]) -> float:
    names = [each.id for each in next(one for one in model.tests if one.id == test).outcomes]
    return row(model, test, faults)[names.index(outcome)]


def posterior(model: FaultModel, call: Call) -> Weights:
    """The weights after a call; answers once each, and repairs, all in their order."""
    after = dict(call.after)
    found = priors(model, dict(call.facts))
    for faults in found:
        if call.symptom is not None:
            found[faults] *= symptom_chance(model, call.symptom, faults, dict(call.facts))
    for made, repair in enumerate((*call.repaired, None)):
        for faults in found:
            for test, outcome in call.answers:
                if outcome is not None and after.get(test, 0) == made:
                    found[faults] *= outcome_chance(model, test, outcome, faults)
        if repair is not None:
            found = failed(model, found, repair)
    return {key: value / sum(found.values()) for key, value in found.items()}


def failed(model: FaultModel, weights: Weights, repair: str) -> Weights:
    """What is left when a repair did not end the trouble."""
    remedy = {fault.id: fault.remedy for fault in model.faults}
    success = next(each.success for each in model.repairs if each.id == repair)
    found = dict.fromkeys(weights, 0.0)
    for faults, weight in weights.items():
        left = tuple(name for name in faults if remedy[name] != repair)
        if len(left) == len(faults):
            found[faults] += weight
        else:
            found[faults] += weight * (1 - success)
            if left:
                found[left] += weight * success
    return found


def plan(model: FaultModel, weights: Weights, shut: frozenset[str]) -> float:
    """Minutes of repairs in falling chance over cost, ended where somebody else is cheaper."""
    remedy = {fault.id: fault.remedy for fault in model.faults}
    kits = [each for each in model.repairs if each.id not in shut]
    success = {each.id: each.success for each in kits}
    wanted = {faults: {remedy[name] for name in faults} for faults in weights}

    def credit(name: str) -> float:
        total = 0.0
        for faults, weight in weights.items():
            if name in wanted[faults] and wanted[faults] <= set(success):
                total += weight * success[name] / len(wanted[faults])
        return total

    order = sorted(kits, key=lambda kit: -credit(kit.id) / kit.minutes)
    left, spent, made = sum(weights.values()), 0.0, set[str]()
    best = model.referral * left
    for kit in order:
        spent += kit.minutes * left
        made.add(kit.id)
        left -= sum(
            weight * prod(success[name] for name in wanted[faults])
            for faults, weight in weights.items()
            if kit.id in wanted[faults] and wanted[faults] <= made
        )
        best = min(best, spent + model.referral * left)
    return best


def asked(model: FaultModel, weights: Weights, test: str) -> Iterable[Weights]:
    """The weights after each outcome of a test; together they add to what there was."""
    rows = {faults: row(model, test, faults) for faults in weights}
    for at in range(len(next(each for each in model.tests if each.id == test).outcomes)):
        yield {faults: weight * rows[faults][at] for faults, weight in weights.items()}


def least(model: FaultModel, weights: Weights, tests: frozenset[str], shut: frozenset[str]) -> float:
    """The least cost with at most one of these tests."""
    return min(
        [plan(model, weights, shut), *(test_cost(model, weights, test, frozenset(), shut) for test in tests)]
    )


def test_cost(model: FaultModel, weights: Weights, test: str, later: frozenset[str], shut: frozenset[str]) -> float:
    """The cost of a test, of at most one later test, and of the repairs."""
    minutes = next(each.minutes for each in model.tests if each.id == test)
    then = (least(model, each, later - {test}, shut) for each in asked(model, weights, test))
    return minutes * sum(weights.values()) + sum(then)


test_cost.__test__ = False  # type: ignore[attr-defined]
