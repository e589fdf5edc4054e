"""Calls that are kept on an opening: by whom, how they end, and what closed ones teach."""

from __future__ import annotations

import html
import re
import uuid
from typing import Any

import pytest
from django.db import DatabaseError, transaction
from django.utils import timezone

from sillwright.trouble.answer import Call
from sillwright.trouble.said import call_as_json, call_from
from sillwright.web.accounts.models import Membership
from sillwright.web.records.models import Event, Opening
from sillwright.web.records.sites import share
from sillwright.web.trouble.advised import basis_for, fingerprint_of
from sillwright.web.trouble.learned import closed_calls, organisations_of
from sillwright.web.trouble.models import CallEnd, KeptCall

from .conftest import World
from .test_trouble_pages import FAR, shown
from .test_trouble_substitutes import booked

CALL = f"{FAR}&who=technician&a=closes_on_objects:no&a=ohms_operator:open&t=1700000000"


def kept(world: World, who: str = "technician", opening: Opening | None = None, call: str = CALL) -> KeptCall:
    """A call that somebody kept."""
    response = sent(world, who, call=call, opening=str((opening or world.opening).pk))
    assert response.status_code == 302, response.content
    found: KeptCall = KeptCall.objects.order_by("-kept")[0]
    return found


def sent(world: World, who: str, **fields: str) -> Any:
    """What the form that keeps a call answers."""
    return world.client(who).post("/trouble/keep/", {"key": str(uuid.uuid4()), **fields})


def ended(world: World, call: KeptCall, who: str = "technician", **fields: Any) -> Any:
    """What the form that closes a call answers."""
    return world.client(who).post(f"/calls/{call.pk}/", fields)


def row(
    world: World, *, call: dict[str, Any] | None = None, faults: Any = None, opening: Opening | None = None
) -> None:
    """A closed call, written without its pages."""
    at, by = opening or world.opening, world.people["owner"]
    about = {"site": at.site, "opening": at, "author": by, "started": timezone.now(), "fingerprint": "0" * 64}
    made = KeptCall.objects.create(call=call or {"symptom": "CALL-01"}, **about)
    CallEnd.objects.create(call=made, faults=faults, by=by)


def test_a_call_is_kept_as_it_was_told_and_as_it_was_advised(world: World) -> None:
    response = sent(
        world,
        "technician",
        call=CALL,
        opening=str(world.opening.pk),
        caller="Gate keeper",
        words="Power off\ntagged",
    )
    assert response.status_code == 302
    found = KeptCall.objects.get()
    told = call_from(found.call)
    assert (told.who, told.symptom) == ("technician", "CALL-01")
    assert told.answers[-2:] == (("closes_on_objects", "no"), ("ohms_operator", "open"))
    assert found.started.timestamp() == 1700000000
    assert found.fingerprint == fingerprint_of(basis_for(None, None).model)
    assert found.advice["left"].startswith("Leave it closed, power off")
    assert found.advice["suspects"][0]["probability"] > 0.1
    page = html.unescape(world.client("reader").get(response["Location"]).content.decode())
    for words in ("Gate keeper", "Power off", "It closes only while the button is held.", "Left so:"):
        assert words in page
    assert "Close the call" not in page  # a reader closes nothing
    assert Event.objects.filter(verb="call kept", opening=world.opening).count() == 1


def test_the_calls_of_an_opening_are_listed_and_the_page_of_the_opening_leads_there(world: World) -> None:
    kept(world)
    address = f"/openings/{world.opening.pk}/calls/"
    page = world.client("reader").get(address).content.decode()
    assert "It closes only while the button is held." in page
    assert "Still open" in page
    assert f'href="{address}"' in world.client("reader").get(f"/openings/{world.opening.pk}/").content.decode()


def test_a_call_is_kept_where_one_may_write_and_nowhere_else(world: World) -> None:
    at = str(world.opening.pk)
    assert [sent(world, who, call=CALL, opening=at).status_code for who in ("reader", "friend", "stranger")] == [
        403,
        403,
        404,
    ]
    assert not KeptCall.objects.exists()
    page = world.client("stranger").get(f"/trouble/keep/?{CALL}").content.decode()
    assert "There is no opening that you may write at." in page
    listed = world.client("technician").get(f"/trouble/keep/?{CALL}").content.decode()
    assert listed.count("Lanternfield Ferry Yard</option>") == world.site.openings.count()


