"""Any number of faults at once, against enumeration of all sets, Quickscore in fractions, and a general library."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import product
from math import prod

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange
from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.many import MOST_SHOWN, Links, any_number, links_of
from sillwright.trouble.next_step import Engine

from ..verification import Verify
from .fault_models import at_random, small
from .network import gum
from .noisy import links, quickscore

ENGINES: tuple[Engine, ...] = ("plain", "kernel")


def at_dice(seed: int, faults: int, shown: int, hidden: int = 0, dense: float = 0.5) -> Links:
    """A noisy-or network at random."""
    dice = random.Random(seed)  # noqa: S311

    def rows(count: int) -> list[list[float]]:
        return [[dice.uniform(0.05, 0.95) * (dice.random() < dense) for _ in range(faults)] for _ in range(count)]

    leaks = [dice.choice((0.0, 0.001, 0.05)) for _ in range(shown + hidden)]
    rate = [dice.uniform(0.005, 0.4) for _ in range(faults)]
    return links(rate, rows(shown), [leak or 1e-6 for leak in leaks[:shown]], rows(hidden), leaks[shown:])


def every_set(given: Links) -> tuple[list[float], float]:
    """The sum over all sets of faults."""
    faults, total = len(given.absent), 0.0
    shares = np.zeros(faults)
    for there in product((0, 1), repeat=faults):
        on = [i for i in range(faults) if there[i]]
        weight = prod(given.present[i] if there[i] else given.absent[i] for i in range(faults))
        for upper, lower, high, low in zip(
            given.upper, given.lower, given.leak_upper, given.leak_lower, strict=True
        ):
            weight *= high * prod(upper[i] for i in on) - low * prod(lower[i] for i in on)
        total += weight
        shares += weight * np.array(there)
    return (shares / total).tolist(), total * given.scale


@given(st.integers(0, 10_000), st.sampled_from(ENGINES))
def test_it_is_the_sum_over_all_sets_of_faults(seed: int, engine: Engine) -> None:
    given = at_dice(seed, 6, seed % 4, hidden=seed % 3)
    shares, evidence = every_set(given)
    found = any_number(given, engine=engine)
    assert np.allclose(found.shares, shares, atol=1e-10)
    assert found.evidence == pytest.approx(evidence, rel=1e-9)


@pytest.mark.parametrize("engine", ENGINES)
def test_nothing_is_lost_where_quickscore_loses_twelve_digits(engine: Engine, verify: Verify) -> None:
    """Eight things shown, each of them rare: the signed terms of Quickscore, about 1 each, cancel to 1e-13."""
    dice = random.Random(3)  # noqa: S311
    rate = [dice.uniform(1e-4, 1e-3) for _ in range(9)]
    rows = [[dice.uniform(0.1, 0.9) * (dice.random() < 0.3) for _ in rate] for _ in range(8)]
    given = links(rate, rows, [1e-4] * 8)
    shares, evidence = quickscore(given)
    assert evidence < 1e-11
    found = any_number(given, engine=engine)
    worst = int(np.argmax(np.abs(found.shares - shares)))
    source = "Heckerman 1989, Quickscore, in fractions"
    verify("any number of faults, eight shown: the share that differs most", got=float(found.shares[worst]),
           expected=shares[worst], within=1e-9, relative=False, source=source)  # fmt: skip
    verify("any number of faults, eight shown: chance of all of it", got=found.evidence, expected=evidence,
           within=1e-9, source=source)  # fmt: skip


def test_a_noisy_or_network_has_the_marginals_of_a_general_library(verify: Verify) -> None:
    dice = random.Random(11)  # noqa: S311
    faults, shown, hidden = 10, 5, 4
    rate = [dice.uniform(0.01, 0.3) for _ in range(faults)]
    rows = [[dice.uniform(0.1, 0.9) * (dice.random() < 0.6) for _ in rate] for _ in range(shown + hidden)]
    leaks = [dice.uniform(0.001, 0.1) for _ in rows]
    net = gum.BayesNet()
    for at, share in enumerate(rate):
        net.add(gum.LabelizedVariable(f"f{at}", "", 2))
        net.cpt(f"f{at}")[:] = [1 - share, share]
    for number, row in enumerate(rows):
        net.addNoisyORNet(gum.LabelizedVariable(f"s{number}", "", 2), leaks[number])
        for at, link in enumerate(row):
            if link:
                net.addWeightedArc(f"f{at}", f"s{number}", link)
    told = {f"s{number}": int(number < shown) for number in range(len(rows))}
    engine = gum.LazyPropagation(net)
    engine.setEvidence(told)
    engine.makeInference()
    found = any_number(links(rate, rows[:shown], leaks[:shown], rows[shown:], leaks[shown:]))
    for at in range(faults):
        verify("any number of faults, marginal", got=float(found.shares[at]),
               expected=float(engine.posterior(f"f{at}").toarray()[1]), within=1e-9, relative=False,
               source="pyAgrum 3.3.1, noisy-or gates, lazy propagation")  # fmt: skip
    verify("any number of faults, chance of all that was told", got=found.evidence,
           expected=float(engine.evidenceProbability()), within=1e-9,
           source="pyAgrum 3.3.1, noisy-or gates, lazy propagation")  # fmt: skip


@pytest.mark.parametrize("seed", range(4))
def test_a_test_of_three_outcomes_shows_the_latest_that_any_fault_shows(seed: int) -> None:
    """By drawing: each fault there, and the door itself, shows something; the latest of it is seen."""
    model = at_random(seed, faults=3, tests=2, pairs=0, outcomes=3, own=2, symptoms=1)
    call = Call(answers=tuple((test.id, test.outcomes[-1].id) for test in model.tests))
    given = links_of(model, call)
    dice, kept, hits = np.random.default_rng(seed), np.zeros(3), 0
    for _ in range(10_000):
        there = dice.random(3) < 1 - given.absent
        seen = []
        for at in range(len(given.upper)):
            # "at most what was seen" is certain for the last outcome; "less than that" fails where one shows it
            low = given.leak_lower[at] * np.prod(given.lower[at][there])
            seen.append(dice.random() >= low)
        if all(seen):
            hits += 1
            kept += there
    found = any_number(given)
    assert found.evidence / given.scale == pytest.approx(hits / 10_000, abs=5 * 0.5 / 100)
    if hits > 400:
        assert np.allclose(found.shares, kept / hits, atol=5 * 0.5 / hits**0.5)


def test_where_rows_are_noisy_or_already_one_fault_weighs_what_its_row_says() -> None:
    model = replace(small(), pairs=(), unlisted=0.0)
    given = links_of(model, Call(answers=(("ohms", "right"), ("lamp", "yes"))))
    rows = dict(model.tests[3].likelihood)
    assert given.scale == pytest.approx(0.94)
    assert given.present[0] / (1 - given.absent[0]) == pytest.approx(rows["CORD_BROKEN"][0] / 0.94)
    assert given.leak_lower[0] * given.lower[0][2] == pytest.approx(0.1)


def test_one_strong_answer_speaks_for_its_fault_and_then_explains_the_others_away() -> None:
    model = small()
    held = any_number(links_of(model, Call(symptom="HELD"))).shares
    lamp = any_number(links_of(model, Call(symptom="HELD", answers=(("lamp", "yes"),)))).shares
    eye, cord = 2, 0
    assert lamp[eye] > 0.8 > held[eye]
    assert lamp[cord] < held[cord]


def test_what_is_not_known_and_what_was_answered_before_do_not_count() -> None:
    model = small()
    one = any_number(links_of(model, Call(answers=(("lamp", "no"), ("ohms", None), ("lamp", "yes")))))
    assert one.shares == pytest.approx(any_number(links_of(model, Call(answers=(("lamp", "yes"),)))).shares)


@pytest.mark.parametrize("engine", ENGINES)
def test_where_nothing_explains_it_all_shares_are_nothing(engine: Engine) -> None:
    found = any_number(links([0.1, 0.2], [[0.0, 0.0]], [0.0]), engine=engine)
    assert found.evidence == 0
    assert not found.shares.any()


@pytest.mark.parametrize("engine", ENGINES)
def test_forty_answers_to_the_model_that_ships_are_weighed_alike(engine: Engine) -> None:
    model = fault_book()
    call = Call(symptom="CALL-01", answers=tuple((test.id, test.outcomes[0].id) for test in model.tests[:40]))
    found = any_number(links_of(model, call), engine=engine)
    assert found.shares.any()
    assert found.shares == pytest.approx(any_number(links_of(model, call)).shares, rel=1e-9)


def test_too_many_answers_that_show_something_are_refused() -> None:
    model = at_random(1, tests=30)
    call = Call(answers=tuple((test.id, test.outcomes[-1].id) for test in model.tests))
    with pytest.raises(OutOfRange, match=f"30 answers show something; at most {MOST_SHOWN}"):
        any_number(links_of(model, call))
