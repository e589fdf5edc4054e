"""The OpenAPI document, and the pages about the API."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from django.test import Client
from jsonschema import Draft202012Validator

from sillwright.base.calculation import schema
from sillwright.study.calculations import TABLE, calculation
from sillwright.web.api.document import document, operations

from .conftest import World


def _below(value: Any) -> Iterator[dict[str, Any]]:
    if isinstance(value, dict):
        yield value
    for inner in value.values() if isinstance(value, dict) else value if isinstance(value, list) else ():
        yield from _below(inner)


def test_the_document_is_valid_openapi() -> None:
    schemathesis.openapi.from_dict(document()).validate()
    assert document()["openapi"] == "3.1.0"


def test_every_reference_leads_somewhere() -> None:
    for each in _below(document()):
        if "$ref" in each:
            here: Any = document()
            for name in each["$ref"].removeprefix("#/").split("/"):
                here = here[name]


def test_every_schema_is_one() -> None:
    for each in document()["components"]["schemas"].values():
        Draft202012Validator.check_schema(each)


def test_operations_are_told_apart_by_their_ids() -> None:
    said = [each["operationId"] for methods in document()["paths"].values() for each in methods.values()]
    assert len(set(said)) == len(said) == sum(len(methods) for _address, methods, _one in operations())


def test_each_calculation_has_an_address_with_its_exact_schemas() -> None:
    for name in TABLE:
        said = document()["paths"][f"/api/calc/{name}"]["post"]
        found = calculation(name)
        for told, model in (
            (said["requestBody"]["content"], found.case),
            (said["responses"]["200"]["content"], found.result),
        ):
            whole = {key: value for key, value in schema(model).items() if key != "$schema"}
            assert told["application/json"]["schema"] == whole


@pytest.mark.parametrize(
    ("method", "address", "security"),
    [
        ("get", "/api/sites", [{"token": []}, {"browser": []}]),
        ("post", "/api/me/keys", [{"browser": []}]),
        ("post", "/api/calc/impact", [{}, {"token": []}, {"browser": []}]),
    ],
)
def test_the_document_says_who_may_call(method: str, address: str, security: list[Any]) -> None:
    assert document()["paths"][address][method]["security"] == security


def test_what_makes_something_heeds_the_key() -> None:
    for address, methods in document()["paths"].items():
        made = methods.get("post", {"responses": {}})
        if "201" in made["responses"] and not address.endswith("/papers"):  # papers are made once by themselves
            assert "Idempotency-Key" in [each["name"] for each in made["parameters"]], address


def test_everybody_may_read_the_document_and_the_pages(world: World) -> None:
    told = Client().get("/api/openapi.json")
    assert (told.status_code, told.json()) == (200, json.loads(json.dumps(document())))
    page = Client().get("/api/")
    assert page.status_code == 200
    for address, methods, _operation in operations():
        for method in methods:
            assert f"{method.upper()} {address}" in page.content.decode()


def test_the_pages_load_nothing_from_elsewhere_and_run_no_script_of_others(world: World) -> None:
    for address in ("/api/", "/api/problems/not-found"):
        page = world.client("owner").get(address).content.decode()
        assert page.count("<script") == len(re.findall(r'<script type="module"(?: async)? src="/static/', page))
        assert "http://" not in page
        assert "https://" not in page
