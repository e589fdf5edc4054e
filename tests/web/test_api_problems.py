"""What is answered instead: one form everywhere, one table from error to status."""

from __future__ import annotations

import importlib
import json
import pkgutil
from typing import Any

import pytest
from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.db import OperationalError
from django.http import HttpResponse
from django.test import Client, RequestFactory

import sillwright
from sillwright.base.errors import DocumentError, Mistake, QuantityError, SillwrightError
from sillwright.web.api import front, problems
from sillwright.web.api.problems import KINDS, TABLE, answered

from .api_callers import CALLERS, callers, things
from .conftest import World

MEDIA = "application/problem+json"


def _below(kind: type[Exception]) -> set[type[Exception]]:
    return {kind, *(each for child in kind.__subclasses__() for each in _below(child))}


def test_every_error_that_is_raised_on_purpose_has_a_row() -> None:
    for module in pkgutil.walk_packages(sillwright.__path__, "sillwright."):
        if not module.name.startswith(("sillwright.web.", "sillwright.cli")):
            importlib.import_module(module.name)
    ours = {each for each in _below(SillwrightError) if each.__module__.startswith("sillwright.")}
    assert ours <= set(TABLE)


@pytest.mark.parametrize("error", TABLE, ids=lambda error: error.__name__)
def test_every_row_answers_as_its_kind(error: type[Exception]) -> None:
    special: dict[Any, tuple[Any, ...]] = {DocumentError: ("yard", ()), QuantityError: ("no unit", "10 ft")}
    response = answered(RequestFactory().get("/api/"), error(*special.get(error, ("words",))))
    kind = KINDS[TABLE[error]]
    assert (response.status_code, response["Content-Type"]) == (kind.status, MEDIA)
    assert json.loads(response.content)["type"] == f"/api/problems/{kind.name}"


def test_an_error_without_a_row_is_not_dressed_up() -> None:
    with pytest.raises(ZeroDivisionError):
        answered(RequestFactory().get("/api/"), ZeroDivisionError())


def test_all_mistakes_of_a_document_are_told_with_their_places() -> None:
    mistakes = tuple(Mistake(path=f"door.{n}", message="wrong", accepted="right", line=n, column=1) for n in (3, 4))
    told = json.loads(answered(RequestFactory().get("/api/"), DocumentError("yard", mistakes)).content)
    assert told["mistakes"] == [
        {"path": f"door.{n}", "message": "wrong", "accepted": "right", "line": n, "column": 1} for n in (3, 4)
    ]


def test_not_yours_and_not_there_are_the_same_bytes(world: World) -> None:
    keys = vars(things(world))
    stranger = callers(world)["stranger"]
    none = dict.fromkeys(keys, "00000000-0000-4000-8000-000000000000")
    for address in (
        "/api/sites/{site}",
        "/api/openings/{opening}/study",
        "/api/papers/{paper}",
        "/api/organisations/{organisation}",
        "/api/organisations/{organisation}/trail",
    ):
        there, nowhere = (_without_number(stranger.ask("GET", address.format(**each))) for each in (keys, none))
        assert there == nowhere
        assert there[0] == 404


def _without_number(response: HttpResponse) -> tuple[int, bytes, dict[str, str]]:
    number = response["Request-Id"].encode()
    varying = ("Request-Id", "RateLimit-Remaining", "RateLimit-Reset", "Content-Security-Policy")
    headers = {name: value for name, value in response.items() if name not in varying}
    return response.status_code, response.content.replace(number, b""), headers


@pytest.mark.parametrize("who", CALLERS)
@pytest.mark.parametrize(
    "address", ["/api/nowhere", "/api/sites/7", "/api/sites/", "/api/me/", "/api//me", "/api/é"]
)
def test_an_unknown_address_is_a_problem_for_everybody(world: World, address: str, who: str) -> None:
    response = callers(world)[who].ask("GET", address)
    assert (response.status_code, response["Content-Type"]) == (404, MEDIA)


