"""One photo in a real browser on a phone: its pin on the drawing, marks on a copy, by taps and by keys."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect

from .browser import PHONE, Served, page_of
from .photographing import one_photo, open_photos, page, shot_of
from .test_browser_pages import AXE, MAIN, SMALL, WIDE

__all__ = ["page"]
pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


def _axe() -> str:
    import axe_playwright_python

    return (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")


def _pin(page: Any) -> tuple[float, float]:
    circle = page.locator(".pin circle").bounding_box()
    box = page.locator("#pins svg").bounding_box()
    middle = (circle["x"] + circle["width"] / 2 - box["x"], circle["y"] + circle["height"] / 2 - box["y"])
    return middle[0] / box["width"], middle[1] / box["height"]


def test_a_tap_puts_the_pin_and_undo_puts_it_back(page: Any, served: Served) -> None:
    one_photo(page, served, "B1")
    before = _pin(page)  # at the place of its shot
    box = page.locator("#pins svg").bounding_box()
    page.locator("#pins svg").click(position={"x": 0.7 * box["width"], "y": 0.8 * box["height"]})
    expect(page.locator("[data-pin-said]")).to_have_text("Kept: the pin stands there now.")
    page.reload()
    assert _pin(page) == pytest.approx((0.7, 0.8), abs=0.01)
    page.locator("#pins svg").click(position={"x": 0.2 * box["width"], "y": 0.2 * box["height"]})
    expect(page.locator("[data-pin-said]")).to_have_text("Kept: the pin stands there now.")
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(page.locator("[data-pin-said]")).to_have_text("Undone.")
    page.reload()
    assert _pin(page) == pytest.approx((0.7, 0.8), abs=0.01)
    assert _pin(page) != pytest.approx(before, abs=0.05)


def test_the_pin_moves_by_keyboard(page: Any, served: Served) -> None:
    one_photo(page, served, "B1")
    was = _pin(page)
    page.locator("#pins").focus()
    for _ in range(3):
        page.keyboard.press("ArrowLeft")
    expect(page.locator("[data-pin-said]")).to_have_text("Moved. Enter keeps it.")
    page.keyboard.press("Enter")
    expect(page.locator("[data-pin-said]")).to_have_text("Kept: the pin stands there now.")
    page.reload()
    now = _pin(page)
    assert now[0] < was[0] - 0.02
    assert now[1] == pytest.approx(was[1], abs=0.01)


def test_a_pin_that_the_server_did_not_take_goes_back_and_says_so(page: Any, served: Served) -> None:
    one_photo(page, served, "B1")
    was = _pin(page)
    page.context.set_offline(True)
    page.locator("#pins svg").click(position={"x": 20, "y": 20})
    expect(page.locator("[data-pin-said]")).to_contain_text("Not kept")
    assert _pin(page) == pytest.approx(was, abs=0.01)


def _tap(page: Any, x: float, y: float) -> None:
    box = page.locator(".board canvas").bounding_box()
    page.locator(".board canvas").click(position={"x": x * box["width"], "y": y * box["height"]})


def _tool(page: Any, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).click()


def _marking(page: Any) -> None:
    page.get_by_role("button", name="Draw on a copy").click()
    expect(page.locator("#marks")).to_be_visible()
    page.evaluate(
        "async () => { const canvas = document.querySelector('.board canvas');"
        " for (let n = 0; n < 100 && canvas.width !== 600; n += 1) await new Promise((on) => setTimeout(on, 50)); }"
    )


def test_marks_are_made_by_taps_and_kept_as_a_copy_beside_the_untouched_photo(page: Any, served: Served) -> None:
    one_photo(page, served, "F1", "bottom_left")
    original = page.request.get(page.locator(".whole-photo img").get_attribute("src")).body()
    address = page.url
    _marking(page)
    _tool(page, "Ring")
    expect(page.locator("[data-said]")).to_have_text("Tap the middle of the ring.")
    _tap(page, 0.3, 0.3)
    expect(page.locator("[data-said]")).to_have_text("Tap its edge.")
    _tap(page, 0.4, 0.3)
    _tool(page, "Line")
    _tap(page, 0.1, 0.1)
    _tap(page, 0.9, 0.1)
    page.get_by_role("button", name="Undo the last mark").click()
    _tool(page, "Length")
    page.get_by_label("Length as read on the tape").fill("10 ft 4 in")
    _tap(page, 0.1, 0.8)
    _tap(page, 0.9, 0.8)
    _tool(page, "Words")
    _tap(page, 0.5, 0.5)
    page.get_by_label("Words on the photo").fill("Crack")
    expect(page.locator("[data-list]")).to_have_text("RingLength: 10 ft 4 inWords: Crack")
    page.get_by_role("button", name="Keep the marked copy").click()
    expect(page.locator("[data-said]")).to_contain_text("The marked copy is kept on this phone.")
    open_photos(page, served, "F1")
    copy = shot_of(page, "bottom_left").locator("[data-copy] a:has(img)")
    copy.click()
    expect(page.locator("#main")).to_contain_text("Length: 10 ft 4 in, typed, not measured from the picture")
    expect(page.locator("#main")).to_contain_text("Words: Crack")
    marked = Image.open(BytesIO(page.request.get(page.locator(".whole-photo img").get_attribute("src")).body()))
    assert marked.size == (600, 800)
    red, green, _blue = marked.convert("RGB").getpixel(
        (240, 240)
    )  # the edge of the ring is light, where it was red
    assert red > 200
    assert green > 150
    page.goto(address)
    assert page.request.get(page.locator(".whole-photo img").get_attribute("src")).body() == original
    expect(page.get_by_role("heading", name="Marked copies")).to_be_visible()


def test_a_length_wants_its_unit_and_words_want_words(page: Any, served: Served) -> None:
    one_photo(page, served, "F1", "bottom_left")
    _marking(page)
    page.get_by_role("button", name="Keep the marked copy").click()
    expect(page.locator("#mark-wrong")).to_contain_text("There is no mark yet.")
    _tool(page, "Length")
    _tap(page, 0.1, 0.8)
    _tap(page, 0.9, 0.8)
    page.get_by_label("Length as read on the tape").fill("10")
    page.get_by_role("button", name="Keep the marked copy").click()
    expect(page.locator("#mark-wrong")).to_contain_text("Type the length with its unit")
    expect(page.get_by_label("Length as read on the tape")).to_be_focused()


def test_marks_are_made_by_keyboard_alone(page: Any, served: Served) -> None:
    one_photo(page, served, "F1", "bottom_left")
    _marking(page)
    page.get_by_role("button", name="Arrow", exact=True).press("Enter")
    page.locator(".board").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator("[data-said]")).to_have_text("Cross at 50 % from the left, 50 % from the top.")
    page.keyboard.press("Enter")
    for _ in range(4):
        page.keyboard.press("ArrowUp")
    page.keyboard.press("Shift+ArrowLeft")
    page.keyboard.press("Enter")
    expect(page.locator("[data-list] li")).to_have_text(["Arrow"])
    page.get_by_role("button", name="Undo the last mark").press("Enter")
    expect(page.locator("[data-list] li")).to_have_count(0)


def test_the_page_of_a_photo_with_its_marks_is_accessible_and_large_enough(
    browser: Any, served: Served, page: Any
) -> None:
    one_photo(page, served, "B1")
    found = page_of(browser, served, "technician", PHONE)
    found.goto(page.url)
    _marking(found)
    for name in ("Length", "Words"):
        _tool(found, name)
        _tap(found, 0.4, 0.4)
    found.evaluate(_axe())
    small, main, wide = (found.evaluate(each) for each in (SMALL, MAIN, WIDE))
    violations = []
    for theme in ("light", "dark"):
        found.emulate_media(color_scheme=theme)
        violations += found.evaluate(AXE)
    said = found.said
    found.context.close()
    assert not violations
    assert not small
    assert not main
    assert wide <= 0
    assert not said
