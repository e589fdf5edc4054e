"""Orders: made, released, compared with what the maker confirmed; what came, and claims."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Router, Status

from sillwright.base.words import render
from sillwright.takeoff.ordering.exporting import agreed_as_json, order_as_json
from sillwright.web.answers.files import as_file
from sillwright.web.api.limits import count
from sillwright.web.api.once import made_once
from sillwright.web.api.operations.order_shapes import (
    BesideSaid,
    NewAcknowledgement,
    NewAnswers,
    NewClaim,
    NewGoods,
    NewOrder,
    NewRelease,
    NoteSaid,
    OrderChange,
    Orders,
    OrderSaid,
)
from sillwright.web.api.operations.quotes import WEIGHT, WEIGHT_OF_SENDING
from sillwright.web.api.paging import Cursor, Limit, page_of
from sillwright.web.api.revisions import IfMatch, unchanged, with_revision
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.orders import orders as records
from sillwright.web.orders.acknowledging import agreed_of, answer_from, compared, line_built, notes_of, pasted
from sillwright.web.orders.catalogues import read
from sillwright.web.orders.models import Order, OrderNote
from sillwright.web.orders.offers import mark
from sillwright.web.orders.order_pages import entered_from, orders_of
from sillwright.web.orders.order_shown import claim_shown, goods_shown
from sillwright.web.orders.quote_pages import quotes_of
from sillwright.web.orders.quotes import catalogue_at
from sillwright.web.orders.received import claim_from, goods_in_from, origin_name
from sillwright.web.orders.seen import quote_for
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Photo, Site
from sillwright.web.records.papers import content_of
from sillwright.web.records.seen import fetched

router = Router(tags=[gettext_noop("Orders")])


@router.get(
    "/sites/{uuid:site}/orders", response=Orders, auth=reads, summary=gettext_noop("List the orders of a site")
)
def orders_at(request: HttpRequest, site: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(Site.objects.all(), person(request), site)
    return page_of(request, orders_of().filter(site=found), _listed, limit=limit, cursor=cursor)


@router.post(
    "/sites/{uuid:site}/orders",
    response={201: OrderSaid},
    auth=writes,
    summary=gettext_noop("Make an order without a quote"),
)
@made_once
def order_new(request: HttpRequest, site: UUID, order: NewOrder) -> Any:
    count(request, WEIGHT - 1)
    found = fetched(Site.objects.select_related("organisation"), person(request), site, "write")
    version, reader = catalogue_at(found), reader_for(person(request), found)
    told = entered_from(order.model_dump(mode="json"), found, read(version), reader)
    about = {"to": told["to"], "by": person(request), "request": request}
    made = records.make_order(found, told["title"], told["lines"], version, **about)
    return Status(201, _said(request, orders_of().get(pk=made.pk)))


@router.post(
    "/quotes/{uuid:quote}/order",
    response={201: OrderSaid},
    auth=writes,
    summary=gettext_noop("Make the order of an accepted quote"),
)
@made_once
def order_of_quote(request: HttpRequest, quote: UUID) -> Any:
    count(request, WEIGHT - 1)
    found = quote_for(quotes_of(), person(request), quote, "write")
    made = records.order_of(found, by=person(request), request=request)
    return Status(201, _said(request, orders_of().get(pk=made.pk)))


@router.get("/orders/{uuid:order}", response=OrderSaid, auth=reads, summary=gettext_noop("Read an order"))
def order(request: HttpRequest, response: HttpResponse, order: UUID) -> Any:
    count(request, WEIGHT - 1)
    return with_revision(response, _said(request, _order(request, order)))


@router.patch(
    "/orders/{uuid:order}",
    response=OrderSaid,
    auth=writes,
    summary=gettext_noop("Change an order before its release"),
)
def order_edit(
    request: HttpRequest, response: HttpResponse, order: UUID, change: OrderChange, if_match: IfMatch
) -> Any:
    count(request, WEIGHT - 1)
    found = _order(request, order, "write")
    given = {name: each for name, each in change.model_dump(mode="json").items() if each is not None}
    with transaction.atomic():
        held = records.locked(found)
        unchanged(held.revision, if_match)
        reader = reader_for(person(request), held.site)
        told = entered_from({**records.entered_of(held), **given}, held.site, read(held.catalogue), reader)
        seen = mark(records.entered_of(held))
        records.change(held, told, seen=seen, by=person(request), request=request)
    return with_revision(response, _said(request, orders_of().get(pk=order)))


@router.post(
    "/orders/{uuid:order}/release", response=OrderSaid, auth=writes, summary=gettext_noop("Release an order")
)
@made_once
def order_release_new(request: HttpRequest, order: UUID, release: NewRelease) -> Any:
    count(request, WEIGHT_OF_SENDING - 1)
    found = _order(request, order, "manage")
    told: dict[str, Any] = {"on": timezone.localdate(), "name": release.by.strip() or person(request).name}
    reader = reader_for(person(request), found.site)
    records.release_order(found, reader, seen=release.seen, **told, by=person(request), request=request)
    return _said(request, orders_of().get(pk=order))


@router.post(
    "/orders/{uuid:order}/split",
    response={201: OrderSaid},
    auth=writes,
    summary=gettext_noop("Put what something stands against into an order of its own"),
)
@made_once
def order_split_new(request: HttpRequest, order: UUID) -> Any:
    count(request, WEIGHT - 1)
    made = records.split(_order(request, order, "write"), by=person(request), request=request)
    return Status(201, _said(request, orders_of().get(pk=made.pk)))


@router.get(
    "/orders/{uuid:order}/sheet",
    auth=reads,
    summary=gettext_noop("Read the sheet that an order was released as"),
    openapi_extra={
        "responses": {
            200: {"content": {"application/pdf": {"schema": {"type": "string"}}}},
            409: {"$ref": "#/components/responses/damaged"},
        }
    },
)
def order_sheet(request: HttpRequest, order: UUID) -> Any:
    kept = _order(request, order).notes.filter(kind="release").select_related("paper").first()
    if kept is None or kept.paper is None:
        raise Http404
    return as_file(content_of(kept.paper), kept.paper.media, kept.paper.name)


@router.post(
    "/orders/{uuid:order}/acknowledgements",
    response={201: BesideSaid},
    auth=writes,
    summary=gettext_noop("Compare what the maker confirmed with the order"),
)
@made_once
def acknowledgement_new(request: HttpRequest, order: UUID, acknowledgement: NewAcknowledgement) -> Any:
    count(request, WEIGHT - 1)
    found = _order(request, order, "write")
    records.refuse_unless_released(found)
    told = pasted(acknowledgement.text)
    records.note(found, "acknowledgement", told, by=person(request), request=request)
    return Status(201, _beside(request, found))


@router.post(
    "/orders/{uuid:order}/answers",
    response=BesideSaid,
    auth=writes,
    summary=gettext_noop("Answer differences of the newest acknowledgement"),
)
@made_once
def answers_new(request: HttpRequest, order: UUID, answers: NewAnswers) -> Any:
    found = _order(request, order, "write")
    records.refuse_unless_released(found)
    beside = compared(records.lines_now(found).plain, notes_of(found))
    if beside is None or beside.note.pk != answers.acknowledgement:
        raise Refused(_("This is not the newest acknowledgement; read the order again."))
    who: dict[str, Any] = {"name": person(request).name, "on": timezone.localdate()}
    kept = [answer_from(beside, each.about, each.holds, each.words, **who) for each in answers.answers]
    with transaction.atomic():
        for each in kept:
            records.note(found, "answer", each, by=person(request), request=request)
    return _beside(request, found)


@router.post(
    "/orders/{uuid:order}/lines/{int:line}/goods-in",
    response={201: NoteSaid},
    auth=writes,
    summary=gettext_noop("Say what was looked at on an edge that came"),
)
@made_once
def goods_in_new(request: HttpRequest, order: UUID, line: int, goods: NewGoods) -> Any:
    found, ordered = _line(request, order, line)
    told = {**goods.model_dump(mode="json"), "photo": str(goods.photo or "")}
    kept = goods_in_from(told, _photos(ordered), reader_for(person(request), found.site))
    return _noted(request, found, ordered, "goods_in", kept)


@router.post(
    "/orders/{uuid:order}/lines/{int:line}/claims",
    response={201: NoteSaid},
    auth=writes,
    summary=gettext_noop("Say what is known of an edge that failed"),
)
@made_once
def claim_new(request: HttpRequest, order: UUID, line: int, claim: NewClaim) -> Any:
    found, ordered = _line(request, order, line)
    told: dict[str, str] = {"words": claim.words}
    for name, each in claim.facts.items():
        told |= {name: each.typed, origin_name(name): each.origin}
    kept = claim_from(told, _photos(ordered), reader_for(person(request), found.site))
    return _noted(request, found, ordered, "claim", kept)


def _order(request: HttpRequest, key: UUID, deed: Any = "read") -> Order:
    found: Order = fetched(orders_of(), person(request), key, deed)  # type: ignore[arg-type]
    return found


def _line(request: HttpRequest, key: UUID, number: int) -> tuple[Order, records.Ordered]:
    found = _order(request, key, "write")
    line = line_built(found, number)
    if line is None:
        raise Http404
    return found, line


def _photos(ordered: records.Ordered) -> list[str]:
    rows = Photo.objects.filter(opening_id=UUID(ordered.opening)).exclude(state="refused")
    return [str(key) for key in rows.values_list("pk", flat=True)]


def _noted(request: HttpRequest, row: Order, ordered: records.Ordered, kind: str, told: dict[str, Any]) -> Any:
    made = records.note(row, kind, told, line=ordered.line.number, by=person(request), request=request)
    return Status(201, _note(made, ordered, request))


def _note(made: OrderNote, ordered: records.Ordered, request: HttpRequest) -> dict[str, Any]:
    reader = reader_for(person(request), made.order.site)
    shown = goods_shown if made.kind == "goods_in" else claim_shown
    found = {name: each for name, each in shown(made, ordered.line, reader).items() if name not in {"by", "at"}}
    return {"id": made.pk, "line": made.line, "kind": made.kind, "at": made.at, "found": found}


def _listed(row: Order) -> dict[str, Any]:
    told = {name: getattr(row, name) for name in ("id", "title", "state", "revision", "made")}
    about = {"site": row.site_id, "quote": row.quote_id, "number": row.label, "catalogue": row.catalogue.number}
    return {**told, **about}


def _said(request: HttpRequest, row: Order) -> dict[str, Any]:
    found, reader = records.lines_now(row), reader_for(person(request), row.site)
    return {
        **_listed(row),
        "to": row.to,
        "entered": row.lines,
        "mark": found.mark,
        "gone": list(found.gone),
        "order": order_as_json(found.plain, reader),
        "beside": _beside(request, row) if row.state == "released" else None,
    }


def _beside(request: HttpRequest, row: Order) -> dict[str, Any] | None:
    lines = records.lines_now(row).plain
    found = compared(lines, notes_of(row))
    if found is None:
        return None
    reader, answers = reader_for(person(request), row.site), found.answers
    settled = agreed_of(row, lines)
    return {
        "agreed": agreed_as_json(settled, reader) if settled else None,
        "acknowledgement": found.note.pk,
        "at": found.note.at,
        "settled": not found.open,
        "differences": [
            {
                "id": each.id,
                "kind": each.kind,
                "line": each.line,
                "text": render(each.text, reader),
                "answer": _answer(answers.get(each.id)),
            }
            for each in found.differences
        ],
    }


def _answer(found: Any) -> dict[str, Any] | None:
    if found is None:
        return None
    return {"holds": found.holds, "words": found.words, "by": found.by, "on": found.on}
