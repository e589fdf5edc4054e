"""The pages of orders: those of a site with a form for a new one, one order, and changing it before its release."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.base.errors import DocumentError
from sillwright.base.words import Reader
from sillwright.catalogue import Catalogue
from sillwright.web.orders.catalogues import newest_of, read
from sillwright.web.orders.changed import Meanwhile
from sillwright.web.orders.chosen import MOST_OPENINGS, chosen_from, openings_for
from sillwright.web.orders.entered import Entries
from sillwright.web.orders.fields import Ask, differing, mistakes_by_field, shown
from sillwright.web.orders.line_forms import added_in, lines_differing, lines_in, others_of, rows_of
from sillwright.web.orders.models import Order
from sillwright.web.orders.offers import mark
from sillwright.web.orders.order_shown import order_shown
from sillwright.web.orders.orders import change, entered_of, make_order, refuse_unless_draft
from sillwright.web.orders.picking import picked, to_pick
from sillwright.web.orders.quotes import catalogue_at
from sillwright.web.orders.starting import first_lines
from sillwright.web.orders.taken import sheaf_of
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.sites.mine import key_in

A_PAGE = 50
ABOUT = (
    Ask(name="title", label=gettext_lazy("What it is about")),
    Ask(
        name="to",
        label=gettext_lazy("Maker"),
        why=gettext_lazy("Name and address, line by line, as they stand on the sheet."),
        entry="text",
    ),
)


def orders_of() -> QuerySet[Order]:
    """Orders with what their pages say of them."""
    return Order.objects.select_related("site__organisation", "catalogue", "changed_by", "by", "quote")


@require_http_methods(["GET", "HEAD", "POST"])
def of_site(request: HttpRequest, id: UUID) -> HttpResponse:
    """The orders of a site; a post makes one without a quote."""
    deed = "write" if request.method == "POST" else "read"
    site = fetched(Site.objects.select_related("organisation"), request.user, id, deed)  # type: ignore[arg-type]
    told: dict[str, Any] = {}
    if request.method == "POST":
        try:
            return redirect("order", id=_made(request, site).pk)
        except Refused as refused:
            told = {"wrong": str(refused)}
        except DocumentError as error:
            found = mistakes_by_field(error, reader_for(person(request), site))
            told = {"wrong": " ".join(dict.fromkeys(found.values())), "title_wrong": "title" in found}
        told["posted"] = request.POST.dict()
    posted, version = told.get("posted", {}), newest_of(site.organisation_id)
    may_pick = version is not None and site.may_write
    shown_now = {
        "site": site,
        "page": Paginator(orders_of().filter(site=site), A_PAGE).get_page(request.GET.get("page")),
        "version": version,
        "mine": person(request).memberships.filter(organisation=site.organisation_id).exists(),
        "may_write": site.may_write,
        "openings": to_pick(site, version, reader_for(person(request), site), posted)
        if may_pick and version
        else [],
        "most": MOST_OPENINGS,
        "title": posted.get("title", site.name),
        "key": key_in(request),
        **told,
    }
    return render(request, "orders/orders_page.html", shown_now, status=422 if told else 200)


def _made(request: HttpRequest, site: Site) -> Order:
    version, reader = catalogue_at(site), reader_for(person(request), site)
    lines = first_lines(request.POST, sheaf_of(site, picked(site, request.POST), version))
    told = {"title": request.POST.get("title", ""), "lines": lines}
    found = entered_from(told, site, read(version), reader)
    made = {"by": person(request), "request": request, "key": key_in(request)}
    return make_order(site, found["title"], found["lines"], version, **made)  # type: ignore[arg-type]


def entered_from(told: Mapping[str, Any], site: Site, catalogue: Catalogue, reader: Reader) -> dict[str, Any]:
    """What was entered for an order, as it is kept. Raises :class:`DocumentError`."""
    said = Entries(told, "", reader)
    chosen = []
    for at, each in enumerate(told.get("lines") or ()):
        one, found = chosen_from(each, f"lines[{at}].", catalogue, reader)
        chosen.append(one)
        said.mistakes += found.mistakes
    openings_for(site.openings.all(), chosen, said)
    if not chosen:
        said.wrong("lines", _("Nothing is ordered yet."), _("choose an opening at least"))
    made = {
        "title": said.name("title"),
        "to": said.text("to", 1000),
        "lines": [each.as_json() for each in chosen],
    }
    said.refuse()
    return made


@require_safe
def order(request: HttpRequest, id: UUID) -> HttpResponse:
    """One order: its lines as the maker needs them, then what can be done with it."""
    return order_page(request, fetched(orders_of(), request.user, id))  # type: ignore[arg-type]


def order_page(request: HttpRequest, row: Order, *, status: int = 200, **more: Any) -> HttpResponse:
    """The page of an order; ``more`` is what went wrong just now, and what was typed then."""
    reader = reader_for(person(request), row.site)
    told = {
        **order_shown(row, reader),
        "today": timezone.localdate().isoformat(),
        "me": person(request).name,
        "typed": {},
        **more,
    }
    return render(request, "orders/order_page.html", told, status=status)


@require_http_methods(["GET", "HEAD", "POST"])
def order_change(request: HttpRequest, id: UUID) -> HttpResponse:
    """Title, maker and lines of an order that is not released yet."""
    row = fetched(orders_of(), request.user, id, "write")  # type: ignore[arg-type]
    if request.method == "POST":
        return _changed(request, row)
    return redirect("order", id=id) if row.state != "draft" else _change_page(request, row, entered_of(row))


def _changed(request: HttpRequest, row: Order) -> HttpResponse:
    """Keep what was entered; the page again, with everything that was typed, where that cannot be."""
    typed: dict[str, Any] = {**request.POST.dict(), "lines": lines_in(request)}
    reader = reader_for(person(request), row.site)
    try:
        refuse_unless_draft(row)
        told = {**typed, "lines": [*typed["lines"], *added_in(request, row)]}
        found = entered_from(told, row.site, read(row.catalogue), reader)
        change(row, found, seen=request.POST.get("seen", ""), by=person(request), request=request)
    except DocumentError as error:
        return _change_page(request, row, typed, wrongs=mistakes_by_field(error, reader), status=422)
    except Meanwhile as changed:
        fresh = orders_of().get(pk=row.pk)
        differs = differing(ABOUT, entered_of(fresh), typed)
        differs += lines_differing(fresh, fresh.lines, typed["lines"])
        return _change_page(request, fresh, typed, wrong=str(changed), differs=differs, status=409)
    except Refused as refused:
        return _change_page(request, row, typed, wrong=str(refused), status=422)
    messages.success(request, _("Kept."))
    return redirect("order_change" if request.POST.getlist("add") else "order", id=row.pk)


def _change_page(
    request: HttpRequest,
    row: Order,
    typed: Mapping[str, Any],
    *,
    wrongs: Mapping[str, str] | None = None,
    wrong: str = "",
    differs: Any = (),
    status: int = 200,
) -> HttpResponse:
    wrongs = wrongs or {}
    told = {
        "order": row,
        "site": row.site,
        "seen": mark(entered_of(row)),
        "fields": shown(ABOUT, typed, wrongs),
        "lines": rows_of(typed["lines"], row, wrongs, reader_for(person(request), row.site)),
        "others": others_of(row, typed["lines"]),
        "lines_wrong": wrongs.get("lines", ""),
        "wrong": wrong,
        "wrongs": wrongs,
        "differs": differs,
        "who": row.changed_by.name,
        "when": row.changed,
    }
    return render(request, "orders/order_change_page.html", told, status=status)
