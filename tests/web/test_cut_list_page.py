"""The cut list of a site: bars to buy, proven, with what is in none of them."""

from __future__ import annotations

import pytest

from sillwright.catalogue import demo
from sillwright.web.orders.catalogues import bring
from sillwright.web.records.log import Said, write
from sillwright.web.records.surveys import facts_of

from .conftest import World
from .ordering import quay

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
