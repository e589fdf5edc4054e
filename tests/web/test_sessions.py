"""A session and whose it is come with one query, and end when they should."""

from __future__ import annotations

from typing import Any

from django.test import Client

from sillwright.web.accounts.models import Session
from sillwright.web.accounts.sessions import end_all

from .conftest import World


def _signed_in(client: Client) -> bool:
    return client.get("/").status_code == 200


def test_a_page_asks_once_for_session_and_person(world: World, django_assert_max_num_queries: Any) -> None:
    client = world.client("reader")
    with django_assert_max_num_queries(1):
        assert client.get("/nowhere/").status_code == 404


def test_all_sessions_of_a_person_end_at_once_and_nobody_elses(world: World) -> None:
    one, other, somebody = world.client("reader"), world.client("reader"), world.client("owner")
    assert all(map(_signed_in, (one, other, somebody)))
    assert end_all(world.people["reader"]) == 2
    assert not _signed_in(one)
    assert not _signed_in(other)
    assert _signed_in(somebody)


def test_a_session_made_with_an_older_password_is_over(world: World) -> None:
    client, person = world.client("reader"), world.people["reader"]
    person.set_password("another four words here")
    person.save()
    assert not _signed_in(client)
    assert not Session.objects.filter(person=person).exists()


def test_a_session_of_a_person_who_was_put_out_is_over(world: World) -> None:
    client, person = world.client("reader"), world.people["reader"]
    person.is_active = False
    person.save()
    assert not _signed_in(client)


def test_a_forged_session_is_nobodys(world: World) -> None:
    client = Client()
    client.cookies["session"] = "a" * 32
    assert client.get("/").status_code == 302
