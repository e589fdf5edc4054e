"""Orders: released when nothing stands against them, compared with what was confirmed, looked at when they came."""

from __future__ import annotations

import html
import re
from io import BytesIO
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import Error, connection, transaction
from django.utils import timezone

from sillwright.base.errors import InputError
from sillwright.web.orders.acknowledging import line_built
from sillwright.web.orders.changed import Meanwhile
from sillwright.web.orders.models import Order, OrderNote
from sillwright.web.orders.offers import mark
from sillwright.web.orders.order_shown import goods_shown
from sillwright.web.orders.orders import entered_of, lines_now, release_order
from sillwright.web.records.log import Refused, Said, write
from sillwright.web.records.models import Site
from sillwright.web.records.papers import content_of

from .api_callers import photo_of
from .conftest import World
from .ordering import READER, accepted, order_for, quay, quote_of, released, sent

AS_ORDERED = """tag: W1
quantity: 1
profile: Edge class B
body length: 10 ft 6 in
lead end: right
lead exit: end
lead length: 3 ft
fin side: outside
wires: 2
circuit: resistor
end element: 10 kohm
ship form: coiled
"""
EVIL = '<script>alert("x")</script>'


@pytest.fixture
def site(world: World) -> Site:
    """Three doors at a quay."""
    return quay(world)


@pytest.fixture
def out(world: World, site: Site) -> Order:
    """A released order of one door."""
    return released(world, order_for(world, site, "W1"))


def _page(world: World, path: str, who: str = "owner") -> str:
    response = world.client(who).get(path)
    assert response.status_code == 200
    return html.unescape(response.content.decode())


def _post(world: World, row: Order, deed: str, told: dict[str, Any], who: str = "technician") -> Any:
    return world.client(who).post(f"/orders/{row.pk}/{deed}/", told)


# released


def test_a_line_that_something_stands_against_is_not_released(world: World, site: Site) -> None:
    row = order_for(world, site, "W1", "W2")
    with pytest.raises(InputError, match="W2 cannot be released: Nobody has confirmed the lead"):
        released(world, row)
    text = _page(world, f"/orders/{row.pk}/")
    assert "something stands against 1 line" in text
    assert "Have it confirmed from a photo or on site" in text
    assert "Release the order" not in text


def test_what_is_confirmed_meanwhile_releases_the_line(world: World, site: Site) -> None:
    row, door = order_for(world, site, "W2"), site.openings.get(tag="W2")
    for fact, typed in (("lead.confirmed.by", "advisor"), ("lead.confirmed.on", "2026-03-05")):
        write(site, door, Said(fact=fact, typed=typed), author=world.people["technician"])
    assert not lines_now(Order.objects.get(pk=row.pk)).blocked
    assert "nothing stands against it" in _page(world, f"/orders/{row.pk}/")


def test_what_something_stands_against_is_put_into_an_order_of_its_own(world: World, site: Site) -> None:
    row = order_for(world, site, "W1", "W2", "W3")
    assert _post(world, row, "split", {}).status_code == 302
    other = Order.objects.exclude(pk=row.pk).get()
    tags = [[each.line.tag for each in lines_now(one).lines] for one in (Order.objects.get(pk=row.pk), other)]
    assert tags == [["W1", "W3"], ["W2"]]
    assert released(world, Order.objects.get(pk=row.pk)).state == "released"
    assert _post(world, other, "split", {}).status_code == 422


def test_a_released_order_stays_whatever_is_measured_later(world: World, site: Site, out: Order) -> None:
    before, sheet = lines_now(out), content_of(out.notes.get(kind="release").paper)  # type: ignore[arg-type]
    door = site.openings.get(tag="W1")
    write(site, door, Said(fact="door.panel_width", typed="9 ft"), author=world.people["owner"])
    again = Order.objects.get(pk=out.pk)
    assert lines_now(again) == before
    assert world.client("reader").get(f"/orders/{out.pk}/order.pdf").content == sheet
    told = world.client("reader").get(f"/orders/{out.pk}/order.json").json()
    assert told["lines"][0]["body"] == pytest.approx(3.2004)
    assert told["lines"][0]["released"]["by"] == "Owner"


