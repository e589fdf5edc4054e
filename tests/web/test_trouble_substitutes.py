"""Substitute parts: while one is in nothing of its opening is closed or papered, and only a photo takes it out."""

from __future__ import annotations

import uuid
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import DatabaseError, transaction

from sillwright.web.records.log import Refused
from sillwright.web.records.models import Event, Opening, Photo
from sillwright.web.records.surveys import facts_of
from sillwright.web.trouble.models import Substitute, SubstituteOut
from sillwright.web.trouble.substitutes import book_in, book_out, refuse_while_in, still_in

from .api_callers import photo_of
from .conftest import World
from .ordering import order_for, quay, quote_of, released, sent
from .photographs import jpeg


def booked(
    world: World, number: str = "17", place: str = "board, 5 and 6", opening: Opening | None = None
) -> Substitute:
    """A part that the technician booked in."""
    at = opening or world.opening
    return book_in(at, uuid.uuid4(), number, place, by=world.people["technician"])


def posted(world: World, who: str, address: str, **fields: Any) -> Any:
    """What a form answers."""
    return world.client(who).post(address, fields)


def taken(name: str = "terminals.jpg") -> SimpleUploadedFile:
    """A photo as a phone sends it with a form."""
    return SimpleUploadedFile(name, jpeg(), "image/jpeg")


def test_a_technician_books_a_part_in_by_number_and_place(world: World) -> None:
    address = f"/openings/{world.opening.pk}/substitutes/"
    response = posted(world, "technician", address, key=str(uuid.uuid4()), number=" 17 ", place="board,  5 and 6")
    assert response.status_code == 302
    part = Substitute.objects.get()
    assert (part.number, part.place, part.by) == ("17", "board, 5 and 6", world.people["technician"])
    page = world.client("reader").get(address).content.decode()
    assert "1 substitute part is in" in page
    assert "red tag 17 at board, 5 and 6" in page
    assert Event.objects.filter(verb="part booked in", opening=world.opening).count() == 1


def test_the_same_form_sent_twice_books_one_part(world: World) -> None:
    address, key = f"/openings/{world.opening.pk}/substitutes/", str(uuid.uuid4())
    for _time in range(2):
        assert posted(world, "technician", address, key=key, number="17", place="box").status_code == 302
    assert Substitute.objects.count() == 1
    assert posted(world, "technician", address, key=key, number="18", place="box").status_code == 422


@pytest.mark.parametrize(
    ("number", "place", "words"),
    [
        ("", "board", "Number on the red tag: this is missing"),
        ("17", "  ", "Place: this is missing"),
        ("1" * 21, "board", "at most 20 signs"),
        ("17", "x" * 101, "at most 100 signs"),
        ("1\x007", "board", "cannot be kept"),
    ],
)
def test_a_part_without_number_or_place_is_not_booked(world: World, number: str, place: str, words: str) -> None:
    response = posted(world, "owner", f"/openings/{world.opening.pk}/substitutes/", number=number, place=place)
    assert response.status_code == 422
    assert words in response.content.decode()
    assert not Substitute.objects.exists()


def test_markup_on_a_tag_stays_text(world: World) -> None:
    booked(world, number="<b>1</b>", place="<script>alert(1)</script>")
    page = world.client("technician").get(f"/openings/{world.opening.pk}/substitutes/").content.decode()
    assert "&lt;b&gt;1&lt;/b&gt;" in page
    assert "<script>alert" not in page


def test_one_tag_is_in_once_at_a_site(world: World) -> None:
    second = world.site.openings.order_by("position")[1]
    booked(world, number="a7")
    with pytest.raises(Refused, match="Red tag A7 is in already"):
        booked(world, number="A7", opening=second)
    assert booked(world, number="8", opening=second).number == "8"


def test_while_a_part_is_in_no_paper_of_its_opening_is_made_and_none_of_its_site(world: World) -> None:
    booked(world)
    for address in (f"/openings/{world.opening.pk}/papers/", f"/sites/{world.site.pk}/papers/"):
        response = posted(world, "owner", address, kind="answer")
        assert response.status_code == 422
        assert "A substitute part is in: B1, red tag 17 at board, 5 and 6." in response.content.decode()


def test_a_paper_of_another_opening_is_made_all_the_same(world: World) -> None:
    booked(world)
    second = world.site.openings.order_by("position")[1]
    assert posted(world, "owner", f"/openings/{second.pk}/papers/", kind="elevation").status_code == 302


def test_the_opening_says_stop_while_a_part_is_in(world: World) -> None:
    client, address = world.client("technician"), f"/openings/{world.opening.pk}/"
    assert "Substitute part in" not in client.get(address).content.decode()
    part = booked(world)
    page = client.get(address).content.decode()
    assert "Substitute part in: red tag 17" in page
    assert "A temporary part is in place" in page  # the study says it too
    book_out(part, kept_photo(world), by=world.people["technician"])
    page = client.get(address).content.decode()
    assert "Substitute part in" not in page
    assert "A temporary part is in place" not in page


def kept_photo(world: World, opening: Opening | None = None) -> Photo:
    """A photo that has arrived."""
    return photo_of(opening or world.opening, world.people["technician"], state="kept")


