"""Calculations: a case in, a result out, for everybody where the workbench is open."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
import yaml
from django.test import Client
from jsonschema import Draft202012Validator

from sillwright.base.calculation import as_json, schema
from sillwright.base.case_reading import read_case
from sillwright.study.calculations import TABLE, calculation
from sillwright.survey.from_facts import node_of
from sillwright.web import counting
from sillwright.web.api import limits

from .api_callers import Caller, callers
from .conftest import ROOT, World

EXAMPLES = {"contact_spread": "spread"}
CASES: dict[str, Any] = {
    "impact": {"method": "impact-free", "mass": 100, "speed": "1 ft/s", "stiffness": 1e5},
    "performance_level": {"severity": "S2", "exposure": "F1", "avoidance": "P2"},
    "risk_level": {"steps": [0.1, 0.5], "severity": 3},
}


def _case(name: str) -> Any:
    if name in CASES:
        return CASES[name]
    return yaml.safe_load((ROOT / "examples" / f"{EXAMPLES.get(name, name)}.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", TABLE)
def test_a_case_comes_to_what_the_command_line_says(world: World, name: str) -> None:
    here = callers(world)
    response = here["nobody"].ask("POST", f"/api/calc/{name}", _case(name))
    found = calculation(name)
    assert response.json() == as_json(found.function(read_case(found.case, node_of(_case(name)), name)))
    Draft202012Validator(schema(found.result)).validate(response.json())


@pytest.mark.parametrize("name", TABLE)
def test_the_schemas_are_those_of_the_calculation(world: World, name: str) -> None:
    told = callers(world)["nobody"].ask("GET", f"/api/calc/{name}").json()
    found = calculation(name)
    assert (told["case"], told["result"]) == (schema(found.case), schema(found.result))


def test_the_list_names_every_calculation(world: World) -> None:
    items = callers(world)["nobody"].ask("GET", "/api/calc").json()["items"]
    assert {each["name"]: each["title"] for each in items} == {name: calculation(name).title for name in TABLE}


WRONG: list[Any] = [
    {}, [], None, 7, "x", {"steps": "x", "severity": 3}, {"steps": [0.1], "severity": 10**30},
    {"steps": [10**400], "severity": 3}, {"steps": [0.1], "severity": 3, "x\x00": 1},
    {"steps": [[0.1]], "severity": 1}, {"steps": [0.1], "severity": None},
    {"steps": ["\ud800"], "severity": 1}, {"steps": [1.5], "severity": 1},
]  # fmt: skip


@pytest.mark.parametrize("case", WRONG, ids=lambda case: str(case)[:40].encode("ascii", "replace").decode())
def test_a_case_that_is_none_is_refused_with_every_mistake(world: World, case: Any) -> None:
    response = (
        callers(world)["nobody"].ask("POST", "/api/calc/risk_level", case)
        if case is not None
        else (Client().generic("POST", "/api/calc/risk_level", b"null", content_type="application/json"))
    )
    assert response.status_code == 422
    mistakes = response.json()["mistakes"]
    assert all(each["message"] and "line" not in each for each in mistakes)
    assert mistakes


def test_where_the_workbench_is_closed_nobody_computes(world: World, settings: Any) -> None:
    settings.OPEN_WORKBENCH = False
    found = {
        who: [
            caller.ask("GET", "/api/calc").status_code,
            caller.ask("GET", "/api/calc/risk_level").status_code,
            caller.ask("POST", "/api/calc/risk_level", _case("risk_level")).status_code,
        ]
        for who, caller in callers(world).items()
    }
    assert {who for who, told in found.items() if told == [200, 200, 200]} == {
        "owner", "advisor", "technician", "reader", "friend", "stranger", "reading", "writing",
    }  # fmt: skip
    assert {tuple(found[who]) for who in ("nobody", "ended", "withdrawn")} == {(401, 401, 401)}


@pytest.mark.parametrize("who", ["ended", "withdrawn"])
def test_a_token_that_does_not_hold_is_told_so_even_at_an_open_workbench(world: World, who: str) -> None:
    assert callers(world)[who].ask("POST", "/api/calc/risk_level", _case("risk_level")).status_code == 401


def test_too_many_requests_are_held_back_and_told_for_how_long(world: World, monkeypatch: Any) -> None:
    monkeypatch.setattr(limits, "SIGNED_OUT", 3)
    monkeypatch.setattr(counting, "time", SimpleNamespace(time=lambda: 1_000_010.0))
    nobody, here = Caller(Client()), callers(world)
    answers = [nobody.ask("GET", "/api/calc") for _ in range(4)]
    assert [each.status_code for each in answers] == [200, 200, 200, 429]
    assert [each["RateLimit-Remaining"] for each in answers] == ["2", "1", "0", "0"]
    assert answers[3]["Retry-After"] == answers[3]["RateLimit-Reset"] == "10"
    assert answers[3].json()["type"] == "/api/problems/too-many"
    assert Client(REMOTE_ADDR="192.0.2.7").get("/api/calc").status_code == 200
    assert here["owner"].ask("GET", "/api/calc").status_code == 200
    monkeypatch.setattr(counting, "time", SimpleNamespace(time=lambda: 1_000_020.0))
    assert nobody.ask("GET", "/api/calc").status_code == 200


def test_a_person_and_each_token_of_the_person_count_apart(world: World, monkeypatch: Any) -> None:
    monkeypatch.setattr(limits, "SIGNED_IN", 1)
    here = callers(world)
    assert [here[who].ask("GET", "/api/me").status_code for who in ("owner", "reading", "writing")] == [200] * 3
    assert here["owner"].ask("GET", "/api/me").status_code == 429


def test_guessing_tokens_is_held_back_by_address(world: World, monkeypatch: Any) -> None:
    monkeypatch.setattr(limits, "SIGNED_OUT", 2)
    callers(world)
    told = [Caller(Client()).ask("GET", "/api/me", Authorization=f"Bearer sw_{n}").status_code for n in range(3)]
    assert told == [401, 401, 429]


def test_what_keeps_the_server_busy_counts_for_more(world: World) -> None:
    nobody = callers(world)["nobody"]
    left = [int(nobody.ask("GET", "/api/calc")["RateLimit-Remaining"])]
    nobody.ask("POST", "/api/calc/contact_spread", {})
    left.append(int(nobody.ask("GET", "/api/calc")["RateLimit-Remaining"]))
    assert left[0] - left[1] == 11


def test_a_result_beyond_every_number_is_out_of_range_and_no_fault(world: World) -> None:
    case = {"closing_speed": 1.5, "response": 10, "deceleration": 5e-324}
    answer = world.client("owner").post("/api/calc/overtravel", case, content_type="application/json")
    assert answer.status_code == 422
    assert "beyond every number" in answer.content.decode()
