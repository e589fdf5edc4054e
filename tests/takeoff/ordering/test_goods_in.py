"""Goods-in: what came is held against the order before anybody fits it, and what nobody looked at is asked."""

from __future__ import annotations

from dataclasses import replace
from math import inf, nan

import pytest

from sillwright.base.errors import OutOfRange
from sillwright.takeoff.ordering import Meter, Received, goods_in
from sillwright.takeoff.ordering.goods_in import rest_time
from sillwright.takeoff.ordering.ohms import judged

from .orders import METRIC, line, m, said

ROOM = 294.26  # 70 degF
FROST = 272.04  # 30 degF
GOOD = Received(
    hours=3.0,
    carton_whole=True,
    length=m("10 ft 6 in"),
    lead_length=m("3 ft"),
    wires=2,
    meter=Meter(rest=10e3, pressed=0.4),
    end="left",
    profile="invented common",
    photo=True,
    carried_at=ROOM,
    room=ROOM,
    rested=900.0,
    off_flat=0.001,
)


def found(line=None, **changes):
    """The findings that are not good, by name."""
    received = replace(GOOD, **changes)
    return {
        each.id.removeprefix("goods_in."): each
        for each in goods_in(line or _line(), received)
        if each.level != "good"
    }


def _line(**changes):
    return line(**changes)


def test_what_came_as_ordered_raises_nothing():
    assert found() == {}
    assert {each.level for each in goods_in(_line(), GOOD)} == {"good"}


def test_nobody_looked_is_never_good():
    nothing = goods_in(_line(), Received())
    assert "good" not in {each.level for each in nothing}
    assert {each.id.removeprefix("goods_in.") for each in nothing} >= {
        "time", "carton", "length", "lead_length", "wires", "ohms", "pressed", "end", "profile", "photo", "rest",
    }  # fmt: skip


@pytest.mark.parametrize(
    ("length", "level"),
    [
        ("10 ft 6-1/8 in", None),
        ("10 ft 5-7/8 in", None),
        ("10 ft 6-3/16 in", "act"),
        ("10 ft 5-13/16 in", "act"),
    ],
)
def test_an_eighth_by_tape_is_the_boundary(length, level):
    assert (found(length=m(length)).get("length") is not None) == (level == "act")


def test_too_short_and_too_long_say_so_in_the_readers_units():
    short = found(length=m("10 ft 5 in"))["length"]
    assert said(short.text) == "The body is 10 ft 5 in, 1 in shorter than ordered (10 ft 6 in)."
    assert "never cut" in said(found(length=m("10 ft 7 in"))["length"].do)
    assert "3.175 m, 25 mm shorter" in said(short.text, METRIC)


def test_a_roll_may_be_longer_and_not_shorter_than_it_was_bought():
    roll = _line(to_buy=m("11 ft"))
    assert "length" not in found(roll, length=m("12 ft"))
    assert "length" in found(roll, length=m("10 ft 11 in"))


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        ({"hours": 48.1}, "time"),
        ({"carton_whole": False}, "carton"),
        ({"wires": 4}, "wires"),
        ({"end": "right"}, "end"),
        ({"profile": "Invented tall"}, "profile"),
        ({"lead_length": m("2 ft 10 in")}, "lead_length"),
        ({"off_flat": m("5/16 in")}, "flat"),
        ({"rested": 899.0}, "rest"),
    ],
)
def test_what_differs_is_reported_before_it_is_fitted(changes, name):
    assert found(**changes)[name].level == "act"


@pytest.mark.parametrize(
    "changes", [{"hours": 48.0}, {"lead_length": m("2 ft 11 in")}, {"off_flat": m("1/4 in")}, {"rested": 900.0}]
)
def test_on_the_boundary_it_is_still_taken(changes):
    assert found(**changes) == {}


def test_no_photo_is_asked_for():
    assert found(photo=False)["photo"].level == "note"


