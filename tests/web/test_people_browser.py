"""Signing in with a real browser: passkeys, passwords shown, links copied, two who come at once."""

from __future__ import annotations

import re
import threading
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Iterator
from http.cookiejar import CookieJar
from pathlib import Path
from typing import Any

import pytest

from .browser import PHONE, Served, page_of
from .conftest import PASSWORD
from .test_browser_pages import AXE, MAIN, SMALL, WIDE

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


@pytest.fixture
def page(browser: Any, served: Served) -> Iterator[Any]:
    """A browser in which nobody is signed in, and whose device keeps passkeys."""
    found = page_of(browser, served, None, PHONE)
    device = found.context.new_cdp_session(found)
    device.send("WebAuthn.enable")
    options = {
        "protocol": "ctap2", "transport": "internal", "hasResidentKey": True, "hasUserVerification": True,
        "isUserVerified": True, "automaticPresenceSimulation": True,
    }  # fmt: skip
    device.send("WebAuthn.addVirtualAuthenticator", {"options": options})
    yield found
    found.context.close()


def sign_in(page: Any, host: str, who: str) -> None:
    page.goto(f"{host}/accounts/login/")
    page.get_by_label("Mail address").fill(f"{who}@people.example")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.wait_for_url(f"{host}/")


def add_passkey(page: Any, host: str, *, alone: bool) -> None:
    page.goto(f"{host}/accounts/2fa/webauthn/add/")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Go on").click()
    page.get_by_label("Name", exact=True).fill("my phone")
    page.get_by_label("Sign in with it alone").set_checked(alone)
    page.get_by_role("button", name="Add it").click()


def by_name(served: Served) -> str:
    """The server by its name: no passkey is made for a number."""
    return f"http://localhost:{served.port}"


def test_a_passkey_is_added_and_opens_without_the_password(page: Any, served: Served) -> None:
    host = by_name(served)
    sign_in(page, host, "reader")
    add_passkey(page, host, alone=True)
    page.wait_for_url(f"{host}/accounts/2fa/recovery-codes/")
    page.goto(f"{host}/accounts/2fa/webauthn/")
    assert "Opens alone" in page.inner_text("main")
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url(f"{host}/accounts/login/")
    page.get_by_role("button", name="Sign in with a passkey").click()
    page.wait_for_url(f"{host}/")
    page.goto(f"{host}/me/")
    assert "reader@people.example" in page.inner_text("main")
    assert page.said == []


