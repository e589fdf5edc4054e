"""A walk in a real browser on a phone: ten doors without a signal, two phones at one site, undo, leaving."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import Served
from .offline import until
from .walking import Counted, Walker, new_site

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


@pytest.fixture
def walker(browser: Any, served: Served) -> Iterator[Walker]:
    found = Walker(browser, served, "technician")
    yield found
    found.close()


def _first(walker: Walker, tag: str = "B1") -> Counted:
    """A first door, taken down without anything to compare it with."""
    walker.page.locator("#new-tag").fill(tag)
    walker.tap("new-door")
    walker.asked("What kind of leaf")
    walker.tap("say-sectional")
    walker.asked("How wide")
    walker.typed("1", "2", "ft", "6", "in")
    walker.asked("How high")
    walker.typed("1", "4", "ft")
    walker.tap("say-jackshaft")
    walker.tap("say-edge")
    walker.asked("How many wires")
    walker.tap("say-2")
    _tried_shot_and_said(walker, "watch")
    return walker.counted()


def _tried_shot_and_said(walker: Walker, urgency: str) -> None:
    walker.asked("let go of the close control")
    walker.tap("say-closes_by_tap")
    walker.asked("All facts of the walk are taken down.")
    for shot in ("plate", "bottom_left", "inside"):
        walker.photo(shot)
    walker.tap(f"urgency-{urgency}")
    expect(walker.page.locator("#state")).to_have_text("done")


def _as_before(walker: Walker, tag: str, urgency: str = "quote") -> Counted:
    """A door as the one before, except its width."""
    expect(walker.page.locator("#new-door")).to_have_text(f"New door: {tag}")
    walker.tap("new-door")
    walker.asked("except what you say here")
    walker.tap("same")
    walker.asked("How wide")
    walker.typed("1", "0", "ft", "8", "in")
    walker.asked("How high")
    walker.tap("same-measured")
    _tried_shot_and_said(walker, urgency)
    return walker.counted()


def _told(door: dict[str, Any], fact: str) -> list[tuple[str, str, str]]:
    gone = {name for register in door["facts"].values() for name in register["awaited"]}
    heads = door["facts"].get(fact, {"heads": []})["heads"]
    standing = [each for each in heads if each["id"] not in gone]
    return [(each["says"], each.get("typed", ""), each.get("origin", "")) for each in standing]


def test_ten_doors_without_a_signal_take_three_minutes_each_and_arrive_once(
    browser: Any, served: Served, walker: Walker
) -> None:
    site = new_site(browser, served, "Ten Doors")
    walker.open(site).signal(False)
    first = _first(walker)
    assert first.touches <= 25, first
    assert first.seconds <= 180, first
    for number in range(2, 11):
        door = _as_before(walker, f"B{number}", "stop" if number == 7 else "quote")
        assert door.touches <= 14, door
        assert door.seconds <= 180, door
        assert (door.fields, door.photos) == (1, 3)
    walker.page.locator("#remark").fill("Wheels squeal.\nAsk the night shift")
    walker.page.get_by_role("button", name="Keep it").last.tap()
    walker.status("B10: remark kept")
    walker.signal(True)
    walker.sent()
    told = walker.kept(site)
    assert [each["tag"] for each in told["openings"]] == [f"B{number}" for number in range(1, 11)]
    for each in told["openings"]:
        assert all(len(register["heads"]) == 1 for register in each["facts"].values()), each["tag"]
        assert len(each["photos"]) == 3
        assert _told(each, "protection.e1.kind") == [("value", "sensing_edge", "measured")]
        assert _told(each, "protection.e1.wires") == [("value", "2", "measured")]
    seventh, tenth = walker.door(site, "B7"), walker.door(site, "B10")
    assert [(each["says"], each["words"]) for each in seventh["remarks"]] == [("urgency", "stop")]
    said = [(each["says"], each["words"]) for each in tenth["remarks"]]
    assert ("remark", "Wheels squeal.\nAsk the night shift") in said
    assert _told(seventh, "door.clear_width") == [("value", "10 ft 8 in", "measured")]
    assert _told(seventh, "door.clear_height") == [("value", "14 ft", "measured")]


def test_two_phones_without_a_signal_lose_nothing_and_show_where_they_differ(
    browser: Any, served: Served, walker: Walker
) -> None:
    site = new_site(browser, served, "Two Phones")
    walker.open(site)
    walker.page.locator("#new-tag").fill("B8")
    walker.tap("new-door")
    walker.asked("What kind of leaf")
    walker.sent()
    other = Walker(browser, served, "advisor").open(site, f"#door={walker.door(site, 'B8')['id']}")
    for each in (walker, other):
        each.signal(False)
        each.asked("What kind of leaf")
    walker.tap("say-sectional")
    other.tap("say-rolling")
    walker.tap("urgency-watch")
    other.tap("urgency-stop")
    other.page.locator("#remark").fill("Cable hangs")
    other.page.get_by_role("button", name="Keep it").last.tap()
    other.status("remark kept")
    for each in (walker, other):
        each.page.evaluate("() => { location.hash = ''; }")
        each.tap("new-door")
        each.asked("As B8, except what you say here.")
    for each in (walker, other):
        each.signal(True)
        each.sent()
    told = walker.kept(site)
    assert [each["tag"] for each in told["openings"]] == ["B8", "B9", "B9 (2)"]
    assert sorted(_told(told["openings"][0], "door.kind")) == [
        ("value", "rolling", "measured"),
        ("value", "sectional", "measured"),
    ]
    said = sorted((each["words"], each["author"]) for each in told["openings"][0]["remarks"])
    assert said == [("Cable hangs", "Advisor"), ("stop", "Advisor"), ("watch", "Technician")]
    walker.page.goto(f"/sites/{site}/walk/#door={told['openings'][0]['id']}")
    walker.page.reload()
    expect(walker.page.locator("#h-urgency")).to_contain_text("stop today")
    expect(walker.page.locator("[id='row-door.kind']")).to_contain_text("two readings")
    expect(walker.page.get_by_text("stop today – Advisor")).to_be_visible()
    expect(walker.page.get_by_text("watch – Technician")).to_be_visible()
    expect(walker.page.get_by_text("Advisor wrote here").first).to_be_visible()
    walker.tap("row-door.kind")
    expect(walker.page.locator(".now")).to_contain_text("Rolling curtain – Advisor")
    walker.tap("say-rolling")
    walker.sent()
    assert _told(walker.door(site, "B8"), "door.kind") == [("value", "rolling", "measured")]
    other.close()


def test_what_one_tap_wrote_goes_away_with_one_tap_before_and_after_it_was_sent(
    browser: Any, served: Served, walker: Walker
) -> None:
    site = new_site(browser, served, "Taken Back")
    walker.open(site).signal(False)
    walker.page.locator("#new-tag").fill("B1")
    walker.tap("new-door")
    walker.tap("say-sectional")
    walker.status("B1: Kind of leaf – Sectional: panels on tracks")
    walker.tap("undo")
    walker.status("Taken back.")
    walker.asked("What kind of leaf")
    walker.tap("say-rolling")
    walker.asked("How wide")
    walker.signal(True)
    walker.sent()
    walker.tap("row-protection")
    walker.tap("say-both")
    walker.sent()
    walker.tap("undo")
    walker.status("Taken back.")
    walker.sent()
    door = walker.door(site, "B1")
    assert _told(door, "door.kind") == [("value", "rolling", "measured")]
    assert [_told(door, f"protection.{key}.kind") for key in ("e1", "y1")] == [[], []]
    assert _told(door, "protection.e1") == [("removed", "", "")]
    walker.tap("urgency-stop")
    walker.sent()
    walker.tap("undo")
    walker.status("Taken back.")
    walker.sent()
    assert not walker.door(site, "B1")["remarks"]


def test_nobody_leaves_before_it_is_said_what_is_missing_and_why(
    browser: Any, served: Served, walker: Walker
) -> None:
    walker.open(served.site, "#leave")
    page = walker.page
    expect(page.locator(".headline")).to_have_text("Something is missing at 6 of 6 doors.")
    part = page.locator(f"section:has(#l-{served.openings['D4']})")
    expect(part).to_contain_text("D4: a temporary part is in place and not booked out: a resistor across the edge")
    expect(part).to_contain_text("A temporary part cannot be left out")
    part.get_by_text("Left out on purpose").tap()
    walker.tap(f"left-{served.openings['D4']}-all-1")
    walker.status("(locked)")
    expect(part.get_by_text("missing:")).to_have_count(0)
    expect(part).to_contain_text("not booked out")
    expect(page.locator(".headline")).to_have_text("Something is missing at 6 of 6 doors.")
    other = page.locator(f"section:has(#l-{served.openings['F1']})")
    other.get_by_text("Left out on purpose").tap()
    walker.tap(f"left-{served.openings['F1']}-all-0")
    expect(page.locator(".headline")).to_have_text("Something is missing at 5 of 6 doors.")
    walker.sent()
    left = [each for each in walker.door(served.site, "F1")["remarks"] if each["says"] == "left"]
    assert {each["words"] for each in left} == {"no lift"}
    assert {"plate", "bottom_left", "inside", "urgency"} <= {each["about"] for each in left}
    walker.tap("undo")
    expect(page.locator(".headline")).to_have_text("Something is missing at 6 of 6 doors.")


def test_what_is_typed_and_not_kept_is_there_again_after_the_phone_went_out(
    browser: Any, served: Served, walker: Walker
) -> None:
    walker.open(served.site, f"#door={served.openings['G1']}")
    walker.tap("row-door.leaf_length")
    walker.page.locator('.pad [data-key="2"]').tap()
    walker.page.locator("#remark").fill("half a sente")
    walker.page.reload()
    walker.tap("row-door.leaf_length")
    expect(walker.page.locator("#length")).to_have_value("2")
    expect(walker.page.locator("#remark")).to_have_value("half a sente")
    walker.tap("keep")
    walker.status("Write the unit too")
    walker.typed("4", "ft")
    walker.status("G1: Leaf length – 24 ft")


def test_a_person_may_raise_what_the_study_says_and_not_lower_it(
    browser: Any, served: Served, walker: Walker
) -> None:
    page = walker.page
    page.goto(f"/openings/{served.openings['B2']}/")
    walker.open(served.site, f"#door={served.openings['B2']}")
    expect(page.get_by_text("The study says: quote.")).to_be_visible()
    expect(page.locator("#urgency-watch")).to_be_disabled()
    expect(page.locator("#urgency-none")).to_be_disabled()
    walker.tap("urgency-stop")
    expect(page.locator("#h-urgency")).to_contain_text("stop today")


def test_a_length_is_read_back_without_a_signal_before_it_is_kept(
    browser: Any, served: Served, walker: Walker
) -> None:
    walker.open(served.site, f"#door={served.openings['G1']}")
    _has_what_it_needs(walker)
    walker.signal(False)
    walker.tap("row-door.leaf_length")
    page, said = walker.page, walker.page.locator("#length-read")
    for typed, words in [
        ("10' 6 1/2''", "10 ft 6-1/2 in = 3.213 m"),
        ("3.204 m", "10 ft 6-1/8 in = 3.204 m"),
        ("10.6 ft", "two ways; here as 10 ft 7-3/16 in = 3.231 m"),
        ("1000 ft", "This cannot be used here"),
    ]:
        page.locator("#length").fill(typed)
        expect(said).to_contain_text(words)
    page.locator("#length").fill("10")
    expect(said).to_have_text("")


def test_a_door_is_moved_in_the_walk_without_a_signal_and_moved_back_by_undo(
    browser: Any, served: Served, walker: Walker
) -> None:
    site = new_site(browser, served, "Moved")
    walker.open(site)
    for tag in ("B1", "B2", "B3"):
        walker.page.locator("#new-tag").fill(tag)
        walker.tap("new-door")
        expect(walker.page.locator("h1")).to_contain_text(tag)
        walker.page.get_by_role("link", name="All doors").tap()
    walker.sent()
    doors = walker.page.locator(".door strong")
    expect(doors).to_have_text(["B1", "B2", "B3"])
    walker.signal(False)
    doors.last.tap()
    walker.tap("earlier")
    walker.status("B3: after B1")
    walker.page.locator("#after").select_option(label="first of all")
    walker.tap("move")
    walker.status("B3: first of all")
    walker.page.get_by_role("link", name="All doors").tap()
    expect(doors).to_have_text(["B3", "B1", "B2"])
    walker.tap("undo")
    expect(doors).to_have_text(["B1", "B3", "B2"])
    walker.signal(True)
    walker.sent()
    told = sorted(walker.kept(site)["openings"], key=lambda each: each["position"])
    assert [each["tag"] for each in told] == ["B1", "B3", "B2"]


LISTED = """() => Object.fromEntries([...document.querySelectorAll(".evening section")].flatMap((part) => {
  const weight = part.querySelector("h2").innerText;
  return [...part.querySelectorAll("[data-tag]")].map((each) => [each.dataset.tag, weight]);
}))"""
HEAVIEST = ("Stop today", "Quote", "Watch", "Nothing urgent, or not known yet")


def test_the_list_of_the_evening_comes_without_a_signal_and_is_no_heavier_than_the_study(
    browser: Any, served: Served, walker: Walker
) -> None:
    page = walker.page
    walker.open(served.site)
    _has_what_it_needs(walker)
    walker.signal(False)
    expect(page.locator("#evening")).to_have_attribute("href", "#evening")
    walker.tap("evening")
    expect(page.locator("h1")).to_have_text("List of the evening")
    expect(page.locator(".evening")).to_contain_text("Worked out on this phone: ")
    expect(page.locator(".evening").get_by_text("Not studied yet.")).to_have_count(0)
    here = page.evaluate(LISTED)
    page.locator("#e-stop ~ [data-tag] a, [data-tag] a").first.tap()
    walker.tap("urgency-stop")
    page.goto(f"/sites/{served.site}/walk/#evening")
    expect(page.locator("#e-stop ~ [data-tag]").first).to_contain_text("stop today – Technician")
    walker.signal(True)
    by_the_study = until(lambda: _listed_by_the_study(page, served), 90)
    assert set(here) == set(by_the_study)
    assert len(set(here.values())) > 1
    for tag, weight in here.items():
        assert HEAVIEST.index(weight) >= HEAVIEST.index(by_the_study[tag]), tag


def _listed_by_the_study(page: Any, served: Served) -> Any:
    """The server's list, once every door of it is studied."""
    page.goto(f"/sites/{served.site}/evening/")
    return None if page.locator(".notice").count() else page.evaluate(LISTED)


