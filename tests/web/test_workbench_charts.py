"""Charts, varied inputs, replays and tables of a bench."""

from __future__ import annotations

import json
import re
from html import unescape
from typing import Any

import pytest
from django.core.cache import caches
from django.test import Client

from sillwright.base.words import Reader
from sillwright.drawing.canvas import record
from sillwright.study.calculations import TABLE, calculation
from sillwright.web.workbench.amounts import axis_scale
from sillwright.web.workbench.asked import Asked
from sillwright.web.workbench.charts.contact import MOST_FRAMES, force_over_time, side_view
from sillwright.web.workbench.charts.cord import cord_chart
from sillwright.web.workbench.charts.floor import floor_chart
from sillwright.web.workbench.charts.plot import Axis, round_numbers
from sillwright.web.workbench.charts.sweep import sweep_chart
from sillwright.web.workbench.examples import EXAMPLES
from sillwright.web.workbench.levels import levels_of
from sillwright.web.workbench.lists import lists_of
from sillwright.web.workbench.rests import rests_of
from sillwright.web.workbench.sheet import Sheet, worked
from sillwright.web.workbench.vary import POINTS, Curve, replaced, results_of, value_of, varied_inputs

METRIC, US = Reader(units="metric"), Reader(units="us")


@pytest.fixture(autouse=True)
def _nobody_counted_yet() -> None:
    caches["near"].clear()


def bench(
    name: str, at: int = 0, reader: Reader = METRIC, vary: dict[str, str] | None = None, **changed: str
) -> Sheet:
    typed = {**EXAMPLES[name][at].typed, **{key.replace("__", "."): [value] for key, value in changed.items()}}
    varied = {key: [value] for key, value in (vary or {}).items()}
    return worked(calculation(name), Asked(typed=typed, vary=varied), reader)


def curve(name: str, path: str, low: str, high: str, show: str, at: int = 0, **changed: str) -> Curve:
    asked = {"vary": path, "vary.from": low, "vary.to": high, "vary.show": show}
    found = bench(name, at, vary=asked, **changed)
    assert found.curve is not None, found.wrong
    return found.curve


def test_a_slower_chain_never_needs_less_distance() -> None:
    found = curve("approach", "response_time", "10 ms", "900 ms", "distance")
    heights = [y for _x, y in found.points]
    assert len(heights) == POINTS
    assert heights == sorted(heights)  # type: ignore[type-var]
    assert heights[0] == pytest.approx(0.100)  # the least of ISO 13855
    assert heights[-1] == pytest.approx(1.440)  # 1.6 m/s × 0.9 s


def test_twice_the_speed_is_twice_the_force_of_a_free_impact() -> None:
    found = curve("impact", "speed", "0.1 m/s", "0.4 m/s", "peak_force")
    ratios = [y / x for x, y in found.points if y is not None]
    assert ratios == pytest.approx([ratios[0]] * POINTS)
    assert found.now == (0.2, pytest.approx(244.949, abs=1e-3))


def test_where_an_input_is_not_accepted_the_curve_has_a_gap() -> None:
    found = curve("approach", "resolution", "30 mm", "50 mm", "distance")
    assert [y is None for x, y in found.points] == [x > 0.040 for x, y in found.points]
    html = unescape(Client().get(_address("approach", "resolution", "30 mm", "50 mm")).content.decode())
    assert "<td>not accepted</td>" in html


def test_a_curve_of_which_nothing_is_accepted_is_said_instead_of_drawn() -> None:
    html = unescape(Client().get(_address("approach", "resolution", "50 mm", "60 mm")).content.decode())
    assert "Nowhere between these ends is this input accepted" in html


def _address(name: str, path: str, low: str, high: str) -> str:
    asked = Asked(typed=EXAMPLES[name][0].typed, vary={"vary": [path], "vary.from": [low], "vary.to": [high]})
    return f"/workbench/{name}/?{asked.query(calculation(name))}"


def test_left_to_itself_a_curve_goes_from_half_to_twice_as_far_as_that_is_accepted() -> None:
    found = bench("overtravel", vary={"vary": "factor"}).curve
    assert found is not None
    assert (found.points[0][0], found.points[-1][0]) == (1.2, 2.4)  # 1.2 is the least factor
    time = bench("overtravel").curve
    assert time is not None
    assert time.path == "closing_speed"
    assert time.points[-1][0] == pytest.approx(4 * time.points[0][0])


