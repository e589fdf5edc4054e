"""Quotes and orders for programs: a job from the draft to the delivery, and what is refused on the way."""

from __future__ import annotations

from typing import Any

import pytest
from django.utils import timezone

from sillwright.web.orders.models import Order, Quote
from sillwright.web.records.models import Site

from .api_callers import Caller, callers, token_of, with_token
from .conftest import World
from .ordering import line, order_for, quay, quote_of, released, with_catalogue


@pytest.fixture
def site(world: World) -> Site:
    """Three doors at a quay, with a catalogue."""
    with_catalogue(world)
    return quay(world)


@pytest.fixture
def owner(world: World) -> Caller:
    """A program of the owner."""
    callers(world)
    return with_token(token_of(world.people["owner"], "write"))


def _told(caller: Caller, method: str, address: str, body: Any = None, status: int = 200, **headers: Any) -> Any:
    response: Any = caller.ask(method, address, body, **headers)
    assert response.status_code == status, response.content
    return response.json()


def _offer(site: Site, *tags: str) -> dict[str, Any]:
    doors = [each for each in site.openings.order_by("position") if each.tag in tags]
    lines = [line(each) for each in doors]
    return {"name": "Common edge", "leaves_open": ["The eye stays."], "trips": 1, "lines": lines}


def test_a_job_goes_from_draft_to_delivery_by_programs_alone(world: World, site: Site, owner: Caller) -> None:
    body = {"title": "North bay", "alternatives": [_offer(site, "W1")]}
    made = _told(owner, "POST", f"/api/sites/{site.pk}/quotes", body, 201)
    assert made["comes_to"]["alternatives"][0]["sums"][-1] == ["total in USD, no tax entered", "767.60"]
    address = f"/api/quotes/{made['id']}"
    gone = _told(owner, "POST", f"{address}/steps", {"state": "sent", "seen": made["mark"]})
    assert gone["files"] == ["csv", "json", "pdf", "xlsx"]
    assert owner.ask("GET", f"{address}/files/pdf").content.startswith(b"%PDF")
    step = {"state": "accepted", "alternative": "Common edge", "by": "N. Berg"}
    assert _told(owner, "POST", f"{address}/steps", step)["steps"][-1]["by"] == "N. Berg"
    order = _told(owner, "POST", f"{address}/order", None, 201)
    here = f"/api/orders/{order['id']}"
    out = _told(owner, "POST", f"{here}/release", {"seen": order["mark"]})
    assert out["order"]["lines"][0]["released"]["by"] == "Owner"
    assert owner.ask("GET", f"{here}/sheet").content.startswith(b"%PDF")
    text = {"text": "tag: W1\nbody length: 10 ft 4 in\nlead end: right"}
    beside = _told(owner, "POST", f"{here}/acknowledgements", text, 201)
    wrong = [each for each in beside["differences"] if each["kind"] == "differs"]
    assert [each["text"] for each in wrong] == ["W1, length: ordered 10 ft 6 in, confirmed 10 ft 4 in."]
    answers = [{"about": each["id"], "holds": "ordered"} for each in beside["differences"]]
    settled = _told(
        owner, "POST", f"{here}/answers", {"acknowledgement": beside["acknowledgement"], "answers": answers}
    )
    assert settled["settled"]
    came = _told(owner, "POST", f"{here}/lines/1/goods-in", {"length": "10 ft 6 in", "wires": "2"}, 201)
    assert {each["level"] for each in came["found"]["findings"]} == {"good", "note"}
    claim = {"facts": {"struck": {"typed": "yes", "from": "photo"}}}
    assert _told(owner, "POST", f"{here}/lines/1/claims", claim, 201)["found"]["sort"] == "not known"


