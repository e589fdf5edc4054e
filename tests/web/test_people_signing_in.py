"""Signing in and out, and what a stranger at the door can learn from it."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.conf import settings
from django.contrib.auth.hashers import MD5PasswordHasher
from django.core import mail
from django.test import Client

from sillwright.web.accounts.models import User
from sillwright.web.people.account_urls import urlpatterns as account_patterns
from sillwright.web.records.models import Event

from .conftest import PASSWORD, World

KNOWN, UNKNOWN = "reader@people.example", "nobody@people.example"
NEW = "a ladder in the morning rain"


def sign_in(client: Client, email: str, password: str = PASSWORD, **more: Any) -> Any:
    return client.post("/accounts/login/", {"login": email, "password": password, **more})


def bare(answer: Any, email: str) -> str:
    """The body without what differs on every page: tokens of forms, and the address that was typed."""
    text = re.sub(r'(name="csrfmiddlewaretoken" value|name="csrf" content)="[^"]*"', "", answer.content.decode())
    return text.replace(email, "")


def framed(answer: Any) -> str:
    """The page, which has our header, one headline, and nothing that the policy would stop."""
    text: str = answer.content.decode()
    assert answer.status_code == 200
    assert '<header class="top">' in text
    assert len(re.findall("<h1", text)) == 1
    assert not re.search(r"<script(?![^>]*(?:src=|application/json))|<style|\sstyle=|\son[a-z]+=", text)
    return text


def link_in(text: str) -> str:
    found = re.search(r"http://testserver(/\S+)", text)
    assert found, text
    return found[1]


def test_a_person_signs_in_by_address_and_password_and_comes_to_the_sites(world: World) -> None:
    client = Client()
    answer = sign_in(client, "READER@people.example")
    assert (answer.status_code, answer["Location"]) == (302, "/")
    assert client.get("/me/").status_code == 200
    assert Event.objects.filter(verb="signed in", who=world.people["reader"]).count() == 1


def test_after_signing_in_one_comes_back_to_where_one_was_going_but_never_to_another_server(world: World) -> None:
    assert sign_in(Client(), KNOWN, next="/me/keys/")["Location"] == "/me/keys/"
    for elsewhere in ("https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)"):
        assert sign_in(Client(), KNOWN, next=elsewhere)["Location"] == "/"


def test_an_unknown_address_and_a_wrong_password_get_the_same_answer(world: World) -> None:
    known, unknown = sign_in(Client(), KNOWN, "not the password"), sign_in(Client(), UNKNOWN, "not the password")
    assert known.status_code == unknown.status_code == 422
    assert bare(known, KNOWN) == bare(unknown, UNKNOWN)
    assert "do not belong together" in known.content.decode()


def test_an_unknown_address_costs_as_much_hashing_as_a_wrong_password(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    hashed: list[str] = []
    encode = MD5PasswordHasher.encode

    def counting(self: Any, password: str, salt: str) -> str:
        hashed.append(password)
        return encode(self, password, salt)

    monkeypatch.setattr(MD5PasswordHasher, "encode", counting)
    counts = []
    for email in (KNOWN, UNKNOWN):
        hashed.clear()
        sign_in(Client(), email, "not the password")
        counts.append(len(hashed))
    assert counts[0] == counts[1] >= 1


def test_five_wrong_tries_for_one_address_close_it_for_a_while_whichever_browser_tries(world: World) -> None:
    for _ in range(5):
        assert sign_in(Client(), KNOWN, "not the password").status_code == 422
    closed = sign_in(Client(), KNOWN)  # the right password, another browser
    assert closed.status_code == 429
    assert "Wait five minutes" in closed.content.decode()
    assert sign_in(Client(), "technician@people.example").status_code == 302


def test_an_unknown_address_is_closed_after_as_many_tries(world: World) -> None:
    answers = [sign_in(Client(), UNKNOWN, "not the password").status_code for _ in range(6)]
    assert answers == [422] * 5 + [429]


def test_many_tries_from_one_place_get_a_plain_page(world: World) -> None:
    answers = [sign_in(Client(), f"{number}@people.example", "x").status_code for number in range(31)]
    assert answers[-1] == 429
    page = sign_in(Client(), KNOWN)
    assert page.status_code == 429
    assert "Too many tries" in page.content.decode()


def test_a_failed_sign_in_leaves_a_line_without_the_address(world: World) -> None:
    sign_in(Client(), UNKNOWN, "x")
    sign_in(Client(), UNKNOWN.upper(), "y")
    sign_in(Client(), KNOWN, "z")
    lines = list(Event.objects.filter(verb="sign-in failed").values_list("what", flat=True))
    assert lines[0] == lines[1] != lines[2]
    assert not any("people" in line or "nobody" in line for line in lines)


def test_a_closed_account_does_not_open_and_a_wrong_password_does_not_tell_that_it_is_closed(world: World) -> None:
    User.objects.filter(email=KNOWN).update(is_active=False)
    wrong = sign_in(Client(), KNOWN, "not the password")
    assert bare(wrong, KNOWN) == bare(sign_in(Client(), UNKNOWN, "not the password"), UNKNOWN)
    client = Client()
    assert client.get(sign_in(client, KNOWN)["Location"]).status_code == 200
    assert client.get("/me/").status_code == 302


def test_signing_out_is_a_button_and_ends_the_session(world: World) -> None:
    client = world.client("reader")
    cookie = client.cookies["session"].value
    assert client.get("/accounts/logout/").status_code == 200
    assert client.get("/me/").status_code == 200  # looking at the page does nothing
    client.post("/accounts/logout/")
    client.cookies["session"] = cookie
    assert client.get("/me/").status_code == 302
    assert Event.objects.filter(verb="signed out", who=world.people["reader"]).exists()


def test_forms_of_signing_in_are_refused_without_their_token(world: World) -> None:
    client = Client(enforce_csrf_checks=True)
    assert sign_in(client, KNOWN).status_code == 403
    client.force_login(world.people["owner"])
    for address in ("/accounts/logout/", "/me/sign-out-everywhere/", "/me/", "/me/keys/", "/accounts/sessions/"):
        assert client.post(address, {}).status_code == 403, address
    assert client.get("/me/").status_code == 200


# passwords


def test_password_fields_can_be_filled_by_a_password_store_and_shown(world: World) -> None:
    page = Client().get("/accounts/login/").content.decode()
    assert 'autocomplete="current-password"' in page
    assert 'data-reveal="id_password"' in page
    change = world.client("reader").get("/accounts/password/change/").content.decode()
    assert 'autocomplete="current-password"' in change
    assert 'autocomplete="new-password"' in change
    assert "12 to 128 signs" in change
    assert "onpaste" not in page + change
    assert "maxlength" not in change  # a longer one is named, never cut off


@pytest.mark.parametrize(
    ("typed", "word"),
    [("short one", "12"), ("x" * 129, "128"), ("password1234", "common"), ("reader@people.example", "similar")],
)
def test_a_new_password_that_is_short_endless_common_or_like_the_address_is_named(
    world: World, typed: str, word: str
) -> None:
    client = world.client("reader")
    answer = client.post("/accounts/password/change/", {"oldpassword": PASSWORD, "password1": typed})
    assert answer.status_code == 422
    assert word in answer.content.decode()
    assert User.objects.get(email=KNOWN).check_password(PASSWORD)


@pytest.mark.parametrize("typed", ["aaaa bbbb cccc dddd", "1357924680246", "дверь под дождём", "x" * 128])
def test_a_new_password_needs_no_mixture_of_signs(world: World, typed: str) -> None:
    answer = world.client("reader").post(
        "/accounts/password/change/", {"oldpassword": PASSWORD, "password1": typed}
    )
    assert answer.status_code == 302
    assert User.objects.get(email=KNOWN).check_password(typed)


def test_changing_the_password_ends_every_session_and_leaves_a_line(world: World) -> None:
    here, there = Client(), Client()
    for client in (here, there):
        sign_in(client, KNOWN)
    answer = here.post("/accounts/password/change/", {"oldpassword": PASSWORD, "password1": NEW})
    assert (answer.status_code, answer["Location"]) == (302, "/accounts/login/")
    assert here.get("/me/").status_code == there.get("/me/").status_code == 302
    assert Event.objects.filter(verb="password changed", who=world.people["reader"]).count() == 1


def test_the_present_password_is_asked_for(world: World) -> None:
    answer = world.client("reader").post("/accounts/password/change/", {"oldpassword": "x", "password1": NEW})
    assert answer.status_code == 422
    assert "This is not the present password" in answer.content.decode()


def test_an_account_without_a_password_sets_one(world: World) -> None:
    user = world.people["reader"]
    user.set_unusable_password()
    user.save()
    client = world.client("reader")
    assert client.get("/accounts/password/change/")["Location"] == "/accounts/password/set/"
    assert client.get("/accounts/password/set/").status_code == 200
    assert client.post("/accounts/password/set/", {"password1": NEW}).status_code == 302
    assert Event.objects.filter(verb="password set", who=user).count() == 1


# a forgotten password


def test_a_reset_says_the_same_for_an_unknown_address_and_mails_both(world: World) -> None:
    answers = [Client().post("/accounts/password/reset/", {"email": email}) for email in (KNOWN, UNKNOWN)]
    assert [each.status_code for each in answers] == [302, 302]
    assert answers[0]["Location"] == answers[1]["Location"] == "/accounts/password/reset/done/"
    known, unknown = mail.outbox
    assert (known.to, unknown.to) == ([KNOWN], [UNKNOWN])
    assert known.subject == unknown.subject
    assert "/password/reset/key/" in known.body
    assert "no account with this address" in unknown.body
    assert "http" not in unknown.body


def test_a_reset_link_sets_the_password_once_and_ends_every_session(world: World) -> None:
    there, client = world.client("reader"), Client()
    client.post("/accounts/password/reset/", {"email": KNOWN})
    link = link_in(str(mail.outbox[0].body))
    form = client.get(link)["Location"]
    assert "set-password" in form  # the secret does not stay in the address
    assert client.get(form).status_code == 200
    assert client.post(form, {"password1": "short"}).status_code == 422
    assert client.post(form, {"password1": NEW})["Location"] == "/accounts/password/reset/key/done/"
    assert there.get("/me/").status_code == 302
    assert sign_in(Client(), KNOWN, NEW).status_code == 302
    assert "not good any more" in Client().get(link).content.decode()
    assert Event.objects.filter(verb="password reset", who=world.people["reader"]).count() == 1


@pytest.mark.parametrize("key", ["abc-def", "0-0", f"{0:032x}-set-password", "zz-x-y-z"])
def test_a_forged_reset_link_opens_nothing(world: World, key: str) -> None:
    answer = Client().get(f"/accounts/password/reset/key/{key}/")
    assert "not good any more" in answer.content.decode()


def test_without_a_mail_server_the_reset_pages_say_where_the_link_appears(world: World, settings: Any) -> None:
    pages = ("/accounts/password/reset/", "/accounts/password/reset/done/")
    assert not any("console" in Client().get(page).content.decode() for page in pages)
    settings.EMAIL_BACKEND = "django.core.mail.backends.console.EmailBackend"
    assert all("on its console" in Client().get(page).content.decode() for page in pages)


def test_resets_for_one_address_are_few(world: World) -> None:
    answers = [Client().post("/accounts/password/reset/", {"email": KNOWN}).status_code for _ in range(6)]
    assert answers == [302] * 5 + [429]


# which pages there are


GONE = ["signup/", "email/", "confirm-email/", "confirm-email/abc/", "login/code/", "login/code/confirm/",
        "phone/change/", "phone/verify/", "signup/passkey/", "2fa/webauthn/signup/", "2fa/trust/", ""]  # fmt: skip


@pytest.mark.parametrize("address", GONE)
def test_what_is_not_needed_for_signing_in_is_not_there(world: World, address: str) -> None:
    for client in (Client(), world.client("owner")):
        answer = client.get(f"/accounts/{address}")
        assert answer.status_code in {302, 404}
        assert answer.status_code == 404 or answer["Location"].startswith("/accounts/login/")
    assert world.client("owner").get(f"/accounts/{address}").status_code == 404


PUBLIC = {
    "account_login", "account_logout", "account_inactive", "account_reset_password", "account_reset_password_done",
    "account_reset_password_from_key", "account_reset_password_from_key_done", "mfa_authenticate",
    "mfa_login_webauthn",
}  # fmt: skip


def test_no_other_page_of_an_account_is_open_to_everybody() -> None:
    assert {each.name for each in account_patterns if not getattr(each.callback, "login_required", True)} == PUBLIC


SIGNED_OUT = ("login/", "password/reset/", "password/reset/done/", "password/reset/key/done/", "inactive/")
SIGNED_IN = ("logout/", "reauthenticate/", "password/change/", "sessions/", "2fa/", "2fa/webauthn/")


@pytest.mark.parametrize(
    ("who", "address"), [*((None, each) for each in SIGNED_OUT), *(("owner", each) for each in SIGNED_IN)]
)
def test_a_page_of_an_account_wears_our_frame_and_runs_under_the_policy(
    world: World, who: str | None, address: str
) -> None:
    framed(world.client(who).get(f"/accounts/{address}"))


def test_the_links_of_every_page_ask_nothing_of_the_database(world: World, django_assert_num_queries: Any) -> None:
    from django.template.loader import render_to_string
    from django.test import RequestFactory

    request = RequestFactory().get("/")
    request.user = world.people["owner"]
    with django_assert_num_queries(0):
        text = render_to_string("_nav.html", request=request)
    assert "Sign out" in text
    assert "Owner" in text


def test_a_stranger_finds_the_workbench_where_it_is_open(db: None, settings: Any) -> None:
    assert "/workbench/" in Client().get("/accounts/login/").content.decode()
    settings.OPEN_WORKBENCH = False
    assert "/workbench/" not in Client().get("/accounts/login/").content.decode()


def test_limits_are_counted_where_every_process_sees_them() -> None:
    assert settings.CACHES["default"]["BACKEND"] == "django.core.cache.backends.db.DatabaseCache"
