"""Asking and answering in a real browser on a phone, with a network and without one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import PHONE, Served, page_of

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]
FACT = "operator.board_made"


@pytest.fixture
def page(browser: Any, served: Served) -> Iterator[Any]:
    """A page of the technician's phone."""
    found = page_of(browser, served, "technician", PHONE, worker=True)
    yield found
    found.context.close()


def ask_form(page: Any, served: Served, words: str) -> None:
    """The form of a question about an opening, with words in it."""
    page.goto(f"/openings/{served.openings['B1']}/ask/{FACT}/")
    page.get_by_label("Your question").fill(words)


def test_a_question_by_a_link_is_asked_answered_on_another_phone_and_seen(
    page: Any, browser: Any, served: Served
) -> None:
    ask_form(page, served, "When was the board made?\nIt says so beside the fuse.")
    expect(page.get_by_label("Name of who will answer")).to_be_hidden()
    page.get_by_label("Whom do you ask?").select_option("link")
    page.get_by_label("Name of who will answer").fill("Gate Keeper")
    page.get_by_role("button", name="Ask").click()
    page.wait_for_url(re.compile(r"/questions/[0-9a-f-]{36}/"))
    asked = page.url
    page.get_by_role("button", name="For 7 days").click()
    link = page.get_by_label("Copy it and send it").input_value()
    other = page_of(browser, served, None, PHONE)
    other.goto(link)
    expect(other.get_by_role("heading", level=1)).to_have_text("Technician asks you")
    other.get_by_label("Year").fill("2019")
    other.get_by_role("button", name="Send the answer").click()
    expect(other.get_by_role("heading", level=1)).to_have_text("Thank you, it is kept")
    assert not other.said
    other.context.close()
    page.goto(asked)
    expect(page.get_by_text("Answered by Gate Keeper")).to_be_visible()
    expect(page.get_by_text("told, by Gate Keeper")).to_be_visible()
    assert not page.said


def test_a_question_asked_without_a_network_is_on_the_phone_and_goes_out_by_itself(
    page: Any, browser: Any, served: Served
) -> None:
    ask_form(page, served, "Which month, please?")
    page.get_by_label("Whom do you ask?").select_option(label="Advisor, Harbour Doors")
    page.context.set_offline(True)
    page.get_by_role("button", name="Ask").click()
    expect(page.locator("#told")).to_contain_text("kept on this phone only")
    page.context.set_offline(False)
    page.goto("/here/")
    advisor = page_of(browser, served, "advisor", PHONE)

    def arrived() -> bool:
        advisor.goto("/questions/")
        return "Which month, please?" in advisor.content()

    for _ in range(30):
        if arrived():
            break
        page.wait_for_timeout(500)
    assert arrived()
    assert advisor.content().count("Which month, please?") == 1
    advisor.context.close()


def test_what_the_server_refuses_stays_in_the_form_with_its_reason(page: Any, served: Served) -> None:
    ask_form(page, served, "When?")
    page.get_by_label("Whom do you ask?").select_option("link")
    page.get_by_role("button", name="Ask").click()
    expect(page.get_by_role("alert").first).to_contain_text("Whom do you ask?")
    expect(page.get_by_label("Your question")).to_have_value("When?")
    page.get_by_label("Name of who will answer").fill("Gate\u0001Keeper")
    page.get_by_role("button", name="Ask").click()
    expect(page.locator("[data-wrong]")).to_contain_text("cannot be kept")
    expect(page.get_by_label("Your question")).to_have_value("When?")
