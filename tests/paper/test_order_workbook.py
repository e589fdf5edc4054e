"""The quote as a workbook: its formulas give what the paper says, stay live, and no text becomes a formula."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date
from decimal import Decimal

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sillwright.base.words import ENGLISH, Reader, Sentence
from sillwright.paper.quote_sheet import FIRST, quote_workbook, rounded_formula
from sillwright.takeoff.ordering.quote import Quote

from ..takeoff.ordering.orders import DAY, METRIC, alternative, priced, quote
from .hostile import HOSTILE
from .sheet_formulas import Computed


def made(offer: Quote, reader: Reader = ENGLISH) -> bytes:
    return quote_workbook(offer, reader, made_on=DAY)


def sums(book: Computed, rows: int) -> list[Decimal]:
    """Sum, discount, tax and total of an alternative with so many lines."""
    return [book[f"H{FIRST + rows + n}"] for n in range(2, 6)]


def kept(content: bytes, name: str, sheet: str = "Alternative 1"):
    """The value kept beside a formula, for programs that do not work it out."""
    return openpyxl.load_workbook(io.BytesIO(content), data_only=True)[sheet][name].value


def test_formulas_give_what_the_totals_say():
    offer = quote(alternative("a", priced("100"), priced("33.335", "3"), priced("50", taxed=False)))
    book = Computed(made(offer), "Alternative 1")
    assert [book[f"H{FIRST + n}"] for n in (1, 2, 3)] == [Decimal(100), Decimal("100.00"), Decimal(50)]
    assert sums(book, 3) == [Decimal(250), 0, Decimal("16.50"), Decimal("266.50")]
    assert kept(made(offer), f"H{FIRST + 8}") == 266.5


@settings(max_examples=40)
@given(
    rows=st.lists(
        st.tuples(
            st.decimals(0, 9999, places=3),
            st.decimals(0, 40, places=2),
            st.decimals(0, 100, places=1),
            st.booleans(),
        ),
        min_size=1,
        max_size=6,
    ),
    tax=st.decimals(0, 30, places=3),
    off=st.decimals(0, 100, places=1),
    currency=st.sampled_from(["USD", "JPY", "KWD"]),
)
def test_every_formula_gives_the_amount_of_the_paper(rows, tax, off, currency):
    lines = [priced(str(p), str(q), discount=d, taxed=t) for p, q, d, t in rows]
    offer = quote(replace(alternative("a", *lines), discount=off), tax_percent=tax)
    offer = replace(offer, prices=replace(offer.prices, currency=currency))
    book, found = Computed(made(offer), "Alternative 1"), offer.alternatives[0].totals(currency, tax)
    assert [book[f"H{FIRST + 1 + n}"] for n in range(len(lines))] == list(found.amounts)
    assert sums(book, len(lines)) == [found.subtotal, -found.discount, found.tax, found.total]


@pytest.mark.parametrize(
    ("value", "rounded"), [("0.125", "0.12"), ("0.135", "0.14"), ("1.005", "1.00"), ("2.675", "2.68")]
)
def test_halves_go_to_the_even_unit_in_the_sheet_too(value, rounded):
    book = Computed(made(quote(alternative("a", priced(value)))), "Alternative 1")
    assert book[f"H{FIRST + 1}"] == Decimal(rounded)
    assert "ROUNDDOWN" in rounded_formula("A1", 2)


def test_a_line_without_a_price_says_so_and_counts_once_one_is_typed():
    content = made(quote(alternative("a", priced("100"), priced(None)), tax_percent=Decimal(0)))
    book = Computed(content, "Alternative 1")
    at = FIRST + 2
    assert book[f"H{at}"] == kept(content, f"H{at}") == "price not in the catalogue"
    assert sums(book, 2)[-1] == 100
    assert book[f"G{FIRST + 7}"] == "total in USD without the lines that have no price"
    book.changed[f"E{at}"] = Decimal("12.50")
    assert sums(book, 2)[-1] == Decimal("112.50")


def test_a_changed_tax_or_discount_changes_the_total():
    book = Computed(made(quote(alternative("a", priced("100")), tax_percent=None)), "Alternative 1")
    assert sums(book, 1)[-1] == 100
    assert book[f"G{FIRST + 5}"] == "tax: none entered"
    book.changed |= {f"F{FIRST + 5}": Decimal(10), f"F{FIRST + 4}": Decimal(50)}
    assert sums(book, 1) == [Decimal(100), Decimal("-50.00"), Decimal("5.00"), Decimal("55.00")]


def test_every_alternative_has_its_sheet_and_one_is_about_the_quote():
    book = openpyxl.load_workbook(io.BytesIO(made(quote(alternative("a"), alternative("b")))))
    assert book.sheetnames == ["Alternative 1", "Alternative 2", "About this quote"]
    told = " ".join(str(cell.value) for row in book["About this quote"].iter_rows() for cell in row)
    for words in (
        "Q-17",
        "April 3, 2026",
        "Invented catalogue",
        "invented, for demonstration",
        "Floor work",
        "30 days",
    ):
        assert words in told


@pytest.mark.parametrize("text", [*HOSTILE, "=1+1", "+1", "@SUM(A1)", "-2", "http://example.org", "{=1}"])
def test_no_text_becomes_a_formula_a_link_or_a_number(text):
    offer = quote(alternative(text[:200] or "x", replace(priced(), what=Sentence("{it}", {"it": text}), tag=text)))
    offer = replace(offer, about=text, terms=text[:20_000], exclusions=(text,))
    book = openpyxl.load_workbook(io.BytesIO(made(offer)))
    ours = {f"H{FIRST + n}" for n in (1, 3, 4, 5, 6)}
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f" or (sheet.title != "About this quote" and cell.coordinate in ours)
                assert cell.hyperlink is None


def test_words_of_the_sheet_cannot_leave_a_formula():
    tricky = replace(priced(None), no_price=Sentence('no "price", or 1)+SUM(A1)'))
    book = Computed(made(quote(alternative("a", tricky))), "Alternative 1")
    assert book[f"H{FIRST + 1}"] == 'no "price", or 1)+SUM(A1)'


def test_the_same_quote_gives_the_same_bytes_and_another_day_others():
    assert made(quote()) == made(quote())
    assert quote_workbook(quote(), ENGLISH, made_on=date(2026, 3, 5)) != made(quote())


def test_dates_are_those_of_the_reader():
    book = openpyxl.load_workbook(io.BytesIO(made(quote(), METRIC)))
    assert "3 April 2026" in [row[1].value for row in book["About this quote"].iter_rows()]
