"""Calls played to their end on the model that ships: minutes to the right repair against simpler ways to go.

Two hundred calls, one answer ahead, so that it takes seconds; the benchmark plays two thousand, two ahead.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from sillwright.trouble.book import fault_book

from .policies import (
    Policy,
    list_on_paper,
    list_with_shares,
    mean_minutes,
    misjudged,
    most_information_first,
    most_probable_first,
    ours,
)

CALLS = 200

pytestmark = pytest.mark.slow


@cache
def minutes(policy: Policy, *, wrong: float = 0.0, factor: float = 1.0) -> list[float]:
    """Minutes of each call; the doors are the same for every policy."""
    model = fault_book()
    believed = misjudged(model, factor) if factor != 1.0 else model
    return mean_minutes(model, policy, CALLS, believed=believed, wrong=wrong)[2]


OURS = ours(ahead=1)


def saved(other: Policy, *, wrong: float = 0.0, factor: float = 1.0) -> tuple[float, float]:
    """Minutes that the advice saves on average, and their standard error, door by door."""
    apart = np.subtract(minutes(other, wrong=wrong, factor=factor), minutes(OURS, wrong=wrong, factor=factor))
    return float(apart.mean()), float(apart.std(ddof=1) / np.sqrt(CALLS))


def test_it_takes_a_quarter_less_than_the_fixed_list() -> None:
    mean, error = saved(list_on_paper)
    assert mean > 0.25 * float(np.mean(minutes(list_on_paper)))
    assert mean > 3 * error


def test_it_takes_less_than_the_likeliest_repair_first() -> None:
    mean, error = saved(most_probable_first)
    assert mean > 3 * error


@pytest.mark.parametrize("other", [list_with_shares, most_information_first], ids=lambda policy: policy.__name__)
def test_it_takes_no_longer_than_policies_that_weigh_every_answer_as_well(other: Policy) -> None:
    mean, error = saved(other)
    assert mean > -2 * error


@pytest.mark.parametrize(("wrong", "factor"), [(0.1, 1.0), (0.0, 3.0), (0.1, 3.0)])
def test_it_is_better_than_the_list_with_shares_three_times_off_and_one_answer_in_ten_wrong(
    wrong: float, factor: float
) -> None:
    mean, error = saved(list_on_paper, wrong=wrong, factor=factor)
    assert mean > 2 * error
