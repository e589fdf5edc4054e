"""The pages of facts: who sees them, in which order they ask, what they show, and how much they weigh."""

from __future__ import annotations

import gzip
import re
import uuid
from pathlib import Path

import pytest

from sillwright.base.words import Reader
from sillwright.study import POINTS
from sillwright.survey.door import KINDS
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.model import Site as SiteFacts
from sillwright.survey.questions import further, questions
from sillwright.survey.spec import Group, Spec, join
from sillwright.web.records.answers import study_of
from sillwright.web.records.models import Opening
from sillwright.web.records.sites import make_opening
from sillwright.web.taking.groups import group_cards
from sillwright.web.taking.pictures import example_of
from sillwright.web.taking.subject import Subject
from sillwright.web.taking.words import GROUPS, on_a_button

from .conftest import World
from .taking import address, card_of, opening_of, say, seen, words
from .taking import quick_studies as quick_studies

STATIC = Path(__file__).parents[2] / "src/sillwright/web/static"
PAGES = ("facts", "facts/door.clear_width", "facts/group/door", "list/protection", "replace")
HOSTILE = "<script>alert(1)</script>\"'&"


# who


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize(
    ("who", "status"), [("technician", 200), ("reader", 200), ("friend", 200), ("stranger", 404), (None, 302)]
)
def test_whoever_may_read_the_site_sees_the_facts_and_nobody_else(
    world: World, page: str, who: str | None, status: int
) -> None:
    assert world.client(who).get(address(world.opening, page)).status_code == status


@pytest.mark.parametrize("where", ["say", "list/protection"])
@pytest.mark.parametrize(("who", "status"), [("reader", 403), ("friend", 403), ("stranger", 404), (None, 302)])
def test_only_who_may_write_writes(world: World, where: str, who: str | None, status: int) -> None:
    sent = {"fact": "operator.kind", "choose": "hoist", "typed": "photo_eye"}
    assert world.client(who).post(address(world.opening, where), sent).status_code == status


@pytest.mark.parametrize(("who", "status"), [("reader", 200), ("stranger", 404), (None, 302)])
def test_a_site_s_facts_follow_the_same_rules(world: World, who: str | None, status: int) -> None:
    client, where = world.client(who), f"/sites/{world.site.pk}"
    assert client.get(f"{where}/facts/").status_code == status
    assert client.get(f"{where}/facts/site.coldest/").status_code == status
    assert client.post(f"{where}/say/", {"fact": "site.coldest", "typed": "0 °F"}).status_code in {302, 403, 404}


@pytest.mark.parametrize("page", ["facts", "list/protection", "replace"])
def test_a_reader_gets_no_form(world: World, page: str) -> None:
    text = world.client("reader").get(address(opening_of(world, "B2"), page)).content.decode()
    assert 'name="choose"' not in text
    assert 'name="typed"' not in text


@pytest.mark.parametrize(
    "page",
    ["facts/door.colour", "facts/door", "facts/tag", "facts/site.coldest", "facts/protection.e1", "list/doors",
     "facts/group/colours", "facts/protection.e 1.kind", "facts/%00"],
)  # fmt: skip
def test_what_is_no_fact_has_no_page(world: World, page: str) -> None:
    assert world.client("technician").get(address(world.opening, page)).status_code == 404


# the order


def _headings(text: str) -> list[str]:
    return re.findall(r'<section class="section" id="s-(\w+)"', text)


def test_first_comes_what_a_study_cannot_do_without(world: World) -> None:
    opening = make_opening(world.site, "N1", author=world.people["technician"])
    page = world.client("technician").get(address(opening))
    assert _headings(page.content.decode())[0] == "needed"
    assert "There is no answer yet: first take down kind of leaf, clear width, clear height." in words(page)
    assert "0 facts are taken down, 3 matter and are not known." in words(page)
    paths = re.findall(r'id="f-([\w.]+)"', page.content.decode())
    assert paths[:3] == ["door.kind", "door.clear_width", "door.clear_height"]


def test_then_what_is_to_be_settled_then_what_decides_then_the_rest(world: World) -> None:
    page = world.client("technician").get(address(opening_of(world, "B2")))
    assert _headings(page.content.decode()) == ["settle", "unknown", "rest"]
    assert card_of(page, "operator.instructions.title").count("Decides whether it may close under power.") == 1
    paths = re.findall(r'id="f-([\w.]+)"', page.content.decode())
    assert len(paths) == len(set(paths))
    assert paths.index("operator.made") < paths.index("door.leaf_mass") < paths.index("door.kind")


