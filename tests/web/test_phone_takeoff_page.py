"""On the page of an opening without a signal the phone says what to order, closed at first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from .browser import PHONE, browsing, page_of
from .offline import Yard, visit

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    found = Yard(tmp_path_factory.mktemp("takeoff"))
    found.start()
    yield found
    found.stop()


@pytest.fixture
def page(yard: Yard) -> Iterator[Any]:
    yard.start()
    with browsing() as browser:
        found = page_of(browser, yard.served, "technician", PHONE, worker=True)
        found.goto(yard.opening("B1"))  # the first study of a server takes its time on a machine that is shared
        visit(found, *(yard.opening(tag, part) for tag in ("B1", "G1") for part in ("", "facts/")))
        yard.stop()
        yield found


def order_at(page: Any, address: str) -> Any:
    """The part of the notice that says what to order, at a kept page."""
    page.goto(address)
    found = page.locator("#answer-here [data-order]")
    expect(found).to_be_visible()
    return found


def test_what_to_order_is_closed_at_first_and_said_in_the_readers_units(page: Any, yard: Yard) -> None:
    for part in ("", "facts/"):
        order = order_at(page, yard.opening("B1", part))
        expect(order.locator("[data-lines]")).to_be_hidden()
        asked: list[str] = []
        page.on("request", lambda each, asked=asked: asked.append(each.url))
        order.get_by_text("What to order, worked out on this phone").click()
        lines = order.locator("[data-lines] p")
        expect(lines.first).to_contain_text("Bottom edge: overall body 10 ft 6 in.")
        expect(order).to_contain_text("Inside, looking out: the lead leaves at the")
        expect(order).to_contain_text("Outside, facing the door: the lead leaves at the")
        expect(order).to_contain_text("Coiled cord, ")
        expect(order).to_contain_text("What stands against an order is only told with a signal.")
        assert any("takeoff" in each for each in asked), (
            "the scripts of the take-off are loaded when they are asked for"
        )
    assert not page.said, page.said


def test_a_lead_that_nobody_confirmed_is_said_to_be_so(page: Any, yard: Yard) -> None:
    order = order_at(page, yard.opening("B1"))
    order.locator("summary").click()
    expect(order).to_contain_text("Not confirmed: the order line carries a question mark and is not released.")


def test_each_body_of_a_gate_has_a_line_and_no_cord_is_told(page: Any, yard: Yard) -> None:
    order = order_at(page, yard.opening("G1"))
    order.locator("summary").click()
    expect(order).to_contain_text("Leading edge: ")
    expect(order).to_contain_text("Radio, not a coiled cord.")
    expect(order).to_contain_text("at the lower end")