def test_an_input_without_a_number_has_to_be_told_from_where_to_where() -> None:
    found = bench("contact", vary={"vary": "drive.lift_limit", "vary.show": "peak_force"})
    assert found.curve is not None  # 0 to 1e6 N, the ends of its range
    found = bench("impact", vary={"vary": "other_mass"})
    assert list(found.wrong) == ["vary.from"]


def test_an_input_of_a_group_that_is_left_out_cannot_be_varied() -> None:
    found = bench("contact", 1, vary={"vary": "edge.response"})
    assert found.wrong == {"vary": "This input is not there now. Choose another."}
    assert found.result is not None


@pytest.mark.parametrize("name", [each for each in TABLE if results_of(calculation(each).result)])
def test_every_number_that_goes_in_can_be_varied_and_every_one_that_comes_out_drawn(name: str) -> None:
    found = bench(name)
    case: Any = found.form.case
    inputs = list(varied_inputs(case, found.found.case, US))
    assert bool(inputs) == (name != "diagnose")  # a call has no number that goes in
    for each in inputs:
        assert each.name
        assert each.title
    for show in results_of(found.found.result):
        value = value_of(found.result, show)
        assert value is None or isinstance(value, float)


def test_a_number_deep_inside_a_case_is_replaced_and_nothing_else() -> None:
    case: Any = bench("contact").form.case
    other = replaced(case, "stop.reaction", 0.2)
    assert other.stop.reaction == 0.2
    assert replaced(other, "stop.reaction", case.stop.reaction) == case
    steps: Any = bench("risk_level").form.case
    assert replaced(steps, "steps[1]", 0.5).steps == (1.0, 0.5, 0.1, 1.0)


def test_a_contact_with_ranges_is_varied_in_fewer_points() -> None:
    found = curve("contact_spread", "base.stop.dwell", "200 ms", "400 ms", "peak_force.p95")
    assert 5 <= len(found.points) < POINTS
    heavy = bench("contact_spread", points="512", vary={"vary": "base.stop.dwell"})
    assert heavy.curve is not None
    heavy = bench("contact_spread", 1, points="1024", vary={"vary": "base.stop.dwell"})
    assert "takes too long here" in heavy.wrong["vary"]


@pytest.mark.parametrize("reader", [METRIC, US], ids=["metric", "us"])
def test_the_words_of_a_chart_do_not_stand_on_each_other(reader: Reader) -> None:
    for at in range(len(EXAMPLES["contact"])):
        found = bench("contact", at, reader)
        chart = record(force_over_time(found.result, found.frames, reader).drawing)
        assert not chart.overlaps(), at
    for name in ("approach", "impact", "overtravel"):
        found = bench(name, 0, reader)
        assert found.curve is not None
        drawn = sweep_chart(name, found.curve, reader)
        assert drawn is not None
        assert not record(drawn).overlaps(), name


def test_a_chart_of_a_contact_marks_its_peak_its_limits_and_its_events() -> None:
    found = bench("contact")
    chart = record(force_over_time(found.result, found.frames, METRIC).drawing)
    wanted = {"force", "peak", "limit.peak", "line.150", "line.25", "mark.answers", "mark.lasting", "mark.parts"}
    assert wanted <= set(chart.names)
    assert "1,130 N" in chart.words


def test_a_curve_of_the_greatest_force_shows_the_limit_it_is_held_against() -> None:
    found = curve("contact", "closing_speed", "2 in/s", "8 in/s", "peak_force")
    chart = sweep_chart("contact", found, METRIC)
    assert chart is not None
    assert record(chart).has("limit")
    other = sweep_chart("impact", curve("impact", "speed", "0.1 m/s", "0.4 m/s", "peak_force"), METRIC)
    assert other is not None
    assert not record(other).has("limit")


def test_a_replay_has_few_moments_and_keeps_the_peak() -> None:
    found = bench("contact")
    forces = [each.force for each in found.frames]
    assert len(forces) <= MOST_FRAMES + 2
    assert max(forces) == pytest.approx(found.result.peak_force)
    assert [each.time for each in found.frames] == sorted(each.time for each in found.frames)
    assert found.frames[-1].time > found.result.contact_duration


