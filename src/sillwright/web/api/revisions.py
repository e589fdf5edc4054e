"""Changes that build on what was read: ``If-Match`` with the revision that the caller saw."""

from __future__ import annotations

import re
from typing import Annotated, Any

from django.http import HttpResponse
from ninja import Header

from sillwright.web.api.problems import Problem

IfMatch = Annotated[
    str,
    Header(
        "",
        alias="If-Match",
        max_length=200,
        description="The ETag that you read; where it is another one now, nothing is changed and 412 answered.",
    ),
]
_TAG = re.compile(r'(?:W/)?"([^"]*)"')


def with_revision(response: HttpResponse, said: dict[str, Any]) -> dict[str, Any]:
    """What is answered, with its revision as the ETag."""
    response["ETag"] = f'"{said["revision"]}"'
    return said


def unchanged(revision: int, if_match: str) -> None:
    """Nothing where the caller saw this revision, or did not say. Raises :class:`Problem` otherwise."""
    if if_match and if_match.strip() != "*" and str(revision) not in _TAG.findall(if_match):
        raise Problem("changed-meanwhile")
