"""Random requests at every operation, right ones and wrong ones: the API answers as its document says, never 500."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from typing import Any

import pytest
import schemathesis
from django.core.cache import caches
from django.core.wsgi import get_wsgi_application
from django.test import Client
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis.checks import not_a_server_error
from schemathesis.generation import GenerationMode
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from sillwright.web.api import limits
from sillwright.web.api.document import document, operations

from .api_callers import things
from .conftest import World

CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
MODES = (GenerationMode.POSITIVE, GenerationMode.NEGATIVE)
OPERATIONS = [(method, address) for address, methods, _operation in operations() for method in methods]
Sent = tuple[dict[str, str], dict[str, str]]  # cookies, headers
PLAIN = {"Accept-Encoding": "identity"}
QUIET = [
    HealthCheck.too_slow,
    HealthCheck.filter_too_much,
    HealthCheck.data_too_large,
    HealthCheck.function_scoped_fixture,
]

pytestmark = [
    pytest.mark.filterwarnings("default"),
    pytest.mark.parametrize(("method", "address"), OPERATIONS, ids=lambda each: str(each).removeprefix("/api/")),
]


@pytest.fixture(autouse=True)
def no_limits(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nobody asks too often here."""
    caches["near"].clear()
    monkeypatch.setattr(limits, "SIGNED_IN", 10**9)
    monkeypatch.setattr(limits, "SIGNED_OUT", 10**9)
    yield
    caches["near"].clear()


def _tried(method: str, address: str, ids: dict[str, Any], sent: Sent, examples: int) -> None:
    """Send many requests of one operation."""
    paths = {address: {method: document()["paths"][address][method]}}
    schema = schemathesis.openapi.from_dict({**document(), "paths": paths})
    schema.app = get_wsgi_application()
    operation = schema[address][method.upper()]
    places = {name: str(key) for name, key in ids.items() if f"{{{name}}}" in address}
    for mode in MODES:
        _some(operation, mode, places, sent, examples)


def _some(
    operation: Any, mode: GenerationMode, places: dict[str, str], sent: dict[str, Any], examples: int
) -> None:
    cookies, headers = sent
    made = operation.as_strategy(generation_mode=mode, path_parameters=places or None)

    @settings(
        max_examples=examples, deadline=None, suppress_health_check=QUIET, database=None, phases=[Phase.generate]
    )
    @given(case=made)
    def send(case: schemathesis.Case) -> None:
        case.call_and_validate(checks=CHECKS, headers={**PLAIN, **headers}, cookies=cookies)

    with suppress(Unsatisfiable):  # what takes nothing cannot be asked wrongly
        send()


def _signed_in(world: World) -> Sent:
    """What a browser sends along."""
    client = Client()
    client.force_login(world.people["owner"])
    csrf = client.get("/api/me").json()["csrf"]
    return {name: each.value for name, each in client.cookies.items()}, {"X-CSRFToken": csrf}


def test_an_owner_never_meets_a_fault(world: World, method: str, address: str) -> None:
    _tried(method, address, vars(things(world)), _signed_in(world), 12)


def test_nobody_meets_a_fault_when_nobody_is_signed_in(world: World, method: str, address: str) -> None:
    _tried(method, address, vars(things(world)), ({}, {}), 3)
