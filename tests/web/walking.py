"""A phone that is walked with: its taps, typed fields and photos are counted."""

from __future__ import annotations

import base64
import json
import time
from dataclasses import dataclass
from typing import Any

from playwright.sync_api import expect

from .browser import NO_SIGNAL, PHONE, Served, page_of

TAP, FIELD, PHOTO = 3.0, 8.0, 10.0  # seconds
PICTURE = base64.b64decode(  # 1 px
    "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="
)
COUNT = """
window.start = () => { window.counted = { taps: 0, keys: 0, fields: 0, photos: 0 }; };
start();
addEventListener("click", ({ isTrusted, target }) => {
  if (!isTrusted || target.matches("input[type=file]") || target.closest(".shot")) return;
  if (target.closest(".pad")) window.counted.keys += 1;
  else window.counted.taps += 1;
  if (target.id === "keep") window.counted.fields += 1;
}, true);
addEventListener("change", ({ isTrusted, target }) => {
  if (target.matches("input[type=file]")) window.counted.photos += 1;
  else if (isTrusted) window.counted.fields += 1;
}, true);
"""


@dataclass(frozen=True)
class Counted:
    """What one door took."""

    taps: int
    keys: int  # of the pad
    fields: int
    photos: int

    @property
    def seconds(self) -> float:
        """How long it takes: a typed field counts as a whole, its keys do not count again."""
        return TAP * self.taps + FIELD * self.fields + PHOTO * self.photos

    @property
    def touches(self) -> int:
        """Every time a finger comes down."""
        return self.taps + self.keys + self.photos


class Walker:
    """Somebody with a phone on the page of a walk."""

    def __init__(self, browser: Any, served: Served, who: str, **more: Any) -> None:
        self.page = page_of(browser, served, who, PHONE, worker=True, **more)
        self.page.add_init_script(COUNT)

    def open(self, site: str, more: str = "") -> Walker:
        """Open the page of the walk while there is a signal."""
        self.page.goto(f"/sites/{site}/walk/{more}")
        expect(self.page.locator("#walk h1")).not_to_have_text("Walk")
        self.page.wait_for_function("() => navigator.onLine && document.body.dataset.drawn")
        return self

    def signal(self, there: bool) -> None:
        """Go where there is a signal, or where there is none."""
        self.page.context.set_offline(not there)

    def tap(self, ident: str) -> None:
        """Tap a key by its id."""
        self.page.locator(f'[id="{ident}"]').tap()

    def typed(self, *keys: str) -> None:
        """Write a length on the pad and keep it."""
        for each in keys:
            self.page.locator(f'.pad [data-key="{each}"]').tap()
        self.tap("keep")

    def photo(self, shot: str) -> None:
        """Take a photo of a shot."""
        picture = {"name": "door.png", "mimeType": "image/png", "buffer": PICTURE}
        self.page.locator(f"#shot-{shot}").set_input_files(picture)
        expect(self.page.locator(f".shot.photographed #shot-{shot}")).to_have_count(1)

    def asked(self, words: str) -> None:
        """See what is asked now."""
        expect(self.page.locator("#asked")).to_contain_text(words)

    def status(self, words: str) -> None:
        """See what is said at the thumb."""
        expect(self.page.locator("#status")).to_contain_text(words)

    def counted(self) -> Counted:
        """What was counted since the last time."""
        found = self.page.evaluate("() => { const was = counted; start(); return was; }")
        return Counted(**found)

    def kept(self, site: str) -> dict[str, Any]:
        """The site as the server tells it."""
        return json.loads(self.page.request.get(f"/sites/{site}/kept.json").text())  # type: ignore[no-any-return]

    def door(self, site: str, tag: str) -> dict[str, Any]:
        """One door as the server tells it."""
        return next(each for each in self.kept(site)["openings"] if each["tag"] == tag)

    def sent(self) -> None:
        """Wait until nothing waits on this phone any more."""
        here = """async () => { const { openDB } = await import("/static/third/idb.js");
          const db = await openDB("sillwright");
          const left = (await db.count("entries")) + (await db.count("photos")); db.close(); return left; }"""
        until = time.monotonic() + 40
        while (left := self.page.evaluate(here)) and time.monotonic() < until:
            time.sleep(0.2)
        assert left == 0

    def close(self) -> None:
        """Put the phone away; the page has complained of nothing but the missing signal."""
        said = [each for each in self.page.said if not any(word in each for word in NO_SIGNAL)]
        self.page.context.close()
        assert not said, said


def new_site(browser: Any, served: Served, name: str) -> str:
    """A site without any door, made by an owner."""
    page = page_of(browser, served, "owner", PHONE)
    page.goto("/sites/new/")
    page.locator("input[name=name]").fill(name)
    page.locator("main form button.main, main form button").last.click()
    page.wait_for_url("**/sites/*-*/")
    site = str(page.url.rstrip("/").rpartition("/")[2])
    page.context.close()
    return site
