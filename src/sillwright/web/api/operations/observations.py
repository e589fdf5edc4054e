"""The log of observations: many at once, each judged alone; and the whole log, page by page."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import partial
from typing import Annotated, Any, Literal
from uuid import UUID

from django.db import DataError, IntegrityError, transaction
from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Query, Router
from pydantic import BaseModel, Field, ValidationError

from sillwright.base.fact import ORIGINS
from sillwright.survey.entries import SAYS
from sillwright.web.accounts.models import User
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.openings import openings_of
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.reading import Asked, Words, mistakes_of
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records.log import Refused, Said, write_all
from sillwright.web.records.models import Observation, Opening, Site
from sillwright.web.records.seen import fetched

router = Router(tags=[gettext_noop("Observations")])

MOST = 200
FIRST_DAY = datetime(1970, 1, 1, tzinfo=UTC)  # a clock that stands before it never ran


class Observed(Asked):
    """One said thing, as it was typed. Its id is made where it was written: sent twice, it is kept once."""

    id: UUID
    fact: str = Field(examples=["door.clear_width"])
    says: str = Field("value", json_schema_extra={"enum": list(SAYS)})
    typed: str = Field("", examples=["10 ft 2 in"])
    origin: str = Field("", alias="from", json_schema_extra={"enum": ["", *ORIGINS]})
    by: str = Field("", description="Who measured it or told it.")
    on: str = Field("", description="Which day, as typed.")
    evidence: str = ""
    device: str = ""
    at: datetime | None = Field(None, description="When it was written, by the clock there.")
    replaces: list[UUID] = Field([], description="The readings that its author saw.")

    def said(self, without: Sequence[str] = ()) -> Said:
        """The observation as the log takes it."""
        told = self.model_dump(exclude={"at", "replaces", *without})
        if self.at:
            told["at"] = moment(self.at)
        return Said(**told, replaces=tuple(str(each) for each in self.replaces))


class Batch(Asked):
    """Observations to keep, each as ``Observed`` describes. A wrong one holds up no other."""

    observations: list[Any] = Field(min_length=1, max_length=MOST)


class Judged(BaseModel):
    """What became of one observation."""

    index: int = Field(description="Where it stood in the batch.")
    id: UUID | None
    answer: Literal["kept", "refused"]
    why: str = Field(description="Why it is refused; it is refused again until it is changed.")


class Answers(BaseModel):
    """What became of each observation, in their order, and the revision after them."""

    revision: int
    answers: list[Judged]


class ObservationSaid(BaseModel):
    """One line of the log."""

    id: UUID
    fact: str
    says: str
    typed: str
    origin: str = Field(alias="from")
    by: str
    on: str
    evidence: str
    device: str
    author: str
    at: datetime
    received: datetime
    replaces: list[UUID]


class Log(Page[ObservationSaid]):
    """Observations in the order in which they came in."""


FactPath = Annotated[Words, Query("", max_length=200, description="Of this fact alone.")]


@router.post(
    "/openings/{uuid:opening}/observations",
    response=Answers,
    auth=writes,
    summary=gettext_noop("Take down observations of an opening"),
)
@made_once
def observe(request: HttpRequest, opening: UUID, batch: Batch) -> Any:
    found = fetched(openings_of(), person(request), opening, "write")  # type: ignore[arg-type]
    return _kept(request, found.site, found, batch.observations)


@router.post(
    "/sites/{uuid:site}/observations",
    response=Answers,
    auth=writes,
    summary=gettext_noop("Take down observations of a site itself"),
)
@made_once
def observe_site(request: HttpRequest, site: UUID, batch: Batch) -> Any:
    found = fetched(Site.objects.all(), person(request), site, "write")
    return _kept(request, found, None, batch.observations)


@router.get(
    "/openings/{uuid:opening}/observations",
    response=Log,
    by_alias=True,
    auth=reads,
    summary=gettext_noop("Read the log of an opening"),
)
def log(request: HttpRequest, opening: UUID, limit: Limit, cursor: Cursor, fact: FactPath) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    rows = Observation.objects.filter(opening=found).select_related("author")
    return page_of(request, _of_fact(rows, fact), _line, limit=limit, cursor=cursor, by="received")


@router.get(
    "/sites/{uuid:site}/observations",
    response=Log,
    by_alias=True,
    auth=reads,
    summary=gettext_noop("Read the log of a site itself"),
)
def log_of_site(request: HttpRequest, site: UUID, limit: Limit, cursor: Cursor, fact: FactPath) -> Any:
    found = fetched(Site.objects.all(), person(request), site)
    rows = Observation.objects.filter(site=found, opening=None).select_related("author")
    return page_of(request, _of_fact(rows, fact), _line, limit=limit, cursor=cursor, by="received")


def _of_fact(rows: Any, fact: str) -> Any:
    return rows.filter(fact=fact) if fact else rows


def _line(row: Observation) -> dict[str, Any]:
    names = ("id", "fact", "says", "typed", "by", "on", "evidence", "device", "at", "received", "replaces")
    return {**{name: getattr(row, name) for name in names}, "from": row.origin, "author": row.author.name}


def moment(told: datetime) -> datetime:
    """A moment of some clock in UTC; one before all clocks, or at the end of the calendar, is their first day."""
    try:
        return max((told if told.tzinfo else told.replace(tzinfo=UTC)).astimezone(UTC), FIRST_DAY)
    except OverflowError:
        return FIRST_DAY


@dataclass
class _Entry:
    """An entry of a batch on its way: as the log takes it, and why it is refused."""

    index: int
    id: UUID | None
    said: Said | None = None
    why: str = ""

    @classmethod
    def read(cls, index: int, given: Any) -> _Entry:
        try:
            said = Observed.model_validate(given).said()
        except ValidationError as error:
            found = mistakes_of(error.errors(include_url=False), skip=0)[0]
            why = f"{found.path or _('The entry')}: {found.message}"
            return cls(index, _id(given), why=f"{why}; {found.accepted}" if found.accepted else why)
        return cls(index, said.id, said)

    def judged(self) -> dict[str, Any]:
        answer = "refused" if self.why else "kept"
        return {"index": self.index, "id": self.id, "answer": answer, "why": self.why}


def _id(given: Any) -> UUID | None:
    try:
        return UUID(given["id"])
    except (TypeError, KeyError, ValueError, AttributeError):
        return None


def _kept(request: HttpRequest, site: Site, opening: Opening | None, given: Sequence[Any]) -> dict[str, Any]:
    entries = [_Entry.read(index, each) for index, each in enumerate(given)]
    write = partial(_refused, site, opening, person(request), getattr(request, "id", ""))
    with transaction.atomic():
        good = [each for each in entries if each.said]
        if write(good):
            for each in good:
                each.why = write([each])
    row: Site | Opening = opening or site
    row.refresh_from_db(fields=["revision"])
    return {"revision": row.revision, "answers": [each.judged() for each in entries]}


def _refused(site: Site, opening: Opening | None, author: User, request: str, entries: Sequence[_Entry]) -> str:
    """Why these cannot be kept together; empty where they are kept."""
    wanted = [each.said for each in entries if each.said]
    try:
        with transaction.atomic():
            if wanted:
                write_all(site, opening, wanted, author=author, request=request)
    except Refused as error:
        return str(error)
    except IntegrityError:
        return _("Another observation has this id.")
    except DataError:
        return _("This cannot be kept.")
    return ""
