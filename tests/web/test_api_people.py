"""Organisations, members and invitations through the API."""

from __future__ import annotations

import pytest
from django.test import Client

from sillwright.web.accounts.models import Invitation, Membership
from sillwright.web.records.models import Event

from .api_callers import callers
from .conftest import World


def test_a_person_is_told_every_organisation_with_the_role_there(world: World) -> None:
    Membership.objects.create(organisation=world.other, user=world.people["technician"], role="reader")
    told = callers(world)["technician"].ask("GET", "/api/me").json()
    assert [(each["name"], each["role"]) for each in told["organisations"]] == [
        ("Harbour Doors", "technician"),
        ("Pier Owners", "reader"),
    ]


def test_units_that_a_person_chooses_hold_for_the_person_alone(world: World) -> None:
    here = callers(world)
    here["reader"].ask("PATCH", "/api/me", {"units": "metric"})
    assert here["reader"].ask("GET", "/api/me").json()["user"]["units"] == "metric"
    assert here["owner"].ask("GET", "/api/me").json()["user"]["units"] == "site"


def test_an_invitation_opens_its_page_until_it_is_withdrawn(world: World) -> None:
    owner, invitations = callers(world)["owner"], f"/api/organisations/{world.dealer.pk}/invitations"
    made = owner.ask("POST", invitations, {"role": "technician", "email": "new@people.example"}).json()
    assert Client().get(made["address"]).status_code == 200
    listed = owner.ask("GET", invitations).json()["items"]
    assert [(each["id"], each["role"], each["used"]) for each in listed] == [(made["id"], "technician", False)]
    owner.ask("DELETE", f"{invitations}/{made['id']}")
    assert owner.ask("GET", invitations).json()["items"][0]["withdrawn"]
    assert Invitation.objects.get().good is False


@pytest.mark.parametrize("email", ["nobody", "a@b@c", "x" * 300 + "@people.example", "a\x00@people.example"])
def test_an_address_that_is_none_is_not_invited(world: World, email: str) -> None:
    address = f"/api/organisations/{world.dealer.pk}/invitations"
    assert callers(world)["owner"].ask("POST", address, {"role": "reader", "email": email}).status_code == 422
    assert not Invitation.objects.exists()


def test_the_last_owner_keeps_the_role_and_stays(world: World) -> None:
    owner = callers(world)["owner"]
    address = f"/api/organisations/{world.dealer.pk}/members/{world.people['owner'].pk}"
    for refused in (owner.ask("PATCH", address, {"role": "reader"}), owner.ask("DELETE", address)):
        assert refused.status_code == 422
    assert Membership.objects.get(user=world.people["owner"]).role == "owner"


def test_a_member_of_another_organisation_is_not_here(world: World) -> None:
    owner = callers(world)["owner"]
    address = f"/api/organisations/{world.dealer.pk}/members/{world.people['friend'].pk}"
    assert owner.ask("PATCH", address, {"role": "reader"}).status_code == 404


def test_what_is_done_through_the_api_stands_in_the_trail_with_its_request(world: World) -> None:
    owner = callers(world)["owner"]
    address = f"/api/organisations/{world.dealer.pk}"
    done = owner.ask("PATCH", f"{address}/members/{world.people['reader'].pk}", {"role": "technician"})
    line = owner.ask("GET", f"{address}/trail?limit=1").json()["items"][0]
    assert (line["verb"], line["who"], line["request"]) == ("role changed", "Owner", done["Request-Id"])


def test_reading_leaves_no_line_in_the_trail(world: World) -> None:
    owner, count = callers(world)["owner"], Event.objects.count()
    for address in (
        "/api/me",
        "/api/sites",
        f"/api/sites/{world.site.pk}",
        f"/api/organisations/{world.dealer.pk}/trail",
    ):
        owner.ask("GET", address)
    assert Event.objects.count() == count


def test_an_organisation_that_a_person_makes_is_the_persons(world: World) -> None:
    stranger = callers(world)["stranger"]
    made = stranger.ask("POST", "/api/organisations", {"name": "Quay Gates", "kind": "owner"}).json()
    assert made["role"] == "owner"
    renamed = stranger.ask("PUT", f"/api/organisations/{made['id']}", {"name": "Quay Doors", "kind": "dealer"})
    assert (renamed.json()["name"], renamed.json()["kind"]) == ("Quay Doors", "dealer")


def test_a_site_is_shared_for_reading_then_for_writing_then_no_longer(world: World) -> None:
    here = callers(world)
    share, opening = f"/api/sites/{world.site.pk}/shares/{world.other.pk}", f"/api/openings/{world.opening.pk}"
    found = []
    for mode in ("read", "write"):
        here["owner"].ask("PUT", share, {"mode": mode})
        found.append(here["friend"].ask("GET", opening).json()["may_write"])
    here["owner"].ask("DELETE", share)
    assert (found, here["friend"].ask("GET", opening).status_code) == ([False, True], 404)
    assert here["owner"].ask("DELETE", share).status_code == 404


@pytest.mark.parametrize("whose", ["dealer", "nobody"])
def test_a_site_cannot_be_shared_with_its_own_organisation_or_with_none(world: World, whose: str) -> None:
    other = world.dealer.pk if whose == "dealer" else "00000000-0000-4000-8000-000000000000"
    refused = callers(world)["owner"].ask("PUT", f"/api/sites/{world.site.pk}/shares/{other}", {"mode": "read"})
    assert refused.status_code == (422 if whose == "dealer" else 404)
