"""Studies, drawings and papers through the API say what the pages and the command line say."""

from __future__ import annotations

import hashlib

import pytest
from django.test import Client

from sillwright.base.words import Reader
from sillwright.study import opening_as_json
from sillwright.survey.reading import survey_of
from sillwright.web.api.operations import studies
from sillwright.web.records.answers import study_of
from sillwright.web.records.log import Said, write
from sillwright.web.records.models import Observation, Opening, Paper
from sillwright.web.records.papers import path_of

from .api_callers import callers
from .conftest import ROOT, World


def test_a_study_is_the_one_that_the_command_line_prints(world: World) -> None:
    told = callers(world)["reader"].ask("GET", f"/api/openings/{world.opening.pk}/study").json()
    study = study_of(world.opening).study
    assert study
    assert told["study"] == opening_as_json(study, Reader())
    assert (told["missing"], told["mistakes"], told["revision"]) == ([], [], world.opening.revision)


def test_units_are_the_ones_asked_for(world: World) -> None:
    reader = callers(world)["reader"]
    address = f"/api/openings/{world.opening.pk}/study"
    us, metric = (str(reader.ask("GET", f"{address}?units={units}").json()["study"]) for units in ("us", "metric"))
    assert us.count(" lbf") > metric.count(" lbf")


@pytest.mark.parametrize(("wrong", "path"), [("units=cubits", "units"), ("language=xx", "language")])
def test_units_and_languages_that_are_not_here_are_named(world: World, wrong: str, path: str) -> None:
    response = callers(world)["reader"].ask("GET", f"/api/openings/{world.opening.pk}/study?{wrong}")
    assert (response.status_code, response.json()["mistakes"][0]["path"]) == (422, path)


def test_a_study_changes_with_a_fact(world: World) -> None:
    owner = callers(world)["owner"]
    address = f"/api/openings/{world.opening.pk}/study"
    before = owner.ask("GET", address).json()["study"]
    write(world.site, world.opening, Said(fact="door.occupancy", typed="residential"), author=world.people["owner"])
    assert owner.ask("GET", address).json()["study"] != before


