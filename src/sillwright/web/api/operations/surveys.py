"""Surveys of whole sites, in and out: as a file holds them."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.base.node import MOST_BYTES, Node, parse
from sillwright.survey.as_text import survey_text
from sillwright.survey.model import Survey
from sillwright.survey.reading import survey_of
from sillwright.web.accounts.roles import MAY
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.organisations import organisation_for
from sillwright.web.api.operations.sites import SiteSaid, fresh
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import JSON
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import take_in
from sillwright.web.records.taking_more import take_in_more
from sillwright.web.sites.giving import entries_in

router = Router(tags=[gettext_noop("Surveys")])

YAML = "application/yaml"
FORM = "multipart/form-data"
TEXTS = (JSON, YAML, "text/yaml", "application/x-yaml", "text/plain")
_FILE = {"type": "object", "properties": {"survey": {"type": "string", "format": "binary"}}, "required": ["survey"]}
_BODY = {
    "required": True,
    "content": {
        JSON: {"schema": {"type": "object", "description": "A survey, as a JSON file holds it."}},
        YAML: {"schema": {"type": "object", "description": "A survey, as a YAML file holds it."}},
        FORM: {"schema": {**_FILE, "description": "A survey file: YAML, JSON or XLSX, at most 2 MB."}},
    },
}


class BesideSaid(BaseModel):
    """A fact that has one reading more now."""

    opening: UUID | None = Field(description="Null: a fact of the site itself.")
    fact: str


class Came(BaseModel):
    """What came of a survey about a site that was there."""

    openings: list[UUID] = Field(description="Openings that were made.")
    facts: int = Field(description="Facts of which nothing was known before.")
    beside: list[BesideSaid] = Field(description="Facts whose new reading stands beside what was known.")


@router.post(
    "/surveys",
    response={201: SiteSaid},
    auth=writes,
    summary=gettext_noop("Take a site in from a survey"),
    openapi_extra={"requestBody": _BODY},
)
@made_once
def survey_in(request: HttpRequest, organisation: UUID) -> Any:
    whose = organisation_for(person(request), organisation, MAY["manage"])
    made = take_in(whose, _survey(request), author=person(request), request=request)
    return Status(201, fresh(request, made.pk))


@router.post(
    "/sites/{uuid:site}/survey",
    response=Came,
    auth=writes,
    summary=gettext_noop("Take more about a site in from a survey"),
    openapi_extra={"requestBody": _BODY},
)
@made_once
def survey_more(request: HttpRequest, site: UUID) -> Any:
    found = fetched(Site.objects.select_related("organisation"), person(request), site, "write")
    came = take_in_more(found, _survey(request), author=person(request), request=request)
    beside = [{"opening": _key(opening), "fact": fact} for opening, fact in came.beside]
    return {"openings": [each.pk for each in came.openings], "facts": came.facts, "beside": beside}


@router.get(
    "/sites/{uuid:site}/survey.yaml",
    auth=reads,
    summary=gettext_noop("Read a site as a survey"),
    openapi_extra={"responses": {200: {"content": {YAML: {"schema": {"type": "object"}}}}}},
)
def survey_yaml(request: HttpRequest, site: UUID) -> Any:
    return HttpResponse(_text(request, site), content_type=f"{YAML}; charset=utf-8")


@router.get(
    "/sites/{uuid:site}/survey.json",
    auth=reads,
    summary=gettext_noop("Read a site as a survey in JSON, without what cannot be read"),
    openapi_extra={"responses": {200: {"content": {JSON: {"schema": {"type": "object"}}}}}},
)
def survey_json(request: HttpRequest, site: UUID) -> Any:
    told = _plain(parse(_text(request, site).encode(), "survey"))
    return HttpResponse(json.dumps(told, allow_nan=False), content_type=f"{JSON}; charset=utf-8")


def _key(opening: Opening | None) -> UUID | None:
    return opening.pk if opening else None


def _text(request: HttpRequest, key: UUID) -> str:
    site = fetched(Site.objects.all(), person(request), key)
    return survey_text(site.name, site.country, *entries_in(site))


def _plain(node: Node) -> Any:
    if node.kind == "mapping":
        return {key: _plain(value) for key, _place, value in node.pairs}
    return [_plain(each) for each in node.items] if node.kind == "list" else node.scalar


def _survey(request: HttpRequest) -> Survey:
    """The survey in a request. Raises :class:`Problem` where there is none, or :class:`DocumentError`."""
    if request.content_type in TEXTS:
        return survey_of(request.body, "survey")
    if request.content_type != FORM:
        raise Problem("media-type")
    file = request.FILES.get("survey")
    if file is None:
        raise Problem("bad-request")
    return survey_of(file.read(MOST_BYTES + 1), "survey")
