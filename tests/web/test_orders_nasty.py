"""What happens to a quote and an order while catalogue, currency, day and site change under them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from django.utils import timezone

from sillwright.base.errors import InputError
from sillwright.catalogue import demo
from sillwright.web.orders.catalogues import bring
from sillwright.web.orders.models import CatalogueVersion, Quote
from sillwright.web.orders.orders import lines_now, order_of, release_order, take_catalogue
from sillwright.web.orders.quotes import as_sent, step, take_prices, worked_out
from sillwright.web.records.log import Refused

from .conftest import World
from .ordering import READER, accepted, quay, quote_of, sent

pytestmark = pytest.mark.django_db
GONE = "Edge class B"


def without(world: World, profile: str = GONE) -> CatalogueVersion:
    """The next version of the catalogue, which no longer has a profile."""
    kept = tuple(each for each in demo().profiles if each.name != profile)
    return bring(world.dealer, replace(demo(), profiles=kept), world.people["owner"])


def page(world: World, address: str) -> str:
    answer = world.client("owner").get(address)
    assert answer.status_code == 200
    return " ".join(answer.content.decode().split())


def test_an_old_quote_is_reprinted_although_its_profile_was_withdrawn(world: World) -> None:
    quote = sent(world, quote_of(world, quay(world), "W1"))
    before = {each.ending: each.paper.digest for each in quote.files.select_related("paper")}
    told = as_sent(quote)
    without(world)
    again = Quote.objects.get(pk=quote.pk)
    assert as_sent(again) == told
    assert GONE in page(world, f"/quotes/{quote.pk}/")
    assert {each.ending: each.paper.digest for each in again.files.select_related("paper")} == before
    for ending in before:
        assert world.client("owner").get(f"/quotes/{quote.pk}/quote.{ending}").status_code == 200


def test_what_was_accepted_is_ordered_by_the_catalogue_it_was_offered_from(world: World) -> None:
    quote = accepted(world, sent(world, quote_of(world, quay(world), "W1")))
    newer = without(world)
    order = order_of(quote, by=world.people["owner"])
    found = lines_now(order)
    assert not found.gone
    assert {each.line.profile for each in found.lines} == {GONE}
    moved = take_catalogue(order, newer, by=world.people["owner"])
    (said,) = lines_now(moved).gone
    assert f"“{GONE}” is not in version {newer.number} of the catalogue" in said
    with pytest.raises(Refused, match="is not in version"):
        release_order(moved, READER, seen="", on=timezone.localdate(), name="Owner", by=world.people["owner"])


def test_a_draft_on_prices_without_its_profile_is_no_quote_and_says_which(world: World) -> None:
    quote = take_prices(quote_of(world, quay(world), "W1"), without(world), by=world.people["owner"])
    found = worked_out(quote, READER)
    assert found.quote is None
    assert any(f"“{GONE}”" in each for each in found.wrong)


def test_newer_prices_in_another_currency_say_so_before_they_are_taken(world: World) -> None:
    quote = quote_of(world, quay(world), "W1")
    bring(world.dealer, replace(demo(), currency="EUR"), world.people["owner"])
    assert "Version 2 has its prices in EUR, this quote in USD." in page(world, f"/quotes/{quote.pk}/")
    taken = take_prices(quote, CatalogueVersion.objects.get(number=2), by=world.people["owner"])
    offered = worked_out(taken, READER).quote
    assert offered is not None
    assert offered.prices.currency == "EUR"
    text = page(world, f"/quotes/{quote.pk}/")
    assert "USD" not in text
    assert "has its prices in" not in text


def test_newer_prices_in_the_same_currency_say_nothing_of_it(world: World) -> None:
    quote = quote_of(world, quay(world), "W1")
    bring(world.dealer, replace(demo(), priced_on="2026-05-05"), world.people["owner"])
    text = page(world, f"/quotes/{quote.pk}/")
    assert "Version 2 of the catalogue counts now." in text
    assert "has its prices in" not in text


def test_a_quote_that_ran_out_is_never_accepted_and_makes_no_order(world: World) -> None:
    quote = sent(world, quote_of(world, quay(world), "W1"))
    after = quote.valid_until + timedelta(days=1)
    told = {"name": "N. Berg", "by": world.people["owner"], "on": after}
    with pytest.raises(InputError, match="ran out on"):
        step(quote, "accepted", alternative="Common edge", **told)
    assert Quote.objects.get(pk=quote.pk).state == "sent"
    over = step(quote, "expired", **told)
    assert over.state == "expired"
    with pytest.raises(Refused, match="accepted"):
        order_of(over, by=world.people["owner"])
    with pytest.raises(InputError, match="make a new one"):
        step(over, "accepted", alternative="Common edge", **told)
