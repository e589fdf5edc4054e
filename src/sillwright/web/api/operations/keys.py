"""Tokens of one's own, with which programs act: listed, made and withdrawn in a browser."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any, Literal
from uuid import UUID

from django.db import transaction
from django.http import HttpRequest
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.base.errors import Mistake
from sillwright.web.api.once import made_once
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.signing import in_browser, person, reads
from sillwright.web.people.forms import KEY_LASTS
from sillwright.web.people.keys import make_key
from sillwright.web.records.audit import record
from sillwright.web.records.models import Key
from sillwright.web.records.sites import name_of

router = Router(tags=[gettext_noop("Tokens")])

LONGEST_NAME = 100
USUAL = timedelta(days=90)


class KeySaid(BaseModel):
    """A token, without its secret."""

    id: UUID
    name: str
    scope: Literal["read", "write"]
    made: datetime
    ends: datetime
    withdrawn: datetime | None
    used: date | None = Field(description="The last day on which it was used.")


class Keys(Page[KeySaid]):
    """Tokens of one's own, oldest first."""


class NewKey(Asked):
    """A token to make."""

    name: Words = Field(description="What it is for.")
    scope: Literal["read", "write"] = "read"
    last_day: date | None = Field(None, description="At most a year from today; without it 90 days from today.")


class KeyMade(KeySaid):
    """A token with its secret, which is shown once."""

    token: str | None = Field(description="The secret; null where this is a repeat.")


@router.get("/me/keys", response=Keys, auth=reads, summary=gettext_noop("List your tokens"))
def keys(request: HttpRequest, limit: Limit, cursor: Cursor) -> Any:
    return page_of(request, Key.objects.filter(user=person(request)), _said, limit=limit, cursor=cursor)


@router.post("/me/keys", response={201: KeyMade}, auth=in_browser, summary=gettext_noop("Make a token"))
@made_once
def key_new(request: HttpRequest, key: NewKey) -> Any:
    today = timezone.now().date()
    last = key.last_day or today + USUAL
    if not today <= last <= today + KEY_LASTS:
        accepted = _("The last day lies between today and a year from today.")
        raise Problem(
            "mistakes", mistakes=(Mistake(path="last_day", message=_("out of range"), accepted=accepted),)
        )
    made, token = make_key(person(request), name_of(key.name, LONGEST_NAME), key.scope, last, request=request)
    return Status(201, {**_said(made), "token": token})


@router.delete(
    "/me/keys/{uuid:key}", response={204: None}, auth=in_browser, summary=gettext_noop("Withdraw a token")
)
def key_end(request: HttpRequest, key: UUID) -> Any:
    with transaction.atomic():
        found = get_object_or_404(Key.objects.select_for_update(), user=person(request), pk=key)
        if found.withdrawn is None:
            found.withdrawn = timezone.now()
            found.save(update_fields=["withdrawn"])
            record(request, "key withdrawn", found.name)
    return Status(204, None)


def _said(key: Key) -> dict[str, Any]:
    return {name: getattr(key, name) for name in KeySaid.model_fields}
