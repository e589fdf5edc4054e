"""Requests that may be sent again: done once, answered alike."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.utils import timezone

from sillwright.web.api.once import LASTS
from sillwright.web.records.models import Event, Once, Opening, Site

from .api_callers import callers, things
from .conftest import ROOT, World

KEY = {"Idempotency-Key": "3f0c-door"}


def _openings(world: World) -> str:
    return f"/api/sites/{world.site.pk}/openings"


def test_the_same_request_with_the_same_key_is_done_once_and_answered_alike(world: World) -> None:
    owner = callers(world)["owner"]
    first, again = (owner.ask("POST", _openings(world), {"tag": "N1"}, **KEY) for _ in range(2))
    assert (first.status_code, first.content) == (again.status_code, again.content) == (201, again.content)
    assert "Idempotent-Replay" not in first
    assert again["Idempotent-Replay"] == "true"
    assert Opening.objects.filter(tag="N1").count() == 1


def test_without_a_key_the_second_request_is_a_request_of_its_own(world: World) -> None:
    owner = callers(world)["owner"]
    assert [owner.ask("POST", _openings(world), {"tag": "N1"}).status_code for _ in range(2)] == [201, 422]


@pytest.mark.parametrize("other", ["body", "address", "way"])
def test_the_same_key_for_another_request_is_refused(world: World, other: str) -> None:
    here = callers(world)
    assert here["owner"].ask("POST", _openings(world), {"tag": "N1"}, **KEY).status_code == 201
    who = here["writing"] if other == "way" else here["owner"]
    address = "/api/organisations" if other == "address" else _openings(world)
    refused = who.ask("POST", address, {"tag": "N2" if other == "body" else "N1"}, **KEY)
    assert (refused.status_code, refused.json()["type"]) == (422, "/api/problems/key-used")
    assert not Opening.objects.filter(tag="N2").exists()


def test_two_people_may_use_the_same_key(world: World) -> None:
    here = callers(world)
    assert here["owner"].ask("POST", _openings(world), {"tag": "N1"}, **KEY).status_code == 201
    assert here["technician"].ask("POST", _openings(world), {"tag": "N2"}, **KEY).status_code == 201


def test_what_was_refused_may_be_tried_again_with_the_same_key(world: World) -> None:
    owner = callers(world)["owner"]
    assert owner.ask("POST", _openings(world), {"tag": " "}, **KEY).status_code == 422
    assert not Once.objects.exists()
    assert owner.ask("POST", _openings(world), {"tag": "N1"}, **KEY).status_code == 201


def test_a_deed_that_is_refused_halfway_leaves_nothing(world: World) -> None:
    survey = "format: sillwright-survey/1\nsite: {name: Yard, country: US}\nopenings: [{tag: D}, {tag: D}]\n"
    sites, events = Site.objects.count(), Event.objects.count()
    owner = world.client("owner")
    address = f"/api/surveys?organisation={world.dealer.pk}"
    response = owner.post(address, survey, content_type="application/yaml", headers=KEY)
    assert response.status_code == 422
    assert (Site.objects.count(), Event.objects.count(), Once.objects.count()) == (sites, events, 0)


def test_a_form_that_a_browser_sends_again_with_another_border_is_the_same_request(world: World) -> None:
    owner, address = world.client("owner"), f"/api/surveys?organisation={world.dealer.pk}"
    survey = "format: sillwright-survey/1\r\nsite: {name: Yard, country: US}\r\nopenings: [{tag: D}]\r\n"
    answers = []
    for border in ("one", "another"):
        head = 'Content-Disposition: form-data; name="survey"; filename="a"'
        body = f"--{border}\r\n{head}\r\n\r\n{survey}\r\n--{border}--\r\n"
        kind = f"multipart/form-data; boundary={border}"
        answers.append(owner.generic("POST", address, body, content_type=kind, headers=KEY))
    assert [each.status_code for each in answers] == [201, 201]
    assert answers[0].content == answers[1].content


def test_a_key_is_forgotten_after_a_day(world: World) -> None:
    owner = callers(world)["owner"]
    owner.ask("POST", _openings(world), {"tag": "N1"}, **KEY)
    Once.objects.update(made=timezone.now() - LASTS - timedelta(minutes=1))
    assert owner.ask("POST", _openings(world), {"tag": "N2"}, **KEY).status_code == 201
    assert Once.objects.count() == 1


@pytest.mark.parametrize("key", ["", "a b", "x" * 101, "é"])
def test_a_key_that_is_none_is_refused(world: World, key: str) -> None:
    response = callers(world)["owner"].ask("POST", _openings(world), {"tag": "N1"}, **{"Idempotency-Key": key})
    assert response.status_code == 422
    assert response.json()["mistakes"][0]["path"] == "Idempotency-Key"


def test_a_token_that_may_only_read_gets_no_answer_of_one_that_may_write(world: World) -> None:
    here = callers(world)
    here["writing"].ask("POST", _openings(world), {"tag": "N1"}, **KEY)
    assert here["reading"].ask("POST", _openings(world), {"tag": "N1"}, **KEY).status_code == 422


@pytest.mark.parametrize(
    ("address", "body", "secret"),
    [
        ("/api/me/keys", {"name": "hoist", "scope": "read"}, "token"),
        ("/api/organisations/{organisation}/invitations", {"role": "reader"}, "address"),
        ("/api/papers/{paper}/links", {"days": 7}, "address"),
    ],
)
def test_a_secret_is_not_kept_for_a_repeat(world: World, address: str, body: Any, secret: str) -> None:
    where = address.format(**vars(things(world)))
    owner = callers(world)["owner"]
    first, again = (owner.ask("POST", where, body, **KEY).json() for _ in range(2))
    assert first[secret]
    assert again == {**first, secret: None}
    assert first[secret] not in str(Once.objects.get().answer)


@pytest.mark.slow
def test_of_two_requests_at_the_same_moment_one_is_done(tmp_path: Path) -> None:
    """On a database of its own: one in memory, as other tests have, lets nobody wait."""
    env = {
        **os.environ,
        "SILLWRIGHT_TEST_DATA": str(tmp_path),
        "DJANGO_SETTINGS_MODULE": "tests.web.settings_for_tests",
    }
    ran = subprocess.run(
        [sys.executable, "-m", "tests.web.twins"], cwd=ROOT, env=env, capture_output=True, timeout=120
    )
    assert json.loads(ran.stdout), ran.stderr
    for found in json.loads(ran.stdout):
        assert found == {"statuses": [201, 201], "replays": 1, "bodies": 1, "made": 1}
