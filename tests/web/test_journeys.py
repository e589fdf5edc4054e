"""The main ways through the application in a real browser, on a phone and at a desk."""

from __future__ import annotations

from typing import Any

import pytest

from .browser import DESK, PHONE, Served, page_of
from .golden_pages import _difference, _lighter, unlike

pytestmark = [pytest.mark.slow, pytest.mark.enable_socket]
DEVICES = {"phone": PHONE, "desk": DESK}


VIEWS = {
    "site": "/sites/{site}/",
    "opening": "/openings/{B1}/",
    "opening-not-known": "/openings/{B2}/",
    "facts": "/openings/{B1}/facts/",
    "two-readings": "/openings/{D3}/facts/door.leaf_mass/",
    "new-opening": "/sites/{site}/openings/new/",
    "papers": "/openings/{B1}/papers/",
    "workbench": "/workbench/contact/",
    "sign-in": "/accounts/login/",
}


@pytest.mark.parametrize("device", DEVICES)
def test_the_main_pages_look_as_they_did_when_somebody_looked(browser: Any, served: Served, device: str) -> None:
    found = []
    for name, path in VIEWS.items():
        who = None if name in {"sign-in", "workbench"} else "owner"
        page = page_of(browser, served, who, {**DEVICES[device], "device_scale_factor": 1})
        page.goto(path.format(site=served.site, **served.openings))
        page.wait_for_load_state("networkidle")
        for theme in ("light", "dark"):
            page.emulate_media(color_scheme=theme)
            found.append(unlike(page, f"{name}-{device}-{theme}"))
        page.context.close()
    assert not [each for each in found if each]


def test_a_page_that_looks_otherwise_would_be_found(browser: Any, served: Served) -> None:
    page = page_of(browser, served, None, PHONE)
    page.goto("/accounts/login/")
    one = page.screenshot(scale="css")
    page.goto("/workbench/contact/")
    other = page.screenshot(scale="css")
    page.context.close()
    assert _difference(one, other, "x")
    assert not _difference(one, _lighter(one), "x")


@pytest.mark.parametrize("device", DEVICES)
def test_from_an_invitation_to_a_paper_that_a_stranger_can_read(browser: Any, served: Served, device: str) -> None:
    owner = page_of(browser, served, "owner", DEVICES[device])
    owner.goto("/organisations/")
    owner.get_by_role("link", name="Harbour Doors").click()
    owner.get_by_label("Role", exact=True).last.select_option("advisor")
    owner.get_by_role("button", name="Make an invitation").click()
    link = owner.locator("textarea, input[readonly]").first.input_value()

    guest = page_of(browser, served, None, DEVICES[device])
    guest.goto(link)
    guest.get_by_label("Name").fill("Ana Marsh")
    guest.get_by_label("Mail address").fill(f"ana-{device}@people.example")
    guest.get_by_label("Password", exact=True).fill("a hoist under the eaves")
    guest.get_by_role("button", name="Make the account").click()
    guest.get_by_role("link", name="Sites").first.click()
    guest.get_by_role("link", name="Lanternfield Ferry Yard").click()
    guest.get_by_role("link", name="New opening").click()
    guest.get_by_label("What is the opening called?").fill(f"N {device}")
    guest.get_by_label("Sectional: panels on tracks").check()
    guest.get_by_role("button", name="Make it").click()

    for question, typed in (("clear_width", "10 ft 4 in"), ("clear_height", "12 ft")):
        card = guest.locator(f"[id='f-door.{question}']")
        card.locator("input[name=typed]").fill(typed)
        card.get_by_role("button", name="Keep it").click()
        card.get_by_text(typed).first.wait_for()
    guest.get_by_role("link", name="To the answer").click()
    guest.get_by_text("Whether this leaf may close under power is not known").first.wait_for()

    guest.get_by_role("link", name="Papers").first.click()
    guest.get_by_role("button", name="Make the report (PDF)").click()
    guest.get_by_role("link", name="Links").first.click()
    guest.get_by_role("button", name="Make a link").click()
    shared = guest.locator("textarea, input[readonly]").first.input_value()

    stranger = page_of(browser, served, None, DEVICES[device])
    stranger.goto(shared)
    with stranger.expect_download() as download:
        stranger.get_by_role("link", name="Download").click()
    assert download.value.suggested_filename.endswith(".pdf")
    for page in (owner, guest, stranger):
        assert not page.said
        page.context.close()


@pytest.mark.parametrize("device", DEVICES)
def test_two_people_who_wrote_different_things_are_settled(browser: Any, served: Served, device: str) -> None:
    opening = served.openings["F1" if device == "phone" else "D4"]
    address = f"/openings/{opening}/facts/door.headroom/"
    pages = [page_of(browser, served, who, DEVICES[device]) for who in ("technician", "advisor")]
    for page in pages:
        page.goto(address)
    for page, typed in zip(pages, ("18 in", "24 in"), strict=True):
        page.locator("input[name=typed]").first.fill(typed)
        page.get_by_role("button", name="Keep it").first.click()
        page.get_by_text("18 in" if typed == "18 in" else "24 in").first.wait_for()
    pages[0].goto(address)
    pages[0].get_by_text("Different things were written").first.wait_for()
    pages[0].get_by_role("button", name="Take").first.click()
    pages[0].get_by_text("Different things were written").first.wait_for(state="hidden")
    pages[1].goto(address)
    assert not pages[1].get_by_text("Different things were written").is_visible()
    for page in pages:
        page.context.close()
