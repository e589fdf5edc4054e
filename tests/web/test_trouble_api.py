"""Advice on a call for programs: the same as on the pages, harm first, nothing kept."""

from __future__ import annotations

import json
from typing import Any

import pytest
from django.test import Client

from sillwright.web.trouble.models import KeptCall

from .conftest import World

SAFE = {"hurt": "no", "hanging": "no", "only_way_out": "no", "closed": "yes", "fire_door": "no"}


def asked(call: Any, status: int = 200, client: Client | None = None) -> Any:
    """What a program is answered."""
    address = "/api/trouble/advice"
    response = (client or Client()).post(address, json.dumps({"call": call}), content_type="application/json")
    assert response.status_code == status, response.content
    return response.json()


def test_whoever_knows_nothing_is_first_asked_whether_somebody_is_hurt(db: None) -> None:
    found = asked({})
    assert found["next"]["kind"] == "make_safe"
    assert found["next"]["words"] == "Is anyone hurt or trapped?"
    assert [each["id"] for each in found["next"]["outcomes"]] == ["yes", "no", "unknown"]
    assert sum(each["probability"] for each in found["suspects"]) <= 1.0001


def test_somebody_hurt_stops_everything(db: None) -> None:
    found = asked({"harm": {"hurt": "yes"}, "symptom": "CALL-01", "who": "technician"})
    assert found["next"] is None
    assert found["stop"].startswith("Call the emergency number now.")


def test_a_test_comes_with_its_words_its_outcomes_and_why(db: None) -> None:
    found = asked({"harm": SAFE, "symptom": "CALL-01", "who": "technician"})
    step = found["next"]
    assert step["kind"] == "test"
    assert step["words"].endswith("?")
    assert len(step["outcomes"]) > 1
    assert step["why"]
    assert found["suspects"][0]["faults"] == ["LEAD_OPEN"]
    assert found["bring"]


def test_answers_move_the_shares(db: None) -> None:
    call = {"harm": SAFE, "symptom": "CALL-01", "who": "technician"}
    eyes = [{"test": "eye_lamps", "outcome": "receiver_off"}]
    assert asked({**call, "answers": eyes})["suspects"][0]["faults"] == ["EYE_ALIGN"]
    unknown = [{"test": "eye_lamps", "outcome": None}]
    assert asked({**call, "answers": unknown})["suspects"][0]["faults"] == ["LEAD_OPEN"]


@pytest.mark.parametrize(
    ("call", "words"),
    [
        ({"symptom": "CALL-99"}, "did you mean"),
        ({"answers": [{"test": "eye_lamp", "outcome": "dark"}]}, "did you mean “eye_lamps”?"),
        ({"answers": [{"test": "eye_lamps", "outcome": "dim"}]}, "there is no “dim”"),
        ({"who": "owner", "answers": [{"test": "ohms_operator", "outcome": "open"}]}, "was never asked"),
        ({"facts": {"leaf": "curtain"}}, "there is no “curtain”"),
        ({"harm": {"hurt": "perhaps"}}, ""),
        ({"bridge": True}, "this name is not known here"),
        ({"repaired": ["x"] * 201}, ""),
        ([], ""),
    ],
)
def test_what_was_never_asked_is_a_mistake_in_words(db: None, call: Any, words: str) -> None:
    found = asked(call, status=422)
    assert words in json.dumps(found, ensure_ascii=False)


def test_nothing_is_kept(world: World) -> None:
    asked({"symptom": "CALL-01"}, client=world.client("owner"))
    assert not KeptCall.objects.exists()
