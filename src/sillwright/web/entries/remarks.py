"""A remark that a device wrote down: words, how urgent, or what is left out at this door."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from django.utils import timezone
from pydantic import Field

from sillwright.web.api.operations.observations import moment
from sillwright.web.api.reading import Asked
from sillwright.web.entries.kinds import Sender
from sillwright.web.entries.observations import opening_for
from sillwright.web.records.remarks import KINDS, Remarked, remark


class Written(Asked):
    """Something said of an opening beside its facts."""

    id: UUID
    opening: UUID
    site: UUID | None = None
    says: str = Field(json_schema_extra={"enum": list(KINDS)})
    about: str = ""
    words: str = ""
    device: str = ""
    at: datetime | None = None
    replaces: list[UUID] = Field([])


def take(sender: Sender, entry: Mapping[str, Any]) -> str:
    """Keep it."""
    written = Written.model_validate(entry)
    opening = opening_for(sender, written.opening)
    said = Remarked(
        id=written.id,
        kind=written.says,
        about=written.about,
        words=written.words,
        device=written.device,
        at=moment(written.at) if written.at else timezone.now(),
        replaces=tuple(str(each) for each in written.replaces),
    )
    remark(opening, said, author=sender.user, request=sender.request)
    return ""
