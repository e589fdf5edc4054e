"""Keys, invitations and links in the hands of somebody who was shut out."""

from __future__ import annotations

import re
from datetime import timedelta
from typing import Any

import pytest
from django.core import mail
from django.test import Client
from django.utils import timezone

from sillwright.web.accounts.inviting import invite, opened
from sillwright.web.accounts.members import change_role, remove
from sillwright.web.accounts.models import Membership, User
from sillwright.web.accounts.roles import Role
from sillwright.web.people.keys import make_key
from sillwright.web.records.links import make_link
from sillwright.web.records.models import Event, Paper
from sillwright.web.records.sites import put_away, share

from .api_callers import Caller, token_of, with_token
from .asked import link_to
from .conftest import PASSWORD, World
from .test_papers_made import _folder, paper_of  # noqa: F401 (each test has a folder of its own)
from .test_people_signing_in import KNOWN, NEW, link_in

CHANGED = {"name": "Another name"}


def program(world: World, who: str = "reader", name: str = "a program") -> Caller:
    """A program with a good key of somebody."""
    last = timezone.now().date() + timedelta(days=30)
    return with_token(make_key(world.people[who], name, "write", last)[1])


def opens(caller: Caller) -> bool:
    return caller.ask("GET", "/api/me").status_code == 200


# a password, and signing out everywhere


def _changes(world: World, client: Client) -> Any:
    return client.post("/accounts/password/change/", {"oldpassword": PASSWORD, "password1": NEW})


def _resets(world: World, client: Client) -> Any:
    Client().post("/accounts/password/reset/", {"email": KNOWN})
    form = client.get(link_in(str(mail.outbox[0].body)))["Location"]
    return client.post(form, {"password1": NEW})


def _sets(world: World, client: Client) -> Any:
    user = world.people["reader"]
    user.set_unusable_password()
    user.save()
    client.force_login(user)
    return client.post("/accounts/password/set/", {"password1": NEW})


def _leaves(world: World, client: Client) -> Any:
    return client.post("/me/sign-out-everywhere/")


@pytest.mark.parametrize("deed", [_changes, _resets, _sets, _leaves])
def test_who_got_in_and_made_a_key_is_out_with_the_password_and_with_every_session(world: World, deed: Any) -> None:
    mine, theirs = program(world), program(world, "technician")
    assert opens(mine)
    assert opens(theirs)
    assert deed(world, world.client("reader")).status_code == 302
    assert mine.ask("GET", "/api/me").status_code == 401
    assert opens(theirs), "nobody else's key ends"
    line = Event.objects.get(verb="key withdrawn")
    assert (line.who, line.what) == (world.people["reader"], "a program")


def test_a_password_that_is_not_taken_ends_no_key(world: World) -> None:
    mine, client = program(world), world.client("reader")
    for told in ({"oldpassword": "x", "password1": NEW}, {"oldpassword": PASSWORD, "password1": "short"}):
        assert client.post("/accounts/password/change/", told).status_code == 422
    assert opens(mine)


@pytest.mark.parametrize("address", ["/accounts/password/change/", "/accounts/sessions/", "/me/"])
def test_before_keys_end_the_page_names_them(world: World, address: str) -> None:
    client = world.client("reader")
    assert "programs that have them" not in client.get(address).content.decode()
    for name in ("nightly <b>run</b>", "the shop's sheet"):
        program(world, name=name)
    token_of(world.people["reader"], "read", withdrawn=timezone.now())
    page = client.get(address).content.decode()
    assert "These 2 keys end" in page
    assert "nightly &lt;b&gt;run&lt;/b&gt;, the shop&#x27;s sheet" in page
    assert "every key for programs" in page


def test_what_does_not_end_is_named_too(world: World) -> None:
    client = world.client("owner")
    assert "stays open" not in client.get("/accounts/password/change/").content.decode()
    invite(world.dealer, Role.OWNER, "", world.people["owner"])
    assert "1 invitation of yours stays open" in client.get("/accounts/password/change/").content.decode()
    sessions = client.get("/accounts/sessions/").content.decode()
    assert "to end the other sessions does not" in sessions
    assert "may hold a passkey too" in sessions


def test_what_sets_a_password_says_that_keys_end_with_it(world: World) -> None:
    user = world.people["reader"]
    Client().post("/accounts/password/reset/", {"email": KNOWN})
    client = Client()
    form = client.get(link_in(str(mail.outbox[0].body)))["Location"]
    user.set_unusable_password()
    pages = [client.get(form)]
    user.save()
    pages.append(world.client("reader").get("/accounts/password/set/"))
    for each in pages:
        assert "Every session and every key for programs ends with it." in each.content.decode()


