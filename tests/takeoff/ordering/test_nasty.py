"""What goes wrong between a quote and a delivery: sides, units, lines, decimals, currencies. Nothing is guessed."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import InputError
from sillwright.base.quantity import parse
from sillwright.takeoff.ordering import (
    Answer,
    Received,
    accept,
    agreed,
    compare,
    expire,
    goods_in,
    open_ones,
    read_acknowledgement,
    read_rows,
    send,
)
from sillwright.takeoff.ordering.slip import UNITS, slipped
from sillwright.takeoff.ordering.wording import NotRead, read_value

from .orders import DAY, body, line, lines, quote, said, take_off
from .test_acknowledgement import changed, differences

LENGTH = "Overall body length"


def holding(found, which="confirmed"):
    """Every difference answered the same way."""
    return {each.id: Answer(holds=which, by="Owner", on=DAY) for each in found}


# sides


@pytest.mark.parametrize(
    ("head", "cell", "end"),
    [
        ("Lead end (outside)", "left", "right"),
        ("Lead end (from outside)", "right", "left"),
        ("Lead end [looking in]", "left", "right"),
        ("Lead end (inside)", "left", "left"),
        ("Lead end", "left, exterior", "right"),
        ("Lead end", "right as seen from the street", "left"),
        ("Lead end", "left, looking inside", "right"),
        ("Lead end", "left, looking outside", "left"),
        ("Lead end", "right, inside looking out", "right"),
        ("Lead end", "right, outside looking in", "left"),
    ],
)
def test_a_side_is_turned_by_where_the_maker_stands_in_the_cell_or_in_its_heading(head, cell, end):
    found = read_rows([["Door", head], ["B2", cell]])
    assert found.items[0].values["end"].value == end


@pytest.mark.parametrize(
    "cell", ["left outside, right inside", "left/right", "inside left, outside left", "not left"]
)
def test_a_side_that_is_said_from_both_sides_is_nobodys(cell):
    with pytest.raises(NotRead):
        read_value("end", cell)


def test_the_other_side_is_a_difference_until_somebody_answers():
    found = differences(changed(**{"Lead end": "left (outside)"}))
    assert [each.id for each in open_ones(found, {})] == ["1.end"]


# units


@pytest.mark.parametrize(
    ("wrote", "meant"),
    [("126 mm", "in"), ("3200.4 in", "mm"), ("10.5 m", "ft"), ("126 ft", "in")],
)
def test_the_ordered_number_in_another_unit_is_asked_and_never_held(wrote, meant):
    (found,) = differences(changed(**{LENGTH: wrote}))
    assert found.kind == "two ways"
    assert f"“{wrote}” is the same number in {wrote.split()[1]} in place of {meant}" in said(found.text)
    assert open_ones([found], holding([found])) == (found,)
    assert open_ones([found], holding([found], "ordered")) == ()


def test_a_heading_in_millimetres_over_a_column_in_inches_is_asked():
    text = changed(**{LENGTH: None}).replace("Door: B2", "Door: B2\nBody length (mm): 126")
    (found,) = differences(text)
    assert "the same number in mm in place of in" in said(found.text)


def test_a_channel_in_the_wrong_unit_is_asked_too():
    (found,) = differences(changed(**{"Channel length": "126 mm"}))
    assert (found.id, found.kind) == ("1.channel_length", "two ways")


@pytest.mark.parametrize("length", ["10 ft", "9 ft 6 in", "3.2 m 4 mm", "10 ft 7 in"])
def test_a_length_that_is_another_one_is_no_slip(length):
    assert all("same number" not in said(each.text) for each in differences(changed(**{LENGTH: length})))


@given(number=st.floats(min_value=1, max_value=5000), pair=st.permutations(list(UNITS)))
def test_one_number_in_two_units_is_found_and_a_length_is_never_its_own_slip(number, pair):
    meant, wrote, *_rest = pair
    length = number * UNITS[meant]
    assert slipped(length, length) is None
    if {"in", "ft"} & {meant, wrote}:
        assert slipped(length, number * UNITS[wrote]) == (meant, wrote)


def test_a_delivery_that_is_taken_down_in_the_wrong_unit_is_measured_again_not_sent_back():
    found = {each.id: each for each in goods_in(line(), Received(length=parse("126 mm", "m")))}
    words = found["goods_in.length"]
    assert words.level == "act"
    assert "one number, in mm and in in" in said(words.text)
    assert said(words.do) == "Measure it again, and write the unit of the tape."


@pytest.mark.parametrize("length", ["3200,4 mm", "3,2004 m", "3.200,4 mm", "3,200 mm", "126", "-126 in", "0 in"])
def test_a_decimal_comma_a_number_without_a_unit_and_no_length_at_all_are_not_read(length):
    found = differences(changed(**{LENGTH: length}))
    assert {each.kind for each in found} == {"not said", "not read"}
    assert any(length in said(each.text) for each in found)


@pytest.mark.parametrize(
    ("key", "text"), [("end_element", "10,0 kohm"), ("end_element", "8,2k"), ("quantity", "1,0")]
)
def test_a_decimal_comma_in_ohms_or_counts_is_not_read_either(key, text):
    with pytest.raises(NotRead):
        read_value(key, text)


# lines


def test_a_line_that_is_missing_may_be_dropped_only_by_a_name():
    found = differences("Door: B9\nType: Invented tall\nOverall body length: 4 ft\nLead end: left")
    assert [each.kind for each in found] == ["line missing", "line extra"]
    assert agreed([line()], found, {}) is None
    nameless = {each.id: Answer(holds="confirmed", by=" ", on=DAY) for each in found}
    assert agreed([line()], found, nameless) is None
    settled = agreed([line()], found, holding(found))
    assert settled.lines[0].dropped is not None


def test_a_line_that_is_confirmed_twice_is_built_once_and_the_second_one_asked():
    twice = f"{changed()}\n\n{changed()}"
    (found,) = differences(twice)
    assert found.kind == "line extra"
    assert agreed([line()], [found], holding([found], "ordered")).lines[0].line == line()


def test_two_equal_lines_of_one_order_take_one_item_each():
    two = lines(take_off(body(), body()))
    found = compare(two, read_acknowledgement(changed()))
    assert [each.kind for each in found if each.kind == "line missing"] == ["line missing"]


# quotes


def test_an_old_quote_is_neither_sent_nor_accepted_after_its_last_day_and_only_then_runs_out():
    draft = quote()
    late = replace(draft, valid_until=DAY)
    after = DAY.replace(year=DAY.year + 1)
    with pytest.raises(InputError, match="ran out"):
        send(late, on=after, by="Owner")
    out = send(late, on=DAY, by="Owner")
    with pytest.raises(InputError, match="ran out"):
        accept(out, out.alternatives[0].name, on=after, by="N. Berg")
    with pytest.raises(InputError, match="runs out the day after"):
        expire(out, on=DAY, by="Owner")
    assert expire(out, on=after, by="Owner").state == "expired"
