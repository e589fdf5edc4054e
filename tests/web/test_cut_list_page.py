"""The cut list of a site: bars to buy, proven, with what is in none of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from sillwright.catalogue import demo
from sillwright.web.orders.catalogues import bring
from sillwright.web.orders.models import Order, Quote
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Site
from sillwright.web.records.surveys import facts_of

from .conftest import World
from .ordering import accepted, order_for, quay, quote_of, sent, with_catalogue

pytestmark = pytest.mark.django_db


def test_without_a_catalogue_it_says_where_to_bring_one(world: World) -> None:
    page = world.client("reader").get(f"/sites/{world.site.pk}/cut-list/")
    assert page.status_code == 200
    assert "Without a catalogue there are no channels to cut" in page.content.decode()


def test_an_opening_with_a_rusted_slot_and_no_room_gets_a_channel_cut_from_stock(world: World) -> None:
    bring(world.site.organisation, demo(), world.people["owner"])
    rusted(world)
    page = world.client("reader").get(f"/sites/{world.site.pk}/cut-list/").content.decode()
    assert "No cutting costs less: that is proven." in page
    assert "Channel class" in page
    assert "B1 10 ft 6 in" in page
    assert "as nothing that is cut from stock is chosen there yet: B2" in " ".join(page.split())


def replaced(world: World, fact: str) -> tuple[str, ...]:
    """What stands of a fact now."""
    return tuple(head.id for head in facts_of(world.opening).heads.get(fact, ()))


def rusted(world: World) -> None:
    """A door whose slot is rusted, with no room beside it: it gets a channel that is cut from stock."""
    for fact, typed in (
        ("door.bottom.condition", "rusted"),
        ("door.bottom.seat_width", "3 in"),
        ("door.side_room.left", "6 in"),
        ("door.side_room.right", "6 in"),
    ):
        said = Said(fact=fact, typed=typed, origin="measured", by="technician", replaces=replaced(world, fact))
        write(world.site, world.opening, said, author=world.people["technician"])


def test_a_van_of_sites_shares_one_cut_list_and_each_piece_names_its_site(world: World) -> None:
    bring(world.site.organisation, demo(), world.people["owner"])
    rusted(world)
    site = quay(world)
    page = world.client("reader").get("/cut-list/", {"site": [str(world.site.pk), str(site.pk)]}).content.decode()
    assert f"{world.site.name}: B1 10 ft 6 in" in page
    assert "Invented Quay: W1 10 ft 6 in" in page
    assert "from the roll" in page
    assert "For each piece 1 in more" in page
    assert page.count(" checked>") == 2


def test_only_sites_that_one_may_read_come_into_a_van(world: World) -> None:
    bring(world.site.organisation, demo(), world.people["owner"])
    rusted(world)
    page = world.client("stranger").get("/cut-list/", {"site": [str(world.site.pk)]}).content.decode()
    assert world.site.name not in page
    assert "10 ft 6 in" not in page
    assert "Choose the sites that one van goes to." in page


@pytest.mark.parametrize("given", ["", "x", "<script>alert(1)</script>", "00000000-0000-4000-8000-000000000000"])
def test_what_is_no_site_chooses_none(world: World, given: str) -> None:
    answer = world.client("owner").get("/cut-list/", {"site": given})
    assert answer.status_code == 200
    assert "<script>alert" not in answer.content.decode()
    assert "Choose the sites that one van goes to." in answer.content.decode()


def test_a_van_to_a_site_without_a_catalogue_says_whose(world: World) -> None:
    page = world.client("owner").get("/cut-list/", {"site": str(world.site.pk)}).content.decode()
    assert f"{world.dealer.name} has no catalogue yet." in page


ROLLED = "Edge class B, cut on site"
FROM = "Where each profile comes from"


def said(world: World, person: str = "owner", site: Site | None = None) -> str:
    """The page of the cut list, its words one blank apart."""
    page = world.client(person).get(f"/sites/{(site or quay_of(world)).pk}/cut-list/").content.decode()
    return " ".join(page.split())


def quay_of(world: World) -> Site:
    return Site.objects.get(name="Invented Quay")


def test_where_nothing_is_ordered_or_offered_the_cheapest_that_fits_is_cut_and_said_to_be(world: World) -> None:
    with_catalogue(world)
    quay(world)
    page = said(world)
    assert FROM in page
    assert "W1: the cheapest that fits; nothing is ordered or offered for it" in page


def test_what_is_cut_is_the_profile_that_was_ordered_not_the_cheapest(world: World) -> None:
    site = quay(world)
    assert f"<h2>{ROLLED}" in without(world)  # else it would prove nothing
    order = order_for(world, site, "W1", profile="Edge class B")
    page = said(world)
    assert "W1 10 ft 6 in" not in page
    assert "W3 9 ft 6-1/2 in" in page
    change_to(order, profile=ROLLED)
    page = said(world)
    assert "W1 10 ft 6 in" in page
    assert f"W1: as chosen in {order.label}, which is not released yet" in page


def without(world: World) -> str:
    """The page before anything is chosen."""
    with_catalogue(world)
    return said(world)


def change_to(order: Order, **more: Any) -> None:
    """An order that is not released says something else of its openings."""
    order.lines = [{**each, **more} for each in order.lines]
    order.save()


def test_a_released_order_counts_before_a_later_one_that_is_not(world: World) -> None:
    site = quay(world)
    order = order_for(world, site, "W1", profile=ROLLED, circuit="resistor")
    Order.objects.filter(pk=order.pk).update(state="released")
    order_for(world, site, "W1", profile="Edge class C")
    assert f"W1: as ordered in {order.label}" in said(world)


def test_so_many_of_an_edge_as_were_ordered_are_cut(world: World) -> None:
    site = quay(world)
    order_for(world, site, "W1", profile=ROLLED, quantity="3")
    assert said(world).count("W1 10 ft 6 in<") == 3


def test_an_accepted_alternative_is_cut_and_the_other_one_is_not(world: World) -> None:
    site = quay(world)
    quote = accepted(world, sent(world, quote_of(world, site, "W1", profile=ROLLED)))
    page = said(world)
    assert f"W1: as accepted in {quote.label}" in page
    assert "W1 10 ft 6 in" in page


def test_alternatives_that_differ_settle_nothing_and_the_page_says_so(world: World) -> None:
    site = quay(world)
    quote = sent(world, quote_of(world, site, "W1", profile=ROLLED))
    words = f"W1: the cheapest that fits; the alternatives of {quote.label} differ, and none is accepted yet"
    assert words in said(world)


def test_a_quote_that_is_over_settles_nothing(world: World) -> None:
    site = quay(world)
    quote = sent(world, quote_of(world, site, "W1", profile=ROLLED))
    Quote.objects.filter(pk=quote.pk).update(valid_until=date(2020, 1, 1))
    assert "W1: the cheapest that fits; nothing is ordered or offered for it" in said(world)


def test_whoever_may_not_see_a_draft_of_a_quote_does_not_see_it_here(world: World) -> None:
    site = quay(world)
    quote = quote_of(world, site, "W1", profile=ROLLED)
    assert quote.label in said(world, "owner", site)
    assert quote.label not in said(world, "friend", site)


def test_a_profile_that_the_newer_catalogue_no_longer_has_is_not_cut_and_never_swapped(world: World) -> None:
    site = quay(world)
    order = order_for(world, site, "W1", profile=ROLLED)
    full = demo()
    kept = tuple(each for each in full.profiles if each.name != ROLLED)
    bring(world.dealer, replace(full, profiles=kept), world.people["owner"])
    page = said(world)
    assert "W1 10 ft 6 in" not in page
    assert f"W1: chosen in {order.label} is “{ROLLED}”, which version 2 of the catalogue no longer has" in page


def test_an_opening_without_an_edge_is_not_cut_and_the_page_says_by_which_paper(world: World) -> None:
    site = quay(world)
    order = order_for(world, site, "W1", profile="", no_edge=True, work=["test"])
    page = said(world)
    assert "W1 10 ft 6 in" not in page
    assert f"W1: no edge is fitted there, by {order.label}" in page


def test_different_circuits_from_one_roll_are_told_before_it_is_bought(world: World) -> None:
    site = quay(world)
    order_for(world, site, "W1", profile=ROLLED)
    order_for(world, site, "W3", profile=ROLLED, circuit="plain", end_element="")
    page = said(world)
    assert "Different circuits are wanted from this roll" in page
    order_for(world, site, "W3", profile=ROLLED)
    assert "Different circuits are wanted from this roll" not in said(world)
