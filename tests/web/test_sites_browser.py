"""The page of a site in a real browser: answers that come one by one, and forms that hands in gloves can use."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from .browser import DESK, PHONE, Served, page_of

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]
DONE = "() => document.querySelector('[data-count=open]').textContent === '0'"
ENDLESS = """() => { const links = document.querySelectorAll(".trail a");
  for (const each of links) each.textContent = "Schiebetor".repeat(20);
  return document.documentElement.scrollWidth - document.documentElement.clientWidth; }"""


def numbers(page: Any) -> dict[str, int]:
    counts = page.locator("#counts [data-count]").all()
    return {each.get_attribute("data-count"): int(each.text_content()) for each in counts}


def test_openings_are_studied_one_by_one_and_the_counts_follow(browser: Any, served: Served) -> None:
    page = page_of(browser, served, "reader", PHONE)
    page.goto(f"/sites/{served.site}/")
    page.wait_for_function(DONE, timeout=90_000)
    found = numbers(page)
    all_said = page.locator(".said").all_text_contents()
    assert found["yes"] + found["no"] + found["unknown"] == len(all_said) >= len(served.openings)
    assert not any("studied" in said for said in all_said)
    assert not page.locator("#counts span").is_visible()
    assert page.locator(".weighed.stop .level, .weighed.act .level").count() > 0
    assert not page.said
    page.reload()
    assert numbers(page) == found
    assert page.locator("[data-headline]").count() == 0
    page.context.close()


def fresh(page: Any, served: Served, tags: str) -> None:
    """Make openings that nobody has studied yet."""
    page.goto(f"/sites/{served.site}/openings/new/")
    page.get_by_label("What is the opening called?").fill(tags)
    page.keyboard.press("Enter")
    page.wait_for_url(f"**/sites/{served.site}/")


def said_of(page: Any, tag: str) -> str:
    return str(page.locator("a.card", has=page.get_by_text(tag, exact=True)).locator(".said").text_content())


def test_without_signal_the_openings_stay_links(browser: Any, served: Served) -> None:
    page = page_of(browser, served, "advisor", PHONE)
    page.route("**/headline.json", lambda route: route.abort())
    fresh(page, served, "Off1-2")
    page.wait_for_load_state("networkidle")
    assert said_of(page, "Off1") == said_of(page, "Off2") == "Not studied yet. Open it to study it."
    page.locator("a.card", has_text="Off2").tap()
    page.wait_for_url("**/openings/*/")
    page.context.close()


def test_one_opening_that_fails_holds_up_no_other(browser: Any, served: Served) -> None:
    page = page_of(browser, served, "technician", DESK)
    asked: list[str] = []
    page.route("**/headline.json", lambda route: _answer(route, asked))
    fresh(page, served, "Fail1-2")
    page.wait_for_load_state("networkidle")
    assert page.locator(".said", has_text="It could not be studied now. Open it to try again.").count() == 1
    assert page.locator(".said", has_text="Said by a test.").count() == len(set(asked)) - 1 >= 1
    page.context.close()


def _answer(route: Any, asked: list[str]) -> None:
    """The first one that is asked for fails."""
    asked.append(route.request.url)
    if len(asked) == 1:
        route.fulfill(status=500, body="")
    else:
        said = {"closing": "no", "headline": "Said by a test.", "level": "act", "level_in_words": "quote"}
        route.fulfill(json=said)


@pytest.mark.parametrize("device", [PHONE, DESK], ids=["phone", "desk"])
def test_an_opening_is_made_by_keyboard_without_choosing_a_kind(browser: Any, served: Served, device: Any) -> None:
    page = page_of(browser, served, "technician", device)
    page.goto(f"/sites/{served.site}/openings/new/")
    page.get_by_label("What is the opening called?").fill(f"K{device['viewport']['width']}")
    page.keyboard.press("Enter")
    page.wait_for_url("**/facts/")
    assert page.evaluate(ENDLESS) <= 0  # a name without a space widens no page
    page.goto(f"/sites/{served.site}/")
    assert page.get_by_role("link", name=f"K{device['viewport']['width']}").first.is_visible()
    page.context.close()


def test_a_file_is_taken_in_with_a_touch(browser: Any, served: Served, tmp_path: Path) -> None:
    file = tmp_path / "quay.yaml"
    file.write_text("format: sillwright-survey/1\nsite: {name: Quay Shed, country: US}\nopenings: [{tag: Q1}]\n")
    page = page_of(browser, served, "owner", PHONE)
    page.goto("/")
    page.get_by_role("link", name="Take in a survey file").tap()
    page.get_by_label("Survey file").set_input_files(file)
    page.get_by_role("button", name="Take it in").tap()
    page.get_by_role("heading", level=1, name="Quay Shed").wait_for()
    assert not page.said
    page.context.close()


def test_what_is_put_away_comes_back_with_one_touch(browser: Any, served: Served) -> None:
    page = page_of(browser, served, "owner", PHONE)
    page.goto(f"/sites/{served.site}/")
    page.get_by_role("button", name="Put the site away").tap()
    page.wait_for_url("**/?away=*")
    page.get_by_role("button", name="Put it back").tap()
    page.wait_for_url(f"**/sites/{served.site}/")
    assert "is back." in page.locator(".notice").first.text_content()
    page.context.close()
