"""Sites: whose they are, what they are called, with whom they are shared, and their surveys."""

from __future__ import annotations

from datetime import datetime
from typing import Any, Literal
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.web.accounts.models import Organisation
from sillwright.web.accounts.roles import MAY
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.organisations import OrganisationNamed, organisation_for
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import JSON, Asked, Words
from sillwright.web.api.revisions import IfMatch, unchanged, with_revision
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records.models import Share, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import make_site, put_away, rename, share

router = Router(tags=[gettext_noop("Sites")])

YAML = "application/yaml"
TEXTS = (JSON, YAML, "text/yaml", "application/x-yaml", "text/plain")
FORM = "multipart/form-data"


class SiteSaid(BaseModel):
    """A site, and what the caller may do there."""

    id: UUID
    name: str
    country: str = Field(description="ISO 3166-1, two letters.")
    organisation: OrganisationNamed
    revision: int = Field(description="Counts what was written about the site itself.")
    made: datetime
    put_away: datetime | None
    may_write: bool
    may_manage: bool


class Sites(Page[SiteSaid]):
    """Sites, oldest first."""


class NewSite(Asked):
    """A site to make."""

    organisation: UUID
    name: Words
    country: Words = Field("US", description="ISO 3166-1, two letters.")


class SiteChange(Asked):
    """What is to be different; what is left out stays."""

    name: Words | None = None
    put_away: bool | None = Field(None, description="Out of the lists, or back in them.")


class ShareSaid(BaseModel):
    """That another organisation may read, or write, a site."""

    organisation: OrganisationNamed
    mode: Literal["read", "write"]
    made: datetime


class Shares(BaseModel):
    """With whom a site is shared."""

    items: list[ShareSaid]


class NewShare(Asked):
    """What the other organisation may do."""

    mode: Literal["read", "write"]


def said(site: Any) -> dict[str, Any]:
    """A site that was fetched with permission, as it is answered."""
    whose = {"id": site.organisation.pk, "name": site.organisation.name}
    names = ("name", "country", "revision", "made", "put_away", "may_write", "may_manage")
    return {"id": site.pk, "organisation": whose, **{name: getattr(site, name) for name in names}}


def _sites() -> QuerySet[Site]:
    return Site.objects.select_related("organisation")


def fresh(request: HttpRequest, key: UUID) -> dict[str, Any]:
    """A site as it is now, for the caller."""
    return said(fetched(_sites(), person(request), key))  # type: ignore[arg-type]


@router.get("/sites", response=Sites, auth=reads, summary=gettext_noop("List the sites that you may see"))
def sites(request: HttpRequest, limit: Limit, cursor: Cursor, put_away: bool = False) -> Any:
    rows = _sites().seen_by(person(request)).filter(put_away__isnull=not put_away)  # type: ignore[attr-defined]
    return page_of(request, rows, said, limit=limit, cursor=cursor)


@router.post("/sites", response={201: SiteSaid}, auth=writes, summary=gettext_noop("Make a site"))
@made_once
def site_new(request: HttpRequest, site: NewSite) -> Any:
    whose = organisation_for(person(request), site.organisation, MAY["manage"])
    made = make_site(whose, site.name, site.country, author=person(request), request=request)
    return Status(201, fresh(request, made.pk))


@router.get("/sites/{uuid:site}", response=SiteSaid, auth=reads, summary=gettext_noop("Read a site"))
def site(request: HttpRequest, response: HttpResponse, site: UUID) -> Any:
    return with_revision(response, fresh(request, site))


@router.patch(
    "/sites/{uuid:site}", response=SiteSaid, auth=writes, summary=gettext_noop("Rename a site, or put it away")
)
def site_change(
    request: HttpRequest, response: HttpResponse, site: UUID, change: SiteChange, if_match: IfMatch
) -> Any:
    with transaction.atomic():
        found = fetched(Site.objects.select_for_update(of=("self",)), person(request), site, "manage")
        unchanged(found.revision, if_match)
        if change.name is not None:
            rename(found, change.name, author=person(request), request=request)
        if change.put_away is not None:
            put_away(found, author=person(request), request=request, back=not change.put_away)
    return with_revision(response, fresh(request, site))


@router.get(
    "/sites/{uuid:site}/shares",
    response=Shares,
    auth=reads,
    summary=gettext_noop("List with whom a site is shared"),
)
def shares(request: HttpRequest, site: UUID) -> Any:
    found = fetched(_sites(), person(request), site, "manage")  # type: ignore[arg-type]
    return {"items": [_shared(each) for each in found.shares.select_related("organisation").order_by("made", "pk")]}


@router.put(
    "/sites/{uuid:site}/shares/{uuid:organisation}",
    response=ShareSaid,
    auth=writes,
    summary=gettext_noop("Share a site with another organisation"),
)
def share_set(request: HttpRequest, site: UUID, organisation: UUID, wanted: NewShare) -> Any:
    found = fetched(_sites(), person(request), site, "manage")  # type: ignore[arg-type]
    other = Organisation.objects.filter(pk=organisation).first()
    if other is None:
        raise Problem("not-found")
    share(found, other, wanted.mode, author=person(request), request=request)
    return _shared(Share.objects.select_related("organisation").get(site=found, organisation=other))


@router.delete(
    "/sites/{uuid:site}/shares/{uuid:organisation}",
    response={204: None},
    auth=writes,
    summary=gettext_noop("Share a site no longer"),
)
def share_end(request: HttpRequest, site: UUID, organisation: UUID) -> Any:
    found = fetched(_sites(), person(request), site, "manage")  # type: ignore[arg-type]
    before = found.shares.filter(organisation=organisation).select_related("organisation").first()
    if before is None:
        raise Problem("not-found")
    share(found, before.organisation, None, author=person(request), request=request)
    return Status(204, None)


def _shared(row: Share) -> dict[str, Any]:
    whose = {"id": row.organisation.pk, "name": row.organisation.name}
    return {"organisation": whose, "mode": row.mode, "made": row.made}