@pytest.mark.parametrize(
    ("ohms", "words"),
    [
        (9.5e3, None),
        (10.5e3, None),
        (9.4e3, "water, or another end element"),
        (10.6e3, "a bad joint, or another end element"),
        (5e3, "half of 10 kΩ"),
        (inf, "reads open instead of 10 kΩ"),
        (0.0, "shorted or pressed"),
        (8.2e3, "another end element"),
    ],
)
def test_ohms_before_fitting_are_within_five_percent_of_the_end_element(ohms, words):
    bad = found(meter=Meter(rest=ohms, pressed=0.4)).get("ohms")
    assert (bad is None) == (words is None)
    if bad is not None:
        assert words in said(bad.text)
        assert bad.level == "act"


def levels(circuit, end_element=None, **meter):
    return {each.name: each.level for each in judged(circuit, end_element, Meter(**meter))}


@pytest.mark.parametrize(
    ("ohms", "level"),
    [
        (inf, "good"),
        (5.1e6, "good"),
        (5e6, "note"),
        (1e6, "note"),
        (9e5, "act"),
        (5e4, "act"),
        (4e4, "act"),
        (0.0, "act"),
    ],
)
def test_a_plain_edge_is_open_at_rest_and_only_a_press_tells_that_it_answers(ohms, level):
    assert levels("plain", rest=ohms) == {"ohms": level, "pressed": "note"}


@pytest.mark.parametrize(("pressed", "level"), [(499.0, "good"), (500.0, "act"), (inf, "act")])
def test_pressed_it_reads_below_500_ohms(pressed, level):
    assert levels("plain", rest=inf, pressed=pressed)["pressed"] == level


@pytest.mark.parametrize(("strips", "level"), [(499.0, "good"), (500.0, "act"), (inf, "act"), (None, "note")])
def test_the_strips_of_a_four_wire_edge_are_read_end_to_end(strips, level):
    assert levels("four_wire", rest=inf, strips=strips, pressed=1.0)["strips"] == level


@pytest.mark.parametrize("circuit", ["air", "optical", "diode_capacitor", None, "resistor"])
def test_where_ohms_do_not_tell_nothing_is_called_good(circuit):
    assert levels(circuit, rest=10e3) == {"ohms": "note"}


@pytest.mark.parametrize(
    ("carried", "room", "minutes"),
    [(ROOM, ROOM, 15), (ROOM + 20, ROOM, 15), (ROOM - 20 / 1.8, ROOM, 15), (FROST, ROOM, 30), (None, ROOM, 15)],
)
def test_from_the_cold_it_rests_15_minutes_for_every_20_degf(carried, room, minutes, verify):
    got = rest_time(carried, room)
    source = "15 min at least, 15 min for every 20 degF below room (common practice, from memory)"
    verify(f"rest of an edge, {carried} K to {room} K", got=got, expected=minutes * 60, within=1e-3, source=source)


def test_from_frost_a_quarter_of_an_hour_is_not_enough():
    assert "30 minutes" in said(found(carried_at=FROST, rested=900.0)["rest"].text)
    assert found(carried_at=FROST, rested=1801.0) == {}


def test_without_temperatures_it_rests_at_least_and_says_longer_from_the_cold():
    assert "longer from the cold" in said(found(carried_at=None, rested=None)["rest"].text)


def test_what_came_straight_needs_no_unrolling():
    assert found(_line(ship="straight"), rested=None, off_flat=None) == {}


@pytest.mark.parametrize("temperature", [nan, inf])
def test_a_temperature_that_is_none_is_refused(temperature):
    with pytest.raises(OutOfRange):
        rest_time(temperature, ROOM)


@pytest.mark.parametrize(
    "changes",
    [{"hours": nan}, {"length": -1.0}, {"wires": -2}, {"room": 20.0}, {"carried_at": nan}, {"rested": inf}],
)
def test_numbers_that_cannot_be_are_refused(changes):
    with pytest.raises(OutOfRange, match="accepted"):
        Received(**changes)


@pytest.mark.parametrize("ohms", [nan, -0.1])
def test_a_reading_is_a_resistance(ohms):
    with pytest.raises(OutOfRange, match="no reading in ohms"):
        Meter(rest=ohms)