def test_an_order_is_not_released_as_something_else_than_was_looked_at(world: World, site: Site) -> None:
    row = order_for(world, site, "W1")
    seen = lines_now(row).mark
    door = site.openings.get(tag="W1")
    write(site, door, Said(fact="lead.length", typed="4 ft", origin="measured"), author=world.people["owner"])
    told: dict[str, Any] = {"on": timezone.localdate(), "name": "Owner", "by": world.people["owner"]}
    with pytest.raises((Meanwhile, InputError)):
        release_order(Order.objects.get(pk=row.pk), READER, seen=seen, **told)
    assert Order.objects.get(pk=row.pk).state == "draft"


def test_only_one_of_two_releases_at_once_is_kept(world: World, site: Site) -> None:
    row = order_for(world, site, "W1")
    stale = Order.objects.get(pk=row.pk)
    released(world, row)
    with pytest.raises(Refused, match="not changed any more"):
        released(world, Order.objects.get(pk=stale.pk))
    assert OrderNote.objects.filter(order=row, kind="release").count() == 1


def test_what_was_said_of_an_order_cannot_be_unsaid_in_the_database(out: Order) -> None:
    for deed in ("UPDATE orders_ordernote SET line = 9", "DELETE FROM orders_ordernote"):
        with pytest.raises(Error, match="only added to"), transaction.atomic(), connection.cursor() as cursor:
            cursor.execute(deed)


def test_who_writes_makes_orders_and_who_manages_releases_them(world: World, site: Site) -> None:
    row = order_for(world, site, "W1")
    seen = lines_now(row).mark
    assert _post(world, row, "release", {"seen": seen}, "technician").status_code == 403
    assert _post(world, row, "change", {"seen": "x"}, "reader").status_code == 403
    assert _post(world, row, "release", {"seen": seen}, "stranger").status_code == 404
    assert _post(world, row, "release", {"seen": "other"}, "owner").status_code == 422
    assert _post(world, row, "release", {"seen": seen}, "advisor").status_code == 302
    assert "Released by Advisor" in _page(world, f"/orders/{row.pk}/", "friend")


def test_an_accepted_quote_makes_its_order_by_one_press(world: World, site: Site) -> None:
    won = accepted(world, sent(world, quote_of(world, site, "W1")))
    first = world.client("technician").post(f"/quotes/{won.pk}/order/")
    second = world.client("technician").post(f"/quotes/{won.pk}/order/")
    assert first["Location"] == second["Location"]
    assert "Everything the maker needs" in _page(world, first["Location"])


def test_an_order_without_a_quote_is_made_from_picked_openings(world: World, site: Site) -> None:
    order_for(world, site, "W1")  # brings the catalogue
    door = site.openings.get(tag="W3")
    posted = {"title": "Yard", f"in-{door.pk}": "1", f"first-{door.pk}": "Edge class C"}
    response = world.client("technician").post(f"/sites/{site.pk}/orders/", posted)
    row = Order.objects.get(title="Yard")
    assert response["Location"] == f"/orders/{row.pk}/"
    assert lines_now(row).lines[0].line.profile == "Edge class C"
    none = world.client("technician").post(f"/sites/{site.pk}/orders/", {"title": "Nothing"})
    assert none.status_code == 422


def test_changing_an_order_keeps_what_the_second_typed(world: World, site: Site) -> None:
    row, client = order_for(world, site, "W1"), world.client("technician")
    seen = mark(entered_of(row))
    lines = {f"lines[0].{name}": each for name, each in row.lines[0].items()}
    form = {"seen": seen, "title": "First", "to": "Edge works", **lines}
    assert client.post(f"/orders/{row.pk}/change/", form).status_code == 302
    response = client.post(f"/orders/{row.pk}/change/", {**form, "title": "Second"})
    text = html.unescape(response.content.decode())
    assert response.status_code == 409
    assert "kept: “First”" in text
    assert 'value="Second"' in text
    bad = client.post(f"/orders/{row.pk}/change/", {**form, "lines[0].quantity": "1000"})
    assert bad.status_code == 422
    assert "from 1 to 999" in html.unescape(bad.content.decode())


