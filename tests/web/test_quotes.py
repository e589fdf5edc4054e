"""Quotes: made from a site's openings, changed while they are drafts, sent as they are, and what became of them."""

from __future__ import annotations

import json
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.db import Error, connection, transaction
from django.utils import timezone

from sillwright.base.errors import InputError
from sillwright.catalogue import demo
from sillwright.takeoff.ordering.quote import Quote as Offered
from sillwright.web.orders.catalogues import bring
from sillwright.web.orders.changed import Meanwhile
from sillwright.web.orders.kept import packed, unpacked
from sillwright.web.orders.models import Quote, QuoteFile, QuoteStep
from sillwright.web.orders.offers import mark
from sillwright.web.orders.orders import order_of
from sillwright.web.orders.quote_pages import due
from sillwright.web.orders.quotes import as_sent, ask_again, change, part_of, send, step, take_prices, worked_out
from sillwright.web.records.log import Refused, Said, write
from sillwright.web.records.models import Event, Paper
from sillwright.web.records.papers import content_of

from .conftest import World
from .ordering import READER, accepted, quay, quote_of, sent, with_catalogue


@pytest.fixture
def draft(world: World) -> Quote:
    """A draft for the north bay, with two alternatives."""
    return quote_of(world, quay(world), "W1")


def _dearer(world: World) -> None:
    """The organisation brings the same catalogue at prices of another day."""
    from dataclasses import replace

    bring(world.dealer, replace(demo(), priced_on="2026-09-01"), world.people["owner"])


def test_a_quote_is_numbered_by_its_organisation(world: World) -> None:
    site = quay(world)
    assert [quote_of(world, site, "W1").label for _ in range(3)] == ["Q-0001", "Q-0002", "Q-0003"]


def test_what_a_draft_comes_to_is_what_the_take_off_and_the_catalogue_say(draft: Quote) -> None:
    found = worked_out(draft, READER)
    assert found.wrong == ()
    assert isinstance(found.quote, Offered)
    first, second = (each.totals("USD", None) for each in found.offers)
    # the edge as its verdict says, its cord, 0.75 h and 0.02 h a foot of two persons at 235, a trip
    assert [str(each) for each in first.amounts] == ["385.00", "37.00", "225.60", "120.00"]
    assert first.total == Decimal("767.60")
    assert second.subtotal - second.discount == second.total
    assert second.discount == (second.subtotal * Decimal("0.05")).quantize(Decimal("0.01"))


def test_a_line_that_something_stands_against_is_offered_all_the_same(world: World) -> None:
    found = worked_out(quote_of(world, quay(world), "W2"), READER)
    assert found.quote is not None
    assert "lead_unconfirmed" in {each.id for each in found.offers[0].lines[0].blocked}


def test_an_alternative_that_does_not_say_what_it_leaves_open_cannot_be_offered(world: World, draft: Quote) -> None:
    part = {**part_of(draft, 1), "leaves_open": []}  # type: ignore[dict-item]
    changed = change(draft, 1, part, seen=mark(part_of(draft, 1)), by=world.people["owner"])
    found = worked_out(changed, READER)
    assert found.quote is None
    assert "leaves open" in found.wrong[0]
    with pytest.raises(Refused, match="leaves open"):
        sent(world, changed)


def test_what_was_sent_is_read_back_as_it_was(draft: Quote) -> None:
    quote = worked_out(draft, READER).quote
    assert unpacked(json.loads(json.dumps(packed(quote)))) == quote
    lines = worked_out(draft, READER).offers[0].lines
    assert unpacked(json.loads(json.dumps(packed(lines)))) == lines


def test_what_an_earlier_version_sent_is_read_though_a_field_came_or_went(draft: Quote) -> None:
    quote = worked_out(draft, READER).quote
    told = json.loads(json.dumps(packed(quote)))
    told["stamp"] = "a field that this version no longer has"
    del told["ask_again_on"]
    assert unpacked(told) == quote


