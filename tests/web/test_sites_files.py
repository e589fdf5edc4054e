"""Survey files in and out: a new site, more about one that is there, and what comes out reads back."""

from __future__ import annotations

import io
import json
import uuid
from typing import Any

import openpyxl
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from sillwright.base.words import Reader
from sillwright.study import opening_as_json, study_site
from sillwright.survey.reading import survey_of
from sillwright.survey.template import template
from sillwright.web.accounts.models import Membership
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Event, Observation, Opening, Site
from sillwright.web.records.sites import make_opening, make_site, put_away, rename, share
from sillwright.web.records.surveys import facts_of
from sillwright.web.records.taking_more import Came, take_in_more
from sillwright.web.taking.saying import removal
from sillwright.web.taking.subject import Subject

from .conftest import ROOT, World

EXAMPLE = (ROOT / "examples" / "ferry-yard.yaml").read_bytes()
SMALL = """
format: sillwright-survey/1
site: {name: Quay Shed, country: US}
openings:
  - tag: Q1
    door: {kind: grille, clear_width: {value: 10 ft, from: measured, by: Ana, on: 2026-03-04}}
"""


def sent(
    client: Client, content: bytes | str, name: str = "survey.yaml", site: Site | None = None, **more: str
) -> Any:
    """A file as a browser sends it."""
    data = content.encode() if isinstance(content, str) else content
    address = f"/sites/{site.pk}/take-in/" if site else "/sites/take-in/"
    return client.post(address, {"file": SimpleUploadedFile(name, data), **more})


def about(content: str) -> str:
    """A small file about the example site."""
    return f"format: sillwright-survey/1\nsite: {{name: x, country: US}}\nopenings:\n{content}"


def known(world: World, tag: str = "B1") -> Any:
    return facts_of(world.site.openings.get(tag=tag)).rebuilt.survey.openings[0]


def an_opening(world: World, *told: tuple[str, str], **more: str) -> Opening:
    """An opening N1 of which this was said."""
    said = [Said(fact=fact, typed=typed, **more) for fact, typed in told]
    return make_opening(world.site, "N1", author=world.people["owner"], said=said)


def came_of(world: World, opening: str) -> Came:
    """What came of a file about one opening of the site."""
    survey = survey_of(about(f"  - {opening}").encode(), "x")
    return take_in_more(world.site, survey, author=world.people["owner"])


# a new site


def test_a_file_becomes_a_site_with_every_reading_and_where_it_comes_from(world: World) -> None:
    answer = sent(world.client("advisor"), SMALL)
    site = Site.objects.get(name="Quay Shed")
    assert answer.headers["Location"] == f"/sites/{site.pk}/"
    width = Observation.objects.get(site=site, fact="door.clear_width")
    assert (width.typed, width.origin, width.by, width.on) == ("10 ft", "measured", "Ana", "2026-03-04")
    assert (width.device, width.author) == ("survey file", world.people["advisor"])
    assert {each.request for each in Event.objects.filter(site=site)} == {answer.headers["Request-Id"]}


def test_a_draft_of_which_hardly_anything_is_known_is_taken_in(world: World) -> None:
    assert sent(world.client("owner"), SMALL.replace("    door:", "    #")).status_code == 302
    assert Opening.objects.get(tag="Q1").site.name == "Quay Shed"


@pytest.mark.parametrize("name", ["survey.yaml", "photo.jpg", "x" * 300, "../../etc/passwd", "survey.xlsx.yaml"])
def test_a_workbook_and_json_are_told_by_their_content_whatever_their_name(world: World, name: str) -> None:
    book = template("us")
    assert sent(world.client("owner"), book, name).status_code == 302
    door = {"kind": "grille", "clear_width": {"value": "10 ft", "from": "measured", "on": "2026-03-04"}}
    told = {"site": {"name": "Quay Shed", "country": "US"}, "openings": [{"tag": "Q1", "door": door}]}
    plain = json.dumps({"format": "sillwright-survey/1", **told})
    assert sent(world.client("owner"), plain, name).status_code == 302
    assert Site.objects.filter(name__in=("Invented site", "Quay Shed")).count() == 2


def test_a_file_sent_twice_makes_one_site(world: World) -> None:
    key = str(uuid.uuid4())
    first, second = (sent(world.client("owner"), SMALL, key=key) for _ in range(2))
    assert first.headers["Location"] == second.headers["Location"]
    assert Site.objects.filter(name="Quay Shed").count() == 1


