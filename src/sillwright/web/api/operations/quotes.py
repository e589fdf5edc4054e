"""Quotes: made, changed while they are drafts, sent, and what became of them."""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.base.errors import DocumentError, Mistake
from sillwright.base.words import Reader, render
from sillwright.takeoff.ordering.exporting import quote_as_json
from sillwright.web.answers.files import as_file
from sillwright.web.api.limits import count
from sillwright.web.api.once import made_once
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.revisions import IfMatch, unchanged, with_revision
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.orders import quotes as records
from sillwright.web.orders.alternatives import about_from, alternatives_from
from sillwright.web.orders.catalogues import read
from sillwright.web.orders.models import Quote
from sillwright.web.orders.quote_pages import due, quotes_of
from sillwright.web.orders.seen import quote_for
from sillwright.web.records.answers import reader_for
from sillwright.web.records.models import Site
from sillwright.web.records.papers import content_of
from sillwright.web.records.seen import fetched

router = Router(tags=[gettext_noop("Quotes")])

WEIGHT, WEIGHT_OF_SENDING = 5, 30  # requests that working one out, and sending one, count for
State = Literal["draft", "sent", "accepted", "lost", "expired"]
Ending = Literal["pdf", "xlsx", "csv", "json"]
Percent = Annotated[Words, Field(max_length=12, examples=["5"], description="From 0 to 100.")]


class DeviceTold(Asked):
    """A device beside the edge, by its name in the catalogue."""

    device: Words
    quantity: int = Field(1, ge=1, le=99)


class LineTold(Asked):
    """What is chosen for one opening. Names are those of the catalogue; empty is not chosen."""

    opening: UUID
    profile: Words = ""
    circuit: Words = ""
    end_element: Words = Field("", examples=["10 kohm"])
    ship: Words = ""
    quantity: int = Field(1, ge=1, le=999)
    input: Words = Field("", description="An operator's input, as “operator: name”.")
    box: Words = ""
    converter: Words = ""
    work: list[Words] = Field([], description="Pieces of work of the catalogue.", max_length=40)
    note: Words = Field("", max_length=500)
    no_edge: bool = Field(False, description="What is chosen beside the edge alone.")
    devices: list[DeviceTold] = Field(
        [], description="Eyes, curtains, sensors, loops, radio links, converters.", max_length=12
    )


class AlternativeTold(Asked):
    """One way of doing the job."""

    name: Words
    words: Words = Field("", description="What it does, for whoever decides.")
    discount: Percent = "0"
    leaves_open: list[Words] = Field(
        [], description="What it leaves open; wanted before it is sent.", max_length=20
    )
    trips: int = Field(0, ge=0, le=99)
    lines: list[LineTold]


class NewQuote(Asked):
    """A quote to make: a draft of one to three alternatives."""

    title: Words
    to: Words = Field("", description="Whom it is for, line by line.")
    words: Words = Field("", description="For whoever decides.")
    exclusions: list[Words] = Field([], max_length=20)
    terms: Words | None = Field(None, description="Null: those of the quote before.")
    valid_until: date | None = Field(None, description="Null: thirty days from today.")
    ask_again_on: date | None = None
    alternatives: list[AlternativeTold] = Field(min_length=1, max_length=3)


class QuoteChange(Asked):
    """What is to be different; what is left out stays."""

    title: Words | None = None
    to: Words | None = None
    words: Words | None = None
    exclusions: list[Words] | None = Field(None, max_length=20)
    terms: Words | None = None
    valid_until: date | None = None
    ask_again_on: date | None = None
    alternatives: list[AlternativeTold] | None = Field(None, min_length=1, max_length=3)


class NewStep(Asked):
    """What became of a quote. ``sent`` wants ``seen``; ``accepted`` the alternative; ``lost`` the reason."""

    state: Literal["sent", "accepted", "lost", "expired"]
    on: date | None = Field(None, description="Null: today.")
    by: Words = Field("", max_length=200, description="The name of the person; empty: yours. Wanted for accepted.")
    reason: Words = Field("", max_length=1000)
    alternative: Words = Field("", max_length=200)
    seen: Words = Field("", max_length=40, description="The mark of the draft that was read.")
    keeps_prices: bool = Field(False, description="Although a newer version of the catalogue counts.")


