"""Papers: made, listed, handed out; and links with which somebody without an account opens one."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal
from uuid import UUID

from django.http import Http404, HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.web.answers.files import as_file
from sillwright.web.api.limits import count
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.openings import openings_of
from sillwright.web.api.operations.studies import LanguageWanted, UnitsWanted, reader_of
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.reading import Asked
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records.links import make_link, withdraw
from sillwright.web.records.models import Link, Opening, Paper, Site
from sillwright.web.records.papers import KINDS, content_of, make_paper
from sillwright.web.records.seen import fetched

router = Router(tags=[gettext_noop("Papers")])

WEIGHT = 30  # requests that one paper counts for: 20 a minute
KindName = Literal["report", "elevation", "answer", "dxf", "install", "wiring", "scribe", "scribe_dxf"]


class PaperSaid(BaseModel):
    """A paper that was made. Its digest tells what was handed out from what was not."""

    id: UUID
    site: UUID
    opening: UUID | None
    kind: KindName | Literal["quote", "order"]
    name: str
    digest: str = Field(description="SHA-256 of its bytes.")
    media: str
    size: int
    version: str = Field(description="Of the program.")
    units: str
    by: str
    made: datetime


class Papers(Page[PaperSaid]):
    """Papers, oldest first."""


class NewPaper(Asked):
    """A paper to make. From the same facts on the same day it is the paper there is."""

    kind: KindName


class LinkSaid(BaseModel):
    """A link to a paper, without its secret."""

    id: UUID
    made: datetime
    ends: datetime
    withdrawn: datetime | None
    opened: int = Field(description="How often it was opened.")


class Links(Page[LinkSaid]):
    """Links to a paper, oldest first."""


class NewLink(Asked):
    """A link to make."""

    days: Literal[1, 7, 30, 90] = Field(30, description="How long it lasts.")


class LinkMade(LinkSaid):
    """A link with its address, which is shown once."""

    address: str | None = Field(description="The link; null where this is a repeat.")


@router.get(
    "/sites/{uuid:site}/papers", response=Papers, auth=reads, summary=gettext_noop("List the papers of a site")
)
def papers_of_site(request: HttpRequest, site: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(Site.objects.all(), person(request), site)
    rows = Paper.objects.filter(site=found).select_related("by")
    return page_of(request, rows, _said, limit=limit, cursor=cursor)


@router.get(
    "/openings/{uuid:opening}/papers",
    response=Papers,
    auth=reads,
    summary=gettext_noop("List the papers of an opening"),
)
def papers(request: HttpRequest, opening: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    rows = Paper.objects.filter(opening=found).select_related("by")
    return page_of(request, rows, _said, limit=limit, cursor=cursor)


@router.post(
    "/sites/{uuid:site}/papers",
    response={201: PaperSaid},
    auth=writes,
    summary=gettext_noop("Make a paper of a site"),
)
def paper_of_site(
    request: HttpRequest, site: UUID, paper: NewPaper, units: UnitsWanted, language: LanguageWanted
) -> Any:
    found = fetched(Site.objects.select_related("organisation"), person(request), site, "write")
    return _made(request, found, None, paper, units, language)


@router.post(
    "/openings/{uuid:opening}/papers",
    response={201: PaperSaid},
    auth=writes,
    summary=gettext_noop("Make a paper of an opening"),
)
def paper_new(
    request: HttpRequest, opening: UUID, paper: NewPaper, units: UnitsWanted, language: LanguageWanted
) -> Any:
    rows = Opening.objects.select_related("site__organisation")
    found = fetched(rows, person(request), opening, "write")
    return _made(request, found.site, found, paper, units, language)


def _made(
    request: HttpRequest, site: Site, opening: Opening | None, wanted: NewPaper, units: str, language: str
) -> Any:
    count(request, WEIGHT - 1)
    reader = reader_of(request, site, units, language)
    return Status(
        201, _said(make_paper(wanted.kind, site, opening, by=person(request), reader=reader, request=request))
    )


@router.get(
    "/papers/{uuid:paper}",
    auth=reads,
    summary=gettext_noop("Hand out a paper"),
    openapi_extra={
        "responses": {
            200: {"content": {media: {"schema": {"type": "string"}} for media, _ending in KINDS.values()}},
            409: {"$ref": "#/components/responses/damaged"},
        }
    },
)
def paper(request: HttpRequest, paper: UUID) -> Any:
    found = fetched(Paper.objects.all(), person(request), paper)
    return as_file(content_of(found), found.media, found.name)


@router.get(
    "/papers/{uuid:paper}/links", response=Links, auth=reads, summary=gettext_noop("List the links to a paper")
)
def links(request: HttpRequest, paper: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(Paper.objects.all(), person(request), paper, "manage")
    return page_of(request, found.links.all(), _link, limit=limit, cursor=cursor)


@router.post(
    "/papers/{uuid:paper}/links",
    response={201: LinkMade},
    auth=writes,
    summary=gettext_noop("Make a link to a paper"),
)
@made_once
def link_new(request: HttpRequest, paper: UUID, link: NewLink) -> Any:
    found = _shareable(request, paper)
    made, token = make_link(found, link.days, by=person(request), request=request)
    address = request.build_absolute_uri(reverse("shared", args=[token]))
    return Status(201, {**_link(made), "address": address})


@router.delete(
    "/papers/{uuid:paper}/links/{uuid:link}",
    response={204: None},
    auth=writes,
    summary=gettext_noop("Withdraw a link"),
)
def link_end(request: HttpRequest, paper: UUID, link: UUID) -> Any:
    found = _shareable(request, paper).links.filter(pk=link).select_related("paper__site__organisation").first()
    if found is None:
        raise Http404
    withdraw(found, by=person(request), request=request)
    return Status(204, None)


def _shareable(request: HttpRequest, key: UUID) -> Paper:
    rows = Paper.objects.select_related("site__organisation", "opening")
    found: Paper = fetched(rows, person(request), key, "manage")
    return found


def _said(row: Paper) -> dict[str, Any]:
    names = ("id", "kind", "name", "digest", "media", "size", "version", "units", "made")
    told = {name: getattr(row, name) for name in names}
    return {**told, "site": row.site_id, "opening": row.opening_id, "by": row.by.name}


def _link(row: Link) -> dict[str, Any]:
    return {name: getattr(row, name) for name in LinkSaid.model_fields}
