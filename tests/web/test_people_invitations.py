"""Invitations: a link that makes one person a member, once."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from sillwright.web.accounts import inviting
from sillwright.web.accounts.models import Invitation, Membership, Organisation, User
from sillwright.web.accounts.roles import Role
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Event

from .conftest import PASSWORD, World

NEW = {"name": "Nell", "email": "nell@people.example", "password": "a ladder in the rain"}


def invite(world: World, role: Role = Role.TECHNICIAN, email: str = "") -> tuple[Invitation, str]:
    return inviting.invite(world.dealer, role, email, world.people["owner"])


def at(token: str) -> str:
    return f"/invitations/{token}/"


def without_numbers(answer: Any) -> str:
    return re.sub(r"[0-9a-f]{16}", "", answer.content.decode())


def test_an_owner_makes_an_invitation_and_sees_its_link_once(world: World) -> None:
    client = world.client("owner")
    made = client.post(f"/organisations/{world.dealer.pk}/invitations/", {"role": "reader", "email": ""})
    assert made.status_code == 201
    found = re.search(r"http://testserver/invitations/([\w-]{43})/", made.content.decode())
    assert found
    again = client.get(f"/organisations/{world.dealer.pk}/").content.decode()
    assert found[1] not in again
    assert "whoever has the link" in again
    kept = Invitation.objects.get()
    assert found[1] not in str(vars(kept))
    assert Event.objects.get(verb="invitation made").what.startswith("reader")
    assert found[1] not in str(list(Event.objects.values_list("what", "before", "after")))


def test_a_mail_address_that_is_none_comes_back_as_typed(world: World) -> None:
    address = f"/organisations/{world.dealer.pk}/invitations/"
    answer = world.client("owner").post(address, {"role": "reader", "email": "nell at home"})
    assert answer.status_code == 422
    assert "nell at home" in answer.content.decode()
    with pytest.raises(Refused, match="no mail address"):
        inviting.invite(world.dealer, Role.READER, "nell at home", None)
    assert not Invitation.objects.exists()


def test_whoever_has_the_link_makes_an_account_and_is_signed_in(world: World) -> None:
    _made, token = invite(world)
    client = Client()
    assert "Harbour Doors" in client.get(at(token)).content.decode()
    answer = client.post(at(token), NEW)
    assert answer["Location"] == f"/organisations/{world.dealer.pk}/"
    assert client.get(answer["Location"]).status_code == 200
    user = User.objects.get(email="nell@people.example")
    assert (user.name, user.check_password(NEW["password"])) == ("Nell", True)
    assert Membership.objects.get(user=user).role == "technician"
    verbs = set(Event.objects.filter(who=user).values_list("verb", flat=True))
    assert verbs == {"account made", "invitation used", "signed in"}
    assert len(re.findall("this browser", client.get("/accounts/sessions/").content.decode(), re.IGNORECASE)) == 1


def test_an_invitation_for_one_address_makes_an_account_with_that_address_alone(world: World) -> None:
    _made, token = invite(world, email="Nell@People.example")
    page = Client().get(at(token)).content.decode()
    assert 'value="nell@people.example"' in page
    assert "readonly" in page
    Client().post(at(token), {**NEW, "email": "other@people.example"})
    assert User.objects.filter(email="nell@people.example").exists()
    assert not User.objects.filter(email="other@people.example").exists()


def test_a_person_who_is_signed_in_joins_by_a_button(world: World) -> None:
    _made, token = invite(world, Role.READER)
    client = world.client("stranger")
    page = client.get(at(token)).content.decode()
    assert "join as reader" in page
    assert 'name="password"' not in page
    assert not Membership.objects.filter(user=world.people["stranger"], organisation=world.dealer).exists()
    assert client.post(at(token))["Location"] == f"/organisations/{world.dealer.pk}/"
    assert Membership.objects.get(user=world.people["stranger"], organisation=world.dealer).role == "reader"
    assert Event.objects.get(verb="invitation used").who == world.people["stranger"]


def test_who_has_an_account_signs_in_and_comes_back_to_the_invitation(world: World) -> None:
    _made, token = invite(world)
    client = Client()
    link = re.search(r'href="(/accounts/login/\?next=[^"]+)"', client.get(at(token)).content.decode())
    assert link
    page = client.get(link[1]).content.decode()
    assert f'name="next" value="{at(token)}"' in page
    answer = client.post(
        "/accounts/login/", {"login": "stranger@people.example", "password": PASSWORD, "next": at(token)}
    )
    assert answer["Location"] == at(token)


@pytest.mark.parametrize("how", ["used", "withdrawn", "ended", "unknown", "cut short"])
def test_a_link_that_is_not_good_any_more_gets_one_plain_page_whatever_the_reason(world: World, how: str) -> None:
    made, token = invite(world)
    now = timezone.now()
    if how == "used":
        inviting.accept(token, world.people["stranger"])
    elif how == "withdrawn":
        inviting.withdraw(made)
    elif how == "ended":
        Invitation.objects.update(ends=now - timedelta(seconds=1))
    elif how == "cut short":
        token = token[:-1]
    else:
        token = "x" * 43
    unknown = Client().get(at("y" * 43))
    people = User.objects.count()
    for who in (None, "friend"):
        client = world.client(who)
        for answer in (client.get(at(token)), client.post(at(token), NEW)):
            assert answer.status_code == 404
            if who is None:
                assert without_numbers(answer) == without_numbers(unknown)
    assert User.objects.count() == people
    assert not Membership.objects.filter(user=world.people["friend"], organisation=world.dealer).exists()


def test_an_invitation_is_used_once(world: World) -> None:
    _made, token = invite(world)
    first, second = Client(), Client()
    first.get(at(token))
    second.get(at(token))
    assert first.post(at(token), NEW).status_code == 302
    assert second.post(at(token), {**NEW, "email": "other@people.example"}).status_code == 404
    with pytest.raises(inviting.NotOpen):
        inviting.accept(token, world.people["stranger"])
    with pytest.raises(inviting.NotOpen):
        inviting.accept_as_new(token, "Other", "other@people.example", NEW["password"])
    assert not User.objects.filter(email="other@people.example").exists()


def test_an_address_with_an_account_is_answered_in_words_that_fit_any_address(world: World) -> None:
    _made, token = invite(world)
    count = Event.objects.count()
    answer = Client().post(at(token), {**NEW, "email": "READER@people.example"})
    assert answer.status_code == 422
    assert "No account can be made with this address. If you have an account" in answer.content.decode()
    assert User.objects.get(email="reader@people.example").check_password(PASSWORD)
    assert Invitation.objects.get().good
    assert Event.objects.count() == count


def test_an_invitation_for_another_address_is_not_for_this_account(world: World) -> None:
    _made, token = invite(world, email="nell@people.example")
    answer = world.client("stranger").post(at(token))
    assert answer.status_code == 422
    assert "names another address" in answer.content.decode()
    assert Invitation.objects.get().good


def test_a_member_cannot_change_the_own_role_by_an_invitation(world: World) -> None:
    for who, role in (("reader", Role.OWNER), ("owner", Role.READER)):
        _made, token = invite(world, role)
        answer = world.client(who).post(at(token))
        assert answer.status_code == 422
        assert "already" in answer.content.decode()
        assert Membership.objects.get(user=world.people[who], organisation=world.dealer).role == who


@pytest.mark.parametrize(
    ("field", "typed"),
    [("name", ""), ("name", "a\x07b"), ("email", "nell"), ("password", "short"), ("password", "x" * 129),
     ("password", "password1234"), ("password", "nell@people.example")],
)  # fmt: skip
def test_what_is_wrong_about_a_new_account_is_named_and_the_rest_stays_as_typed(
    world: World, field: str, typed: str
) -> None:
    _made, token = invite(world)
    answer = Client().post(at(token), {**NEW, field: typed})
    text = answer.content.decode()
    assert answer.status_code == 422
    assert re.search(f'name="{field}"[^>]*aria-invalid="true"', text)
    assert f'id="id_{field}_error"' in text
    if field != "name":
        assert 'value="Nell"' in text
    assert NEW["password"] not in text  # a password is never sent back
    assert Invitation.objects.get().good


def test_trying_many_addresses_at_an_invitation_is_slowed(world: World) -> None:
    _made, token = invite(world)
    answers = [Client().post(at(token), {**NEW, "password": "short"}).status_code for _ in range(21)]
    assert answers == [422] * 20 + [429]


def test_the_form_of_an_invitation_is_refused_without_its_token(world: World) -> None:
    _made, token = invite(world)
    assert Client(enforce_csrf_checks=True).post(at(token), NEW).status_code == 403
    assert Invitation.objects.get().good


def test_a_withdrawn_invitation_leaves_one_line_and_the_list(world: World) -> None:
    made, _token = invite(world)
    client = world.client("owner")
    address = f"/organisations/{world.dealer.pk}/invitations/{made.pk}/withdraw/"
    for _ in range(2):
        assert client.post(address).status_code == 302
    assert Event.objects.filter(verb="invitation withdrawn", who=world.people["owner"]).count() == 1
    assert "None is open." in client.get(f"/organisations/{world.dealer.pk}/").content.decode()


def test_a_link_does_not_reach_the_log(world: World, caplog: pytest.LogCaptureFixture) -> None:
    from sillwright.web.log_lines import Lines

    token = "z" * 43
    Client().get(at(token))
    assert caplog.records
    assert token not in "".join(Lines().format(record) for record in caplog.records)


# the very first account


def test_where_nobody_has_an_account_a_link_for_the_first_owner_is_made(db: None) -> None:
    Membership.objects.all().delete()
    User.objects.update(is_active=False)  # nobody who could sign in
    first, second = inviting.first_invitation(), inviting.first_invitation()
    assert first
    assert second
    with pytest.raises(inviting.NotOpen):
        inviting.opened(first)  # each start of the server makes a new one and closes those before
    client = Client()
    organisation = client.post(at(second), NEW)["Location"]
    user = User.objects.get(email="nell@people.example")
    assert Membership.objects.get(user=user).role == "owner"
    assert client.post(f"{organisation}name/", {"name": "Quay Doors", "kind": "dealer"}).status_code == 302
    assert Organisation.objects.filter(name="Quay Doors").exists()


def test_where_somebody_has_an_account_there_is_no_first_link(world: World) -> None:
    assert inviting.first_invitation() is None
    assert not Invitation.objects.exists()