def test_a_study_is_made_once_for_the_same_facts(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    made = []
    monkeypatch.setattr(studies, "study_of", lambda *told: made.append(told) or study_of(*told))
    studies._studied.cache_clear()
    reader = callers(world)["reader"]
    for view in ("study", "drawing.svg", "study?units=metric"):
        reader.ask("GET", f"/api/openings/{world.opening.pk}/{view}")
    assert len(made) == 1


def test_of_an_opening_of_which_too_little_is_known_the_study_names_what_is_missing(world: World) -> None:
    owner = callers(world)["owner"]
    made = owner.ask("POST", f"/api/sites/{world.site.pk}/openings", {"tag": "N1"}).json()
    told = owner.ask("GET", f"/api/openings/{made['id']}/study").json()
    assert told["study"] is None
    assert told["missing"] == ["door.kind", "door.clear_width", "door.clear_height"]
    assert owner.ask("GET", f"/api/openings/{made['id']}/drawing.svg").status_code == 200


def test_what_if_answers_otherwise_and_keeps_nothing(world: World) -> None:
    reader, count = callers(world)["reader"], Observation.objects.count()
    address = f"/api/openings/{world.opening.pk}"
    stands = reader.ask("GET", f"{address}/study").json()["study"]["duty"]
    tried = reader.ask("POST", f"{address}/what-if", {"facts": {"protection": None, "door.occupancy": None}}).json()
    assert tried["study"]["duty"] != stands
    assert reader.ask("GET", f"{address}/study").json()["study"]["duty"] == stands
    assert Observation.objects.count() == count


@pytest.mark.parametrize(
    "facts", [{"door.clear_width": "wide"}, {"door.colour": "red"}, {"tag": "B9"}, {"door.kind": ""}]
)
def test_what_cannot_be_tried_is_named(world: World, facts: dict[str, str]) -> None:
    refused = callers(world)["reader"].ask("POST", f"/api/openings/{world.opening.pk}/what-if", {"facts": facts})
    assert (refused.status_code, refused.json()["mistakes"][0]["path"]) == (422, next(iter(facts)))


def test_a_drawing_holds_no_script_and_is_named_as_what_it_is(world: World) -> None:
    response = callers(world)["reader"].ask("GET", f"/api/openings/{world.opening.pk}/drawing.svg")
    assert response["Content-Type"] == "image/svg+xml; charset=utf-8"
    assert response.content.startswith(b"<svg")
    assert b"<script" not in response.content


def test_a_site_goes_out_as_a_survey_and_comes_in_again(world: World) -> None:
    owner = world.client("owner")
    for ending, media in (("yaml", "application/yaml"), ("json", "application/json")):
        out = owner.get(f"/api/sites/{world.site.pk}/survey.{ending}")
        assert out["Content-Type"].startswith(media)
        assert len(survey_of(out.content, "survey").openings) == world.site.openings.count()
        made = owner.post(f"/api/surveys?organisation={world.dealer.pk}", out.content, content_type=media).json()
        tags = Opening.objects.filter(site=made["id"]).order_by("position").values_list("tag", flat=True)
        assert list(tags) == [each.tag for each in world.site.openings.all()]


def test_a_survey_is_taken_in_as_a_file_too(world: World) -> None:
    with (ROOT / "examples" / "ferry-yard.yaml").open("rb") as file:
        made = world.client("owner").post(f"/api/surveys?organisation={world.dealer.pk}", {"survey": file})
    assert made.status_code == 201


def test_more_about_a_site_stands_beside_what_was_known(world: World) -> None:
    more = (
        "format: sillwright-survey/1\nsite: {name: Yard, country: US}\nopenings:\n"
        f"  - {{tag: {world.opening.tag}, door: {{clear_width: 3 ft}}}}\n  - {{tag: N9}}\n"
    )
    address = f"/api/sites/{world.site.pk}/survey"
    came = world.client("technician").post(address, more, content_type="text/yaml").json()
    assert came["beside"] == [{"opening": str(world.opening.pk), "fact": "door.clear_width"}]
    assert [Opening.objects.get(pk=each).tag for each in came["openings"]] == ["N9"]


@pytest.mark.parametrize(
    ("media", "body", "status"),
    [
        ("application/yaml", b"format: other", 422),
        ("application/yaml", b"\xff", 422),
        ("application/yaml", b"a: [", 422),
        ("application/json", b" ", 422),
        ("application/yaml", b"x" * 2_000_001, 422),
        ("application/xml", b"<a/>", 415),
        ("multipart/form-data; boundary=x", b"--x--\r\n", 400),
        ("multipart/form-data", b"--x--\r\n", 400),
    ],
)
def test_a_survey_that_is_none_is_refused_with_every_mistake(
    world: World, media: str, body: bytes, status: int
) -> None:
    address = f"/api/surveys?organisation={world.dealer.pk}"
    response = world.client("owner").generic("POST", address, body, content_type=media)
    assert (response.status_code, response["Content-Type"]) == (status, "application/problem+json")
    assert status != 422 or response.json()["mistakes"]


def test_a_paper_is_made_once_and_handed_out_as_it_was_made(world: World) -> None:
    technician = callers(world)["technician"]
    address = f"/api/openings/{world.opening.pk}/papers"
    made, again = (technician.ask("POST", address, {"kind": "answer"}).json() for _ in range(2))
    assert made["id"] == again["id"]
    response = technician.ask("GET", f"/api/papers/{made['id']}")
    assert hashlib.sha256(response.content).hexdigest() == made["digest"]
    assert response["Content-Disposition"] == f'attachment; filename="{made["name"]}"'
    assert [each["id"] for each in technician.ask("GET", address).json()["items"]] == [made["id"]]


def test_a_damaged_paper_is_not_handed_out(world: World) -> None:
    owner = callers(world)["owner"]
    made = owner.ask("POST", f"/api/openings/{world.opening.pk}/papers", {"kind": "elevation"}).json()
    path_of(Paper.objects.get().pk).write_bytes(b"another")
    response = owner.ask("GET", f"/api/papers/{made['id']}")
    assert (response.status_code, response.json()["type"]) == (409, "/api/problems/damaged")


def test_a_link_opens_its_paper_without_an_account_until_it_is_withdrawn(world: World) -> None:
    owner = callers(world)["owner"]
    paper = owner.ask("POST", f"/api/openings/{world.opening.pk}/papers", {"kind": "elevation"}).json()
    link = owner.ask("POST", f"/api/papers/{paper['id']}/links", {"days": 7}).json()
    assert Client().get(link["address"]).status_code == 200
    assert owner.ask("DELETE", f"/api/papers/{paper['id']}/links/{link['id']}").status_code == 204
    assert Client().get(link["address"]).status_code == 404
