"""Quotes and orders under two hands, and under one that presses twice: nothing is lost, nothing is there twice."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from sillwright.web.orders.models import Order, Quote, QuoteStep
from sillwright.web.orders.orders import lines_now
from sillwright.web.orders.quotes import worked_out
from sillwright.web.records.models import Paper, Site

from .conftest import ROOT, World
from .ordering import READER, accepted, order_for, quay, quote_of, released, sent, with_catalogue
from .test_orders import AS_ORDERED
from .test_quote_pages import _picked, _typed


@pytest.fixture
def site(world: World) -> Site:
    with_catalogue(world)
    return quay(world)


def post(world: World, address: str, told: dict[str, Any], who: str = "owner") -> Any:
    return world.client(who).post(address, told)


def twice(world: World, address: str, told: dict[str, Any], who: str = "owner") -> list[Any]:
    return [post(world, address, told, who) for _ in range(2)]


def key_on(world: World, address: str) -> str:
    found = re.search(r'name="key" value="([^"]+)"', world.client("owner").get(address).content.decode())
    assert found
    return found[1]


# made twice


@pytest.mark.parametrize(("table", "listed"), [(Quote, "quotes"), (Order, "orders")])
def test_a_button_that_is_pressed_twice_makes_one(world: World, site: Site, table: Any, listed: str) -> None:
    address = f"/sites/{site.pk}/{listed}/"
    told = {**_picked(site, "W1"), "key": key_on(world, address)}
    one, two = twice(world, address, told)
    assert one.status_code == 302, one.content.decode()
    assert one["Location"] == two["Location"]
    assert [each.number for each in table.objects.filter(site=site)] == [1]


@pytest.mark.parametrize(("table", "listed"), [(Quote, "quotes"), (Order, "orders")])
def test_who_goes_back_and_picks_other_openings_loses_nothing(
    world: World, site: Site, table: Any, listed: str
) -> None:
    address = f"/sites/{site.pk}/{listed}/"
    key = key_on(world, address)
    places = [post(world, address, {**_picked(site, tag), "key": key})["Location"] for tag in ("W1", "W3")]
    assert places[0] != places[1]
    assert table.objects.filter(site=site).count() == 2


def test_a_key_of_somebody_elses_quote_makes_a_quote_of_ones_own(world: World, site: Site) -> None:
    theirs = quote_of(world, site, "W1")
    told = {**_picked(site, "W1"), "key": str(theirs.pk)}
    answer = post(world, f"/sites/{site.pk}/quotes/", told, "technician")
    assert str(theirs.pk) not in answer["Location"]
    theirs.refresh_from_db()
    assert theirs.by == world.people["owner"]


def test_a_copy_that_is_pressed_twice_is_one_draft(world: World, site: Site) -> None:
    row = sent(world, quote_of(world, site, "W1"))
    told = {"key": key_on(world, f"/quotes/{row.pk}/")}
    one, two = twice(world, f"/quotes/{row.pk}/copy/", told)
    assert one["Location"] == two["Location"]
    assert Quote.objects.filter(site=site).count() == 2


# sent, accepted, released twice


def test_a_second_press_on_send_lands_on_the_quote_that_went_out(world: World, site: Site) -> None:
    row = quote_of(world, site, "W1")
    told = {"state": "sent", "seen": worked_out(row, READER).mark, "name": "Owner"}
    assert [each.status_code for each in twice(world, f"/quotes/{row.pk}/step/", told)] == [302, 302]
    assert QuoteStep.objects.filter(quote=row, state="sent").count() == 1
    assert Paper.objects.filter(site=site, kind="quote").count() == row.files.count() == 4
    somebody = post(world, f"/quotes/{row.pk}/step/", told, "advisor")
    assert somebody.status_code == 422, "somebody else's press is no second press"


def test_accepted_is_taken_down_once_and_another_alternative_is_refused(world: World, site: Site) -> None:
    row = sent(world, quote_of(world, site, "W1"))
    told = {"state": "accepted", "alternative": "Common edge", "name": "N. Berg"}
    assert [each.status_code for each in twice(world, f"/quotes/{row.pk}/step/", told)] == [302, 302]
    for other in (
        {"alternative": "Tall edge"},
        {"name": "Somebody else"},
        {"on": "2026-01-05"},
        {"state": "lost", "reason": "price"},
    ):
        assert post(world, f"/quotes/{row.pk}/step/", {**told, **other}).status_code == 422
    assert [each.state for each in row.steps.order_by("pk")] == ["draft", "sent", "accepted"]


def test_a_second_press_on_release_lands_on_the_released_order(world: World, site: Site) -> None:
    row = order_for(world, site, "W1")
    told = {"seen": lines_now(row).mark, "name": "Owner"}
    assert [each.status_code for each in twice(world, f"/orders/{row.pk}/release/", told)] == [302, 302]
    assert row.notes.filter(kind="release").count() == 1
    assert Paper.objects.filter(site=site, kind="order").count() == 1
    assert post(world, f"/orders/{row.pk}/release/", told, "advisor").status_code == 422


def test_who_changes_a_draft_that_went_out_meanwhile_is_told_and_nothing_changes(world: World, site: Site) -> None:
    row = quote_of(world, site, "W1")
    form = _typed(row, 0, title="Mine")
    sent(world, row)
    answer = post(world, f"/quotes/{row.pk}/change/", form, "technician")
    assert answer.status_code == 422
    assert "not changed any more" in answer.content.decode()
    assert 'value="Mine"' in answer.content.decode()
    row.refresh_from_db()
    assert (row.title, row.state) == ("Edges at the quay", "sent")


# goods in, claims and acknowledgements twice


@pytest.mark.parametrize(
    ("page", "kind", "told"),
    [
        ("goods-in", "goods_in", {"length": "10 ft 6 in", "wires": "2"}),
        ("claim", "claim", {"words": "It went dead.", "struck": "yes"}),
    ],
)
def test_what_came_or_failed_counts_once_for_each_form(
    world: World, site: Site, page: str, kind: str, told: dict[str, str]
) -> None:
    row = released(world, order_for(world, site, "W1", quantity=2))
    address = f"/orders/{row.pk}/lines/1/{page}/"
    key = key_on(world, address)
    assert [each.status_code for each in twice(world, address, {**told, "key": key})] == [302, 302]
    assert row.notes.filter(kind=kind).count() == 1
    second = key_on(world, address)
    assert second != key
    post(world, address, {**told, "key": second})
    assert row.notes.filter(kind=kind).count() == 2, "two edges may be alike in everything"
    post(world, address, {**told, "date_code": "2608", "hours": "3", "key": second})
    assert row.notes.filter(kind=kind).count() == 3, "the same form with something else in it is not lost"
    assert world.client("owner").get(f"/orders/{row.pk}/").status_code == 200


def test_an_acknowledgement_that_is_pasted_twice_is_one(world: World, site: Site) -> None:
    row = released(world, order_for(world, site, "W1"))
    address = f"/orders/{row.pk}/acknowledgement/"
    assert [each.status_code for each in twice(world, address, {"text": AS_ORDERED})] == [302, 302]
    assert row.notes.filter(kind="acknowledgement").count() == 1
    post(world, address, {"text": AS_ORDERED.replace("10 ft 6 in", "10 ft 4 in")})
    post(world, address, {"text": AS_ORDERED})
    assert row.notes.filter(kind="acknowledgement").count() == 3


def test_an_answer_that_is_pressed_twice_is_one_and_a_change_of_mind_counts(world: World, site: Site) -> None:
    row = released(world, order_for(world, site, "W1"))
    post(world, f"/orders/{row.pk}/acknowledgement/", {"text": AS_ORDERED.replace("10 ft 6 in", "10 ft 4 in")})
    page = world.client("owner").get(f"/orders/{row.pk}/").content.decode()
    told = {name: re.search(rf'name="{name}" value="([^"]+)"', page)[1] for name in ("of", "id-0")}  # type: ignore[index]
    for holds, count in (("ordered", 1), ("ordered", 1), ("confirmed", 2), ("ordered", 3)):
        answer = post(world, f"/orders/{row.pk}/answers/", {**told, "holds-0": holds, "words-0": "by telephone"})
        assert answer.status_code == 302, answer.content.decode()
        assert row.notes.filter(kind="answer").count() == count


# a minute later it is a deed of its own again


def test_a_press_a_minute_later_is_told_what_stands(
    world: World, site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = accepted(world, sent(world, quote_of(world, site, "W1")))
    told = {"state": "accepted", "alternative": "Common edge", "name": "N. Berg, facility manager"}
    assert post(world, f"/quotes/{row.pk}/step/", told).status_code == 302
    monkeypatch.setattr("sillwright.web.orders.pressed.AGAIN", timedelta(0))
    assert post(world, f"/quotes/{row.pk}/step/", told).status_code == 422


@pytest.mark.slow
def test_of_four_at_the_same_moment_nothing_is_lost_and_nothing_there_twice(tmp_path: Path) -> None:
    """On a database of its own: one in memory, as other tests have, lets nobody wait."""
    env = {
        **os.environ,
        "SILLWRIGHT_TEST_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "tests.web.settings_for_tests",
    }
    command = [sys.executable, "-m", "tests.web.order_twins"]
    ran = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, timeout=180)
    assert ran.returncode == 0, ran.stderr
    assert json.loads(ran.stdout.splitlines()[-1]) == {
        "four forms": [{"302": 4}, [1, 2, 3, 4]],
        "one form": [{"302": 4}, 1],
        "changed": [{"302": 1, "409": 3}, 1],
        "sent": [{"302": 4}, 1, 4],
        "accepted": [{"302": 2, "422": 2}, 1],
        "ordered": [{"302": 4}, 1],
        "released": [{"302": 4}, 1],
        "came once": [{"302": 4}, 1],
        "came": [{"302": 4}, 5],
        "acknowledged": [{"302": 4}, 1],
    }
