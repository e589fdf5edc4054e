"""What is done with a quote: sent, accepted, lost, run out; asked about, priced anew, copied, ordered, printed."""

from __future__ import annotations

import logging
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from sillwright.base.errors import DocumentError, InputError
from sillwright.web.answers.files import as_file
from sillwright.web.answers.limits import one_too_many
from sillwright.web.answers.papers import MOST_A_MINUTE, handed_out
from sillwright.web.orders.entered import Entries
from sillwright.web.orders.fields import mistakes_by_field
from sillwright.web.orders.files import ENDINGS, MEDIA, name_of, quote_content
from sillwright.web.orders.models import Quote
from sillwright.web.orders.orders import order_of
from sillwright.web.orders.pressed import step_again
from sillwright.web.orders.quote_pages import quote_page, quotes_of
from sillwright.web.orders.quotes import (
    about_of,
    as_sent,
    ask_again,
    catalogue_at,
    make_quote,
    send,
    step,
    take_prices,
    worked_out,
)
from sillwright.web.orders.seen import quote_for
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.sites.mine import key_in

log = logging.getLogger("sillwright.papers")
STEPS = ("sent", "accepted", "lost", "expired")


@require_POST
def quote_step(request: HttpRequest, id: UUID) -> HttpResponse:
    """What becomes of a quote: sent, accepted, lost, expired."""
    row = quote_for(quotes_of(), request.user, id, "manage")
    reader = reader_for(person(request), row.site)
    try:
        _step(request, row)
    except DocumentError as error:
        return _again(request, row, " ".join(mistakes_by_field(error, reader).values()))
    except Refused as refused:
        return _again(request, quotes_of().get(pk=id), str(refused))
    except InputError as error:
        return _again(request, quotes_of().get(pk=id), error.in_words(reader))
    return redirect("quote", id=id)


def _step(request: HttpRequest, row: Quote) -> None:
    said = Entries(request.POST, "", reader_for(person(request), row.site))
    state, today = said.choice("state", STEPS), timezone.localdate()
    on = said.day("on", default=today) or today
    if on > today:
        said.wrong("on", _("This day is still to come."), _("today or earlier"))
    told: dict[str, Any] = {
        "on": on,
        "name": said.text("name") or (person(request).name if state != "accepted" else ""),
    }
    reason, alternative = said.text("reason", 1000), said.text("alternative")
    said.refuse()
    who: dict[str, Any] = {"by": person(request), "request": request}
    same = {**told, "reason": reason, "alternative": alternative}
    try:
        if state == "sent":
            keeps = "keeps_prices" in request.POST
            send(row, said.reader, seen=request.POST.get("seen", ""), keeps_prices=keeps, **told, **who)
        else:
            step(row, state, reason=reason, alternative=alternative, **told, **who)
    except (Refused, InputError):
        if not step_again(row, state, same, person(request)):
            raise
    gone = _("It went out. Its files below stay as they are.")
    messages.success(request, gone if state == "sent" else _("Taken down."))


def _again(request: HttpRequest, row: Quote, wrong: str) -> HttpResponse:
    """The page again, with what was typed."""
    row.may_write = row.may_manage = True  # type: ignore[attr-defined]  # whoever gets here may
    return quote_page(request, row, status=422, wrong=wrong, typed=request.POST.dict())


@require_POST
def quote_ask(request: HttpRequest, id: UUID) -> HttpResponse:
    """On which day to ask about it."""
    row = quote_for(quotes_of(), request.user, id, "write")
    said = Entries(request.POST, "", reader_for(person(request), row.site))
    day = said.day("ask_again_on")
    try:
        said.refuse()
        ask_again(row, day, by=person(request), request=request)
    except (DocumentError, Refused) as error:
        words = (
            str(error) if isinstance(error, Refused) else " ".join(mistakes_by_field(error, said.reader).values())
        )
        return quote_page(request, row, status=422, wrong=words, typed=request.POST.dict())
    return redirect("quote", id=id)


@require_POST
def quote_prices(request: HttpRequest, id: UUID) -> HttpResponse:
    """A draft on the version of the catalogue that counts now."""
    row = quote_for(quotes_of(), request.user, id, "write")
    try:
        take_prices(row, catalogue_at(row.site), by=person(request), request=request)
    except Refused as refused:
        return quote_page(request, row, status=422, wrong=str(refused))
    messages.success(request, _("It has the prices that count now. Look at it again."))
    return redirect("quote", id=id)


@require_POST
def quote_copy(request: HttpRequest, id: UUID) -> HttpResponse:
    """A new draft from a quote, at the prices of today."""
    row = quote_for(quotes_of(), request.user, id, "write")
    until = timezone.localdate() + (row.valid_until - timezone.localdate(row.made))
    about = {**about_of(row), "valid_until": max(until, timezone.localdate()).isoformat(), "ask_again_on": ""}
    try:
        who = {"by": person(request), "request": request, "key": key_in(request)}
        made = make_quote(row.site, about, row.offered, catalogue_at(row.site), **who)  # type: ignore[arg-type]
    except Refused as refused:
        return quote_page(request, row, status=422, wrong=str(refused))
    messages.success(request, _("This is a new draft; the other quote stays as it is."))
    return redirect("quote", id=made.pk)


@require_POST
def quote_order(request: HttpRequest, id: UUID) -> HttpResponse:
    """The order of the alternative that was accepted."""
    row = quote_for(quotes_of(), request.user, id, "write")
    try:
        return redirect("order", id=order_of(row, by=person(request), request=request).pk)
    except Refused as refused:
        return quote_page(request, row, status=422, wrong=str(refused))


@require_safe
def quote_file(request: HttpRequest, id: UUID, ending: str) -> HttpResponse:
    """A quote as a file: as it went out, or a draft as it is now."""
    row = quote_for(quotes_of(), request.user, id)
    if ending not in ENDINGS:
        raise Http404
    kept = row.files.filter(ending=ending).select_related("paper").first()
    if kept is not None:
        return handed_out(request, kept.paper)
    if one_too_many(request, "papers", MOST_A_MINUTE):
        words = _("Many papers were made just now. Wait a minute, then try again.")
        return refusal(request, 429, _("Too many papers"), words)
    reader = reader_for(person(request), row.site)
    quote = worked_out(row, reader).quote if row.state == "draft" else as_sent(row)
    if quote is None:
        words = _("The page of the quote says what is missing for a paper.")
        return refusal(request, 422, _("No paper yet"), words)
    try:
        content = quote_content(ending, row, quote, reader)
    except Refused as waits:
        return refusal(request, 422, _("No paper yet"), str(waits))
    return as_file(content, MEDIA[ending], name_of(row, ending))
