"""The ohm readings of a door over the years: which count, where they are heading, and what is warned of."""

from __future__ import annotations

from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.catalogue import Catalogue, demo
from sillwright.hookup import hook_up
from sillwright.study.hookup_answer import ohms_as_json
from sillwright.study.ohm_findings import ohm_findings
from sillwright.study.ohms import OhmHistory, ohm_histories, taken_for_granted
from sillwright.survey.from_facts import survey_from_facts

TEN = {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}
EDGE = {"id": "e1", "kind": "sensing_edge", "circuit": "resistor", "resistance": "10 kohm", "through": []}
FALLING = ("10.1 kohm", "9.7 kohm", "9.2 kohm", "8.3 kohm", "7.6 kohm")


def yearly(*ohms: str, first: int = 2022, **more: Any) -> list[dict[str, Any]]:
    """A reading every spring."""
    return [
        {"at": "operator", "of": "e1", "pressed": False, "ohms": each, "on": f"{first + n}-05-02", **more}
        for n, each in enumerate(ohms)
    ]


def histories(
    readings: Any, *devices: dict[str, Any], catalogue: Catalogue | None = None, **facts: Any
) -> tuple[OhmHistory, ...]:
    told = {"operator.inputs": [TEN], "protection": list(devices or (EDGE,)), "readings": readings, **facts}
    (opening,) = survey_from_facts(told).openings
    return ohm_histories(opening, hook_up(opening, catalogue), catalogue)


def warned(readings: Any, *devices: dict[str, Any], **facts: Any) -> list[tuple[str, str]]:
    found = ohm_findings(histories(readings, *devices, **facts))
    return [(each.level, render(each.text, Reader(country="US"))) for each in found]


def test_every_visit_reads_again_and_the_fall_is_told_with_the_month_it_trips() -> None:
    (history,) = histories(yearly(*FALLING))
    assert [each.band for each in history.readings] == ["good", "good", "look", "damp", "damp"]
    assert history.trend is not None
    assert history.trend.sure
    ((level, words),) = warned(yearly(*FALLING))
    assert level == "note"
    assert "The readings of e1 fall by 662 Ω a year, to 7.6 kΩ on May 2, 2026." in words
    assert "reach 3.4 kΩ, where the input reads pressed, about 2032-09; 2031-06 at the earliest" in words


def test_a_trip_within_a_year_is_something_to_do() -> None:
    ((level, _words),) = warned(yearly("10 kohm", "8 kohm", "6 kohm", "4.2 kohm"))
    assert level == "act"


def test_rising_readings_head_for_open() -> None:
    ((_level, words),) = warned(yearly("10 kohm", "13 kohm", "16 kohm", "19 kohm"))
    assert "rise by 3 kΩ a year" in words
    assert "reads open" in words


def test_sound_readings_that_wander_warn_of_nothing() -> None:
    assert warned(yearly("10 kohm", "9.9 kohm", "10.1 kohm", "10 kohm", "9.95 kohm")) == []
    assert warned([]) == []


@pytest.mark.parametrize(
    ("ohms", "level"),
    [
        ("9.4 kohm", "note"), ("8.5 kohm", "note"), ("6 kohm", "act"),
        ("10.6 kohm", "note"), ("12.1 kohm", "act"), ("16 kohm", "act"),
    ],
)  # fmt: skip
def test_a_single_reading_off_its_element_is_said_without_a_trend(ohms: str, level: str) -> None:
    ((found, words),) = warned(yearly(ohms))
    assert found == level
    assert "with an end element of 10 kΩ" in words


def test_readings_of_an_edge_that_was_replaced_do_not_count_for_the_new_one() -> None:
    rows = [*yearly(*FALLING), *yearly("10 kohm", "10 kohm", first=2027)]
    (history,) = histories(rows, {**EDGE, "fitted": "2027"})
    assert history.trend is not None
    assert history.trend.used == 2
    assert sum(each.left_out is not None for each in history.readings) == 5
    assert warned(rows, {**EDGE, "fitted": "2027"}) == []


