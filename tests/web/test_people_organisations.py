"""Organisations: who sees them, who changes people in them, and that an owner always stays."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.test import Client

from sillwright.web.accounts.models import Invitation, Membership, Organisation
from sillwright.web.records.models import Event

from .conftest import World

NOT_OWNERS = ("advisor", "technician", "reader")


def at(organisation: Organisation, *parts: object) -> str:
    return "/".join(["/organisations", str(organisation.pk), *(str(each) for each in parts), ""])


def role_of(world: World, who: str) -> str | None:
    found = Membership.objects.filter(user=world.people[who], organisation=world.dealer).first()
    return found.role if found else None


def of(world: World, who: str, deed: str) -> str:
    return at(world.dealer, "members", world.people[who].pk, deed)


def an_invitation(world: World) -> Invitation:
    return Invitation.objects.create(organisation=world.dealer, role="reader", digest=uuid.uuid4().hex)


def deeds(world: World) -> list[tuple[str, str, dict[str, Any]]]:
    """Everything that is for owners alone."""
    return [
        ("get", at(world.dealer, "trail"), {}),
        ("get", at(world.dealer, "trail.csv").rstrip("/"), {}),
        ("post", at(world.dealer, "name"), {"name": "Mine", "kind": "owner"}),
        ("post", at(world.dealer, "invitations"), {"role": "owner"}),
        ("post", at(world.dealer, "invitations", an_invitation(world).pk, "withdraw"), {}),
        ("post", of(world, "reader", "role"), {"role": "owner"}),
        ("post", of(world, "owner", "remove"), {}),
    ]


def state_of(world: World) -> tuple[Any, ...]:
    body = Organisation.objects.get(pk=world.dealer.pk)
    return (
        body.name,
        body.kind,
        sorted(Membership.objects.filter(organisation=body).values_list("user", "role")),
        sorted(Invitation.objects.values_list("pk", "withdrawn")),
    )


@pytest.mark.parametrize("who", NOT_OWNERS)
def test_a_member_who_is_no_owner_sees_the_members_and_changes_nothing(world: World, who: str) -> None:
    client = world.client(who)
    page = client.get(at(world.dealer)).content.decode()
    assert "owner@people.example" in page
    assert "Make an invitation" not in page
    assert "Give this role" not in page
    asked = deeds(world)
    before = state_of(world)
    for method, address, data in asked:
        assert getattr(client, method)(address, data).status_code == 403, address
    assert state_of(world) == before


@pytest.mark.parametrize("who", ["stranger", "friend"])
def test_for_people_of_other_organisations_it_is_not_there(world: World, who: str) -> None:
    client = world.client(who)
    asked = deeds(world)
    before = state_of(world)
    for method, address, data in [("get", at(world.dealer), {}), *asked]:
        theirs = getattr(client, method)(address, data)
        nobodys = getattr(client, method)(address.replace(str(world.dealer.pk), str(uuid.uuid4())), data)
        assert theirs.status_code == nobodys.status_code == 404, address
    assert state_of(world) == before


def test_nobody_gets_in_without_signing_in(world: World) -> None:
    for method, address, data in [("get", at(world.dealer), {}), *deeds(world)]:
        answer = getattr(Client(), method)(address, data)
        assert answer["Location"].startswith("/accounts/login/"), address


def test_an_owner_of_one_organisation_cannot_reach_people_and_invitations_of_another(world: World) -> None:
    client = world.client("stranger")
    own = Organisation.objects.get(name="Elsewhere")
    theirs = an_invitation(world)
    for parts in (
        ("members", world.people["reader"].pk, "role"),
        ("members", world.people["reader"].pk, "remove"),
        ("invitations", theirs.pk, "withdraw"),
    ):
        assert client.post(at(own, *parts), {"role": "owner"}).status_code == 404
    theirs.refresh_from_db()
    assert theirs.good
    assert role_of(world, "reader") == "reader"


def test_anybody_makes_an_organisation_and_is_its_owner(world: World) -> None:
    client = world.client("reader")
    assert client.get("/organisations/new/").status_code == 200
    answer = client.post("/organisations/new/", {"name": "  Quay   Gates ", "kind": "owner"})
    made = Organisation.objects.get(name="Quay Gates")
    assert answer["Location"] == at(made)
    assert Membership.objects.get(organisation=made).role == "owner"
    assert Event.objects.get(organisation=made).verb == "organisation made"
    assert "Quay Gates" in client.get("/organisations/").content.decode()


@pytest.mark.parametrize("name", ["", "   ", "x" * 121, "a\x07b", "a\x00b"])
def test_a_name_that_cannot_be_kept_comes_back_as_typed(world: World, name: str) -> None:
    count = Organisation.objects.count()
    answer = world.client("reader").post("/organisations/new/", {"name": name, "kind": "owner"})
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.content.decode()
    assert 'id="id_name_error"' in answer.content.decode()
    assert Organisation.objects.count() == count


def test_a_name_is_shown_as_text(world: World) -> None:
    client = world.client("owner")
    client.post(at(world.dealer, "name"), {"name": "<b>Doors</b>", "kind": "dealer"})
    assert "&lt;b&gt;Doors" in client.get(at(world.dealer)).content.decode()
    assert "<b>Doors" not in client.get(at(world.dealer)).content.decode()


def test_an_owner_names_the_organisation_anew(world: World) -> None:
    client = world.client("owner")
    assert client.post(at(world.dealer, "name"), {"name": "Quay Doors", "kind": "advisor"}).status_code == 302
    world.dealer.refresh_from_db()
    assert (world.dealer.name, world.dealer.kind) == ("Quay Doors", "advisor")
    assert Event.objects.filter(verb="organisation named", who=world.people["owner"]).count() == 1
    wrong = client.post(at(world.dealer, "name"), {"name": "", "kind": "dealer"})
    assert wrong.status_code == 422


def test_the_page_counts_the_sites_that_are_in_view(world: World) -> None:
    assert "It has 1 site." in world.client("reader").get(at(world.dealer)).content.decode()
    world.site.put_away = world.site.made
    world.site.save()
    assert "It has 0 sites." in world.client("reader").get(at(world.dealer)).content.decode()


def test_an_owner_gives_another_role_and_the_trail_has_a_line(world: World) -> None:
    answer = world.client("owner").post(of(world, "reader", "role"), {"role": "technician"}, follow=True)
    assert "The role of Reader is now: technician." in answer.content.decode()
    assert role_of(world, "reader") == "technician"
    line = Event.objects.get(verb="role changed")
    assert (line.who, line.what) == (world.people["owner"], "Reader: reader → technician")


def test_a_role_that_there_is_not_is_refused(world: World) -> None:
    for role in ("king", "", "OWNER"):
        assert world.client("owner").post(of(world, "reader", "role"), {"role": role}).status_code == 422
    assert role_of(world, "reader") == "reader"


def test_giving_the_role_somebody_has_already_is_no_change(world: World) -> None:
    assert world.client("owner").post(of(world, "reader", "role"), {"role": "reader"}).status_code == 302
    assert world.client("owner").post(of(world, "owner", "role"), {"role": "owner"}).status_code == 302
    assert not Event.objects.filter(verb="role changed").exists()


@pytest.mark.parametrize(("deed", "data"), [("role", {"role": "reader"}), ("remove", {})])
def test_the_last_owner_can_neither_leave_nor_be_demoted(world: World, deed: str, data: dict[str, str]) -> None:
    client = world.client("owner")
    answer = client.post(of(world, "owner", deed), data)
    assert answer.status_code == 422
    assert "keeps at least one owner" in answer.content.decode()
    assert role_of(world, "owner") == "owner"
    client.post(of(world, "advisor", "role"), {"role": "owner"})
    assert client.post(of(world, "owner", deed), data).status_code == 302
    assert role_of(world, "owner") == data.get("role")


def test_a_member_who_is_taken_out_sees_nothing_any_more(world: World) -> None:
    technician = world.client("technician")
    assert technician.get(at(world.dealer)).status_code == 200
    assert world.client("owner").post(of(world, "technician", "remove")).status_code == 302
    assert technician.get(at(world.dealer)).status_code == 404
    line = Event.objects.get(verb="member removed")
    assert (line.who, line.what) == (world.people["owner"], "Technician: technician")


def test_any_member_may_leave(world: World) -> None:
    answer = world.client("reader").post(of(world, "reader", "remove"))
    assert answer["Location"] == "/organisations/"
    assert role_of(world, "reader") is None
    assert Event.objects.get(verb="member left").who == world.people["reader"]


def test_a_change_that_fails_leaves_neither_change_nor_line(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    from sillwright.web.accounts import members

    def breaks(*args: Any, **more: Any) -> None:
        raise OSError("the disk is full")

    count = Event.objects.count()
    monkeypatch.setattr(Membership, "save", breaks)
    member = Membership.objects.get(user=world.people["reader"])
    with pytest.raises(OSError, match="the disk is full"):
        members.change_role(member, members.Role.OWNER)
    assert Event.objects.count() == count
    assert role_of(world, "reader") == "reader"


def test_forms_of_owners_are_refused_without_their_token(world: World) -> None:
    client = Client(enforce_csrf_checks=True)
    client.force_login(world.people["owner"])
    asked = [each for each in deeds(world) if each[0] == "post"]
    before = state_of(world)
    for _method, address, data in asked:
        assert client.post(address, data).status_code == 403
    assert state_of(world) == before


def test_what_changes_people_is_never_done_by_following_a_link(world: World) -> None:
    client = world.client("owner")
    for _method, address, _data in (each for each in deeds(world) if each[0] == "post"):
        assert client.get(address).status_code == 405
    assert client.get("/me/sign-out-everywhere/").status_code == 405
