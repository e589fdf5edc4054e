"""Approach distances, the risk graph and risk levels against further published examples.

Each number was read in the text named beside it, a manual or guide that works an example through the formula
(second-hand: it quotes the standard). Where a text rounds on its way, the difference allowed is that of rounding.
"""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.verification import Verify

from sillwright.exposure import ApproachCase, approach, performance_level, risk_level
from sillwright.exposure._risk import PerformanceLevelCase, RiskLevelCase

ROUND_OFF = 1e-6  # mm

# What, the case, millimetres as printed, millimetres allowed, branch, source.
WORKED = [
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.111, "resolution": 0.030},
        (350.0, ROUND_OFF),
        "k2000",
        "light curtain's manual of 2013, stop of 0.1 s (second-hand)",
        id="30 mm, 0.1 + 0.011 s",
    ),
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.311, "resolution": 0.030},
        (626.0, 0.5),  # 1600 × 0.011 + 128 = 145.6 is printed as 146
        "k1600",
        "light curtain's manual of 2013, stop of 0.3 s, rounded to 1 mm on the way (second-hand)",
        id="30 mm, 0.3 + 0.011 s",
    ),
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.580, "resolution": 0.030},
        (1056.0, ROUND_OFF),
        "k1600",
        "laser scanner's manual, upright field of 30 mm (second-hand)",
        id="30 mm, 0.58 s",
    ),
    pytest.param(
        {"method": "iso13855-normal", "response_time": 0.0257, "resolution": 0.030},
        (179.4, ROUND_OFF),
        "k2000",
        "light curtain's manual, third sample (second-hand)",
        id="30 mm, 0.0257 s",
    ),
    pytest.param(
        {"method": "iso13855-beams", "response_time": 0.0257},
        (891.12, ROUND_OFF),
        "k1600",
        "light curtain's manual, first sample, one beam blanked so that 47 mm are seen (second-hand)",
        id="beams, 0.0257 s",
    ),
    pytest.param(
        {"method": "iso13855-single-beam", "response_time": 0.0257},
        (1241.12, ROUND_OFF),
        "k1600",
        "light curtain's manual, second sample, four beams blanked so that 98 mm are seen (second-hand)",
        id="1200 mm past it, 0.0257 s",
    ),
    pytest.param(
        {"method": "iso13855-beams", "response_time": 0.310},
        (1346.0, ROUND_OFF),
        "k1600",
        "light grid's operating instructions of 2020 (second-hand)",
        id="beams, 0.31 s",
    ),
    pytest.param(
        {"method": "iso13855-mat", "response_time": 0.520},
        (2032.0, ROUND_OFF),
        "k1600",
        "safety mat's application guide to EN 999, 0.485 + 0.035 s (second-hand)",
        id="mat, 0.52 s",
    ),
    pytest.param(
        {"method": "b11-19", "response_time": 0.300, "resolution": 0.014},
        (505.0, 0.9),  # the depth of 24.2 mm is rounded up to 1 in there
        "hand_speed",
        "guide to safety distances, 3.4 (14 − 6.875), rounded to 0.1 in on the way (second-hand)",
        id="B11.19, 14 mm, 0.3 s",
    ),
    pytest.param(
        {"method": "b11-19", "response_time": 0.111, "resolution": 1.2 * 0.0254},
        ((63 * 0.1 + 3.84) * 25.4, 0.5),  # 0.276 in is 7.01 mm: 3.4 × 0.135 mm less
        "hand_speed",
        "light curtain's manual of 2013, 3.4 (1.2 − 0.276) in, stop of 0.1 s (second-hand)",
        id="B11.19, 1.2 in, 0.111 s",
    ),
]


@pytest.mark.parametrize(("given_case", "printed", "branch", "source"), WORKED)
def test_examples_of_manuals(
    given_case: dict[str, Any],
    printed: tuple[float, float],
    branch: str,
    source: str,
    verify: Verify,
    request: pytest.FixtureRequest,
) -> None:
    found = approach(ApproachCase(**given_case))
    assert found.distance is not None
    expected, within = printed
    name = request.node.callspec.id
    verify(
        f"distance, {name}, mm",
        got=1000 * found.distance,
        expected=expected,
        within=within,
        relative=False,
        source=source,
    )
    assert found.branch == branch


