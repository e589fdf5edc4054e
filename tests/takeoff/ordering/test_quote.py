"""A quote: one to three alternatives that say what they leave open, and what becomes of it, day by day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sillwright.base.errors import InputError, SillwrightError
from sillwright.base.words import Sentence
from sillwright.takeoff.ordering import Alternative, accept, expire, follow_up, lose, send
from sillwright.takeoff.ordering.quote import Step, prices_of

from .orders import CATALOGUE, COMMON, DAY, alternative, priced, quote, said

SENT = DAY + timedelta(days=1)
LAST = date(2026, 4, 3)


def sent(**changes):
    return replace(send(quote(alternative(), alternative("edge and eye")), on=SENT, by="Ada"), **changes)


def test_a_quote_keeps_whose_prices_of_which_day_it_was_made_on():
    made = quote()
    assert (made.prices.catalogue, made.prices.priced_on) == ("Invented catalogue", "2026-01-15")
    assert (made.prices.currency, made.prices.invented, made.tax_percent) == ("USD", True, Decimal("8.25"))
    assert made.state == "draft"


def test_the_fingerprint_is_the_same_for_the_same_prices_and_another_for_others():
    dearer = replace(CATALOGUE, profiles=(replace(COMMON, height=0.05),))
    assert prices_of(CATALOGUE).fingerprint == prices_of(CATALOGUE).fingerprint
    assert prices_of(dearer).fingerprint != prices_of(CATALOGUE).fingerprint


def test_every_alternative_says_what_it_leaves_open():
    with pytest.raises(InputError, match="edge only: say what it leaves open"):
        Alternative(name="edge only", lines=(priced(),), leaves_open=())


@pytest.mark.parametrize(
    ("alternatives", "message"),
    [
        (tuple(alternative(str(n)) for n in range(4)), "4 alternatives; 1 to 3"),
        ((alternative("A"), alternative(" a ")), "same name"),
    ],
)
def test_one_to_three_alternatives_under_different_names(alternatives, message):
    with pytest.raises(InputError, match=message):
        quote(*alternatives)


def test_an_alternative_offers_something_under_a_name():
    with pytest.raises(InputError, match="nothing is offered"):
        Alternative(name="x", lines=(), leaves_open=(Sentence("all"),))
    with pytest.raises(InputError, match="has a name"):
        alternative("  ")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"number": " "}, "has a number"),
        ({"valid_until": date(2026, 3, 3)}, "before it was drafted"),
        ({"tax_percent": Decimal(101)}, "from 0 to 100"),
        ({"tax_percent": Decimal("-1")}, "from 0 to 100"),
        ({"history": ()}, "begins with its draft"),
        ({"history": (Step(state="sent", on=DAY, by="Ada"),)}, "begins with its draft"),
        ({"terms": "x" * 20_001}, "at most 20000"),
    ],
)
def test_what_cannot_be_offered_is_refused(changes, message):
    with pytest.raises(SillwrightError, match=message):
        quote(**changes)


def test_a_draft_is_sent_and_accepted_with_days_and_names():
    done = accept(sent(), "edge and eye", on=LAST, by=" Owner ")
    assert done.state == "accepted"
    assert done.accepted is not None
    assert done.accepted.name == "edge and eye"
    assert [(each.state, each.on, each.by) for each in done.history] == [
        ("draft", DAY, "Ada"),
        ("sent", SENT, "Ada"),
        ("accepted", LAST, "Owner"),
    ]


def test_it_is_not_accepted_the_day_after_it_ran_out():
    with pytest.raises(InputError, match="ran out on April 3, 2026; make a new one"):
        accept(sent(), "edge only", on=LAST + timedelta(days=1), by="Owner")


def test_only_what_it_offers_is_accepted():
    with pytest.raises(InputError, match="no alternative “roof”; it offers edge only, edge and eye"):
        accept(sent(), "roof", on=LAST, by="Owner")


def test_it_is_not_lost_without_a_reason():
    with pytest.raises(InputError, match="say why it was lost"):
        lose(sent(), "  ", on=LAST, by="Ada")
    assert lose(sent(), "price", on=LAST, by="Ada").history[-1].reason == "price"


def test_it_runs_out_the_day_after_its_last():
    with pytest.raises(InputError, match="holds until April 3, 2026"):
        expire(sent(), on=LAST, by="Ada")
    assert expire(sent(), on=LAST + timedelta(days=1), by="Ada").state == "expired"


def test_a_draft_is_neither_accepted_nor_lost():
    with pytest.raises(InputError, match="is draft, it cannot become accepted; what can follow: sent"):
        accept(quote(), "edge only", on=DAY, by="Owner")
    with pytest.raises(InputError, match="cannot become lost"):
        lose(quote(), "price", on=DAY, by="Ada")


@pytest.mark.parametrize("change", [send, expire])
def test_nothing_follows_what_is_settled(change):
    lost = lose(sent(), "price", on=SENT, by="Ada")
    with pytest.raises(InputError, match=r"make a new (quote|one)"):
        change(lost, on=LAST + timedelta(days=9), by="Ada")


def test_a_step_has_a_name_and_is_not_before_the_last():
    with pytest.raises(InputError, match="say by whom"):
        send(quote(), on=DAY, by=" ")
    with pytest.raises(InputError, match="is before that"):
        send(quote(), on=DAY - timedelta(days=1), by="Ada")


def test_a_quote_with_a_line_without_a_price_does_not_go_out():
    with pytest.raises(InputError, match="no price for an edge; enter it in the catalogue"):
        send(quote(alternative("x", priced(), priced(None))), on=DAY, by="Ada")


def test_it_is_asked_about_a_week_after_it_went_out():
    assert follow_up([sent()], SENT + timedelta(days=6)) == ()
    (found,) = follow_up([sent()], SENT + timedelta(days=7))
    assert found.since == SENT + timedelta(days=7)
    assert said(found.why) == "Sent by Ada on March 5, 2026, no answer yet; it holds until April 3, 2026."


def test_it_is_asked_about_three_days_before_it_runs_out_where_that_is_sooner():
    short = sent(valid_until=SENT + timedelta(days=5))
    assert follow_up([short], SENT + timedelta(days=2))[0].since == SENT + timedelta(days=2)


def test_its_own_day_comes_first_and_running_out_before_all():
    later = sent(ask_again_on=LAST + timedelta(days=30))
    assert follow_up([later], LAST) == ()
    (found,) = follow_up([later], LAST + timedelta(days=1))
    assert "ran out on April 3, 2026" in said(found.why)


def test_what_is_settled_is_not_asked_about_and_a_forgotten_draft_is():
    lost = lose(sent(), "price", on=SENT, by="Ada")
    assert follow_up([lost], LAST + timedelta(days=90)) == ()
    (found,) = follow_up([quote()], DAY + timedelta(days=7))
    assert "not sent" in said(found.why)


@given(st.lists(st.integers(0, 60), max_size=8), st.integers(0, 120))
def test_the_list_of_today_is_sorted_and_holds_nothing_of_tomorrow(days, today):
    made = [sent(number=f"Q-{n}", ask_again_on=SENT + timedelta(days=each)) for n, each in enumerate(days)]
    found = follow_up(made, SENT + timedelta(days=today))
    assert [each.since for each in found] == sorted(each.since for each in found)
    assert all(each.since <= SENT + timedelta(days=today) for each in found)
    assert follow_up(reversed(made), SENT + timedelta(days=today)) == found
