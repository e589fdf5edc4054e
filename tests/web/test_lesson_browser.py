"""A lesson in a real browser: begun on a desk, asked on a phone without an account, signed with a finger."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from .browser import DESK, PHONE, Served, page_of
from .test_browser_pages import AXE, MAIN, SMALL, WIDE

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


def looked_at(page: Any) -> list[Any]:
    """What is wrong with how a page looks and works, in both themes."""
    import axe_playwright_python

    page.wait_for_load_state("networkidle")
    page.evaluate((Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8"))
    wrong = [*page.evaluate(SMALL), *page.evaluate(MAIN), *(["too wide"] if page.evaluate(WIDE) > 0 else [])]
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        wrong += page.evaluate(AXE)
    return wrong


def test_a_lesson_from_its_beginning_to_its_handout(browser: Any, served: Served) -> None:
    desk = page_of(browser, served, "owner", DESK)
    desk.goto("/lessons/new/")
    desk.locator("summary").click()
    assert looked_at(desk) == []
    desk.fill("#seed", "2")
    desk.select_option("#symptom", "CALL-01")
    desk.select_option("#fault1", "LEAD_OPEN")
    desk.locator("main button.main").click()
    address = desk.locator(".code a").get_attribute("href")
    assert looked_at(desk) == []

    phone = page_of(browser, served, None, PHONE)
    phone.goto(address)
    assert looked_at(phone) == []
    other = page_of(browser, served, None, PHONE)
    other.clock.install()
    other.goto(address)
    other.locator("summary", has_text="Measure").click()
    phone.locator("summary", has_text="Measure").click()
    phone.locator("button[value=ohms_operator]").click()
    assert phone.locator(".took-so-far .number").inner_text() == "6 min"
    other.clock.fast_forward(10_000)
    other.locator(".took-so-far .number", has_text="6 min").wait_for()
    assert other.locator("details[data-name=measure]").get_attribute("open") is not None
    assert other.locator("details[data-name=mend]").get_attribute("open") is None
    phone.locator("summary", has_text="Mend it").click()
    phone.locator("button[value=new_lead]").click()
    assert "Mended." in phone.locator("main").inner_text()
    assert looked_at(phone) == []

    signed(page_of(browser, served, "owner", PHONE), desk.url)
    lesson = desk.url
    for page in (desk, page_of(browser, served, "owner", PHONE)):
        page.goto(f"{lesson}handout/")
        page.locator("main nav a", has_text="English and Spanish").click()
        page.locator("main a", has_text="With the list").click()
        assert page.locator(".sheet [lang=es]", has_text="Era:").count() == 1
        assert looked_at(page) == []


def signed(phone: Any, lesson: str) -> None:
    """Somebody draws a signature, and it stands beside the name."""
    phone.goto(f"{lesson}attendance/")
    phone.fill("#name", "Nell Gray")
    phone.locator("canvas").scroll_into_view_if_needed()
    box = phone.locator("canvas").bounding_box()
    phone.mouse.move(box["x"] + 20, box["y"] + 20)
    phone.mouse.down()
    phone.mouse.move(box["x"] + 90, box["y"] + 60, steps=8)
    phone.mouse.up()
    assert looked_at(phone) == []
    phone.locator("main button.main").click()
    assert phone.locator("svg.signature path").get_attribute("d").count("L") > 3
    assert looked_at(phone) == []
