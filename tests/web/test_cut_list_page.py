"""The cut list of a site: bars to buy, proven, with what is in none of them."""

from __future__ import annotations

import pytest

from sillwright.catalogue import demo
from sillwright.web.orders.catalogues import bring
from sillwright.web.records.log import Said, write
from sillwright.web.records.surveys import facts_of

from .conftest import World

pytestmark = pytest.mark.django_db


def test_without_a_catalogue_it_says_where_to_bring_one(world: World) -> None:
    page = world.client("reader").get(f"/sites/{world.site.pk}/cut-list/")
    assert page.status_code == 200
    assert "Without a catalogue there are no channels to cut" in page.content.decode()


def test_an_opening_with_a_rusted_slot_and_no_room_gets_a_channel_cut_from_stock(world: World) -> None:
    bring(world.site.organisation, demo(), world.people["owner"])
    for fact, typed in (
        ("door.bottom.condition", "rusted"),
        ("door.bottom.seat_width", "3 in"),
        ("door.side_room.left", "6 in"),
        ("door.side_room.right", "6 in"),
    ):
        said = Said(fact=fact, typed=typed, origin="measured", by="technician", replaces=replaced(world, fact))
        write(world.site, world.opening, said, author=world.people["technician"])
    page = world.client("reader").get(f"/sites/{world.site.pk}/cut-list/").content.decode()
    assert "No cutting costs less: that is proven." in page
    assert "Channel class" in page
    assert "B1 10 ft 6 in" in page
    assert "as their channel is not chosen yet: B2" in " ".join(page.split())


def replaced(world: World, fact: str) -> tuple[str, ...]:
    """What stands of a fact now."""
    return tuple(head.id for head in facts_of(world.opening).heads.get(fact, ()))
