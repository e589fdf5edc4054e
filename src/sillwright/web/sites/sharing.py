"""With whom a site is shared, for reading or for writing."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.web.accounts.models import Organisation
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import share


@require_http_methods(["GET", "HEAD", "POST"])
def site_sharing(request: HttpRequest, id: UUID) -> HttpResponse:
    """Share a site with an organisation by the code that it gives, or take that back."""
    found = fetched(Site.objects.select_related("organisation"), request.user, id, "manage")
    told: dict[str, Any] = {"site": found, "code": "", "mode": "read", "wrong": ""}
    if request.method == "POST":
        told |= {"code": request.POST.get("code", "").strip(), "mode": request.POST.get("mode", "read")}
        try:
            words = _share(request, found, told)
        except Refused as refused:
            told["wrong"] = str(refused)
        else:
            messages.success(request, words)
            return redirect("site_sharing", id=id)
    told["shares"] = found.shares.select_related("organisation").order_by("organisation__name")
    return render(request, "sites/sharing_page.html", told, status=422 if told["wrong"] else 200)


def _share(request: HttpRequest, site: Site, told: dict[str, Any]) -> str:
    other = _organisation(told["code"])
    if "end" in request.POST:
        share(site, other, None, author=person(request))
        return _("No longer shared with %(name)s.") % {"name": other.name}
    share(site, other, told["mode"], author=person(request))
    return _("Shared with %(name)s.") % {"name": other.name}


def _organisation(code: str) -> Organisation:
    try:
        found = Organisation.objects.filter(pk=UUID(code)).first()
    except ValueError:
        found = None
    if found is None:
        raise Refused(
            _("No organisation has this code. It stands on that organisation's page; copy it from there.")
        )
    return found
