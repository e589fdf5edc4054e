"""Quotes and orders in a real browser: accessible in both themes, large enough to press, done by plain forms."""

from __future__ import annotations

import json
import subprocess
import sys
from typing import Any

import pytest

from .browser import DESK, PHONE, ROOT, Served, environment, page_of
from .test_browser_pages import AXE, MAIN, SHIFTS, SMALL, WIDE, axe

__all__ = ["axe"]

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

PAGES = {
    "quotes": "/sites/{quay}/quotes/",
    "draft": "/quotes/{draft}/",
    "change": "/quotes/{draft}/change/",
    "alternative": "/quotes/{draft}/alternatives/1/",
    "another": "/quotes/{draft}/alternatives/3/",
    "sent": "/quotes/{sent}/",
    "accepted": "/quotes/{accepted}/",
    "to ask about": "/quotes/",
    "orders": "/sites/{quay}/orders/",
    "blocked order": "/orders/{blocked}/",
    "order change": "/orders/{blocked}/change/",
    "released order": "/orders/{released}/",
    "goods in": "/orders/{released}/lines/1/goods-in/",
    "claim": "/orders/{released}/lines/1/claim/",
    "catalogue": "/organisations/{dealer}/catalogue/",
}


@pytest.fixture(scope="module")
def made(served: Served) -> dict[str, str]:
    """Quotes and orders in the served world."""
    command = [sys.executable, "-m", "tests.web.ordering_world"]
    env = environment(served.data)
    told = subprocess.run(command, env=env, cwd=ROOT, capture_output=True, text=True, timeout=120, check=True)
    found: dict[str, str] = json.loads(told.stdout.splitlines()[-1])
    return found


def _open(browser: Any, served: Served, made: dict[str, str], name: str, device: Any, theme: Any = "light") -> Any:
    page = page_of(browser, served, "owner", device, theme)
    page.goto(PAGES[name].format(**made))
    page.wait_for_load_state("networkidle")
    return page


@pytest.mark.parametrize("theme", ["light", "dark"])
@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_orders_is_accessible_and_says_nothing_on_the_console(
    browser: Any, served: Served, made: dict[str, str], axe: str, name: str, theme: Any
) -> None:
    page = _open(browser, served, made, name, PHONE, theme)
    page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true; })")
    page.evaluate("() => document.querySelectorAll('.thumb').forEach(each => { each.style.position = 'static'; })")
    page.evaluate(axe)
    found, said = page.evaluate(AXE), page.said
    page.context.close()
    assert not found
    assert not said


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_orders_fits_a_phone_and_what_is_pressed_is_large_enough(
    browser: Any, served: Served, made: dict[str, str], name: str
) -> None:
    page = _open(browser, served, made, name, PHONE)
    page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true; })")
    small, main, wide, shift = (page.evaluate(each) for each in (SMALL, MAIN, WIDE, SHIFTS))
    page.context.close()
    assert not small
    assert not main
    assert wide <= 0
    assert shift < 0.05


def test_on_a_desk_the_alternatives_stand_side_by_side(browser: Any, served: Served, made: dict[str, str]) -> None:
    page = _open(browser, served, made, "sent", DESK)
    tops = page.evaluate("() => [...document.querySelectorAll('.offer')].map(e => e.getBoundingClientRect().top)")
    page.context.close()
    assert len(tops) == 2
    assert tops[0] == tops[1]


def test_by_plain_forms_a_draft_goes_out_is_accepted_and_becomes_an_order(
    browser: Any, served: Served, made: dict[str, str]
) -> None:
    page = _open(browser, served, made, "quotes", PHONE)
    page.get_by_label("What it is about").fill("Yard door")
    page.get_by_role("checkbox", name="W3").check()
    page.get_by_label("Profile – W3").select_option("Edge class B")
    page.get_by_role("button", name="Make the quote").click()
    assert "Not in this quote: W1, W2." in page.inner_text("main")
    page.get_by_role("button", name="It goes out").click()
    assert "It holds until" in page.inner_text("main")
    page.get_by_label("Accepted by").fill("N. Berg")
    page.get_by_role("button", name="It was accepted").click()
    page.get_by_role("button", name="Make the order").click()
    assert "9 ft 6-1/2 in" in page.inner_text("main")
    page.context.close()