@pytest.mark.parametrize(("resolution", "printed"), [(0.014, 23.7), (0.030, 78.1)])
def test_depth_of_penetration_is_never_less_than_tables_print(
    resolution: float, printed: float, verify: Verify
) -> None:
    """Tables take 0.276 in (7.01 mm) off where 6.875 mm are taken here: 0.5 mm more is asked for, never less."""
    still, moved = (
        approach(ApproachCase(method="b11-19", response_time=time, resolution=resolution)).distance or 0.0
        for time in (0.1, 0.2)
    )
    depth = 1000 * (still - (moved - still))
    source = "light curtain's manual of 2019, table of depth penetration factors (second-hand)"
    verify(
        f"depth at {1000 * resolution:g} mm, mm",
        got=depth,
        expected=printed,
        within=0.55,
        relative=False,
        source=source,
    )
    assert depth >= printed


def test_480_mm_is_too_near_where_an_arm_would_reach_600() -> None:
    """A guide prints 480 mm for 14 mm and 0.3 s; ISO 13855:2010 takes no less than 500 mm after the second try."""
    found = approach(ApproachCase(method="iso13855-normal", response_time=0.3, resolution=0.014))
    assert (found.distance, found.branch) == (0.5, "least_500")


# 29 CFR 1910.217(c)(3)(iii)(e), chart, as a federal training page shows it (read): seconds, inches.
CHART = [
    (0.055, 3.5), (0.063, 4), (0.072, 4.5), (0.079, 5), (0.087, 5.5), (0.095, 6), (0.103, 6.5), (0.111, 7),
    (0.119, 7.5), (0.126, 8), (0.134, 8.5), (0.142, 9), (0.150, 9.5), (0.158, 10), (0.317, 20), (0.325, 20.5),
    (0.333, 21), (0.341, 21.5), (0.349, 22), (0.357, 22.5), (0.365, 23), (0.373, 23.5), (0.380, 24),
    (0.388, 24.5), (0.396, 25), (0.404, 25.5), (0.412, 26), (0.420, 26.5),
]  # fmt: skip


def test_all_rows_of_the_chart_of_press_distances(verify: Verify) -> None:
    """Its rows are half inches, each with the time that leads there to a thousandth of a second: 0.063 in."""
    for time, inches in CHART:
        found = approach(ApproachCase(method="osha-1910-217", response_time=time)).distance
        assert found is not None
        verify(
            "the row of the chart that differs most, in",
            got=found / 0.0254 - inches,
            expected=0.0,
            within=0.0635,
            relative=False,
            source="29 CFR 1910.217(c)(3)(iii)(e), chart, 28 rows (osha-hand-speed, read)",
        )


# ISO 13849-1, Annex A, as the manual of a driverless vehicle prints the graph in rows (second-hand).
GRAPH = [
    ("S1", "F1", "P1", "a"),
    ("S1", "F1", "P2", "b"),
    ("S1", "F2", "P1", "b"),
    ("S1", "F2", "P2", "c"),
    ("S2", "F1", "P1", "c"),
    ("S2", "F1", "P2", "d"),
    ("S2", "F2", "P1", "d"),
    ("S2", "F2", "P2", "e"),
]


@pytest.mark.parametrize(("severity", "exposure", "avoidance", "level"), GRAPH)
def test_every_path_of_the_risk_graph(severity: Any, exposure: Any, avoidance: Any, level: str) -> None:
    case = PerformanceLevelCase(severity=severity, exposure=exposure, avoidance=avoidance)
    assert performance_level(case).level == level


@pytest.mark.parametrize(
    ("steps", "whole"), [((0.1, 0.1), 0.01), ((0.2, 0.05), 0.01), ((0.1, 0.1, 0.1), 0.001), ((0.1,) * 4, 1e-4)]
)
@pytest.mark.parametrize("severity", [1, 2, 3, 4])
def test_a_tenth_of_a_tenth_is_a_hundredth(steps: tuple[float, ...], whole: float, severity: int) -> None:
    """The rows of the table begin above 1/100, 1/1 000 …; in binary 0.1 × 0.1 is a little above 0.01."""
    cut_up = risk_level(RiskLevelCase(steps=steps, severity=severity)).level
    assert cut_up == risk_level(RiskLevelCase(steps=(whole,), severity=severity)).level


@given(st.permutations([0.1, 0.2, 0.05, 0.5, 0.2]), st.integers(1, 4))
def test_the_order_of_the_steps_does_not_matter(steps: list[float], severity: int) -> None:
    here = risk_level(RiskLevelCase(steps=tuple(steps), severity=severity)).level
    assert here == risk_level(RiskLevelCase(steps=tuple(sorted(steps)), severity=severity)).level
