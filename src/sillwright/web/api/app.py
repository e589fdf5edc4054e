"""The API as a whole: its operations, and how it reads, writes and refuses."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from ninja import NinjaAPI
from ninja.errors import HttpError, ValidationError
from ninja.renderers import JSONRenderer

from sillwright.web.api.operations import (
    calc,
    catalogues,
    entries,
    keys,
    observations,
    openings,
    orders,
    organisations,
    papers,
    people,
    photos,
    questions,
    quotes,
    sites,
    studies,
    surveys,
    trouble,
)
from sillwright.web.api.problems import KNOWN, Problem, answered, told
from sillwright.web.api.reading import Strict, mistakes_of

VERSION = "1"
PARTS = (
    people, keys, organisations, sites, surveys, openings, observations, entries, photos, questions, studies,
    papers, catalogues, quotes, orders, calc, trouble,
)  # fmt: skip


class Plain(JSONRenderer):
    """JSON without the numbers that JSON has no sign for."""

    json_dumps_params = {"allow_nan": False}  # noqa: RUF012


def _unfit(request: HttpRequest, error: ValidationError | type[ValidationError]) -> HttpResponse:
    found = getattr(error, "errors", [])
    return told(request, Problem("mistakes", mistakes=mistakes_of(found)))


def _unread(request: HttpRequest, error: HttpError | type[HttpError]) -> HttpResponse:
    cause = getattr(error, "__cause__", None)
    return told(request, cause if isinstance(cause, Problem) else Problem("bad-request"))


def _known(request: HttpRequest, error: Any) -> HttpResponse:
    return answered(request, error)


def _made() -> NinjaAPI:
    made = NinjaAPI(
        title="Sillwright",
        version=VERSION,
        openapi_url=None,
        docs_url=None,
        parser=Strict(),
        renderer=Plain(),
        urls_namespace="api",
    )
    for each in KNOWN:
        made.add_exception_handler(each, _known)
    made.add_exception_handler(ValidationError, _unfit)
    made.add_exception_handler(HttpError, _unread)
    for part in PARTS:
        made.add_router("", part.router)
    return made


api = _made()
"""Every operation."""
