"""A second factor: authenticator app, recovery codes, passkeys, and the list of sessions."""

from __future__ import annotations

import json
import re
import time
from typing import Any

from allauth.mfa.models import Authenticator
from allauth.mfa.totp.internal.auth import format_hotp_value, hotp_value
from django.test import Client

from sillwright.web.records.models import Event

from .conftest import PASSWORD, World
from .test_people_signing_in import framed, sign_in

READER = "reader@people.example"


def code_of(secret: str) -> str:
    """What an app shows now; the one before may have been used already."""
    return format_hotp_value(hotp_value(secret, int(time.time()) // 30))


def confirmed(client: Client, address: str) -> Any:
    """A page that asks for the password first."""
    asked = client.get(address)
    assert "/reauthenticate/" in asked["Location"]
    framed(client.get(asked["Location"]))
    wrong = client.post(asked["Location"], {"password": "not the password", "next": address})
    assert wrong.status_code == 422
    answer = client.post(asked["Location"], {"password": PASSWORD, "next": address})
    assert answer["Location"] == address
    return client.get(address)


def with_app(client: Client) -> tuple[str, list[str]]:
    """Sets up an app: its secret, and the recovery codes that come with it."""
    page = framed(confirmed(client, "/accounts/2fa/totp/activate/"))
    found = re.search(r'<dd class="secret">(\w+)</dd>', page)
    assert found
    wrong = client.post("/accounts/2fa/totp/activate/", {"code": "abc"})
    assert wrong.status_code == 422
    answer = client.post("/accounts/2fa/totp/activate/", {"code": code_of(found[1])})
    assert answer["Location"] == "/accounts/2fa/recovery-codes/"
    codes = framed(client.get(answer["Location"]))
    return found[1], re.findall(r"<li>(\d{8})</li>", codes)


def test_an_app_is_asked_for_after_the_password_and_a_recovery_code_opens_once(
    world: World, django_capture_on_commit_callbacks: Any
) -> None:
    client = Client()
    sign_in(client, READER)
    with django_capture_on_commit_callbacks(execute=True):
        _secret, codes = with_app(client)
    assert len(codes) == 10
    for opens in (True, False):
        other = Client()
        assert sign_in(other, READER)["Location"] == "/accounts/2fa/authenticate/"
        assert other.get("/me/").status_code == 302  # the password alone opens nothing
        framed(other.get("/accounts/2fa/authenticate/"))
        answer = other.post("/accounts/2fa/authenticate/", {"code": codes[0]})
        assert answer.status_code == (302 if opens else 422)
        assert other.get("/me/").status_code == (200 if opens else 302)
    verbs = set(Event.objects.filter(who=world.people["reader"]).values_list("verb", "what"))
    assert {("second factor added", "totp"), ("second factor failed", "totp")} <= verbs


def test_codes_of_an_app_cannot_be_guessed_without_end(world: World) -> None:
    client, other = Client(), Client()
    sign_in(client, READER)
    with_app(client)
    sign_in(other, READER)
    answers = [other.post("/accounts/2fa/authenticate/", {"code": "123"}).status_code for _ in range(6)]
    assert answers == [422] * 5 + [429]


def test_an_app_is_taken_out_of_use_and_codes_are_made_anew(world: World) -> None:
    client = Client()
    sign_in(client, READER)
    _secret, codes = with_app(client)
    assert "In use" in framed(client.get("/accounts/2fa/"))
    framed(client.get("/accounts/2fa/recovery-codes/generate/"))
    client.post("/accounts/2fa/recovery-codes/generate/")
    saved = client.get("/accounts/2fa/recovery-codes/download/")
    assert saved["Content-Type"].startswith("text/plain")
    assert not set(codes) & set(saved.content.decode().split())
    framed(client.get("/accounts/2fa/totp/deactivate/"))
    client.post("/accounts/2fa/totp/deactivate/")
    assert not Authenticator.objects.exists()
    assert sign_in(Client(), READER)["Location"] == "/"


def test_the_page_of_a_new_passkey_asks_for_the_password_and_carries_what_its_script_needs(world: World) -> None:
    client = Client()
    sign_in(client, READER)
    page = framed(confirmed(client, "/accounts/2fa/webauthn/add/"))
    found = re.search(r'<script id="js_data" type="application/json">(.*?)</script>', page)
    assert found
    assert json.loads(found[1])["creation_options"]["publicKey"]["rp"]["id"] == "testserver"
    assert client.post("/accounts/2fa/webauthn/add/", {"name": "x", "credential": "{}"}).status_code == 422


def test_somebody_elses_passkey_can_be_neither_named_nor_removed(world: World) -> None:
    theirs = Authenticator.objects.create(
        user=world.people["owner"], type=Authenticator.Type.WEBAUTHN, data={"name": "x", "credential": {}}
    )
    client = Client()
    sign_in(client, READER)
    for deed in ("edit", "remove"):
        address = f"/accounts/2fa/webauthn/keys/{theirs.pk}/{deed}/"
        asked = client.get(address)
        if "Location" in asked:
            client.post(asked["Location"], {"password": PASSWORD, "next": address})
        assert client.get(address).status_code == client.post(address, {"name": "mine"}).status_code == 404
    assert Authenticator.objects.filter(pk=theirs.pk).exists()


def test_the_other_sessions_are_listed_and_can_be_ended(world: World) -> None:
    here, there = Client(headers={"user-agent": "a desk"}), Client(headers={"user-agent": "a phone"})
    for client in (here, there):
        sign_in(client, READER)
    page = framed(here.get("/accounts/sessions/"))
    assert "a desk" in page
    assert "a phone" in page
    assert here.post("/accounts/sessions/").status_code == 302
    assert here.get("/me/").status_code == 200
    assert there.get("/me/").status_code == 302
