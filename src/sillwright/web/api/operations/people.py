"""Who calls: the person, by which way, and for which organisations."""

from __future__ import annotations

from typing import Any, Literal
from uuid import UUID

from django.http import HttpRequest
from django.middleware.csrf import get_token
from django.utils.translation import gettext_noop
from ninja import Router
from pydantic import BaseModel, Field

from sillwright.web.api.operations.organisations import OrganisationSaid, own
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.signing import Caller, person, reads, writes
from sillwright.web.records.sites import name_of

router = Router(tags=[gettext_noop("You")])

LONGEST_NAME = 100
UnitsName = Literal["site", "us", "metric"]


class PersonSaid(BaseModel):
    """The person who calls."""

    id: UUID
    name: str
    email: str
    units: UnitsName
    language: str


class Me(BaseModel):
    """Who calls, by which way, and for whom."""

    user: PersonSaid
    by: Literal["browser", "token"]
    scope: Literal["read", "write"]
    csrf: str | None = Field(description="For X-CSRFToken; null for a token, which needs none.")
    organisations: list[OrganisationSaid]


class MeChange(Asked):
    """What is to be different; what is left out stays."""

    name: Words | None = None
    units: UnitsName | None = Field(None, description="In which sentences and drawings are written.")


@router.get("/me", response=Me, auth=reads, summary=gettext_noop("Read who you are and what you may"))
def me(request: HttpRequest) -> Any:
    return _me(request)


@router.patch("/me", response=Me, auth=writes, summary=gettext_noop("Change your name or your units"))
def me_change(request: HttpRequest, change: MeChange) -> Any:
    user = person(request)
    if change.name is not None:
        user.name = name_of(change.name, LONGEST_NAME)
    if change.units is not None:
        user.units = change.units
    user.save(update_fields=["name", "units"])
    return _me(request)


def _me(request: HttpRequest) -> dict[str, Any]:
    caller: Caller = request.caller  # type: ignore[attr-defined]
    user, by_token = caller.user, caller.key is not None
    return {
        "user": {name: getattr(user, name) for name in PersonSaid.model_fields},
        "by": "token" if by_token else "browser",
        "scope": "write" if caller.may_write else "read",
        "csrf": None if by_token else get_token(request),
        "organisations": own(user),
    }
