"""Surveys of whole sites, in and out: as a file holds them."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.http import HttpRequest
from django.utils.translation import gettext_noop as N_  # noqa: N812 (the name that message extractors know)
from ninja import Router, Status

from sillwright.base.node import MOST_BYTES, Mistakes, parse
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import Survey
from sillwright.web.accounts.roles import MAY
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.people import organisation_for
from sillwright.web.api.operations.sites import SiteSaid, fresh
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import JSON
from sillwright.web.api.signing import person, writes
from sillwright.web.records.sites import take_in

router = Router(tags=[N_("Surveys")])

YAML = "application/yaml"
FORM = "multipart/form-data"
TEXTS = (JSON, YAML, "text/yaml", "application/x-yaml", "text/plain")
_FILE = {"type": "object", "properties": {"survey": {"type": "string", "format": "binary"}}, "required": ["survey"]}
_BODY = {
    "required": True,
    "content": {
        JSON: {"schema": {"type": "object", "description": "A survey, as a JSON file holds it."}},
        YAML: {"schema": {"type": "string", "description": "A survey, as a YAML file holds it."}},
        FORM: {"schema": _FILE},
    },
}


@router.post(
    "/surveys",
    response={201: SiteSaid},
    auth=writes,
    summary=N_("Take a site in from a survey"),
    openapi_extra={"requestBody": _BODY},
)
@made_once
def survey_in(request: HttpRequest, organisation: UUID) -> Any:
    whose = organisation_for(person(request), organisation, MAY["manage"])
    made = take_in(whose, _survey(*_content(request)), author=person(request))
    return Status(201, fresh(request, made.pk))


def _content(request: HttpRequest) -> tuple[bytes, str]:
    """The survey in a request, and what mistakes call it. Raises :class:`Problem` where there is none."""
    if request.content_type in TEXTS:
        return request.body, "survey"
    if request.content_type != FORM:
        raise Problem("media-type")
    file = request.FILES.get("survey")
    if file is None:
        raise Problem("bad-request")
    return file.read(MOST_BYTES + 1), "survey"


def _survey(content: bytes, name: str) -> Survey:
    noted = Mistakes(name)
    return survey_from(parse(content, name, noted), name, noted)
