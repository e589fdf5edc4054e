"""What a device wrote while it had no signal: entries of every kind, in the order in which they were written."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any, Literal
from uuid import UUID

from django.http import HttpRequest
from django.utils.translation import gettext_noop
from ninja import Router
from pydantic import BaseModel, Field

from sillwright.web.api.reading import Asked
from sillwright.web.api.signing import person, writes
from sillwright.web.entries.judging import judge
from sillwright.web.entries.kinds import Sender

router = Router(tags=[gettext_noop("Entries")])

MOST = 200


class Entries(Asked):
    """Entries to keep: each says its kind, its id and what it is about. A wrong one holds up no other."""

    entries: list[Any] = Field(min_length=1, max_length=MOST)


class EntryJudged(BaseModel):
    """What became of one entry."""

    index: int = Field(description="Where it stood.")
    id: UUID | None
    answer: Literal["kept", "refused", "later"]
    why: str = Field(description="Why it is not kept, or what is to be known of how it was kept.")


class EntriesJudged(BaseModel):
    """What became of each entry, in their order."""

    answers: list[EntryJudged]


@router.post("/entries", response=EntriesJudged, auth=writes, summary=gettext_noop("Take in entries of a device"))
def take_in(request: HttpRequest, batch: Entries) -> Any:
    sender = Sender(person(request), getattr(request, "id", ""))
    return {"answers": [asdict(each) for each in judge(sender, batch.entries)]}