def test_from_the_side_the_edge_stands_between_leaf_and_obstruction() -> None:
    chart = record(side_view(bench("contact").result, bench("contact").frames).drawing)
    leaf, edge, obstruction = (chart.one(name) for name in ("leaf", "edge", "obstruction"))
    assert leaf.bottom == pytest.approx(edge.top)
    assert edge.bottom == pytest.approx(obstruction.top)
    bare = record(side_view(bench("contact", 1).result, bench("contact", 1).frames).drawing)
    assert not bare.has("edge")
    assert bare.one("leaf").bottom == pytest.approx(bare.one("obstruction").top)


def test_the_page_carries_the_moments_and_where_they_lie_in_the_chart() -> None:
    html = unescape(Client().get("/workbench/contact/").content.decode())
    (found,) = re.findall(r'data-frames="([^"]+)"', html)
    moments = json.loads(found)
    assert moments[0] == [0.0, 0.0, 0.0, 0.0]
    assert all(len(each) == 4 for each in moments)
    assert len(re.findall(r'data-places="(?:-?[\d.]+ ){3}-?[\d.]+"', html)) == 2
    assert "autoplay" not in html


def test_bands_of_forces_and_times_are_drawn_and_told_as_numbers() -> None:
    html = unescape(Client().get("/workbench/contact_spread/").content.decode())
    assert html.count("<svg") == 2
    assert 'data-place="band.peak_force"' in html
    assert "Worth measuring first: Closing speed at the touch." in html.replace("\u00a0", " ")
    more = bench("contact_spread", quantiles="0.99")
    assert len(more.result.bands[0].others) == 1


@pytest.mark.parametrize("at", [0, 1])
def test_the_place_of_a_level_is_marked_once_and_in_words(at: int) -> None:
    for name, level in (("performance_level", "level"), ("risk_level", "level")):
        found = bench(name, at)
        table = levels_of(name, found.result, METRIC)
        assert table is not None
        here = [cell.words for _head, cells in table.rows for cell in cells if cell.here]
        assert here == [getattr(found.result, level)]
        assert Client().get(f"/workbench/{name}/").content.decode().count("← here") == 1


@pytest.mark.parametrize("name", TABLE)
def test_every_bench_says_what_it_rests_on(name: str) -> None:
    found = bench(name)
    rests = rests_of(found.found, found.result, US)
    heads = [head for head, _words in rests.paragraphs]
    assert "Valid for" in heads
    assert "Source" in heads
    assert rests.sources
    assert all(":func:" not in words and "``" not in words for _head, words in rests.paragraphs)
    assert bool(rests.formulas) == (name not in {"performance_level", "faults", "loop_reading"})


def test_a_cord_is_shortest_at_the_box_and_as_long_as_told_at_the_ends() -> None:
    found = bench("cord")
    chart = record(cord_chart(found.result, US))
    curve = chart.one("curve")
    assert chart.one("box").x == pytest.approx(curve.x, abs=1.5)  # half of the travel
    assert {"retracted", "most", "curve"} <= set(chart.names)
    assert "10.5 ft" in chart.words  # 3.5 times 3 ft
    none = bench("cord", offset="20 ft", highest="40 ft").result
    assert none.retracted is None
    assert not record(cord_chart(none, US)).has("retracted")


@pytest.mark.parametrize("at", range(3))
@pytest.mark.parametrize("reader", [METRIC, US], ids=["metric", "us"])
def test_a_leaf_rests_on_the_highest_place_of_its_floor_and_nowhere_in_it(at: int, reader: Reader) -> None:
    found = bench("floor", at, reader).result
    chart = record(floor_chart(found, reader))
    leaf, floor = chart.one("leaf"), chart.one("floor")
    assert leaf.top == pytest.approx(floor.top)
    assert leaf.bottom == pytest.approx(floor.top)  # it hangs level
    assert not chart.overlaps()


def test_a_leaf_that_may_hang_out_of_level_is_drawn_at_its_slope() -> None:
    chart = record(floor_chart(bench("floor", greatest_slope="0.01").result, US))
    leaf = chart.one("leaf")
    assert leaf.top - leaf.bottom > 5
    flat = {"points.x": ["0 m", "3 m"], "points.y": ["0 m", "0 m"], "read_as": ["heights"]}
    level = record(floor_chart(worked(calculation("floor"), Asked(typed=flat, vary={}), US).result, US))
    assert not level.has("gap")