def test_a_quote_that_was_sent_says_the_same_whatever_is_measured_or_priced_later(
    world: World, draft: Quote
) -> None:
    out = sent(world, draft)
    before, files = as_sent(out), {each.ending: content_of(each.paper) for each in out.files.all()}
    door = out.site.openings.get(tag="W1")
    write(out.site, door, Said(fact="door.panel_width", typed="9 ft"), author=world.people["owner"])
    _dearer(world)
    again = Quote.objects.get(pk=out.pk)
    assert as_sent(again) == before
    assert {each.ending: content_of(each.paper) for each in again.files.all()} == files
    assert set(files) == {"pdf", "xlsx", "csv", "json"}
    client = world.client("reader")
    for ending, content in files.items():
        assert client.get(f"/quotes/{out.pk}/quote.{ending}").content == content


def test_what_went_out_cannot_be_changed_not_even_in_the_database(world: World, draft: Quote) -> None:
    out = sent(world, draft)
    with pytest.raises(Refused, match="not changed any more"):
        change(out, 1, part_of(out, 1), seen=mark(part_of(out, 1)), by=world.people["owner"])
    with pytest.raises(Refused):
        take_prices(out, out.catalogue, by=world.people["owner"])
    for table in (QuoteStep, QuoteFile):
        for deed in ("UPDATE {} SET quote_id = quote_id", "DELETE FROM {}"):
            with pytest.raises(Error, match="only added to"), transaction.atomic(), connection.cursor() as cursor:
                cursor.execute(deed.format(table._meta.db_table))


def test_two_people_who_change_different_parts_do_not_meet(world: World, draft: Quote) -> None:
    owner, technician = world.people["owner"], world.people["technician"]
    seen = [mark(part_of(draft, place)) for place in (0, 1, 2)]
    change(draft, 1, {**part_of(draft, 1), "discount": "3"}, seen=seen[1], by=owner)  # type: ignore[dict-item]
    change(draft, 2, {**part_of(draft, 2), "discount": "7"}, seen=seen[2], by=technician)  # type: ignore[dict-item]
    now = Quote.objects.get(pk=draft.pk)
    assert [each["discount"] for each in now.offered] == ["3", "7"]
    assert now.revision == 2


def test_the_second_of_two_who_change_the_same_part_is_told_by_whom(world: World, draft: Quote) -> None:
    seen, part = mark(part_of(draft, 1)), part_of(draft, 1)
    change(draft, 1, {**part, "discount": "3"}, seen=seen, by=world.people["technician"])  # type: ignore[dict-item]
    with pytest.raises(Meanwhile, match="Technician") as told:
        change(draft, 1, {**part, "discount": "7"}, seen=seen, by=world.people["owner"])  # type: ignore[dict-item]
    assert told.value.now["discount"] == "3"
    assert Quote.objects.get(pk=draft.pk).offered[0]["discount"] == "3"


def test_a_quote_is_not_sent_where_it_comes_out_otherwise_than_was_looked_at(world: World, draft: Quote) -> None:
    seen = worked_out(draft, READER).mark
    door = draft.site.openings.get(tag="W1")
    write(draft.site, door, Said(fact="door.panel_width", typed="10 ft 5 in"), author=world.people["technician"])
    told: dict[str, Any] = {"on": timezone.localdate(), "name": "Owner", "by": world.people["owner"]}
    with pytest.raises(Meanwhile):
        send(Quote.objects.get(pk=draft.pk), READER, seen=seen, keeps_prices=False, **told)
    assert Quote.objects.get(pk=draft.pk).state == "draft"
    assert not Paper.objects.filter(kind="quote").exists()


def test_a_catalogue_that_came_meanwhile_is_taken_or_left_knowingly(world: World, draft: Quote) -> None:
    _dearer(world)
    told: dict[str, Any] = {"on": timezone.localdate(), "name": "Owner", "by": world.people["owner"]}
    seen = worked_out(draft, READER).mark
    with pytest.raises(Refused, match="Version 2 of the catalogue counts now"):
        send(draft, READER, seen=seen, keeps_prices=False, **told)
    assert send(draft, READER, seen=seen, keeps_prices=True, **told).catalogue.number == 1
    other = quote_of(world, draft.site, "W1")
    assert other.catalogue.number == 2