def test_the_answer_stands_at_the_head_as_a_sentence(world: World) -> None:
    page = words(world.client("reader").get(address(world.opening)))
    assert "this leaf may close under power without someone holding the control." in page


def test_every_fact_of_the_model_has_words_and_stands_in_one_group() -> None:
    def walk(group: type[Group], path: str) -> set[str]:
        found = set()
        for name, spec in group.specs.items():
            here = join(path, name)
            found |= {here} if isinstance(spec, Spec) else walk(spec.group, f"{here}.*" if spec.many else here)
        return found

    asked = [each.path for each in (*questions(), *further())]
    assert len(asked) == len(set(asked))
    assert set(asked) == walk(SiteFacts, "site") | walk(OpeningFacts, "") - {"protection.*.id"}
    assert all(each.title for each in (*questions(), *further()))


def test_sides_are_asked_inside_looking_out_here_too() -> None:
    sided = [each for each in further() if each.spec.side]
    assert len(sided) >= 3
    assert all("nside, looking out" in each.ask for each in sided)


def test_every_word_on_a_button_is_one_that_people_use() -> None:
    for each in (*questions(), *further()):
        for word in each.spec.choices:
            assert "_" not in on_a_button(each.path, word, Reader()), each.path


def test_the_groups_hold_every_fact_that_the_page_does_not_ask(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "B2")
    text = client.get(address(opening)).content.decode()
    on_page = set(re.findall(r'id="f-([\w.]+)"', text))
    groups = re.findall(r'data-fetch="([^"]+/group/[^"]+)"', text)
    assert len(groups) == len(GROUPS)
    in_groups: list[str] = []
    for each in groups:
        answer = client.get(each.replace("&amp;", "&"), {"part": ""} if "?" not in each else None)
        assert answer.status_code == 200
        in_groups += re.findall(r'id="f-([\w.]+)"', answer.content.decode())
    assert len(in_groups) == len(set(in_groups))
    assert not on_page & set(in_groups)
    single = {
        each.path for each in (*questions(), *further()) if "*" not in each.path and each.asked_of("sectional")
    }
    assert {path for path in single if not path.startswith("site.")} - {"tag"} <= on_page | set(in_groups)


def test_a_group_is_a_page_of_its_own_and_a_part_of_another(world: World) -> None:
    client, where = world.client("technician"), address(world.opening, "facts/group/bottom")
    whole, part = client.get(where), client.get(where, {"part": ""})
    assert "<h1>The bottom edge</h1>" in whole.content.decode()
    assert "<h1>" not in part.content.decode()
    assert "Slot spacing: not known" in words(part)


def test_a_card_can_be_fetched_alone(world: World) -> None:
    part = world.client("technician").get(address(world.opening, "facts/door.clear_width"), {"part": ""})
    assert "<html" not in part.content.decode()
    assert card_of(part, "door.clear_width").count("<form") == 1


def test_a_word_that_no_group_knows_is_not_lost(world: World) -> None:
    opening = world.opening
    subject = Subject(world.site, opening, True, Reader(), "Technician")
    everything = {each.path for name in GROUPS for each in group_cards(subject, name, frozenset())}
    assert {
        "lead.end",
        "cord.retracted",
        "tests",
        "readings",
        "protection.e1.length",
        "incident.what",
    } <= everything


# every leaf


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_leaf_can_be_taken_down_on_every_page(world: World, kind: str) -> None:
    client = world.client("technician")
    opening = make_opening(world.site, f"K-{kind}", author=world.people["technician"])
    say(client, opening, "door.kind", choose=kind)
    for device in ("sensing_edge", "photo_eye", "inherent"):
        client.post(address(opening, "list/protection"), {"id": str(uuid.uuid4()), "choose": device})
    for page in (*PAGES, "list/zones", "list/stations", "list/use.traffic"):
        answer = client.get(address(opening, page))
        assert answer.status_code == 200, page
        assert "example-picture" in answer.content.decode(), page
    for name in GROUPS:
        assert client.get(address(opening, f"facts/group/{name}")).status_code == 200


@pytest.mark.parametrize("kind", KINDS)
def test_every_question_points_at_a_place_that_an_opening_of_the_kind_draws(kind: str) -> None:
    drawn = example_of(kind, Reader()).places
    for each in (*questions(), *further()):
        if not each.asked_of(kind) or each.path.startswith("site."):
            continue
        named = [place.replace("*", "photo_eye" if place.startswith("protection") else "1") for place in each.place]
        assert set(named) & set(drawn), each.path


