"""How it is wired, in words: on the study page, on the technician's page, and one sentence for the owner."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from sillwright.base.words import Reader
from sillwright.catalogue import demo
from sillwright.drawing import record
from sillwright.paper.hookup_page import hookup_page, wired_for_the_owner
from sillwright.paper.ohm_chart import PLOT, ohm_chart
from sillwright.paper.report import report_data, typeset
from sillwright.paper.svg import svg
from sillwright.paper.voice import Voice
from sillwright.study import OpeningStudy, SiteStudy, study_opening
from sillwright.survey.from_facts import survey_from_facts

from .hostile import HOSTILE

VOICE = Voice(Reader(country="US"))
DOOR = {"door.kind": "sectional", "door.clear_width": "10 ft 4 in", "door.clear_height": "12 ft"}
TEN = {"name": "edge", "circuit": "resistor", "resistance": "10 kohm"}
EDGE = {"id": "e1", "kind": "sensing_edge", "circuit": "resistor", "resistance": "10 kohm", "model": "edge-m",
        "through": []}  # fmt: skip
READ = {
    "operator.instructions": {"title": "Use", "page": "23", "read_by": "advisor", "on": "2026-03-04"},
    "operator.made": "2019",
    "operator.lists_devices": ["edge-m"],
}
FALLING = [
    {"at": "operator", "of": "e1", "pressed": False, "ohms": ohms, "on": f"{2022 + n}-05-02"}
    for n, ohms in enumerate(("10.1 kohm", "9.7 kohm", "9.2 kohm", "8.3 kohm", "7.6 kohm"))
]


def study(*devices: dict[str, Any], **facts: Any) -> OpeningStudy:
    told = {**DOOR, "operator.inputs": [TEN], "protection": list(devices), **facts}
    survey = survey_from_facts(told)
    return study_opening(survey.site, survey.openings[0], points=16, catalogue=demo())


def page(*devices: dict[str, Any], **facts: Any) -> dict[str, Any]:
    return hookup_page(study(*devices, **facts), VOICE)


def test_a_device_says_where_it_goes_how_and_what_it_counts_as() -> None:
    found = page(EDGE, **READ)
    assert found["headline"] == "The sensing edge e1 is watched and listed: it counts as monitored."
    (device,) = found["devices"]
    assert device["goes"].startswith("Directly to the input “edge”; an end element of 10 kΩ belongs in the far end")
    assert device["mark"] == "yes"
    assert device["rows"][0] == ["at rest", "9.46 kΩ to 10.7 kΩ"]


@pytest.mark.parametrize(
    ("device", "words"),
    [
        ({"circuit": "plain"}, "no input of this operator"),
        ({"circuit": "pulse_two_wire"}, "no input of this operator"),
        ({"circuit": None}, "not known"),
    ],
)
def test_a_device_that_joins_nothing_says_so(device: dict[str, Any], words: str) -> None:
    (told,) = page({**EDGE, **device, "through": None})["devices"]
    assert words in told["goes"]
    assert told["mark"] != "yes"


def test_a_converter_is_named_or_said_not_to_be() -> None:
    pulses = {"name": "eye", "circuit": "pulse_two_wire"}
    (told,) = page({**EDGE, "through": ["box of the dealer"]}, **{"operator.inputs": [pulses]})["devices"]
    assert told["goes"] == "To the input “eye” through box of the dealer (to: pulsed two-wire input)."


@pytest.mark.parametrize("state", ["dead", "torn_off", "missing", "defeated"])
def test_a_device_that_is_down_counts_as_nothing_whatever_its_wires(state: str) -> None:
    found = page({**EDGE, "state": state}, **READ)
    assert found["devices"][0]["mark"] == "no"
    assert "nothing rests on it" in found["devices"][0]["counts"]


def test_several_devices_are_grouped_by_what_they_count_as() -> None:
    plain = {"id": "e2", "kind": "sensing_edge", "circuit": "plain"}
    found = page(EDGE, plain, **READ, **{"operator.inputs": [TEN, {"name": "rev", "circuit": "plain"}]})
    assert found["headline"] == "Counts as monitored: e1. Ancillary only, as it stands: e2."
    assert "the operator does not see when it fails" in found["devices"][1]["counts"]


def test_no_devices_and_devices_nobody_asked_for_are_two_things() -> None:
    assert page()["headline"] == "No device is there to be wired."
    asked = study(protection=None)
    assert hookup_page(asked, VOICE)["headline"] == "Which devices are there is not known."


def test_what_is_left_of_the_accessory_supply_is_told_where_it_is_known() -> None:
    entry = next(each for each in demo().inputs if each.accessory_current)
    eye = next(each for each in demo().devices if each.current and each.current < (entry.accessory_current or 0))
    device = {"id": "y1", "kind": "photo_eye", "model": eye.name, "circuit": eye.circuit}
    facts = {"operator.model": entry.operator, "operator.inputs": None}
    power = page(device, **facts)["power"]
    assert power[-1] == "215 mA is left."
    unknown = page({**device, "model": None})["power"]
    assert any("known" in each for each in unknown)
    assert any(each.startswith("Still to find out") for each in unknown)


def test_the_owner_is_told_one_plain_sentence_where_it_matters() -> None:
    plain = {"id": "e1", "kind": "sensing_edge", "circuit": "plain"}
    contact = {"operator.inputs": [{"name": "rev", "circuit": "plain"}]}
    (said,) = wired_for_the_owner(study(plain, **contact), VOICE)
    assert said == "Nobody sees when the sensing edge e1 fails: it has to be tried at every visit."
    assert wired_for_the_owner(study({**plain, "state": "torn_off"}, **contact), VOICE) == []
    assert wired_for_the_owner(study(EDGE, **READ), VOICE) == []
    (said,) = wired_for_the_owner(study(EDGE, **READ, readings=FALLING), VOICE)
    assert said == "The readings of the sensing edge e1 are drifting: have it looked at before 2031-06."


def test_readings_stand_newest_first_with_what_each_says() -> None:
    (told,) = page(EDGE, readings=FALLING)["ohms"]
    assert told["rows"][0] == ["2026-05-02", "7.6 kΩ, operator", "damp: a warning, months before the call"]
    assert told["rows"][-1][0] == "2022-05-02"


def test_the_chart_shows_readings_warning_trip_and_trend_to_scale() -> None:
    (history,) = study(EDGE, readings=FALLING).ohms
    chart = ohm_chart(history, Reader())
    assert chart is not None
    drawn = record(chart)
    assert drawn.names == ("band.good", "axes", "line.warns", "line.trips", "trend", "readings")
    assert {"9 kΩ", "3.4 kΩ", "reads pressed"} <= set(drawn.words)
    low, high = drawn.one("line.trips"), drawn.one("line.warns")
    scale = [(each.top - PLOT.bottom) / ohm for each, ohm in ((low, 3400.0), (high, 9000.0))]
    assert low.top < high.top
    assert scale[0] == pytest.approx(scale[1], rel=0.15)  # boxes hold their labels as well
    assert drawn.one("readings").right < drawn.one("trend").right <= PLOT.right + 0.1
    assert "reaches 3.4 kΩ about 2032-09" in chart.described


def test_one_day_is_no_chart_and_no_trend_is_no_line() -> None:
    (history,) = study(EDGE, readings=FALLING[:1]).ohms
    assert ohm_chart(history, Reader()) is None
    (history,) = study(EDGE, readings=FALLING[:3]).ohms
    chart = ohm_chart(history, Reader())
    assert chart is not None
    assert "trend" not in record(chart).names


@pytest.mark.parametrize("ohms", ["0 ohm", "1 ohm", "900 kohm"])
def test_a_wild_reading_stays_inside_the_chart(ohms: str) -> None:
    rows = [*FALLING, {"at": "operator", "of": "e1", "pressed": False, "ohms": ohms, "on": "2026-06-02"}]
    (history,) = study(EDGE, readings=rows).ohms
    chart = ohm_chart(history, Reader())
    assert chart is not None
    assert record(chart).one("readings").top <= PLOT.top + 1.0


@pytest.mark.parametrize("text", [each for each in HOSTILE if not {"\n", "\x00"} & set(each)])
def test_markup_in_names_is_only_ever_text(text: str) -> None:
    device = {**EDGE, "model": text, "input": text, "through": [text]}
    rows = [{**each, "at": text} for each in FALLING]
    found = study(device, readings=rows, **{"operator.inputs": [{**TEN, "name": text}]})
    (history,) = found.ohms
    chart = ohm_chart(history, Reader())
    assert chart is None or "<script" not in svg(chart)
    told = str(hookup_page(found, VOICE))
    assert "Sentence(" not in told


def test_the_report_has_the_wiring_the_readings_and_the_owners_sentence() -> None:
    found = study(EDGE, **READ, readings=FALLING)
    survey = survey_from_facts({**DOOR, "tag": "B1"})
    data = report_data(
        SiteStudy(survey=survey, openings=(found,), reader=Reader()), made_on=date(2026, 11, 25), version="1"
    )
    (page,), (row,) = data["openings"], data["owner"]["rows"]
    assert page["wired"]["headline"].startswith("The sensing edge e1 is watched and listed")
    (chart,) = page["wired"]["charts"]
    assert data["images"][chart]["alt"].startswith("Ohm readings of e1")
    assert "drifting" in row["wired"][0]
    assert any("Theil" in each for each in data["sources"])
    assert typeset(data, date(2026, 11, 25)).startswith(b"%PDF")