def _has_what_it_needs(walker: Walker) -> None:
    """The worker has the page, and the phone has the rules."""
    until(lambda: walker.page.evaluate("() => Boolean(navigator.serviceWorker.controller)"))
    until(lambda: walker.page.evaluate("async () => Boolean(await caches.match('/offline/book.json'))"))
    until(lambda: walker.page.evaluate("async () => Boolean(await caches.match(location.pathname))"))


SIZES = """() => {
  const pressed = ["button", "a", "summary", "label.button", "input:not([type=file])"];
  const all = pressed.flatMap((each) => [...document.querySelectorAll(`#walk ${each}, #walk-thumb ${each}`)]);
  return all.filter((each) => each.offsetParent).map((each) => {
    const { width, height } = each.getBoundingClientRect();
    const main = each.matches(".main, .choices button, .four button, .shot, .tall");
    return [each.id || each.className || each.textContent.trim(), main, Math.round(height), Math.round(width)];
  });
}"""


@pytest.mark.parametrize("text", ["100%", "200%"])
def test_main_keys_are_large_others_large_enough_and_nothing_stands_out_of_the_page(
    browser: Any, served: Served, walker: Walker, text: str
) -> None:
    site = new_site(browser, served, f"Sizes {text}")
    walker.open(site)
    page = walker.page
    page.evaluate(f"() => {{ document.documentElement.style.fontSize = '{text}'; }}")
    for name in ("list", "kind", "length", "like", "leave"):
        if name == "kind":
            page.locator("#new-tag").fill("B1")
            walker.tap("new-door")
        elif name == "length":
            walker.tap("say-sectional")
            expect(page.locator(".pad .keys")).to_have_count(1)
        elif name == "like":
            walker.tap("new-door")
            expect(page.locator("#same")).to_have_count(1)
        elif name == "leave":
            page.evaluate("() => { location.hash = 'leave'; }")
            expect(page.locator(".headline")).to_have_count(1)
        assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth"), name
        found = page.evaluate(SIZES)
        assert any(is_main for _key, is_main, _height, _width in found), name
        for key, is_main, height, width in found:
            assert height >= (88 if is_main else 48), (name, key, height)
            assert width >= 48, (name, key, width)


MARKED = r"""async () => {
  const loaded = performance.getEntriesByType("resource").map((each) => each.name);
  const { redraw } = await import(loaded.find((name) => /walk\/now[.\w]*\.js$/.test(name)));
  const field = document.getElementById("new-tag");
  field.focus();
  field.setSelectionRange(1, 3);
  await redraw();
  const now = document.activeElement;
  return [now === field, now.id, now.selectionStart, now.selectionEnd];
}"""


def test_letters_that_are_marked_stay_marked_when_the_list_is_drawn_anew(
    browser: Any, served: Served, walker: Walker
) -> None:
    walker.open(new_site(browser, served, "Marked"))
    walker.page.locator("#new-tag").fill("Gate 4")
    assert walker.page.evaluate(MARKED) == [False, "new-tag", 1, 3]
