"""The page of a walk as the server gives it, and the list of the evening: order, reasons, who said so."""

from __future__ import annotations

import html
import json
import re
import uuid
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone

from sillwright.base.words import Reader
from sillwright.survey.questions import spec_at
from sillwright.web.photos.shots import BY_NAME
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Opening, Photo, Question
from sillwright.web.records.remarks import Remarked, remark
from sillwright.web.records.surveys import standing
from sillwright.web.walk import evening
from sillwright.web.walk.evening import Evening, Line, evening_of
from sillwright.web.walk.missing import missing
from sillwright.web.walk.rows import ROWS, SHOTS, book_of

from .conftest import ROOT, World

STATIC = ROOT / "src/sillwright/web/static"
READER = Reader(units="us", country="US")


@pytest.fixture(autouse=True)
def _time_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    """Every door is studied, however slow the machine is just now."""
    monkeypatch.setattr(evening, "LONGEST", 600.0)


def _page(world: World, name: str, who: str = "technician") -> str:
    response = world.client(who).get(f"/sites/{world.site.pk}/{name}/")
    assert response.status_code == 200
    return str(response.content.decode())


def _opening(world: World, tag: str) -> Opening:
    found = world.site.openings.get(tag=tag)
    found.site = world.site
    return found


def _says(world: World, tag: str, kind: str, words: str, who: str = "technician", about: str = "") -> None:
    said = Remarked(id=uuid.uuid4(), kind=kind, about=about, words=words, at=timezone.now())
    remark(_opening(world, tag), said, author=world.people[who])


def _parts(found: Evening) -> dict[str, list[str]]:
    return {weight: [each.opening.tag for each in lines] for weight, _title, lines in found.parts}


def _line(world: World, tag: str) -> Line:
    found = evening_of(world.site, READER)
    return next(each for _w, _t, lines in found.parts for each in lines if each.opening.tag == tag)


def test_the_page_of_a_walk_knows_every_fact_it_asks_and_its_answers_in_words(world: World) -> None:
    text = _page(world, "walk")
    book = json.loads(html.unescape(re.search(r'data-book="([^"]*)"', text)[1]))  # type: ignore[index]
    assert [each["path"] for each in book["rows"]] == [each.path for each in ROWS]
    for row in book["rows"]:
        assert row["title"], row
        assert "?" in row["ask"], row
        if row["entry"] != "devices":
            spec = spec_at(row["path"])
            words = {word for word, _shown in row["choices"]}
            assert words <= set(spec.choices) if spec.choices else spec.unit in {"m", "1"}, row
    assert ["sectional", "Sectional: panels on tracks"] in book["rows"][0]["choices"]
    assert [each["name"] for each in book["shots"]] == ["plate", "bottom_left", "inside"]
    assert all(name in BY_NAME for _name, _words, counts in SHOTS for name in counts)


def test_the_page_of_a_walk_holds_nothing_of_the_site_that_could_go_stale(world: World) -> None:
    text = _page(world, "walk")
    assert "B1" not in re.sub(r"<[^>]*>", "", text)
    assert world.site.name not in text


def test_every_word_that_a_script_of_the_walk_asks_for_stands_on_its_page_and_no_other() -> None:
    scripts = [STATIC / "walk.js", *(STATIC / "offline/walk").glob("*.js")]
    code = "\n".join(each.read_text(encoding="utf-8") for each in scripts)
    asked = set(re.findall(r'\bsay\(\s*"(\w+)"', code))
    page = Path(ROOT / "src/sillwright/web/templates/walk/_words.html").read_text(encoding="utf-8")
    there = {
        re.sub(r"-(\w)", lambda found: found[1].upper(), name) for name in re.findall(r'data-([\w-]+)="{%', page)
    }
    assert asked <= there
    assert {each for each in there if f'"{each}"' not in code} == set()


def test_a_reader_sees_the_list_of_the_evening_and_does_not_walk(world: World) -> None:
    assert world.client("reader").get(f"/sites/{world.site.pk}/walk/").status_code == 403
    assert world.client("stranger").get(f"/sites/{world.site.pk}/evening/").status_code == 404
    text = _page(world, "evening", "reader")
    assert f"/sites/{world.site.pk}/walk/" not in text
    assert f"/sites/{world.site.pk}/walk/" in _page(world, "evening")


def test_the_site_leads_to_the_walk_and_to_the_list_of_the_evening(world: World) -> None:
    for who, expected in (("technician", 1), ("reader", 0)):
        text = world.client(who).get(f"/sites/{world.site.pk}/").content.decode()
        assert text.count(f'href="/sites/{world.site.pk}/walk/"') == expected
        assert f"/sites/{world.site.pk}/evening/" in text


def test_the_list_of_the_evening_goes_by_what_the_study_found(world: World) -> None:
    found = evening_of(world.site, READER)
    assert _parts(found) == {"stop": ["D4", "F1", "G1"], "quote": ["B2", "D3"], "watch": ["B1"]}
    assert found.open == 0
    text = _page(world, "evening")
    assert text.index("Stop today</h2>") < text.index("Quote</h2>") < text.index("Watch</h2>")
    d4 = text[text.index('data-tag="D4"') : text.index('data-tag="F1"')]
    assert "The study says: stop today" in d4
    assert "The sensing edge e1 is torn off." in d4
    assert "A temporary part is in place and not booked out: a resistor across the edge terminals" in d4
    assert f'href="/openings/{_opening(world, "D4").pk}/"' in d4


