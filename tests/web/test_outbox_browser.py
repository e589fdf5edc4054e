"""What people write on a phone stays on it until the server has it: no signal, no battery, no session, no room."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import PHONE, browsing, chromium_path, page_of
from .offline import Yard, kill_browser, until, visit

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

WAITING = """async () => { const asked = indexedDB.open("sillwright");
  const db = await new Promise((done) => { asked.onsuccess = () => done(asked.result); });
  const all = db.transaction("entries").objectStore("entries").getAll();
  const found = await new Promise((done) => { all.onsuccess = () => done(all.result); });
  db.close(); return found; }"""


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    found = Yard(tmp_path_factory.mktemp("outbox"))
    found.start()
    yield found
    found.stop()


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as found:
        yield found


@pytest.fixture
def page(browser: Any, yard: Yard) -> Iterator[Any]:
    yard.start()
    found = page_of(browser, yard.served, "technician", PHONE, worker=True)
    yield found
    found.context.close()
    yard.start()


def waiting(page: Any) -> list[dict[str, Any]]:
    """The entries that this browser keeps."""
    found: list[dict[str, Any]] = page.evaluate(WAITING)
    return found


def keep(page: Any, typed: str) -> None:
    """Type an answer on the page of one fact, and keep it."""
    page.get_by_role("textbox", name="Your answer").or_(page.get_by_label("The value, with its unit")).fill(typed)
    page.get_by_role("button", name="Keep it").first.click()


def readings(page: Any, yard: Yard, fact: str, tag: str = "B1") -> list[str]:
    """What the server says of a fact, as typed."""
    told = page.request.get(f"/sites/{yard.served.site}/kept.json").json()
    opening = next(each for each in told["openings"] if each["tag"] == tag)
    return [each.get("typed", each["says"]) for each in opening["facts"].get(fact, {"heads": []})["heads"]]


def test_a_wrong_value_typed_without_a_signal_is_kept_as_typed_and_said_to_be_on_this_phone(
    page: Any, yard: Yard
) -> None:
    visit(page, yard.opening("B1", "facts/door.headroom/"))
    yard.stop()
    keep(page, "as high as a man")
    card = page.locator("#card")
    expect(card).to_contain_text("as high as a man on this phone only, since")
    expect(card).to_contain_text("it cannot be used")
    page.reload()
    expect(page.locator("#card")).to_contain_text("as high as a man on this phone only, since")
    expect(page.locator("#here-bar")).to_contain_text("1 entry on this phone only")
    yard.start()
    until(lambda: not waiting(page), 40)
    expect(page.locator("#here-bar")).to_be_hidden()
    expect(page.locator("#card .now")).to_contain_text("Kept as written, but it cannot be used")
    assert readings(page, yard, "door.headroom") == ["as high as a man"]


def test_the_answer_is_worked_out_on_the_phone_and_says_so(page: Any, yard: Yard) -> None:
    page.goto(yard.opening("D4"))  # the first study of a server takes its time on a machine that is shared
    visit(page, yard.opening("D4"), yard.opening("D4", "facts/"))
    yard.stop()
    card = page.locator('[id="f-use.children"]')
    if card.locator("> summary").count():
        card.locator("> summary").click()
    card.get_by_role("button", name="Yes").click()
    here = page.locator("#answer-here")
    expect(here).to_contain_text("Computed on this phone from what is here, with 1 entry that is not sent:")
    assert here.locator("[data-headline]").inner_text()
    expect(page.locator("#headline")).to_be_hidden()
    page.goto(yard.opening("D4"))
    expect(page.get_by_text("Computed on this phone from what is here, with 1 entry")).to_be_visible()
    page.goto(yard.opening("D4", "facts/"))
    expect(page.locator('[id="f-use.children"]')).to_contain_text("on this phone only")
    page.get_by_role("button", name="Undo").is_hidden()
    yard.start()
    until(lambda: not waiting(page), 40)


def test_a_device_is_added_without_a_signal_and_is_one_of_the_list_once_it_is_sent(page: Any, yard: Yard) -> None:
    visit(page, yard.opening("G1", "list/protection/"))
    yard.stop()
    page.reload()
    new = page.locator("#here-new")
    for number in ("y1", "y2"):
        page.locator(".add").get_by_role("button", name="Photo-eye").click()
        expect(page.locator("#status")).to_contain_text(f"Kept on this phone only: device {number}, Photo-eye")
    page.reload()
    expect(new).to_contain_text("device y2: Photo-eye – on this phone only, since")
    page.get_by_role("button", name="Undo").is_hidden()
    yard.start()
    until(lambda: not waiting(page), 40)
    expect(page.locator('[id="f-protection.y2"] > summary')).to_have_text("Photo-eye y2")
    expect(new).to_be_hidden()
    page.locator(".add").get_by_role("button", name="Light curtain").click()
    expect(page.locator('[id="f-protection.c1"] > summary')).to_have_text("Light curtain c1")
    told = [readings(page, yard, f"protection.{key}.kind", "G1") for key in ("y1", "y2", "c1")]
    assert told == [["photo_eye"], ["photo_eye"], ["light_curtain"]]
    page.get_by_role("button", name="Undo").click()
    expect(page.locator('[id="f-protection.c1"]')).to_have_count(0)
    assert readings(page, yard, "protection.c1", "G1") == ["removed"]


def test_undo_without_a_signal_leaves_no_trace_of_what_nobody_else_has_seen(page: Any, yard: Yard) -> None:
    page.goto(yard.opening("B1", "facts/door.serial/"))
    page.context.set_offline(True)
    keep(page, "serial 18")
    expect(page.locator("#card")).to_contain_text("serial 18 on this phone only")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#status")).to_have_text("Taken back; nobody else had seen it.")
    expect(page.locator("#card")).not_to_contain_text("serial 18")
    assert waiting(page) == []


def test_undo_of_what_may_have_arrived_is_written_and_sent_after_it(page: Any, yard: Yard) -> None:
    page.goto(yard.opening("F1", "facts/door.serial/"))
    yard.stop()
    keep(page, "no. 4")
    expect(page.locator("#card")).to_contain_text("no. 4 on this phone only")
    page.get_by_role("button", name="Undo").click()
    until(lambda: len(waiting(page)) == 2)
    expect(page.locator("#card")).to_contain_text("not known on this phone only")
    yard.start()
    until(lambda: not waiting(page), 40)
    assert readings(page, yard, "door.serial", "F1") == ["unknown"]


def test_a_dead_battery_loses_neither_what_was_kept_nor_what_was_half_typed(
    browser: Any, yard: Yard, tmp_path: Path
) -> None:
    folder = tmp_path / "profile"

    def phone() -> Any:
        context = browser.browser_type.launch_persistent_context(
            folder, executable_path=chromium_path(), args=["--no-sandbox"], base_url=yard.served.address, **PHONE
        )
        session = {"name": "session", "value": yard.served.sessions["technician"], "url": yard.served.address}
        context.add_cookies([session])
        return context.pages[0]

    yard.start()
    page = visit(phone(), yard.opening("B2", "facts/door.headroom/"), yard.opening("B2", "facts/operator.model/"))
    yard.stop()
    page.get_by_label("Your answer").fill("half a mod")
    page.goto(yard.opening("B2", "facts/door.headroom/"))
    keep(page, "9 ft 6 in")
    expect(page.locator("#card")).to_contain_text("9 ft 6 in on this phone only")
    kill_browser(folder)
    page = phone()
    page.goto(yard.opening("B2", "facts/operator.model/"))
    expect(page.get_by_label("Your answer")).to_have_value("half a mod")
    assert [each["typed"] for each in waiting(page)] == ["9 ft 6 in"]
    yard.start()
    until(lambda: not waiting(page), 40)
    assert readings(page, yard, "door.headroom", "B2") == ["9 ft 6 in"]
    page.context.close()


def test_what_waits_stays_when_the_session_ends_and_goes_after_signing_in(
    browser: Any, page: Any, yard: Yard
) -> None:
    page.goto(yard.opening("B2", "facts/door.serial/"))
    page.context.set_offline(True)
    keep(page, "D-77")
    expect(page.locator("#card")).to_contain_text("on this phone only")
    page.context.clear_cookies()
    page.context.set_offline(False)
    bar = page.locator("#here-bar")
    expect(bar.get_by_role("link", name="Sign in to send")).to_be_visible(timeout=30_000)
    assert len(waiting(page)) == 1
    session = yard.served.sessions
    page.context.add_cookies([{"name": "session", "value": session["owner"], "url": yard.served.address}])
    page.goto("/here/")  # somebody else signs in on the same phone
    expect(page.locator("#here-others")).to_have_text("1 entry of Technician: only Technician can send it.")
    page.wait_for_timeout(1500)
    assert [each["author"] for each in waiting(page)] == ["Technician"]
    assert readings(page, yard, "door.serial", "B2") == []
    page.context.add_cookies([{"name": "session", "value": session["technician"], "url": yard.served.address}])
    page.goto("/here/")
    until(lambda: not waiting(page), 40)
    assert readings(page, yard, "door.serial", "B2") == ["D-77"]
    expect(page.locator("#here-headline")).to_have_text("Everything you wrote on this phone is sent.")


def test_two_phones_without_a_signal_on_one_fact_come_to_two_readings(browser: Any, page: Any, yard: Yard) -> None:
    other = page_of(browser, yard.served, "advisor", PHONE, worker=True)
    for each, typed in ((page, "11 ft"), (other, "12 ft")):
        each.goto(yard.opening("B2", "facts/box.offset/"))
        each.context.set_offline(True)
        keep(each, typed)
        expect(each.locator("#card")).to_contain_text("on this phone only")
    for each in (page, other):
        each.context.set_offline(False)
        until(lambda each=each: not waiting(each), 40)  # type: ignore[misc]
    assert sorted(readings(page, yard, "box.offset", "B2")) == ["11 ft", "12 ft"]
    page.goto(yard.opening("B2", "facts/box.offset/"))
    expect(page.locator("#card")).to_contain_text("Different things were written.")
    other.context.close()


def test_what_the_server_refused_is_named_with_its_reason_corrected_and_sent(page: Any, yard: Yard) -> None:
    page.goto(yard.opening("B1", "facts/box.side/"))
    page.context.set_offline(True)
    page.get_by_role("button", name="Right").click()
    expect(page.locator("#card")).to_contain_text("Right on this phone only")
    page.evaluate(POISON, "left\x00")
    page.context.set_offline(False)
    until(lambda: [each for each in waiting(page) if each["state"] == "refused"], 40)
    expect(page.locator("#here-bar")).to_contain_text("1 was not taken.", timeout=20_000)
    page.goto("/here/")
    expect(page.locator("#here-list .wrong")).to_contain_text("Not taken: typed: the sign U+0000 cannot be kept.")
    page.locator("#here-list input").fill("left")
    page.get_by_role("button", name="Correct it and send again").click()
    until(lambda: not waiting(page), 40)
    assert readings(page, yard, "box.side") == ["left"]


POISON = """async (typed) => { const asked = indexedDB.open("sillwright");
  const db = await new Promise((done) => { asked.onsuccess = () => done(asked.result); });
  const tx = db.transaction("entries", "readwrite"); const all = tx.objectStore("entries");
  const got = all.getAll(); await new Promise((done) => { got.onsuccess = done; });
  for (const each of got.result) all.put({ ...each, typed, shown: "" });
  await new Promise((done) => { tx.oncomplete = done; }); db.close(); }"""


def test_entries_saved_to_a_file_are_handed_over_on_another_device(
    browser: Any, page: Any, yard: Yard, tmp_path: Path
) -> None:
    visit(page, "/here/", yard.opening("D3", "facts/box.offset/"))
    page.context.set_offline(True)
    keep(page, "8 ft 1 in")
    expect(page.locator("#card")).to_contain_text("on this phone only")
    page.goto("/here/")
    expect(page.locator("#here-list")).to_contain_text("Box from the jamb: 8 ft 1 in")
    with page.expect_download() as saving:
        page.get_by_role("button", name="Save these entries to a file").click()
    file = tmp_path / saving.value.suggested_filename
    saving.value.save_as(file)
    told = json.loads(file.read_text("utf-8"))
    assert (told["format"], told["person"]["name"]) == ("sillwright-entries/1", "Technician")
    desk = page_of(browser, yard.served, "owner", PHONE, worker=True)
    desk.goto("/here/take-in/")
    desk.get_by_label("File of entries").set_input_files(file)
    desk.get_by_role("button", name="Hand it over").click()
    expect(desk.locator("main")).to_contain_text("Written by Technician, on:")
    expect(desk.locator("main")).to_contain_text("1 entry is kept.")
    assert readings(desk, yard, "box.offset", "D3") == ["8 ft 1 in"]
    desk.context.close()


PUT = """async () => { const asked = indexedDB.open("sillwright");
  const db = await new Promise((done) => { asked.onsuccess = () => done(asked.result); });
  const tx = db.transaction("notes", "readwrite");
  const end = new Promise((done) => { tx.oncomplete = () => done(false); tx.onabort = () => done(true); });
  tx.objectStore("notes").put(1, "probe"); const full = await end; db.close(); return full; }"""


def test_a_phone_without_room_says_so_and_offers_a_file(browser: Any, yard: Yard, tmp_path: Path) -> None:
    yard.start()
    args = ["--no-sandbox", "--disable-features=StaticStorageQuota"]
    small = browser.browser_type.launch(executable_path=chromium_path(), args=args)
    page = page_of(small, yard.served, "technician", PHONE, worker=True)
    page.goto(yard.opening("B2", "facts/operator.model/"))
    page.wait_for_load_state("networkidle")
    devtools = page.context.new_cdp_session(page)
    devtools.send("Storage.overrideQuotaForOrigin", {"origin": yard.served.address, "quotaSize": 1})
    until(lambda: page.evaluate(PUT), 90)  # the browser asks how much room there is now and then
    page.context.set_offline(True)
    keep(page, "class K")
    expect(page.locator("#card [data-wrong]")).to_contain_text("There is no room on this phone, and no network.")
    expect(page.get_by_label("Your answer")).to_have_value("class K")
    with page.expect_download() as saving:
        page.locator("#full").get_by_role("button").click()
    saving.value.save_as(tmp_path / "saved.json")
    saved = json.loads((tmp_path / "saved.json").read_text("utf-8"))
    assert [each["typed"] for each in saved["entries"]] == ["class K"]
    page.context.set_offline(False)
    keep(page, "class K")
    expect(page.locator("#status")).to_contain_text("Kept: class of the operator, class K.")
    small.close()
