"""Exact search: is there a cutting that costs at most so much? Compiled, knows no models.

Bar by bar: the longest piece that is left has to lie in some bar; only patterns are tried to which no further
piece can be added, and only those whose loss against the linear bound's prices leaves a rest of the budget. The
prices are whole numbers, so that nothing is lost to round-off. Nothing here is called from another kernel's file.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import compiled
from sillwright.takeoff.cutting.kernel import Ints

Floats = NDArray[np.float64]  # whole numbers below 2^53
Order = tuple[Ints, Ints, Ints, Ints, Ints]  # widths, counts, rooms, costs, limits
Prices = tuple[Floats, Floats, float]  # of a piece of each width, of one of each stock, and of one unit of cost
Branches = tuple[Ints, Floats, Ints]  # patterns, what each loses, its stock
Memory = tuple[Ints, Ints, Ints, Floats]  # factors of widths, of stocks; states that failed, with what budget

FOUND, NONE, GAVE_UP = 1, 0, -1
SLOTS = 1 << 16  # of the memory
A_NODE = 4096  # patterns at most that are tried at one place; beyond, nothing is proven
STEPS = 100_000  # at most to list the patterns at one place


@compiled
def rests(widths: Ints, counts: Ints, prices: Floats, most: int) -> Floats:
    """The most that pieces from a width on are worth in a room: a row for each width, a column for each room."""
    kinds = len(widths)
    best = np.zeros((kinds + 1, most + 1))
    for i in range(kinds - 1, -1, -1):
        row = best[i]
        for c in range(most + 1):
            row[c] = best[i + 1, c]
        rest, several = min(counts[i], most // widths[i]), 1
        while rest > 0:
            several = min(several, rest)
            size, worth = widths[i] * several, prices[i] * several
            for c in range(most, size - 1, -1):
                row[c] = max(row[c], row[c - size] + worth)
            rest -= several
            several *= 2
    return best


@compiled
def is_full(widths: Ints, left: Ints, taken: Ints, first: int, room: int) -> bool:
    """Whether no further piece goes into the room."""
    for i in range(len(widths) - 1, first - 1, -1):
        if left[i] > taken[i]:
            return bool(widths[i] > room)
    return True


@compiled
def patterns(
    widths: Ints, left: Ints, first: int, room: int, best: Floats, prices: Floats, least: float,
    rows: Ints, worth: Floats, many: int,
) -> tuple[int, int]:  # fmt: skip
    """List the full patterns with the piece ``first`` in them that are worth at least ``least``, from row ``many``
    on: how many rows there are now, and the steps it took; −1 − rows where it stopped early."""
    kinds, end = len(widths), min(len(rows), many + A_NODE)
    taken = np.zeros(kinds, np.int64)
    at, value, steps = first, 0.0, 0
    while steps <= STEPS:
        while at < kinds:
            most = min(left[at], room // widths[at])
            taken[at] = most
            room -= most * widths[at]
            value += most * prices[at]
            steps += 1
            if value + best[at + 1, room] < least:
                break
            at += 1
        if at == kinds and taken[first] > 0 and is_full(widths, left, taken, first, room):
            if many >= end:
                return -1 - many, steps
            for i in range(kinds):
                rows[many, i] = taken[i]
            worth[many] = value
            many += 1
        at = min(at, kinds - 1)
        while True:
            while at >= first and taken[at] == 0:
                at -= 1
            if at < first or (at == first and taken[first] <= 1):
                return many, steps
            taken[at] -= 1
            room += widths[at]
            value -= prices[at]
            steps += 1
            if value + best[at + 1, room] >= least:
                break
        at += 1
    return -1 - many, steps


@compiled
def memory_for(counts: Ints, limits: Ints) -> Memory:
    """Room to remember states that failed; no factors where a state does not fit into one number."""
    kinds, stocks = np.zeros(len(counts), np.int64), np.zeros(len(limits), np.int64)
    size, factor = 1.0, 1
    for at in range(len(counts) + len(limits)):
        some = counts[at] if at < len(counts) else max(limits[at - len(counts)], 0)
        size *= some + 1.0
        if size > 4e18:
            return kinds, stocks, np.zeros(0, np.int64), np.zeros(0)
        if at < len(counts):
            kinds[at] = factor
        elif some > 0:
            stocks[at - len(counts)] = factor
        factor *= some + 1
    return kinds, stocks, np.full(SLOTS, -1), np.zeros(SLOTS)


@compiled
def state_of(memory: Memory, left: Ints, stock: Ints) -> int:
    """A state as one number."""
    state = 0
    for i in range(len(left)):
        state += memory[0][i] * left[i]
    for k in range(len(stock)):
        state += memory[1][k] * max(stock[k], 0)
    return state


@compiled
def slot_of(state: int) -> int:
    """Where a state is remembered."""
    return int(((state ^ (state >> 29)) * 6364136223846793005 >> 33) & (SLOTS - 1))


@compiled
def has_failed(memory: Memory, state: int, budget: float) -> bool:
    """Whether a state is known to fail with this budget."""
    if len(memory[2]) == 0:
        return False
    slot = slot_of(state)
    return bool(memory[2][slot] == state and memory[3][slot] >= budget)


@compiled
def remember(memory: Memory, state: int, budget: float) -> None:
    """Keep that a state fails with this budget."""
    if len(memory[2]) > 0:
        slot = slot_of(state)
        memory[2][slot], memory[3][slot] = state, budget


@compiled
def sort(branches: Branches, start: int, end: int) -> None:
    """Put those first that lose least (Shell's sort)."""
    rows, losses, of = branches
    gap = (end - start) // 2
    while gap > 0:
        for at in range(start + gap, end):
            here = at
            while here >= start + gap and losses[here - gap] > losses[here]:
                other = here - gap
                losses[here], losses[other] = losses[other], losses[here]
                of[here], of[other] = of[other], of[here]
                for i in range(rows.shape[1]):
                    rows[here, i], rows[other, i] = rows[other, i], rows[here, i]
                here = other
        gap //= 2


@compiled
def branch(
    order: Order, prices: Prices, best: Floats, left: Ints, stock: Ints, budget: float, money: int,
    branches: Branches, start: int,
) -> tuple[int, int, bool]:  # fmt: skip
    """The next bars to try, those that lose least first: the end of their rows, steps, whether all are there."""
    widths, _, rooms, costs, _ = order
    first, end, steps, complete = 0, start, 0, True
    while left[first] == 0:
        first += 1
    for k in range(len(rooms)):
        if rooms[k] < widths[first] or stock[k] == 0 or costs[k] > money:
            continue
        full = costs[k] * prices[2] + prices[1][k]
        before = end
        end, more = patterns(
            widths, left, first, rooms[k], best, prices[0], full - budget, branches[0], branches[1], end
        )
        steps += more
        if end < 0:
            end, complete = -1 - end, False
        for at in range(before, end):
            branches[1][at], branches[2][at] = full - branches[1][at], k
    sort(branches, start, end)
    return end, steps, complete


@compiled
def chosen(branches: Branches, rows: Ints, number: int) -> tuple[Ints, Ints]:
    """The stocks and the patterns of the bars that were chosen."""
    of, found = np.zeros(number, np.int64), np.zeros((number, branches[0].shape[1]), np.int64)
    for at in range(number):
        of[at] = branches[2][rows[at]]
        for i in range(branches[0].shape[1]):
            found[at, i] = branches[0][rows[at], i]
    return of, found


@compiled
def search(
    order: Order, prices: Prices, money: int, reach: Ints, unit: int, work: int, space: int
) -> tuple[int, Ints, Ints, int]:
    """Look for a cutting that costs at most ``money``: the verdict, stocks and patterns of its bars, steps taken.

    ``reach`` says what length the cheapest stock gives for each multiple of ``unit`` of cost (empty = not known).
    """
    widths, counts, rooms, costs, limits = order
    longest, most, need = 0, 1, 0
    for room in rooms:
        longest = max(longest, room)
    for i in range(len(widths)):
        most += counts[i]
        need += widths[i] * counts[i]
    best, memory = rests(widths, counts, prices[0], longest), memory_for(counts, limits)
    branches = (np.zeros((space, len(widths)), np.int64), np.zeros(space), np.zeros(space, np.int64))
    now, end, budgets, states = (
        np.zeros(most, np.int64), np.zeros(most, np.int64), np.zeros(most), np.zeros(most, np.int64),
    )  # fmt: skip
    left, stock = counts.copy(), limits.copy()
    budgets[0] = money * prices[2]
    for i in range(len(widths)):
        budgets[0] -= prices[0][i] * counts[i]
    for k in range(len(limits)):
        budgets[0] += prices[1][k] * max(limits[k], 0)
    steps, complete, fresh = 0, True, budgets[0] >= 0.0
    depth = 0 if fresh else -1
    while depth >= 0 and steps <= work:
        if fresh:
            now[depth] = end[depth - 1] if depth > 0 else 0
            end[depth], states[depth] = now[depth], state_of(memory, left, stock)
            enough = len(reach) == 0 or reach[money // unit] >= need
            if enough and not has_failed(memory, states[depth], budgets[depth]):
                end[depth], more, all_there = branch(
                    order, prices, best, left, stock, budgets[depth], money, branches, now[depth]
                )
                steps += more
                complete = complete and all_there
            fresh = False
        if now[depth] < end[depth]:
            bar, sign = now[depth], 1
        else:
            if complete:
                remember(memory, states[depth], budgets[depth])
            depth -= 1
            if depth < 0:
                break
            bar, sign = now[depth], -1
            now[depth] += 1
        k = branches[2][bar]
        for i in range(len(widths)):
            left[i] -= sign * branches[0][bar, i]
            need -= sign * branches[0][bar, i] * widths[i]
        money -= sign * costs[k]
        stock[k] -= sign if limits[k] >= 0 else 0
        steps += len(widths)
        if sign > 0 and need == 0:
            return FOUND, *chosen(branches, now, depth + 1), steps
        if sign > 0:
            budgets[depth + 1] = budgets[depth] - branches[1][bar]
            depth += 1
            fresh = True
    return NONE if depth < 0 and complete else GAVE_UP, *chosen(branches, now, 0), steps
