"""Random requests at every operation, right and wrong: the API answers as its document says, and never 500."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

import pytest
import schemathesis
from django.core.cache import caches
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
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
from sillwright.web.api.operations.calc import allowed

from .api_callers import things
from .conftest import World

FEW, MANY = 4, 8  # requests of each mode
CHECKS = [not_a_server_error, status_code_conformance, content_type_conformance, response_schema_conformance]
MODES = (GenerationMode.POSITIVE, GenerationMode.NEGATIVE)
ALL = [(method, address, one) for address, methods, one in operations() for method in methods]
OPERATIONS = [(method, address) for method, address, _operation in ALL]
OPEN = [(method, address) for method, address, one in ALL if allowed in one.auth_callbacks]
Sent = tuple[dict[str, str], dict[str, str]]  # cookies, headers
PLAIN = {"Accept-Encoding": "identity"}
QUIET = [
    HealthCheck.too_slow,
    HealthCheck.filter_too_much,
    HealthCheck.data_too_large,
    HealthCheck.function_scoped_fixture,
]

pytestmark = pytest.mark.filterwarnings("default")


@pytest.fixture(autouse=True)
def no_limits(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nobody asks too often here."""
    caches["near"].clear()
    monkeypatch.setattr(limits, "SIGNED_IN", 10**9)
    monkeypatch.setattr(limits, "SIGNED_OUT", 10**9)
    yield
    caches["near"].clear()


@contextmanager
def _one_connection() -> Iterator[None]:
    """A request leaves its connection open, so that the next one is inside the test's transaction as well."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    try:
        yield
    finally:
        for signal in (request_started, request_finished):
            signal.connect(close_old_connections)


def _named(each: str) -> str:
    return each.removeprefix("/api/")


def _tried(method: str, address: str, ids: dict[str, Any], sent: Sent, examples: int) -> None:
    """Send many requests of one operation, at things that are there."""
    said = {**document()["paths"][address][method], "security": []}  # signing in is not left to chance
    schema = schemathesis.openapi.from_dict({**document(), "paths": {address: {method: said}}})
    schema.app = get_wsgi_application()
    operation = schema[address][method.upper()]
    places = {name: str(key) for name, key in ids.items() if f"{{{name}}}" in address}
    for mode in MODES:
        made = operation.as_strategy(generation_mode=mode, path_parameters=places or None)
        with _one_connection(), suppress(Unsatisfiable):  # what takes nothing cannot be asked wrongly
            _send(made, sent, examples)


def _send(made: Any, sent: Sent, examples: int) -> None:
    cookies, headers = sent

    @settings(
        max_examples=examples, deadline=None, suppress_health_check=QUIET, database=None, phases=[Phase.generate]
    )
    @given(case=made)
    def send(case: schemathesis.Case) -> None:
        case.call_and_validate(checks=CHECKS, headers={**PLAIN, **headers}, cookies=cookies)

    send()


def _signed_in(world: World) -> Sent:
    """What a browser sends along."""
    client = Client()
    client.force_login(world.people["owner"])
    csrf = client.get("/api/me").json()["csrf"]
    return {name: each.value for name, each in client.cookies.items()}, {"X-CSRFToken": csrf}


@pytest.mark.parametrize(("method", "address"), OPERATIONS, ids=_named)
def test_an_owner_never_meets_a_fault(world: World, method: str, address: str) -> None:
    _tried(method, address, vars(things(world)), _signed_in(world), FEW)


@pytest.mark.slow
@pytest.mark.parametrize(("method", "address"), OPERATIONS, ids=_named)
def test_an_owner_who_tries_long_never_meets_a_fault(world: World, method: str, address: str) -> None:
    _tried(method, address, vars(things(world)), _signed_in(world), MANY)


@pytest.mark.parametrize(("method", "address"), OPEN, ids=_named)
def test_nobody_meets_a_fault_at_the_open_workbench(world: World, method: str, address: str) -> None:
    _tried(method, address, {}, ({}, {}), FEW)
