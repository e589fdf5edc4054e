"""A bench in a real browser: it answers while one types, plays a contact, and listens to keys before a class."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import pytest

from .browser import PHONE, Served, page_of

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

PROJECTOR = {"viewport": {"width": 1280, "height": 800}}


def _until(page: Any, holds: Callable[[], bool]) -> None:
    """Wait until something holds; a page of ours runs no text as a script, so it is asked from here."""
    ends = time.monotonic() + 15
    while not holds():
        assert time.monotonic() < ends, page.inner_text("#answer")
        page.wait_for_timeout(50)


def _bench(browser: Any, served: Served, path: str, device: dict[str, Any] = PHONE) -> Any:
    page = page_of(browser, served, None, device)
    page.goto(path)
    page.wait_for_load_state("networkidle")
    return page


def test_a_bench_answers_while_one_types_and_its_address_follows(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/impact/")
    page.fill("#f-speed", "0.4 m/s")
    _until(page, lambda: "490" in page.inner_text("#answer"))
    assert "speed=0.4+m/s" in page.url
    page.fill("#f-speed", "0.4")
    page.wait_for_selector("#told-speed .wrong")
    assert page.get_attribute("#f-speed", "aria-invalid") == "true"
    assert "No result" in page.inner_text("#answer")
    page.reload()
    assert page.input_value("#f-speed") == "0.4"
    said = [each for each in page.said if "422" not in each]
    page.context.close()
    assert not said


def test_rows_are_added_and_taken_out_in_place(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/risk_level/")
    page.click("[data-table=steps] [data-more]")
    page.keyboard.type("0")
    _until(page, lambda: "probability of 0." in page.inner_text("#answer").replace("\u00a0", " "))
    page.click("[data-row='steps[4]'] [data-less]")
    _until(page, lambda: "0.002" in page.inner_text("#answer"))
    assert page.locator(".rows [data-row]").count() == 4
    said = page.said
    page.context.close()
    assert not said


def test_a_group_is_left_out_and_back_again(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/contact/")
    before = page.inner_text("#answer")
    page.check("input[name=edge][value=none]")
    _until(page, lambda: "edge=none" in page.url)
    assert not page.is_visible("[id='f-edge.response']")
    page.check("input[name=edge][value=given]")
    _until(page, lambda: "edge=none" not in page.url)
    assert page.inner_text("#answer") == before
    page.context.close()


def test_when_no_answer_comes_the_page_says_whose_numbers_it_shows(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/impact/")
    page.route("**/workbench/**", lambda route: route.abort())
    page.fill("#f-speed", "0.4 m/s")
    page.wait_for_selector("#answer .caution")
    assert "belongs to what was typed before" in page.inner_text("#answer")
    page.context.close()


def test_a_contact_is_played_stepped_and_stopped(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/contact/")
    assert page.inner_text("[data-read=time]") == "0.000 s"
    for _step in range(24):
        page.click("[data-do=on]")
    assert page.inner_text("[data-read=time]") == "0.240 s"
    assert page.inner_text("[data-read=force]").startswith("1,1")
    moved = page.get_attribute("[data-place=leaf]", "transform")
    assert moved is not None
    assert moved != "translate(0 0)"
    page.click("[data-do=play]")
    _until(page, lambda: float(page.inner_text("[data-read=time]").split()[0]) > 0.25)
    assert page.inner_text("[data-do=play]") == "Pause"
    page.click("[data-do=play]")
    at = page.inner_text("[data-read=time]")
    page.wait_for_timeout(150)
    assert page.inner_text("[data-read=time]") == at
    page.click("[data-do=start]")
    assert page.inner_text("[data-read=time]") == "0.000 s"
    page.context.close()


def test_before_a_class_answer_and_chart_stand_on_the_first_screen_and_keys_work(
    browser: Any, served: Served
) -> None:
    page = _bench(browser, served, "/workbench/contact/?large=1", PROJECTOR)
    chart = page.locator("[data-over=time]").bounding_box()
    form = page.locator("#inputs").bounding_box()
    assert chart["y"] + chart["height"] <= 800
    assert chart["x"] < form["x"]
    assert page.evaluate("parseFloat(getComputedStyle(document.documentElement).fontSize)") == 24
    page.keyboard.press("2")
    _until(page, lambda: page.evaluate("document.activeElement.id") == "f-moving_mass")
    page.keyboard.press("ArrowUp")
    assert page.input_value("#f-moving_mass") == "340 kg"
    page.keyboard.press("ArrowDown")
    assert page.input_value("#f-moving_mass") == "320 kg"
    _until(page, lambda: "320" in page.url)
    page.keyboard.press("Escape")
    page.keyboard.press(".")
    assert page.inner_text("[data-read=time]") == "0.010 s"
    page.keyboard.press("?")
    assert page.is_visible("#keys")
    page.keyboard.press("Escape")
    assert not page.is_visible("#keys")
    said = page.said
    page.context.close()
    assert not said


def test_single_letters_are_no_keys_outside_the_large_view(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/contact/", PROJECTOR)
    page.keyboard.press(".")
    assert page.inner_text("[data-read=time]") == "0.000 s"
    assert page.locator("#keys").count() == 0
    page.context.close()


def test_without_a_script_the_same_form_answers_when_it_is_sent(browser: Any, served: Served) -> None:
    context = browser.new_context(**PHONE, java_script_enabled=False, base_url=served.address)
    page = context.new_page()
    page.goto("/workbench/impact/")
    assert page.is_visible("p.ask button.main")
    assert not page.is_visible("#copy")
    page.fill("#f-speed", "0.4 m/s")
    page.click("p.ask button.main")
    assert "490" in page.inner_text("#answer")
    page.fill("#f-speed", "0.2 m/s")
    page.press("#f-speed", "Enter")
    page.wait_for_load_state()
    assert "245" in page.inner_text("#answer")
    context.close()


def test_a_mistake_in_a_section_that_was_folded_away_opens_it_again(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/floor/")
    summary = page.locator("summary", has_text="Overtravel, warm and cold")
    summary.click()
    page.fill("#f-required_overtravel", "wide")
    page.wait_for_selector("#told-required_overtravel .wrong")
    summary.click()
    assert not page.is_visible("#f-required_overtravel")
    page.fill("#f-width", "12 ft")
    page.wait_for_selector("#f-required_overtravel", state="visible")
    page.context.close()


def test_a_piece_more_is_cut_while_one_types(browser: Any, served: Served) -> None:
    page = _bench(browser, served, "/workbench/cutlist/")
    page.click("[data-table=pieces] [data-more]")
    page.fill("[id='f-pieces[2].length']", "2 ft")
    _until(page, lambda: "for 6 pieces" in page.inner_text("#answer"))
    assert "pieces.length=2+ft" in page.url
    page.fill("[id='f-pieces[2].length']", "")
    page.fill("[id='f-pieces[2].label']", "lintel")
    page.wait_for_selector("[id='told-pieces[2].length'] .wrong")
    page.context.close()
