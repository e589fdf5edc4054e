"""Papers: made once, kept as they were made, handed out to those who may read the site."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from django.utils import timezone

from sillwright import __version__
from sillwright.base.words import Reader
from sillwright.study import site_as_json, study_site
from sillwright.survey.reading import read_survey
from sillwright.web.records import disk, papers
from sillwright.web.records.log import Refused, Said, write
from sillwright.web.records.models import Event, Paper
from sillwright.web.records.papers import Damaged, content_of, make_paper, path_of

from .conftest import ROOT, World
from .test_answers_page import HOSTILE, checked, made

US = Reader()


@pytest.fixture(autouse=True)
def _folder(tmp_path: Path, settings: object) -> None:
    """Each test keeps its papers in a folder of its own."""
    storages = {**settings.STORAGES}  # type: ignore[attr-defined]
    storages["default"] = {**storages["default"], "OPTIONS": {"location": tmp_path}}
    settings.STORAGES = storages  # type: ignore[attr-defined]


def paper_of(world: World, kind: str = "elevation", tag: str = "B1", reader: Reader = US) -> Paper:
    """A paper of one opening."""
    opening = world.site.openings.get(tag=tag)
    return make_paper(kind, world.site, opening, by=world.people["technician"], reader=reader)  # type: ignore[arg-type]


def test_a_report_of_the_site_is_a_paper_with_its_digest_and_a_line_in_the_trail(world: World) -> None:
    client = world.client("technician")
    response = client.post(f"/sites/{world.site.pk}/papers/", {"kind": "report"})
    assert response.status_code == 302
    paper = Paper.objects.get()
    content = content_of(paper)
    assert content.startswith(b"%PDF-")
    assert (paper.size, paper.digest) == (len(content), hashlib.sha256(content).hexdigest())
    assert (paper.version, paper.units, paper.by) == (__version__, "us", world.people["technician"])
    event = Event.objects.get(verb="paper made")
    assert (event.after, event.who, event.site) == (paper.digest, world.people["technician"], world.site)
    page = client.get(response["Location"]).content.decode()
    checked(page)
    assert paper.digest[:12] in page
    assert not list(path_of(paper.pk).parent.glob(".*")), "something was left aside"


def test_the_answer_for_programs_is_what_the_command_prints(world: World) -> None:
    paper = make_paper("answer", world.site, None, by=world.people["owner"], reader=US)
    survey = read_survey(ROOT / "examples" / "ferry-yard.yaml")
    assert json.loads(content_of(paper)) == json.loads(json.dumps(site_as_json(study_site(survey, US))))


def test_a_paper_is_a_download_that_no_browser_runs(world: World) -> None:
    paper = paper_of(world)
    response = world.client("friend").get(f"/papers/{paper.pk}/")
    assert response.content == content_of(paper)
    assert response["Content-Disposition"] == 'attachment; filename="lanternfield-ferry-yard-b1-elevation.svg"'
    assert response["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert response["X-Content-Type-Options"] == "nosniff"
    assert response["Cache-Control"] == "no-store"


def test_a_paper_of_another_organisation_is_not_there(world: World) -> None:
    paper = paper_of(world)
    stranger = world.client("stranger")
    assert stranger.get(f"/papers/{paper.pk}/").status_code == 404
    assert stranger.get(f"/papers/{paper.pk}/links/").status_code == 404
    for address in (f"/sites/{world.site.pk}/papers/", f"/openings/{world.opening.pk}/papers/"):
        assert stranger.get(address).status_code == 404
        assert stranger.post(address, {"kind": "report"}).status_code == 404
    assert world.client(None).get(f"/papers/{paper.pk}/").status_code == 302


@pytest.mark.parametrize("who", ["reader", "friend"])
def test_who_may_only_read_makes_no_paper(world: World, who: str) -> None:
    client, address = world.client(who), f"/openings/{world.opening.pk}/papers/"
    assert client.post(address, {"kind": "elevation"}).status_code == 403
    page = client.get(address)
    assert page.status_code == 200
    assert "Make the report" not in page.content.decode()
    assert not Paper.objects.exists()


def test_the_same_state_on_the_same_day_gives_the_same_paper(world: World) -> None:
    first = paper_of(world)
    assert paper_of(world) == first
    assert paper_of(world, "answer") != first
    assert paper_of(world, reader=Reader(units="metric")) != first
    assert Event.objects.filter(verb="paper made").count() == 3
    files = [each for each in path_of(first.pk).parents[1].rglob("*") if each.is_file()]
    assert len(files) == 3, "a file without a row was left"


def test_another_state_or_another_day_gives_another_paper(world: World) -> None:
    first = paper_of(world)
    Paper.objects.filter(pk=first.pk).update(made=timezone.now() - timezone.timedelta(days=1))
    second = paper_of(world)
    assert second != first
    said = Said(fact="protection.y1.kind", typed="photo_eye")
    write(world.site, world.site.openings.get(tag="B1"), said, author=world.people["owner"])
    assert paper_of(world) != second


def test_two_presses_at_once_make_one_paper(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    written, other = papers._write, []

    def while_another_press_goes_through(path: Path, content: bytes) -> None:
        written(path, content)
        monkeypatch.setattr(papers, "_write", written)
        other.append(paper_of(world))

    monkeypatch.setattr(papers, "_write", while_another_press_goes_through)
    assert [paper_of(world)] == other
    assert Paper.objects.count() == 1
    assert Event.objects.filter(verb="paper made").count() == 1


@pytest.mark.parametrize("damage", ["changed", "cut", "gone"])
def test_a_paper_whose_bytes_are_not_those_that_were_made_is_not_handed_out(world: World, damage: str) -> None:
    paper = paper_of(world)
    path, content = path_of(paper.pk), content_of(paper)
    if damage == "gone":
        path.unlink()
    else:
        path.write_bytes(content[:-1] + (b"" if damage == "cut" else b"x"))
    with pytest.raises(Damaged):
        content_of(paper)
    response = world.client("technician").get(f"/papers/{paper.pk}/")
    assert response.status_code == 409
    assert b"<svg xmlns" not in response.content
    assert "not handed out" in response.content.decode()
    again = paper_of(world)
    assert again != paper, "a damaged paper is made anew"
    assert content_of(again) == content


def test_a_paper_that_cannot_be_written_leaves_nothing(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_about: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk.os, "fsync", full)
    response = world.client("technician").post(f"/openings/{world.opening.pk}/papers/", {"kind": "elevation"})
    assert response.status_code == 503
    assert "No space left on device" in response.content.decode()
    assert not Paper.objects.exists()
    assert not Event.objects.filter(verb="paper made").exists()


def test_openings_of_which_too_little_is_known_are_named_and_left_out(world: World) -> None:
    made(world, "X1")
    client, address = world.client("technician"), f"/sites/{world.site.pk}/papers/"
    page = client.get(address).content.decode()
    assert "Not in a paper, because too little is known of them: X1." in page
    assert client.post(address, {"kind": "answer"}).status_code == 302
    told = json.loads(content_of(Paper.objects.get()))
    assert [each["tag"] for each in told["openings"]] == ["B1", "B2", "D3", "D4", "F1", "G1"]


def test_of_a_bare_opening_there_is_no_paper(world: World) -> None:
    bare = made(world, "X1")
    response = world.client("technician").post(f"/openings/{bare.pk}/papers/", {"kind": "report"})
    assert response.status_code == 422
    assert "Too little is known for a paper" in response.content.decode()
    with pytest.raises(Refused):
        make_paper("elevation", world.site, None, by=world.people["owner"], reader=US)
    assert not Paper.objects.exists()


@pytest.mark.parametrize("kind", ["", "book", "../../etc"])
def test_a_paper_of_no_kind_is_refused(world: World, kind: str) -> None:
    response = world.client("technician").post(f"/openings/{world.opening.pk}/papers/", {"kind": kind})
    assert response.status_code == 422
    assert "Choose which paper to make." in response.content.decode()


def test_a_name_in_any_writing_becomes_a_plain_file_name(world: World) -> None:
    opening = made(
        world, f"../{HOSTILE}\r\n大", door__kind="sectional", door__clear_width="10 ft", door__clear_height="9 ft"
    )
    paper = make_paper("elevation", world.site, opening, by=world.people["owner"], reader=US)
    assert paper.name.isascii()
    assert set(paper.name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-.")
    response = world.client("owner").get(f"/papers/{paper.pk}/")
    assert response["Content-Disposition"] == f'attachment; filename="{paper.name}"'


def test_a_long_list_of_papers_comes_in_pages(world: World) -> None:
    first = paper_of(world)
    rows = [
        Paper(site=first.site, opening=first.opening, kind="answer", name=f"p{n}.json", digest=f"{n:064d}",
              media="application/json", size=1, version="0", units="us", by=first.by)
        for n in range(60)
    ]  # fmt: skip
    Paper.objects.bulk_create(rows)
    client, address = world.client("owner"), f"/openings/{first.opening_id}/papers/"
    page, older = client.get(address).content.decode(), client.get(f"{address}?page=2").content.decode()
    assert page.count('class="card"') == 50
    assert older.count('class="card"') == 11
    assert "?page=2" in page
