"""Pages about the API: its operations, and the kinds of problems."""

from __future__ import annotations

import json
from itertools import groupby
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

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
    paths = document()["paths"]
    return [
        {
            "area": (operation.tags or [""])[0],
            "method": method.upper(),
            "address": address,
            "words": _(operation.summary)
            if operation.auth_callbacks[0] is not allowed
            else paths[address][method]["summary"],
            "who": _who(operation.auth_callbacks[0]),
            "once": heeds_key(operation),
        }
        for address, methods, operation in operations()
        for method in methods
    ]


def _who(auth: Any) -> str:
    words = {
        allowed: _("everybody, where the workbench is open"),
        reads: _("browser, or any token"),
        writes: _("browser, or a token that may write"),
        in_browser: _("browser alone"),
    }
    return words[auth]
