"""New openings: one, several, and as the door before."""

from __future__ import annotations

import uuid
from typing import Any

import pytest

from sillwright.web.records.copying import copy_facts
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Event, Observation, Opening
from sillwright.web.records.sites import make_opening, put_away, share
from sillwright.web.records.surveys import facts_of
from sillwright.web.sites.making import MOST_AT_ONCE, tags_in

from .conftest import World


def made(world: World, tag: str, who: str = "technician", **fields: str) -> Any:
    return world.client(who).post(f"/sites/{world.site.pk}/openings/new/", {"tag": tag, **fields})


def at(world: World, tag: str) -> Opening:
    return world.site.openings.get(tag=tag)


@pytest.mark.parametrize(
    ("who", "status"),
    [("owner", 302), ("advisor", 302), ("technician", 302), ("reader", 403), ("friend", 403), ("stranger", 404)],
)
def test_who_may_make_an_opening(world: World, who: str, status: int) -> None:
    assert made(world, "N1", who).status_code == status
    assert world.site.openings.filter(tag="N1").exists() == (status == 302)


def test_who_a_site_is_shared_with_for_writing_may_make_one(world: World) -> None:
    share(world.site, world.other, "write", author=world.people["owner"])
    assert made(world, "N1", "friend").status_code == 302


def test_a_new_opening_stands_last_in_the_walk_and_its_facts_are_asked_at_once(world: World) -> None:
    answer = made(world, "N1", kind="rolling")
    opening = at(world, "N1")
    assert answer.headers["Location"] == f"/openings/{opening.pk}/facts/"
    assert world.site.openings.last() == opening
    assert facts_of(opening).rebuilt.survey.openings[0].door.kind.value == "rolling"
    lines = Event.objects.filter(opening=opening)
    assert {each.verb for each in lines} == {"opening made", "observed"}
    assert {each.request for each in lines} == {answer.headers["Request-Id"]}


@pytest.mark.parametrize("kind", ["", "carousel"])
def test_a_kind_that_is_not_known_is_said_later(world: World, kind: str) -> None:
    made(world, "N1", kind=kind)
    assert not Observation.objects.filter(opening=at(world, "N1")).exists()


@pytest.mark.parametrize(
    ("words", "tags"),
    [
        ("N1", ["N1"]),
        ("N1, N2 ,, N1", ["N1", "N2"]),
        ("1-3", ["1", "2", "3"]),
        ("B1 – 3, Gate", ["B1", "B2", "B3", "Gate"]),
        ("08-11", ["08", "09", "10", "11"]),
        ("3-1", ["3-1"]),
        ("D-12", ["D-12"]),
        ("Dock 7-8", ["Dock 7", "Dock 8"]),
    ],
)
def test_the_tags_that_a_field_names(words: str, tags: list[str]) -> None:
    assert tags_in(words) == tags


def test_forty_openings_are_made_at_once(world: World) -> None:
    answer = made(world, "1-40", kind="sectional")
    assert answer.headers["Location"] == f"/sites/{world.site.pk}/"
    assert [each.tag for each in world.site.openings.all()][-40:] == [str(number) for number in range(1, 41)]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("", "A tag is wanted"),
        (" , ", "A tag is wanted"),
        (f"1-{MOST_AT_ONCE + 1}", "At most 200 openings are made at once."),
        ("1-9999", "At most 200 openings"),
        (",".join(map(str, range(250))), "At most 200 openings"),
        ("N1, B1", "This site has an opening “B1” already."),
        ("x" * 101, "A name has at most 100 signs."),
        ("N\x01", "U+0001"),
    ],
)
def test_openings_that_cannot_be_made_are_refused_all_together(world: World, words: str, said: str) -> None:
    before = world.site.openings.count()
    answer = made(world, words, kind="grille")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    assert 'value="grille" checked' in page
    assert world.site.openings.count() == before


def test_what_was_typed_is_kept_and_shown_as_text(world: World) -> None:
    page = made(world, '"><script>alert(1)</script>, B1').content.decode()
    assert "<script>alert" not in page
    assert "&lt;script&gt;" in page


def test_a_form_sent_twice_makes_its_openings_once(world: World) -> None:
    key = str(uuid.uuid4())
    first, second = (made(world, "N1", key=key, **{"as": str(at(world, "B1").pk)}) for _ in range(2))
    assert first.headers["Location"] == second.headers["Location"]
    assert Observation.objects.filter(opening=at(world, "N1"), fact="door.kind").count() == 1


