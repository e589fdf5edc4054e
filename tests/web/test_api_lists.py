"""Long lists: in pages that nobody's writing disturbs; and changes that build on what was read."""

from __future__ import annotations

import pytest

from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Event, Observation, Opening, Site
from sillwright.web.records.sites import make_opening

from .api_callers import callers
from .conftest import World


def _walk(world: World, address: str) -> list[list[dict[str, object]]]:
    """Every page from an address on."""
    owner, pages = callers(world)["owner"], []
    while address:
        told = owner.ask("GET", address).json()
        pages.append(told["items"])
        address = told["next"]
    return pages


@pytest.mark.parametrize("limit", [1, 2, 3, 200])
def test_the_pages_of_a_list_hold_every_item_once_and_in_order(world: World, limit: int) -> None:
    pages = _walk(world, f"/api/sites/{world.site.pk}/openings?limit={limit}")
    tags = [each["tag"] for page in pages for each in page]
    assert tags == [each.tag for each in Opening.objects.filter(site=world.site).order_by("made", "pk")]
    assert all(len(page) == limit for page in pages[:-1])


def test_items_of_the_same_moment_are_told_apart(world: World) -> None:
    Opening.objects.filter(site=world.site).update(made=world.site.made)
    pages = _walk(world, f"/api/sites/{world.site.pk}/openings?limit=1")
    assert len({each["id"] for page in pages for each in page}) == Opening.objects.filter(site=world.site).count()


def test_what_comes_in_meanwhile_moves_nothing(world: World) -> None:
    owner = callers(world)["owner"]
    first = owner.ask("GET", f"/api/sites/{world.site.pk}/openings?limit=2").json()
    before = owner.ask("GET", first["next"]).json()
    make_opening(world.site, "N1", author=world.people["owner"])
    assert owner.ask("GET", first["next"]).json() == before


def test_the_log_of_an_opening_is_whole_and_in_order(world: World) -> None:
    pages = _walk(world, f"/api/openings/{world.opening.pk}/observations?limit=7")
    rows = Observation.objects.filter(opening=world.opening).order_by("received", "pk")
    assert [each["id"] for page in pages for each in page] == [str(each.pk) for each in rows]


def test_the_log_can_be_read_for_one_fact(world: World) -> None:
    write(world.site, world.opening, Said(fact="door.clear_width", typed="9 ft"), author=world.people["owner"])
    pages = _walk(world, f"/api/openings/{world.opening.pk}/observations?limit=1&fact=door.clear_width")
    assert {each["fact"] for page in pages for each in page} == {"door.clear_width"}
    assert sum(map(len, pages)) > 1


def test_the_trail_is_read_newest_first(world: World) -> None:
    pages = _walk(world, f"/api/organisations/{world.dealer.pk}/trail?limit=50")
    times = [each["at"] for page in pages for each in page]
    assert times == sorted(times, reverse=True)
    assert len(times) == Event.objects.filter(organisation=world.dealer).count()


@pytest.mark.parametrize("wrong", ["limit=0", "limit=201", "limit=x", "cursor=x", "cursor=!!", "cursor=MjAyNg"])
def test_a_page_that_is_none_is_refused(world: World, wrong: str) -> None:
    response = callers(world)["owner"].ask("GET", f"/api/sites?{wrong}")
    assert response.status_code == 422
    assert response.json()["mistakes"][0]["path"] == wrong.partition("=")[0]


def test_what_is_put_away_is_listed_apart(world: World) -> None:
    owner, site = callers(world)["owner"], f"/api/sites/{world.site.pk}"
    owner.ask("PATCH", site, {"put_away": True})
    assert owner.ask("GET", "/api/sites").json()["items"] == []
    assert [each["name"] for each in owner.ask("GET", "/api/sites?put_away=true").json()["items"]] == [
        world.site.name
    ]
    assert owner.ask("PATCH", site, {"put_away": False}).json()["put_away"] is None


@pytest.mark.parametrize(("thing", "name"), [("site", "name"), ("opening", "tag")])
def test_a_name_is_changed_only_where_nobody_changed_it_meanwhile(world: World, thing: str, name: str) -> None:
    owner = callers(world)["owner"]
    key = world.site.pk if thing == "site" else world.opening.pk
    address = f"/api/{thing}s/{key}"
    tag = owner.ask("GET", address)["ETag"]
    first = owner.ask("PATCH", address, {name: "Quay"}, **{"If-Match": tag})
    assert (first.status_code, first.json()[name]) == (200, "Quay")
    late = owner.ask("PATCH", address, {name: "Pier"}, **{"If-Match": tag})
    assert (late.status_code, late.json()["type"]) == (412, "/api/problems/changed-meanwhile")
    row: Site | Opening = Site.objects.get(pk=key) if thing == "site" else Opening.objects.get(pk=key)
    assert str(row) == "Quay"
    for still in ("*", f'"0", {first["ETag"]}', f"W/{first['ETag']}"):
        assert owner.ask("PATCH", address, {}, **{"If-Match": still}).status_code == 200


def test_a_tag_that_another_opening_has_is_refused(world: World) -> None:
    one, other = Opening.objects.filter(site=world.site)[:2]
    refused = callers(world)["owner"].ask("PATCH", f"/api/openings/{one.pk}", {"tag": other.tag})
    assert refused.status_code == 422
    assert other.tag in refused.json()["mistakes"][0]["message"]
