"""The study page in a real browser: the drawing as a map, answers in place, and what would be."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import DESK, PHONE, Served, page_of

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


def opened(browser: Any, served: Served, tag: str, who: str = "technician", device: Any = DESK) -> Any:
    """The page of an opening, with its scripts at work."""
    page = page_of(browser, served, who, device)
    page.set_default_timeout(60_000)  # the first study of a server takes its time on a machine that is shared
    page.goto(f"/openings/{served.openings[tag]}/")
    page.wait_for_load_state("networkidle")
    return page


def test_a_finding_shows_its_place_and_a_place_its_finding(browser: Any, served: Served) -> None:
    page = opened(browser, served, "D4")
    page.locator("#f2 .show").focus()
    pointed = page.locator("#drawing .pointed").evaluate_all("all => all.map(each => each.dataset.place)")
    assert sorted(pointed) == ["note.protection.e1", "protection.e1"]
    told = page.locator('[data-points="protection.e1"]').evaluate_all("all => all.map(each => each.id)")
    assert "f2" in told
    assert page.locator(".pointing").evaluate_all("all => all.map(each => each.id)") == told
    page.locator('#drawing [data-place="note.operator"] text').first.click()
    finding = page.evaluate("document.activeElement.id")
    assert page.locator(f"#{finding}").get_attribute("data-points") == "operator"
    page.locator("[data-flag]").nth(2).focus()
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "f3"
    assert not page.said
    page.context.close()


def test_on_a_phone_the_drawing_grows_where_a_finding_points(browser: Any, served: Served) -> None:
    page = opened(browser, served, "D4", device=PHONE)
    page.locator("#f1 .show").click()
    figure, place = page.locator("#drawing").bounding_box(), page.locator("#drawing .pointed").first.bounding_box()
    assert page.locator("#drawing").evaluate("each => each.scrollWidth > each.clientWidth * 1.5")
    assert figure["x"] <= place["x"] + place["width"] / 2 <= figure["x"] + figure["width"]
    page.locator("[data-size]").click()
    assert page.locator("#drawing").evaluate("each => each.scrollWidth <= each.clientWidth")
    page.context.close()


def test_two_facts_are_tried_together_and_going_back_leaves_everything_as_it_was(
    browser: Any, served: Served
) -> None:
    page = opened(browser, served, "B2", who="reader")
    before = page.locator("#headline").text_content()
    page.locator(".question .try").first.click()
    page.locator(".question input[name=typed]").first.fill("2008")
    page.locator(".question .then").first.click()
    page.wait_for_selector("#tried [data-changes] li")
    assert page.locator("#tried [data-headline]").text_content().startswith("This older installation")
    page.locator("summary", has_text="Facts as they were taken down").click()
    row = page.locator(".taken li", has_text="How it is told to close").first
    row.locator(".try").click()
    row.locator("select").select_option("held")
    row.locator("button", has_text="Try it").click()
    page.wait_for_function("() => document.querySelectorAll('#tried [data-facts] li').length === 2")
    assert page.locator("#tried [data-keep]").count() == 0, "who may only read keeps nothing"
    page.locator("[data-back]").click()
    assert not page.locator("#tried").is_visible()
    assert page.locator("form.trying").count() == 0
    page.reload()
    assert page.locator("#headline").text_content() == before
    assert not page.said
    page.context.close()


def test_an_answer_is_kept_where_the_question_stands(browser: Any, served: Served) -> None:
    page = opened(browser, served, "F1")
    page.locator('form[data-fact="door.leaf_mass"] input').fill("900 kg")
    page.locator('form[data-fact="door.leaf_mass"] select').select_option("plate")
    with page.expect_navigation():
        page.locator('form[data-fact="door.leaf_mass"] .keep').click()
    assert page.locator('form[data-fact="door.leaf_mass"]').count() == 0
    page.locator("summary", has_text="Facts as they were taken down").click()
    row = page.locator(".taken li", has_text="Weight of the leaf")
    assert "“900 kg”" in row.text_content()
    assert "read from a plate" in row.text_content()
    page.context.close()


def test_what_was_tried_is_kept_by_one_more_press(browser: Any, served: Served) -> None:
    page = opened(browser, served, "D3")
    form = page.locator('form[data-fact="door.closing_speed"]')
    form.locator("xpath=..").locator(".try").click()
    form.locator("input").fill("9 in/s")
    form.locator(".then").click()
    page.wait_for_selector("#tried [data-changes] li")
    with page.expect_navigation():
        page.locator("#tried [data-keep]").click()
    assert page.locator('form[data-fact="door.closing_speed"]').count() == 0
    assert not page.said
    page.context.close()


def test_an_answer_that_cannot_be_sent_waits_on_the_phone_and_the_page_says_so(
    browser: Any, served: Served
) -> None:
    page = opened(browser, served, "G1")
    page.context.set_offline(True)
    form = page.locator("form[data-fact]").first
    form.locator("input").fill("900 kg")
    form.locator(".keep").click()
    expect(page.locator(".question [role=status]")).to_have_text("Kept on this phone only, until it is sent.")
    expect(page.locator("#answer-here")).to_contain_text("1 entry")
    page.context.close()


def test_without_scripts_an_answer_leads_to_the_page_of_its_fact(browser: Any, served: Served) -> None:
    context = browser.new_context(**PHONE, java_script_enabled=False, base_url=served.address)
    context.add_cookies([{"name": "session", "value": served.sessions["technician"], "url": served.address}])
    page = context.new_page()
    page.goto(f"/openings/{served.openings['G1']}/")
    form = page.locator("form[data-fact]").first
    path = form.get_attribute("data-fact")
    form.locator("input").fill("900 kg")
    form.locator(".keep").click()
    assert f"/facts/{path}/" in page.url
    page.goto(f"/openings/{served.openings['G1']}/")
    page.locator(".question .try").first.click()
    page.locator("#t1").fill("900 kg")
    page.locator("button.main").click()
    assert page.locator(".tried-page").is_visible()
    context.close()