def test_bars_are_drawn_up_to_a_number_and_all_stand_in_the_table() -> None:
    lengths = [f"{1000 + at} mm" for at in range(60)]
    typed = {"pieces.length": lengths, "stock.length": ["1.1 m"], "kerf": ["3 mm"]}
    found = worked(calculation("cutlist"), Asked(typed=typed, vary={}), METRIC)
    (drawing,) = found.pictures.charts
    assert drawing.svg.count('class="structure"') == 40
    assert "the table has all" in found.pictures.note
    (table,) = lists_of(found.result, METRIC)
    assert len(table.rows) == 60


def test_equal_bars_share_a_row_and_equal_pieces_are_counted() -> None:
    (table,) = lists_of(bench("cutlist", 1).result, METRIC)
    assert table.heads == ("How many", "Stock", "Length", "Pieces, from its start on", "Left over", "Back to stock")
    assert ("24 ×", "218", "2.180 m", "81: 810 mm; 2 × 68: 680 mm", "10 mm", "no") in table.rows
    assert sum(int(row[0].removesuffix(" ×")) for row in table.rows) == 35


def test_what_is_known_of_many_bodies_stands_upright_in_the_readers_units() -> None:
    (table,) = lists_of(bench("length", 2).result, US)
    assert table.upright
    assert table.heads == ("Where it sits", "leading edge", "trailing edge", "post")
    assert ("The rail, C", "5 ft 9 in", "5 ft 9 in", "5 ft 10 in") in table.rows
    assert not any("end plugs" in row[0] for row in table.rows)
    (metric,) = lists_of(bench("length", 2).result, METRIC)
    assert ("The rail, C", "1.753 m", "1.753 m", "1.778 m") in metric.rows


def test_every_profile_of_a_floor_has_its_verdict_and_reasons_in_a_table() -> None:
    query = Asked(typed=EXAMPLES["floor"][2].typed, vary={}).query(calculation("floor"))
    html = unescape(Client().get(f"/workbench/floor/?{query}").content.decode())
    table = html[html.index("<h2>Profile by profile</h2>") :]
    assert '<div class="scroll" tabindex="0"' in table[:120]
    assert "No curve is known for -4 °F, so its overtravel there is not known." in table
    assert "2 ft 6 in – 9 ft 11 in" in table


def test_stock_without_a_cost_costs_by_its_length_in_the_readers_units() -> None:
    typed = {key: each for key, each in EXAMPLES["cutlist"][0].typed.items() if key != "stock.cost"}
    found = worked(calculation("cutlist"), Asked(typed=typed, vary={}), US)
    assert found.sentence.startswith("2 bars for 5 pieces, 40\xa0ft of stock.")
    assert bench("cutlist").sentence.startswith("2 bars for 5 pieces, cost 92.")


def test_the_dead_strip_is_drawn_over_the_width_with_the_two_inches_it_is_held_against() -> None:
    found = bench("length", reader=US)
    assert found.curve is not None
    assert (found.curve.path, found.curve.show) == ("clear_width", "dead_left")
    chart = sweep_chart("length", found.curve, US)
    assert chart is not None
    assert record(chart).has("limit")
    assert "2 in" in record(chart).words


def test_a_temperature_has_its_own_zero_along_an_axis() -> None:
    scale = axis_scale("K", 300.0, US)
    marks = dict(Axis("", 273.15, 310.92777777, scale).marks())  # 32 to 100 °F
    assert {round(kelvin, 2): words for kelvin, words in marks.items()}[299.82] == "80"


def test_a_cut_list_has_no_curve() -> None:
    assert bench("cutlist", vary={"vary": "kerf", "vary.show": "cost"}).curve is None
    assert 'id="vary"' not in Client().get("/workbench/cutlist/").content.decode()


def test_a_contact_is_held_against_the_force_standard() -> None:
    html = unescape(Client().get("/workbench/contact/").content.decode())
    assert html.count('<p class="level">Above</p>') == 2
    assert html.count('<p class="level">Within</p>') == 2


@pytest.mark.parametrize(("low", "high"), [(0.0, 1e-9), (-3.0, 4.0), (0.0, 8e7), (0.99, 1.01)])
def test_an_axis_has_a_handful_of_round_numbers(low: float, high: float) -> None:
    numbers = round_numbers(low, high)
    assert 3 <= len(numbers) <= 8
    assert numbers[0] >= low - 1e-12
    assert numbers[-1] <= high + 1e-12
