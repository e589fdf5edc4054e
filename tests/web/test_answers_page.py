"""The page of an opening: what it shows, from what it is made, and what it costs."""

from __future__ import annotations

import gzip
import re
from html.parser import HTMLParser
from xml.etree import ElementTree

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils.html import escape

from sillwright.base.words import Reader, render
from sillwright.web.answers.body import body_of
from sillwright.web.records.answers import answer_of, reader_for, study_of
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Answer, Opening
from sillwright.web.records.sites import make_opening, rename

from .conftest import World

US, METRIC = Reader(units="us"), Reader(units="metric")
VOID = {"meta", "link", "input", "br", "img", "hr"}
HOSTILE = "<script>alert(1)</script>\"'&{{ 7 }}{% now %}<svg onload=x>"


class Balanced(HTMLParser):
    """Every element that is opened is closed, in turn; ids stand once; nothing is styled or run in place."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.ids: list[str] = []
        self.wrong: list[str] = []
        self.scripts = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.scripts += tag == "script" and not str(dict(attrs).get("src")).startswith("/static/")
        for name, value in attrs:
            if name == "style" or name.startswith("on"):
                self.wrong.append(f"{tag} {name}")
            if name == "id":
                self.ids.append(value or "")
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.wrong.append(f"</{tag}>")


def checked(page: str) -> Balanced:
    """A page as its elements, found to be balanced."""
    parser = Balanced()
    parser.feed(page)
    parser.close()
    assert not parser.wrong
    assert not parser.open
    assert len(parser.ids) == len(set(parser.ids)), "an id stands twice"
    return parser


def fetched(client: Client, opening: Opening) -> str:
    """The page of an opening."""
    response = client.get(f"/openings/{opening.pk}/")
    assert response.status_code == 200
    return response.content.decode()


def said(opening: Opening, world: World, path: str, typed: str, **more: str) -> None:
    """Somebody writes a fact down, having seen nothing else of it."""
    write(opening.site, opening, Said(fact=path, typed=typed, **more), author=world.people["technician"])  # type: ignore[arg-type]


def made(world: World, tag: str, **facts: str) -> Opening:
    """An opening of which this is known; ``door__kind`` stands for ``door.kind``."""
    told = [Said(fact=path.replace("__", "."), typed=typed) for path, typed in facts.items()]
    return make_opening(world.site, tag, author=world.people["owner"], said=told)


def test_a_kept_answer_is_shown_with_at_most_four_queries(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    fetched(client, opening)
    with CaptureQueriesContext(connection) as queries:
        fetched(client, opening)
    told = [each["sql"] for each in queries]
    assert len(told) <= 4, told  # session and person, opening and site, what one may do there, the kept answer
    assert not [sql for sql in told if "records_fact" in sql]


def test_the_answer_is_made_once_and_again_only_after_a_fact_has_changed(world: World) -> None:
    opening, asked = world.opening, []

    def body(*about: object) -> str:
        asked.append(about)
        return "body"

    answer_of(opening, US, body)
    answer_of(opening, US, body)
    assert len(asked) == 1
    answer_of(opening, METRIC, body)
    assert len(asked) == 2
    said(opening, world, "door.closing_speed", "9 in/s")
    opening.refresh_from_db()
    answer_of(opening, US, body)
    assert len(asked) == 3
    write(opening.site, None, Said(fact="site.hottest", typed="99 degF"), author=world.people["owner"])
    answer_of(Opening.objects.get(pk=opening.pk), US, body)
    assert len(asked) == 4


def test_a_new_tag_is_on_the_page_at_once(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    fetched(client, opening)
    rename(opening, "Bay one", author=world.people["owner"])
    assert "<h1>Bay one" in fetched(client, opening)


@pytest.mark.parametrize("reader", [US, METRIC], ids=["us", "metric"])
def test_every_opening_of_the_example_has_a_whole_and_light_page(world: World, reader: Reader) -> None:
    for opening in world.site.openings.select_related("site"):
        studied = study_of(opening)
        assert studied.study is not None
        body = body_of(opening, studied, reader)
        parsed = checked(body)
        assert len(gzip.compress(body.encode())) <= 34_000
        assert escape(render(studied.study.headline, reader)) in body
        assert parsed.scripts == 0
        findings = len(studied.study.findings)
        assert {f"f{number}" for number in range(1, findings + 1)} <= set(parsed.ids)
        for place in re.findall(r'class="button plain show" href="#([^"]*)"', body):
            assert place in parsed.ids, "a finding points at a place that is not drawn"


def test_findings_come_first_then_questions_then_the_contact_then_what_it_rests_on(world: World) -> None:
    opening = world.site.openings.get(tag="B2")
    body = body_of(opening, study_of(opening), US)
    order = (
        'class="headline"', 'id="drawing"', "Findings, heaviest first", "What to ask next",
        "Contact of the closing leaf", "What it rests on",
    )  # fmt: skip
    places = [body.index(words) for words in order]
    assert places == sorted(places)


def test_what_decides_is_asked_first_and_a_typical_value_is_said_to_be_one(world: World) -> None:
    opening = world.site.openings.get(tag="B2")
    body = body_of(opening, study_of(opening), US)
    assert body.index('data-fact="operator.lists_devices"') < body.index('data-fact="operator.deceleration"')
    assert body.index("Decides whether it may close under power.") < body.index("Narrows how hard it would press.")
    assert "In use now, a typical value: 1.67 ft/s² to 6.67 ft/s²" in body


def test_an_opening_of_which_only_the_tag_is_known_says_what_it_needs_first(world: World) -> None:
    opening = made(world, "X1")
    page = fetched(world.client("technician"), opening)
    checked(page)
    assert "Nothing can be said of this opening yet" in page
    for path in ("door.kind", "door.clear_width", "door.clear_height"):
        assert f'data-fact="{path}"' in page
    assert 'id="drawing"' in page
    assert "leaf, kind not known" in page
    assert "sectional leaf" not in page
    assert answer_of(opening, US, body_of).headline == ""


def test_a_gate_of_which_only_the_kind_is_known_is_studied(world: World) -> None:
    page = fetched(world.client("reader"), made(world, "X2", door__kind="slide_gate"))
    checked(page)
    assert "Findings, heaviest first" in page
    assert "may-read" in page


def test_a_text_that_cannot_be_read_is_shown_as_typed_with_what_would_be_right(world: World) -> None:
    opening = made(world, "X3", door__kind="sectional", door__clear_width="wide", door__clear_height="14 ft")
    page = fetched(world.client("technician"), opening)
    checked(page)
    block = page[page.index("Written down, but cannot be read") :]
    assert "“wide”" in block
    assert "10 ft 6 in" in block
    assert f"/openings/{opening.pk}/facts/door.clear_width/" in block


def test_two_readings_that_do_not_agree_stand_side_by_side_with_a_way_to_settle_them(world: World) -> None:
    opening = made(world, "X4", door__kind="rolling", door__clear_width="10 ft", door__clear_height="14 ft")
    said(opening, world, "door.clear_width", "12 ft", origin="measured")
    page = fetched(world.client("technician"), opening)
    checked(page)
    block = page[page.index("Two readings that do not agree") :]
    assert "“10 ft”" in block
    assert "“12 ft” (measured)" in block
    assert f"/openings/{opening.pk}/facts/door.clear_width/" in block


def test_a_list_in_dispute_is_named_with_a_way_to_settle_it(world: World) -> None:
    opening = made(world, "X5", door__kind="rolling", door__clear_width="10 ft", door__clear_height="14 ft")
    said(opening, world, "protection.e1.kind", "sensing_edge")
    write(opening.site, opening, Said(fact="protection", says="none"), author=world.people["technician"])
    page = fetched(world.client("technician"), opening)
    checked(page)
    assert f"/openings/{opening.pk}/list/protection/" in page[page.index("Two readings that do not agree") :]


TEXTS = (
    "name", "operator.model", "lead.exit", "lead.fin", "surroundings.wash_down", "protection.e1.model",
    "stations.m1.place", "converters.m1.name", "statements.m1.words", "defeats.m1.what", "temporary_parts.m1.what",
    "operator.instructions.title", "operator.lists_devices", "zones.m1.place",
)  # fmt: skip


def test_markup_in_any_text_is_only_ever_text(world: World) -> None:
    opening = made(world, "<b>X6</b>", door__kind="sectional", door__clear_width="10 ft", door__clear_height="9 ft")
    for path in TEXTS:
        said(opening, world, path, HOSTILE, by=HOSTILE[:200], evidence=HOSTILE[:200])
    said(opening, world, "door.leaf_mass", HOSTILE)
    rename(opening.site, HOSTILE, author=world.people["owner"])
    client = world.client("technician")
    page = fetched(client, opening)
    assert checked(page).scripts == 0  # but the page's own
    assert "<script>alert" not in page
    assert "<svg onload" not in page
    assert "<b>X6" not in page
    assert "{{ 7 }}" in page
    drawn = client.get(f"/openings/{opening.pk}/drawing.svg").content.decode()
    assert "<script" not in drawn
    assert "onload=x&gt;" in drawn or "onload" not in drawn
    ElementTree.fromstring(drawn)  # noqa: S314 (our own drawing)
    for address in ("papers/", "what-if/?fact=door.leaf_mass"):
        assert checked(client.get(f"/openings/{opening.pk}/{address}").content.decode()).scripts == 0


def test_a_stranger_finds_nothing_and_a_reader_no_way_to_write(world: World) -> None:
    opening = world.opening
    for address in ("", "drawing.svg", "what-if/", "papers/"):
        assert world.client("stranger").get(f"/openings/{opening.pk}/{address}").status_code == 404
        assert world.client(None).get(f"/openings/{opening.pk}/{address}").status_code == 302
    assert 'class="may-read"' in fetched(world.client("friend"), opening)
    assert 'class="may-write"' in fetched(world.client("technician"), opening)


def test_the_drawing_alone_is_an_image_that_can_do_nothing(world: World) -> None:
    response = world.client("friend").get(f"/openings/{world.opening.pk}/drawing.svg")
    assert response["Content-Type"] == "image/svg+xml"
    assert response["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["Content-Disposition"] == 'inline; filename="b1.svg"'
    ElementTree.fromstring(response.content)  # noqa: S314 (our own drawing)
    assert b"style=" not in response.content
    saved = world.client("friend").get(f"/openings/{world.opening.pk}/drawing.svg?download=1")
    assert saved["Content-Disposition"] == 'attachment; filename="b1.svg"'


def test_units_are_switched_for_a_person_and_the_page_follows(world: World) -> None:
    client, address = world.client("technician"), f"/openings/{world.opening.pk}/"
    assert "10 ft 4 in" in client.get(address).content.decode()
    response = client.post("/units/", {"units": "metric", "next": address})
    assert response["Location"] == address
    assert "3.150 m" in client.get(address).content.decode()
    world.people["technician"].refresh_from_db()
    assert reader_for(world.people["technician"], world.site).units == "metric"
    client.post("/units/", {"units": "furlongs", "next": address})
    assert "3.150 m" in client.get(address).content.decode()


@pytest.mark.parametrize(
    "back", ["https://elsewhere.example/", "//elsewhere.example/", "javascript:alert(1)", "/\\elsewhere", ""]
)
def test_the_switch_of_units_leads_nowhere_else(world: World, back: str) -> None:
    response = world.client("technician").post("/units/", {"units": "us", "next": back})
    assert response["Location"] == "/"


def test_the_switch_of_units_works_without_an_account_and_only_by_a_form(db: None) -> None:
    client = Client(enforce_csrf_checks=True)
    assert client.get("/units/").status_code == 405
    assert client.post("/units/", {"units": "us"}).status_code == 403
    response = Client().post("/units/", {"units": "metric", "next": "/workbench/"})
    assert response["Location"] == "/workbench/"
    assert response.cookies["units"].value == "metric"
    assert response.cookies["units"]["httponly"]


def test_people_who_read_alike_share_one_kept_answer(world: World) -> None:
    for who in ("owner", "technician", "friend"):
        fetched(world.client(who), world.opening)
    assert Answer.objects.filter(opening=world.opening).count() == 1


def reading(opening: Opening, world: World, key: str, ohms: str, on: str) -> None:
    """A reading of edge e1 at the operator, at rest."""
    told = {"ohms": ohms, "on": on, "of": "e1", "at": "operator", "pressed": "no"}
    for name, typed in told.items():
        said(opening, world, f"readings.{key}.{name}", typed)


def test_how_it_is_wired_stands_between_the_questions_and_the_order(world: World) -> None:
    opening = world.opening
    page = fetched(world.client("technician"), opening)
    checked(page)
    assert page.index('id="asked"') < page.index('id="wired"') < page.index('id="take-off"')
    wired = page[page.index('id="wired"') : page.index('id="take-off"')]
    for words in (
        "Directly to the input “edge”", "counts as monitored", "9.47 kΩ to 10.7 kΩ", "Accessory supply",
        f"/openings/{opening.pk}/wiring.svg", f"/openings/{opening.pk}/papers/",
    ):  # fmt: skip
        assert words in wired, words


def test_readings_of_several_visits_are_drawn_and_warned_of(world: World) -> None:
    opening = made(world, "X7", door__kind="sectional", door__clear_width="10 ft", door__clear_height="9 ft")
    edge = {"kind": "sensing_edge", "circuit": "resistor", "resistance": "10 kohm"}
    for name, typed in edge.items():
        said(opening, world, f"protection.e1.{name}", typed)
    for year, ohms in enumerate(("10.1 kohm", "9.7 kohm", "9.2 kohm", "8.3 kohm"), start=2022):
        reading(opening, world, f"m{year}", ohms, f"{year}-05-02")
    page = fetched(world.client("technician"), opening)
    checked(page)
    assert "The readings of e1 fall by" in page
    assert 'data-place="readings"' in page
    assert "2025-05-02" in page
    assert "Two readings that do not agree" not in page
    again = f"/openings/{opening.pk}/list/readings/?of=e1&amp;at=operator&amp;pressed=no#h-add"
    assert again in page


def test_reading_again_asks_for_the_number_and_keeps_day_place_and_device(world: World) -> None:
    client, address = world.client("technician"), f"/openings/{world.opening.pk}/list/readings/"
    form = client.get(f"{address}?of=e1&at=operator&pressed=no&ohms=1").content.decode()
    for hidden in (
        'name="with-of" value="e1"',
        'name="with-at" value="operator"',
        'name="with-pressed" value="no"',
    ):
        assert hidden in form
    assert "with-ohms" not in form
    assert 'name="with-on" type="date" data-today' in form
    told = {
        "typed": "9.4 kohm",
        "with-of": "e1",
        "with-at": "operator",
        "with-pressed": "no",
        "with-on": "2027-05-02",
    }
    assert client.post(address, told).status_code == 302
    page = fetched(client, world.opening)
    assert "9.4 kΩ, operator" in page
    assert "2027-05-02" in page


def test_the_wiring_sheet_is_an_image_that_can_do_nothing(world: World) -> None:
    response = world.client("friend").get(f"/openings/{world.opening.pk}/wiring.svg")
    assert response["Content-Type"] == "image/svg+xml"
    assert response["Content-Security-Policy"] == "default-src 'none'; sandbox"
    drawn = ElementTree.fromstring(response.content)  # noqa: S314 (our own drawing)
    assert "e1 on the input edge" in "".join(drawn.itertext())
    bare = made(world, "X8")
    assert world.client("reader").get(f"/openings/{bare.pk}/wiring.svg").status_code == 200
