"""What is kept lasts: through an update of the program, an empty battery, and a phone without room."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from .browser import PHONE, chromium_path
from .offline import CACHES, KEPT, Yard, is_old, kill_browser, opened, phone, until, visit, without_network

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


@pytest.fixture(scope="module")
def whole_yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    found = Yard(tmp_path_factory.mktemp("served"))
    yield found
    found.stop()


@pytest.fixture
def yard(whole_yard: Yard) -> Yard:
    whole_yard.start()
    return whole_yard


def _versions(page: Any) -> set[str]:
    return {each.split(" ")[1] for each in page.evaluate(CACHES)}


def _take(page: Any, yard: Yard) -> None:
    """Load a page and use the new version that it tells of."""
    page.goto(yard.site)
    button = page.get_by_role("button", name="Use it")
    button.wait_for(state="visible")
    button.click()
    button.wait_for(state="hidden")


def test_a_new_version_waits_until_somebody_takes_it_and_kept_pages_still_open_afterwards(yard: Yard) -> None:
    paths = ["/", yard.site, yard.opening("B1"), yard.opening("B1", "facts/")]
    with phone(yard, "technician") as page:
        visit(page, *paths)
        (before,) = _versions(page)
        yard.updated()
        page.goto(yard.opening("B1"))
        page.get_by_role("button", name="Use it").wait_for(state="visible")
        page.wait_for_timeout(1000)
        assert before in _versions(page)
        without_network(yard, page, "offline")
        opened(page, yard.opening("B1"))  # it names files of the version that waits
        page.context.set_offline(False)
        _take(page, yard)
        until(lambda: before not in _versions(page))
        without_network(yard, page)
        for path in paths:
            opened(page, path)
            assert is_old(page)


def test_pages_kept_before_an_update_open_with_style_and_script_although_none_could_be_fetched_anew(
    yard: Yard,
) -> None:
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"), yard.opening("B1", "facts/"), yard.site)
        (before,) = _versions(page)
        yard.updated()
        page.goto(yard.site)
        button = page.get_by_role("button", name="Use it")
        button.wait_for(state="visible")
        without_network(yard, page)
        button.click()
        page.wait_for_timeout(2000)
        for path in (yard.opening("B1"), yard.opening("B1", "facts/")):
            opened(page, path)
            assert is_old(page)
        assert before in _versions(page)
        yard.start()
        page.goto(yard.site)  # with a network again it goes on
        until(lambda: before not in _versions(page))
        without_network(yard, page)
        assert opened(page, yard.opening("B1")).startswith("B1")


def test_pages_stay_as_they_are_after_an_update_where_nobody_is_signed_in(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"), yard.site)
        (before,) = _versions(page)
        yard.updated()
        page.goto(yard.site)
        page.get_by_role("button", name="Use it").wait_for(state="visible")
        page.context.clear_cookies()
        page.get_by_role("button", name="Use it").click()
        page.wait_for_timeout(2000)
        without_network(yard, page)
        assert opened(page, yard.opening("B1")).startswith("B1")
        assert is_old(page)
        assert before in _versions(page)


WRITE = """async ([script, site, opening]) => { const { add } = await import(script);
  return (await add({ kind: "observation", site, opening, fact: "door.notes", says: "value", typed: "bent track",
    origin: "measured", by: "technician", on: "2026-11-20", evidence: "", device: "", replaces: [] })).id; }"""
WRITTEN = "async (script) => (await (await import(script)).entries()).map((each) => each.id)"


def test_an_empty_battery_loses_neither_pages_nor_what_was_written(yard: Yard, tmp_path: Path) -> None:
    from playwright.sync_api import sync_playwright

    script = yard.script("offline/outbox.js")
    cookie = {"name": "session", "value": yard.served.sessions["technician"], "url": yard.served.address}
    with sync_playwright() as playwright:

        def browser() -> Any:
            context = playwright.chromium.launch_persistent_context(
                tmp_path,
                executable_path=chromium_path(),
                args=["--no-sandbox"],
                base_url=yard.served.address,
                **PHONE,
            )
            context.add_cookies([cookie])
            page = context.new_page()
            page.said = []
            page.on("console", lambda message: page.said.append(message.text) if message.type == "error" else None)
            return page

        page = browser()
        visit(page, yard.opening("B1"), yard.opening("B1", "facts/"))
        without_network(yard, page)
        page.goto(yard.opening("B1"))
        written = page.evaluate(WRITE, [script, yard.served.site, yard.served.openings["B1"]])
        kill_browser(tmp_path)
        page = browser()
        for path in (yard.opening("B1"), yard.opening("B1", "facts/")):
            opened(page, path)
            assert is_old(page)
        assert written in page.evaluate(WRITTEN, script)
        page.context.close()


def _place(page: Any, yard: Yard) -> str:
    page.goto(yard.site)
    page.get_by_role("button", name="Keep this site on this phone").click()
    page.get_by_role("button", name="Stop").wait_for(state="hidden", timeout=90_000)
    return str(page.locator("#placing").inner_text())


def test_a_site_that_is_kept_opens_whole_without_a_network(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, "/")
        words = _place(page, yard)
        assert f"{len(yard.served.openings)} of {len(yard.served.openings)} openings" in words
        assert "MB" in words
        without_network(yard, page)
        for tag in yard.served.openings:
            for part in ("", "facts/", "photos/"):
                assert tag in opened(page, yard.opening(tag, part)) + page.title()
                assert is_old(page)
        opened(page, f"{yard.site}walk/")
        assert is_old(page)
        page.goto(yard.site)
        until(lambda: "of" in page.locator("[data-how]").inner_text())
        assert "this minute" in words or "minute" in page.locator("[data-how]").inner_text()


def test_keeping_a_site_can_be_stopped_goes_on_from_there_and_is_taken_off_again(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, "/", yard.site)
        page.get_by_role("button", name="Keep this site on this phone").click()
        until(lambda: "Opening 1" in page.locator("#placing [role=status]").inner_text())
        page.get_by_role("button", name="Stop").click()
        until(lambda: "Stopped" in page.locator("#placing [role=status]").inner_text())
        some = len(page.evaluate(KEPT))
        assert (
            "1 of" in page.locator("[data-how]").inner_text() or "2 of" in page.locator("[data-how]").inner_text()
        )
        page.goto(yard.site)  # the page of a kept site goes on by itself
        page.get_by_role("button", name="Take it off this phone").wait_for(state="visible", timeout=90_000)
        assert "6 of 6" in page.locator("[data-how]").inner_text()
        assert len(page.evaluate(KEPT)) > some
        page.get_by_role("button", name="Take it off this phone").click()
        until(lambda: not [each for each in page.evaluate(KEPT) if each.startswith("/openings/")])


def test_what_changed_of_a_kept_site_is_fetched_anew_when_its_page_is_opened(yard: Yard) -> None:
    kept_at = """async (path) => (await caches.match(path, { ignoreVary: true })).headers.get("Kept-At")"""
    with phone(yard, "owner") as page:
        visit(page, "/")
        _place(page, yard)
        before = {tag: page.evaluate(kept_at, yard.opening(tag)) for tag in ("B1", "B2")}
        page.goto(yard.opening("B2", "name/"))
        page.get_by_role("textbox").first.fill("B2a")
        page.get_by_role("button", name="Keep").first.click()
        page.wait_for_load_state("networkidle")
        before["B2"] = page.evaluate(kept_at, yard.opening("B2"))
        page.goto(yard.site)
        until(lambda: page.evaluate(kept_at, yard.opening("B2")) != before["B2"], 60)
        page.get_by_role("button", name="Take it off this phone").wait_for(state="visible", timeout=60_000)
        assert page.evaluate(kept_at, yard.opening("B1")) == before["B1"]


def test_a_phone_without_room_says_so_and_loses_nothing_that_it_had(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, "/", yard.opening("B1"), yard.site)
        before = set(page.evaluate(KEPT))
        used = page.evaluate("async () => (await navigator.storage.estimate()).usage")
        devtools = page.context.new_cdp_session(page)
        devtools.send("Storage.overrideQuotaForOrigin", {"origin": yard.served.address, "quotaSize": used + 60_000})
        page.get_by_role("button", name="Keep this site on this phone").click()
        status = page.locator("#placing [role=status]")
        until(lambda: "no more room" in status.inner_text(), 60)
        assert before <= set(page.evaluate(KEPT))
        without_network(yard, page)
        assert opened(page, yard.opening("B1")).startswith("B1")
        assert is_old(page)
