"""Catalogues by organisation: brought in versions, the newest counts."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.base.node import MOST_BYTES
from sillwright.catalogue import Catalogue
from sillwright.catalogue.reading import catalogue_of
from sillwright.web.accounts.members import membership_of
from sillwright.web.accounts.roles import MAY
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.organisations import organisation_for
from sillwright.web.api.operations.sites import FORM, TEXTS, YAML
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import JSON
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.orders.catalogues import bring
from sillwright.web.orders.models import CatalogueVersion

router = Router(tags=[gettext_noop("Catalogues")])

_FILE = {
    "type": "object",
    "properties": {"catalogue": {"type": "string", "format": "binary"}},
    "required": ["catalogue"],
}
_BODY = {
    "required": True,
    "content": {
        JSON: {"schema": {"type": "object", "description": "A catalogue, as a JSON file holds it."}},
        YAML: {"schema": {"type": "object", "description": "A catalogue, as a YAML file holds it."}},
        FORM: {"schema": {**_FILE, "description": "A catalogue file: YAML, JSON or XLSX, at most 2 MB."}},
    },
}


class CatalogueSaid(BaseModel):
    """A version of a catalogue. The one with the highest number counts."""

    id: UUID
    number: int
    name: str
    currency: str = Field(description="ISO 4217.")
    priced_on: str
    invented: bool = Field(description="For trying out only.")
    fingerprint: str = Field(description="Changes with every entry.")
    by: str
    made: datetime


class Catalogues(Page[CatalogueSaid]):
    """Versions of a catalogue, newest first."""


@router.get(
    "/organisations/{uuid:organisation}/catalogues",
    response=Catalogues,
    auth=reads,
    summary=gettext_noop("List the versions of a catalogue"),
)
def catalogues(request: HttpRequest, organisation: UUID, limit: Limit, cursor: Cursor) -> Any:
    whose = membership_of(person(request), organisation).organisation
    rows = CatalogueVersion.objects.filter(organisation=whose).select_related("by")
    return page_of(request, rows, _said, limit=limit, cursor=cursor, newest_first=True)


@router.post(
    "/organisations/{uuid:organisation}/catalogues",
    response={201: CatalogueSaid},
    auth=writes,
    summary=gettext_noop("Bring a version of a catalogue"),
    openapi_extra={"requestBody": _BODY},
)
@made_once
def catalogue_new(request: HttpRequest, organisation: UUID) -> Any:
    whose = organisation_for(person(request), organisation, MAY["manage"])
    return Status(201, _said(bring(whose, _catalogue(request), person(request), request=request)))


@router.get(
    "/organisations/{uuid:organisation}/catalogues/{uuid:catalogue}",
    auth=reads,
    summary=gettext_noop("Read a version of a catalogue as the file that it is"),
    openapi_extra={"responses": {200: {"content": {YAML: {"schema": {"type": "object"}}}}}},
)
def catalogue(request: HttpRequest, organisation: UUID, catalogue: UUID) -> Any:
    whose = membership_of(person(request), organisation).organisation
    found = CatalogueVersion.objects.filter(organisation=whose, pk=catalogue).first()
    if found is None:
        raise Http404
    return HttpResponse(found.content, content_type=f"{YAML}; charset=utf-8")


def _catalogue(request: HttpRequest) -> Catalogue:
    """The catalogue in a request. Raises :class:`Problem` where there is none, or :class:`DocumentError`."""
    if request.content_type in TEXTS:
        return catalogue_of(request.body, "catalogue")
    if request.content_type != FORM:
        raise Problem("media-type")
    file = request.FILES.get("catalogue")
    if file is None:
        raise Problem("bad-request")
    return catalogue_of(file.read(MOST_BYTES + 1), "catalogue")


def _said(row: CatalogueVersion) -> dict[str, Any]:
    names = ("id", "number", "name", "currency", "priced_on", "invented", "fingerprint", "made")
    return {**{name: getattr(row, name) for name in names}, "by": row.by.name}