def test_a_person_raises_a_door_and_never_lowers_it_and_the_list_says_who(world: World) -> None:
    _says(world, "B1", "urgency", "stop")
    _says(world, "F1", "urgency", "watch", "advisor")
    assert _parts(evening_of(world.site, READER))["stop"] == ["B1", "D4", "F1", "G1"]
    assert "watch" not in _parts(evening_of(world.site, READER))
    text = _page(world, "evening")
    b1 = text[text.index('data-tag="B1"') : text.index('data-tag="D4"')]
    assert "Technician says: stop today (" in b1
    assert "A person raised it; the study says: watch" in b1
    f1 = text[text.index('data-tag="F1"') : text.index('data-tag="G1"')]
    assert "Advisor says: watch" in f1
    assert "The study says: stop today" in f1
    assert "raised" not in f1


def test_what_two_people_say_of_one_door_stands_side_by_side(world: World) -> None:
    _says(world, "B1", "urgency", "quote")
    _says(world, "B1", "urgency", "stop", "advisor")
    line = _line(world, "B1")
    assert (line.weight, [(who, word) for who, word, _at in line.words]) == (
        "stop",
        [("Technician", "quote"), ("Advisor", "stop today")],
    )


def test_remarks_photos_questions_and_what_is_missing_stand_at_their_door(world: World) -> None:
    opening = _opening(world, "B1")
    _says(world, "B1", "remark", "Wheels squeal <loud>")
    _says(world, "B1", "left", "no lift", about="plate")
    technician = world.people["technician"]
    of_photo: dict[str, Any] = {"site": world.site, "opening": opening, "author": technician, "size": 1}
    of_photo["digest"] = "0" * 64
    for shot, state in (("bottom_right", "kept"), ("inside", "coming"), ("plate", "refused")):
        Photo.objects.create(shot=shot, state=state, taken=timezone.now(), **of_photo)
    asked = {"site": world.site, "opening": opening, "by": technician, "at": timezone.now()}
    Question.objects.create(fact="door.kind", words="Which kind?", **asked)
    Question.objects.create(fact="door.lift", words="Which?", answered=timezone.now(), **asked)
    line = _line(world, "B1")
    assert (line.photos, line.questions, line.missing) == (2, 1, ("Urgency",))
    text = _page(world, "evening")
    assert "“Wheels squeal &lt;loud&gt;” – Technician" in text
    assert "Left out on purpose: Operator’s plate (no lift)" in " ".join(text.split())
    assert "2 photos, 1 question not answered yet" in " ".join(text.split())


def test_a_door_that_was_not_studied_in_time_says_so_and_keeps_what_people_said(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(evening, "LONGEST", 0.0)
    _says(world, "D3", "urgency", "stop")
    found = evening_of(world.site, READER)
    assert found.open == 6
    assert _parts(found) == {"stop": ["D3"], "": ["B1", "B2", "D4", "F1", "G1"]}
    text = _page(world, "evening")
    assert "6 doors are not studied yet." in text
    assert text.count("Not studied yet.") == 6


def test_a_site_without_doors_has_an_empty_evening(world: World) -> None:
    world.site.openings.update(put_away=timezone.now())
    assert "No opening yet." in _page(world, "evening")


def _told(opening: Opening) -> Any:
    return standing(opening.facts.all())


def test_missing_is_what_nobody_looked_at_and_an_assumption_is_no_look(world: World) -> None:
    opening = Opening.objects.create(site=world.site, tag="new", position=50)
    technician = world.people["technician"]

    def lacks(**more: Any) -> list[str]:
        return missing(_told(opening), more.get("shots", ()), more.get("said", False), more.get("left", ()), READER)

    everything = lacks()
    assert everything == [
        "Kind of leaf", "Clear width", "Clear height", "Kind of operator", "Edge and eye", "Hold test",
        "Operator’s plate", "Bottom corner", "Whole opening from 15 ft", "Urgency",
    ]  # fmt: skip
    write(world.site, opening, Said(fact="door.kind", typed="rolling", origin="assumed"), author=technician)
    assert lacks() == everything
    write(world.site, opening, Said(fact="door.kind", typed="slide_gate", origin="measured"), author=technician)
    write(world.site, opening, Said(fact="as_found", says="unknown"), author=technician)
    write(world.site, opening, Said(fact="protection.e1.kind", typed="sensing_edge"), author=technician)
    assert lacks(shots=["bottom_right"], said=True, left=["plate"]) == [
        "Leaf length", "Leaf height", "Kind of operator", "Wires at the edge", "Whole opening from 15 ft",
    ]  # fmt: skip


def test_the_book_of_a_walk_speaks_of_no_door_of_its_own(world: World) -> None:
    assert "tag" in book_of(READER)["own"]
    assert "as_found" in book_of(READER)["own"]
    assert not [row.path for row in ROWS if row.looked and row.path in book_of(READER)["own"]]
