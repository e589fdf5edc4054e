"""The pages of quotes: those of a site with a form for a new one, one quote, and whom to ask about today."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any, cast
from uuid import UUID, uuid4

from django.core.paginator import Paginator
from django.db.models import Prefetch, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.base.errors import DocumentError
from sillwright.base.words import dated
from sillwright.base.words import render as said
from sillwright.takeoff.ordering.quote import Quote as Offered
from sillwright.takeoff.ordering.quote import Step
from sillwright.takeoff.ordering.states import FollowUp, follow_up
from sillwright.web.accounts.models import User
from sillwright.web.orders.alternatives import about_from, alternatives_from
from sillwright.web.orders.catalogues import newest_of
from sillwright.web.orders.chosen import MOST_OPENINGS
from sillwright.web.orders.fields import mistakes_by_field
from sillwright.web.orders.models import Quote, QuoteStep
from sillwright.web.orders.picking import picked, to_pick
from sillwright.web.orders.quotes import (
    as_sent,
    catalogue_at,
    make_quote,
    sheaf_for,
    step_of,
    usual_terms,
    worked_out,
)
from sillwright.web.orders.seen import quote_for
from sillwright.web.orders.showing import alternatives_shown, blocked_shown, history_shown
from sillwright.web.orders.starting import first_offer
from sillwright.web.orders.taken import sheaf_of
from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.sites.mine import key_in

A_PAGE = 50
MOST_FOLLOWED = 1000


def quotes_of() -> QuerySet[Quote]:
    """Quotes with what their pages say of them."""
    return Quote.objects.select_related("site__organisation", "catalogue", "changed_by", "by")


@require_http_methods(["GET", "HEAD", "POST"])
def of_site(request: HttpRequest, id: UUID) -> HttpResponse:
    """The quotes of a site; a post makes one."""
    deed = "write" if request.method == "POST" else "read"
    site = fetched(Site.objects.select_related("organisation"), request.user, id, deed)  # type: ignore[arg-type]
    told: dict[str, Any] = {}
    if request.method == "POST":
        made, told = _made(request, site)
        if made is not None:
            return redirect("quote", id=made.pk)
    return _page_of_site(request, site, told)


def _page_of_site(request: HttpRequest, site: Site, told: dict[str, Any]) -> HttpResponse:
    rows = quotes_of().filter(site=site).shown_to(request.user)  # type: ignore[attr-defined]
    version = newest_of(site.organisation_id)
    reader = reader_for(person(request), site)
    may_write = site.may_write  # type: ignore[attr-defined]
    shown_now: dict[str, Any] = {
        "site": site,
        "page": Paginator(rows, A_PAGE).get_page(request.GET.get("page")),
        "version": version,
        "mine": person(request).memberships.filter(organisation=site.organisation_id).exists(),
        "may_write": may_write,
        "openings": to_pick(site, version, reader, told.get("posted", {})) if version and may_write else [],
        "most": MOST_OPENINGS,
        "title": told.get("posted", {}).get("title", site.name),
        "key": key_in(request),
        **told,
    }
    return render(request, "orders/quotes_page.html", shown_now, status=422 if told else 200)


def _made(request: HttpRequest, site: Site) -> tuple[Quote | None, dict[str, Any]]:
    """Make the quote that is asked for; what is wrong, where it cannot be made."""
    reader, today = reader_for(person(request), site), timezone.localdate()
    posted = request.POST.dict()
    try:
        version = catalogue_at(site)
        openings = list(site.openings.filter(put_away=None))
        sheaf = sheaf_of(site, picked(site, posted), version)
        left = [each.tag for each in openings if str(each.pk) not in sheaf.openings]
        offered = alternatives_from(first_offer(posted, sheaf, left), openings, sheaf.catalogue, reader)
        about = about_from(
            {"title": posted.get("title", ""), "terms": usual_terms(site.organisation)}, reader, today
        )
        key = key_in(request)
        return make_quote(site, about, offered, version, by=person(request), request=request, key=key), {}
    except Refused as refused:
        return None, {"wrong": str(refused), "posted": posted}
    except DocumentError as error:
        found = mistakes_by_field(error, reader)
        return None, {
            "wrong": " ".join(dict.fromkeys(found.values())),
            "posted": posted,
            "title_wrong": "title" in found,
        }


# one quote


@require_safe
def quote(request: HttpRequest, id: UUID) -> HttpResponse:
    """One quote: what the owner reads first, then what it is made of, then what can be done with it."""
    return quote_page(request, quote_for(quotes_of(), request.user, id))


def quote_page(request: HttpRequest, row: Quote, *, status: int = 200, **more: Any) -> HttpResponse:
    """The page of a quote; ``more`` is what went wrong just now, and what was typed then."""
    reader = reader_for(person(request), row.site)
    draft = row.state == "draft"
    sheaf = sheaf_for(row) if draft else None
    drafted = worked_out(row, reader, sheaf) if sheaf else None
    offered = drafted.quote if drafted else as_sent(row)
    newest = newest_of(row.organisation_id)
    told = {
        "quote": row,
        "key": uuid4(),
        "site": row.site,
        "draft": draft,
        "offered": offered,
        "alternatives": alternatives_shown(row, drafted, offered, reader),
        "blocked": blocked_shown(drafted, reader) if drafted else [],
        "in_the_way": drafted.wrong if drafted else (),
        "mark": drafted.mark if drafted and drafted.quote else "",
        "newer": newest if draft and newest and newest.pk != row.catalogue_id else None,
        "history": history_shown(row, reader),
        "files": {each.ending: each.paper for each in row.files.select_related("paper")},
        "orders": row.orders.order_by("number"),
        "until": dated(row.valid_until, reader),
        "words": offered.owner_words if offered else row.words.splitlines(),
        "exclusions": offered.exclusions if offered else row.exclusions,
        "terms": offered.terms if offered else row.terms,
        "over": timezone.localdate() > row.valid_until,
        "today": timezone.localdate().isoformat(),
        "me": person(request).name,
        "typed": {},
        **more,
    }
    return render(request, "orders/quote_page.html", told, status=status)


# whom to ask about today


@dataclass(frozen=True)
class Followed:
    """A quote as far as asking about it needs it."""

    row: Quote
    number: str
    state: str
    valid_until: date
    history: tuple[Step, ...]
    ask_again_on: date | None


def due(user: User, today: date) -> list[tuple[Quote, FollowUp]]:
    """The quotes to ask about today, at all sites that the user may read; the longest waiting first."""
    steps = QuoteStep.objects.defer("frozen").order_by("pk")
    rows = (
        quotes_of()
        .filter(state__in=("draft", "sent"), site__put_away=None)
        .shown_to(user)  # type: ignore[attr-defined]
        .prefetch_related(Prefetch("steps", queryset=steps))
    )
    light = [_followed(each) for each in rows[:MOST_FOLLOWED]]
    found = follow_up(cast("list[Offered]", light), today)
    return [(cast("Followed", each.quote).row, each) for each in found]


def _followed(row: Quote) -> Followed:
    history = tuple(step_of(each) for each in row.steps.all())
    return Followed(row, row.label, row.state, row.valid_until, history, row.ask_again_on)


@require_safe
def to_ask_about(request: HttpRequest) -> HttpResponse:
    """The quotes to ask about today."""
    rows = due(person(request), timezone.localdate())
    page = Paginator(rows, A_PAGE).get_page(request.GET.get("page"))
    lines = [(row, said(each.why, reader_for(person(request), row.site))) for row, each in page.object_list]
    return render(request, "orders/follow_up_page.html", {"page": page, "lines": lines})