class QuoteListed(BaseModel):
    """A quote in a list."""

    id: UUID
    site: UUID
    number: str
    title: str
    state: State
    valid_until: date
    ask_again_on: date | None
    catalogue: int = Field(description="Version of the catalogue that its prices are of.")
    revision: int
    made: datetime


class StepSaid(BaseModel):
    """A change of state."""

    state: str
    on: date
    by: str
    reason: str
    alternative: str


class QuoteSaid(QuoteListed):
    """A quote, and what it comes to."""

    to: str
    alternatives: list[dict[str, Any]] = Field(description="As they were entered.")
    steps: list[StepSaid]
    in_the_way: list[str] = Field(description="Of a draft: what is missing before it can be sent.")
    mark: str = Field(description="Of a draft that can be sent: send it along as “seen”.")
    comes_to: dict[str, Any] | None = Field(description="In the format sillwright-quote/1; null while it is none.")
    files: list[Ending] = Field(description="The files that it went out as.")


class Quotes(Page[QuoteListed]):
    """Quotes, oldest first."""


class DueSaid(BaseModel):
    """A quote that somebody has to ask about, since when, and why."""

    quote: QuoteListed
    since: date
    why: str


class Due(BaseModel):
    """The quotes to ask about today, the longest waiting first."""

    items: list[DueSaid]


@router.get("/quotes", response=Due, auth=reads, summary=gettext_noop("List the quotes to ask about today"))
def quotes_due(request: HttpRequest) -> Any:
    found = due(person(request), timezone.localdate())
    readers = {row.site_id: reader_for(person(request), row.site) for row, _each in found}
    return {
        "items": [
            {"quote": _listed(row), "since": each.since, "why": render(each.why, readers[row.site_id])}
            for row, each in found
        ]
    }