# acknowledged


def test_an_acknowledgement_that_says_what_was_ordered_is_settled_at_once(world: World, out: Order) -> None:
    assert _post(world, out, "acknowledgement", {"text": AS_ORDERED}).status_code == 302
    text = _page(world, f"/orders/{out.pk}/")
    assert "It says what was ordered." in text
    assert "every difference is answered" in text


def test_every_difference_needs_an_answer_with_a_name_before_it_is_settled(world: World, out: Order) -> None:
    wrong = AS_ORDERED.replace("10 ft 6 in", "10 ft 4 in").replace("lead end: right", "lead end: left")
    _post(world, out, "acknowledgement", {"text": wrong + "colour: black\n"})
    text = _page(world, f"/orders/{out.pk}/")
    assert "3 differences of the acknowledgement are open" in text
    assert "W1, length: ordered 10 ft 6 in, confirmed 10 ft 4 in." in text
    ids = dict(re.findall(r'name="id-(\d+)" value="([^"]*)"', text))
    of = re.search(r'name="of" value="(\d+)"', text)[1]  # type: ignore[index]
    told = {"of": of, **{f"id-{at}": about for at, about in ids.items()}}
    assert _post(world, out, "answers", told).status_code == 422
    assert _post(world, out, "answers", {**told, "holds-0": "perhaps"}).status_code == 422
    first = {**told, "holds-0": "ordered", "words-0": EVIL}
    assert _post(world, out, "answers", first).status_code == 302
    assert "2 differences of the acknowledgement are open" in _page(world, f"/orders/{out.pk}/")
    rest = {**told, "holds-1": "confirmed", "holds-2": "ordered"}
    assert _post(world, out, "answers", rest, "owner").status_code == 302
    body = world.client("owner").get(f"/orders/{out.pk}/").content.decode()
    assert "every difference is answered" in body
    assert "<script>alert" not in body
    assert {each.told["name"] for each in out.notes.filter(kind="answer")} == {"Technician", "Owner"}


def test_answers_belong_to_the_acknowledgement_that_they_answer(world: World, out: Order) -> None:
    wrong = AS_ORDERED.replace("10 ft 6 in", "10 ft 4 in")
    _post(world, out, "acknowledgement", {"text": wrong})
    old = OrderNote.objects.get(kind="acknowledgement")
    _post(world, out, "answers", {"of": old.pk, "id-0": "1.length", "holds-0": "confirmed"})
    assert "every difference is answered" in _page(world, f"/orders/{out.pk}/")
    _post(world, out, "acknowledgement", {"text": wrong.replace("4 in", "3 in")})
    assert "1 difference of the acknowledgement is open" in _page(world, f"/orders/{out.pk}/")
    late = {"of": old.pk, "id-0": "1.length", "holds-0": "ordered"}
    assert _post(world, out, "answers", late).status_code == 422
    newest = OrderNote.objects.filter(kind="acknowledgement").latest("pk").pk
    forged = {"of": newest, "id-0": "1.nothing", "holds-0": "ordered"}
    assert _post(world, out, "answers", forged).status_code == 422


def _settled(world: World, out: Order, text: str, **holds: str) -> str:
    """The page of an order after the maker's answer was settled, by the field of each difference."""
    _post(world, out, "acknowledgement", {"text": text})
    of = out.notes.filter(kind="acknowledgement").latest("pk").pk
    told: dict[str, Any] = {"of": of}
    for at, (about, which) in enumerate(holds.items()):
        told |= {f"id-{at}": f"1.{about}", f"holds-{at}": which, f"words-{at}": EVIL}
    assert _post(world, out, "answers", told).status_code == 302
    return world.client("owner").get(f"/orders/{out.pk}/").content.decode()