def test_a_passkey_is_asked_for_after_the_password_where_it_is_a_second_factor(page: Any, served: Served) -> None:
    host = by_name(served)
    sign_in(page, host, "advisor")
    add_passkey(page, host, alone=False)
    page.wait_for_url(f"{host}/accounts/2fa/recovery-codes/")
    page.get_by_role("button", name="Sign out").click()
    page.get_by_label("Mail address").fill("advisor@people.example")
    page.get_by_label("Password", exact=True).fill(PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.wait_for_url(f"{host}/accounts/2fa/authenticate/")
    page.get_by_role("button", name="Use a passkey").click()
    page.wait_for_url(f"{host}/")
    page.goto(f"{host}/accounts/2fa/webauthn/reauthenticate/?next=/me/")
    page.get_by_role("button", name="Use a passkey").click()
    page.wait_for_url(f"{host}/me/")
    assert page.said == []


def test_where_the_server_is_reached_by_a_number_the_page_says_why_no_passkey_comes(
    page: Any, served: Served
) -> None:
    page.goto("/accounts/login/")
    page.get_by_role("button", name="Sign in with a passkey").click()
    page.get_by_text("not by numbers").wait_for()
    assert page.locator("[data-passkey]:visible").count() == 1


def test_a_password_can_be_shown_and_is_hidden_again_before_it_is_sent(page: Any, served: Served) -> None:
    page.goto("/accounts/login/")
    field = page.locator("#id_password")
    button = page.get_by_role("button", name="Show Password")
    field.fill("typed with gloves")
    button.click()
    assert field.get_attribute("type") == "text"
    assert button.get_attribute("aria-pressed") == "true"
    button.click()
    assert field.get_attribute("type") == "password"
    button.click()
    field.evaluate("each => each.form.addEventListener('submit', event => event.preventDefault())")
    page.get_by_role("button", name="Sign in", exact=True).click()
    assert field.get_attribute("type") == "password"


def invitation(browser: Any, served: Served) -> str:
    """A link that the owner made and copied."""
    page = page_of(browser, served, "owner", PHONE)
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.goto("/organisations/")
    page.get_by_text("Harbour Doors").click()
    page.get_by_role("button", name="Make an invitation").click()
    link: str = page.get_by_label("Link").input_value()
    page.get_by_role("button", name="Copy").click()
    page.get_by_text("Copied.").wait_for()
    assert page.evaluate("() => navigator.clipboard.readText()") == link
    assert page.said == []
    page.context.close()
    return link


def test_of_two_who_use_one_invitation_at_once_one_gets_in(browser: Any, served: Served) -> None:
    link = invitation(browser, served)
    answers: list[int] = []
    ready = threading.Barrier(4)
    people = [threading.Thread(target=_come, args=(link, number, ready, answers)) for number in range(4)]
    for each in people:
        each.start()
    for each in people:
        each.join(60)
    assert sorted(answers) == [200, 404, 404, 404]
    page = page_of(browser, served, "owner", PHONE)
    page.goto("/organisations/")
    page.get_by_text("Harbour Doors").click()
    assert page.get_by_text(re.compile(r"comer\d@people\.example")).count() == 1
    page.context.close()


def at_a_form_with_mistakes(page: Any, link: str) -> None:
    page.goto(link)
    page.get_by_label("Password", exact=True).fill("short")
    page.get_by_role("button", name="Make the account").click()
    page.get_by_text("too short").wait_for()


def at_an_app(page: Any, link: str) -> None:
    page.goto("/accounts/2fa/totp/activate/")
    if "/reauthenticate/" in page.url:  # asked once in five minutes
        page.get_by_label("Password", exact=True).fill(PASSWORD)
        page.get_by_role("button", name="Go on").click()
    page.get_by_label("Code").wait_for()


def at_an_organisation(page: Any, link: str) -> None:
    page.goto("/organisations/")
    page.get_by_text("Harbour Doors").click()


def at_its_trail(page: Any, link: str) -> None:
    at_an_organisation(page, link)
    page.get_by_text("What was done here").click()
    page.get_by_role("heading", name="Audit trail").wait_for()


def at_a_new_key(page: Any, link: str) -> None:
    page.goto("/me/keys/")
    page.get_by_label("What it is for").fill("sheet")
    page.get_by_role("button", name="Make the key").click()
    page.get_by_text("shown this once").wait_for()


PLACES = [
    (None, at_a_form_with_mistakes), ("stranger", lambda page, link: page.goto(link)), ("technician", at_an_app),
    ("owner", at_an_organisation), ("reader", at_an_organisation), ("owner", at_its_trail), ("owner", at_a_new_key),
]  # fmt: skip


def test_pages_about_people_are_accessible_and_fit_a_phone(browser: Any, served: Served) -> None:
    import axe_playwright_python

    axe = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
    link = invitation(browser, served)
    for who, goes in PLACES:
        page = page_of(browser, served, who, PHONE)
        goes(page, link)
        page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true; })")
        page.evaluate(axe)
        for theme in ("light", "dark"):
            page.emulate_media(color_scheme=theme)
            assert not page.evaluate(AXE), (who, goes, theme)
        assert not page.evaluate(SMALL), (who, goes)
        assert not page.evaluate(MAIN), (who, goes)
        assert page.evaluate(WIDE) <= 0, (who, goes)
        assert not [said for said in page.said if "422" not in said]
        page.context.close()


def _come(link: str, number: int, ready: threading.Barrier, answers: list[int]) -> None:
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(CookieJar()))
    found = re.search(r'name="csrfmiddlewaretoken" value="(\w+)"', opener.open(link, timeout=90).read().decode())
    assert found
    told = {
        "csrfmiddlewaretoken": found[1], "name": f"Comer {number}", "email": f"comer{number}@people.example",
        "password": "a ladder in the rain",
    }  # fmt: skip
    ready.wait(90)
    try:
        answers.append(opener.open(link, urllib.parse.urlencode(told).encode(), timeout=240).status)
    except urllib.error.HTTPError as refused:
        answers.append(refused.code)
        refused.close()
