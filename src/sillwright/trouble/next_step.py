"""What each possible next step costs, to the right repair and on average.

Repairs are made in falling chance over cost (Kadane and Simon 1977): with chances p and minutes c the expected
minutes are the sum of c times one less all earlier p. Where it is cheaper to ask somebody else, the plan ends
there. A pair that takes two repairs ends with the later of them; each of them counts half of it for the order. A
test is worth its minutes where the plans after its outcomes are that much shorter; one answer ahead, or two.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Literal, cast

import numpy as np
from numpy.typing import NDArray

from sillwright.trouble.compiled import Floats, Frame
from sillwright.trouble.posterior import after_repair, marginals

if TYPE_CHECKING:
    from sillwright.trouble.kernel import Bench

Flags = NDArray[np.bool_]
Engine = Literal["plain", "kernel"]
BEAM = 8
"""So many tests are looked at two answers ahead, and as many again."""
SHORTEST = 0.1
"""Minutes. A test that takes no time is weighed as if it took so long."""


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Open:
    """What may be done: tests now, tests after the next answer, and repairs."""

    offered: Flags
    later: Flags
    repairs: Flags


@dataclass(frozen=True, kw_only=True, slots=True, eq=False)
class Outlook:
    """Expected minutes by test and by repair, infinite where one is not open.

    A repair that cannot pay, even where it were the last, is infinite as well. ``unasked`` is what it costs to go
    on without asking anything now, that is with one answer less.
    """

    tests: Floats
    repairs: Floats
    unasked: float


def outlook(
    frame: Frame, weights: Floats, able: Open, *, ahead: int = 2, engine: Engine = "plain", beam: int = BEAM
) -> Outlook:
    """The cost of every step that is open, looking one or two answers ahead.

    Two ahead, only the ``beam`` tests are looked at that are best one ahead, and as many that tell most a minute;
    the others cost infinitely much then.
    ``engine`` "kernel" is the compiled one; the plain one needs no compiler and takes tens of times longer.
    """
    cost, least = ENGINES[engine]
    tests = cost(frame, weights, able.offered, able.repairs)
    later = able.later & (ahead > 1)
    if ahead > 1:
        best, tests = _beam(frame, weights, tests, beam), np.full_like(tests, np.inf)
        for t in best:
            others = later & (np.arange(len(tests)) != t)
            then = least(frame, weights * frame.rows[frame.outcomes(t)], others, able.repairs)
            tests[t] = frame.test_minutes[t] * weights.sum() + then.sum()
    repairs = np.full(len(able.repairs), np.inf)
    mended = np.bincount(frame.remedy, marginals(frame, weights), minlength=len(repairs)) * frame.success
    for r in np.flatnonzero(able.repairs & (mended * frame.model.referral > frame.repair_minutes)).tolist():
        left, others = after_repair(frame, weights, r), able.repairs & (np.arange(len(repairs)) != r)
        repairs[r] = frame.repair_minutes[r] + least(frame, left[np.newaxis], later, others)[0]
    unasked = float(least(frame, weights[np.newaxis], later, able.repairs)[0])
    return Outlook(tests=tests, repairs=repairs, unasked=unasked)


def _beam(frame: Frame, weights: Floats, costs: Floats, beam: int) -> list[int]:
    """The open tests that are best one ahead, and those that tell most a minute: they may pay with the next one."""
    a_minute = information(frame, weights) / np.maximum(frame.test_minutes, SHORTEST)
    cheap, telling = np.argsort(costs, kind="stable"), np.argsort(-a_minute, kind="stable")
    telling = telling[np.isfinite(costs[telling])]
    both = dict.fromkeys([*cheap[:beam].tolist(), *telling[:beam].tolist()])
    return [at for at in both if np.isfinite(costs[at])]


def tests_cost(frame: Frame, weights: Floats, tests: Flags, repairs: Flags) -> Floats:
    """Minutes of each test and of the repairs after it; infinite for a test that is not open."""
    costs: Floats = np.where(tests, frame.test_minutes * weights.sum(), np.inf)
    counts = np.diff(frame.start)
    rows = np.repeat(tests, counts)
    which = np.repeat(np.arange(len(tests)), counts)[rows]
    np.add.at(costs, which, plans(frame, weights * frame.rows[rows], repairs))
    return costs


def least_cost(frame: Frame, several: Floats, tests: Flags, repairs: Flags) -> Floats:
    """The least cost with at most one test, for each of several weights.

    A test is left out where it costs more than knowing the fault for sure would spare.
    """
    best = plans(frame, several, repairs)
    spared = best - several @ known_for_sure(frame, repairs)
    for at, weights in enumerate(several):
        worth = tests & (frame.test_minutes * weights.sum() < spared[at])
        if worth.any():
            best[at] = min(best[at], tests_cost(frame, weights, worth, repairs).min())
    return best


def _compiled_tests_cost(frame: Frame, weights: Floats, tests: Flags, repairs: Flags) -> Floats:
    from sillwright.trouble import kernel

    return kernel.tests_cost(weights, _bench(frame), tests, ~repairs)


def _compiled_least_cost(frame: Frame, several: Floats, tests: Flags, repairs: Flags) -> Floats:
    from sillwright.trouble import kernel

    return kernel.least_cost(several, _bench(frame), tests, ~repairs)


Cost = Callable[[Frame, Floats, Flags, Flags], Floats]
ENGINES: dict[Engine, tuple[Cost, Cost]] = {
    "plain": (tests_cost, least_cost),
    "kernel": (_compiled_tests_cost, _compiled_least_cost),
}
"""Of each engine: the cost of tests, and the least cost with at most one test."""


def known_for_sure(frame: Frame, repairs: Flags) -> Floats:
    """The least that each hypothesis costs where it is known for sure."""
    referral = frame.model.referral
    one = frame.remedy[frame.first]
    other = np.where(frame.second >= 0, frame.remedy[frame.second], one)
    twice = one != other
    ends = frame.success[one] * np.where(twice, frame.success[other], 1.0)
    minutes = frame.repair_minutes[one] + np.where(twice, frame.repair_minutes[other], 0.0)
    found = np.minimum(referral, minutes + (1.0 - ends) * referral)
    return np.where((frame.first >= 0) & repairs[one] & repairs[other], found, referral)


def plans(frame: Frame, several: Floats, repairs: Flags) -> Floats:
    """Minutes of the repairs alone, for each of several weights (hypothesis across), which need not add to one."""
    success = frame.success * repairs
    one, other = frame.remedy[frame.first[frame.split]], frame.remedy[frame.second[frame.split]]
    pairs = several[:, frame.split] * (repairs[one] & repairs[other])
    ended = (several @ _mending(frame)) * success
    credit = ended + (pairs @ _halves(frame)) * success
    order = np.argsort(-credit / frame.repair_minutes, axis=1, kind="stable")
    place = np.empty_like(order)
    np.put_along_axis(place, order, np.arange(order.shape[1])[np.newaxis], axis=1)
    ended = np.take_along_axis(ended, order, axis=1)
    flat = np.arange(len(several))[:, np.newaxis] * len(frame.success) + np.maximum(place[:, one], place[:, other])
    both = pairs * (success[one] * success[other])
    ended += np.bincount(flat.ravel(), both.ravel(), minlength=ended.size).reshape(ended.shape)
    total = several.sum(axis=1, keepdims=True)
    left = total - np.cumsum(ended, axis=1)
    spent = np.cumsum(frame.repair_minutes[order] * np.concatenate([total, left[:, :-1]], axis=1), axis=1)
    ends = np.concatenate([np.zeros_like(total), spent], axis=1)
    ends += frame.model.referral * np.concatenate([total, left], axis=1)
    return cast(Floats, ends.min(axis=1))


@lru_cache(maxsize=8)
def _mending(frame: Frame) -> Floats:
    """Which repair mends a hypothesis by itself: hypothesis down, repair across."""
    found = np.zeros((len(frame.solo), len(frame.success)))
    alone = np.flatnonzero(frame.solo >= 0)
    found[alone, frame.solo[alone]] = 1.0
    return found


@lru_cache(maxsize=8)
def _halves(frame: Frame) -> Floats:
    """What a pair that takes two repairs counts for each of them: pair down, repair across."""
    found = np.zeros((len(frame.split), len(frame.success)))
    for each in (frame.first, frame.second):
        found[np.arange(len(frame.split)), frame.remedy[each[frame.split]]] = 0.5
    return found


@lru_cache(maxsize=8)
def _bench(frame: Frame) -> Bench:
    from sillwright.trouble.kernel import Bench

    one, other = frame.remedy[frame.first[frame.split]], frame.remedy[frame.second[frame.split]]
    both_ways = np.concatenate([np.stack([one, other], axis=1), np.stack([other, one], axis=1)])
    pairs = np.unique(both_ways, axis=0).reshape(-1, 2)
    return Bench(
        rows=frame.rows,
        otherwise=frame.otherwise,
        start=frame.start,
        touch_start=frame.touch_start,
        touched=frame.touched,
        test_minutes=frame.test_minutes,
        first=frame.first,
        second=frame.second,
        remedy=frame.remedy,
        repair_minutes=frame.repair_minutes,
        success=frame.success,
        partner_start=np.searchsorted(pairs[:, 0], np.arange(len(frame.success) + 1)),
        partners=np.ascontiguousarray(pairs[:, 1]),
        referral=frame.model.referral,
    )


def information(frame: Frame, weights: Floats) -> Floats:
    """How many bits each test is expected to tell of the hypotheses."""
    with np.errstate(divide="ignore", invalid="ignore"):
        terms = np.where(frame.rows > 0, frame.rows * np.log2(frame.rows), 0.0)
        chance = frame.rows @ weights
        overall = np.where(chance > 0, chance * np.log2(chance), 0.0)
    each = terms @ weights - overall
    found: Floats = np.add.reduceat(np.append(each, 0.0), frame.start[:-1]) if len(frame.start) > 1 else each
    return found