def test_a_form_that_comes_twice_keeps_one_call(world: World) -> None:
    told = {"key": str(uuid.uuid4()), "call": CALL, "opening": str(world.opening.pk)}
    client = world.client("technician")
    first, second = (client.post("/trouble/keep/", told) for _time in range(2))
    assert first["Location"] == second["Location"]
    assert KeptCall.objects.count() == 1
    other = world.site.openings.order_by("position")[1]
    assert client.post("/trouble/keep/", {**told, "opening": str(other.pk)}).status_code == 422


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"opening": ""}, "Choose the opening that the call is about."),
        ({"words": "x" * 1001}, "at most 1000 signs"),
        ({"caller": "\x00"}, "cannot be kept"),
    ],
)
def test_what_cannot_be_kept_comes_back_as_it_was_typed(world: World, fields: dict[str, str], words: str) -> None:
    told = {"call": CALL, "opening": str(world.opening.pk), "words": "left closed", **fields}
    response = sent(world, "technician", **told)
    assert response.status_code == 422
    page = html.unescape(response.content.decode())
    assert words in page
    assert told["words"] in page
    assert not KeptCall.objects.exists()


def test_a_call_that_was_never_asked_so_is_not_kept(world: World) -> None:
    assert sent(world, "technician", call="a=nothing:no", opening=str(world.opening.pk)).status_code == 422


def test_a_kept_call_shows_a_danger_that_was_told(world: World) -> None:
    found = kept(world, call="harm=hurt:yes&who=owner")
    assert found.advice["next"] is None
    assert found.advice["stop"].startswith("Call the emergency number now.")
    assert "Call the emergency number now." in world.client("owner").get(f"/calls/{found.pk}/").content.decode()


def test_a_call_is_closed_with_what_was_found(world: World) -> None:
    call = kept(world)
    response = ended(world, call, fault=["LEAD_OPEN", ""], minutes="45", words="New cord, tested over the width")
    assert response.status_code == 302
    end = CallEnd.objects.get()
    assert (end.faults, end.minutes, end.by) == (["LEAD_OPEN"], 45, world.people["technician"])
    page = html.unescape(world.client("reader").get(f"/calls/{call.pk}/").content.decode())
    assert "The lead or the cord to the edge is broken." in page
    assert "45 min" in page


def test_a_later_end_is_an_addition_and_counts(world: World) -> None:
    call = kept(world)
    ended(world, call, fault=["LEAD_OPEN"])
    ended(world, call, fault=["WET_EDGE", "SITE_JOINT"], words="It was the edge after all")
    assert call.ends.count() == 2
    assert [each.faults for each in closed_calls([world.dealer.pk])] == [("WET_EDGE", "SITE_JOINT")]


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"fault": ["NO_SUCH"]}, "There is no fault “NO_SUCH”"),
        ({"fault": ["LEAD_OPEN", "WET_EDGE", "JOINT"]}, "one fault of the list, two at once"),
        ({"fault": ["-", "WET_EDGE"]}, "one fault of the list, two at once"),
        ({"minutes": "soon"}, "a whole number from 0"),
        ({"minutes": "-5"}, "a whole number from 0"),
        ({"minutes": "99999"}, "a whole number from 0"),
        ({"words": "x" * 1001}, "at most 1000 signs"),
    ],
)
def test_an_end_that_cannot_be_is_refused_with_what_would_be_right(
    world: World, fields: dict[str, Any], words: str
) -> None:
    call = kept(world)
    response = ended(world, call, **fields)
    assert response.status_code == 422
    assert words in html.unescape(response.content.decode())
    assert not CallEnd.objects.exists()


def test_no_call_is_closed_while_a_substitute_part_is_in(world: World) -> None:
    call = kept(world)
    booked(world)
    response = ended(world, call, fault=["LEAD_OPEN"])
    assert response.status_code == 422
    assert "no call about it is closed" in html.unescape(response.content.decode())
    assert not CallEnd.objects.exists()
    assert "Close the call" not in world.client("technician").get(f"/calls/{call.pk}/").content.decode()


