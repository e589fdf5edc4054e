"""Money is exact, halves go to the even unit, rows add up to the printed sum, and no price is not zero."""

from __future__ import annotations

from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import OutOfRange, UnknownName
from sillwright.catalogue.parts import Rate, Work
from sillwright.catalogue.profile import Price
from sillwright.takeoff.ordering import priced_parts, priced_trip, priced_work, totals
from sillwright.takeoff.ordering.money import exact, minor_unit, rounded_to

from .orders import CATALOGUE, CHOICE, COMMON, line, lines, m, priced, said, take_off

ISO_4217 = "ISO 4217, minor units of the list of active codes (from memory)"


@pytest.mark.parametrize(
    ("currency", "digits"), [("USD", 2), ("EUR", 2), ("GBP", 2), ("JPY", 0), ("KWD", 3), ("CLP", 0)]
)
def test_the_smallest_unit_is_that_of_the_currency(currency, digits, verify):
    verify(f"minor unit of {currency}", got=minor_unit(currency), expected=digits, within=0, source=ISO_4217)


@pytest.mark.parametrize("currency", ["usd", "US", "", "XYZ1", "QQQ", "$"])
def test_a_word_that_is_no_currency_is_refused(currency):
    with pytest.raises(OutOfRange, match="ISO 4217"):
        minor_unit(currency)


@pytest.mark.parametrize(
    ("amount", "digits", "rounded"),
    [
        ("0.125", 2, "0.12"), ("0.135", 2, "0.14"), ("-0.125", 2, "-0.12"), ("2.5", 0, "2"), ("3.5", 0, "4"),
        ("1.0005", 3, "1.000"), ("0.1250001", 2, "0.13"),
    ],
)  # fmt: skip
def test_halves_go_to_the_even_unit(amount, digits, rounded):
    assert rounded_to(Decimal(amount), digits) == Decimal(rounded)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), "1,50", "abc", "", True, 1e12, "NaN", "1e400"])
def test_what_is_no_amount_is_refused(value):
    with pytest.raises(OutOfRange, match="is not an amount"):
        exact(value)


def test_a_binary_number_is_taken_as_it_is_written():
    assert exact(0.1) * 3 == Decimal("0.3")
    assert priced("33.335", "3").amount(2) == Decimal("100.00")
    assert priced("0.1", "3").amount(2) == Decimal("0.30")


@given(
    rows=st.lists(
        st.tuples(
            st.decimals(0, 5000, places=3),
            st.decimals(0, 40, places=2),
            st.decimals(0, 100, places=2),
            st.booleans(),
        ),
        min_size=1,
        max_size=12,
    ),
    tax=st.none() | st.decimals(0, 30, places=3),
    off=st.decimals(0, 100, places=1),
    currency=st.sampled_from(["USD", "JPY", "KWD"]),
)
def test_totals_add_up_exactly_line_by_line(rows, tax, off, currency):
    made = [priced(str(p), str(q), discount=d, taxed=t) for p, q, d, t in rows]
    found = totals(made, currency, tax_percent=tax, discount=off)
    unit = Decimal(1).scaleb(-minor_unit(currency))
    assert found.subtotal == sum(found.amounts)
    assert found.total == found.subtotal - found.discount + (found.tax or 0)
    assert all(amount == amount.quantize(unit) for amount in (*found.amounts, found.total, found.discount))
    for amount, (price, quantity, discount, _) in zip(found.amounts, rows, strict=True):
        true = Fraction(price) * Fraction(quantity) * (1 - Fraction(discount) / 100)
        assert abs(Fraction(amount) - true) <= Fraction(unit) / 2
    if tax is not None:
        assert found.tax == (found.taxable * tax / 100).quantize(unit, rounding=ROUND_HALF_EVEN)


def test_tax_is_on_the_taxed_part_after_the_discount():
    found = totals([priced("100"), priced("50", taxed=False)], "USD", tax_percent=Decimal(10), discount=Decimal(20))
    assert (found.subtotal, found.discount, found.taxable) == (Decimal(150), Decimal(30), Decimal(80))
    assert (found.tax, found.total) == (Decimal(8), Decimal(128))


def test_without_a_rate_there_is_no_tax_and_zero_is_a_rate():
    assert totals([priced()], "USD").tax is None
    assert totals([priced()], "USD", tax_percent=Decimal(0)).tax == 0


