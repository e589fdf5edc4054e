"""The fault bench in a browser: at once, and without a network; what it shows is what the server shows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from .browser import DESK, PHONE, browsing, page_of
from .offline import Yard, opened, until, without_network

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]
BENCH = "/workbench/fault-bench/"
HEADING = "What does the operator see of a fault, and what does the leaf still feel?"
SHOWN = """() => ["wrong", "operator", "outcome", "alone", "same", "ends"]
  .map((id) => document.getElementById(id).innerText)
  .concat([...document.querySelectorAll("#spots li")].map((each) => [each.dataset.felt, "pressed" in each.dataset]))
  .flat()
  .concat([...document.querySelectorAll("#same tr")].map((each) => `${each.ariaCurrent} ${"lost" in each.dataset}`))
"""
ADDRESSES = (
    "?circuit=resistor&hurt=short&place=cord&also=joint-1%40box&press=near",
    "?circuit=diode_capacitor&hurt=wet-3&place=edge_far&also=cut%40edge_middle&press=far",
    "?circuit=four_wire&hurt=element_before&place=box",
    "?circuit=radio&hurt=no_link&place=box&press=before",
    "?circuit=pulse_three_wire&also=swapped%40lead",
)
REFUSED = (
    "?circuit=moon&press=%3Cb%3Ehere",
    "?hurt=crushed&place=lead",
    "?hurt=element_missing&place=edge_far&also=element_wrong-0.47%40edge_far",
    "?hurt=element_before&place=board&trainer=1",
)


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    found = Yard(tmp_path_factory.mktemp("served"))
    found.start()
    yield found
    found.stop()


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with browsing() as found:
        yield found


@pytest.fixture(scope="module")
def alone(yard: Yard, browser: Any) -> Any:
    """A phone with the application on it and without a network; the bench was never opened on it."""
    page = installed(page_of(browser, yard.served, None, PHONE, worker=True))
    without_network(yard, page, "offline")
    return page


def installed(page: Any) -> Any:
    """Put the application on this phone."""
    page.goto("/workbench/")
    until(lambda: page.evaluate("() => Boolean(navigator.serviceWorker.controller)"))
    return page


def shown(page: Any, address: str) -> list[str]:
    """What the page shows under an address, once it has its book."""
    assert opened(page, BENCH + address) == HEADING
    until(lambda: page.locator("#faults").is_visible() and not page.locator("#faults-form button").is_visible())
    return list(page.evaluate(SHOWN))


def test_without_a_network_every_address_shows_what_the_server_shows(yard: Yard, browser: Any, alone: Any) -> None:
    here = {address: shown(alone, address) for address in ADDRESSES + REFUSED}
    server = page_of(browser, yard.served, None, DESK)
    server.route("**/fault_bench*.js", lambda route: route.abort())
    for address in ADDRESSES + REFUSED:
        server.goto(BENCH + address)
        there = server.evaluate(SHOWN)
        if address in ADDRESSES:
            assert here[address] == there, address
        else:
            assert here[address][0] == there[0] != "", address


def test_what_is_chosen_is_answered_at_once_and_stands_in_the_address(alone: Any) -> None:
    page = alone
    shown(page, "")
    page.get_by_label("Circuit", exact=True).select_option("plain")
    page.get_by_label("What is wrong").select_option("cut")
    page.get_by_label("Where", exact=True).select_option("edge_near")
    page.get_by_label("far end", exact=True).check()
    assert page.locator("#outcome").inner_text() == "With this fault no press is felt any more; nobody is told."
    assert page.locator("#spots [data-felt=r]").count() == 10
    assert page.url.endswith("?circuit=plain&hurt=cut&place=edge_near&also=&press=far")
    page.get_by_label("And besides").select_option("wet-0.3@edge_far")
    assert page.locator("#alone p").count() == 2
    page.get_by_label("And besides").select_option("element_wrong-0.47@edge_far")
    assert "can have besides" in page.locator("#wrong").inner_text()
    assert page.locator("#same").is_hidden()


def test_a_trainer_s_part_at_the_board_stays_with_the_server(yard: Yard, browser: Any) -> None:
    part = "?hurt=element_before&place=board&trainer=1"
    page = installed(page_of(browser, yard.served, "advisor", PHONE, worker=True))
    assert opened(page, BENCH + part) == HEADING
    assert page.locator("#outcome").inner_text() == "With this fault no press is felt any more; nobody is told."
    without_network(yard, page, "offline")
    assert shown(page, part)[0] == (
        "A part at the board is shown to trainers only, with a network. Choose another place."
    )
    assert page.locator("#same").is_hidden()
    assert page.locator("[name=trainer]").count() == 0


def test_in_front_of_a_class_all_circuits_stand_on_one_screen_and_keys_choose(yard: Yard, browser: Any) -> None:
    page = page_of(browser, yard.served, None, {"viewport": {"width": 1280, "height": 720}})
    shown(page, "?circuit=resistor&hurt=short&place=cord&also=joint-1%40box&press=near&large=1")
    last = page.locator("#same tbody tr").last.bounding_box()
    assert last["y"] + last["height"] <= 720
    sizes = page.evaluate("() => getComputedStyle(document.querySelector('#same td')).fontSize")
    assert float(sizes.removesuffix("px")) >= 24
    page.keyboard.press("1")
    page.keyboard.press("ArrowUp")
    assert page.locator("#circuit").input_value() == "normally_closed"
    assert page.locator("#same [aria-current]").get_attribute("data-circuit") == "normally_closed"
    page.keyboard.press("Escape")
    page.keyboard.press("5")
    page.keyboard.press("ArrowDown")
    assert "press=before" in page.url
    assert "large=1" in page.url


def test_on_a_phone_nothing_lies_beside_the_screen_and_choices_are_as_large_as_a_thumb(alone: Any) -> None:
    shown(alone, "?circuit=plain&hurt=cut&place=edge_middle&also=wet-3%40edge_far")
    assert alone.evaluate("() => document.documentElement.scrollWidth") <= 390
    sizes = alone.evaluate(
        "() => [...document.querySelectorAll('#faults-form select, .press')]"
        ".map((each) => each.getBoundingClientRect().height)"
    )
    assert len(sizes) == 9
    assert min(sizes) >= 48