def test_who_belongs_to_two_organisations_says_for_which_the_file_is(world: World) -> None:
    Membership.objects.create(user=world.people["owner"], organisation=world.other, role="advisor")
    sent(world.client("owner"), SMALL, organisation=str(world.other.pk))
    assert Site.objects.get(name="Quay Shed").organisation == world.other


@pytest.mark.parametrize("who", ["technician", "reader"])
def test_who_may_make_no_site_takes_none_in(world: World, who: str) -> None:
    assert sent(world.client(who), SMALL).status_code == 403
    assert Site.objects.count() == 1


def test_all_mistakes_of_a_file_are_told_with_line_and_what_would_be_right_and_nothing_is_kept(
    world: World,
) -> None:
    wrong = SMALL.replace("grille", "gril").replace("10 ft", "10 kg") + "    colour: red\n"
    answer = sent(world.client("owner"), wrong)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "This file was not taken in; nothing was changed." in page
    assert page.count("<li>") == 3
    assert "Line 6:" in page
    assert "did you mean “grille”" in page
    assert "unknown key" in page
    assert 'aria-describedby="wrong"' in page
    assert Site.objects.count() == 1


def test_of_very_many_mistakes_the_first_hundred_are_shown(world: World) -> None:
    wrong = about("".join(f"  - {{tag: T{number}, door: {{kind: x{number}}}}}\n" for number in range(120)))
    page = sent(world.client("owner"), wrong).content.decode()
    assert page.count("<li>") == 100
    assert "more</p>" in page


def test_without_a_file_the_page_says_which_one_is_wanted(world: World) -> None:
    answer = world.client("owner").post("/sites/take-in/", {"file": ""})
    assert answer.status_code == 422
    assert "Choose a survey file first" in answer.content.decode()


# more about a site that is there


@pytest.mark.parametrize(
    ("who", "status"),
    [("owner", 302), ("advisor", 302), ("technician", 302), ("reader", 403), ("friend", 403), ("stranger", 404)],
)
def test_who_may_take_more_in(world: World, who: str, status: int) -> None:
    assert sent(world.client(who), SMALL, site=world.site).status_code == status
    assert world.site.openings.filter(tag="Q1").exists() == (status == 302)
    got = world.client(who).get(f"/sites/{world.site.pk}/take-in/").status_code
    assert got == (200 if status == 302 else status)


def test_new_openings_are_made_and_told(world: World) -> None:
    client = world.client("technician")
    answer = sent(client, SMALL, site=world.site)
    page = " ".join(client.get(answer.headers["Location"]).content.decode().split())
    assert "1 opening is new." in page
    assert "2 facts came in of which nothing was known." in page
    assert "Nothing contradicts what was known." in page
    assert world.site.name == Site.objects.get(pk=world.site.pk).name  # a file does not rename a site
    assert "1 opening is new." not in client.get(f"/sites/{world.site.pk}/take-in/").content.decode()


def test_the_file_that_a_site_came_from_adds_nothing_to_it(world: World) -> None:
    count = Observation.objects.count()
    answer = sent(world.client("owner"), EXAMPLE, site=world.site)
    assert answer.status_code == 302
    assert Observation.objects.count() == count


def test_a_value_that_differs_stands_beside_what_was_known_and_is_linked_as_a_contradiction(world: World) -> None:
    before = known(world).door.clear_width.value
    client, opening = world.client("technician"), world.site.openings.get(tag="B1")
    answer = sent(client, about("  - {tag: B1, door: {clear_width: 7 ft}}"), site=world.site)
    page = " ".join(client.get(answer.headers["Location"]).content.decode().split())
    width = known(world).door.clear_width
    assert (width.standing, before in width.rivals) == ("two readings", True)
    assert "This now says two things." in page
    address = f"/openings/{opening.pk}/facts/door.clear_width/"
    assert f'<a href="{address}">B1: clear width</a>' in page
    assert client.get(address).status_code == 200


@pytest.mark.parametrize(
    ("written", "standing", "adds"),
    [
        ("{value: 3.05 m, from: told}", "known", False),  # within a sixteenth of an inch of 10 ft
        ("{value: 3.1 m, from: told}", "two readings", True),
        ("null", "known", False),
    ],
)
def test_a_value_that_agrees_adds_nothing(world: World, written: str, standing: str, adds: bool) -> None:
    an_opening(world, ("door.headroom", "10 ft"), origin="measured")
    came = came_of(world, f"{{tag: N1, door: {{headroom: {written}}}}}")
    headroom = known(world, "N1").door.headroom
    assert (headroom.standing, len(headroom.readings) == 2, bool(came.beside)) == (standing, adds, adds)