def test_an_order_is_built_as_agreed_on_page_paper_and_for_programs(world: World, out: Order) -> None:
    wrong = AS_ORDERED.replace("10 ft 6 in", "10 ft 5 in").replace("lead end: right", "lead end: left")
    body = _settled(world, out, wrong, length="confirmed", end="ordered")
    agreed = html.unescape(body.partition('id="agreed"')[2].partition("</section>")[0])
    assert "overall body 10 ft 5 in (3.175 m)" in agreed
    assert re.search(r"length: 10 ft 5 in</dt><dd>as the maker confirmed; the other side had: 10 ft 6 in", agreed)
    assert re.search(r"lead end, inside looking out: right</dt><dd>as ordered; the other side had: left", agreed)
    assert "<script>alert" not in body
    sheet = world.client("reader").get(f"/orders/{out.pk}/agreed.pdf")
    assert sheet.content.startswith(b"%PDF")
    told = world.client("owner").get(f"/orders/{out.pk}/order.json").json()
    (line,) = told["agreed"]["lines"]
    assert line["length"] == pytest.approx(3.175)
    assert told["lines"][0]["length"] == pytest.approx(3.2004)
    assert {each["field"]: each["holds"] for each in line["agreed"] if each["holds"] != "both"} == {
        "length": "confirmed",
        "end": "ordered",
    }


def test_what_comes_is_judged_by_what_was_agreed(world: World, out: Order) -> None:
    _settled(world, out, AS_ORDERED.replace("10 ft 6 in", "10 ft 5 in"), length="confirmed")
    came = {"length": "10 ft 5 in"}
    assert world.client("technician").post(f"/orders/{out.pk}/lines/1/goods-in/", came).status_code == 302
    assert "shorter" not in _page(world, f"/orders/{out.pk}/")
    note = OrderNote.objects.get(kind="goods_in")
    assert not [each for each in goods_shown(note, _built(out), READER)["findings"] if each["level"] == "act"]
    assert [
        each for each in goods_shown(note, lines_now(out).plain[0], READER)["findings"] if each["level"] == "act"
    ]


def _built(row: Order) -> Any:
    found = line_built(row, 1)
    assert found is not None
    return found.line


@pytest.mark.parametrize("left_out", ["circuit", "lead exit"])
def test_what_the_maker_did_not_say_cannot_be_made_to_hold(world: World, out: Order, left_out: str) -> None:
    text = "\n".join(each for each in AS_ORDERED.splitlines() if not each.startswith(left_out + ":"))
    _post(world, out, "acknowledgement", {"text": text})
    of = out.notes.get(kind="acknowledgement").pk
    page = _page(world, f"/orders/{out.pk}/")
    assert "does not say enough to hold" in page
    assert 'name="holds-0" value="confirmed"' not in page
    told = {"of": of, "id-0": f"1.{left_out.removeprefix('lead ')}", "holds-0": "confirmed"}
    assert _post(world, out, "answers", told).status_code == 422
    assert world.client("owner").get(f"/orders/{out.pk}/agreed.pdf")["Location"] == f"/orders/{out.pk}/"
    assert world.client("owner").get(f"/orders/{out.pk}/order.json").json()["agreed"] is None


def test_the_install_sheet_of_a_line_is_that_of_what_was_ordered(world: World, site: Site, out: Order) -> None:
    page = _page(world, f"/orders/{out.pk}/")
    address = f"/orders/{out.pk}/lines/1/install.pdf"
    assert address in page
    for who in ("technician", "reader"):
        assert world.client(who).get(address).content.startswith(b"%PDF")
    assert world.client("stranger").get(address).status_code == 404
    assert world.client("owner").get(f"/orders/{out.pk}/lines/2/install.pdf").status_code == 404
    tall = order_for(world, site, "W1", profile="Edge class C")
    assert world.client("owner").get(f"/orders/{tall.pk}/lines/1/install.pdf").status_code == 200


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("answer.csv", "Tag;Qty;Profile;Body length\r\nW1;1;Edge class B;10 ft 5 in\r\n".encode("utf-8-sig")),
        ("answer.csv", b"Tag,Qty,Profile,Body length\nW1,1,Edge class B,3175 mm\n"),
        ("answer.txt", "tag: W1\nbody length: 10 ft 5 in\nremark: für Tor 1".encode("cp1252")),
        ("answer.xlsx", b"Tag\tQty\tBody length\nW1\t1\t10 ft 5 in\n"),  # told apart by what is in it
    ],
)
def test_an_acknowledgement_comes_as_a_file_of_text_too(
    world: World, out: Order, name: str, content: bytes
) -> None:
    file = SimpleUploadedFile(name, content)
    assert _post(world, out, "acknowledgement", {"file": file}).status_code == 302
    assert "confirmed 10 ft 5 in" in _page(world, f"/orders/{out.pk}/")


