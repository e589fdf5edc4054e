"""The compiled batch against the plain solution and against a plain fixed-step integration."""

from __future__ import annotations

import random
from math import isnan

import numpy as np
import pytest

from sillwright.mechanics import NUMBERS, OUTCOMES, contact_batch
from sillwright.mechanics._row import curve_of, numbers_of, solved

from .leaves import leaf, random_leaf


def both(count: int, seed: int) -> tuple[np.ndarray, np.ndarray]:
    """Random leaves, plain and compiled."""
    dice = random.Random(seed)  # noqa: S311 - test cases, not secrets
    cases = [random_leaf(dice) for _ in range(count)]
    rows = [numbers_of(case) for case in cases]
    curves = [curve_of(case) for case in cases]
    plain = [solved(row, *curve, [])[0][:10] for row, curve in zip(rows, curves, strict=True)]
    return np.array(plain), contact_batch(rows, [curve[0] for curve in curves], [curve[1] for curve in curves])


def test_a_leaf_in_a_batch_presses_like_a_leaf_alone() -> None:
    plain, compiled = both(400, 7)
    np.testing.assert_allclose(compiled, plain, rtol=1e-12, atol=1e-14)  # the same code; libraries' last bits


def test_a_leaf_presses_the_same_in_every_company() -> None:
    _, all_of_them = both(200, 8)
    _, first_ones = both(50, 8)
    np.testing.assert_array_equal(first_ones, all_of_them[:50])


def test_leaves_without_edge_and_with_rigid_drives_fit_in_a_batch() -> None:
    cases = [leaf(edge=None), leaf(edge=None, drive__stiffness=None), leaf(edge=None, drive__push_limit=None)]
    rows = [numbers_of(case) for case in cases]
    found = contact_batch(rows, [[]] * 3, [[]] * 3)
    for row, line in zip(rows, found, strict=True):
        np.testing.assert_allclose(line, solved(row, (), (), [])[0][:10], rtol=1e-12)
    assert isnan(found[0][OUTCOMES.index("actuation_time")])


def test_curves_of_unequal_length_are_filled_up() -> None:
    short, long = leaf(edge__curve=((0, 0), (0.02, 90))), leaf()
    filled = [[0, 0.02, np.nan, np.nan], [point[0] for point in long.edge.curve]]  # type: ignore[union-attr]
    forces = [[0, 90, np.nan, np.nan], [point[1] for point in long.edge.curve]]  # type: ignore[union-attr]
    found = contact_batch([numbers_of(short), numbers_of(long)], filled, forces)
    for case, line in zip((short, long), found, strict=True):
        np.testing.assert_allclose(line, solved(numbers_of(case), *curve_of(case), [])[0][:10], rtol=1e-12)


@pytest.mark.parametrize("shape", [(2, 3), (2, len(NUMBERS) + 1)])
def test_rows_of_another_length_are_refused(shape: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="rows of 16 numbers"):
        contact_batch(np.ones(shape), np.ones((2, 2)), np.ones((2, 2)))
