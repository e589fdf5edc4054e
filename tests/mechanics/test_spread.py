"""What is known about a contact while its inputs are ranges."""

from __future__ import annotations

import json
import subprocess
import sys
from math import inf, pi, sin
from typing import Any

import pytest
from scipy.stats import qmc

from sillwright.base.calculation import as_json
from sillwright.base.case_reading import read_case
from sillwright.base.errors import DocumentError, OutOfRange
from sillwright.base.node import parse
from sillwright.mechanics import (
    ContactSpreadCase,
    Range,
    contact_spread,
    correlation_ratio,
    sobol,
    sobol_indices,
    spread_band,
)
from sillwright.mechanics._spread import band_of, quantile

from .leaves import leaf

RANGES = (
    Range(name="moving_mass", low=120, high=220),
    Range(name="drive.push_limit", low=300, high=1500, kind="log_uniform"),
    Range(name="stop.reaction", low=0.05, high=0.12),
    Range(name="edge.force_scale", low=0.9, high=1.6),
    Range(name="edge.stretch", low=0.95, high=1.05),
    Range(name="obstruction.stiffness", low=450e3, high=550e3),
)


def test_unscrambled_points_are_sobols() -> None:
    # SciPy's qmc.Sobol with the same table of Joe and Kuo (2008)
    mine, theirs = sobol(40, 1024), qmc.Sobol(40, scramble=False, bits=32).random(1024)
    assert [list(row) for row in zip(*mine, strict=True)] == theirs.tolist()


def test_scrambled_points_fill_every_stripe_once() -> None:
    """The property that makes them better than chance: each of the 1024 stripes holds one point."""
    for seed in (1, 2, 99):
        for column in sobol(12, 1024, seed):
            assert sorted(int(each * 1024) for each in column) == list(range(1024))
    assert sobol(2, 16, 1) != sobol(2, 16, 2)
    assert sobol(5, 64, 3)[:2] == sobol(2, 64, 3)


@pytest.mark.parametrize(("dimensions", "points"), [(0, 8), (41, 8), (2, 12), (2, 0), (2, 2**21)])
def test_points_beyond_the_table_are_refused(dimensions: int, points: int) -> None:
    with pytest.raises(OutOfRange):
        sobol(dimensions, points)


# Ishigami and Homma (1990) with a = 7, b = 0.1: the exact indices as in Saltelli et al., Global Sensitivity
# Analysis (2008), 4.5: V = a²/8 + b π⁴/5 + b² π⁸/18 + 1/2.
A, B = 7.0, 0.1
V = A**2 / 8 + B * pi**4 / 5 + B**2 * pi**8 / 18 + 0.5
FIRST = (0.5 * (1 + B * pi**4 / 5) ** 2 / V, A**2 / 8 / V, 0.0)
TOTAL = (FIRST[0] + 8 * B**2 * pi**8 / 225 / V, FIRST[1], 8 * B**2 * pi**8 / 225 / V)
ISHIGAMI = "Ishigami function, exact (Saltelli et al. 2008)"


def ishigami(columns: list[list[float]]) -> list[float]:
    angles = zip(*([pi * (2 * each - 1) for each in column] for column in columns), strict=True)
    return [sin(x) + A * sin(y) ** 2 + B * z**4 * sin(x) for x, y, z in angles]


def test_the_indices_of_the_ishigami_function_are_its_exact_ones(verify: Any) -> None:
    columns = sobol(6, 2**14, 1)
    first, second = columns[:3], columns[3:]
    mixed = [[*first[:at], second[at], *first[at + 1 :]] for at in range(3)]
    found = sobol_indices([ishigami(each) for each in (first, second, *mixed)])
    for at, (one, total, error) in enumerate(found):
        verify(f"first index {at + 1}", got=one, expected=FIRST[at], within=0.005, relative=False, source=ISHIGAMI)
        verify(
            f"total index {at + 1}", got=total, expected=TOTAL[at], within=0.005, relative=False, source=ISHIGAMI
        )
        assert 0.0 < error < 0.02


def test_indices_from_given_points_come_near_the_exact_ones(verify: Any) -> None:
    columns = sobol(3, 4096, 1)
    outputs = ishigami(columns)
    for at in range(3):
        verify(
            f"correlation ratio {at + 1}",
            got=correlation_ratio(columns[at], outputs),
            expected=FIRST[at],
            within=0.02,  # 32 slices of 128 points: spread inside a slice, about 1/128
            relative=False,
            source=ISHIGAMI,
        )


def test_an_outcome_that_never_changes_has_no_indices() -> None:
    assert sobol_indices([[1.0, 1.0]] * 3) == [(0.0, 0.0, 0.0)]
    assert correlation_ratio([0.1, 0.9], [1.0, 1.0]) == 0.0


def test_one_opening_gets_the_same_band_without_any_library() -> None:
    plain = spread_band(leaf(), RANGES, points=256, engine="plain")
    kernel = spread_band(leaf(), RANGES, points=256, engine="kernel")
    assert_close(as_json(plain), as_json(kernel))
    assert plain.worth_measuring == kernel.worth_measuring