def test_a_question_is_framed_on_the_opening_s_own_drawing_where_it_is_drawn(world: World) -> None:
    page = world.client("technician").get(address(world.opening, "facts/box.height"))
    assert '<use href="#map-picture"/>' in card_of(page, "box.height")
    page = world.client("technician").get(address(opening_of(world, "B2"), "facts/box.height"))
    assert '<use href="#example-picture"/>' in card_of(page, "box.height")
    assert "Drawn at an example door" in words(page)


def test_two_photo_eyes_are_framed_each_at_its_own_place(world: World) -> None:
    client, opening = world.client("technician"), opening_of(world, "B2")
    client.post(address(opening, "list/protection"), {"id": str(uuid.uuid4()), "choose": "photo_eye"})
    say(client, opening, "protection.y2.height", typed="24 in")
    paths = [f"protection.{key}.height" for key in ("y1", "y2")]
    cards = [card_of(client.get(address(opening, f"facts/{path}")), path) for path in paths]
    views = [re.findall(r'viewBox="([^"]+)"', card) for card in cards]
    assert views[0]
    assert views[0] != views[1]


# weight and markup


@pytest.mark.parametrize("tag", ["B1", "B2", "D3", "D4", "F1", "G1"])
def test_the_first_view_weighs_at_most_40_kb(world: World, tag: str) -> None:
    page = world.client("technician").get(address(opening_of(world, tag)))
    files = [(STATIC / name).read_bytes() for name in ("page.css", "taking.css", "taking.js", "keys.js", "net.js")]
    weights = [len(gzip.compress(each)) for each in (page.content, *files)]
    assert sum(weights) <= 40_000, weights


TEXTS = (
    "name", "door.serial", "operator.model", "protection.e1.model", "lead.exit", "door.clear_width",
    "operator.kind", "operator.lists_devices", "use.downtime_cost", "floor.points", "operator.made",
    "use.closings_per_day",
)  # fmt: skip


@pytest.mark.parametrize("fact", TEXTS)
def test_markup_in_what_is_written_stays_text(world: World, fact: str) -> None:
    client, opening = world.client("technician"), world.opening
    say(client, opening, fact, typed=HOSTILE, by=HOSTILE, on=HOSTILE[:40], evidence=HOSTILE)
    for page in ("facts", f"facts/{fact}", "replace", "list/protection"):
        text = client.get(address(opening, page)).content.decode()
        assert "<script>alert" not in text, page
        assert "alert(1)" in text or page != f"facts/{fact}"
    sent = {"fact": fact, "typed": HOSTILE, "seen": seen(opening, fact), "by": HOSTILE}
    body = client.post(address(opening, "say"), sent, content_type="application/json").json()
    assert "<script>alert" not in body["card"] + body["drawing"]


def test_markup_in_a_word_that_makes_a_member_stays_text(world: World) -> None:
    client, opening = world.client("technician"), world.opening
    for name in ("use.traffic", "stations", "zones", "statements", "protection"):
        client.post(address(opening, f"list/{name}"), {"id": str(uuid.uuid4()), "typed": HOSTILE})
        assert "<script>alert" not in client.get(address(opening, f"list/{name}")).content.decode()
    assert "<script>alert" not in client.get(address(opening)).content.decode()


def test_markup_in_a_tag_or_a_site_s_name_stays_text(world: World) -> None:
    author = world.people["technician"]
    opening: Opening = make_opening(world.site, HOSTILE, author=author)
    for page in PAGES:
        assert "<script>alert" not in world.client("technician").get(address(opening, page)).content.decode()


def test_no_script_and_no_style_stand_inside_a_page(world: World) -> None:
    for page in PAGES:
        text = world.client("technician").get(address(world.opening, page)).content.decode()
        assert not re.search(r"<script(?![^>]*\bsrc=)", text)
        assert not re.search(r"\s(?:style|on\w+)=", text)


def test_few_points_of_the_band_ask_in_the_order_of_the_whole_study(world: World) -> None:
    for opening in world.site.openings.all():
        few, all_ = (study_of(opening, points=points).study for points in (128, POINTS))
        assert few
        assert all_
        assert [each.fact for each in few.unknown] == [each.fact for each in all_.unknown]
        assert few.headline == all_.headline
