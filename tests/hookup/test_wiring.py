"""The wiring sheet: points in order, terminals and colours as the catalogue names them, else as questions."""

from __future__ import annotations

from datetime import date
from itertools import pairwise, product
from typing import Any

import pytest

from sillwright.base.words import Reader, render
from sillwright.catalogue import demo
from sillwright.drawing import Recorder, record
from sillwright.hookup import Hookup, hook_up
from sillwright.hookup.answer import Wiring
from sillwright.paper.readings_table import readings_rows
from sillwright.paper.svg import svg
from sillwright.paper.voice import Voice
from sillwright.paper.wiring_page import wiring_paper
from sillwright.paper.wiring_sheet import in_words_of, wiring_drawing, wiring_sheet
from sillwright.survey.devices import DEVICE_CIRCUITS
from sillwright.survey.from_facts import survey_from_facts
from sillwright.survey.operator import INPUT_CIRCUITS

from .openings import EYE, PULSES, TEN, US, edge, hooked, opening, plain_edge

METRIC = Reader(units="metric", country="DE")
J: dict[str, Any] = {"catalogue": demo(), "operator__model": "Operator class J"}
HOSTILE = '<script>alert("x")</script> & #let(x) \u5927 ' + "x" * 150


def sheet(inputs: Any, *devices: dict[str, Any], **facts: Any) -> Wiring:
    """The wiring of the first device."""
    return hooked(inputs, *devices, **facts).wiring[0]


def seen(found: Hookup, reader: Reader = US) -> Recorder:
    """The drawing of all devices, as a recorder saw it."""
    return record(wiring_sheet(found, reader, tag="B1"))


def point_ids(found: Wiring) -> list[str]:
    return [each.id for each in found.points]


# what is on it


def test_an_edge_goes_from_the_operator_over_the_box_to_its_far_end() -> None:
    found = sheet([TEN], edge())
    assert point_ids(found) == ["operator", "box", "edge"]
    assert [each.kind for each in found.runs] == ["lead", "cord"]


def test_a_converter_stands_between_operator_and_box() -> None:
    found = sheet([PULSES], edge(), catalogue=demo())
    assert point_ids(found) == ["operator", "converter", "box", "edge"]
    assert found.points[1].terminals == ("P1", "P2")
    assert found.points[1].behind == ("E1", "E2")


def test_a_radio_edge_has_no_cord_and_no_box() -> None:
    found = sheet([TEN], plain_edge("radio"), catalogue=demo())
    assert point_ids(found) == ["operator", "converter", "edge"]
    assert [each.kind for each in found.runs] == ["pair", "radio"]


def test_an_air_edge_has_a_hose_from_its_switch() -> None:
    found = sheet([{"name": "r", "circuit": "plain"}], {"id": "a", "kind": "air_edge"})
    assert [each.kind for each in found.runs] == ["lead", "hose"]
    assert render(found.points[1].title, US) == "Air switch"


def test_an_eye_is_wired_without_a_box() -> None:
    assert point_ids(sheet([PULSES], EYE)) == ["operator", "device"]


def test_terminals_and_colours_are_the_catalogues() -> None:
    found = sheet(None, {**EYE, "model": "Eye class E"}, **J)
    assert found.points[0].terminals == ("EYE", "COM")
    assert found.points[-1].terminals == ("white", "white, black stripe")


def test_colours_of_another_count_are_not_used() -> None:
    """Class A names two colours; as a four-wire edge it cannot be meant."""
    found = sheet(None, plain_edge("four_wire", model="Edge class A"), **J)
    assert found.points[-1].terminals == ("", "", "", "")


def test_terminals_that_nobody_named_are_asked_for() -> None:
    found = sheet([TEN], edge())
    assert found.points[0].terminals == ("", "")
    assert any("Names of the terminals?" in render(each, US) for each in found.questions)
    assert "?" in seen(hooked([TEN], edge())).words


def test_the_supply_of_a_converter_is_led_from_terminal_to_terminal() -> None:
    found = sheet(None, plain_edge("four_wire", input="edge"), **J)
    assert any("24 V, 0 V of the operator" in render(each, US) for each in found.remarks)
    assert found.supply == ("24 V", "0 V")


@pytest.mark.parametrize(("circuit", "count"), [("plain", 2), ("resistor", 2), ("four_wire", 4), ("optical", 3)])
def test_a_circuit_has_its_conductors(circuit: str, count: int) -> None:
    found = sheet([{"name": "in", "circuit": "optical" if circuit == "optical" else "plain"}], plain_edge(circuit))
    if circuit == "optical":
        assert found.way == "direct"
    assert [each.conductors for each in found.runs] == [count, count]


def test_the_shield_is_joined_at_one_end_only() -> None:
    told = " ".join(render(each, US) for each in sheet([TEN], edge()).remarks)
    assert "operator's end only" in told
    assert "strain relief at both ends" in told


def test_what_joins_nothing_is_told_and_not_drawn() -> None:
    found = hooked([{"name": "in", "circuit": "four_wire"}], plain_edge("plain"))
    assert not seen(found).has("operator")
    assert "e1 joins no input" in seen(found).words


def test_the_questions_of_an_unknown_device_are_asked() -> None:
    found = sheet(None, {"id": "e1", "kind": "sensing_edge"})
    told = [render(each, US) for each in found.questions]
    assert told == ["Circuit of the device?", "Input of the operator? Read its terminals and its instructions."]
    assert [each.known for each in found.runs] == [False, False]


