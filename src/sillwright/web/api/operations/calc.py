"""Calculations: one case in, one result out. Open to everybody, unless whoever runs the server has closed it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_noop
from ninja import Router
from ninja.responses import Response
from pydantic import BaseModel, Field

from sillwright.base.calculation import as_json, schema
from sillwright.base.case_reading import read_case
from sillwright.base.errors import DocumentError, Mistake
from sillwright.study.calculations import TABLE, calculation
from sillwright.survey.from_facts import node_of
from sillwright.web.api.limits import count
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import JSON, read_json
from sillwright.web.api.signing import has_token, reads

router = Router(tags=[gettext_noop("Calculations")])

HEAVY = {"contact_spread": 10}
"""How many requests one of these counts for."""


class CalculationSaid(BaseModel):
    """A calculation."""

    name: str
    title: str = Field(description="What it answers.")


class Calculations(BaseModel):
    """All calculations."""

    items: list[CalculationSaid]


class Schemas(BaseModel):
    """The JSON schemas (2020-12) of a calculation's case and of its result."""

    name: str
    title: str
    case: dict[str, Any]
    result: dict[str, Any]


def allowed(request: HttpRequest) -> Any:
    """Everybody, or whoever is signed in where the workbench is closed. Raises :class:`Problem`.

    A token that does not hold is told so even here.
    """
    return (settings.OPEN_WORKBENCH and not has_token(request)) or reads(request)


@router.get("/calc", response=Calculations, auth=allowed, summary=gettext_noop("List the calculations"))
def calculations(request: HttpRequest) -> Any:
    return {"items": [{"name": name, "title": calculation(name).title} for name in TABLE]}


def _add(name: str) -> None:
    """The two operations of a calculation."""

    def described(request: HttpRequest) -> Any:
        found = calculation(name)
        return {"name": name, "title": found.title, "case": schema(found.case), "result": schema(found.result)}

    def computed(request: HttpRequest) -> HttpResponse:
        if request.content_type != JSON:
            raise Problem("media-type")
        if name in HEAVY:
            count(request, HEAVY[name] - 1)
        found = calculation(name)
        result = found.function(
            _without_places(lambda: read_case(found.case, node_of(read_json(request.body)), name))
        )
        return Response(as_json(result), json_dumps_params={"allow_nan": False})

    described.__name__, computed.__name__ = f"schema_of_{name}", name
    router.get(
        f"/calc/{name}", response=Schemas, auth=allowed, summary=gettext_noop("Read a calculation's schemas")
    )(described)
    router.post(f"/calc/{name}", auth=allowed, summary=gettext_noop("Compute a case"))(computed)


def _without_places(read: Callable[[], Any]) -> Any:
    """What was read; a mistake names its path, not a line that nobody wrote."""
    try:
        return read()
    except DocumentError as error:
        found = tuple(
            Mistake(path=each.path, message=each.message, accepted=each.accepted) for each in error.mistakes
        )
        raise Problem("mistakes", mistakes=found) from None


for _name in TABLE:
    _add(_name)
