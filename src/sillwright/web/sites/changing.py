"""Other names for sites and openings, and putting them away: out of the lists, never gone."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import put_away, rename


@require_http_methods(["GET", "HEAD", "POST"])
def site_name(request: HttpRequest, id: UUID) -> HttpResponse:
    """Another name for a site."""
    return _named(request, fetched(Site.objects.select_related("organisation"), request.user, id, "manage"))


@require_http_methods(["GET", "HEAD", "POST"])
def opening_name(request: HttpRequest, id: UUID) -> HttpResponse:
    """Another tag for an opening."""
    rows = Opening.objects.select_related("site__organisation")
    return _named(request, fetched(rows, request.user, id, "write"))


def _named(request: HttpRequest, thing: Any) -> HttpResponse:
    where = "opening" if isinstance(thing, Opening) else "site"
    told = {"thing": thing, "where": where, "before": str(thing), "typed": str(thing), "wrong": ""}
    told["site"] = thing.site if where == "opening" else thing
    if request.method == "POST":
        told["typed"] = request.POST.get("name", "")
        try:
            rename(thing, told["typed"], author=person(request), request=request)
        except Refused as refused:
            told["wrong"] = str(refused)
        else:
            messages.success(request, _("It is called “%(name)s” now.") % {"name": thing})
            return redirect(where, id=thing.pk)
    return render(request, "sites/name_page.html", told, status=422 if told["wrong"] else 200)


@require_POST
def site_put_away(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take a site out of the lists, or put it back."""
    found = fetched(Site.objects.select_related("organisation"), request.user, id, "manage")
    if _put(request, found):
        return redirect("site", id=id)
    return redirect(f"{reverse('home')}?away={id}")


@require_POST
def opening_put_away(request: HttpRequest, id: UUID) -> HttpResponse:
    """Take an opening out of its site's list, or put it back."""
    found = fetched(Opening.objects.select_related("site__organisation"), request.user, id, "write")
    address = reverse("site", args=[found.site_id])
    return redirect(address if _put(request, found) else f"{address}?away={id}")


def _put(request: HttpRequest, thing: Site | Opening) -> bool:
    """Put it away, or back where the form says so; whether it is back."""
    back = "back" in request.POST
    put_away(thing, author=person(request), back=back, request=request)
    if back:
        messages.success(request, _("“%(name)s” is back.") % {"name": thing})
    return back
