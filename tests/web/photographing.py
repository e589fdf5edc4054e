"""A phone at the pages of photos: fixtures and hands for the tests that look through a browser."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import NO_SIGNAL, PHONE, Served, page_of
from .pictures import camera_jpeg


@pytest.fixture
def page(browser: Any, served: Served) -> Iterator[Any]:
    """A page of the technician's phone that complains about nothing but a missing signal."""
    found = page_of(browser, served, "technician", PHONE, worker=True)
    yield found
    said = [each for each in found.said if not any(words in each for words in NO_SIGNAL)]
    found.context.close()
    assert not said


def open_photos(page: Any, served: Served, tag: str) -> None:
    """The photos page of an opening."""
    page.goto(f"/openings/{served.openings[tag]}/photos/")


def shot_of(page: Any, name: str) -> Any:
    """The card of a shot."""
    return page.locator(f"#shot-{name}")


def choose(page: Any, shot: str, content: bytes, name: str = "x.jpg", media: str = "image/jpeg") -> None:
    """Choose a file for a shot, as a camera hands it over."""
    file = {"name": name, "mimeType": media, "buffer": content}
    shot_of(page, shot).locator("input[type=file]").set_input_files(file)


def one_photo(page: Any, served: Served, tag: str, shot: str = "inside") -> None:
    """A photo of an opening that the server has, on its page."""
    open_photos(page, served, tag)
    if not shot_of(page, shot).locator(".thumbs a").count():
        choose(page, shot, camera_jpeg(800, 600))
    shot_of(page, shot).locator(".thumbs a").last.click()
    expect(page.locator(".whole-photo img")).to_be_visible()