@router.get(
    "/sites/{uuid:site}/quotes", response=Quotes, auth=reads, summary=gettext_noop("List the quotes of a site")
)
def quotes_at(request: HttpRequest, site: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(Site.objects.all(), person(request), site)
    rows = quotes_of().filter(site=found).shown_to(person(request))  # type: ignore[attr-defined]
    return page_of(request, rows, _listed, limit=limit, cursor=cursor)


@router.post(
    "/sites/{uuid:site}/quotes", response={201: QuoteSaid}, auth=writes, summary=gettext_noop("Make a quote")
)
@made_once
def quote_new(request: HttpRequest, site: UUID, quote: NewQuote) -> Any:
    count(request, WEIGHT - 1)
    found = fetched(Site.objects.select_related("organisation"), person(request), site, "write")
    version, reader = records.catalogue_at(found), reader_for(person(request), found)
    told = quote.model_dump(mode="json")
    if told["terms"] is None:
        told["terms"] = records.usual_terms(found.organisation)
    about = about_from(told, reader, timezone.localdate())
    offered = alternatives_from(told["alternatives"], found.openings.all(), read(version), reader)
    made = records.make_quote(found, about, offered, version, by=person(request), request=request)
    return Status(201, _said(request, quotes_of().get(pk=made.pk)))


@router.get("/quotes/{uuid:quote}", response=QuoteSaid, auth=reads, summary=gettext_noop("Read a quote"))
def quote(request: HttpRequest, response: HttpResponse, quote: UUID) -> Any:
    count(request, WEIGHT - 1)
    return with_revision(response, _said(request, quote_for(quotes_of(), person(request), quote)))


@router.patch(
    "/quotes/{uuid:quote}", response=QuoteSaid, auth=writes, summary=gettext_noop("Change a draft of a quote")
)
def quote_edit(
    request: HttpRequest, response: HttpResponse, quote: UUID, change: QuoteChange, if_match: IfMatch
) -> Any:
    count(request, WEIGHT - 1)
    found = quote_for(quotes_of(), person(request), quote, "write")
    given = change.model_dump(mode="json", exclude_unset=True)
    with transaction.atomic():
        held = records.locked(found)
        unchanged(held.revision, if_match)
        reader = reader_for(person(request), held.site)
        about = about_from({**records.about_of(held), **_without_none(given)}, reader, _earliest(held))
        offered = held.offered
        if given.get("alternatives"):
            openings = held.site.openings.all()
            offered = alternatives_from(given["alternatives"], openings, read(held.catalogue), reader)
        records.replace_all(held, about, offered, by=person(request), request=request)
    return with_revision(response, _said(request, quotes_of().get(pk=quote)))


def _earliest(row: Quote) -> date:
    """A day that was kept before it was over stays, until another one is given."""
    return min(timezone.localdate(), row.valid_until)


def _without_none(given: dict[str, Any]) -> dict[str, Any]:
    return {name: each for name, each in given.items() if each is not None or name == "ask_again_on"}


@router.post(
    "/quotes/{uuid:quote}/steps",
    response=QuoteSaid,
    auth=writes,
    summary=gettext_noop("Send a quote, or say what became of it"),
)
@made_once
def quote_step_new(request: HttpRequest, quote: UUID, step: NewStep) -> Any:
    count(request, (WEIGHT_OF_SENDING if step.state == "sent" else WEIGHT) - 1)
    found = quote_for(quotes_of(), person(request), quote, "manage")
    today = timezone.localdate()
    if step.on is not None and step.on > today:
        wrong = Mistake(path="on", message=_("This day is still to come."), accepted=_("today or earlier"))
        raise DocumentError("step", (wrong,))
    told: dict[str, Any] = {
        "on": step.on or today,
        "name": step.by.strip() or (person(request).name if step.state != "accepted" else ""),
    }
    who: dict[str, Any] = {"by": person(request), "request": request}
    if step.state == "sent":
        reader = reader_for(person(request), found.site)
        records.send(found, reader, seen=step.seen, keeps_prices=step.keeps_prices, **told, **who)
    else:
        told |= {"reason": step.reason, "alternative": step.alternative}
        records.step(found, step.state, **told, **who)
    return _said(request, quotes_of().get(pk=quote))


@router.post(
    "/quotes/{uuid:quote}/prices",
    response=QuoteSaid,
    auth=writes,
    summary=gettext_noop("Put a draft on the catalogue that counts now"),
)
def quote_prices_new(request: HttpRequest, quote: UUID) -> Any:
    count(request, WEIGHT - 1)
    found = quote_for(quotes_of(), person(request), quote, "write")
    records.take_prices(found, records.catalogue_at(found.site), by=person(request), request=request)
    return _said(request, quotes_of().get(pk=quote))


@router.get(
    "/quotes/{uuid:quote}/files/{ending}",
    auth=reads,
    summary=gettext_noop("Read a file that a quote went out as"),
    openapi_extra={
        "responses": {
            200: {
                "description": "The bytes that went out.",
                "content": {"*/*": {"schema": {"type": "string", "format": "binary"}}},
            },
            409: {"$ref": "#/components/responses/damaged"},
        }
    },
)
def quote_file_read(request: HttpRequest, quote: UUID, ending: str) -> Any:
    row = quote_for(quotes_of(), person(request), quote)
    found = row.files.filter(ending=ending).select_related("paper").first()
    if found is None:
        raise Http404
    return as_file(content_of(found.paper), found.paper.media, found.paper.name)


def _listed(row: Quote) -> dict[str, Any]:
    names = ("id", "title", "state", "valid_until", "ask_again_on", "revision", "made")
    told = {name: getattr(row, name) for name in names}
    return {**told, "site": row.site_id, "number": row.label, "catalogue": row.catalogue.number}


def _said(request: HttpRequest, row: Quote) -> dict[str, Any]:
    reader: Reader = reader_for(person(request), row.site)
    drafted = records.worked_out(row, reader) if row.state == "draft" else None
    found = drafted.quote if drafted else records.as_sent(row)
    steps = row.steps.defer("frozen").order_by("pk")
    return {
        **_listed(row),
        "to": row.to,
        "alternatives": row.offered,
        "steps": [
            {
                "state": each.state,
                "on": each.on,
                "by": each.name,
                "reason": each.reason,
                "alternative": each.alternative,
            }
            for each in steps
        ],
        "in_the_way": list(drafted.wrong) if drafted else [],
        "mark": drafted.mark if drafted and drafted.quote else "",
        "comes_to": quote_as_json(found, reader) if found else None,
        "files": sorted(row.files.values_list("ending", flat=True)),
    }
