"""Rows and plain data: everything is there, and no text in a cell becomes a formula."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.words import ENGLISH
from sillwright.takeoff.ordering import accept, compare, read_acknowledgement, send
from sillwright.takeoff.ordering.exporting import (
    as_csv,
    order_as_json,
    plain_cell,
    quote_as_json,
    rows_of_order,
    rows_of_quote,
)
from sillwright.takeoff.ordering.fields import FIELDS

from ...paper.hostile import HOSTILE
from .orders import DAY, METRIC, alternative, line, lines, priced, quote, take_off


def read(text):
    return list(csv.reader(io.StringIO(text, newline="")))


@pytest.mark.parametrize("start", ["=1+1", "+1", "-1", "@a", "\tx", "\rx", "\nx", " =1", "\u00a0=1"])
def test_a_text_that_begins_like_a_formula_is_quoted(start):
    assert plain_cell(start).startswith("'")


def test_numbers_of_ours_stay_numbers():
    assert plain_cell(Decimal("-12.50")) == "-12.50"
    assert plain_cell("plain") == "plain"


@given(st.lists(st.lists(st.text(max_size=20), min_size=1, max_size=4), max_size=5))
def test_every_cell_of_a_csv_file_is_text(rows):
    for row in read(as_csv(rows)):
        assert not any(cell.lstrip(" \u00a0")[:1] in set("=+-@\t\r\n") and cell.strip() for cell in row)


def test_an_order_has_every_field_under_its_heading():
    head, row = rows_of_order(lines(), ENGLISH)
    told = dict(zip(head, row, strict=True))
    assert {each.title for each in FIELDS} <= set(head)
    assert (told["length"], told["what the length means"]) == ("10 ft 6 in", "overall body")
    assert (told["lead end, inside looking out"], told["quantity"]) == ("left", 1)
    assert told["mirrored"] == "on the right of someone who stands outside, looking in"
    assert told["open questions"] == ""


def test_an_open_question_has_its_mark():
    made = lines(take_off(lead=replace(take_off().lead, confirmed_by="")))
    assert rows_of_order(made, ENGLISH)[1][-1] == "? Nobody has confirmed the lead."


def test_the_order_that_is_exported_reads_back_as_an_acknowledgement_without_a_difference():
    head, row = rows_of_order(lines(), ENGLISH)
    named = {"opening": "tag", "what the length means": "length means", "lead end, inside looking out": "lead end",
             "exit from that end": "exit from end"}  # fmt: skip
    text = as_csv([[named.get(each, each) for each in head], row])
    assert [each for each in compare(lines(), read_acknowledgement(text)) if each.kind != "not read"] == []


def test_metric_orders_are_written_in_metres():
    made = (line(units="metric"),)
    assert "3.200 m" in rows_of_order(made, METRIC)[1]


def test_a_quote_ends_with_its_sums():
    made = quote(alternative("edge only", priced("100"), priced("33.335", "3")))
    rows = rows_of_quote(made, ENGLISH)
    assert [(row[2], str(row[7])) for row in rows[3:]] == [
        ("sum", "200.00"), ("tax 8.25 %", "16.50"), ("total in USD", "216.50"),
    ]  # fmt: skip


def test_a_line_without_a_price_says_so_and_the_total_too():
    rows = rows_of_quote(quote(alternative("x", priced(), priced(None))), ENGLISH)
    assert rows[2][7] == "price not in the catalogue"
    assert rows[-1][2] == "total in USD without the lines that have no price"


def test_a_quote_without_a_tax_says_that_none_was_entered():
    rows = rows_of_quote(quote(tax_percent=None), ENGLISH)
    assert rows[-1][2] == "total in USD, no tax entered"


def test_a_discount_is_a_row_that_takes_off():
    rows = rows_of_quote(quote(replace(alternative(), discount=Decimal(10))), ENGLISH)
    assert [(row[2], str(row[7])) for row in rows[2:4]] == [("sum", "100.00"), ("discount 10 %", "-10.00")]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_words_stay_words_in_json_and_csv(text):
    made = line(tag=text, note=text, profile=text)
    data = json.loads(json.dumps(order_as_json([made], ENGLISH)))
    assert data["lines"][0]["note"] == text
    assert len(read(as_csv(rows_of_order([made], ENGLISH)).encode("utf-8", "replace").decode())) >= 2


def test_amounts_in_json_are_texts_and_states_have_their_days():
    done = accept(send(quote(), on=DAY, by="Ada"), "edge only", on=DAY, by="Owner")
    data = json.loads(json.dumps(quote_as_json(done, ENGLISH)))
    assert data["alternatives"][0]["sums"][-1] == ["total in USD", "108.25"]
    assert data["history"][-1] == {
        "state": "accepted", "on": "2026-03-04", "by": "Owner", "reason": "", "alternative": "edge only",
    }  # fmt: skip
    assert data["prices"]["invented"] is True


def test_json_of_an_order_holds_si_numbers_and_what_blocks_it():
    made = lines(take_off(lead=replace(take_off().lead, end=None)))
    (data,) = order_as_json(made, ENGLISH)["lines"]
    assert data["length"] == pytest.approx(3.2004)
    assert [each["id"] for each in data["blocked"]] == ["lead_unknown"]
    assert data["released"] == {"by": "", "on": None}
