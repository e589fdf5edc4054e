"""Approach distances against published and recomputed values.

ISO 13855:2010, formulas and one worked example (second-hand: texts that quote the standard); ISO 13855:2024
(second-hand); 29 CFR 1910.217(c)(3)(iii)(e) (read), whose chart rounds to half inches; ANSI B11.19
(second-hand). Two-hand control is from memory, to be confirmed. *Computed*: follows from the stated formula.
"""

from __future__ import annotations

import pytest

from sillwright.exposure import ApproachCase, approach

ISO_2010 = "ISO 13855:2010"
ROUND_OFF = 1e-9  # the cases are exact in millimetres; what is left is binary round-off

WORKED = [
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.320, "resolution": 0.014},
        0.512,
        "k1600",
        "published worked example to ISO 13855 (iso13855-ex1, second-hand)",
        id="iso13855-ex1",
    ),
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.09, "resolution": 0.030},
        0.308,
        "k2000",
        f"{ISO_2010}, normal approach (iso13855-ex5, computed)",
        id="iso13855-ex5",
    ),
    pytest.param(
        {"method": "iso13855-parallel", "response_time": 0.3, "field_height": 0.3, "edition": "2010"},
        1.560,
        "k1600",
        f"{ISO_2010}, parallel approach (iso13855-ex4, computed)",
        id="iso13855-ex4",
    ),
    pytest.param(
        {"method": "iso13855-parallel", "response_time": 0.3, "field_height": 0.3},
        1.680,
        "fixed_1200",
        "ISO 13855:2024, clause 9 (iso13855-2024-par-1, computed)",
        id="iso13855-2024-par-1",
    ),
    pytest.param(
        {"method": "iso13855-beams", "response_time": 0.25},
        1.250,
        "k1600",
        f"{ISO_2010}, S = 1600 T + 850 (iso13855-beams, second-hand formula)",
        id="iso13855-beams",
    ),
    pytest.param(
        {"method": "iso13855-single-beam", "response_time": 0.25},
        1.600,
        "k1600",
        f"{ISO_2010}, S = 1600 T + 1200 (iso13855-single-beam, second-hand formula)",
        id="iso13855-single-beam",
    ),
    pytest.param(
        {"method": "iso13855-mat", "response_time": 0.25},
        1.600,
        "k1600",
        f"{ISO_2010}, clause 7, S = 1600 T + 1200 (iso13855-mat, second-hand formula)",
        id="iso13855-mat-floor",
    ),
    pytest.param(
        {"method": "iso13855-mat", "response_time": 0.25, "field_height": 0.15},
        1.540,
        "k1600",
        f"{ISO_2010}, clause 7, S = 1600 T + 1200 − 0.4 H (iso13855-mat, second-hand formula)",
        id="iso13855-mat-step",
    ),
    pytest.param(
        {"method": "iso13855-two-hand", "response_time": 0.25},
        0.650,
        "k1600",
        f"{ISO_2010}, S = 1600 T + 250 (from memory, to be confirmed)",
        id="iso13855-two-hand",
    ),
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.1, "resolution": 0.03, "reach": 0.15, "extra": 0.02},
        0.370,
        "k2000",
        "ISO 13855:2024, clauses 5 and 8, S = K T + D_DS + Z (iso13855-2024, second-hand formula)",
        id="iso13855-2024-near",
    ),
    pytest.param(
        {"method": "iso13855-beams", "response_time": 0.3, "reach": 0.9, "extra": 0.02, "edition": "2024"},
        1.400,
        "k1600",
        "ISO 13855:2024, clauses 5 and 8, S = K T + D_DS + Z (iso13855-2024, second-hand formula)",
        id="iso13855-2024-far",
    ),
    pytest.param(
        {"method": "b11-19", "response_time": 0.25, "resolution": 0.014},
        # 400 + 3.4 × 7.125
        0.424225,
        "hand_speed",
        "ANSI B11.19, Ds = K T + 3.4 (d − 6.875 mm) (b1119-distance, second-hand formula)",
        id="b1119-distance",
    ),
]


@pytest.mark.parametrize(("given", "expected", "branch", "source"), WORKED)
def test_the_worked_cases(given, expected, branch, source, verify, request):
    found = approach(ApproachCase(**given))
    name = request.node.callspec.id
    verify(f"distance, {name}, m", got=found.distance, expected=expected, within=ROUND_OFF, source=source)
    assert found.branch == branch


def test_the_2024_edition_asks_for_120_mm_more_along_a_field(verify):
    """iso13855-2024-par-1: the same input as iso13855-ex4."""
    found = approach(ApproachCase(method="iso13855-parallel", response_time=0.3, field_height=0.3))
    verify(
        "parallel, 2024 less 2010, m",
        got=found.distance_2024 - found.distance_2010,
        expected=0.120,
        within=ROUND_OFF,
        source="ISO 13855:2024, clause 9 (iso13855-2024-par-1, computed)",
    )


# 29 CFR 1910.217(c)(3)(iii)(e), chart: stopping time in seconds, distance in inches (osha-hand-speed, read).
CHART = [(0.055, 3.5), (0.095, 6.0), (0.150, 9.5), (0.317, 20.0), (0.420, 26.5)]


@pytest.mark.parametrize(("time", "inches"), CHART)
def test_the_osha_chart(time, inches, verify):
    """The chart rounds to half inches, so a row lies within a quarter of an inch."""
    found = approach(ApproachCase(method="osha-1910-217", response_time=time))
    verify(
        f"distance at {time:g} s, in",
        got=found.distance / 0.0254,
        expected=inches,
        within=0.25,
        relative=False,
        source="29 CFR 1910.217(c)(3)(iii)(e), chart (osha-hand-speed, read); rounded to half inches",
    )


def test_least_height_of_a_field(verify):
    """ISO 13855: H at least 15 (d - 50 mm); at d = 70 mm that is 300 mm."""
    found = approach(
        ApproachCase(method="iso13855-parallel", response_time=0.3, field_height=0.3, resolution=0.070)
    )
    verify(
        "least height of a field at d = 70 mm, m",
        got=found.least_height,
        expected=0.300,
        within=ROUND_OFF,
        source="ISO 13855:2024, clause 9, H ≥ 15 (d − 50) (iso13855-2024-parallel, second-hand formula)",
    )
