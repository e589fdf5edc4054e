"""The force standard's verdict: within, above, or not known; an unknown never counts as safe."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sillwright.mechanics import ContactResult, Range, contact, judge, judge_band, spread_band

from .leaves import leaf

GENTLE = leaf(closing_speed=0.12, moving_mass=60.0, obstruction__stiffness=500e3)  # the gauge of EN 12445:2000


def of(found: ContactResult, name: str, **options: Any) -> str:
    return next(each.verdict for each in judge(found, **options).limits if each.id.startswith(name))


def test_a_gentle_leaf_is_within() -> None:
    verdict = judge(contact(GENTLE))
    assert verdict.verdict == "within"
    assert [each.id for each in verdict.limits] == ["fd-400", "td", "fs", "tt"]
    assert all(source.document for source in verdict.sources)


@pytest.mark.parametrize(("force", "expected"), [(399.9, "within"), (400.0, "within"), (400.1, "above")])
def test_a_vertical_leaf_may_press_with_400_newtons(force: float, expected: str) -> None:
    assert of(replace(contact(GENTLE), peak_force=force), "fd") == expected


@pytest.mark.parametrize(
    ("force", "gap", "expected"),
    [
        (1400.0, 0.6, "within"),
        (1400.1, 0.6, "above"),
        (500.0, 0.5, "above"),
        (500.0, None, "not known"),
        (400.0, None, "within"),
        (1500.0, None, "above"),
    ],
)
def test_the_gap_decides_for_sliding_leaves(force: float, gap: float | None, expected: str) -> None:
    assert of(replace(contact(GENTLE), peak_force=force), "fd", leaf="horizontal", gap=gap) == expected


@pytest.mark.parametrize(
    ("name", "field", "limit"),
    [("td", "time_above_150", 0.75), ("fs", "lasting_force", 150.0), ("tt", "time_above_25", 5.0)],
)
def test_each_limit_holds_at_its_number_and_fails_above_it(name: str, field: str, limit: float) -> None:
    found = contact(GENTLE)
    assert of(replace(found, **{field: limit}), name) == "within"
    assert of(replace(found, **{field: limit * 1.001}), name) == "above"


def test_a_leaf_that_still_presses_at_the_end_is_above_whatever_the_sum() -> None:
    found = contact(replace(GENTLE, stop=replace(GENTLE.stop, dwell=10.0)))
    assert found.end_force > 25.0
    assert of(found, "tt") == "above"
    assert of(replace(found, time_above_25=1.0), "tt") == "above"


def test_a_leaf_that_still_touches_is_never_within() -> None:
    found = replace(contact(GENTLE), contact_duration=None)
    assert "within" not in [each.verdict for each in judge(found).limits]


def test_a_leaf_that_nothing_stops_is_never_within_even_while_it_bounces() -> None:
    found = contact(leaf(edge=None, obstruction__stiffness=500e3))
    assert found.contact_duration is not None  # apart for a moment as the look ends
    assert "within" not in [each.verdict for each in judge(found).limits]


def test_a_body_is_no_gauge_and_a_short_look_is_no_verdict() -> None:
    assert {each.verdict for each in judge(contact(replace(GENTLE, obstruction=leaf().obstruction))).limits} == {
        "not known"
    }
    assert judge(contact(replace(GENTLE, duration=5.0))).verdict == "not known"


def test_a_band_that_straddles_a_limit_is_not_known() -> None:
    def verdict(low: float, high: float) -> str:
        ranges = [Range(name="closing_speed", low=low, high=high)]
        return judge_band(spread_band(GENTLE, ranges, points=64), GENTLE).limits[0].verdict

    assert verdict(0.10, 0.12) == "within"
    assert verdict(0.10, 0.60) == "not known"
    assert verdict(0.60, 0.70) == "above"
