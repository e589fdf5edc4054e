"""Who calls: a browser with its cookie and the token of forms, or a program with a person's token."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from sillwright.web.records.models import Key

from .api_callers import Caller, callers, token_of, with_token
from .conftest import World

CHANGE = {"units": "metric"}


def _browser(world: World, who: str) -> Client:
    """A browser whose requests Django checks as it would on a real server."""
    client = Client(enforce_csrf_checks=True)
    client.force_login(world.people[who])
    return client


def test_a_browser_that_sends_no_token_of_forms_changes_nothing(world: World) -> None:
    browser = Caller(_browser(world, "reader"))
    refused = browser.ask("PATCH", "/api/me", CHANGE)
    assert refused.status_code == 403
    assert refused.json()["type"] == "/api/problems/stale-page"
    token = browser.ask("GET", "/api/me").json()["csrf"]
    assert browser.ask("PATCH", "/api/me", CHANGE, **{"X-CSRFToken": token}).json()["user"]["units"] == "metric"


def test_another_sites_page_cannot_change_anything(world: World) -> None:
    browser = Caller(_browser(world, "reader"))
    token = browser.ask("GET", "/api/me").json()["csrf"]
    sent = browser.ask("PATCH", "/api/me", CHANGE, **{"X-CSRFToken": token, "Origin": "https://elsewhere.example"})
    assert sent.status_code == 403


def test_a_program_needs_no_token_of_forms(world: World) -> None:
    program = with_token(token_of(world.people["reader"], "write"), Client(enforce_csrf_checks=True))
    told = program.ask("PATCH", "/api/me", CHANGE)
    assert told.json()["user"]["units"] == "metric"
    assert told.json()["csrf"] is None


def test_where_a_token_comes_along_the_cookie_counts_for_nothing(world: World) -> None:
    browser = world.client("owner")
    reads_as_stranger = with_token(token_of(world.people["stranger"], "read"), browser)
    assert reads_as_stranger.ask("GET", "/api/me").json()["user"]["name"] == "Stranger"
    assert reads_as_stranger.ask("GET", f"/api/sites/{world.site.pk}").status_code == 404
    assert with_token("sw_nonsense", browser).ask("GET", "/api/me").status_code == 401


@pytest.mark.parametrize("header", ["Bearer", "Bearer ", "bearer sw_é", "Bearer sw_" + "x" * 5000, "Bearer a b c"])
def test_a_token_that_is_none_is_nobody(world: World, header: str) -> None:
    response = Caller(Client()).ask("GET", "/api/me", Authorization=header)
    assert response.status_code == 401
    assert response["WWW-Authenticate"] == 'Bearer realm="Sillwright", error="invalid_token"'


def test_nobody_is_told_how_to_sign_in_and_is_sent_nowhere(world: World) -> None:
    response = Client().get("/api/sites")
    assert response.status_code == 401
    assert response["WWW-Authenticate"] == 'Bearer realm="Sillwright"'


def test_another_scheme_leaves_the_cookie_alone(world: World) -> None:
    browser = Caller(world.client("reader"))
    assert browser.ask("GET", "/api/me", Authorization="Basic eDp5").status_code == 200


def test_a_token_of_a_person_whose_account_is_closed_opens_nothing(world: World) -> None:
    owner = world.people["owner"]
    program = with_token(token_of(owner, "read"))
    assert program.ask("GET", "/api/me").status_code == 200
    owner.is_active = False
    owner.save()
    assert program.ask("GET", "/api/me").status_code == 401


def test_the_day_of_use_is_noted_once_a_day(world: World, django_assert_num_queries: object) -> None:
    program = with_token(token_of(world.people["owner"], "read", used=timezone.now().date() - timedelta(days=3)))
    program.ask("GET", "/api/calc")
    assert Key.objects.get(scope="read").used == timezone.now().date()
    with django_assert_num_queries(1):  # type: ignore[operator]
        program.ask("GET", "/api/calc")


def test_a_secret_is_shown_once_and_kept_nowhere(world: World) -> None:
    owner = callers(world)["owner"]
    made = owner.ask("POST", "/api/me/keys", {"name": "hoist", "scope": "read"}).json()
    kept = vars(Key.objects.get(pk=made["id"]))
    assert made["token"].startswith("sw_")
    assert made["token"] not in str(kept)
    assert "token" not in owner.ask("GET", "/api/me/keys").content.decode()
    assert with_token(made["token"]).ask("GET", "/api/me").json()["by"] == "token"
    owner.ask("DELETE", f"/api/me/keys/{made['id']}")
    assert with_token(made["token"]).ask("GET", "/api/me").status_code == 401


@pytest.mark.parametrize("days", [-1, 366])
def test_a_token_lasts_from_today_to_a_year(world: World, days: int) -> None:
    last = (timezone.now().date() + timedelta(days=days)).isoformat()
    refused = callers(world)["owner"].ask("POST", "/api/me/keys", {"name": "hoist", "last_day": last})
    assert refused.status_code == 422
    assert refused.json()["mistakes"][0]["path"] == "last_day"


def test_nobody_keeps_what_a_person_is_shown(world: World) -> None:
    assert world.client("owner").get("/api/me")["Cache-Control"] == "no-store"