# a key may do no more than its owner may do now


def renamed(caller: Caller, world: World) -> int:
    """What is answered to a program that names the site anew."""
    revision = caller.ask("GET", f"/api/sites/{world.site.pk}").headers.get("ETag", "*")
    return caller.ask("PATCH", f"/api/sites/{world.site.pk}", CHANGED, **{"If-Match": revision}).status_code


def test_a_key_follows_the_role_of_its_owner(world: World) -> None:
    caller = program(world, "advisor")
    assert renamed(caller, world) == 200
    member = Membership.objects.get(user=world.people["advisor"])
    change_role(member, Role.TECHNICIAN)
    assert renamed(caller, world) == 403
    remove(member)
    assert renamed(caller, world) == 404
    assert caller.ask("GET", f"/api/sites/{world.site.pk}").status_code == 404
    assert opens(caller)  # the account is there still, and belongs to nothing


def test_a_key_ends_at_the_share_of_the_site(world: World) -> None:
    caller = program(world, "friend")
    assert caller.ask("GET", f"/api/sites/{world.site.pk}").status_code == 200
    share(world.site, world.other, None, author=world.people["owner"])
    assert caller.ask("GET", f"/api/sites/{world.site.pk}").status_code == 404


# an invitation that leads back in


@pytest.mark.parametrize("how", ["removed", "lowered"])
def test_who_is_put_out_has_no_invitation_left_that_leads_back_in(world: World, how: str) -> None:
    thief = User.objects.create_user("thief@people.example", PASSWORD, name="Thief")
    member = Membership.objects.create(user=thief, organisation=world.dealer, role="owner")
    mine = invite(world.dealer, Role.OWNER, "", thief)[1]
    others = invite(world.dealer, Role.READER, "", world.people["owner"])[1]
    remove(member) if how == "removed" else change_role(member, Role.READER)
    client = Client()
    client.force_login(thief)
    assert client.post(f"/invitations/{mine}/").status_code == 404
    assert not Membership.objects.filter(user=thief, role="owner").exists()
    assert opened(others)
    assert Event.objects.filter(verb="invitation withdrawn").count() == 1


def test_an_owner_who_stays_one_keeps_invitations(world: World) -> None:
    token = invite(world.dealer, Role.READER, "", world.people["owner"])[1]
    change_role(Membership.objects.get(user=world.people["owner"]), Role.OWNER)
    assert opened(token)


# links to papers


@pytest.fixture
def paper(world: World, _folder: None) -> Paper:  # noqa: F811
    return paper_of(world)


def shared(token: str) -> int:
    answers = {Client().get(f"/shared/{token}/", query).status_code for query in ({}, {"download": "1"})}
    assert len(answers) == 1
    return answers.pop()


def page_of_links(world: World, paper: Paper) -> str:
    text: str = world.client("owner").get(f"/papers/{paper.pk}/links/").content.decode()
    return text


@pytest.mark.parametrize("what", ["site", "opening"])
def test_a_link_to_what_was_put_away_opens_nothing_until_it_is_put_back(
    world: World, paper: Paper, what: str
) -> None:
    owner, token = world.people["owner"], make_link(paper, 30, by=world.people["owner"])[1]
    thing = world.site if what == "site" else paper.opening
    assert thing is not None
    put_away(thing, author=owner)
    assert shared(token) == 404
    assert "no link to it opens until it is put back" in page_of_links(world, paper)
    put_away(thing, author=owner, back=True)
    assert shared(token) == 200
    assert "no link to it opens" not in page_of_links(world, paper)


@pytest.mark.parametrize("how", ["removed", "account closed"])
def test_a_link_shows_nobody_what_its_maker_may_not_see_any_more(world: World, paper: Paper, how: str) -> None:
    advisor = world.people["advisor"]
    token, owners = make_link(paper, 90, by=advisor)[1], make_link(paper, 90, by=world.people["owner"])[1]
    member = Membership.objects.get(user=advisor)
    change_role(member, Role.READER)
    assert shared(token) == 200
    if how == "removed":
        remove(member)
    else:
        User.objects.filter(pk=advisor.pk).update(is_active=False)
    assert shared(token) == 404
    assert shared(owners) == 200
    page = page_of_links(world, paper)
    assert len(re.findall("whoever made it may not see this paper any more", page)) == 1
    assert page.count("Opens until") == 1


def test_a_question_of_a_closed_account_is_answered_by_nobody(world: World) -> None:
    question, address = link_to(world)
    assert Client().get(address).status_code == 200
    User.objects.filter(pk=question.by_id).update(is_active=False)
    assert Client().get(address).status_code == 404