def test_a_call_that_is_kept_while_a_part_is_in_says_so(world: World) -> None:
    booked(world, number="17")
    found = kept(world, call=f"{CALL}&opening={world.opening.pk}")
    assert found.call["booked_in"] == ["17"]
    assert found.advice["blocked_by"] == ["17"]


@pytest.mark.parametrize("who", ["reader", "friend", "stranger"])
def test_who_may_not_write_closes_nothing(world: World, who: str) -> None:
    assert ended(world, kept(world), who).status_code == (404 if who == "stranger" else 403)


@pytest.mark.parametrize("table", [KeptCall, CallEnd])
def test_no_call_and_no_end_is_ever_changed_or_deleted(world: World, table: Any) -> None:
    row(world, faults=["LEAD_OPEN"])
    field = "fingerprint" if table is KeptCall else "words"
    with pytest.raises(DatabaseError), transaction.atomic():
        table.objects.update(**{field: "x"})
    with pytest.raises(DatabaseError), transaction.atomic():
        table.objects.all().delete()


def test_a_call_is_written_down_and_read_back_whole() -> None:
    call = Call(
        who="owner",
        symptom=None,
        harm=(("hurt", "no"),),
        answers=(("eye_lamps", None), ("every_time", "now_and_then")),
        facts=(("leaf", "door"),),
        repaired=("new_cord",),
        after=(("every_time", 1),),
        booked_in=("17",),
    )
    assert call_from(call_as_json(call)) == call
    assert call_from({}) == Call()


# what closed calls teach


def test_closed_calls_of_the_organisation_move_its_shares_and_it_is_said(world: World) -> None:
    query = f"{FAR}&who=technician"
    client = world.client("technician")
    assert "of yours moved these shares" not in shown(query, client)
    for _time in range(17):
        row(world, faults=["RADIO_BATT"])
    page = shown(query, client)
    assert "17 closed calls of yours moved these shares." in page
    likely = page.index("A battery of the transmitter is weak.")
    assert likely < page.index("There is water in the edge.")
    assert "closed call" not in shown(query)  # nobody else learns of it
    assert "closed call" not in shown(query, world.client("stranger"))


def test_nothing_found_teaches_nothing_and_none_of_these_does(world: World) -> None:
    row(world, faults=None)
    assert closed_calls([world.dealer.pk]) == []
    row(world, faults=[])
    assert [each.faults for each in closed_calls([world.dealer.pk])] == [()]


def test_a_fault_that_this_version_no_longer_has_teaches_nothing(world: World) -> None:
    row(world, faults=["GONE_SINCE"])
    row(world, call={"symptom": "CALL-99"}, faults=["LEAD_OPEN"])
    row(world, call={"symptom": None}, faults=["LEAD_OPEN"])
    assert basis_for(world.people["owner"], None).learned == 1


def test_whoever_reads_a_shared_site_does_not_learn_from_its_calls(world: World) -> None:
    row(world, faults=["LEAD_OPEN"])
    friend = world.people["friend"]
    share(world.site, world.other, "write", author=world.people["owner"])
    assert organisations_of(friend, world.opening) == [world.other.pk]
    assert basis_for(friend, world.opening).learned == 0
    Membership.objects.create(user=friend, organisation=world.dealer, role="technician")
    assert organisations_of(friend, world.opening) == [world.dealer.pk]
    assert len(organisations_of(friend, None)) == 2


def test_the_page_of_rates_shows_counts_beside_the_shares_they_move(world: World) -> None:
    address = f"/organisations/{world.dealer.pk}/calls/"
    assert "No call was closed yet" in world.client("reader").get(address).content.decode()
    for _time in range(10):
        row(world, faults=["RADIO_BATT"])
    row(world, faults=[])
    page = re.sub(r"<[^>]+>", " ", html.unescape(world.client("reader").get(address).content.decode()))
    assert "11 closed calls" in page
    found = re.search(r"A battery of the transmitter is weak\.\s+10\s+([\d.]+) %\s+([\d.]+) %", page)
    assert found
    before, after = (float(each) for each in found.groups())
    assert after == pytest.approx(100 * (100 * before / 100 + 10) / 111, abs=0.11)
    assert world.client("friend").get(address).status_code == 404
