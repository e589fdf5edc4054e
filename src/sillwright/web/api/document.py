"""The OpenAPI document: what the operations say of themselves, and what holds for all of them."""

from __future__ import annotations

import json
import re
from functools import cache
from typing import Any

from django.conf import settings
from django.utils.translation import override
from ninja.operation import Operation
from pydantic.json_schema import models_json_schema

from sillwright.base.calculation import schema
from sillwright.study.calculations import TABLE, calculation
from sillwright.web.api.app import api
from sillwright.web.api.once import HEADER, once
from sillwright.web.api.operations.calc import allowed
from sillwright.web.api.operations.observations import Observed
from sillwright.web.api.problems import KINDS, MEDIA
from sillwright.web.api.signing import in_browser, writes

PREFIX = "/api/"
ABOUT = """\
Everything that the pages do, for programs. A program sends a token of a person as `Authorization: Bearer sw_…`; a
signed-in browser sends its cookie and, with everything but GET, the token that `/api/me` gives as `X-CSRFToken`.

Times are UTC. Numbers are SI; facts are text as somebody typed it, with its unit. Lists come in pages: go to `next`
until it is null. What makes something heeds `Idempotency-Key`: sent again within 24 hours, the same request with
the same key is done once and answered alike. Secrets are shown once; a repeat has null in their place.

What cannot be done is answered as `application/problem+json`; a fault of the server is 500 or 503 in the same form.
A signed-in caller may ask 600 times a minute, an address without sign-in 120 times; `RateLimit-Remaining` tells
what is left. Pieces of photos are counted apart: 1200 a minute."""
REF = "#/components/schemas/{model}"
_CONVERTER = re.compile(r"\{[^}:]+:")
_MISTAKE = {
    "type": "object",
    "properties": {
        "path": {"type": "string"},
        "message": {"type": "string"},
        "accepted": {"type": "string", "description": "What would be right."},
        "line": {"type": "integer"},
        "column": {"type": ["integer", "null"]},
    },
    "required": ["path", "message", "accepted"],
}
PROBLEM = {
    "title": "Problem",
    "type": "object",
    "description": "What went wrong, as RFC 9457 describes.",
    "properties": {
        "type": {"type": "string", "format": "uri-reference", "description": "The kind of problem."},
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "instance": {"type": "string", "description": "Number of the request, for whoever runs the server."},
        "mistakes": {"type": "array", "items": _MISTAKE},
    },
    "required": ["type", "title", "status", "detail", "instance"],
}


@cache
def document() -> dict[str, Any]:
    """The document, in English. Loads every calculation, so it is made when it is first asked for."""
    with override("en"):
        return json.loads(json.dumps(_made(), default=str))  # type: ignore[no-any-return]


def _made() -> dict[str, Any]:
    found: dict[str, Any] = dict(api.get_openapi_schema(path_prefix=PREFIX))
    found["info"]["description"] = ABOUT
    found["info"]["license"] = {"name": "Apache-2.0", "identifier": "Apache-2.0"}
    found["servers"] = [{"url": "/"}]
    parts = found["components"]
    parts["schemas"] |= _schemas()
    parts["schemas"]["Batch"]["properties"]["observations"]["items"] = {"$ref": REF.format(model="Observed")}
    parts["responses"] = {name: _response(name) for name in KINDS}
    parts["securitySchemes"] = _schemes()
    for address, methods, operation in operations():
        for method in methods:
            _complete(found["paths"][address][method], operation)
    for name in TABLE:
        _calculation(found["paths"][f"{PREFIX}calc/{name}"]["post"], name)
    return found


def operations() -> list[tuple[str, list[str], Operation]]:
    """Every operation with its address, as the document calls it, and its methods."""
    found = []
    for router in api._get_bound_routers():
        for path, view in router.path_operations.items():
            address = PREFIX + _CONVERTER.sub("{", path.lstrip("/"))
            found += [(address, [each.lower() for each in one.methods], one) for one in view.operations]
    return found


def _schemas() -> dict[str, Any]:
    _places, made = models_json_schema([(Observed, "validation")], ref_template=REF)
    return {**made["$defs"], "Problem": PROBLEM}


def _response(name: str) -> dict[str, Any]:
    kind = KINDS[name]
    shape = {"$ref": REF.format(model="Problem")}
    found: dict[str, Any] = {
        "description": f"{kind.title}. {kind.words}",
        "content": {MEDIA: {"schema": shape}},
    }
    if kind.status == 401:
        found["headers"] = {"WWW-Authenticate": {"schema": {"type": "string"}, "required": True}}
    if kind.status == 429:
        found["headers"] = {"Retry-After": {"schema": {"type": "integer"}, "required": True}}
    return found


def _schemes() -> dict[str, Any]:
    cookie = settings.SESSION_COOKIE_NAME
    return {
        "browser": {"type": "apiKey", "in": "cookie", "name": cookie, "description": "A signed-in browser."},
        "token": {"type": "http", "scheme": "bearer", "description": "A token of a person, with scope and end."},
    }


def _complete(said: dict[str, Any], operation: Operation) -> None:
    """Add to an operation what holds for all of its kind."""
    said["operationId"] = operation.view_func.__name__
    said.pop("security", None)
    said["security"] = _security(operation)
    if heeds_key(operation):
        said["parameters"].append(_key_header())
    for status in _refusals(said, operation):
        said["responses"][status] = _by_status(status)


def heeds_key(operation: Operation) -> bool:
    """Whether an operation heeds ``Idempotency-Key``."""
    return once in getattr(operation, "_run_decorators", ())


def _security(operation: Operation) -> list[dict[str, list[str]]]:
    auth = operation.auth_callbacks[0]
    if auth is in_browser:
        return [{"browser": []}]
    signed: list[dict[str, list[str]]] = [{"token": []}, {"browser": []}]
    return [{}, *signed] if auth is allowed and settings.OPEN_WORKBENCH else signed


def _key_header() -> dict[str, Any]:
    shape = {"type": "string", "minLength": 1, "maxLength": 100, "pattern": "^[!-~]+$"}
    words = "A word of your own for this request, such as a UUID; the same word again does nothing twice."
    return {"in": "header", "name": HEADER, "required": False, "schema": shape, "description": words}


def _refusals(said: dict[str, Any], operation: Operation) -> list[int]:
    """The statuses with which an operation refuses, beside those of a fault."""
    places = {each["in"] for each in said["parameters"]}
    has_body = "requestBody" in said or (operation.auth_callbacks[0] is allowed and "POST" in operation.methods)
    found = {400, 401, 403, 429}
    changes = operation.auth_callbacks[0] in (writes, in_browser)
    found |= {404} if "path" in places or changes else set()
    found |= {422} if places & {"query", "header"} or has_body or changes else set()
    found |= {413, 415} if has_body else set()
    found |= {412} if any(each["name"] == "If-Match" for each in said["parameters"]) else set()
    return sorted(found)


def _by_status(status: int) -> dict[str, Any]:
    name = next(each.name for each in KINDS.values() if each.status == status)
    return {"$ref": f"#/components/responses/{name}"}


def _calculation(said: dict[str, Any], name: str) -> None:
    """Exact schemas of a calculation's case and result."""
    found = calculation(name)
    case, result = (_plain(schema(each)) for each in (found.case, found.result))
    said["summary"] = said["description"] = found.title
    said["requestBody"] = {"required": True, "content": {"application/json": {"schema": case}}}
    said["responses"][200] = {"description": "OK", "content": {"application/json": {"schema": result}}}


def _plain(found: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in found.items() if key != "$schema"}
