"""One's own page, keys for programs, and signing out everywhere."""

from __future__ import annotations

import hashlib
import re
from datetime import date, timedelta

import pytest
from allauth.usersessions.models import UserSession
from django.test import Client
from django.utils import timezone

from sillwright.web.accounts.models import Session
from sillwright.web.people.keys import make_key
from sillwright.web.records.models import Event, Key

from .conftest import World
from .test_people_signing_in import sign_in

READER = "reader@people.example"


def in_days(days: int) -> str:
    return (timezone.now().date() + timedelta(days=days)).isoformat()


def test_a_person_changes_name_and_units(world: World) -> None:
    client = world.client("reader")
    assert client.post("/me/", {"name": " Rhea  Reader ", "units": "metric"}).status_code == 302
    user = world.people["reader"]
    user.refresh_from_db()
    assert (user.name, user.units) == ("Rhea Reader", "metric")
    page = client.get("/me/").content.decode()
    assert "Rhea Reader" in page
    assert '<option value="metric" selected>' in page


@pytest.mark.parametrize(
    ("name", "units"), [("", "us"), ("x" * 101, "us"), ("a\x00b", "us"), ("Rhea", "cubits"), ("Rhea", "")]
)
def test_what_cannot_be_kept_of_a_person_is_named(world: World, name: str, units: str) -> None:
    answer = world.client("reader").post("/me/", {"name": name, "units": units})
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.content.decode()
    world.people["reader"].refresh_from_db()
    assert world.people["reader"].name == "Reader"


def test_signing_out_everywhere_ends_every_session_and_key_of_this_person_and_nothing_else(world: World) -> None:
    here, there, another = Client(), Client(), Client()
    for client in (here, there):
        sign_in(client, READER)
    never_listed = world.client("reader")  # a session that the list of sessions does not know
    sign_in(another, "technician@people.example")
    day = date.fromisoformat(in_days(9))
    key, others = (make_key(world.people[who], "run", "read", day)[0] for who in ("reader", "owner"))
    cookies = [each.cookies["session"].value for each in (here, there, never_listed)]
    answer = here.post("/me/sign-out-everywhere/", follow=True)
    assert "signed out on every device" in answer.content.decode()
    for cookie in cookies:
        client = Client()
        client.cookies["session"] = cookie
        assert client.get("/me/")["Location"].startswith("/accounts/login/")
    assert not Session.objects.filter(person=world.people["reader"]).exists()
    assert not UserSession.objects.filter(user=world.people["reader"]).exists()
    assert another.get("/me/").status_code == 200
    key.refresh_from_db()
    others.refresh_from_db()
    assert (key.good, others.good) == (False, True)
    assert Event.objects.filter(verb="signed out everywhere", who=world.people["reader"]).count() == 1


def test_a_key_is_shown_once_and_only_its_digest_is_kept(world: World) -> None:
    client = world.client("reader")
    answer = client.post("/me/keys/", {"name": "nightly sheet", "scope": "write", "ends": in_days(30)})
    assert answer.status_code == 201
    token = re.search(r"sw_[\w-]{43}\b", answer.content.decode())
    assert token
    key = Key.objects.get()
    assert key.digest == hashlib.sha256(token[0].encode()).hexdigest()
    assert (key.user, key.scope, key.good) == (world.people["reader"], "write", True)
    again = client.get("/me/keys/").content.decode()
    assert "nightly sheet" in again
    assert "sw_" not in again
    line = Event.objects.get(verb="key made")
    assert (line.who, line.what) == (world.people["reader"], "nightly sheet: write")


@pytest.mark.parametrize(("ends", "taken"), [(0, True), (365, True), (366, False), (-1, False)])
def test_a_key_ends_within_a_year(world: World, ends: int, taken: bool) -> None:
    answer = world.client("reader").post("/me/keys/", {"name": "x", "scope": "read", "ends": in_days(ends)})
    assert answer.status_code == (201 if taken else 422)
    assert Key.objects.count() == taken
    if taken:
        assert Key.objects.get().ends > timezone.now()


@pytest.mark.parametrize(
    ("field", "typed"), [("name", ""), ("scope", "everything"), ("ends", "soon"), ("ends", "9999-12-31")]
)
def test_what_is_wrong_about_a_key_is_named(world: World, field: str, typed: str) -> None:
    told = {"name": "sheet", "scope": "read", "ends": in_days(3), field: typed}
    answer = world.client("reader").post("/me/keys/", told)
    assert answer.status_code == 422
    assert f'id="id_{field}_error"' in answer.content.decode()
    assert not Key.objects.exists()


def test_a_key_is_withdrawn_by_its_person_alone(world: World) -> None:
    key, _token = make_key(world.people["reader"], "nightly run", "read", date.fromisoformat(in_days(9)))
    address = f"/me/keys/{key.pk}/withdraw/"
    assert world.client("owner").post(address).status_code == 404
    key.refresh_from_db()
    assert key.good
    client = world.client("reader")
    for _ in range(2):
        assert client.post(address).status_code == 302
    key.refresh_from_db()
    assert not key.good
    assert Event.objects.filter(verb="key withdrawn").count() == 1
    assert "nightly run" not in client.get("/me/keys/").content.decode()


def test_the_keys_of_others_are_not_in_the_list(world: World) -> None:
    make_key(world.people["owner"], "the owner's sheet", "read", date.fromisoformat(in_days(9)))
    assert "the owner" not in world.client("reader").get("/me/keys/").content.decode()


def test_ones_own_pages_are_closed_to_others(db: None) -> None:
    for address in ("/me/", "/me/keys/", "/organisations/", "/organisations/new/"):
        assert Client().get(address)["Location"].startswith("/accounts/login/")
