"""What the next step costs: order of repairs, one and two answers ahead, the compiled twin, the best there is."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import permutations
from math import isfinite

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.choosing import choose
from sillwright.trouble.model import FaultModel
from sillwright.trouble.next_step import Engine, Open, information, known_for_sure, outlook, plans
from sillwright.trouble.posterior import believe

from ..verification import Verify
from . import by_hand, network
from .exact import Step, Told, Way
from .fault_models import at_random, small
from .test_posterior import some_call

ENGINES: tuple[Engine, ...] = ("plain", "kernel")


def everything(model: FaultModel, call: Call) -> Open:
    """All tests that were not answered, and all repairs that were not made."""
    told = dict(call.answers)
    tests = np.array([test.id not in told for test in model.tests])
    return Open(
        offered=tests, later=tests, repairs=np.array([each.id not in call.repaired for each in model.repairs])
    )


@given(st.integers(0, 10_000))
@settings(max_examples=40)
def test_repairs_in_falling_chance_over_cost_are_the_best_order_there_is(seed: int) -> None:
    """One fault, repairs that always work and all of them wanted: no order of them costs less."""
    model = at_random(seed, faults=5, pairs=0)
    sure = tuple(replace(each, success=1.0) for each in model.repairs)
    model = replace(model, repairs=sure, unlisted=0.0, referral=10_000.0)
    belief = believe(model, Call())
    chance = dict(zip([fault.remedy for fault in model.faults], belief.weights[1:].tolist(), strict=True))
    costs = []
    for order in permutations(model.repairs):
        left, spent = 1.0, 0.0
        for repair in order:
            spent += repair.minutes * left
            left -= chance[repair.id]
        costs.append(spent)
    everywhere = np.ones(len(sure), np.bool_)
    assert plans(belief.frame, belief.weights[np.newaxis], everywhere)[0] == pytest.approx(min(costs), rel=1e-12)


def test_three_repairs_cost_what_the_formula_says(verify: Verify) -> None:
    """c = 10, 40, 60 and p = 1/2, 3/10, 1/5: 10 + 40 (1 - 1/2) + 60 (1 - 4/5) = 42."""
    model = small()
    frame = believe(model, Call()).frame
    sure = replace(
        model,
        repairs=tuple(replace(each, success=1.0) for each in model.repairs),
        pairs=(),
        unlisted=0.0,
        referral=1000.0,
    )
    frame = believe(sure, Call()).frame
    weights = np.array([[0.0, 0.3, 0.2, 0.5, 0.0]])  # cord 40, edge 60, eye 10
    got = float(plans(frame, weights, np.ones(4, np.bool_))[0])
    source = "Kadane and Simon 1977; Heckerman, Breese and Rommelse 1995: sum of c (1 - earlier p), by hand"
    verify("three repairs in falling p / c", got=got, expected=42.0, within=1e-12, source=source)


@given(st.integers(0, 10_000), st.integers(1, 2), st.sampled_from(ENGINES))
@settings(max_examples=30)
def test_each_step_costs_what_the_slow_twin_says(seed: int, ahead: int, engine: Engine) -> None:
    model = at_random(seed, faults=5, tests=4, pairs=4, repairs=4, zeros=seed % 3 == 0)
    call = some_call(model, seed)
    made = tuple((test, min(count, 2)) for test, count in call.after)
    call = replace(call, repaired=call.repaired[:2], after=made)
    belief, able = believe(model, call), everything(model, call)
    weights = by_hand.posterior(model, call)
    if not belief.possible:
        return
    seen = outlook(belief.frame, belief.weights, able, ahead=ahead, engine=engine, beam=99)
    shut = frozenset(call.repaired)
    left = frozenset(test.id for at, test in enumerate(model.tests) if able.offered[at])
    later = left if ahead == 2 else frozenset()
    for at, test in enumerate(model.tests):
        if test.id in left:
            expected = by_hand.test_cost(model, weights, test.id, later, shut)
            assert seen.tests[at] == pytest.approx(expected, rel=1e-9)
        else:
            assert seen.tests[at] == np.inf
    for at, repair in enumerate(model.repairs):
        if isfinite(seen.repairs[at]):
            after = by_hand.failed(model, weights, repair.id)
            expected = repair.minutes + by_hand.least(model, after, later, shut | {repair.id})
            assert seen.repairs[at] == pytest.approx(expected, rel=1e-9)
    assert seen.unasked == pytest.approx(by_hand.least(model, weights, later, shut), rel=1e-9)


@given(st.integers(0, 10_000))
@settings(max_examples=30)
def test_a_repair_that_is_left_out_could_not_have_been_the_best_step(seed: int) -> None:
    model = at_random(seed, faults=5, tests=3, pairs=0)
    call = some_call(model, seed)
    belief, able = believe(model, call), everything(model, call)
    seen = outlook(belief.frame, belief.weights, able, ahead=2)
    weights = by_hand.posterior(model, call)
    left = frozenset(test.id for at, test in enumerate(model.tests) if able.offered[at])
    for at, repair in enumerate(model.repairs):
        if able.repairs[at] and not isfinite(seen.repairs[at]):
            shut = frozenset({*call.repaired, repair.id})
            cost = repair.minutes + by_hand.least(model, by_hand.failed(model, weights, repair.id), left, shut)
            assert cost >= seen.unasked - 1e-9


CALLS = [
    Call(),
    Call(symptom="CALL-01"),
    Call(symptom="CALL-06", answers=(("cable_slack", "no"), ("closes_on_objects", "yes"))),
    Call(symptom="CALL-08", repaired=("new_edge",)),
    Call(symptom="CALL-16", answers=(("hold_button", "held"),)),
]


@pytest.mark.parametrize("call", CALLS, ids=lambda call: f"{call.symptom} {len(call.answers)} {call.repaired}")
@pytest.mark.parametrize("ahead", [1, 2])
def test_the_compiled_engine_and_the_plain_one_agree_on_the_model_that_ships(call: Call, ahead: int) -> None:
    model = fault_book()
    belief, able = believe(model, call), everything(model, call)
    plain, fast = (
        outlook(belief.frame, belief.weights, able, ahead=ahead, engine=engine, beam=3) for engine in ENGINES
    )
    assert np.allclose(plain.tests, fast.tests, rtol=1e-9)
    assert np.allclose(plain.repairs, fast.repairs, rtol=1e-9)
    assert plain.unasked == pytest.approx(fast.unasked, rel=1e-9)


@pytest.mark.slow
def test_the_cost_of_a_test_is_that_of_the_posteriors_of_a_library(verify: Verify) -> None:
    """Chance of each outcome and weights after it from a general library, plans by the slow twin."""
    model = at_random(4, faults=8, tests=6, pairs=28, symptoms=3)
    call = Call(symptom="S1", answers=(("T0", "o1"),))
    belief, able = believe(model, call), everything(model, call)
    seen = outlook(belief.frame, belief.weights, able, ahead=1, engine="kernel")
    net, told = network.star(model, call), network.evidence(model, call)
    for at, test in enumerate(model.tests[1:], 1):
        chances = network.posterior(net, told, test.id)
        cost = test.minutes
        for outcome, chance in enumerate(chances):
            after = network.posterior(net, {**told, test.id: outcome})
            weights = dict(zip(belief.frame.hypotheses, after, strict=True))
            cost += chance * by_hand.plan(model, weights, frozenset())
        verify(
            "expected minutes of a test and the repairs after it",
            got=float(seen.tests[at]),
            expected=cost,
            within=1e-9,
            source="pyAgrum 3.3.1 for the posteriors after every outcome, plans in falling p / c in plain Python",
        )


@pytest.mark.parametrize("seed", range(12))
def test_two_answers_ahead_is_within_five_in_a_hundred_of_the_best_way_there_is(seed: int, verify: Verify) -> None:
    dice = random.Random(seed)  # noqa: S311
    faults = dice.choice((4, 5, 6, 10)) if seed else 10
    model = at_random(
        1000 + seed, faults=faults, tests=4, pairs=dice.choice((0, 2)), symptoms=2, repairs=4, own=3, outcomes=2
    )
    way, names = Way(model, "S0"), {test.id: [each.id for each in test.outcomes] for test in model.tests}

    def ours(told: Told, made: tuple[str, ...]) -> Step:
        answers = tuple((test, names[test][outcome]) for test, outcome, _ in told)
        after = tuple((test, len(before)) for test, _, before in told if before)
        call = Call(who="technician", symptom="S0", answers=answers, repaired=made, after=after)
        best = choose(model, call, believe(model, call), engine="kernel").best
        if best.kind == "further":
            return Step("further")
        return Step(best.kind, (model.tests if best.kind == "test" else model.repairs)[best.at].id)

    best, got = way.best(), way.cost_of(ours)
    assert got >= best - 1e-9
    verify("mean minutes of the advice over those of the best way there is", got=got / best, expected=1.0,
           within=0.05, source="exact dynamic programming over every answer and repair")  # fmt: skip


def test_what_is_known_for_sure_never_costs_more_than_a_plan() -> None:
    for seed in range(20):
        model = at_random(seed, pairs=6)
        belief = believe(model, Call())
        shut = np.array([at != 2 for at in range(len(model.repairs))])
        sure = float(known_for_sure(belief.frame, shut) @ belief.weights)
        assert sure <= plans(belief.frame, belief.weights[np.newaxis], shut)[0] + 1e-9


def test_a_test_tells_the_bits_that_its_table_says() -> None:
    """A lamp that is out just where the eye is at fault, which is half of the time, tells one bit."""
    model = small()
    lamp = replace(model.tests[1], otherwise=(1.0, 0.0), likelihood=(("EYE_ALIGN", (0.0, 1.0)),))
    model = replace(model, tests=(lamp,), pairs=(), unlisted=0.0)
    belief = believe(model, Call())
    weights = np.array([0.0, 0.3, 0.1, 0.5, 0.1])
    assert information(belief.frame, weights)[0] == pytest.approx(1.0)
    assert information(belief.frame, np.array([0.0, 1.0, 0.0, 0.0, 0.0]))[0] == pytest.approx(0.0)
    assert information(believe(replace(model, tests=()), Call()).frame, weights).size == 0