def test_the_facts_name_the_part_while_it_is_in(world: World) -> None:
    part = booked(world)
    found = facts_of(world.opening).rebuilt.survey.openings[0].temporary_parts
    assert [(each.number.value, each.place.value, each.by.value) for each in found] == [
        ("17", "board, 5 and 6", "Technician")
    ]
    book_out(part, kept_photo(world), by=world.people["technician"])
    assert len(facts_of(world.opening).rebuilt.survey.openings[0].temporary_parts) == 0


def test_a_part_is_booked_out_with_a_photo_that_is_taken_then(world: World) -> None:
    part = booked(world)
    address = f"/substitutes/{part.pk}/out/"
    response = posted(world, "technician", address, key=str(uuid.uuid4()), file=taken())
    assert response.status_code == 302
    out = SubstituteOut.objects.get()
    assert (out.substitute, out.photo.state, out.photo.opening) == (part, "kept", world.opening)
    assert still_in([world.opening.pk]) == []
    refuse_while_in([world.opening.pk])  # nothing stands against a paper any more
    assert "It is out since" in world.client("technician").get(address).content.decode()


@pytest.mark.parametrize("fields", [{}, {"photo": "nothing"}, {"photo": "00000000-0000-4000-8000-000000000000"}])
def test_without_a_photo_a_part_stays_in(world: World, fields: dict[str, str]) -> None:
    part = booked(world)
    response = posted(world, "technician", f"/substitutes/{part.pk}/out/", **fields)
    assert response.status_code == 422
    assert "Take a photo of the terminals first" in response.content.decode()
    assert still_in([world.opening.pk]) == [part]


def test_what_is_no_photo_takes_no_part_out(world: World) -> None:
    part = booked(world)
    wrong = SimpleUploadedFile("terminals.jpg", b"this is text", "image/jpeg")
    assert posted(world, "technician", f"/substitutes/{part.pk}/out/", file=wrong).status_code == 422
    assert still_in([world.opening.pk]) == [part]


def test_a_photo_from_before_or_of_another_opening_takes_no_part_out(world: World) -> None:
    before = kept_photo(world)
    part = booked(world)
    other = kept_photo(world, world.site.openings.order_by("position")[1])
    coming = photo_of(world.opening, world.people["technician"])
    for photo, words in ((before, "older than the part"), (other, "not here yet"), (coming, "not here yet")):
        with pytest.raises(Refused, match=words):
            book_out(part, photo, by=world.people["technician"])
    assert still_in([world.opening.pk]) == [part]


def test_a_part_goes_out_once(world: World) -> None:
    part, photo = booked(world), kept_photo(world)
    first = book_out(part, photo, by=world.people["technician"])
    assert book_out(part, kept_photo(world), by=world.people["owner"]) == first
    assert SubstituteOut.objects.count() == 1


def test_a_reader_looks_and_books_nothing(world: World) -> None:
    part = booked(world)
    assert world.client("reader").get(f"/openings/{world.opening.pk}/substitutes/").status_code == 200
    assert posted(world, "reader", f"/openings/{world.opening.pk}/substitutes/", number="9").status_code == 403
    assert posted(world, "reader", f"/substitutes/{part.pk}/out/").status_code == 403
    assert posted(world, "stranger", f"/substitutes/{part.pk}/out/").status_code == 404


@pytest.mark.parametrize("table", [Substitute, SubstituteOut])
def test_no_booking_is_ever_changed_or_deleted(world: World, table: Any) -> None:
    book_out(booked(world), kept_photo(world), by=world.people["owner"])
    with pytest.raises(DatabaseError), transaction.atomic():
        table.objects.update(by=world.people["reader"])
    with pytest.raises(DatabaseError), transaction.atomic():
        table.objects.all().delete()


def test_an_order_with_that_door_is_neither_printed_nor_released_until_the_part_is_out(world: World) -> None:
    site = quay(world)
    order = order_for(world, site, "W1")
    part = booked(world, opening=site.openings.get(tag="W1"))
    response = world.client("owner").get(f"/orders/{order.pk}/order.csv")
    assert response.status_code == 422
    assert "A substitute part is in: W1, red tag 17" in response.content.decode()
    with pytest.raises(Refused, match="A substitute part is in: W1"):
        released(world, order)
    other = order_for(world, site, "W3")
    assert world.client("owner").get(f"/orders/{other.pk}/order.csv").status_code == 200
    book_out(part, kept_photo(world, part.opening), by=world.people["owner"])
    assert released(world, order).state == "released"


def test_a_quote_with_that_door_is_neither_printed_nor_sent(world: World) -> None:
    site = quay(world)
    quote = quote_of(world, site, "W1")
    booked(world, opening=site.openings.get(tag="W1"))
    response = world.client("owner").get(f"/quotes/{quote.pk}/quote.csv")
    assert response.status_code == 422
    assert "red tag 17" in response.content.decode()
    with pytest.raises(Refused, match="A substitute part is in: W1"):
        sent(world, quote)
    quote.refresh_from_db()
    assert quote.state == "draft"