def test_a_profile_that_the_new_catalogue_no_longer_has_is_named_and_holds_it_up(
    world: World, draft: Quote
) -> None:
    from dataclasses import replace

    whole = demo()
    fewer = tuple(each for each in whole.profiles if each.name != "Edge class B")
    version = bring(world.dealer, replace(whole, profiles=fewer), world.people["owner"])
    found = worked_out(take_prices(draft, version, by=world.people["owner"]), READER)
    assert found.quote is None
    assert "“Edge class B” is not in version 2" in found.wrong[0]


def test_an_accepted_alternative_becomes_an_order_with_what_was_chosen(world: World, draft: Quote) -> None:
    won = accepted(world, sent(world, draft), "Tall edge")
    order = order_of(won, by=world.people["technician"])
    assert [each["profile"] for each in order.lines] == ["Edge class C"]
    assert order_of(won, by=world.people["owner"]) == order
    assert order.label == "PO-0001"


def test_only_one_of_two_who_take_down_an_acceptance_at_once_is_kept(world: World, draft: Quote) -> None:
    out = sent(world, draft)
    stale = Quote.objects.get(pk=out.pk)
    accepted(world, out, "Common edge")
    with pytest.raises(InputError, match="accepted"):
        accepted(world, stale, "Tall edge")
    assert [each.alternative for each in out.steps.filter(state="accepted")] == ["Common edge"]


@pytest.mark.parametrize(
    ("state", "more", "says"),
    [
        ("accepted", {"alternative": "Golden edge"}, "has no alternative"),
        ("lost", {"reason": "  "}, "why it was lost"),
        ("expired", {}, "holds until"),
        ("sent", {}, "becomes accepted"),
    ],
)
def test_what_cannot_follow_is_refused_and_says_what_can(
    world: World, draft: Quote, state: str, more: dict[str, str], says: str
) -> None:
    out = sent(world, draft)
    told: dict[str, Any] = {"on": timezone.localdate(), "name": "Owner", "by": world.people["owner"], **more}
    with pytest.raises((InputError, Refused), match=says):
        step(out, state, **told)
    assert Quote.objects.get(pk=out.pk).state == "sent"


def test_a_draft_has_no_end_but_being_sent(world: World, draft: Quote) -> None:
    told: dict[str, Any] = {"on": timezone.localdate(), "name": "N. Berg", "by": world.people["owner"]}
    with pytest.raises(Refused, match="send it first"):
        step(draft, "accepted", alternative="Common edge", **told)


def test_the_terms_of_the_last_quote_are_what_the_next_one_begins_with(world: World, draft: Quote) -> None:
    part = {**part_of(draft, 0), "terms": "Thirty days net.\nGoods stay ours until paid."}  # type: ignore[dict-item]
    change(draft, 0, part, seen=mark(part_of(draft, 0)), by=world.people["owner"])
    client, door = world.client("technician"), draft.site.openings.get(tag="W3")
    posted = {"title": "Yard", f"in-{door.pk}": "1", f"first-{door.pk}": "Edge class B"}
    assert client.post(f"/sites/{draft.site.pk}/quotes/", posted).status_code == 302
    assert Quote.objects.get(title="Yard").terms == part["terms"]


def test_whom_to_ask_about_today_stands_in_one_list_for_all_sites_one_sees(world: World, draft: Quote) -> None:
    today = timezone.localdate()
    out = sent(world, draft)
    assert due(world.people["owner"], today) == []
    assert [row for row, _why in due(world.people["owner"], today + timedelta(days=7))] == [out]
    ask_again(out, today, by=world.people["technician"])
    assert [row for row, _why in due(world.people["friend"], today)] == [out]
    assert due(world.people["stranger"], today) == []
    later = quote_of(world, draft.site, "W3")
    assert later in [row for row, _why in due(world.people["reader"], today + timedelta(days=30))]
    assert later not in [row for row, _why in due(world.people["friend"], today + timedelta(days=30))]


def test_everything_that_is_done_with_a_quote_stands_in_the_trail(world: World, draft: Quote) -> None:
    accepted(world, sent(world, draft))
    rows = Event.objects.filter(verb__startswith="quote", what="Q-0001 Edges at the quay").order_by("pk")
    verbs = list(rows.values_list("verb", flat=True))
    assert verbs == ["quote made", "quote sent", "quote accepted"]
    assert with_catalogue(world).number == 1
