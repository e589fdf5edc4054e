"""The pages of quotes: what the owner reads first, forms that keep what was typed, and who may do what there."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from django.utils import timezone

from sillwright.base.words import in_words
from sillwright.catalogue import demo
from sillwright.takeoff.ordering.exporting import quote_as_json
from sillwright.web.orders import picking
from sillwright.web.orders.catalogues import bring
from sillwright.web.orders.models import Quote, QuoteStep
from sillwright.web.orders.offers import mark
from sillwright.web.orders.quotes import change, part_of, worked_out
from sillwright.web.records.models import Site
from sillwright.web.records.papers import path_of

from .conftest import World
from .ordering import READER, accepted, quay, quote_of, sent, with_catalogue

EVIL = '<script>alert("x")</script>{{ 7|add:7 }}'


@pytest.fixture
def site(world: World) -> Site:
    """Three doors at a quay, with a catalogue."""
    with_catalogue(world)
    return quay(world)


@pytest.fixture
def draft(world: World, site: Site) -> Quote:
    """A draft for all three doors."""
    return quote_of(world, site)


def _page(world: World, path: str, who: str = "owner") -> str:
    response = world.client(who).get(path)
    assert response.status_code == 200
    return html.unescape(response.content.decode())


def _picked(site: Site, *tags: str, **more: str) -> dict[str, str]:
    doors = {each.tag: each for each in site.openings.all()}
    found = {"title": "Edges", **more}
    for tag in tags:
        found |= {f"in-{doors[tag].pk}": "1", f"first-{doors[tag].pk}": "Edge class B"}
    return found


def _typed(row: Quote, place: int, **more: Any) -> dict[str, Any]:
    """The form of a part as a browser sends it."""
    part = part_of(row, place) or {}
    form: dict[str, Any] = {"seen": mark(part_of(row, place))}
    for name, value in part.items():
        if name != "lines":
            form[name] = "\n".join(value) if isinstance(value, list) else value
    for at, each in enumerate(part.get("lines", ())):
        form |= {f"lines[{at}].{name}": value for name, value in each.items()}
    return {**form, **more}


# making one


def test_the_openings_are_offered_with_the_profiles_that_fit_the_cheapest_first(world: World, site: Site) -> None:
    text = _page(world, f"/sites/{site.pk}/quotes/")
    door = site.openings.get(tag="W1")
    options = re.findall(
        r"<option[^>]*>([^<]*)", text.partition(f'id="first-{door.pk}"')[2].partition("</select>")[0]
    )
    fitting = [each for each in options if "–" in each and "whether" not in each]
    assert fitting[0].startswith("Edge class B, cut on site")
    said = [each.rpartition("– ")[2].split() for each in fitting]
    assert {currency for _price, currency in said} == {"USD"}
    prices = [float(price.replace(",", "")) for price, _currency in said]
    assert prices == sorted(prices)
    assert not [each for each in options if each.startswith("Edge class D")]  # it does not fit here


def test_a_quote_begins_with_what_was_picked_and_says_what_it_leaves_out(world: World, site: Site) -> None:
    door = site.openings.get(tag="W1")
    posted = _picked(site, "W1", **{f"second-{door.pk}": "Edge class C"})
    response = world.client("technician").post(f"/sites/{site.pk}/quotes/", posted)
    assert response.status_code == 302
    made = Quote.objects.get()
    assert [each["name"] for each in made.offered] == ["Edge class B", "Edge class C"]
    assert [each["leaves_open"] for each in made.offered] == [["Not in this quote: W2, W3."]] * 2
    assert made.offered[0]["lines"][0]["work"] == ["edge_factory_sealed"]
    assert made.offered[0]["trips"] == 1


@pytest.mark.parametrize(
    ("tags", "more", "says"),
    [
        ((), {}, "Nothing is offered yet"),
        (("W1",), {"title": " "}, "This is missing"),
        (("W1",), {"title": "x" * 300}, "too long"),
    ],
)
def test_a_form_with_a_mistake_comes_back_as_it_was_typed(
    world: World, site: Site, tags: tuple[str, ...], more: dict[str, str], says: str
) -> None:
    response = world.client("technician").post(f"/sites/{site.pk}/quotes/", _picked(site, *tags, **more))
    text = html.unescape(response.content.decode())
    assert response.status_code == 422
    assert says in text
    assert text.count('" value="1" checked>') == len(tags)
    assert not Quote.objects.exists()


def test_a_site_of_many_doors_lists_them_and_begins_with_the_cheapest_that_fits(
    world: World, site: Site, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(picking, "MOST_OPENINGS", 2)
    text = _page(world, f"/sites/{site.pk}/quotes/")
    assert "Each begins with the cheapest profile that fits." in text
    assert 'id="first-' not in text
    picked = {name: each for name, each in _picked(site, "W1").items() if not name.startswith("first-")}
    assert world.client("technician").post(f"/sites/{site.pk}/quotes/", picked).status_code == 302
    assert Quote.objects.get().offered[0]["lines"][0]["profile"] == "Edge class B, cut on site"


def test_an_eye_beside_the_edge_is_offered_with_its_price_and_its_hours(world: World, draft: Quote) -> None:
    form = _typed(draft, 1, **{"lines[0].devices[0].device": "Eye class E", "lines[0].devices[0].quantity": "2"})
    assert world.client("technician").post(f"/quotes/{draft.pk}/alternatives/1/", form).status_code == 302
    text = _page(world, f"/quotes/{draft.pk}/")
    assert re.search(r"Eye class E \(photo eye\)<br><span[^>]*>2 piece × 190.00 USD = 380.00 USD", text)
    assert "fit and test a photo eye, 2 persons" in text
    assert "fit and test another beam, 2 persons" in text
    assert "edge_factory_sealed" not in text
    again = _page(world, f"/quotes/{draft.pk}/alternatives/1/")
    assert '<option value="Eye class E" selected>' in again
    assert 'name="lines[0].devices[0].quantity" value="2"' in again


def test_an_opening_may_get_devices_without_an_edge(world: World, draft: Quote) -> None:
    eye = {"lines[0].devices[0].device": "Loop detector class P", "lines[0].no_edge": "1"}
    answered = world.client("technician").post(f"/quotes/{draft.pk}/alternatives/1/", _typed(draft, 1, **eye))
    assert answered.status_code == 302
    offer = worked_out(Quote.objects.get(pk=draft.pk), READER).offers[0]
    first = draft.site.openings.get(pk=draft.offered[0]["lines"][0]["opening"]).tag
    assert first not in {each.tag for each in offer.lines}
    assert [in_words(each.what, READER) for each in offer.priced if each.tag == first][-2:] == [
        "Loop detector class P (loop)",
        "Loop detector class P: lay and test a loop, 2 persons",
    ]


def test_work_that_is_ticked_and_comes_with_a_device_too_is_said_on_the_quote(world: World, draft: Quote) -> None:
    eye = {"lines[0].devices[0].device": "Eye class E"}
    form = _typed(draft, 1, **eye)
    form["lines[0].work"] = ["edge_factory_sealed", "photo_eye"]
    assert world.client("technician").post(f"/quotes/{draft.pk}/alternatives/1/", form).status_code == 302
    words = "the work “fit and test a photo eye” is ticked, and the device “Eye class E” brings its hours along"
    text = _page(world, f"/quotes/{draft.pk}/")
    assert text.count("May be counted twice:") == 1
    assert words in text
    offered = worked_out(Quote.objects.get(pk=draft.pk), READER).quote
    assert offered is not None
    assert words in quote_as_json(offered, READER)["alternatives"][0]["doubts"][0]


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"lines[0].devices[0].device": "Eye of nobody"}, "has no such entry"),
        ({"lines[0].devices[0].device": EVIL}, "has no such entry"),
        ({"lines[0].devices[0].device": "Eye class E", "lines[0].devices[0].quantity": "0"}, "no such number"),
        ({"lines[0].devices[0].device": "Eye class E", "lines[0].devices[0].quantity": "1e3"}, "no such number"),
        ({"lines[0].no_edge": "1", "lines[0].work": []}, "Neither an edge nor anything else"),
    ],
)
def test_devices_that_cannot_be_offered_come_back_as_typed(
    world: World, draft: Quote, more: dict[str, str], says: str
) -> None:
    response = world.client("technician").post(f"/quotes/{draft.pk}/alternatives/1/", _typed(draft, 1, **more))
    text = response.content.decode()
    assert response.status_code == 422
    assert says in html.unescape(text)
    assert "<script>alert" not in text
    assert Quote.objects.get(pk=draft.pk).offered == draft.offered


def test_an_opening_of_another_site_cannot_be_slipped_in(world: World, site: Site) -> None:
    other = world.opening
    posted = {**_picked(site, "W1"), f"in-{other.pk}": "1", f"first-{other.pk}": "Edge class B"}
    assert world.client("technician").post(f"/sites/{site.pk}/quotes/", posted).status_code == 302
    made = Quote.objects.get()
    assert str(other.pk) not in {each["opening"] for each in made.offered[0]["lines"]}
    forged = _typed(made, 1, **{"lines[0].opening": str(other.pk)})
    response = world.client("technician").post(f"/quotes/{made.pk}/alternatives/1/", forged)
    assert response.status_code == 422
    assert "none of this site" in html.unescape(response.content.decode())


def test_without_a_catalogue_the_page_says_where_to_bring_one(world: World) -> None:
    text = _page(world, f"/sites/{world.site.pk}/quotes/")
    assert f"/organisations/{world.dealer.pk}/catalogue/" in text
    posted = {"title": "x", f"in-{world.opening.pk}": "1"}
    response = world.client("owner").post(f"/sites/{world.site.pk}/quotes/", posted)
    assert response.status_code == 422
    assert "no catalogue yet" in response.content.decode()


# a draft


def test_the_owner_reads_first_what_it_comes_to_and_what_it_leaves_open(world: World, draft: Quote) -> None:
    text = _page(world, f"/quotes/{draft.pk}/")
    first = text.index("Common edge"), text.index("USD"), text.index("What it leaves open")
    assert first == tuple(sorted(first))
    assert first[2] < text.index("What is in it") < text.index("Not to be ordered yet") < text.index("History")
    assert "Nobody has confirmed the lead." in text
    assert text.count("The eye stays as it is.") == 2


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("discount", "-5", "no such percentage"),
        ("discount", "101", "no such percentage"),
        ("discount", "1e2", "no such percentage"),
        ("discount", "NaN", "no such percentage"),
        ("trips", "100000", "no such number"),
        ("lines[0].quantity", "0", "no such number"),
        ("lines[0].quantity", "99999999999999999999", "no such number"),
        ("lines[0].end_element", "10", "like 10 kohm)"),
        ("lines[0].end_element", "99 Mohm", "at most 10 MΩ"),
        ("lines[0].profile", "Edge class Z", "no such entry"),
        ("lines[0].circuit", "magic", "cannot be chosen"),
        ("lines[0].work", "dusting", "no such entry"),
        ("name", "", "missing"),
        ("name", "tall EDGE", "call them differently"),
        ("words", "a\x00b", "U+0000"),
    ],
)
def test_what_cannot_be_offered_is_said_beside_its_field_and_nothing_typed_is_lost(
    world: World, draft: Quote, field: str, typed: str, says: str
) -> None:
    form = _typed(draft, 1, **{"words": "Words that nobody wants to lose", field: typed})
    response = world.client("technician").post(f"/quotes/{draft.pk}/alternatives/1/", form)
    text = html.unescape(response.content.decode())
    assert response.status_code == 422
    assert says in text
    assert "aria-invalid" in text or field == "lines[0].work"
    assert field == "words" or "Words that nobody wants to lose" in text
    assert Quote.objects.get().offered == draft.offered


def test_markup_in_any_text_is_only_text(world: World, draft: Quote) -> None:
    part = {**part_of(draft, 1), "name": EVIL, "words": EVIL, "leaves_open": [EVIL]}  # type: ignore[dict-item]
    part["lines"] = [{**each, "note": EVIL} for each in part["lines"]]
    about = {**part_of(draft, 0), "title": EVIL, "words": EVIL, "terms": EVIL, "to": EVIL}  # type: ignore[dict-item]
    owner = world.people["owner"]
    row = change(draft, 1, part, seen=mark(part_of(draft, 1)), by=owner)
    row = change(row, 0, {**about, "exclusions": [EVIL]}, seen=mark(part_of(row, 0)), by=owner)
    out = accepted(world, sent(world, row), EVIL)
    client = world.client("owner")
    for path in (f"/quotes/{out.pk}/", f"/sites/{out.site_id}/quotes/", "/quotes/"):
        body = client.get(path).content.decode()
        assert "<script>alert" not in body
        assert "14" not in re.findall(r"alert\([^<]*", body)
    for ending in ("pdf", "xlsx", "csv", "json"):
        assert client.get(f"/quotes/{out.pk}/quote.{ending}").status_code == 200


def test_the_second_of_two_people_gets_what_the_first_changed_beside_what_was_typed(
    world: World, draft: Quote
) -> None:
    form = _typed(draft, 1, discount="7", words="From the second")
    owner = world.people["technician"]
    part = {**part_of(draft, 1), "discount": "3"}  # type: ignore[dict-item]
    first, second, *_rest = part["lines"]
    part["lines"] = [{**first, "profile": "Edge class C"}, second]  # and the third door is out
    change(draft, 1, part, seen=form["seen"], by=owner)
    client = world.client("owner")
    response = client.post(f"/quotes/{draft.pk}/alternatives/1/", form)
    text = html.unescape(response.content.decode())
    assert response.status_code == 409
    assert "Technician changed this" in text
    assert "kept: “3”" in text
    assert "you typed: “7”" in text
    assert "From the second" in text
    said = re.sub(r"<[^>]*>", " ", text)
    assert re.search(r"W1, Profile\s+kept: “Edge class C”\s+you typed: “Edge class B”", said)
    assert re.search(r"W3\s+kept: “not in it”\s+you typed: “in it”", said)
    again = re.search(r'name="seen" value="([^"]*)"', text)[1]  # type: ignore[index]
    assert client.post(f"/quotes/{draft.pk}/alternatives/1/", {**form, "seen": again}).status_code == 302
    assert Quote.objects.get().offered[0]["discount"] == "7"


def test_an_alternative_is_added_and_taken_out_again(world: World, draft: Quote) -> None:
    client, path = world.client("technician"), f"/quotes/{draft.pk}/alternatives/3/"
    assert client.get(path).status_code == 200
    form = {**_typed(draft, 1, name="Third"), "seen": mark(None)}
    assert client.post(path, form).status_code == 302
    assert [each["name"] for each in Quote.objects.get().offered][2] == "Third"
    assert client.get(f"/quotes/{draft.pk}/alternatives/4/").status_code == 404
    third = mark(part_of(Quote.objects.get(), 3))
    assert client.post(path, {"out": "1", "seen": third}).status_code == 302
    assert len(Quote.objects.get().offered) == 2


def test_openings_are_added_and_taken_out_on_the_form(world: World, site: Site) -> None:
    row, client = quote_of(world, site, "W1", "W2"), world.client("technician")
    yard = site.openings.get(tag="W3")
    form = {**_typed(row, 1), "add": str(yard.pk), "lines[0].out": "1"}
    response = client.post(f"/quotes/{row.pk}/alternatives/1/", form)
    assert response["Location"].endswith("/alternatives/1/")
    lines = Quote.objects.get().offered[0]["lines"]
    assert [site.openings.get(pk=each["opening"]).tag for each in lines] == ["W2", "W3"]
    assert lines[1]["profile"] == "Edge class B, cut on site"  # the cheapest that fits


# sending and what follows


def _send(world: World, row: Quote, who: str = "owner", **more: str) -> Any:
    seen = re.search(r'name="seen" value="([^"]*)"', _page(world, f"/quotes/{row.pk}/"))
    told = {"state": "sent", "seen": seen[1] if seen else "", **more}
    return world.client(who).post(f"/quotes/{row.pk}/step/", told)


def test_a_quote_goes_out_and_its_files_are_there_for_whoever_reads_the_site(world: World, draft: Quote) -> None:
    assert world.client("friend").get(f"/quotes/{draft.pk}/").status_code == 404
    assert _send(world, draft).status_code == 302
    row = Quote.objects.get()
    assert row.state == "sent"
    assert world.client("friend").get(f"/quotes/{row.pk}/").status_code == 200
    for ending, begins in (("pdf", b"%PDF"), ("xlsx", b"PK"), ("csv", b"\xef\xbb\xbf"), ("json", b"{")):
        response = world.client("friend").get(f"/quotes/{row.pk}/quote.{ending}")
        assert response.status_code == 200
        assert response.content.startswith(begins)
        assert f"q-0001-invented-quay.{ending}" in response["Content-Disposition"]


def test_who_may_write_makes_and_changes_and_who_manages_sends(world: World, draft: Quote) -> None:
    assert world.client("technician").post(f"/quotes/{draft.pk}/step/", {"state": "sent"}).status_code == 403
    assert world.client("reader").get(f"/quotes/{draft.pk}/change/").status_code == 403
    assert world.client("reader").get(f"/quotes/{draft.pk}/").status_code == 200
    assert "It goes out" not in _page(world, f"/quotes/{draft.pk}/", "technician")


def test_a_quote_of_another_organisation_is_not_there_whatever_is_asked_of_it(world: World, draft: Quote) -> None:
    client = world.client("stranger")
    assert client.get(f"/quotes/{draft.pk}/").status_code == 404
    assert client.get(f"/quotes/{draft.pk}/quote.json").status_code == 404
    for deed in ("step", "ask", "prices", "copy", "order", "change", "alternatives/1"):
        assert client.post(f"/quotes/{draft.pk}/{deed}/", {"state": "sent"}).status_code == 404


def test_a_newer_catalogue_stands_on_the_page_and_has_to_be_taken_or_left(world: World, draft: Quote) -> None:
    bring(world.dealer, replace(demo(), priced_on="2026-09-01"), world.people["owner"])
    response = _send(world, draft)
    assert response.status_code == 422
    assert "Version 2 of the catalogue counts now" in response.content.decode()
    assert _send(world, draft, keeps_prices="1").status_code == 302
    assert Quote.objects.get().catalogue.number == 1


def test_a_draft_takes_the_prices_that_count_now(world: World, draft: Quote) -> None:
    dear = demo()
    dearer = tuple(
        replace(each, price=replace(each.price, each=each.price.each + 1000)) if each.price else each
        for each in dear.profiles
    )
    before = _page(world, f"/quotes/{draft.pk}/")
    bring(world.dealer, replace(dear, profiles=dearer), world.people["owner"])
    assert world.client("technician").post(f"/quotes/{draft.pk}/prices/").status_code == 302
    after = _page(world, f"/quotes/{draft.pk}/")
    totals = [re.search(r'<strong class="number">([\d,.]+) USD', text)[1] for text in (before, after)]  # type: ignore[index]
    assert float(totals[1].replace(",", "")) - float(totals[0].replace(",", "")) == pytest.approx(3000)


def test_accepted_names_the_alternative_the_person_and_the_day(world: World, draft: Quote) -> None:
    row, client = sent(world, draft), world.client("advisor")
    told = {
        "state": "accepted",
        "alternative": "Tall edge",
        "name": "N. Berg",
        "on": timezone.localdate().isoformat(),
    }
    later = (timezone.localdate() + timedelta(days=1)).isoformat()
    assert client.post(f"/quotes/{row.pk}/step/", {**told, "on": later}).status_code == 422
    for field, says in (("alternative", "Say which alternative was accepted."), ("name", "Say who accepted it.")):
        response = client.post(f"/quotes/{row.pk}/step/", {**told, field: ""})
        assert response.status_code == 422
        assert says in response.content.decode()
    assert client.post(f"/quotes/{row.pk}/step/", told).status_code == 302
    assert client.post(f"/quotes/{row.pk}/step/", {**told, "alternative": "Common edge"}).status_code == 422
    step = QuoteStep.objects.get(state="accepted")
    assert (step.alternative, step.name, step.by) == ("Tall edge", "N. Berg", world.people["advisor"])
    assert "“Tall edge” was accepted" in _page(world, f"/quotes/{row.pk}/")


def test_lost_needs_its_reason_and_keeps_what_was_typed_with_it(world: World, draft: Quote) -> None:
    row, client = sent(world, draft), world.client("owner")
    response = client.post(f"/quotes/{row.pk}/step/", {"state": "lost", "reason": ""})
    assert response.status_code == 422
    assert "say why it was lost" in response.content.decode()
    assert client.post(f"/quotes/{row.pk}/step/", {"state": "lost", "reason": "price"}).status_code == 302
    assert "Lost" in _page(world, f"/quotes/{row.pk}/")


def test_a_quote_that_ran_out_is_not_accepted_but_copied_at_the_prices_of_today(world: World, draft: Quote) -> None:
    row = sent(world, draft)
    Quote.objects.filter(pk=row.pk).update(valid_until=timezone.localdate() - timedelta(days=1))
    assert "It ran out" in _page(world, f"/quotes/{row.pk}/")
    assert world.client("technician").post(f"/quotes/{row.pk}/copy/").status_code == 302
    copy = Quote.objects.exclude(pk=row.pk).get()
    assert (copy.state, copy.offered, copy.label) == ("draft", row.offered, "Q-0002")
    assert copy.valid_until >= timezone.localdate()


def test_a_file_that_was_changed_on_the_disk_is_not_handed_out(world: World, draft: Quote) -> None:
    row = sent(world, draft)
    path_of(row.files.get(ending="json").paper.pk).write_bytes(b"{}")
    response = world.client("owner").get(f"/quotes/{row.pk}/quote.json")
    assert response.status_code == 409
    assert world.client("owner").get(f"/quotes/{row.pk}/quote.exe").status_code == 404


def test_the_list_of_today_says_why_each_is_to_be_asked_about(world: World, draft: Quote) -> None:
    row, today = sent(world, draft), timezone.localdate().isoformat()
    assert "Nobody is to be asked today." in _page(world, "/quotes/")
    assert world.client("technician").post(f"/quotes/{row.pk}/ask/", {"ask_again_on": "soon"}).status_code == 422
    assert world.client("technician").post(f"/quotes/{row.pk}/ask/", {"ask_again_on": today}).status_code == 302
    text = _page(world, "/quotes/", "reader")
    assert "1 quote waits for an answer" in text
    assert "no answer yet" in text
    assert "Q-0001" not in _page(world, "/quotes/", "stranger")


def test_the_site_and_the_organisation_lead_to_quotes_and_catalogue(world: World, site: Site) -> None:
    assert f'href="/sites/{site.pk}/quotes/"' in _page(world, f"/sites/{site.pk}/")
    text = _page(world, f"/organisations/{world.dealer.pk}/")
    assert f'href="/organisations/{world.dealer.pk}/catalogue/"' in text
    assert 'href="/quotes/"' in text
