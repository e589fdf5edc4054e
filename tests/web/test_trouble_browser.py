"""A call on a phone: one hand, the way back, and without a signal the questions that keep people from harm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest

from .offline import Yard, opened, phone, until, without_network

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]

SAFE = "harm=hurt:no&harm=hanging:no&harm=only_way_out:no&harm=closed:yes&harm=fire_door:no"
FAR = f"/trouble/?{SAFE}&left=1&who=owner&symptom=CALL-01&t=1700000000"


@pytest.fixture(scope="module")
def whole_yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    found = Yard(tmp_path_factory.mktemp("served"))
    yield found
    found.stop()


@pytest.fixture
def yard(whole_yard: Yard) -> Yard:
    whole_yard.start()
    return whole_yard


def visited(page: Any, path: str) -> None:
    """Open a page, and wait until what opens without a network is on the phone."""
    page.goto(path)
    until(lambda: page.evaluate("async () => Boolean(await caches.match('/trouble/first/'))"))
    until(lambda: page.evaluate("() => Boolean(navigator.serviceWorker.controller)"))


def test_a_call_goes_from_answer_to_answer_and_back_without_loss(yard: Yard) -> None:
    with phone(yard, None) as page:
        page.goto("/trouble/")
        headlines = []
        for answer in ("No", "No", "No", "Yes", "No"):
            headlines.append(page.locator("h1, #question").last.inner_text())
            page.get_by_role("link", name=answer, exact=True).click()
        assert page.locator("h1").inner_text() == "Who is at the door?"
        assert len(set(headlines)) == 5
        for headline in reversed(headlines):
            page.go_back()
            assert page.locator("h1, #question").last.inner_text() == headline
        for _step in headlines:
            page.go_forward()
        assert page.locator("h1").inner_text() == "Who is at the door?"


def test_the_answers_stand_where_a_thumb_reaches_them(yard: Yard) -> None:
    with phone(yard, None) as page:
        page.goto("/trouble/")
        boxes = [each.bounding_box() for each in page.locator(".answers .button").all()]
        assert all(each and each["y"] + each["height"] <= 844 and each["height"] >= 88 for each in boxes)
        assert boxes[0]
        assert boxes[0]["y"] > 300  # the lower half or so


def test_without_a_network_the_questions_open_to_whoever_has_opened_anything_before(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, "/workbench/")
        without_network(yard, page)
        assert opened(page, "/trouble/first/") == "First: nobody gets hurt"
        assert page.locator("fieldset:visible").count() == 1
        page.get_by_label("No", exact=True).first.check()
        until(lambda: page.locator("fieldset:visible").count() == 2)
        page.locator("[data-question=hanging]").get_by_label("Yes").check()
        until(lambda: "Nobody touches the control" in page.locator("#first-say").inner_text())
        assert page.locator("#first-say .stop").is_visible()


def test_an_answer_that_is_given_without_a_network_is_not_lost_and_opens_with_the_next_one(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, FAR)
        without_network(yard, page)
        page.get_by_role("link", name="No.", exact=True).click()
        until(lambda: page.locator("h1").inner_text() == "First: nobody gets hurt")
        until(lambda: "kept on this phone" in page.locator("#first-status").inner_text())
        assert page.locator("[data-question=hurt]").get_by_label("No", exact=True).is_checked()
        assert page.locator("[name=who][value=owner]").is_checked()
        assert page.locator("#symptom").input_value() == "CALL-01"
        page.locator("[data-question=fire_door]").get_by_label("Yes").check()
        yard.start()
        until(lambda: page.locator("h1").inner_text() != "First: nobody gets hurt", 30)
        told = parse_qs(urlsplit(page.url).query)
        assert told["a"] == ["closes_on_objects:no"]
        assert "fire_door:yes" in told["harm"]
        assert told["t"] == ["1700000000"]
        assert "What is likely so far" in page.locator("main").inner_text()


def test_what_was_answered_is_there_again_after_the_page_was_closed(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, "/trouble/first/")
        without_network(yard, page)
        opened(page, "/trouble/first/")
        for question, answer in (("hurt", "No"), ("hanging", "No"), ("only_way_out", "No"), ("closed", "Yes")):
            page.locator(f"[data-question={question}]").get_by_label(answer, exact=True).check()
        until(lambda: "kept on this phone" in page.locator("#first-status").inner_text())
        page.goto("about:blank")
        opened(page, "/trouble/first/")
        until(lambda: page.locator("[data-question=closed]").get_by_label("Yes").is_checked())
        page.locator("[data-question=fire_door]").get_by_label("No", exact=True).check()
        until(lambda: "Leave it closed, power off and tagged" in page.locator("#first-say").inner_text())
        page.locator("[name=who][value=technician]").check()
        yard.start()
        page.get_by_role("button", name="Go on").click()
        page.wait_for_url("**/trouble/?*", timeout=30_000)
        assert page.locator("h1").inner_text().startswith("Leave it closed, power off")


def test_a_part_is_booked_in_and_out_with_a_photo_on_a_phone(yard: Yard) -> None:
    from .photographs import jpeg

    with phone(yard, "technician") as page:
        page.goto(yard.opening("B1", "substitutes/"))
        page.get_by_label("Number on its red tag").fill("17")
        page.get_by_label("At which terminals").fill("board, 5 and 6")
        page.get_by_role("button", name="Book it in now").click()
        assert "1 substitute part is in" in page.locator("h1").inner_text()
        page.goto(yard.opening("B1"))
        assert page.locator(".finding.stop", has_text="red tag 17").first.is_visible()
        page.get_by_role("link", name="Book it out").click()
        photo = {"name": "terminals.jpg", "mimeType": "image/jpeg", "buffer": jpeg()}
        page.get_by_label("Photo of the terminals").set_input_files(photo)
        page.get_by_role("button", name="It is out: book it out").click()
        assert "No substitute part is in" in page.locator("h1").inner_text()
        page.goto(yard.opening("B1"))
        assert page.locator(".finding.stop", has_text="red tag 17").count() == 0
