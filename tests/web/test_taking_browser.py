"""Taking down facts in a real browser on a phone: taps, the pad of keys, drafts, undo, without loading anew."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import DESK, PHONE, Served, page_of
from .offline import until
from .walking import PICTURE

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


@pytest.fixture
def page(browser: Any, served: Served) -> Iterator[Any]:
    found = page_of(browser, served, "technician", PHONE)
    yield found
    said = found.said
    found.context.close()
    assert not said


def _open(page: Any, served: Served, tag: str, more: str = "facts") -> None:
    page.goto(f"/openings/{served.openings[tag]}/{more}/")


def _card(page: Any, fact: str) -> Any:
    return page.locator(f'[id="f-{fact}"]')


def test_one_tap_says_it_and_the_page_goes_on_without_loading_anew(page: Any, served: Served) -> None:
    _open(page, served, "D4")
    page.evaluate("() => { window.still = true; }")
    card = _card(page, "use.children")
    card.get_by_label("Told", exact=True).check()
    card.get_by_role("button", name="Yes").click()
    expect(page.locator("#status")).to_have_text("Kept: children near it, yes.")
    expect(_card(page, "use.children")).to_contain_text("Children near it: yes")
    expect(_card(page, "use.children")).to_contain_text("told, Technician")
    assert page.evaluate("() => window.still") is True


def test_the_sentence_and_the_drawing_change_at_once(page: Any, served: Served) -> None:
    _open(page, served, "F1")
    before = page.locator("#headline").inner_text()
    _open(page, served, "F1", "facts/door.clear_width")
    assert "6 ft 1 in" in page.locator("#map").inner_html()
    field = page.get_by_label("The value, with its unit")
    field.fill("7 ft 2 in")
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.locator("#status")).to_contain_text("7 ft 2 in")
    assert "7 ft 2 in" in page.locator("#map").inner_html()
    expect(page.locator("#history")).to_contain_text("Instead of “6 ft 1 in”.")
    assert before


def test_the_pad_writes_feet_inches_and_sixteenths_and_reads_them_back(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/door.headroom")
    field = page.get_by_label("The value, with its unit")
    field.focus()
    for key in ("1", "0", "ft", "6", "1/2"):
        page.locator(f'.keys [data-key="{key}"]').click()
    expect(field).to_have_value("10 ft 6 1/2 in")
    expect(page.locator(".readback")).to_have_text("10 ft 6-1/2 in = 3.213 m")
    page.locator('.keys [data-key="13/16"]').click()
    expect(field).to_have_value("10 ft 6 13/16 in")
    for _ in range(2):
        page.locator('.keys [data-key="back"]').click()
    expect(field).to_have_value("10 ft")
    page.locator('.keys [data-key="3"]').click()
    page.locator('.keys [data-key="in"]').click()
    expect(field).to_have_value("10 ft 3 in")
    page.locator('.keys [data-key="clear"]').click()
    expect(field).to_have_value("")


def test_the_units_change_in_place_and_a_bare_number_of_a_laser_gets_its_metres(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/box.offset")
    field = page.get_by_label("The value, with its unit")
    field.fill("10 ft 6 1/2 in")
    page.locator('.keys [data-key="other"]').click()
    expect(field).to_have_value("3.213 m")
    field.fill("3.204")
    expect(page.locator(".readback").first).to_contain_text("3.204 m")  # as it will be kept, before it is
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.locator("#status")).to_contain_text("Kept: box from the jamb, 10 ft 6-1/8 in.")
    expect(page.locator("#history")).to_contain_text("written “3.204 m”")


def test_the_pad_works_by_keyboard_and_gives_the_letters_back(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/door.side_room.left")
    field = page.get_by_label("The value, with its unit")
    field.focus()
    assert field.get_attribute("inputmode") == "none"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(field).to_have_value("7")
    page.locator('.keys [data-key="letters"]').click()
    expect(page.locator(".keys")).to_have_count(0)
    assert field.get_attribute("inputmode") is None


def test_a_mistake_is_told_while_it_is_typed_and_still_kept(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/door.side_room.right")
    field = page.get_by_label("The value, with its unit")
    field.fill("wide")
    expect(page.locator(".readback.is-wrong")).to_contain_text("not a quantity; write for example")
    field.fill("10.6 ft")
    expect(page.locator(".readback.is-doubtful")).to_contain_text("10 ft 6 in / 10 ft 7-3/16 in")
    field.fill("wide")
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.locator("#card")).to_contain_text("Kept as written, but it cannot be used")
    expect(page.get_by_label("The value, with its unit")).to_have_value("wide")


def test_what_is_typed_survives_a_reload_and_is_forgotten_once_kept(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/door.serial")
    page.get_by_label("Your answer").fill("half a ser")
    page.reload()
    expect(page.get_by_label("Your answer")).to_have_value("half a ser")
    expect(page.locator("[data-wrong]")).to_have_text("Typed here before, not kept yet.")
    page.get_by_label("Your answer").fill("serial 17")
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.locator("#status")).to_contain_text("Kept: serial of the door, serial 17.")
    page.reload()
    expect(page.get_by_label("Your answer")).to_have_value("")


def test_without_a_connection_what_was_given_waits_on_the_phone_and_the_page_says_so(
    page: Any, served: Served
) -> None:
    _open(page, served, "B1", "facts/operator.model")
    page.context.set_offline(True)
    page.get_by_label("Your answer").fill("class J")
    page.get_by_role("button", name="Keep it").first.click()
    expect(page.locator("#status")).to_have_text("Kept on this phone only: Class of the operator, class J.")
    expect(page.locator("#card")).to_contain_text("on this phone only, since")
    page.context.set_offline(False)
    expect(page.locator("#card .now")).to_contain_text("class J")
    expect(page.locator("#card")).not_to_contain_text("on this phone only")
    page.said.clear()  # the browser itself notes that a request failed


def test_undo_is_one_tap_after_each_answer(page: Any, served: Served) -> None:
    _open(page, served, "D3", "facts/operator.kind")
    page.get_by_role("button", name="Jackshaft").click()
    expect(page.locator("#card .now")).to_contain_text("Jackshaft")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#card .now")).to_contain_text("Hoist")
    expect(page.locator("#status")).to_have_text("Kept: kind of operator, Hoist.")


def test_of_two_readings_one_is_taken_by_one_tap(page: Any, served: Served) -> None:
    _open(page, served, "D3")
    card = _card(page, "door.leaf_mass")
    expect(card).to_contain_text("Different things were written.")
    card.get_by_role("button", name="Take “1,120 lb”").click()
    expect(_card(page, "door.leaf_mass")).to_contain_text("Weight of the leaf: 1,120 lb")
    expect(page.locator("#status")).to_contain_text("Kept: weight of the leaf, 1,120 lb.")


def test_a_row_opens_into_its_card_and_can_be_changed_there(page: Any, served: Served) -> None:
    _open(page, served, "B1")
    row = _card(page, "door.occupancy")
    row.locator("summary").first.click()
    row.get_by_role("button", name="Residential").click()
    expect(_card(page, "door.occupancy").locator("> summary")).to_contain_text("Occupancy: Residential")
    assert _card(page, "door.occupancy").count() == 1


def test_a_group_is_fetched_when_it_is_opened(page: Any, served: Served) -> None:
    _open(page, served, "B1")
    assert _card(page, "door.bottom.channel").count() == 0
    page.get_by_text("The bottom edge", exact=True).click()
    row = _card(page, "door.bottom.channel")
    row.locator("summary").first.click()
    row.get_by_role("button", name="C-channel").click()
    expect(_card(page, "door.bottom.channel").locator("> summary")).to_contain_text("C-channel")


def test_the_next_question_is_one_tap_away_and_gets_the_focus(page: Any, served: Served) -> None:
    _open(page, served, "B2")
    seen = []
    for _ in range(3):
        page.get_by_role("link", name="Next question").click()
        seen.append(page.evaluate("() => document.activeElement.closest('.question').id"))
    assert len(set(seen)) == 3
    top = page.evaluate("() => document.activeElement.getBoundingClientRect().top")
    assert 0 <= top < 200


def test_where_a_fact_came_from_last_is_remembered_for_its_card(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/door.lift")
    page.get_by_label("Photo", exact=True).check()
    page.get_by_role("button", name="Vertical lift").click()
    expect(page.locator("#card .now")).to_contain_text("seen on a photo")
    page.reload()
    expect(page.get_by_label("Photo", exact=True)).to_be_checked()


def test_two_quick_taps_write_one_answer(page: Any, served: Served) -> None:
    _open(page, served, "B1", "facts/door.mounted")
    page.get_by_role("button", name="Outside", exact=True).dblclick()
    expect(page.locator("#card .now")).to_contain_text("Outside")
    assert page.locator("#history li").count() == 2


@pytest.mark.parametrize("signal", [True, False])
def test_a_photo_taken_at_a_fact_is_evidence_of_the_next_value_kept_there(
    page: Any, served: Served, signal: bool
) -> None:
    fact, value = ("box.side", "Left") if signal else ("lead.end", "Right")
    picture = {"name": "door.png", "mimeType": "image/png", "buffer": PICTURE}
    _open(page, served, "G1", f"facts/{fact}")
    page.context.set_offline(not signal)
    page.locator("#photo-of").set_input_files(picture)
    expect(page.locator("[data-shown]")).to_contain_text("goes as evidence with the next value")
    page.get_by_role("button", name=value, exact=True).click()
    expect(page.locator("[data-shown]")).to_be_hidden()
    expect(page.locator('[name="evidence"]')).to_have_value("")
    page.context.set_offline(False)
    told = until(lambda: _sent(page, served, "G1", fact))
    (photo,) = [each for each in told["photos"] if each["fact"] == fact and each["state"] == "kept"]
    assert [each["evidence"] for each in told["facts"][fact]["heads"]] == [f"photo {photo['id']}"]
    page.reload()
    page.locator("#card .now").get_by_role("link", name="Shown by a photo").click()
    assert page.url.endswith(f"/photos/{photo['id']}/")
    page.wait_for_load_state("networkidle")
    assert not [said for said in page.said if "style" in said], "the browser's own page of a photo is laid out"
    page.said.clear()  # what a browser says without a signal


def _sent(page: Any, served: Served, tag: str, fact: str) -> Any:
    """A door as the server tells it once a fact of it and a photo of that have arrived."""
    kept = page.request.get(f"/sites/{served.site}/kept.json").json()
    (door,) = [each for each in kept["openings"] if each["tag"] == tag]
    there = any(each["fact"] == fact and each["state"] == "kept" for each in door["photos"])
    return door if there and fact in door["facts"] else None


def test_the_pages_work_without_a_script(browser: Any, served: Served) -> None:
    plain = browser.new_context(**PHONE, java_script_enabled=False, base_url=served.address)
    plain.add_cookies([{"name": "session", "value": served.sessions["technician"], "url": served.address}])
    page = plain.new_page()
    page.goto(f"/openings/{served.openings['G1']}/facts/")
    card = _card(page, "door.closing_speed")
    card.get_by_label("The value, with its unit").fill("9 in/s")
    assert card.locator(".unit-keys").is_hidden()
    card.get_by_role("button", name="Keep it").first.click()
    expect(page.locator("#status")).to_have_text("Kept: closing speed, 9 in/s.")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#status")).to_have_text("Kept: closing speed, not known.")
    plain.close()


def test_on_a_desk_the_drawing_stands_beside_the_questions_and_points(browser: Any, served: Served) -> None:
    page = page_of(browser, served, "technician", DESK)
    _open(page, served, "B2")
    map_, card = page.locator("#map").bounding_box(), page.locator(".question.ask").first.bounding_box()
    assert map_["x"] < card["x"]
    _card(page, "door.leaf_mass").get_by_label("The value, with its unit").focus()
    assert page.locator("#map .pointed").get_attribute("data-place") == "leaf"
    page.context.close()