def _zip(**members: bytes) -> bytes:
    content = BytesIO()
    with ZipFile(content, "w", ZIP_DEFLATED) as made:
        for name, each in members.items():
            made.writestr(name, each)
    return content.getvalue()


@pytest.mark.parametrize(
    "content",
    [
        _zip(bomb=b"0" * 80_000_000),
        _zip(**{f"m{at}": b"x" for at in range(3000)}),
        _zip(**{"[Content_Types].xml": b"<!DOCTYPE x [<!ENTITY a 'a'>]><x>&a;</x>"}),
        b"PK\x03\x04" + b"\xff" * 5000,
        b"\x00" * 5000,
        b"a: b\n" * 100_000,
    ],
    ids=["bomb", "members", "entities", "torn", "zeros", "long"],
)
def test_a_hostile_file_is_refused_and_nothing_is_kept(world: World, out: Order, content: bytes) -> None:
    file = SimpleUploadedFile("answer.xlsx", content)
    response = _post(world, out, "acknowledgement", {"file": file})
    assert response.status_code == 422
    assert 'class="wrong"' in response.content.decode()
    assert not OrderNote.objects.filter(kind="acknowledgement").exists()


def test_an_acknowledgement_comes_as_a_workbook_too(world: World, out: Order) -> None:
    book = openpyxl.Workbook()
    sheet: Any = book.active
    sheet.append(["Tag", "Qty", "Profile", "Body length", "Lead end", "Wires"])
    sheet.append(["W1", 1, "Edge class B", "10 ft 5 in", "right", 2])
    content = BytesIO()
    book.save(content)
    file = SimpleUploadedFile("answer.xlsx", content.getvalue())
    assert _post(world, out, "acknowledgement", {"file": file}).status_code == 302
    assert "confirmed 10 ft 5 in" in _page(world, f"/orders/{out.pk}/")
    broken = SimpleUploadedFile("answer.xlsx", b"PK" + b"\x00" * 90)
    assert _post(world, out, "acknowledgement", {"file": broken}).status_code == 422


@pytest.mark.parametrize(
    "text", ["", "   ", "Dear all,\nwe thank you.", "tag: W1\x00", "x" * 70_000, "tag: W1\n" * 600]
)
def test_what_is_no_acknowledgement_is_refused_and_says_how_one_looks(world: World, out: Order, text: str) -> None:
    response = _post(world, out, "acknowledgement", {"text": text})
    assert response.status_code == 422
    assert 'class="wrong"' in response.content.decode()
    assert not OrderNote.objects.filter(kind="acknowledgement").exists()


def test_nobody_confirms_an_order_that_was_not_released(world: World, site: Site) -> None:
    row = order_for(world, site, "W1")
    assert _post(world, row, "acknowledgement", {"text": AS_ORDERED}).status_code == 422
    assert world.client("owner").get(f"/orders/{row.pk}/lines/1/goods-in/").status_code == 404


# what came, and what failed


