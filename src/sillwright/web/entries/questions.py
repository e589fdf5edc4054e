"""A question that a device wrote down; a link to it is made later, when there is a signal."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from django.utils import timezone
from django.utils.translation import gettext as _
from pydantic import Field

from sillwright.web.accounts.models import User
from sillwright.web.api.operations.observations import moment
from sillwright.web.api.reading import Asked as Fields
from sillwright.web.entries.kinds import NotNow, Sender
from sillwright.web.entries.observations import opening_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Photo
from sillwright.web.records.questions import Asked, ask


class Written(Fields):
    """A question about one fact of an opening, to a person or to somebody by name."""

    id: UUID
    opening: UUID
    site: UUID | None = None
    fact: str
    words: str
    to: UUID | None = None
    name: str = ""
    photo: UUID | None = None
    device: str = ""
    at: datetime | None = None
    replaces: list[UUID] = Field([])  # a phone that corrects a refused entry says which; nothing was kept of it


def take(sender: Sender, entry: Mapping[str, Any]) -> str:
    """Keep it."""
    written = Written.model_validate(entry)
    opening = opening_for(sender, written.opening)
    to = User.objects.filter(pk=written.to).first() if written.to else None
    if written.to and to is None:
        raise Refused(_("This person cannot look at this site; ask by a link."))
    if written.photo and not Photo.objects.filter(pk=written.photo).exists():
        raise NotNow(_("The photo that this shows has not arrived."))
    asked = Asked(
        id=written.id,
        fact=written.fact,
        words=written.words,
        to=to,
        name=written.name,
        photo=written.photo,
        at=moment(written.at) if written.at else timezone.now(),
    )
    ask(opening, asked, by=sender.user, request=sender.request)
    return ""
