"""Questions through the API."""

from __future__ import annotations

import re
import uuid
from typing import Any

from django.test import Client

from sillwright.web.records.models import Question

from .api_callers import Caller, token_of, with_token
from .asked import FACT, answers, asked, heads
from .conftest import World


def caller(world: World, who: str) -> Caller:
    """A program of somebody."""
    return with_token(token_of(world.people[who], "write"))


def body(response: Any, status: int = 200) -> Any:
    """What an answer says."""
    assert response.status_code == status, response.content
    return response.json()


def test_a_program_asks_a_person_answers_and_both_read_it(world: World) -> None:
    technician, advisor = caller(world, "technician"), caller(world, "advisor")
    wanted = {"fact": FACT, "words": "When?", "to": str(world.people["advisor"].pk)}
    made = body(technician.ask("POST", f"/api/openings/{world.opening.pk}/questions", wanted), 201)
    assert (made["by"], made["to"], made["address"], made["ends"]) == ("Technician", "Advisor", None, None)
    assert [each["id"] for each in body(advisor.ask("GET", "/api/questions"))["items"]] == [made["id"]]
    told = {"typed": "2014-05", "from": "plate", "known": "my file"}
    done = body(advisor.ask("POST", f"/api/questions/{made['id']}/answer", told))
    assert done["answered"]
    assert done["answer"] == heads(world)[-1]["id"]
    late = advisor.ask("POST", f"/api/questions/{made['id']}/answer", told)
    assert late.status_code == 422
    assert len(answers()) == 1


def test_the_link_is_told_once_and_a_repeat_has_null_in_its_place(world: World) -> None:
    technician = caller(world, "technician")
    wanted = {"id": str(uuid.uuid4()), "fact": FACT, "words": "When?", "name": "Gate Keeper", "days": 1}
    address = f"/api/openings/{world.opening.pk}/questions"
    first = body(technician.ask("POST", address, wanted, **{"Idempotency-Key": "once"}), 201)
    again = body(technician.ask("POST", address, wanted, **{"Idempotency-Key": "once"}), 201)
    third = body(technician.ask("POST", address, wanted), 201)
    assert (again["address"], third["address"], again["id"], third["id"]) == (None, None, first["id"], first["id"])
    link = re.sub(r"^http://[^/]+", "", first["address"])
    assert Client().get(link).status_code == 200
    assert Question.objects.count() == 1


def test_a_reader_who_is_asked_tells_it(world: World) -> None:
    question = asked(world, to=world.people["reader"])
    told = {"typed": "2014", "from": "measured"}
    body(caller(world, "reader").ask("POST", f"/api/questions/{question.pk}/answer", told))
    assert [(each.origin, each.by) for each in answers()] == [("told", "Reader")]


def test_withdrawn_is_withdrawn(world: World) -> None:
    question = asked(world)
    assert caller(world, "owner").ask("DELETE", f"/api/questions/{question.pk}").status_code == 204
    found = body(caller(world, "reader").ask("GET", f"/api/openings/{world.opening.pk}/questions"))["items"]
    assert found[0]["withdrawn"]


def test_what_cannot_be_asked_is_refused_with_its_reason(world: World) -> None:
    technician, address = caller(world, "technician"), f"/api/openings/{world.opening.pk}/questions"
    usual = {"fact": FACT, "words": "When?", "name": "Gate Keeper"}
    for wrong in ({"fact": "no"}, {"words": " "}, {"name": ""}, {"days": 2}, {"to": str(uuid.uuid4())}, {"x": 1}):
        refused = technician.ask("POST", address, {**usual, **wrong})
        assert refused.status_code == 422
        assert refused.json()["mistakes"]
    assert not Question.objects.exists()