def test_an_assumed_value_that_somebody_measured_is_a_reading_more_and_no_contradiction(world: World) -> None:
    opening = an_opening(world, ("door.headroom", "10 ft"), origin="assumed")
    came = came_of(world, "{tag: N1, door: {headroom: {value: 10 ft, from: measured}}}")
    assert known(world, "N1").door.headroom.standing == "known"
    assert (came.beside, came.contradicting) == ([(opening, "door.headroom")], [])


def test_a_value_for_what_nobody_knew_is_new(world: World) -> None:
    an_opening(world, ("door.headroom", ""), says="unknown")
    came = came_of(world, "{tag: N1, door: {headroom: 10 ft}}")
    assert (came.facts, came.beside) == (1, [])
    assert known(world, "N1").door.headroom.standing == "known"


def test_a_device_that_the_file_leaves_out_is_in_dispute_and_linked_by_its_list(world: World) -> None:
    opening = world.site.openings.get(tag="B1")
    keys = [each.id.value for each in known(world).protection]
    content = about("  - {tag: B1, protection: [{id: z9, kind: loop}]}")
    client = world.client("owner")
    answer = sent(client, content, site=world.site)
    page = client.get(answer.headers["Location"]).content.decode()
    rivals = [[each.id.value for each in items] for items in known(world).protection.rivals]
    assert rivals == [[*keys, "z9"], ["z9"]]
    assert f'<a href="/openings/{opening.pk}/list/protection/">B1: Protective devices</a>' in page
    assert client.get(f"/openings/{opening.pk}/list/protection/").status_code == 200


def test_no_device_in_the_file_and_one_at_the_opening_is_a_contradiction(world: World) -> None:
    came = came_of(world, "{tag: B1, protection: []}")
    assert [path for _, path in came.contradicting] == ["protection"]
    assert known(world).protection.standing == "two readings"


def test_members_without_a_name_are_known_again_by_what_is_said_of_them(world: World) -> None:
    told = [
        ("mx7.place", "north wall"),
        ("mx7.height", "5 ft"),
        ("mq2.place", "south wall"),
        ("mq2.height", "5 ft"),
    ]
    opening = an_opening(world, *((f"stations.{name}", typed) for name, typed in told))
    came_of(
        world,
        "{tag: N1, stations: [{place: south wall, height: 5 ft}, {place: gate, height: 5 ft},"
        " {place: north wall, height: 4 ft}]}",
    )
    heads = facts_of(opening).heads.items()
    assert {path: [head.typed for head in told] for path, told in heads if "site." not in path} == {
        "stations.mx7.place": ["north wall"],
        "stations.mx7.height": ["5 ft", "4 ft"],
        "stations.mq2.place": ["south wall"],
        "stations.mq2.height": ["5 ft"],
        "stations.m1.place": ["gate"],
        "stations.m1.height": ["5 ft"],
    }


def test_a_file_about_a_site_comes_in_whole_or_not_at_all(world: World, monkeypatch: Any) -> None:
    count = Observation.objects.count(), Opening.objects.count(), Event.objects.count()
    points = ", ".join(f"[{number} mm, 0.001 mm]" for number in range(900))
    content = about(f"  - {{tag: N1, door: {{kind: grille}}}}\n  - {{tag: B1, floor: {{points: [{points}]}}}}")
    answer = sent(world.client("owner"), content, site=world.site)
    assert answer.status_code == 422
    assert "B1 floor.points: typed: at most 4000 signs are kept." in answer.content.decode()
    assert (Observation.objects.count(), Opening.objects.count(), Event.objects.count()) == count


# out


@pytest.mark.parametrize(("who", "status"), [("reader", 200), ("friend", 200), ("stranger", 404)])
def test_who_may_read_a_site_may_take_its_files(world: World, who: str, status: int) -> None:
    for name in ("survey.yaml", "survey.xlsx"):
        assert world.client(who).get(f"/sites/{world.site.pk}/{name}").status_code == status


def out(world: World, site: Site | None = None, name: str = "survey.yaml") -> bytes:
    answer = world.client("reader").get(f"/sites/{(site or world.site).pk}/{name}")
    assert "attachment" in answer.headers["Content-Disposition"]
    return answer.content