def test_making_one_with_return_chooses_no_kind(world: World) -> None:
    page = world.client("technician").get(f"/sites/{world.site.pk}/openings/new/").content.decode()
    assert page.count('name="kind"') == 9
    assert 'name="kind" value="" checked' in page
    assert "<button name=" not in page.partition("<main")[2]


# as the door before


def test_the_door_before_is_offered_with_the_one_made_last_first(world: World) -> None:
    made(world, "N1")
    put_away(at(world, "G1"), author=world.people["owner"])
    page = world.client("technician").get(f"/sites/{world.site.pk}/openings/new/").content.decode()
    offered = page.partition('<select id="as"')[2].partition("</select>")[0]
    assert offered.index(">N1<") < offered.index(">B1<")
    assert ">G1<" not in offered


def test_as_the_door_before_takes_its_facts_over_as_assumed(world: World) -> None:
    made(world, "N1", **{"as": str(at(world, "B1").pk)})
    before, after = (facts_of(at(world, tag)).rebuilt.survey.openings[0] for tag in ("B1", "N1"))
    for path in ("door.kind", "door.clear_width", "operator.kind", "protection.e1.kind"):
        assert after.fact(path).value == before.fact(path).value
        assert after.fact(path).standing == "assumed"
    said = Observation.objects.get(opening=at(world, "N1"), fact="door.clear_width")
    assert (said.by, said.author) == ("comparison with B1", world.people["technician"])


def test_what_is_of_one_door_alone_is_not_taken_over(world: World) -> None:
    opening, who = at(world, "B1"), world.people["technician"]
    alone = {
        "readings.m1.ohms": "10 kohm", "tests.m1.what": "pressed", "statements.m1.words": "it bites",
        "photos.m1.file": "a.jpg", "incident.what": "a dent", "temporary_parts.m1.what": "a jumper",
        "defeats.m1.what": "tape", "door.serial": "7", "as_found": "closes_by_tap", "last_work.what": "greased",
        "protection.e1.state": "works", "name": "Bay 1", "floor.wet": "yes", "lead.confirmed.by": "Ana",
    }  # fmt: skip
    for path, typed in alone.items():
        write(world.site, opening, Said(fact=path, typed=typed), author=who)
    (copied,) = copy_facts(opening, make_opening(world.site, "N1", author=who), author=who)
    assert "door.kind" in copied
    assert not set(alone) & set(copied)


def test_what_contradicts_itself_or_cannot_be_read_there_is_not_taken_over(world: World) -> None:
    who = world.people["technician"]
    like = make_opening(
        world.site, "L1", author=who,
        said=[
            Said(fact="door.kind", typed="grille"), Said(fact="door.kind", typed="rolling"),
            Said(fact="door.clear_width", typed="wide"), Said(fact="door.clear_height", typed="9 ft"),
            Said(fact="operator.listed_to", typed="none"), Said(fact="door.lift", says="unknown"),
            Said(fact="cord.retracted", says="none"),
        ],
    )  # fmt: skip
    opening = make_opening(world.site, "N1", author=who)
    assert set(copy_facts(like, opening, author=who)[0]) == {"door.clear_height", "operator.listed_to"}
    assert facts_of(opening).rebuilt.survey.openings[0].operator.listed_to.value == ()


def test_of_several_readings_that_agree_one_is_taken_over(world: World) -> None:
    who = world.people["technician"]
    like = make_opening(world.site, "L1", author=who)
    for typed, origin in (("9 ft", "told"), ("108 in", "measured")):
        write(world.site, like, Said(fact="door.clear_height", typed=typed, origin=origin), author=who)
    opening = make_opening(world.site, "N1", author=who)
    copy_facts(like, opening, author=who)
    assert [head.typed for head in facts_of(opening).heads["door.clear_height"]] == ["108 in"]


def test_except_for_the_kind_of_leaf(world: World) -> None:
    made(world, "N1", kind="rolling", **{"as": str(at(world, "B1").pk)})
    kind = facts_of(at(world, "N1")).heads["door.kind"]
    assert [(head.typed, head.origin) for head in kind] == [("rolling", "")]


def test_a_door_of_another_site_is_no_door_before(world: World) -> None:
    other = make_opening(
        world.site, "O1", author=world.people["owner"], said=[Said(fact="door.kind", typed="grille")]
    )
    put_away(other, author=world.people["owner"])
    for key in (str(other.pk), str(uuid.uuid4()), "x"):
        made(world, f"N{key[:4]}", **{"as": key})
        assert not Observation.objects.filter(opening__tag=f"N{key[:4]}").exists()