def assert_close(one: Any, other: Any) -> None:
    """The same to round-off."""
    if isinstance(one, dict):
        for key in one:
            assert_close(one[key], other[key])
    elif isinstance(one, list):
        for each, twin in zip(one, other, strict=True):
            assert_close(each, twin)
    else:
        assert one == (pytest.approx(other, rel=1e-9, abs=1e-12) if isinstance(one, float) else other)


def test_one_openings_band_loads_no_array_library() -> None:
    code = (
        "import sys; from tests.mechanics.leaves import leaf; from sillwright.mechanics import Range, spread_band; "
        "spread_band(leaf(), [Range(name='moving_mass', low=100, high=200)], points=16); "
        "print([each for each in ('numpy', 'numba', 'scipy') if each in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_the_spread_of_a_leaf_names_the_fact_worth_measuring() -> None:
    found = contact_spread(ContactSpreadCase(base=leaf(), ranges=RANGES, quantiles=(0.25, 0.99)))
    band = found.band("peak_force")
    assert band.p5 < band.p50 < band.p95 <= band.others[1]  # type: ignore[operator]
    totals = {each.name: each.total for each in found.influences[0].inputs}
    assert found.worth_measuring == max(totals, key=lambda name: totals[name] or 0.0)
    assert all(each.first <= (each.total or 0.0) + 0.03 for each in found.influences[0].inputs)
    assert 0.0 <= found.share_above_peak_limit <= 1.0
    assert found.standard_error == 0.5 / 32
    assert found.band("peak_force").p50 == spread_band(leaf(), RANGES).band("peak_force").p50


def test_the_seed_decides_the_points_and_nothing_else_does() -> None:
    one, same, other = (
        contact_spread(ContactSpreadCase(base=leaf(), ranges=RANGES[:2], points=64, seed=seed))
        for seed in (1, 1, 2)
    )
    assert one == same
    assert one.band("peak_force") != other.band("peak_force")


def test_a_leaf_that_never_leaves_has_no_contact_duration_in_its_band() -> None:
    found = spread_band(leaf(edge__actuation_travel=None), RANGES[:1], points=16)
    assert found.band("contact_duration").p5 is None
    assert found.band("actuation_time").p50 is None
    assert found.share_still_touching == 1.0
    assert found.share_above_whole_time == 1.0


def test_quantiles_stop_where_the_values_end() -> None:
    assert quantile([1.0, 2.0, inf], 0.5) == 2.0
    assert quantile([1.0, 2.0, inf], 0.6) is None
    assert quantile([1.0, inf, inf], 0.5) is None
    assert band_of("x", [1.0, 2.0, 3.0], ()).p50 == 2.0


def test_a_spread_case_is_read_from_a_document() -> None:
    document = {
        "base": as_json(leaf()),
        "ranges": [{"name": "moving_mass", "low": 100, "high": 200}, as_json(RANGES[1])],
        "points": 64,
    }
    case = read_case(ContactSpreadCase, parse(json.dumps(document).encode(), "case.json"), "case.json")
    assert case.ranges[1] == RANGES[1]
    assert contact_spread(case).points == 64


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Range(name="moving_mass", low=2, high=1), "low must be below high"),
        (lambda: Range(name="moving_mass", low=0, high=1, kind="log_uniform"), "starts above 0"),
        (lambda: Range(name="colour", low=0, high=1), "not one of"),  # type: ignore[arg-type]
        (lambda: ContactSpreadCase(base=leaf(), ranges=()), "at least one"),
        (lambda: ContactSpreadCase(base=leaf(), ranges=RANGES[:1] * 2), "each input once"),
        (lambda: ContactSpreadCase(base=leaf(), ranges=RANGES[:1], points=100), "power of two"),
        (lambda: ContactSpreadCase(base=leaf(), ranges=RANGES[:1], quantiles=(1.5,)), "between 0 and 1"),
        (lambda: ContactSpreadCase(base=leaf(edge=None), ranges=RANGES[3:4]), "no edge"),
        (lambda: spread_band(leaf(), [Range(name="closing_speed", low=0, high=1)]), "above 0 m/s"),
        (lambda: spread_band(leaf(), [Range(name="edge.stretch", low=0.5, high=50)]), "at most 20"),
    ],
)
def test_ranges_that_fit_no_contact_are_refused(make: Any, says: str) -> None:
    with pytest.raises(OutOfRange, match=says):
        make()


def test_the_ends_of_a_range_are_quantities_of_the_input_it_names() -> None:
    text = b"{name: closing_speed, low: 8 in/s, high: 0.25}"
    found = read_case(Range, parse(text, "case.yaml"), "case.yaml")
    assert (round(found.low, 6), found.high) == (0.2032, 0.25)
    with pytest.raises(DocumentError, match="does not measure"):
        read_case(Range, parse(b"{name: moving_mass, low: 8 in/s, high: 9 in/s}", "case.yaml"), "case.yaml")
