"""Noisy-or networks for the tests, and Quickscore in fractions: exact, slow, by another sum than the product."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from math import prod

import numpy as np

from sillwright.trouble.many import Links

Numbers = Sequence[float]


def links(
    rate: Numbers,
    shown: Sequence[Numbers],
    leaks: Numbers,
    hidden: Sequence[Numbers] = (),
    hidden_leaks: Numbers = (),
) -> Links:
    """Faults with their rates; by what was shown, and by what was not, how likely each fault shows it."""
    rates = np.array(rate)
    not_shown = np.ones(len(rates))
    for row in hidden:
        not_shown = not_shown * (1 - np.array(row))
    return Links(
        absent=1 - rates,
        present=rates * not_shown,
        upper=np.ones((len(shown), len(rates))),
        lower=1 - np.array(shown).reshape(len(shown), len(rates)),
        leak_upper=np.ones(len(shown)),
        leak_lower=1 - np.array(leaks),
        scale=prod(1 - leak for leak in hidden_leaks),
    )


def quickscore(given: Links) -> tuple[list[float], float]:
    """Heckerman 1989: the sum over all sets of what was shown, with signs, in fractions."""
    count, faults = given.upper.shape
    exact = [[[Fraction(float(value)) for value in row] for row in table] for table in (given.upper, given.lower)]
    leak = [[Fraction(float(value)) for value in row] for row in (given.leak_upper, given.leak_lower)]
    absent = [Fraction(float(value)) for value in given.absent]
    present = [Fraction(float(value)) for value in given.present]
    total, shares = Fraction(0), [Fraction(0)] * faults
    for less in product((0, 1), repeat=count):
        there = [
            present[i] * prod((exact[less[j]][j][i] for j in range(count)), start=Fraction(1))
            for i in range(faults)
        ]
        term = (-1) ** sum(less) * prod((leak[less[j]][j] for j in range(count)), start=Fraction(1))
        factors = [one + other for one, other in zip(absent, there, strict=True)]
        whole = term * prod(factors, start=Fraction(1))
        total += whole
        for i in range(faults):
            shares[i] += whole * there[i] / factors[i] if factors[i] else 0
    return [float(share / total) for share in shares], float(total) * given.scale
