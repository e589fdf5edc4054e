"""What the next step costs, one and two answers ahead: compiled, arrays in, arrays out, knows no models.

What a plan of repairs costs depends on sums over the hypotheses only, and a test tells something of few of them;
of all others an outcome is as likely as of any other. So the sums are shrunk by that share, and only the few are
gone through. A repair that is not worth making even where everything else has been made is left out before the
others are put in order, and a second test where it costs more than knowing the fault for sure would spare. None of
that changes the answer. Compiled code is kept on disk where that is possible.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import compiled

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]


class Bench(NamedTuple):
    """The model: by outcome, by hypothesis, by test and by repair."""

    rows: Floats
    otherwise: Floats
    start: Ints
    touch_start: Ints
    touched: Ints
    test_minutes: Floats
    first: Ints
    second: Ints
    remedy: Ints
    repair_minutes: Floats
    success: Floats
    partner_start: Ints  # of a repair, in `partners`: the repairs with which it mends a pair
    partners: Ints
    referral: float


class Mending(NamedTuple):
    """By hypothesis: its repair, the other one where it takes two, what these end and count of its weight, and the
    least that it costs where it is known for sure."""

    one: Ints
    other: Ints
    ends: Floats
    half_one: Floats
    half_other: Floats
    known: Floats


class Room(NamedTuple):
    """Sums of weights by what mends them, and room to work in.

    ``gain`` is what a repair ends by itself, ``half`` what it counts for pairs that take another one too, ``both``
    what two repairs end together (the lower number first).
    """

    gain: Floats
    half: Floats
    both: Floats
    gain_then: Floats
    half_then: Floats
    both_more: Floats
    order: Ints  # of the repairs that end anything; `live` of them
    live: Ints
    kept: Ints
    ratio: Floats
    made: Flags


@compiled
def room_for(count: int) -> Room:
    """Room for plans of so many repairs."""
    return Room(
        np.zeros(count),
        np.zeros(count),
        np.zeros((count, count)),
        np.zeros(count),
        np.zeros(count),
        np.zeros((count, count)),
        np.arange(count),
        np.zeros(1, np.int64),
        np.zeros(count, np.int64),
        np.zeros(count),
        np.zeros(count, np.bool_),
    )


@compiled
def mending(bench: Bench, shut: Flags) -> Mending:
    """What the repairs that may be made do for each hypothesis."""
    count = len(bench.first)
    nothing, known = np.zeros(count), np.full(count, bench.referral)
    found = Mending(np.full(count, -1), np.full(count, -1), nothing.copy(), nothing.copy(), nothing, known)
    for h in range(1, count):
        a = b = bench.remedy[bench.first[h]]
        if bench.second[h] >= 0:
            b = bench.remedy[bench.second[h]]
        if shut[a] or shut[b]:
            continue
        a, b = min(a, b), max(a, b)
        found.one[h], found.ends[h] = a, bench.success[a]
        if a != b:
            found.other[h] = b
            found.half_one[h], found.half_other[h] = 0.5 * bench.success[a], 0.5 * bench.success[b]
            found.ends[h] *= bench.success[b]
        minutes = bench.repair_minutes[a] + (bench.repair_minutes[b] if a != b else 0.0)
        known[h] = min(bench.referral, minutes + (1.0 - found.ends[h]) * bench.referral)
    return found


@compiled
def add_up(
    some: Ints, weights: Floats, row: Floats, share: float, does: Mending, gain: Floats, half: Floats, both: Floats
) -> tuple[float, float]:
    """Add what some hypotheses weigh more than by ``share``; that weight, and what repairs end of it."""
    total = ended = 0.0
    one, other, end, half_one, half_other, _ = does
    for h in some:
        weight = weights[h] * (row[h] - share)
        total += weight
        a, b = one[h], other[h]
        if a >= 0:
            ends = weight * end[h]
            ended += ends
            if b < 0:
                gain[a] += ends
            else:
                half[a] += weight * half_one[h]
                half[b] += weight * half_other[h]
                both[a, b] += ends
    return total, ended


@compiled
def plan_cost(
    total: float, ended: float, share: float, gain: Floats, half: Floats, bench: Bench, room: Room
) -> float:
    """Minutes of repairs in falling chance over cost, and of asking further where that is cheaper than to go on.

    A pair counts half for either repair, so that a step ends at most twice what it counts.
    """
    _, _, both, _, _, more, order, live, kept, ratio, made = room  # taken out once
    minutes, starts, partners, referral = bench.repair_minutes, bench.partner_start, bench.partners, bench.referral
    last, count = (total - ended) / (2.0 * referral), 0
    for r in order[: live[0]]:
        chance = gain[r] + half[r]
        if chance <= 0.0 or chance <= last * minutes[r]:
            continue
        ratio[r] = chance / minutes[r]
        at = count
        while at > 0 and (ratio[kept[at - 1]] < ratio[r] or (ratio[kept[at - 1]] == ratio[r] and kept[at - 1] > r)):
            kept[at] = kept[at - 1]
            at -= 1
        kept[at] = r
        count += 1
    left, spent, best = total, 0.0, referral * total
    for k in range(count):
        r = kept[k]
        spent += minutes[r] * left
        left -= gain[r]
        if half[r] > 0.0:
            others = partners[starts[r] : starts[r + 1]]
            for other in others if len(others) < k else kept[:k]:
                if made[other]:
                    low, high = min(other, r), max(other, r)
                    left -= share * both[low, high] + more[low, high]
        made[r] = True
        best = min(best, spent + referral * left)
    for k in range(count):
        made[kept[k]] = False
    return best + 0.0


@compiled
def put_in_order(bench: Bench, room: Room) -> None:
    """The greatest chance over cost first, so that a plan after an outcome is nearly in order from the start.

    Repairs that end nothing now end nothing after any outcome, and are left out.
    """
    order, ratio, gain, half, count = room.order, room.ratio, room.gain, room.half, 0
    for r in range(len(order)):
        if gain[r] + half[r] > 0.0:
            ratio[r] = (gain[r] + half[r]) / bench.repair_minutes[r]
            at = count
            while at > 0 and ratio[order[at - 1]] < ratio[r]:
                order[at] = order[at - 1]
                at -= 1
            order[at] = r
            count += 1
    room.live[0] = count


@compiled
def sums(weights: Floats, bench: Bench, does: Mending, room: Room) -> tuple[float, float]:
    """Sum the weights by what mends them; the total, and what repairs end of it."""
    room.gain[:], room.half[:], room.both[:] = 0.0, 0.0, 0.0
    room.gain_then[:], room.half_then[:] = 0.0, 0.0
    every, sure = np.arange(len(weights)), np.ones(len(weights))
    total, ended = add_up(every, weights, sure, 0.0, does, room.gain, room.half, room.both)
    put_in_order(bench, room)
    return total, ended


@compiled
def test_cost(
    weights: Floats, total: float, ended: float, t: int, bench: Bench, does: Mending, room: Room
) -> float:
    """The cost of a test and of the repairs after it."""
    cost: float = bench.test_minutes[t] * total
    some = bench.touched[bench.touch_start[t] : bench.touch_start[t + 1]]
    for o in range(bench.start[t], bench.start[t + 1]):
        cost += then_cost(weights, total, ended, o, some, bench, does, room)
    return cost


@compiled
def then_cost(
    weights: Floats, total: float, ended: float, o: int, some: Ints, bench: Bench, does: Mending, room: Room
) -> float:
    """The cost of the repairs after an outcome, times how likely it is."""
    share, gain, half, both = bench.otherwise[o], room.gain_then, room.half_then, room.both_more
    gain_now, half_now, one, other = room.gain, room.half, does.one, does.other
    for r in room.order[: room.live[0]]:
        gain[r] = share * gain_now[r]
        half[r] = share * half_now[r]
    more, ends = add_up(some, weights, bench.rows[o], share, does, gain, half, both)
    left, cost = share * total + more, 0.0
    if left > 0.0:
        cost = plan_cost(left, share * ended + ends, share, gain, half, bench, room)
    for h in some:
        if other[h] >= 0:
            both[one[h], other[h]] = 0.0
    return cost


@compiled
def tests_cost(weights: Floats, bench: Bench, tests: Flags, shut: Flags) -> Floats:
    """The cost of each test and of the repairs after it; infinite for a test that is not open."""
    room, does, values = room_for(len(shut)), mending(bench, shut), np.full(len(tests), np.inf)
    total, ended = sums(weights, bench, does, room)
    for t in range(len(tests)):
        if tests[t]:
            values[t] = test_cost(weights, total, ended, t, bench, does, room)
    return values


@compiled
def least_cost(several: Floats, bench: Bench, tests: Flags, shut: Flags) -> Floats:
    """The least cost with at most one test, for each of several weights."""
    room, does, found = room_for(len(shut)), mending(bench, shut), np.zeros(len(several))
    for at in range(len(several)):
        weights = several[at]
        total, ended = sums(weights, bench, does, room)
        best = plan_cost(total, ended, 1.0, room.gain, room.half, bench, room)
        spared = best
        for h in range(len(weights)):
            spared -= weights[h] * does.known[h]
        for t in range(len(tests)):
            if tests[t] and bench.test_minutes[t] * total < spared:
                best = min(best, test_cost(weights, total, ended, t, bench, does, room))
        found[at] = best
    return found
