"""The chart of a contact: curve, limits, the mark of lasting force, the band."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from sillwright.base.words import Reader
from sillwright.drawing import record
from sillwright.drawing.shapes import box_of
from sillwright.paper.chart import LASTING, MOST_POINTS, PLOT, contact_chart, thinned, ticks

from .studies import exposure


def drawn(contact=None, reader=None):
    return record(contact_chart(contact or exposure(), reader or Reader(units="metric", country="DE")))


def test_curve_limits_mark_and_band_are_drawn():
    assert drawn().names == (
        "axes", "limit.peak", "line.150", "line.25", "mark.lasting", "force", "band",
    )  # fmt: skip


def test_forces_stand_at_their_height():
    chart = drawn()
    level = [points[0][1] for points, _ in chart.paths if points[0] == (PLOT.left, points[1][1])]
    per_newton = [(y - PLOT.bottom) / force for y, force in zip(level[-3:], (400, 150, 25), strict=True)]
    assert per_newton == pytest.approx([per_newton[0]] * 3)


def test_the_band_reaches_from_one_share_to_the_other():
    chart = drawn()
    assert {"1,040 N", "812 N", "610 N"} <= set(chart.words)
    assert chart.one("band").top > chart.one("limit.peak").bottom


def test_the_band_stands_beside_the_words_of_the_limits():
    heavy = replace(exposure(), limits=tuple(replace(each, limit=1400.0) for each in exposure().limits))
    made = contact_chart(heavy, Reader())
    label = next(text for text, _ in record(made).texts if text.words == "peak limit 1,400 N")
    assert box_of(label).right < record(made).one("band").left


def test_axes_say_what_they_measure_and_in_which_unit():
    assert {"time from the touch, s", "contact force, N"} <= set(drawn().words)


def test_words_never_stand_on_each_other():
    assert drawn().overlaps() == []
    tall = replace(exposure(), band={"peak_force": {"p5": 5000.0, "p50": 5010.0, "p95": 5020.0}})
    assert drawn(tall).overlaps() == []


def test_a_force_that_never_exceeds_150_newtons_has_no_mark():
    soft = replace(exposure(), trace=((0.0, 0.0), (0.1, 100.0), (0.2, 0.0)))
    assert not drawn(soft).has("mark.lasting")


def test_the_mark_stands_three_quarters_of_a_second_after_150_newtons():
    flat = replace(exposure(), trace=((0.0, 0.0), (0.001, 200.0), (1.5, 200.0), (1.501, 0.0)))
    chart = contact_chart(flat, Reader())
    mark = record(chart).one("mark.lasting")
    share = (mark.left - PLOT.left) / PLOT.width
    assert share == pytest.approx((0.001 + LASTING) / (1.5 * 1.08), rel=0.01)


def test_without_a_record_or_a_band_less_is_drawn():
    assert contact_chart(replace(exposure(), trace=()), Reader()) is None
    assert not drawn(replace(exposure(), band={}, limits=())).has("band")


def test_a_thinned_record_keeps_its_peak():
    long = [(n / 1000, 1000.0 if n == 4321 else float(n % 50)) for n in range(10_000)]
    kept = thinned(long)
    assert len(kept) <= MOST_POINTS + 2
    assert (4.321, 1000.0) in kept
    assert all(one[0] <= other[0] for one, other in pairwise(kept))


@pytest.mark.parametrize("most", [0.013, 0.7, 1.0, 6.0, 437.0, 12_345.0])
def test_ticks_are_few_and_round(most):
    found = ticks(most)
    assert 3 <= len(found) <= 11
    assert found[0] == 0
    assert found[-1] <= most * (1 + 1e-9)


def test_the_text_alternative_tells_peak_band_and_limit():
    described = contact_chart(exposure(), Reader(units="metric")).described
    assert "Greatest force 812 N." in described
    assert "Band of the greatest force from 610 N to 1,040 N." in described
    assert "Peak limit 400 N: above." in described
