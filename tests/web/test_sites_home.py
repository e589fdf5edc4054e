"""The first page and new sites: who sees which, and what each may begin."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.test import Client

from sillwright.web.accounts.models import Membership, Organisation
from sillwright.web.records.models import Event, Site
from sillwright.web.records.sites import make_site, put_away, share

from .conftest import World, person, signed_in

HOSTILE = '<script>alert("x")</script>'


def page(client: Client, address: str = "/") -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode()


@pytest.mark.parametrize("who", ["owner", "advisor", "technician", "reader"])
def test_a_member_sees_the_sites_of_the_organisation_with_place_and_count(world: World, who: str) -> None:
    seen = page(world.client(who))
    assert "Lanternfield Ferry Yard" in seen
    assert f"WA, United States · {world.site.openings.count()} openings" in seen
    assert "shared by" not in seen


@pytest.mark.parametrize(
    ("who", "may"), [("owner", True), ("advisor", True), ("technician", False), ("reader", False)]
)
def test_who_may_make_sites_is_offered_it_and_nobody_else_is(world: World, who: str, may: bool) -> None:
    client = world.client(who)
    seen = page(client)
    for address, status in (("/sites/new/", 302), ("/sites/take-in/", 422)):
        assert (address in seen) == may
        assert client.get(address).status_code == (200 if may else 403)
        sent = client.post(address, {"name": "Quay", "country": "US"})
        assert sent.status_code == (status if may else 403)


def test_a_shared_site_says_whose_it_is_and_what_one_may_do(world: World) -> None:
    assert "shared by Harbour Doors, to read" in page(world.client("friend"))
    share(world.site, world.other, "write", author=world.people["owner"])
    assert "shared by Harbour Doors, to read and write" in page(world.client("friend"))


def test_a_stranger_sees_nothing_of_it(world: World) -> None:
    assert "Lanternfield" not in page(world.client("stranger"))


def test_who_is_not_signed_in_is_sent_to_the_door(world: World) -> None:
    for address in ("/", "/sites/new/", "/sites/take-in/", "/survey-template.xlsx", f"/sites/{world.site.pk}/"):
        assert world.client(None).get(address).headers["Location"].startswith("/accounts/login/")


def test_who_belongs_nowhere_is_told_what_to_do_next(world: World) -> None:
    seen = page(signed_in(person("nomad")))
    assert "ask for an invitation" in seen
    assert "/organisations/new/" in seen


def test_a_member_of_an_organisation_without_sites_is_told_who_makes_the_first(world: World) -> None:
    empty = Organisation.objects.create(name="New Doors")
    assert "An owner or an advisor" in page(signed_in(person("apprentice", empty, "technician")))


def test_there_is_a_search_field_when_there_are_more_sites_than_one_sees_at_once(world: World) -> None:
    assert 'type="search"' not in page(world.client("owner"))
    for number in range(8):
        make_site(world.dealer, f"Quay {number}", "US", author=world.people["owner"])
    assert 'type="search"' in page(world.client("owner"))
    found = page(world.client("owner"), "/?q=uay+3")
    assert "Quay 3" in found
    assert "Quay 4" not in found
    assert "No site has this in its name." in page(world.client("owner"), "/?q=nowhere")


def test_more_sites_than_fifty_come_in_pages(world: World) -> None:
    for number in range(50):
        make_site(world.dealer, f"Shed {number:02}", "US", author=world.people["owner"])
    assert "Shed 49" not in page(world.client("reader"))
    second = page(world.client("reader"), "/?page=2")
    assert "Shed 49" in second
    assert "Page 2 of 2" in second
    for odd in ("/?page=99", "/?page=2&q=", "/?q=%00&page=2"):
        assert "Shed 49" in page(world.client("reader"), odd)


def test_a_list_of_many_sites_asks_as_few_questions_as_one_of_few(
    world: World, django_assert_max_num_queries: Any
) -> None:
    client = world.client("owner")
    for number in range(20):
        make_site(world.dealer, f"Shed {number:02}", "US", author=world.people["owner"])
    with django_assert_max_num_queries(11):
        page(client)


def test_a_site_put_away_stands_behind_a_disclosure_and_comes_back_with_one_tap(world: World) -> None:
    client, address = world.client("advisor"), f"/sites/{world.site.pk}/put-away/"
    answer = client.post(address, follow=True)
    seen = answer.content.decode()
    assert answer.redirect_chain == [(f"/?away={world.site.pk}", 302)]
    assert "“Lanternfield Ferry Yard” is put away" in seen
    assert "Sites that are put away" in seen
    assert client.get(f"/sites/{world.site.pk}/").status_code == 200
    back = client.post(address, {"back": "1"}, follow=True)
    assert back.redirect_chain == [(f"/sites/{world.site.pk}/", 302)]
    assert "is back." in back.content.decode()
    assert Site.objects.get().put_away is None


def test_who_may_not_manage_a_site_finds_no_button_to_put_it_away_or_back(world: World) -> None:
    for who in ("technician", "reader", "friend"):
        assert world.client(who).post(f"/sites/{world.site.pk}/put-away/").status_code == 403
    assert world.client("stranger").post(f"/sites/{world.site.pk}/put-away/").status_code == 404
    put_away(world.site, author=world.people["owner"])
    for who in ("technician", "reader", "friend"):
        seen = page(world.client(who), f"/?away={world.site.pk}")
        assert "Sites that are put away" in seen
        assert "put-away/" not in seen


def test_an_address_that_names_nothing_put_away_offers_nothing(world: World) -> None:
    for key in (world.site.pk, uuid.uuid4(), "x"):
        assert "is put away" not in page(world.client("owner"), f"/?away={key}")


def made(client: Client, **fields: str) -> Any:
    return client.post("/sites/new/", {"name": "Quay Shed", "country": "GB", **fields})


def test_a_new_site_has_a_name_and_a_country_and_belongs_to_the_organisation(world: World) -> None:
    answer = made(world.client("advisor"), name="  Quay   Shed ")
    site = Site.objects.get(name="Quay Shed")
    assert answer.headers["Location"] == f"/sites/{site.pk}/"
    assert (site.country, site.organisation) == ("GB", world.dealer)
    lines = Event.objects.filter(site=site)
    assert {each.verb for each in lines} == {"site made", "observed"}
    assert {each.request for each in lines} == {answer.headers["Request-Id"]}


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"name": "  "}, "A name is wanted."),
        ({"name": "x" * 201}, "at most 200 signs"),
        ({"name": "Quay\x00"}, "U+0000"),
        ({"country": "Atlantis"}, "not an ISO 3166-1 country code"),
        ({"country": ""}, "not an ISO 3166-1 country code"),
    ],
)
def test_a_site_that_cannot_be_made_says_why_and_keeps_what_was_typed(
    world: World, fields: dict[str, str], said: str
) -> None:
    answer = made(world.client("owner"), **{"name": HOSTILE, **fields})
    seen = answer.content.decode()
    assert answer.status_code == 422
    assert said in seen
    assert HOSTILE not in seen
    assert ("&lt;script&gt;" in seen) == ("name" not in fields)
    assert Site.objects.count() == 1


def test_a_form_sent_twice_makes_one_site(world: World) -> None:
    key = str(uuid.uuid4())
    first, second = (made(world.client("owner"), key=key) for _ in range(2))
    assert first.headers["Location"] == second.headers["Location"] == f"/sites/{key}/"
    assert Site.objects.filter(name="Quay Shed").count() == 1


def test_the_key_of_a_site_of_others_tells_nothing_and_changes_nothing(world: World) -> None:
    client = world.client("stranger")
    answer = made(client, key=str(world.site.pk))
    assert client.get(answer.headers["Location"]).status_code == 404
    assert Site.objects.get(pk=world.site.pk).name == "Lanternfield Ferry Yard"


def test_who_belongs_to_two_organisations_says_whose_site_it_is(world: World) -> None:
    assert "Whose site it is" not in page(world.client("owner"), "/sites/new/")
    Membership.objects.create(user=world.people["owner"], organisation=world.other, role="advisor")
    client = world.client("owner")
    assert "Whose site it is" in page(client, "/sites/new/")
    made(client, organisation=str(world.other.pk))
    assert Site.objects.get(name="Quay Shed").organisation == world.other
    wrong = made(client, name="", organisation=str(world.other.pk)).content.decode()
    assert f'value="{world.other.pk}" selected' in wrong


def test_nobody_makes_a_site_for_an_organisation_in_which_he_may_not(world: World) -> None:
    Membership.objects.create(user=world.people["owner"], organisation=world.other, role="technician")
    for organisation in (world.other.pk, uuid.uuid4(), "x"):
        assert made(world.client("owner"), organisation=str(organisation)).status_code == 403


def test_the_country_of_the_last_site_is_offered_first(world: World) -> None:
    assert '<option value="US" selected>' in page(world.client("owner"), "/sites/new/")
    made(world.client("owner"))
    assert '<option value="GB" selected>United Kingdom' in page(world.client("owner"), "/sites/new/")
