"""Column generation: the linear bound of a cutting, by a revised simplex with its patterns priced by a knapsack.

Rows are the widths (each to be covered) and, after them, the stocks of which there are only so many. Compiled,
knows no models; nothing here is called from another kernel's file.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sillwright.base.kernel import compiled
from sillwright.takeoff.cutting.kernel import Ints

Floats = NDArray[np.float64]
Ladder = tuple[Floats, Ints, Ints]  # best values floor by floor; the width and the number of pieces of each floor
Tableau = tuple[Floats, Ints, Floats, Floats, Floats]  # inverse, basis, its costs, its values, right-hand side

SMALL = 1e-9
REFRESH = 100  # pivots until the inverse is made anew
ARTIFICIAL = 1000.0  # times what a length costs: no piece is left uncut for that
LIFT = 1e-7  # of a row, so that no two vertices coincide
SURPLUS = -1_000_000
"""Basis codes are a pattern's number, −1 − row of a unit column, this − 1 − row of a surplus."""


@compiled
def ladder_for(widths: Ints, counts: Ints, most: int) -> Ladder:
    """Room for the knapsack of bars of at most ``most``."""
    floors = 2
    for i in range(len(widths)):
        copies = min(counts[i], most // widths[i])
        while copies > 0:
            floors += 1
            copies //= 2
    return np.zeros((floors, most + 1)), np.zeros(floors, np.int64), np.zeros(floors, np.int64)


@compiled
def step(before: Floats, after: Floats, size: int, worth: float) -> None:
    """The best values with a further piece of this size and worth."""
    for c in range(size):
        after[c] = before[c]
    for c in range(size, len(before)):
        with_it, without = before[c - size] + worth, before[c]
        after[c] = with_it if with_it > without else without


@compiled
def climb(widths: Ints, counts: Ints, worth: Floats, ladder: Ladder) -> int:
    """Best values of bars of every length up to the longest: the number of the top floor."""
    floors, which, copies = ladder
    most, last = floors.shape[1] - 1, 0
    for c in range(most + 1):
        floors[0, c] = 0.0
    for i in range(len(widths)):
        rest = min(counts[i], most // widths[i]) if worth[i] > 0.0 else 0
        several = 1
        while rest > 0:
            several = min(several, rest)
            step(floors[last], floors[last + 1], widths[i] * several, worth[i] * several)
            which[last], copies[last] = i, several
            last += 1
            rest -= several
            several *= 2
    return last


@compiled
def read(widths: Ints, ladder: Ladder, last: int, room: int, pattern: Floats) -> None:
    """The pattern of the best value of a bar."""
    floors, which, copies = ladder
    for i in range(len(pattern)):
        pattern[i] = 0.0
    for at in range(last - 1, -1, -1):
        if floors[at + 1, room] != floors[at, room]:
            pattern[which[at]] += copies[at]
            room -= widths[which[at]] * copies[at]


@compiled
def subtract(row: Floats, other: Floats, factor: float) -> None:
    """Take a multiple of one row from another."""
    for c in range(len(row)):
        row[c] -= factor * other[c]


@compiled
def unit(size: int) -> Floats:
    """The unit matrix."""
    found = np.zeros((size, size))
    for r in range(size):
        found[r, r] = 1.0
    return found


@compiled
def invert(matrix: Floats, right: Floats) -> None:
    """Turn ``right``, a unit matrix, into the inverse of ``matrix``, which is used up (Gauss and Jordan)."""
    size = len(matrix)
    for k in range(size):
        top = k
        for r in range(k + 1, size):
            if abs(matrix[r, k]) > abs(matrix[top, k]):
                top = r
        factor = 1.0 / matrix[top, k]
        for c in range(size):
            matrix[k, c], matrix[top, c] = matrix[top, c], matrix[k, c]
            right[k, c], right[top, c] = right[top, c], right[k, c]
        for c in range(size):
            matrix[k, c] *= factor
            right[k, c] *= factor
        for r in range(size):
            factor = matrix[r, k]
            if r != k and factor != 0.0:
                subtract(matrix[r], matrix[k], factor)
                subtract(right[r], right[k], factor)


@compiled
def tableau_for(
    widths: Ints, counts: Ints, rooms: Ints, costs: Ints, limits: Ints, rows: Ints, size: int
) -> Tableau:
    """The first basis: unit columns, dear ones for the pieces, free ones for the stocks with a limit."""
    kinds = len(widths)
    dearest = 0.0
    for k in range(len(rooms)):
        dearest = max(dearest, costs[k] / max(rooms[k], 1))
    basis, dear, values = np.zeros(size, np.int64), np.zeros(size), np.zeros(size)
    for r in range(size):
        basis[r] = -1 - r
        values[r] = LIFT * (1 + (r * 7919) % 101)
    for i in range(kinds):
        values[i] += counts[i]
        dear[i] = ARTIFICIAL * dearest * widths[i]
    for k in range(len(rooms)):
        if rows[k] >= kinds:
            values[rows[k]] += limits[k]
    return unit(size), basis, dear, values, values.copy()


@compiled
def prices(tableau: Tableau, price: Floats) -> None:
    """What each row is worth at the present basis."""
    inverted, _, dear, _, _ = tableau
    for r in range(len(dear)):
        price[r] = 0.0
    for r in range(len(dear)):
        if dear[r] != 0.0:
            subtract(price, inverted[r], -dear[r])


@compiled
def known_column(price: Floats, kinds: int, columns: Floats, of: Ints, costs: Ints, rows: Ints, many: int) -> int:
    """The known column that gains most, as a basis code; SURPLUS where none gains."""
    worst, code = -SMALL, SURPLUS
    for r in range(len(price)):
        gain = price[r] if r < kinds else -price[r]
        if gain < worst:
            worst, code = gain, SURPLUS - 1 - r if r < kinds else -1 - r
    if code != SURPLUS:
        return code
    for j in range(many):
        k = of[j]
        gain = float(costs[k])
        if rows[k] >= kinds:
            gain -= price[rows[k]]
        for i in range(kinds):
            gain -= price[i] * columns[j, i]
        if gain < worst * costs[k]:
            worst, code = gain / costs[k], j
    return code


@compiled
def full_column(code: int, kinds: int, columns: Floats, of: Ints, rows: Ints, column: Floats) -> None:
    """The column of a code, a number for each row."""
    for r in range(len(column)):
        column[r] = 0.0
    if code < SURPLUS:
        column[SURPLUS - 1 - code] = -1.0
    elif code < 0:
        column[-1 - code] = 1.0
    else:
        for i in range(kinds):
            column[i] = columns[code, i]
        if rows[of[code]] >= kinds:
            column[rows[of[code]]] = 1.0


@compiled
def multiplied(matrix: Floats, column: Floats, found: Floats) -> None:
    """A matrix times a column with few numbers in it."""
    for r in range(len(column)):
        found[r] = 0.0
    for i in range(len(column)):
        if column[i] != 0.0:
            for r in range(len(column)):
                found[r] += matrix[r, i] * column[i]


@compiled
def leaves(column: Floats, values: Floats) -> int:
    """The row whose column leaves the basis, −1 where none does."""
    least, row = np.inf, -1
    for r in range(len(column)):
        if column[r] > SMALL:
            ratio = max(values[r], 0.0) / column[r]
            if ratio < least - 1e-12 or (ratio < least + 1e-12 and column[r] > column[row]):
                least, row = ratio, r
    return row


@compiled
def pivot(tableau: Tableau, column: Floats, row: int, code: int, cost: float) -> None:
    """Exchange the column of a row for another one."""
    inverted, basis, dear, values, _ = tableau
    for c in range(len(column)):
        inverted[row, c] /= column[row]
    theta = max(values[row], 0.0) / column[row]
    for r in range(len(column)):
        if r != row and column[r] != 0.0:
            subtract(inverted[r], inverted[row], column[r])
            values[r] -= column[r] * theta
    values[row], dear[row], basis[row] = theta, cost, code


@compiled
def refresh(tableau: Tableau, kinds: int, columns: Floats, of: Ints, rows: Ints) -> None:
    """Make the inverse anew from the basis, so that round-off does not grow."""
    inverted, basis, _, values, right = tableau
    size = len(basis)
    matrix, fresh, column = np.zeros((size, size)), unit(size), np.zeros(size)
    for r in range(size):
        full_column(basis[r], kinds, columns, of, rows, column)
        for i in range(size):
            matrix[i, r] = column[i]
    invert(matrix, fresh)
    for r in range(size):
        values[r] = 0.0
        for i in range(size):
            inverted[r, i] = fresh[r, i]
            values[r] += fresh[r, i] * right[i]


@compiled
def new_columns(
    widths: Ints, rooms: Ints, costs: Ints, rows: Ints, price: Floats, ladder: Ladder, last: int,
    columns: Floats, of: Ints, many: int,
) -> tuple[int, int, float]:  # fmt: skip
    """The best pattern of each stock that gains: the best one's number, how many are known now, and by what factor
    the prices are too high to be a bound."""
    kinds, code, over = len(widths), SURPLUS, 1.0
    for k in range(len(rooms)):
        dear = costs[k] - (price[rows[k]] if rows[k] >= kinds else 0.0)
        ratio = ladder[0][last, rooms[k]] / dear
        if ratio > 1.0 + SMALL and many < len(columns):
            read(widths, ladder, last, rooms[k], columns[many])
            of[many] = k
            code = many if ratio > over else code
            many += 1
        over = max(over, ratio)
    return code, many, over


@compiled
def bound_of(price: Floats, counts: Ints, limits: Ints, rows: Ints, over: float) -> float:
    """The bound that prices give which are too high by a factor."""
    kinds, bound = len(counts), 0.0
    for i in range(kinds):
        bound += max(price[i], 0.0) * counts[i] / over
    for k in range(len(limits)):
        bound += price[rows[k]] * limits[k] if rows[k] >= kinds else 0.0
    return bound


@compiled
def rows_of(kinds: int, limits: Ints) -> tuple[Ints, int]:
    """The row of each stock that has a limit, 0 for the others, and how many rows there are in all."""
    rows, size = np.zeros(len(limits), np.int64), kinds
    for k in range(len(limits)):
        if limits[k] >= 0:
            rows[k] = size
            size += 1
    return rows, size


@compiled
def generate(
    widths: Ints,
    counts: Ints,
    rooms: Ints,
    costs: Ints,
    limits: Ints,
    columns: Floats,
    of: Ints,
    many: int,
    most: int,
) -> tuple[int, Floats, Floats, Floats]:
    """The linear relaxation: how many patterns are known, how often each is used, what a piece of each width is
    worth, what one more of each stock with a limit is worth.

    ``columns`` and ``of`` (their stocks) hold ``many`` patterns to begin with, and take up those that are found.
    Ends with the best prices found after ``most`` pivots. They are close to a bound and prove nothing yet.
    """
    kinds = len(widths)
    rows, size = rows_of(kinds, limits)
    longest = 0
    for room in rooms:
        longest = max(longest, room)
    ladder = ladder_for(widths, counts, longest)
    tableau = tableau_for(widths, counts, rooms, costs, limits, rows, size)
    price, full, column, best = np.zeros(size), np.zeros(size), np.zeros(size), -np.inf
    worth, rent = np.zeros(kinds), np.zeros(len(rooms))
    for turn in range(most):
        prices(tableau, price)
        code = known_column(price, kinds, columns, of, costs, rows, many)
        if code == SURPLUS:
            last = climb(widths, counts, price, ladder)
            code, many, over = new_columns(widths, rooms, costs, rows, price, ladder, last, columns, of, many)
            bound = bound_of(price, counts, limits, rows, over)
            if bound > best:
                best = bound
                for i in range(kinds):
                    worth[i] = max(price[i], 0.0) / over
                for k in range(len(rooms)):
                    rent[k] = max(-price[rows[k]], 0.0) if rows[k] >= kinds else 0.0
        if code == SURPLUS:
            break
        full_column(code, kinds, columns, of, rows, full)
        multiplied(tableau[0], full, column)
        row = leaves(column, tableau[3])
        if row < 0:
            break
        pivot(tableau, column, row, code, costs[of[code]] if code >= 0 else 0.0)
        if turn % REFRESH == REFRESH - 1:
            refresh(tableau, kinds, columns, of, rows)
    used = np.zeros(many)
    for r in range(size):
        if tableau[1][r] >= 0:
            used[tableau[1][r]] += tableau[3][r]
    return many, used, worth, rent
