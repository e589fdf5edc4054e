"""Where a device put an opening in the order of the walk."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any
from uuid import UUID

from sillwright.web.api.reading import Asked
from sillwright.web.entries.kinds import Sender
from sillwright.web.entries.observations import opening_for
from sillwright.web.records.walking_order import move


class Written(Asked):
    """An opening and the one it comes right after; without one it comes first."""

    id: UUID
    opening: UUID
    site: UUID | None = None
    after: UUID | None
    device: str = ""
    at: datetime | None = None


def take(sender: Sender, entry: Mapping[str, Any]) -> str:
    """Move it. The last move that arrives stands."""
    written = Written.model_validate(entry)
    opening = opening_for(sender, written.opening)
    after = opening_for(sender, written.after) if written.after else None
    move(opening, after, author=sender.user, request=sender.request)
    return ""