def test_a_site_comes_out_as_a_file_that_studies_as_the_one_it_came_from(world: World) -> None:
    reader, text = Reader(), out(world)
    ours, theirs = (
        study_site(survey_of(text, "out.yaml"), reader),
        study_site(survey_of(EXAMPLE, "in.yaml"), reader),
    )
    for one, other in zip(ours.openings, theirs.openings, strict=True):
        assert opening_as_json(one, reader) == opening_as_json(other, reader)
    assert text.startswith(b"# Lanternfield Ferry Yard, written on ")


@pytest.mark.parametrize("name", ["survey.yaml", "survey.xlsx"])
def test_what_came_out_adds_nothing_when_it_comes_back(world: World, name: str) -> None:
    opening, who = world.site.openings.get(tag="B1"), world.people["owner"]
    for fact, said in (("use.traffic.mk3.who", "bus"), ("stations.mk4.place", "gate"), ("use.children", "y")):
        write(world.site, opening, Said(fact=fact, typed=said), author=who)
    write(world.site, opening, Said(fact="protection.e1", says="removed"), author=who)  # in dispute
    content = out(world, name=name)
    before = Observation.objects.count()
    came = take_in_more(world.site, survey_of(content, name), author=who)
    assert (came.facts, came.beside, Observation.objects.count()) == (0, [], before)


def test_a_device_that_was_taken_away_does_not_come_out(world: World) -> None:
    opening = world.site.openings.get(tag="B1")
    subject = Subject(world.site, opening, True, Reader(), "owner")
    for key in subject.members("protection"):
        said = Said(fact=f"protection.{key}", says="removed")
        write(world.site, opening, removal(subject, "protection", key, said), author=world.people["owner"])
    text = out(world)
    (found,) = [each for each in survey_of(text, "x").openings if each.tag.value == "B1"]
    assert (found.protection.standing, found.protection.items) == ("known", ())


def test_what_is_put_away_does_not_come_out(world: World) -> None:
    put_away(world.site.openings.get(tag="B1"), author=world.people["owner"])
    for name in ("survey.yaml", "survey.xlsx"):
        assert "B1" not in {each.tag.value for each in survey_of(out(world, name=name), name).openings}


def test_a_value_that_cannot_be_read_comes_out_as_a_comment(world: World) -> None:
    opening = world.site.openings.get(tag="B1")
    write(world.site, opening, Said(fact="door.headroom", typed="ample"), author=world.people["owner"])
    assert "# door.headroom: “ample” cannot be read" in out(world).decode()


def test_names_of_any_writing_come_out_and_go_into_the_name_of_the_file(world: World) -> None:
    site = make_site(world.dealer, "Kai: „Süd“ \u0085#1\r\n", "DE", author=world.people["owner"])
    rename(site, "../=cmd|' /c'!A1", author=world.people["owner"])
    for name in ("survey.yaml", "survey.xlsx"):
        answer = world.client("owner").get(f"/sites/{site.pk}/{name}")
        assert "/" not in answer.headers["Content-Disposition"]
        assert survey_of(answer.content, name).site.name.value == "../=cmd|' /c'!A1"


def test_the_spreadsheet_of_a_site_has_a_row_an_opening_and_no_formula(world: World) -> None:
    opening = world.site.openings.get(tag="B1")
    write(world.site, opening, Said(fact="name", typed="=HYPERLINK(1)"), author=world.people["owner"])
    book = openpyxl.load_workbook(io.BytesIO(out(world, name="survey.xlsx")))
    tags = [row[0].value for row in book["Openings"].iter_rows(min_row=3) if row[0].value]
    assert tags == [each.tag for each in world.site.openings.all()]
    assert not [cell for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]


@pytest.mark.parametrize(("units", "cell"), [("us", "ft in"), ("metric", "m"), ("site", "ft in")])
def test_the_empty_spreadsheet_is_in_the_units_of_its_reader(world: World, units: str, cell: str) -> None:
    user = world.people["reader"]
    user.units = units
    user.save()
    content = world.client("reader").get("/survey-template.xlsx").content
    names, row = list(openpyxl.load_workbook(io.BytesIO(content))["Openings"].values)[:2]
    assert row[names.index("door.clear_width")] == cell


def test_a_shared_site_may_be_taken_out_and_made_ones_own(world: World) -> None:
    sent(world.client("friend"), out(world))
    assert Site.objects.filter(name="Lanternfield Ferry Yard").count() == 2
    assert Site.objects.get(organisation=world.other).openings.count() == world.site.openings.count()


def test_a_file_shared_for_writing_comes_in_for_the_other_organisation_too(world: World) -> None:
    share(world.site, world.other, "write", author=world.people["owner"])
    assert sent(world.client("friend"), SMALL, site=world.site).status_code == 302
