"""Pages that were opened on a phone open again without a network, and say since when they are kept."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from .browser import PHONE, browsing, page_of
from .offline import CACHES, KEPT, Yard, is_old, opened, phone, until, visit, without_network

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


@pytest.mark.parametrize("how", ["gone", "offline"])
def test_what_was_opened_opens_without_a_network_and_says_since_when_it_is_kept(yard: Yard, how: str) -> None:
    paths = ["/", yard.site, yard.opening("B1"), yard.opening("B1", "facts/")]
    with phone(yard, "technician") as page:
        visit(page, *paths)
        assert not page.locator(".kept-copy").is_visible()
        online = [opened(page, path) for path in paths]
        without_network(yard, page, how)
        for path, headline in zip(paths, online, strict=True):
            assert opened(page, path) == headline
            assert is_old(page)
            assert "this minute" in page.locator(".kept-copy").inner_text()


def test_the_line_of_a_kept_page_goes_when_it_is_loaded_anew_with_a_network(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        without_network(yard, page)
        opened(page, yard.opening("B1"))
        assert is_old(page)
        yard.start()
        page.get_by_role("link", name="Load it anew").click()
        until(lambda: not page.locator(".kept-copy").is_visible())


def test_a_page_that_was_never_opened_gives_way_to_one_that_tells_what_opens(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, "/", yard.site, yard.opening("B1"))
        until(lambda: page.evaluate("async () => (await indexedDB.databases()).length"))
        page.wait_for_timeout(1000)  # the site is told
        without_network(yard, page)
        assert opened(page, yard.opening("B2")) == "Without a network"
        assert "not kept on this phone" in page.locator("#missing").inner_text()
        listed = page.locator("#kept-sites")
        until(lambda: "B1" in listed.inner_text())
        assert "B2" not in listed.inner_text()
        assert not page.locator("#kept-none").is_visible()
        listed.get_by_role("link", name="B1").click()
        until(lambda: page.locator("h1").inner_text().startswith("B1"))


def test_the_page_in_place_of_others_asks_for_nothing_when_it_is_opened_by_itself(yard: Yard) -> None:
    with phone(yard, None) as page:
        page.goto("/offline/")
        until(lambda: page.locator("#missing").is_hidden())
        assert page.locator("#kept-none").is_visible()
        assert page.locator("[data-may-go]").is_visible()  # this browser promises nothing
        assert page.locator("[data-hindrance]:visible").count() == 0


def test_a_network_that_says_nothing_is_waited_for_four_seconds(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        with yard.silent():
            page.goto(yard.opening("B1"))
            taken = page.evaluate("() => performance.getEntriesByType('navigation')[0].responseStart")
            assert is_old(page)
        assert 3900 < taken < 8000
        opened(page, yard.opening("B1"))
        assert not page.locator(".kept-copy").is_visible()


def test_a_session_that_ended_leaves_what_is_kept_and_no_sign_in_page_comes_in_its_place(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        page.context.clear_cookies()
        page.goto(yard.opening("B1"))
        assert "/accounts/login/" in page.url
        page.wait_for_timeout(1000)
        assert yard.opening("B1") in page.evaluate(KEPT)
        without_network(yard, page)
        assert opened(page, yard.opening("B1")).startswith("B1")
        assert is_old(page)


def test_a_page_that_is_not_shared_any_more_is_not_kept_any_more(yard: Yard) -> None:
    from_friend = yard.served.sessions["stranger"]
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        cookie = {"name": "session", "value": from_friend, "url": yard.served.address}
        page.context.add_cookies([cookie])
        page.goto(yard.opening("B1"))
        assert page.locator("h1").inner_text() == "Nothing here"
        until(lambda: yard.opening("B1") not in page.evaluate(KEPT))


def test_pages_of_accounts_organisations_and_papers_are_never_kept(yard: Yard) -> None:
    never = ["/me/", "/me/keys/", "/organisations/new/", "/accounts/2fa/", yard.opening("B1", "papers/")]
    with phone(yard, "owner") as page:
        visit(page, yard.opening("B1"))
        for path in never:
            page.goto(path)
        page.goto(yard.opening("B1", "papers/"))
        visit(page, "/workbench/")
        kept = page.evaluate(KEPT)
        assert not [each for each in kept if each in never or "paper" in each or "/accounts/" in each]
        without_network(yard, page)
        assert opened(page, "/me/") == "Without a network"
        assert opened(page, "/workbench/") == "Workbench"


def test_the_worker_touches_no_request_of_programs_and_no_part_of_a_file(yard: Yard) -> None:
    ask = """async ([path, options]) => {
      try { return (await fetch(path, options)).status; } catch { return "none"; } }"""
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        page.evaluate(ask, ["/api/me", {}])
        without_network(yard, page)
        assert page.evaluate(ask, ["/api/me", {}]) == "none"
        style = yard.script("page.css")
        assert page.evaluate(ask, [style, {"cache": "no-store"}]) == 200
        assert page.evaluate(ask, [style, {"cache": "no-store", "headers": {"Range": "bytes=0-9"}}]) == "none"
        assert page.evaluate(ask, [yard.opening("B1"), {"method": "POST"}]) == "none"


def test_of_too_many_pages_those_go_that_were_not_looked_at_for_longest(yard: Yard) -> None:
    fill = """async () => { const name = (await caches.keys()).find((each) => each.endsWith("looked"));
      const cache = await caches.open(name);
      for (let n = 0; n < 410; n += 1) await cache.put(`/workbench/${n}`, new Response("x",
        { headers: { "Kept-At": new Date(Date.now() - 1000 * (1000 - n)).toISOString() } })); }"""
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        page.evaluate(fill)
        page.goto(yard.opening("B2"))
        until(lambda: yard.opening("B2") in page.evaluate(KEPT))
        kept = until(lambda: (now := page.evaluate(KEPT)) and len(now) <= 400 and now)
        assert {yard.opening("B1"), yard.opening("B2"), "/workbench/409"} <= set(kept)
        assert "/workbench/0" not in kept


def test_another_person_who_signs_in_finds_nothing_of_the_first_ones_pages(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, "/", yard.opening("B1"))
        cookie = {"name": "session", "value": yard.served.sessions["friend"], "url": yard.served.address}
        page.context.add_cookies([cookie])
        page.goto("/")
        until(lambda: yard.opening("B1") not in page.evaluate(KEPT))
        until(lambda: "/" in page.evaluate(KEPT))
        assert len([each for each in page.evaluate(CACHES) if each.startswith("pages")]) <= 2
        without_network(yard, page)
        assert opened(page, yard.opening("B1")) == "Without a network"
        assert "B1" not in page.locator("#kept-sites").inner_text()


def test_signing_out_forgets_the_pages(yard: Yard) -> None:
    with phone(yard, "advisor") as page:
        visit(page, yard.opening("B1"))
        page.wait_for_timeout(1000)  # the site is told
        page.get_by_role("button", name="Sign out").click()
        page.wait_for_url("**/accounts/login/**")
        until(lambda: not page.evaluate(KEPT))
        without_network(yard, page)
        assert opened(page, yard.opening("B1")) == "Without a network"
        page.wait_for_timeout(500)
        assert "B1" not in page.locator("#kept-sites").inner_text()


def test_signing_out_without_a_network_does_not_happen_and_forgets_nothing(yard: Yard) -> None:
    with phone(yard, "technician") as page:
        visit(page, yard.opening("B1"))
        without_network(yard, page)
        opened(page, yard.opening("B1"))
        page.get_by_role("button", name="Sign out").click()
        page.get_by_text("You are still signed in: signing out needs a network.").wait_for()
        assert not page.locator("#missing").is_visible()
        assert page.locator("#kept-sites").get_by_role("link", name="B1").is_visible()
        for path in ("/me/", yard.opening("B1")):
            page.goto(path)
            page.wait_for_timeout(500)
        assert is_old(page)
        assert yard.opening("B1") in page.evaluate(KEPT)


def test_who_cannot_sign_out_may_take_what_is_kept_off_the_phone_and_signs_out_later(yard: Yard) -> None:
    with phone(yard, "reader") as page:
        visit(page, yard.opening("B1"))
        page.wait_for_timeout(1000)  # the site is told
        without_network(yard, page)
        page.get_by_role("button", name="Sign out").click()
        page.get_by_role("button", name="Take the kept pages off this phone now").click()
        page.get_by_text("They are off this phone.").wait_for()
        assert page.evaluate(KEPT) == []
        assert "B1" not in page.locator("#kept-sites").inner_text()
        assert opened(page, yard.opening("B1")) == "Without a network"
        yard.start()
        page.goto(yard.opening("B1"))
        page.get_by_role("button", name="Sign out").click()
        page.wait_for_url("**/accounts/login/**")


def test_at_an_address_without_https_a_page_says_that_it_has_no_offline_mode(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    from playwright.sync_api import sync_playwright

    from .browser import chromium_path

    yard = Yard(tmp_path_factory.mktemp("plain"), hosts="shop.test")
    yard.start()
    try:
        with sync_playwright() as playwright:
            args = ["--no-sandbox", "--host-resolver-rules=MAP shop.test 127.0.0.1"]
            browser = playwright.chromium.launch(executable_path=chromium_path(), args=args)
            address = f"http://shop.test:{yard.served.port}"
            context = browser.new_context(**PHONE, base_url=address)
            cookie = {"name": "session", "value": yard.served.sessions["technician"], "url": address}
            context.add_cookies([cookie])
            page = context.new_page()
            for path in ("/offline/", yard.site):
                page.goto(path)
                words = page.get_by_text("This address has no offline mode: it is not HTTPS.")
                until(words.is_visible)
            assert not page.get_by_role("button", name="Keep this site on this phone").is_visible()
            browser.close()
    finally:
        yard.stop()


def test_the_line_on_the_home_screen_comes_when_the_browser_offers_it_and_tells_its_answer(yard: Yard) -> None:
    offer = """() => { const event = new Event("beforeinstallprompt", { cancelable: true });
      event.prompt = async () => { window.prompted = true; };
      dispatchEvent(event); return event.defaultPrevented; }"""
    with browsing() as browser:
        page = page_of(browser, yard.served, "technician", PHONE, worker=True)
        page.goto("/")
        page.wait_for_load_state("networkidle")
        assert not page.locator("#install").is_visible()
        assert page.evaluate(offer)
        page.get_by_role("button", name="Put it on the home screen").click()
        assert page.evaluate("() => window.prompted")
        page.evaluate("() => dispatchEvent(new Event('appinstalled'))")
        words = page.locator("#install")
        until(lambda: re.search("agreed to keep|did not promise", words.inner_text()))
