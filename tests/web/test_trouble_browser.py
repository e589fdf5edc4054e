"""A call on a phone: one hand, the way back, and without a signal the questions that keep people from harm."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest

from sillwright.trouble.book import fault_book
from sillwright.trouble.fixed_list import fixed_list

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


def weighed(page: Any) -> None:
    """Wait for the call with its answers weighed: a server that has just come takes its time."""
    until(lambda: page.locator(".so-likely").count() > 0, 60)


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


def test_a_page_that_only_stands_in_opens_the_call_by_itself_with_the_last_answer(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, FAR)
        without_network(yard, page)
        page.get_by_role("link", name="No.", exact=True).click()
        until(lambda: "cannot be weighed" in page.locator("#list-status").inner_text())
        yard.start()
        weighed(page)
        told = parse_qs(urlsplit(page.url).query)
        assert told["a"] == ["closes_on_objects:no"]
        assert told["t"] == ["1700000000"]


def asked_for(symptom: str) -> list[str]:
    """The questions of a list that somebody without tools is asked."""
    return [each.question for each in fixed_list(fault_book(), symptom) if each.who == "owner"]


def test_a_call_that_lost_the_signal_goes_on_with_the_list_and_opens_with_every_answer(yard: Yard) -> None:
    first, second, third = asked_for("CALL-01")[:3]
    with phone(yard, None) as page:
        visited(page, FAR)
        without_network(yard, page)
        page.get_by_role("link", name="No.", exact=True).click()
        headline = page.locator("h1")
        until(lambda: headline.inner_text() == first)
        page.locator("#list-answers button").first.click()
        assert headline.inner_text() == second
        page.get_by_role("button", name="Don’t know").click()
        assert headline.inner_text() == third
        page.go_back()
        assert headline.inner_text() == second
        page.go_forward()
        page.get_by_role("button", name="Back", exact=True).click()
        assert headline.inner_text() == second
        assert page.locator("#list-answers [aria-current]").inner_text() == "Don’t know"
        page.locator("#list-answers button").first.click()
        assert headline.inner_text() == third
        until(lambda: "a=eye_lamps" in page.url)
        page.reload()
        until(lambda: headline.inner_text() == third)
        page.locator("#list-told summary").click()
        assert page.locator("#list-told li").count() == 3
        yard.start()
        page.get_by_role("button", name="Open the call").click()
        weighed(page)
        told = parse_qs(urlsplit(page.url).query)
        tests = {each.question: each for each in fault_book().tests}
        given = [f"{tests[each].id}:{tests[each].outcomes[0].id}" for each in (first, second)]
        assert told["a"] == ["closes_on_objects:no", *given]


def test_a_call_that_begins_without_a_signal_comes_to_the_list_and_survives_an_empty_battery(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, "/trouble/first/")
        without_network(yard, page)
        opened(page, "/trouble/first/")
        answered = (
            ("hurt", "No"),
            ("hanging", "No"),
            ("only_way_out", "No"),
            ("closed", "Yes"),
            ("fire_door", "No"),
        )
        for question, answer in answered:
            page.locator(f"[data-question={question}]").get_by_label(answer, exact=True).check()
        page.get_by_role("button", name="Go on").click()
        until(lambda: "Say who is at the door" in page.locator("#first-status").inner_text())
        page.locator("[name=who][value=technician]").check()
        page.locator("#symptom").select_option("CALL-06")
        page.get_by_role("button", name="Go on").click()
        headline = page.locator("h1")
        until(lambda: headline.inner_text().startswith("Has it closed onto something"))
        assert "Take it out of service" in page.locator("#list-cautions").inner_text()
        page.get_by_role("button", name="No.", exact=True).click()
        listed = [each.question for each in fixed_list(fault_book(), "CALL-06")]
        assert headline.inner_text() == listed[0]
        until(lambda: page.evaluate("() => location.search.includes('closes_on_objects')"))
        page.goto("about:blank")
        opened(page, "/trouble/first/")
        until(lambda: headline.inner_text() == listed[0])
        for question in listed:
            assert headline.inner_text() == question
            page.get_by_role("button", name="Don’t know").click()
        assert headline.inner_text() == "That is all that can be asked without a network"
        assert page.locator("#list-answers button").count() == 0


def test_who_sees_a_cable_hang_is_asked_nothing_more_without_a_signal(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, "/trouble/first/")
        without_network(yard, page)
        page.goto(f"/trouble/?{SAFE}&left=1&who=owner&symptom=CALL-01&a=cable_slack:yes")
        assert page.locator("h1").inner_text() == "Stop: nobody runs this door"
        assert "Nobody touches the control" in page.locator("#list-cautions.stop").inner_text()
        assert page.locator("#list-answers button").count() == 0
        page.locator("#list-told summary").click()
        page.get_by_role("button", name="Change").click()
        page.get_by_role("button", name="No, both are tight.").click()
        assert page.locator("h1").inner_text().startswith("Has it closed onto something")


def test_two_windows_keep_a_call_each_and_markup_in_an_address_stays_text(yard: Yard) -> None:
    with phone(yard, None) as page:
        visited(page, "/trouble/first/")
        without_network(yard, page)
        page.goto(f"/trouble/?{SAFE}&left=1&who=owner&symptom=CALL-01&t=1700000000")
        until(lambda: page.locator("#list-answers button").count() > 0)
        other = page.context.new_page()
        bad = "a=<img src=x>:no&a=eye_lamps:<b>&who=king&bridge=1&a=grinding:no&a=grinding:yes&harm=hrt:yes"
        other.goto(f"/trouble/?{SAFE}&left=1&who=owner&symptom=CALL-02&t=1700000001&{bad}")
        until(lambda: other.locator("#list-answers button").count() > 0)
        assert other.locator("main img").count() == 0
        assert other.locator("[name=who]:checked").count() == 1  # the first of two
        other.locator("#list-answers button").first.click()
        assert "bridge" not in other.url
        assert other.url.count("grinding") == 1
        page.locator("#list-answers button").first.click()
        until(lambda: "closes_on_objects" in page.url)
        for each in (page, other):
            until(lambda each=each: "stay on this phone" in each.locator("#list-status").inner_text())  # type: ignore[misc]
        other.goto("/trouble/first/")
        until(lambda: other.locator("h1").inner_text() != "First: nobody gets hurt")
        other.get_by_role("button", name="First questions").click()
        links = other.locator("#other-calls a")
        until(lambda: links.count() == 1)
        one, two = links.first.get_attribute("href") or "", other.url
        assert {"CALL-01" in one, "CALL-01" in two} == {True, False}


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
        until(lambda: page.locator("h1").inner_text().startswith("Leave it closed, power off"), 60)


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
