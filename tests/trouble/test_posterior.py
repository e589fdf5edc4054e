"""What is likely after what was told: Bayes by the table, facts, pairs, repairs, and answers that change."""

from __future__ import annotations

from dataclasses import asdict, replace
from math import exp, inf

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.trouble.advising import advise
from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.compiled import compiled
from sillwright.trouble.model import FaultModel
from sillwright.trouble.posterior import believe, marginals

from . import by_hand
from .fault_models import at_random, small

HARM = tuple((each.id, each.outcomes[0].id) for each in fault_book().tests if each.stage == "harm")


def believed(model: FaultModel, call: Call) -> dict[tuple[str, ...], float]:
    belief = believe(model, call)
    return dict(zip(belief.frame.hypotheses, belief.weights.tolist(), strict=True))


def some_call(model: FaultModel, seed: int, *, facts: bool = True) -> Call:
    """A call with a few answers at random."""
    dice = np.random.default_rng(seed)
    tests = dice.permutation(len(model.tests))[: dice.integers(0, len(model.tests) + 1)]
    outcomes = ((model.tests[at], dice.integers(0, len(model.tests[at].outcomes))) for at in tests)
    call = Call(
        symptom=str(dice.choice([each.id for each in model.symptoms])) if dice.random() < 0.8 else None,
        answers=tuple((test.id, test.outcomes[at].id) for test, at in outcomes),
        facts=(("rain", str(dice.choice(["yes", "no"]))),) if facts and dice.random() < 0.5 else (),
        repaired=tuple(each.id for each in model.repairs if dice.random() < 0.2),
    )
    made = ((test, int(dice.integers(0, len(call.repaired) + 1))) for test, _ in call.answers)
    return replace(call, after=tuple(each for each in made if each[1]))


@given(st.integers(0, 10_000), st.booleans())
def test_the_posterior_is_that_of_the_slow_twin(seed: int, zeros: bool) -> None:
    model = at_random(seed, zeros=zeros, repairs=4)
    call = some_call(model, seed)
    expected = by_hand.posterior(model, call)
    found = believed(model, call)
    assert found.keys() == expected.keys()
    for faults, share in expected.items():
        assert found[faults] == pytest.approx(share, abs=1e-12)


@given(st.integers(0, 10_000))
def test_the_order_of_answers_does_not_matter(seed: int) -> None:
    model = at_random(seed)
    call = some_call(model, seed)
    turned = replace(call, answers=tuple(reversed(call.answers)))
    assert np.allclose(believe(model, call).weights, believe(model, turned).weights, atol=1e-12)


@given(st.integers(0, 10_000), st.integers(0, 4))
def test_an_answer_is_expected_to_change_nothing(seed: int, at: int) -> None:
    """Over its outcomes, weighed by how likely each is, the shares stay what they were."""
    model = at_random(seed)
    call = replace(some_call(model, seed), repaired=(), after=())
    test = model.tests[at]
    call = replace(call, answers=tuple(each for each in call.answers if each[0] != test.id))
    before = believe(model, call)
    total = np.zeros_like(before.weights)
    for outcome in test.outcomes:
        after = believe(model, replace(call, answers=(*call.answers, (test.id, outcome.id))))
        if after.possible:
            total += exp(after.log_evidence - before.log_evidence) * after.weights
    assert np.allclose(total, before.weights, atol=1e-12)


def test_dont_know_changes_nothing() -> None:
    call = Call(symptom="HELD", answers=(("lamp", "yes"),))
    unsure = replace(call, answers=(*call.answers, ("ohms", None)))
    assert believed(small(), call) == believed(small(), unsure)


def test_of_two_answers_to_one_test_the_last_counts() -> None:
    changed = Call(answers=(("lamp", "no"), ("half", "yes"), ("lamp", "yes")))
    assert believed(small(), changed) == pytest.approx(believed(small(), Call(answers=changed.answers[1:])))
    taken_back = Call(answers=(("lamp", "no"), ("lamp", None)))
    assert believed(small(), taken_back) == pytest.approx(believed(small(), Call()))


