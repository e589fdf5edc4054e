"""Pages about the API: its operations, and the kinds of problems."""

from __future__ import annotations

import json
from itertools import groupby
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe
from ninja.operation import Operation

from sillwright.web.api.document import document, heeds_key, operations
from sillwright.web.api.operations.calc import allowed
from sillwright.web.api.problems import KINDS
from sillwright.web.api.signing import in_browser, reads, writes


@require_safe
def openapi(request: HttpRequest) -> HttpResponse:
    """The OpenAPI document."""
    return HttpResponse(json.dumps(document()), content_type="application/json; charset=utf-8")


@require_safe
def overview(request: HttpRequest) -> HttpResponse:
    """Every operation, for people."""
    areas = [(_(area), list(found)) for area, found in groupby(_rows(), key=lambda row: row["area"])]
    return render(request, "api/overview_page.html", {"areas": areas, "kinds": KINDS.values()})


@require_safe
def kind_page(request: HttpRequest, name: str) -> HttpResponse:
    """A kind of problem, for people. Raises :class:`Http404` where there is none of this name."""
    if name not in KINDS:
        raise Http404
    return render(request, "api/problem_page.html", {"kind": KINDS[name]})


def nothing(request: HttpRequest, **path: str) -> HttpResponse:
    """No address of the API."""
    raise Http404


def _rows() -> list[dict[str, Any]]:
    return [_row(method, address, operation) for address, methods, operation in operations() for method in methods]


def _row(method: str, address: str, operation: Operation) -> dict[str, Any]:
    said, auth = document()["paths"][address][method], operation.auth_callbacks[0]
    computes = auth is allowed and method == "post"
    return {
        "area": (operation.tags or [""])[0],
        "method": method.upper(),
        "address": address,
        "words": said["summary"] if computes else _(operation.summary),  # a calculation says itself what it answers
        "takes": ", ".join(_taken(said)),
        "who": _who(auth),
        "once": heeds_key(operation),
    }


def _taken(said: dict[str, Any]) -> list[str]:
    """What an operation takes, by name."""
    names = [each["name"] for each in said["parameters"] if each["in"] == "query"]
    for media, body in said.get("requestBody", {}).get("content", {}).items():
        shape = body["schema"]
        name = shape.get("$ref", "").rpartition("/")[2]
        told = document()["components"]["schemas"].get(name, shape).get("properties")
        names += list(told) if told and media == "application/json" else [media]
    return names


def _who(auth: Any) -> str:
    words = {
        allowed: _("everybody, where the workbench is open"),
        reads: _("browser, or any token"),
        writes: _("browser, or a token that may write"),
        in_browser: _("browser alone"),
    }
    return words[auth]
