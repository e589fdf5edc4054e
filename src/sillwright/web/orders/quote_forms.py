"""Changing a draft: the quote as a whole, and each of its alternatives on a page of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods

from sillwright.base.errors import DocumentError
from sillwright.takeoff.ordering.alternatives import MOST_ALTERNATIVES
from sillwright.web.orders.alternatives import about_from, alternative_from
from sillwright.web.orders.catalogues import read
from sillwright.web.orders.changed import Meanwhile
from sillwright.web.orders.fields import Ask, differing, mistakes_by_field, shown
from sillwright.web.orders.line_forms import added_in, lines_differing, lines_in, others_of, rows_of
from sillwright.web.orders.models import Quote
from sillwright.web.orders.offers import mark
from sillwright.web.orders.quote_pages import quotes_of
from sillwright.web.orders.quotes import change, part_of, refuse_unless_draft
from sillwright.web.orders.seen import quote_for
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused

ABOUT = (
    Ask(
        name="title",
        label=gettext_lazy("What it is about"),
        why=gettext_lazy("Site and openings, in the customer's words."),
    ),
    Ask(
        name="to",
        label=gettext_lazy("Whom it is for"),
        why=gettext_lazy("Name and address, line by line, as they stand on the paper."),
        entry="text",
    ),
    Ask(
        name="words",
        label=gettext_lazy("For whoever decides"),
        why=gettext_lazy("What it changes, in plain words. Every line is a paragraph."),
        entry="text",
    ),
    Ask(
        name="exclusions",
        label=gettext_lazy("Not included"),
        why=gettext_lazy("One on each line, like “electrician's work”."),
        entry="text",
    ),
    Ask(name="valid_until", label=gettext_lazy("Holds until"), entry="day"),
    Ask(
        name="ask_again_on",
        label=gettext_lazy("Ask about it on"),
        why=gettext_lazy("Empty: a week after it went out, or three days before it ends."),
        entry="day",
    ),
    Ask(
        name="terms",
        label=gettext_lazy("Terms"),
        why=gettext_lazy("Your own text; it is printed as it is. The next quote begins with it."),
        entry="text",
    ),
)
ALTERNATIVE = (
    Ask(
        name="name", label=gettext_lazy("What this alternative is called"), why=gettext_lazy("like “edge and eye”")
    ),
    Ask(name="words", label=gettext_lazy("What it does, for whoever decides"), entry="text"),
    Ask(
        name="leaves_open",
        label=gettext_lazy("What it leaves open"),
        why=gettext_lazy("One on each line. If nothing is known to be left, say so."),
        entry="text",
    ),
    Ask(
        name="discount", label=gettext_lazy("Discount in percent"), why=gettext_lazy("on all of it, from 0 to 100")
    ),
    Ask(name="trips", label=gettext_lazy("Trips"), why=gettext_lazy("at the catalogue's rate"), entry="number"),
)


@require_http_methods(["GET", "HEAD", "POST"])
def quote_change(request: HttpRequest, id: UUID) -> HttpResponse:
    """The quote as a whole: title, words for the owner, exclusions, days, terms."""
    row = quote_for(quotes_of(), request.user, id, "write")
    if request.method == "POST":
        return _changed(request, row, 0)
    return redirect("quote", id=id) if row.state != "draft" else _page(request, row, 0, _typed_of(row, 0))


@require_http_methods(["GET", "HEAD", "POST"])
def alternative(request: HttpRequest, id: UUID, place: int) -> HttpResponse:
    """One alternative of a draft; the place after the last one makes another."""
    row = quote_for(quotes_of(), request.user, id, "write")
    if not 1 <= place <= MOST_ALTERNATIVES:
        raise Http404
    if request.method == "POST":
        return _changed(request, row, place)
    if row.state != "draft" or place > len(row.offered) + 1:
        return redirect("quote", id=id)
    return _page(request, row, place, _typed_of(row, place))


def _changed(request: HttpRequest, row: Quote, place: int) -> HttpResponse:
    """Keep what was entered; the page again, with everything that was typed, where that cannot be."""
    typed = _typed_in(request)
    try:
        refuse_unless_draft(row)
        part = None if place and "out" in request.POST else _part(request, row, place, typed)
        change(row, place, part, seen=request.POST.get("seen", ""), by=person(request), request=request)
    except DocumentError as error:
        wrongs = mistakes_by_field(error, reader_for(person(request), row.site))
        return _page(request, row, place, typed, wrongs=wrongs, status=422)
    except Meanwhile as changed:
        fresh = quotes_of().get(pk=row.pk)
        asks = ALTERNATIVE if place else ABOUT
        now = _typed_of(fresh, place) if part_of(fresh, place) is not None else {}
        differs = differing(asks, now, typed)
        if place and now:
            differs += lines_differing(fresh, now["lines"], typed["lines"])
        return _page(request, fresh, place, typed, wrong=str(changed), differs=differs, status=409)
    except Refused as refused:
        return _page(request, row, place, typed, wrong=str(refused), status=422)
    messages.success(request, _("Kept."))
    if request.POST.getlist("add"):
        return redirect("quote_alternative", id=row.pk, place=place)
    return redirect("quote", id=row.pk)


def _part(request: HttpRequest, row: Quote, place: int, typed: Mapping[str, Any]) -> dict[str, Any]:
    reader = reader_for(person(request), row.site)
    if place == 0:
        return about_from(typed, reader, timezone.localdate())
    told = {**typed, "lines": [*typed["lines"], *added_in(request, row)]}
    others = [each["name"] for at, each in enumerate(row.offered, 1) if at != place]
    return alternative_from(told, row.site.openings.all(), read(row.catalogue), reader, others=others)


def _typed_in(request: HttpRequest) -> dict[str, Any]:
    return {**request.POST.dict(), "lines": lines_in(request)}


def _typed_of(row: Quote, place: int) -> dict[str, Any]:
    """What is kept, as one would type it; another alternative begins as the last one is."""
    told = part_of(row, place) or {**(row.offered[-1] if row.offered else {"lines": []}), "name": "", "words": ""}
    return {name: "\n".join(each) if name in {"exclusions", "leaves_open"} else each for name, each in told.items()}


def _page(
    request: HttpRequest,
    row: Quote,
    place: int,
    typed: Mapping[str, Any],
    *,
    wrongs: Mapping[str, str] | None = None,
    wrong: str = "",
    differs: Any = (),
    status: int = 200,
) -> HttpResponse:
    reader, wrongs = reader_for(person(request), row.site), wrongs or {}
    told: dict[str, Any] = {
        "quote": row,
        "site": row.site,
        "place": place,
        "seen": mark(part_of(row, place)),
        "fields": shown(ALTERNATIVE if place else ABOUT, typed, wrongs),
        "wrong": wrong,
        "wrongs": wrongs,
        "differs": differs,
        "who": row.changed_by.name,
        "when": row.changed,
    }
    if place:
        told["lines"] = rows_of(typed["lines"], row, wrongs, reader)
        told["others"] = others_of(row, typed["lines"])
        told["lines_wrong"] = wrongs.get("lines", "")
        told["more_than_one"] = len(row.offered) > 1 and place <= len(row.offered)
    return render(
        request, "orders/alternative_page.html" if place else "orders/quote_change_page.html", told, status=status
    )