def test_what_was_read_while_pressed_or_on_no_day_or_open_is_kept_and_does_not_count() -> None:
    rows = [
        *yearly("10 kohm"), {"of": "e1", "ohms": "9 kohm", "pressed": False},
        *yearly("300 ohm", pressed=True), *yearly("20 Mohm", first=2024),
    ]  # fmt: skip
    (history,) = histories(rows)
    assert len(history.readings) == 4
    assert history.trend is not None
    assert history.trend.used == 1
    assert [render(each.left_out, Reader()) for each in history.readings if each.left_out] == [
        "no day written", "while pressed", "a break",
    ]  # fmt: skip


def test_a_reading_without_a_device_belongs_to_the_only_one_there_is() -> None:
    row = {"at": "operator", "ohms": "10 kohm", "on": "2026-03-04"}
    assert len(histories([row])) == 1
    assert histories([row], EDGE, {**EDGE, "id": "e2"}) == ()


def test_what_nobody_wrote_down_of_a_reading_is_said_to_be_taken_for_granted() -> None:
    found = histories([{"of": "e1", "ohms": "10 kohm", "on": "2026-03-04"}])
    assert len(list(taken_for_granted(found))) == 2
    assert not list(taken_for_granted(histories(yearly("10 kohm"))))


def test_behind_a_converter_the_operator_shows_its_output_and_not_the_loop() -> None:
    pulses = {"name": "eye", "circuit": "pulse_two_wire"}
    device = {**EDGE, "through": ["box of the dealer"]}
    (history,) = histories(yearly(*FALLING), device, **{"operator.inputs": [pulses]})
    assert {each.band for each in history.readings} == {None}
    assert history.trend is None
    (history,) = histories(yearly(*FALLING, at="box"), device, **{"operator.inputs": [pulses]})
    assert history.trend is not None
    assert history.trend.sure


def test_a_plain_edge_is_judged_by_its_insulation_and_has_no_trend() -> None:
    plain = {"id": "e1", "kind": "sensing_edge", "circuit": "plain"}
    (history,) = histories(yearly("30 kohm"), plain)
    assert (history.readings[0].band, history.trend) == ("wet", None)


def test_an_element_measured_again_and_again_is_a_series_beside_what_the_plate_says() -> None:
    told = [
        {"value": "10 kohm", "from": "plate"},
        *({"value": each, "from": "measured", "on": f"{2022 + n}-05-02"} for n, each in enumerate(FALLING)),
    ]
    (history,) = histories([], {**EDGE, "resistance": told})
    assert history.element == 10e3
    assert history.trend is not None
    assert history.trend.sure


def test_the_pull_up_of_the_catalogue_decides_where_the_input_trips() -> None:
    listed = next(each for each in demo().inputs if each.circuit == "resistor" and each.pull_up and each.resistance)
    assert listed.pull_up is not None
    named = {"name": listed.name, "circuit": "resistor", "resistance": f"{listed.resistance} ohm"}
    facts = {"operator.inputs": [named], "operator.model": listed.operator}
    device = {**EDGE, "resistance": f"{listed.resistance} ohm", "input": listed.name}
    shares = (1.0, 0.95, 0.9, 0.85)
    rows = yearly(*(f"{(listed.resistance or 0) * each} ohm" for each in shares))
    (history,) = histories(rows, device, catalogue=demo(), **facts)
    assert history.trend is not None
    assert history.trend.trips == pytest.approx(0.34 * listed.pull_up)


def test_programs_read_the_series_in_plain_values() -> None:
    (told,) = ohms_as_json(histories(yearly(*FALLING)), Reader())
    assert [each["on"] for each in told["readings"]] == [f"{year}-05-02" for year in range(2022, 2027)]
    assert told["trend"]["months_least"] < told["trend"]["months"]
    assert told["trend"]["months_to_warn"] == 0
