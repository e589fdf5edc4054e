"""Bars filled as full as they go: subset sums in bits, a first cutting, and its repair. Compiled, knows no models.

Widths are whole numbers, each piece with its saw cut; ``left`` and patterns count pieces of each width. Compiled
code is kept on disk where that is possible. No function here is called from another kernel's file: what is kept
on disk would not notice a change. Loops are written out: they compile several times faster than array expressions.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import compiled

Ints = NDArray[np.int64]
Bits = NDArray[np.uint64]
Desk = tuple[Bits, Ints, Ints]  # reachable sums layer by layer; the width and the number of pieces of each layer

MOST_BARS = 5
"""So many bars at most are emptied and filled anew at once."""


@compiled
def below(state: Bits, number: int) -> int:
    """The next number of a reproducible sequence (xorshift), at least 0 and below ``number``."""
    x = state[0]
    x ^= x << np.uint64(13)
    x ^= x >> np.uint64(7)
    x ^= x << np.uint64(17)
    state[0] = x
    return int(np.int64((x >> np.uint64(11)) % np.uint64(number)))


@compiled
def longest(rooms: Ints) -> int:
    """The greatest of some rooms."""
    most = 0
    for room in rooms:
        most = max(most, room)
    return most


@compiled
def total_of(widths: Ints, counts: Ints) -> int:
    """The length of some pieces."""
    total = 0
    for i in range(len(widths)):
        total += widths[i] * counts[i]
    return total


@compiled
def move(pieces: Ints, target: Ints, sign: int) -> None:
    """Add pieces to others, or take them away."""
    for i in range(len(pieces)):
        target[i] += sign * pieces[i]


@compiled
def desk_for(widths: Ints, counts: Ints, most: int) -> Desk:
    """Room to fill bars of at most ``most``."""
    layers = 2
    for i in range(len(widths)):
        copies = min(counts[i], most // widths[i])
        while copies > 0:
            layers += 1
            copies //= 2
    return np.zeros((layers, (most >> 6) + 1), np.uint64), np.zeros(layers, np.int64), np.zeros(layers, np.int64)


@compiled
def shifted(before: Bits, after: Bits, size: int, words: int) -> None:
    """The sums that are reachable with a further piece of this size."""
    whole, part = size >> 6, np.uint64(size & 63)
    for z in range(whole):
        after[z] = before[z]
    if part == np.uint64(0):
        for z in range(whole, words):
            after[z] = before[z] | before[z - whole]
        return
    back = np.uint64(64) - part
    after[whole] = before[whole] | (before[0] << part)
    for z in range(whole + 1, words):
        after[z] = before[z] | (before[z - whole] << part) | (before[z - whole - 1] >> back)


@compiled
def reachable(layer: Bits, total: int) -> bool:
    """Whether a sum is reachable in a layer."""
    return bool((layer[total >> 6] >> np.uint64(total & 63)) & np.uint64(1))


@compiled
def climb(widths: Ints, left: Ints, room: int, order: Ints, taken: Ints, desk: Desk) -> int:
    """Lay reachable sums layer by layer until the room is filled exactly; the number of layers."""
    layers, which, copies = desk
    words, last = (room >> 6) + 1, 0
    for z in range(words):
        layers[0, z] = np.uint64(0)
    layers[0, 0] = np.uint64(1)
    for i in order:
        rest = min(left[i] - taken[i], room // widths[i])
        several = 1
        while rest > 0 and not reachable(layers[last], room):
            several = min(several, rest)
            shifted(layers[last], layers[last + 1], widths[i] * several, words)
            which[last], copies[last] = i, several
            last += 1
            rest -= several
            several *= 2
    return last


@compiled
def fill(widths: Ints, left: Ints, room: int, order: Ints, desk: Desk, taken: Ints) -> int:
    """Fill a bar from what is left as full as it goes, the first in ``order`` that fits among it; what is used.

    ``taken`` is written to. Pieces that stand earlier in the order are preferred.
    """
    layers, which, copies = desk
    for i in range(len(taken)):
        taken[i] = 0
    rest = room
    for i in order:
        if left[i] > 0 and widths[i] <= room:
            taken[i] = 1
            rest -= widths[i]
            break
    if rest == room:
        return 0
    last = climb(widths, left, rest, order, taken, desk)
    total = rest
    while not reachable(layers[last], total):
        total -= 1
    used = room - rest + total
    for at in range(last - 1, -1, -1):
        if not reachable(layers[at], total):
            taken[which[at]] += copies[at]
            total -= copies[at] * widths[which[at]]
    return used


@compiled
def pack(widths: Ints, counts: Ints, rooms: Ints, order: Ints) -> tuple[Ints, Ints]:
    """Fill given bars one after another: their patterns, and the pieces that are left over."""
    desk, left = desk_for(widths, counts, longest(rooms)), counts.copy()
    patterns = np.zeros((len(rooms), len(widths)), np.int64)
    for bar in range(len(rooms)):
        fill(widths, left, rooms[bar], order, desk, patterns[bar])
        move(patterns[bar], left, -1)
    return patterns, left


@compiled
def greedy(
    widths: Ints, counts: Ints, rooms: Ints, costs: Ints, limits: Ints, order: Ints
) -> tuple[Ints, Ints, Ints]:
    """Bar by bar the stock whose filling costs least per length: stock of each bar, patterns, pieces left over.

    ``limits`` below 0 are none.
    """
    desk, left, stock = desk_for(widths, counts, longest(rooms)), counts.copy(), limits.copy()
    pieces, bars = 0, 0
    for count in counts:
        pieces += count
    patterns, of = np.zeros((pieces, len(widths)), np.int64), np.zeros(pieces, np.int64)
    taken = np.zeros(len(widths), np.int64)
    while pieces > 0:
        best, chosen = np.inf, -1
        for k in range(len(rooms)):
            used = fill(widths, left, rooms[k], order, desk, taken) if stock[k] != 0 else 0
            if used > 0 and costs[k] / used < best:
                best, chosen = costs[k] / used, k
                for i in range(len(taken)):
                    patterns[bars, i] = taken[i]
        if chosen < 0:
            break
        stock[chosen] -= 1
        move(patterns[bars], left, -1)
        for i in range(len(taken)):
            pieces -= patterns[bars, i]
        of[bars] = chosen
        bars += 1
    return of[:bars], patterns[:bars], left


@compiled
def choose(state: Bits, waste: Ints, chosen: Ints, number: int) -> None:
    """So many different bars by chance, the first one rather of those with much waste."""
    bars = len(waste)
    for j in range(number):
        fresh = False
        while not fresh:
            bar = below(state, bars)
            for _ in range(2 if j == 0 else 0):
                other = below(state, bars)
                bar = other if waste[other] > waste[bar] else bar
            fresh = True
            for z in range(j):
                fresh = fresh and chosen[z] != bar
        chosen[j] = bar


@compiled
def mixed(state: Bits, pool: Ints, order: Ints) -> int:
    """The widths in a pool, by chance in any order or nearly longest first; how many."""
    number = 0
    for i in range(len(pool)):
        if pool[i] > 0:
            order[number] = i
            number += 1
    anyhow = below(state, 2) == 1
    for at in range(number - 1):
        step = below(state, number - at) if anyhow else below(state, 3) // 2
        other = at + step
        order[at], order[other] = order[other], order[at]
    return number


@compiled
def repair(widths: Ints, rooms: Ints, patterns: Ints, left: Ints, tries: int, seed: int) -> int:
    """Empty a few bars and fill them anew, again and again, until nothing is left over.

    ``patterns`` and ``left`` are changed in place and never for the worse. Returns the tries it took, -1 where
    something is still left over.
    """
    bars, kinds = patterns.shape
    all_pieces, waste = left.copy(), np.zeros(bars, np.int64)
    for bar in range(bars):
        move(patterns[bar], all_pieces, 1)
        waste[bar] = rooms[bar] - total_of(widths, patterns[bar])
    desk = desk_for(widths, all_pieces, longest(rooms))
    state = np.full(1, 88172645463325252 + 1000003 * seed, np.uint64)
    most, over = min(bars, MOST_BARS), total_of(widths, left)
    chosen, new = np.zeros(most, np.int64), np.zeros((most, kinds), np.int64)
    order, pool = np.zeros(kinds, np.int64), np.zeros(kinds, np.int64)
    for trial in range(tries):
        if over == 0:
            return trial
        number = min(most, 2 + below(state, MOST_BARS - 1))
        choose(state, waste, chosen, number)
        for i in range(kinds):
            pool[i] = left[i]
        for j in range(number):
            move(patterns[chosen[j]], pool, 1)
        known = mixed(state, pool, order)
        for j in range(number):
            fill(widths, pool, rooms[chosen[j]], order[:known], desk, new[j])
            move(new[j], pool, -1)
        rest = total_of(widths, pool)
        if rest <= over:
            over = rest
            for i in range(kinds):
                left[i] = pool[i]
                for j in range(number):
                    patterns[chosen[j], i] = new[j, i]
            for j in range(number):
                waste[chosen[j]] = rooms[chosen[j]] - total_of(widths, new[j])
    return tries if over == 0 else -1


@compiled
def uneven(number: int, seed: int) -> Ints:
    """Factors about 1000, by chance, with which to put widths out of order a little."""
    state = np.full(1, 88172645463325252 + 1000003 * seed, np.uint64)
    found = np.zeros(number, np.int64)
    for at in range(number):
        found[at] = 900 + below(state, 201)
    return found