# the drawing


def test_points_stand_from_left_to_right() -> None:
    drawn = seen(hooked([PULSES], edge(), catalogue=demo()))
    places = [drawn.one(name) for name in ("operator", "converter", "box", "protection.e1")]
    assert all(one.right < other.left for one, other in pairwise(places))


def test_the_end_element_stands_in_the_far_end_with_its_value() -> None:
    drawn = seen(hooked([TEN], edge()))
    assert "10 kΩ" in drawn.one("protection.e1").words
    far = next(text for text, _ in drawn.texts if text.words == "10 kΩ")
    assert far.x > drawn.one("protection.e1").x


def test_an_element_that_nobody_knows_is_a_question() -> None:
    inputs = [{"name": "edge", "circuit": "resistor"}]
    assert "?" in seen(hooked(inputs, plain_edge("resistor"))).one("protection.e1").words


def test_conductors_that_nobody_knows_are_dashed() -> None:
    drawn = seen(hooked(None, {"id": "e1", "kind": "sensing_edge"}))
    assert drawn.one("cord").role == "unknown"
    assert seen(hooked([TEN], edge())).one("cord").role == "leaf"


@pytest.mark.parametrize(("device", "input"), list(product(DEVICE_CIRCUITS, INPUT_CIRCUITS)))
def test_no_words_stand_on_each_other_and_all_fit_the_page(device: str, input: str) -> None:
    found = hooked(
        [{"name": "in", "circuit": input, "resistance": "8.2 kohm"}],
        plain_edge(device, model="Edge class B, cut on site"),
        {"id": "y1", "kind": "photo_eye", "circuit": device},
        catalogue=demo(),
        operator__model="Operator of a name that goes on for a while",
        box__height="6 ft",
        cord__retracted="2 ft",
    )
    for reader in (US, METRIC):
        drawn = wiring_sheet(found, reader, tag="B1")
        assert record(drawn).overlaps() == []
        assert drawn.box.width < 0.1761


def test_words_are_real_text_and_never_markup() -> None:
    inputs = [{**TEN, "name": HOSTILE}]
    found = hooked(inputs, edge(model=HOSTILE), operator__model=HOSTILE)
    text = svg(wiring_sheet(found, US, tag=HOSTILE))
    assert "<script" not in text
    assert "&lt;script" in text
    assert wiring_sheet(found, US, tag=HOSTILE).box.width < 0.1761


def test_an_opening_without_devices_says_so() -> None:
    assert seen(hooked([TEN])).words == ("No device is there to be wired.",)


def test_who_cannot_see_the_drawing_is_told_every_point() -> None:
    told = in_words_of(sheet(None, edge(), **J), US)
    assert told.startswith(
        "e1 on the input edge: Operator, Operator class J, input edge, resistor input (EDGE / COM);"
    )
    assert "two-wire with a resistor at its end" in told


def test_a_picture_alone_has_the_same_points() -> None:
    found = sheet([TEN], edge())
    assert set(record(wiring_drawing(found, US)).names) >= {"operator", "box", "protection.e1", "lead", "cord"}


# the page


def test_the_page_is_the_same_bytes_each_time() -> None:
    found = hooked(None, edge(), EYE, **J)
    first, again = (wiring_paper(found, US, tag="B1", made_on=date(2026, 3, 4), version="1") for _ in range(2))
    assert first.startswith(b"%PDF")
    assert first == again


@pytest.mark.parametrize("devices", [(), (edge(model=HOSTILE), {"id": "a", "kind": "air_edge"}, EYE)])
def test_the_page_can_be_set_of_anything(devices: tuple[dict[str, Any], ...]) -> None:
    found = hooked([TEN], *devices)
    assert wiring_paper(found, METRIC, tag=HOSTILE, made_on=date(2026, 3, 4), version="1").startswith(b"%PDF")


@pytest.mark.parametrize(
    ("facts", "wired", "supply"),
    [
        ({"protection": []}, "No device is there to be wired.", "Nothing here draws from"),
        ({}, "Which devices are there is not known.", "Which devices are there is not known, nor what hangs on"),
        (
            {"protection": None},
            "Which devices are there is not known.",
            "Which devices are there is not known, nor",
        ),
    ],
    ids=["looked, none", "not asked", "asked, not known"],
)
def test_where_nobody_looked_for_devices_none_is_said_to_be_missing(
    facts: dict[str, Any], wired: str, supply: str
) -> None:
    site = survey_from_facts({"door.kind": "slide_gate", **facts})
    found = hook_up(site.openings[0], None)
    assert wired in svg(wiring_sheet(found, US, tag="G1"))
    assert found.power.why is not None
    assert render(found.power.why, US).startswith(supply)


def test_readings_stand_in_rows_by_place() -> None:
    rows = readings_rows(list(hooked(None, edge(), **J).readings), Voice(US))
    assert rows[0][0] == "at rest"
    assert rows[1][1:4] == ["below 500 Ω"] * 3
    assert rows[2][1] == "above 30 kΩ"
    assert all(len(row) == 5 for row in rows)
    assert rows[0][4].endswith(" V")


def test_every_device_of_an_opening_has_a_sheet() -> None:
    found = opening([TEN], edge(), EYE, {"id": "i", "kind": "inherent"})
    assert (
        len(hooked([TEN], edge(), EYE, {"id": "i", "kind": "inherent"}).wiring) == len(list(found.protection)) - 1
    )