def test_a_line_without_a_price_is_missing_and_never_zero():
    found = totals([priced("10"), priced(None)], "USD")
    assert found.amounts == (Decimal(10), None)
    assert not found.complete
    assert said(found.missing[0].no_price) == "price not in the catalogue"


@pytest.mark.parametrize(
    "changes",
    [{"price": "-1"}, {"quantity": "-1"}, {"discount": Decimal("-0.1")}, {"discount": Decimal("100.1")}],
)
def test_negative_amounts_and_discounts_beyond_all_are_refused(changes):
    with pytest.raises(OutOfRange, match=r"is negative|from 0 to 100"):
        priced(**changes)


@pytest.mark.parametrize("percent", ["-1", "100.01", "NaN"])
def test_a_tax_outside_0_to_100_is_refused(percent):
    with pytest.raises(OutOfRange):
        totals([priced()], "USD", tax_percent=Decimal(percent))


def test_parts_are_priced_by_piece_and_length():
    rows = priced_parts(lines(), CATALOGUE)
    assert [said(each.what) for each in rows] == [
        "Invented common: overall body 10 ft 6 in (3.200 m)",
        "Invented slide-in, 10 ft 6 in",
        "Cord 2 ft, two",
        "Box with glands",
    ]
    body = Decimal("40") + Decimal("95") * Decimal("3.2004")
    assert rows[0].price == body.quantize(Decimal("0.01"))
    assert [each.price for each in rows[2:]] == [Decimal("61.0").quantize(Decimal("0.01")), Decimal("28.50")]


def test_three_pieces_cost_three_times_one_piece():
    made = line(pieces=3, length=m("16 ft"), quantity=2)
    assert priced_parts([made], CATALOGUE)[0].quantity == 6


@pytest.mark.parametrize("price", [None, Price()])
def test_a_profile_without_a_price_or_with_one_left_at_nothing_has_none(price):
    bare = replace(CATALOGUE, profiles=(replace(COMMON, price=price),))
    assert priced_parts(lines(), bare)[0].price is None


def test_a_price_by_the_metre_of_an_unknown_length_is_none():
    assert priced_parts([line(length=None)], CATALOGUE)[0].price is None


def test_a_part_that_is_not_in_the_catalogue_has_no_price():
    four = lines(choice=replace(CHOICE, box="a box of the crew"))
    assert priced_parts(four, CATALOGUE)[-1].price is None


def test_work_is_hours_at_the_rate_for_so_many_persons():
    made = priced_work("fit and test an edge", CATALOGUE, length=m("10 ft 6 in"))
    assert (made.quantity, made.price, made.unit) == (Decimal("1.16"), Decimal("235.0"), "hour")
    assert made.amount(2) == Decimal("272.60")
    assert said(made.what) == "fit and test an edge, 2 persons"


def test_work_without_a_rate_for_its_persons_has_no_price():
    made = priced_work("lift", CATALOGUE)
    assert made.price is None
    assert said(made.no_price) == "the catalogue has no rate for this work"


def test_two_rates_for_two_persons_need_a_name():
    night = Rate(what="two persons, night", persons=2, price=400.0)
    both = replace(CATALOGUE, rates=(*CATALOGUE.rates, night))
    assert priced_work("fit and test an edge", both).price is None
    assert priced_work("fit and test an edge", both, rate="two persons, night").price == 400


def test_unknown_work_is_refused_with_what_is_known():
    with pytest.raises(UnknownName, match="did you mean “lift”"):
        priced_work("lif", CATALOGUE)
    assert isinstance(CATALOGUE.work[0], Work)


def test_a_trip_is_the_rate_without_persons():
    assert priced_trip(CATALOGUE, trips=2).amount(2) == Decimal("240.00")
    assert priced_trip(replace(CATALOGUE, rates=())).price is None


def test_a_roll_that_is_cut_on_site_is_priced_as_it_is_bought():
    cut = replace(COMMON, construction="cut_on_site")
    made = lines(take_off(), profile=cut)
    (row, *_) = priced_parts(made, replace(CATALOGUE, profiles=(cut,)))
    assert row.price == rounded_to(Decimal(40) + 95 * exact(made[0].to_buy), 2)