def test_an_open_loop_after_rain_is_the_cord_and_a_low_one_is_water() -> None:
    opened = believed(small(), Call(symptom="HELD", facts=(("rain", "yes"),), answers=(("ohms", "open"),)))
    low = believed(small(), Call(symptom="HELD", facts=(("rain", "yes"),), answers=(("ohms", "low"),)))
    assert opened["CORD_BROKEN",] > 0.6
    assert low["WET_EDGE",] > 0.7


def test_what_a_fact_makes_impossible_is_impossible_in_pairs_too() -> None:
    found = believed(small(), Call(facts=(("circuit", "air"),), answers=(("ohms", "low"),)))
    assert all(share == 0 for faults, share in found.items() if "WET_EDGE" in faults)
    assert sum(found.values()) == pytest.approx(1)


def test_a_fact_told_in_two_ways_is_not_known() -> None:
    twice = Call(facts=(("rain", "yes"), ("rain", "no")))
    assert believed(small(), twice) == believed(small(), Call())
    same = Call(facts=(("rain", "yes"), ("rain", "yes")))
    assert believed(small(), same) == believed(small(), Call(facts=(("rain", "yes"),)))


def test_what_the_complaint_says_already_moves_nothing_once_more() -> None:
    model = small()
    wet = replace(model.symptoms[0], tells=(("rain", "yes"),))
    model = replace(model, symptoms=(wet, *model.symptoms[1:]))
    rain, dry = (("rain", "yes"),), (("rain", "no"),)
    assert believed(model, Call(symptom="HELD", facts=rain)) == believed(model, Call(symptom="HELD"))
    assert believed(model, Call(symptom="NOTHING", facts=rain)) != believed(model, Call(symptom="NOTHING"))
    assert believed(model, Call(symptom="HELD", facts=dry)) == believed(model, Call(symptom="HELD"))


def test_facts_that_leave_nothing_possible_are_not_believed() -> None:
    model = small()
    none = tuple(replace(each, moves=(replace(model.faults[0].moves[0], factor=0.0),)) for each in model.faults)
    model = replace(model, faults=none, unlisted=0.0)
    assert believed(model, Call(facts=(("age", "old"),))) == pytest.approx(believed(model, Call()))


def test_a_repair_that_did_not_help_leaves_what_it_seldom_misses() -> None:
    model = small()
    before, after = believed(model, Call()), believed(model, Call(repaired=("cord",)))
    left = 0.05 * before["CORD_BROKEN",]
    both, edge = before["CORD_BROKEN", "WET_EDGE"], before["WET_EDGE",]
    rest = 1 - 0.95 * before["CORD_BROKEN",]
    assert after["CORD_BROKEN",] == pytest.approx(left / rest)
    assert after["WET_EDGE",] == pytest.approx((edge + 0.95 * both) / rest)
    assert after["CORD_BROKEN", "WET_EDGE"] == pytest.approx(0.05 * both / rest)


def test_an_answer_after_a_repair_speaks_of_what_the_repair_left() -> None:
    """Water and a broken cord; the cord is new, and the loop that was open is now only low: it was both."""
    told = Call(symptom="HELD", answers=(("ohms", "open"), ("lamp", "no")), repaired=("cord",))
    before, after = believed(small(), told), believed(small(), replace(told, after=(("lamp", 1),)))
    assert before != after
    opened = replace(told, answers=told.answers[:1])
    left = believed(small(), opened)
    lamp = {faults: by_hand.outcome_chance(small(), "lamp", "no", faults) for faults in left}
    total = sum(left[faults] * lamp[faults] for faults in left)
    assert after == pytest.approx({faults: left[faults] * lamp[faults] / total for faults in left})


