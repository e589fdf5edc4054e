"""Posteriors against a general Bayesian-network library, and published networks by the product's own sums."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from itertools import product
from math import exp

import numpy as np
import pytest

from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.many import any_number
from sillwright.trouble.model import Fault, FaultModel, Outcome, Repair, Symptom
from sillwright.trouble.model import Test as Step
from sillwright.trouble.posterior import believe, marginals

from ..verification import Verify
from . import network
from .fault_models import at_random
from .noisy import links
from .test_posterior import some_call

LIBRARY = "pyAgrum 3.3.1, lazy propagation"


# --- the product's own models in a general library


def test_every_hypothesis_of_the_model_that_ships_has_the_posterior_of_the_library(verify: Verify) -> None:
    model = fault_book()
    calls = [
        Call(symptom="CALL-01", answers=(("hold_button", "held"), ("closes_on_objects", "no"))),
        Call(symptom="CALL-08", answers=(("cable_slack", "no"), ("grinding", "yes"))),
        Call(symptom="CALL-01", facts=(("circuit", "plain"),), answers=(("hold_button", "held"),)),
        Call(symptom="CALL-19", facts=(("leaf", "gate"),), answers=(("hold_button", "nothing"),)),
    ]
    for number, call in enumerate(calls):
        expected = network.posterior(network.star(model, call), network.evidence(model, call))
        found = believe(model, call).weights
        worst = int(np.argmax(np.abs(found - expected)))
        verify(
            f"posterior of the hypothesis that differs most, call {number + 1}",
            got=found[worst],
            expected=expected[worst],
            within=1e-9,
            relative=False,
            source=f"{LIBRARY}, on the same shares and rows",
        )


@pytest.mark.parametrize("seed", range(8))
def test_single_and_double_faults_have_the_posterior_of_the_library(seed: int, verify: Verify) -> None:
    model = at_random(seed, faults=10, tests=12, pairs=45, symptoms=4)
    call = some_call(model, seed, facts=False)
    call = Call(symptom=call.symptom, answers=call.answers)
    expected = network.posterior(network.star(model, call), network.evidence(model, call))
    found = believe(model, call).weights
    verify(
        "posteriors of single and double faults at random, greatest difference",
        got=float(np.abs(found - expected).max()),
        expected=0.0,
        within=1e-9,
        source=LIBRARY,
    )


@pytest.mark.parametrize("seed", range(6))
def test_answers_before_and_after_a_repair_have_the_posterior_of_the_library(seed: int, verify: Verify) -> None:
    model = at_random(seed, faults=6, tests=6, pairs=10, repairs=3)
    asked = [(test.id, test.outcomes[(seed + at) % len(test.outcomes)].id) for at, test in enumerate(model.tests)]
    after = tuple((name, 1) for name, _ in asked[seed % 5 + 1 :])
    call = Call(symptom="S1", answers=tuple(asked), repaired=(model.repairs[seed % 3].id,), after=after)
    told = {**network.evidence(model, call), "ended": 0}
    expected = network.posterior(network.mended_once(model, call), told, "then")[:-1]
    found = believe(model, call).weights
    verify(
        "posterior after a repair that did not help, with answers before and after it, greatest difference",
        got=float(np.abs(found - expected).max()),
        expected=0.0,
        within=1e-9,
        source=f"{LIBRARY}; what is there before and after the repair as two nodes",
    )


@pytest.mark.parametrize("seed", range(6))
def test_two_faults_show_the_later_outcome_as_two_nodes_of_a_library_do(seed: int, verify: Verify) -> None:
    """The odds of a pair to another after the same answers, from a network that has no hypotheses, only faults."""
    model = at_random(seed, faults=5, tests=4, pairs=10)
    rate = [0.3] * 5
    net = network.gates(model, rate)
    told = {test.id: seed % len(test.outcomes) for test in model.tests}
    call = Call(answers=tuple((test.id, test.outcomes[told[test.id]].id) for test in model.tests))
    belief = believe(model, call)
    prior = believe(model, Call()).weights
    engine = network.gum.LazyPropagation(net)
    engine.setEvidence(told)
    names = [fault.id for fault in model.faults]
    engine.addJointTarget(set(names))
    engine.makeInference()
    joint = engine.jointPosterior(set(names))

    def likelihood(faults: tuple[str, ...]) -> float:
        """In the library: the joint posterior over the prior of just these faults."""
        there = {name: int(name in faults) for name in names}
        return float(joint[there]) / (0.3 ** len(faults) * 0.7 ** (5 - len(faults)))

    base = model.faults[0].id
    at_base = belief.frame.hypotheses.index((base,))
    for at, faults in enumerate(belief.frame.hypotheses):
        if faults and at != at_base:
            verify(
                "likelihood of the answers under one fault or two, against another fault",
                got=(belief.weights[at] / prior[at]) / (belief.weights[at_base] / prior[at_base]),
                expected=likelihood(faults) / likelihood((base,)),
                within=1e-9,
                source=f"{LIBRARY}: faults as nodes, MAX gates",
            )


# --- published networks: every state of their hidden nodes is a "fault" of its own


def flattened(states: Mapping[str, float], rows: Mapping[str, Callable[[str], float]]) -> FaultModel:
    """A model whose faults are the states of a network; a row gives the chance of a yes in a state."""
    names = [name for name, share in states.items() if share > 0]
    yes_no = (Outcome(id="no", words="no"), Outcome(id="yes", words="yes"))
    return FaultModel(
        faults=tuple(Fault(id=name, words=name, remedy="none") for name in names),
        symptoms=(Symptom(id="any", words="any", share=1.0, causes=tuple((n, states[n]) for n in names)),),
        tests=tuple(
            Step(
                id=test,
                question=test,
                how="",
                minutes=1,
                who="owner",
                stage="ask",
                outcomes=yes_no,
                otherwise=(1.0, 0.0),
                likelihood=tuple((name, (1 - yes(name), yes(name))) for name in names),
            )
            for test, yes in rows.items()
        ),
        repairs=(Repair(id="none", words="none", minutes=1, success=1.0, who="owner"),),
        pairs=(),
        facts=(),
        checklist=(),
        unlisted=0.0,
    )


def states(*names: str) -> Iterator[tuple[str, dict[str, bool]]]:
    for values in product((False, True), repeat=len(names)):
        state = dict(zip(names, values, strict=True))
        yield "+".join(name for name in names if state[name]) or "nothing", state


def chance(yes: float, happens: bool) -> float:
    return yes if happens else 1 - yes


def check(model: FaultModel, told: dict[str, bool], expect: dict[str, float], verify: Verify, source: str) -> None:
    """Chances of hidden states and of the evidence itself."""
    call = Call(answers=tuple((name, "yes" if yes else "no") for name, yes in told.items()))
    belief = believe(model, call)
    shares = marginals(belief.frame, belief.weights)
    shown = " and ".join(told) or "nothing told"
    for name, expected in expect.items():
        if name == "probability":
            got = exp(belief.log_evidence)
        elif name in {test.id for test in model.tests}:
            row = belief.frame.rows[belief.frame.outcome(name, "yes")]
            got = float(row @ belief.weights)
        else:
            got = sum(
                share for fault, share in zip(model.faults, shares, strict=True) if name in fault.id.split("+")
            )
        digits = len(f"{expected:.12g}".rstrip("0").partition(".")[2])
        verify(f"{name} given {shown}", got=got, expected=expected, within=0.51 * 10.0**-digits, relative=False,
               source=source)  # fmt: skip


ASIA = [
    ({}, {"tub": 0.0104, "lung": 0.055, "bronc": 0.45, "either": 0.064828, "xray": 0.110290, "dysp": 0.435971}),
    (
        {"dysp": True},
        {"probability": 0.435971, "tub": 0.018845, "lung": 0.102759, "bronc": 0.833967, "either": 0.120536,
         "xray": 0.162098, "smoke": 0.633997},
    ),
    (
        {"asia": True, "dysp": True},
        {"probability": 0.0045013750, "tub": 0.087751, "lung": 0.099525, "bronc": 0.811402, "either": 0.182300,
         "xray": 0.219539, "smoke": 0.625920},
    ),
    (
        {"dysp": True, "xray": True},
        {"probability": 0.0706701044, "asia": 0.0139837, "smoke": 0.785610, "tub": 0.113933, "lung": 0.621253,
         "bronc": 0.681869, "either": 0.728725},
    ),
]  # fmt: skip


def asia() -> FaultModel:
    """Lauritzen and Spiegelhalter 1988; every state of the five hidden nodes, and whether it is told of Asia."""
    shares, told = {}, {}
    for name, at in states("asia", "smoke", "tub", "lung", "bronc"):
        either = at["tub"] or at["lung"]
        key = f"{name}+either" if either else name
        told[key] = at | {"either": either}
        shares[key] = (
            chance(0.01, at["asia"])
            * 0.5
            * chance(0.05 if at["asia"] else 0.01, at["tub"])
            * chance(0.10 if at["smoke"] else 0.01, at["lung"])
            * chance(0.60 if at["smoke"] else 0.30, at["bronc"])
        )
    dysp = {(True, True): 0.9, (True, False): 0.8, (False, True): 0.7, (False, False): 0.1}
    return flattened(
        shares,
        {
            "xray": lambda key: 0.98 if told[key]["either"] else 0.05,
            "dysp": lambda key: dysp[told[key]["bronc"], told[key]["either"]],
            "told_asia": lambda key: float(told[key]["asia"]),
        },
    )


@pytest.mark.parametrize(("told", "expect"), ASIA, ids=str)
def test_the_chest_clinic_of_lauritzen_and_spiegelhalter(
    told: dict[str, bool], expect: dict[str, float], verify: Verify
) -> None:
    renamed = {"told_asia" if name == "asia" else name: yes for name, yes in told.items()}
    check(
        asia(), renamed, expect, verify, "Lauritzen and Spiegelhalter 1988, tables; posteriors exact (second-hand)"
    )


def test_the_burglar_and_the_two_neighbours(verify: Verify) -> None:
    alarm = {(True, True): 0.95, (True, False): 0.94, (False, True): 0.29, (False, False): 0.001}
    told, shares = {}, {}
    for name, at in states("burglary", "earthquake", "alarm"):
        told[name] = at
        rings = alarm[at["burglary"], at["earthquake"]]
        shares[name] = chance(0.001, at["burglary"]) * chance(0.002, at["earthquake"]) * chance(rings, at["alarm"])
    model = flattened(
        shares,
        {
            "john": lambda key: 0.90 if told[key]["alarm"] else 0.05,
            "mary": lambda key: 0.70 if told[key]["alarm"] else 0.01,
        },
    )
    source = "Russell and Norvig, Artificial Intelligence (second-hand)"
    expect = {"burglary": 0.28417183536, "earthquake": 0.1760668384, "probability": 0.0020841002390}
    check(model, {"john": True, "mary": True}, expect, verify, source)
    belief = believe(model, Call(answers=(("john", "yes"), ("mary", "yes"))))
    state = belief.frame.hypotheses.index(("alarm",))
    got = belief.weights[state] * exp(belief.log_evidence)
    verify("both call, alarm, no burglar, no quake", got=got, expected=0.00062811126, within=1e-11, relative=False,
           source=source)  # fmt: skip


def test_the_sprinkler_with_rain_explained_away(verify: Verify) -> None:
    told, shares = {}, {}
    for name, at in states("cloudy", "sprinkler", "rain"):
        told[name] = at
        shares[name] = (
            0.5
            * chance(0.1 if at["cloudy"] else 0.5, at["sprinkler"])
            * chance(0.8 if at["cloudy"] else 0.2, at["rain"])
        )
    wet = {(True, True): 0.99, (True, False): 0.9, (False, True): 0.9, (False, False): 0.0}
    model = flattened(
        shares,
        {
            "wet": lambda key: wet[told[key]["sprinkler"], told[key]["rain"]],
            "rains": lambda key: float(told[key]["rain"]),
        },
    )
    source = "Murphy, tutorial (tables from memory, posteriors exact)"
    expect = {"probability": 0.6471, "sprinkler": 0.429764, "rain": 0.707928}
    check(model, {"wet": True}, expect, verify, source)
    check(model, {"wet": True, "rains": True}, {"sprinkler": 0.194499}, verify, source)


def test_the_sprinkler_as_noisy_or_of_any_number_of_causes(verify: Verify) -> None:
    """Wet grass is a noisy-or of sprinkler and rain (0.9 and 0.9 give 0.99); clouds are gone through one by one."""
    joint, total = np.zeros(2), 0.0
    for rates in ([0.1, 0.8], [0.5, 0.2]):
        found = any_number(links(rates, [[0.9, 0.9]], leaks=[0.0]))
        joint += 0.5 * found.shares * found.evidence
        total += 0.5 * found.evidence
    source = "Murphy, tutorial (tables from memory, posteriors exact)"
    verify("wet grass", got=total, expected=0.6471, within=1e-12, source=source)
    verify("sprinkler, any number of causes", got=joint[0] / total, expected=0.429764, within=5e-7,
           relative=False, source=source)  # fmt: skip
    verify("rain, any number of causes", got=joint[1] / total, expected=0.707928, within=5e-7,
           relative=False, source=source)  # fmt: skip