def test_another_method_is_told_which_ones_there_are(world: World) -> None:
    response = callers(world)["owner"].ask("DELETE", "/api/sites")
    assert (response.status_code, response["Content-Type"]) == (405, MEDIA)
    assert response["Allow"] == "GET, HEAD, POST"


def test_a_head_request_has_the_length_of_the_answer_and_no_body(world: World) -> None:
    owner = callers(world)["owner"]
    whole, head = owner.ask("GET", "/api/organisations"), owner.ask("HEAD", "/api/organisations")
    assert (head.status_code, head.content) == (200, b"")
    assert head["Content-Length"] == str(len(whole.content))


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"[1",
        b"NaN",
        b'{"units": Infinity}',
        b"[" * 100_000,
        b"[" * 60 + b"]" * 60,
        b"\xff\xfe",
        b"nothing",
    ],
)
def test_a_body_that_is_no_json_is_refused_in_the_same_form(world: World, body: bytes) -> None:
    owner = world.client("owner")
    response = owner.generic("PATCH", "/api/me", body, content_type="application/json")
    assert (response.status_code, response["Content-Type"]) == (422 if not body else 400, MEDIA)


def test_a_body_of_another_kind_is_refused(world: World) -> None:
    response = world.client("owner").post("/api/sites", {"name": "Quay"})
    assert (response.status_code, response["Content-Type"]) == (415, MEDIA)


def test_a_body_that_is_too_large_is_refused(world: World) -> None:
    body = b'{"name": "' + b"x" * settings.DATA_UPLOAD_MAX_MEMORY_SIZE + b'"}'
    response = world.client("owner").generic("PATCH", "/api/me", body, content_type="application/json")
    assert (response.status_code, response["Content-Type"]) == (413, MEDIA)


def test_every_mistake_in_a_body_is_named_with_what_would_be_right(world: World) -> None:
    sent = {"organisation": "7", "nmae": "Quay", "country": 3}
    told = callers(world)["owner"].ask("POST", "/api/sites", sent).json()
    assert {each["path"]: (each["message"], bool(each["accepted"])) for each in told["mistakes"]} == {
        "organisation": ("this cannot be used", True),
        "name": ("this is missing", False),
        "country": ("this cannot be used", True),
        "nmae": ("this name is not known here", False),
    }


@pytest.mark.parametrize("name", ["x\x00", "x\ud800", "x" * 201, " "])
def test_a_name_that_cannot_be_kept_is_refused_with_the_reason(world: World, name: str) -> None:
    response = callers(world)["owner"].ask("PATCH", f"/api/sites/{world.site.pk}", {"name": name})
    assert response.status_code == 422
    assert response.json()["mistakes"][0]["message"]


def test_a_database_that_is_busy_is_no_fault_of_the_request(world: World, monkeypatch: pytest.MonkeyPatch) -> None:
    def busy(request: object) -> None:
        raise OperationalError

    monkeypatch.setattr(front, "caller_of", busy)
    response = Client().get("/api/me")
    assert (response.status_code, response["Content-Type"]) == (503, MEDIA)


def test_a_fault_of_ours_is_told_in_the_same_form_without_its_words(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(request: object) -> None:
        raise ZeroDivisionError("a secret")

    monkeypatch.setattr(front, "caller_of", fails)
    response = Client(raise_request_exception=False).get("/api/me")
    assert (response.status_code, response["Content-Type"]) == (500, MEDIA)
    assert b"secret" not in response.content


def test_a_host_that_is_not_ours_is_told_in_the_same_form(world: World) -> None:
    response = Client().get("/api/me", headers={"host": "elsewhere.example"})
    assert (response.status_code, response["Content-Type"]) == (400, MEDIA)


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_has_a_page(world: World, name: str) -> None:
    response = Client().get(KINDS[name].address)
    assert response.status_code == 200
    assert str(KINDS[name].words) in response.content.decode()


def test_the_number_of_the_request_is_the_one_in_the_log(world: World) -> None:
    response = Client().get("/api/nowhere")
    assert response.json()["instance"] == response["Request-Id"]


def test_the_table_knows_the_special_before_the_general() -> None:
    assert problems.problem_of(RequestDataTooBig()).kind == "too-large"