def test_answers_before_every_repair_are_a_call_as_it_always_was() -> None:
    call = Call(symptom="HELD", answers=(("lamp", "yes"), ("ohms", "low")), repaired=("cord", "edge"))
    assert believed(small(), call) == pytest.approx(by_hand.posterior(small(), call))


def test_one_repair_may_mend_both_faults_of_a_pair() -> None:
    model = small()
    same = tuple(replace(each, remedy="edge") for each in model.faults)
    model = replace(model, faults=same, unlisted=0.0)
    before, after = believe(model, Call()), believe(model, Call(repaired=("edge",)))
    assert np.allclose(before.weights, after.weights)
    assert after.log_evidence == pytest.approx(np.log(0.1))


def test_where_nothing_explains_the_answers_the_shares_are_those_without_them() -> None:
    model = replace(at_random(3, pairs=0), unlisted=0.0)
    never = replace(model.tests[0], otherwise=(1.0, *[0.0] * (len(model.tests[0].outcomes) - 1)), likelihood=())
    model = replace(model, tests=(never, *model.tests[1:]))
    belief = believe(model, Call(symptom="S0", answers=((never.id, never.outcomes[1].id),)))
    assert not belief.possible
    assert belief.log_evidence == -inf
    assert np.allclose(belief.weights, believe(model, Call(symptom="S0")).weights)


def test_a_repair_that_always_helps_and_did_not_is_no_division_by_zero() -> None:
    model = small()
    same = tuple(replace(each, remedy="edge") for each in model.faults)
    sure = tuple(replace(each, success=1.0) for each in model.repairs)
    model = replace(model, faults=same, repairs=sure, unlisted=0.0)
    belief = believe(model, Call(repaired=("edge",)))
    assert not belief.possible
    assert belief.weights.sum() == pytest.approx(1)


def test_a_hundred_unlikely_answers_do_not_underflow() -> None:
    model = at_random(5, tests=400, outcomes=2)
    call = Call(answers=tuple((test.id, test.outcomes[-1].id) for test in model.tests))
    belief = believe(model, call)
    assert belief.log_evidence < -100
    assert belief.weights.sum() == pytest.approx(1)


def test_the_share_of_a_fault_counts_it_alone_and_in_pairs() -> None:
    belief = believe(small(), Call())
    shares = dict(zip([each.id for each in small().faults], marginals(belief.frame, belief.weights), strict=True))
    weights = believed(small(), Call())
    expected = weights["WET_EDGE",] + weights["CORD_BROKEN", "WET_EDGE"] + weights["EYE_ALIGN", "WET_EDGE"]
    assert shares["WET_EDGE"] == pytest.approx(expected)


@pytest.mark.parametrize(("circuit", "symptom"), [("plain", "CALL-01"), ("resistor", "CALL-06"), (None, "CALL-01")])
def test_a_broken_lead_is_judged_by_whether_its_circuit_is_watched(circuit: str | None, symptom: str) -> None:
    """A plain circuit hides it, so that nobody holds the button for it; a watched one closes onto nothing."""
    model = fault_book()
    told = Call(symptom=symptom, facts=(("circuit", circuit),) if circuit else ())
    found, expected = believed(model, told), by_hand.posterior(model, told)
    assert found == pytest.approx(expected, abs=1e-12)
    assert (found["LEAD_OPEN",] < 0.05) == (circuit is not None)
    advice = advise(model, Call(**{**asdict(told), "answers": HARM}), ahead=1)
    said = any("which is not known" in each.template for each in advice.next.why) if advice.next else None
    assert said == (circuit is None)


def test_a_model_is_compiled_once_for_the_same_facts() -> None:
    model = small()
    one = compiled(model, (("rain", "yes"), ("age", "old")))
    assert compiled(model, (("age", "old"), ("rain", "yes"))) is one
    assert compiled(small(), (("age", "old"), ("rain", "yes"))) is not one
    assert compiled(model, ()).frame is one.frame