def test_what_came_is_judged_against_the_line_and_what_nobody_looked_at_stays_open(
    world: World, out: Order
) -> None:
    told = {"length": "10 ft 5 in", "rest": "10.1 kohm", "pressed": "40 ohm", "end": "left", "wires": "2"}
    assert _post(world, out, "lines/1/goods-in", told).status_code == 302
    text = _page(world, f"/orders/{out.pk}/")
    assert "The body is 10 ft 5 in, 1 in shorter than ordered (10 ft 6 in)." in text
    assert "The lead leaves on the left; right was ordered." in text
    assert "Nobody has looked at: the carton." in text
    assert "Came, 1 of 1" in text


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("length", "10.6 ft", "two ways"),
        ("length", "-3 m", "-3.0: a number from 0 on"),
        ("length", "ten", "like 10 ft 6 in"),
        ("rest", "wet", "like 9.9 kohm"),
        ("rest", "-5 ohm", "no reading in ohms"),
        ("wires", "two", "whole number"),
        ("end", "up", "cannot be chosen"),
        ("photo", "00000000-0000-4000-8000-000000000000", "none of this opening"),
        ("carried_at", "-200 degC", "from 180 K to 340 K"),
        ("hours", "", "Nothing is entered yet"),
    ],
)
def test_what_cannot_be_read_off_a_delivery_is_said_beside_its_field(
    world: World, out: Order, field: str, typed: str, says: str
) -> None:
    response = _post(world, out, "lines/1/goods-in", {field: typed})
    text = html.unescape(response.content.decode())
    assert response.status_code == 422
    assert says in text
    assert 'aria-invalid="true"' in text
    assert not OrderNote.objects.filter(kind="goods_in").exists()


def test_an_open_reading_is_a_reading(world: World, out: Order) -> None:
    _post(world, out, "lines/1/goods-in", {"rest": "open"})
    assert "It reads open instead of 10 kΩ" in _page(world, f"/orders/{out.pk}/")


def test_the_photo_of_what_came_is_one_of_the_same_opening(world: World, site: Site, out: Order) -> None:
    owner = world.people["owner"]
    mine, foreign = photo_of(site.openings.get(tag="W1"), owner, state="kept"), photo_of(world.opening, owner)
    assert _post(world, out, "lines/1/goods-in", {"photo": str(foreign.pk)}).status_code == 422
    assert _post(world, out, "lines/1/goods-in", {"photo": str(mine.pk)}).status_code == 302
    text = _page(world, f"/orders/{out.pk}/")
    assert "There is no photo of it." not in text
    assert f'href="/photos/{mine.pk}/"' in text


def test_a_claim_is_sorted_only_when_what_may_point_elsewhere_is_known(
    world: World, site: Site, out: Order
) -> None:
    assert _post(world, out, "lines/1/claim", {"cut_or_glued": "yes", "words": EVIL}).status_code == 302
    text = _page(world, f"/orders/{out.pk}/")
    assert "Evidence is missing" in text
    assert "Still to be sent:" in text
    photo = str(photo_of(site.openings.get(tag="W1"), world.people["owner"], state="kept").pk)
    whole = {
        "as_ordered": "yes", "right_order": "yes", "sealed": "yes", "cut_or_glued": "yes", "compression": "1/8 in",
        "box": "yes", "struck": "no", "outside_its_data": "no",
        "photo_left": photo, "photo_right": photo, "photo_closed": photo,
    }  # fmt: skip
    assert _post(world, out, "lines/1/claim", whole).status_code == 302
    assert "The evidence points to: fitting." in _page(world, f"/orders/{out.pk}/")
    told = {**whole, "cut_or_glued.from": "assumed"}
    assert _post(world, out, "lines/1/claim", told).status_code == 302
    assert _page(world, f"/orders/{out.pk}/").count("Evidence is missing") == 2


def test_a_claim_with_a_mistake_keeps_what_was_typed(world: World, out: Order) -> None:
    response = _post(
        world, out, "lines/1/claim", {"compression": "lots", "weather": "Frost", "words": "It squeals"}
    )
    text = html.unescape(response.content.decode())
    assert response.status_code == 422
    assert 'value="Frost"' in text
    assert "It squeals" in text
    assert _post(world, out, "lines/1/claim", {}).status_code == 422
    assert _post(world, out, "lines/9/claim", {"weather": "Frost"}).status_code == 404
