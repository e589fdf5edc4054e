"""With whom a site is shared, for reading or for writing."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.web.accounts.models import Organisation
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Share, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import share


@require_http_methods(["GET", "HEAD", "POST"])
def site_sharing(request: HttpRequest, id: UUID) -> HttpResponse:
    """Share a site with an organisation by the code that it gives, or take that back."""
    found = fetched(Site.objects.select_related("organisation"), request.user, id, "manage")
    told: dict[str, Any] = {"site": found, "code": "", "mode": "read", "wrong": ""}
    if request.method == "POST":
        told |= {"code": request.POST.get("code", "").strip()[:100], "mode": request.POST.get("mode", "read")}
        try:
            return _changed(request, found, told["code"], told["mode"])
        except Refused as refused:
            told["wrong"] = str(refused)
    told["shares"] = found.shares.select_related("organisation").order_by("organisation__name")
    told["undo"] = _ended_just_now(request, found)
    return render(request, "sites/sharing_page.html", told, status=422 if told["wrong"] else 200)


def _changed(request: HttpRequest, site: Site, code: str, mode: str) -> HttpResponse:
    """Share, share otherwise, or end that. Raises :class:`Refused`."""
    other, address = _organisation(code), reverse("site_sharing", args=[site.pk])
    if "end" not in request.POST:
        share(site, other, mode, author=person(request), request=request)
        words = _("%(name)s may write now.") if mode == "write" else _("%(name)s may read now.")
        messages.success(request, words % {"name": other.name})
        return redirect(address)
    before = Share.objects.filter(site=site, organisation=other).first()
    if before is None:
        return redirect(address)
    share(site, other, None, author=person(request), request=request)
    return redirect(f"{address}?ended={other.pk}&mode={before.mode}")


def _ended_just_now(request: HttpRequest, site: Site) -> dict[str, Any] | None:
    """The sharing that was ended a moment ago, for the button that takes it up again."""
    try:
        other = _organisation(request.GET.get("ended", ""))
    except Refused:
        return None
    if site.shares.filter(organisation=other).exists() or other.pk == site.organisation_id:
        return None
    return {"organisation": other, "mode": "write" if request.GET.get("mode") == "write" else "read"}


def _organisation(code: str) -> Organisation:
    try:
        found = Organisation.objects.filter(pk=UUID(code)).first()
    except ValueError:
        found = None
    if found is None:
        said = _("No organisation has this code. It stands on that organisation's page; copy it from there.")
        raise Refused(said)
    return found
