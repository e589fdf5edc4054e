"""Openings of a site, and what is known of site and openings."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.base.errors import Mistake
from sillwright.base.fact import ORIGINS
from sillwright.survey.entries import SAYS
from sillwright.survey.required import missing_facts
from sillwright.web.api.once import made_once
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.revisions import IfMatch, unchanged, with_revision
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records.log import Head
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import make_opening, put_away, rename
from sillwright.web.records.surveys import Facts, facts_of, site_facts

router = Router(tags=[gettext_noop("Openings")])


class OpeningSaid(BaseModel):
    """An opening, and what the caller may do there."""

    id: UUID
    site: UUID
    tag: str
    position: int = Field(description="In walking order.")
    revision: int = Field(description="Counts what was written about it.")
    made: datetime
    put_away: datetime | None
    may_write: bool
    may_manage: bool


class Openings(Page[OpeningSaid]):
    """Openings of a site, oldest first."""


class NewOpening(Asked):
    """An opening to make."""

    tag: Words


class OpeningChange(Asked):
    """What is to be different; what is left out stays."""

    tag: Words | None = None
    put_away: bool | None = Field(None, description="Out of the lists, or back in them.")


class HeadSaid(BaseModel):
    """One reading of a fact that stands: nobody has replaced it."""

    id: UUID
    says: str = Field(json_schema_extra={"enum": list(SAYS)})
    typed: str = ""
    origin: str = Field("", alias="from", json_schema_extra={"enum": ["", *ORIGINS]})
    by: str = ""
    on: str = ""
    evidence: str = ""
    author: str = ""
    at: datetime


class MistakeSaid(BaseModel):
    """What is wrong, where, and what would be right."""

    path: str
    message: str
    accepted: str


class FactSaid(BaseModel):
    """A fact: what it comes to, what of it cannot be read, and the readings that stand, oldest first."""

    path: str
    standing: str
    mistake: MistakeSaid | None
    heads: list[HeadSaid]


class FactsSaid(BaseModel):
    """What is known, by fact."""

    revision: int
    missing: list[str] = Field(description="Facts that a study needs first.")
    facts: list[FactSaid]


def said(opening: Any) -> dict[str, Any]:
    """An opening that was fetched with permission, as it is answered."""
    names = ("tag", "position", "revision", "made", "put_away", "may_write", "may_manage")
    return {"id": opening.pk, "site": opening.site_id, **{name: getattr(opening, name) for name in names}}


def openings_of() -> QuerySet[Opening]:
    """Openings with their sites."""
    return Opening.objects.select_related("site")


def fresh(request: HttpRequest, key: UUID) -> dict[str, Any]:
    """An opening as it is now, for the caller."""
    return said(fetched(openings_of(), person(request), key))  # type: ignore[arg-type]


@router.get(
    "/sites/{uuid:site}/openings",
    response=Openings,
    auth=reads,
    summary=gettext_noop("List the openings of a site"),
)
def openings(request: HttpRequest, site: UUID, limit: Limit, cursor: Cursor, put_away: bool = False) -> Any:
    found = fetched(Site.objects.all(), person(request), site)
    seen = Opening.objects.seen_by(person(request))
    rows = seen.filter(site=found, put_away__isnull=not put_away)
    return page_of(request, rows, said, limit=limit, cursor=cursor)


@router.post(
    "/sites/{uuid:site}/openings", response={201: OpeningSaid}, auth=writes, summary=gettext_noop("Make an opening")
)
@made_once
def opening_new(request: HttpRequest, site: UUID, opening: NewOpening) -> Any:
    found = fetched(Site.objects.all(), person(request), site, "write")
    made = make_opening(found, opening.tag, author=person(request), request=request)
    return Status(201, fresh(request, made.pk))


@router.get("/openings/{uuid:opening}", response=OpeningSaid, auth=reads, summary=gettext_noop("Read an opening"))
def opening(request: HttpRequest, response: HttpResponse, opening: UUID) -> Any:
    return with_revision(response, fresh(request, opening))


@router.patch(
    "/openings/{uuid:opening}",
    response=OpeningSaid,
    auth=writes,
    summary=gettext_noop("Rename an opening, or put it away"),
)
def opening_change(
    request: HttpRequest, response: HttpResponse, opening: UUID, change: OpeningChange, if_match: IfMatch
) -> Any:
    with transaction.atomic():
        rows = openings_of().select_for_update(of=("self",))
        found = fetched(rows, person(request), opening, "write")  # type: ignore[arg-type]
        unchanged(found.revision, if_match)
        if change.tag is not None:
            rename(found, change.tag, author=person(request), request=request)
        if change.put_away is not None:
            put_away(found, author=person(request), request=request, back=not change.put_away)
    return with_revision(response, fresh(request, opening))


@router.get(
    "/openings/{uuid:opening}/facts",
    response=FactsSaid,
    by_alias=True,
    auth=reads,
    summary=gettext_noop("Read what is known of an opening and its site"),
)
def facts(request: HttpRequest, opening: UUID) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    known = facts_of(found)
    about = known.rebuilt.survey.openings[0]
    return {"revision": found.revision, "missing": missing_facts(about), "facts": _facts(known)}


@router.get(
    "/sites/{uuid:site}/facts",
    response=FactsSaid,
    by_alias=True,
    auth=reads,
    summary=gettext_noop("Read what is known of a site itself"),
)
def facts_of_site(request: HttpRequest, site: UUID) -> Any:
    found = fetched(Site.objects.all(), person(request), site)
    return {"revision": found.revision, "missing": [], "facts": _facts(site_facts(found))}


def _facts(known: Facts) -> list[dict[str, Any]]:
    standing = _standings(known)
    return [
        {
            "path": path,
            "standing": standing.get(path, "not asked"),
            "mistake": mistake_said(known.rebuilt.mistakes.get(path)),
            "heads": [_head(each) for each in heads],
        }
        for path, heads in known.heads.items()
    ]


def mistake_said(mistake: Mistake | None) -> dict[str, str] | None:
    """A mistake as it is answered."""
    if mistake is None:
        return None
    return {"path": mistake.path, "message": mistake.message, "accepted": mistake.accepted}


def _head(head: Head) -> dict[str, Any]:
    return {**head.as_json(), "from": head.origin}


def _standings(known: Facts) -> dict[str, str]:
    """What each fact and list comes to, by the path that the log has for it."""
    survey = known.rebuilt.survey
    found: dict[str, str] = {}
    for group in (survey.site, *survey.openings):
        for each in [fact for _spec, fact in group.facts()] + [listing for _spec, listing in group.listings()]:
            found[known.rebuilt.named(each.path)] = each.standing
    return found
