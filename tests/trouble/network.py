"""A general Bayesian-network library, and fault models as its networks. Imported with its warnings put aside."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from importlib import import_module
from typing import Any

from sillwright.trouble.answer import Call
from sillwright.trouble.model import FaultModel

from . import by_hand

with warnings.catch_warnings():  # of its binding; as errors they end the interpreter
    warnings.simplefilter("ignore")
    gum: Any = import_module("pyagrum")

Table = Sequence[Sequence[float]]


def star(model: FaultModel, call: Call) -> Any:
    """One node for the hypothesis, and one below it for the complaint and for each test."""
    facts = dict(call.facts)
    weights = by_hand.priors(model, facts)
    net = gum.BayesNet()
    net.add(gum.RangeVariable("what", "", 0, len(weights) - 1))
    net.cpt("what")[:] = list(weights.values())
    _below(net, "symptom", [
        _spread([by_hand.symptom_chance(model, each.id, faults, facts) for each in model.symptoms])
        for faults in weights
    ])  # fmt: skip
    for test in model.tests:
        _below(net, test.id, [by_hand.row(model, test.id, faults) for faults in weights])
    return net


def _spread(row: list[float]) -> list[float]:
    """A row with what facts take off it as one more value, that nobody complains: a table adds up to one."""
    return [*row, max(0.0, 1.0 - sum(row))]


def _below(net: Any, name: str, rows: Table, of: str = "what") -> None:
    net.add(gum.RangeVariable(name, "", 0, len(rows[0]) - 1))
    net.addArc(of, name)
    for at, row in enumerate(rows):
        net.cpt(name)[{of: at}] = list(row)


def evidence(model: FaultModel, call: Call) -> dict[str, int]:
    """What was told, by node and number of its outcome."""
    outcomes = {test.id: [each.id for each in test.outcomes] for test in model.tests}
    found = {test: outcomes[test].index(outcome) for test, outcome in call.answers if outcome is not None}
    if call.symptom is not None:
        found["symptom"] = [each.id for each in model.symptoms].index(call.symptom)
    return found


def mended_once(model: FaultModel, call: Call) -> Any:
    """The star of a call with one repair: what was there before it, what is there after it, and whether it ended.

    Tests that were answered after the repair hang below what is there then.
    """
    weights = by_hand.priors(model, dict(call.facts))
    net, names = gum.BayesNet(), list(weights)
    net.add(gum.RangeVariable("what", "", 0, len(names) - 1))
    net.cpt("what")[:] = list(weights.values())
    left = [by_hand.failed(model, {each: float(each == faults) for each in names}, call.repaired[0])
            for faults in names]  # fmt: skip
    _below(net, "then", [[*found.values(), 1.0 - sum(found.values())] for found in left])
    net.add(gum.RangeVariable("ended", "", 0, 1))
    net.addArc("then", "ended")
    for at in range(len(names) + 1):
        net.cpt("ended")[{"then": at}] = [float(at < len(names)), float(at == len(names))]
    _below(net, "symptom", [
        [by_hand.symptom_chance(model, each.id, faults) for each in model.symptoms] for faults in names
    ])  # fmt: skip
    after = dict(call.after)
    for test in model.tests:
        rows = [by_hand.row(model, test.id, faults) for faults in names]
        late = after.get(test.id, 0) > 0
        _below(net, test.id, [*rows, rows[0]] if late else rows, of="then" if late else "what")
    return net


def posterior(net: Any, told: dict[str, int], name: str = "what") -> list[float]:
    """The posterior of a node, by lazy propagation."""
    engine = gum.LazyPropagation(net)
    engine.setEvidence(told)
    engine.addTarget(name)
    engine.makeInference()
    return [float(each) for each in engine.posterior(name).toarray()]


def gates(model: FaultModel, rate: Sequence[float]) -> Any:
    """A node for each fault, there or not for itself; for each of them what it shows, and the latest of these.

    Nothing of the hypotheses of the product is in it: two faults are two nodes. What a door shows without a fault
    is shown only where none of those present has a row of its own.
    """
    net = gum.BayesNet()
    for fault, share in zip(model.faults, rate, strict=True):
        net.add(gum.LabelizedVariable(fault.id, "", 2))
        net.cpt(fault.id)[:] = [1 - share, share]
    for test in model.tests:
        count, parts = len(test.outcomes), []
        for name, row in test.likelihood:
            part = f"{test.id}_{name}"
            net.add(gum.RangeVariable(part, "", 0, count))  # 0: shows nothing of its own
            net.addArc(name, part)
            net.cpt(part)[{name: 0}] = [1.0, *[0.0] * count]
            net.cpt(part)[{name: 1}] = [0.0, *row]
            parts.append(part)
        net.addMAX(gum.RangeVariable(f"{test.id}_latest", "", 0, count))
        for part in parts:
            net.addArc(part, f"{test.id}_latest")
        net.add(gum.RangeVariable(test.id, "", 0, count - 1))
        net.addArc(f"{test.id}_latest", test.id)
        net.cpt(test.id)[{f"{test.id}_latest": 0}] = list(test.otherwise)
        for shown in range(count):
            net.cpt(test.id)[{f"{test.id}_latest": shown + 1}] = [float(at == shown) for at in range(count)]
    return net