def test_two_programs_that_change_a_draft_at_once_do_not_undo_each_other(
    world: World, site: Site, owner: Caller
) -> None:
    row = quote_of(world, site, "W1")
    address = f"/api/quotes/{row.pk}"
    tag = owner.ask("GET", address)["ETag"]
    assert _told(owner, "PATCH", address, {"title": "First"}, **{"If-Match": tag})["title"] == "First"
    _told(owner, "PATCH", address, {"title": "Second"}, 412, **{"If-Match": tag})
    assert Quote.objects.get().title == "First"
    changed = _told(owner, "PATCH", address, {"alternatives": [_offer(site, "W1", "W3")], "terms": "Cash"})
    assert [len(each["lines"]) for each in changed["alternatives"]] == [2]
    assert Quote.objects.get().terms == "Cash"
    order = order_for(world, site, "W1")
    tag = owner.ask("GET", f"/api/orders/{order.pk}")["ETag"]
    _told(owner, "PATCH", f"/api/orders/{order.pk}", {"to": "Edge works"}, **{"If-Match": tag})
    _told(owner, "PATCH", f"/api/orders/{order.pk}", {"to": "Others"}, 412, **{"If-Match": tag})


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"discount": "-1"}, "alternatives[0].discount"),
        ({"discount": "100.5"}, "alternatives[0].discount"),
        ({"lines": []}, "alternatives[0].lines"),
        ({"lines": [{"opening": "00000000-0000-4000-8000-000000000000"}]}, "alternatives[0].lines"),
        ({"trips": -1}, "alternatives[0].trips"),
        ({"price": 1}, "alternatives[0].price"),
    ],
)
def test_what_cannot_be_offered_is_named_by_its_place(
    world: World, site: Site, owner: Caller, change: dict[str, Any], path: str
) -> None:
    body = {"title": "x", "alternatives": [{**_offer(site, "W1"), **change}]}
    told = _told(owner, "POST", f"/api/sites/{site.pk}/quotes", body, 422)
    assert [each["path"] for each in told["mistakes"]] == [path]
    assert not Quote.objects.exists()


def test_a_quote_that_comes_out_otherwise_by_now_is_not_sent(world: World, site: Site, owner: Caller) -> None:
    row = quote_of(world, site, "W1")
    told = _told(owner, "POST", f"/api/quotes/{row.pk}/steps", {"state": "sent", "seen": "x"}, 422)
    assert "changed this after you read it" in told["mistakes"][0]["message"]
    ahead = {"state": "sent", "on": "2099-01-01"}
    assert _told(owner, "POST", f"/api/quotes/{row.pk}/steps", ahead, 422)["mistakes"][0]["path"] == "on"


def test_a_request_that_is_sent_twice_makes_one_quote(world: World, site: Site, owner: Caller) -> None:
    body = {"title": "Once", "alternatives": [_offer(site, "W1")]}
    for _twice in range(2):
        _told(owner, "POST", f"/api/sites/{site.pk}/quotes", body, 201, **{"Idempotency-Key": "k1"})
    assert Quote.objects.count() == 1


def test_a_token_that_may_only_read_reads_and_changes_nothing(world: World, site: Site) -> None:
    row, reading = quote_of(world, site, "W1"), callers(world)["reading"]
    assert _told(reading, "GET", f"/api/quotes/{row.pk}")["state"] == "draft"
    _told(reading, "PATCH", f"/api/quotes/{row.pk}", {"title": "x"}, 403)
    assert callers(world)["friend"].ask("GET", f"/api/quotes/{row.pk}").status_code == 404


def test_the_lists_hold_what_there_is(world: World, site: Site, owner: Caller) -> None:
    quote_of(world, site, "W1", ask_again_on=timezone.localdate().isoformat())
    released(world, order_for(world, site, "W1"))
    order_for(world, site, "W3")
    assert len(_told(owner, "GET", f"/api/sites/{site.pk}/quotes")["items"]) == 1
    states = [each["state"] for each in _told(owner, "GET", f"/api/sites/{site.pk}/orders")["items"]]
    assert states == ["released", "draft"]
    assert _told(owner, "GET", "/api/quotes") == {"items": []}  # a draft of today waits for a week
    assert Order.objects.count() == 2


def test_a_workbook_and_a_text_bring_a_catalogue(world: World, owner: Caller) -> None:
    address = f"/api/organisations/{world.dealer.pk}/catalogues"
    text = "format: sillwright-catalogue/1\nname: Ours\ncurrency: EUR\npriced_on: 2026-01-05\n"
    client = owner.client
    first = client.post(address, text, content_type="application/yaml", headers=owner.headers)
    assert first.status_code == 201
    assert (first.json()["number"], first.json()["currency"]) == (1, "EUR")
    again = client.post(address, text, content_type="application/yaml", headers=owner.headers)
    assert again.status_code == 422
    broken = client.post(address, text + "colour: red\n", content_type="application/yaml", headers=owner.headers)
    assert broken.status_code == 422
    assert broken.json()["mistakes"][0]["line"] == 5
    here = f"{address}/{first.json()['id']}"
    assert "currency: EUR" in client.get(here, headers=owner.headers).content.decode()
    assert callers(world)["stranger"].ask("GET", here).status_code == 404
