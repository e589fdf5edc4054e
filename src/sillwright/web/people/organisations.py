"""Organisations: which one belongs to, a new one, and the page of one."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from sillwright.web.accounts import members
from sillwright.web.accounts.models import Membership, Organisation
from sillwright.web.accounts.roles import PEOPLE
from sillwright.web.people.forms import InviteForm, OrganisationForm, RoleForm
from sillwright.web.people.who import person
from sillwright.web.records.models import Site


@require_safe
def organisations(request: HttpRequest) -> HttpResponse:
    """The organisations one belongs to."""
    mine = (
        Membership.objects.filter(user=person(request))
        .select_related("organisation")
        .annotate(people=Count("organisation__memberships"))
        .order_by("organisation__name")
    )
    return render(request, "people/organisations_page.html", {"mine": mine})


@require_http_methods(["GET", "HEAD", "POST"])
def organisation_new(request: HttpRequest) -> HttpResponse:
    """Make an organisation and be its first owner."""
    form = OrganisationForm(request.POST if request.method == "POST" else None)
    if form.is_valid():
        told = form.cleaned_data
        made = members.found_organisation(told["name"], told["kind"], person(request), request=request)
        return redirect("organisation", id=made.pk)
    return render(
        request, "people/organisation_new_page.html", {"form": form}, status=422 if form.is_bound else 200
    )


@require_safe
def organisation(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Members, and for owners invitations and names."""
    return page(request, members.membership_of(person(request), id))


def page(
    request: HttpRequest,
    mine: Membership,
    *,
    wrong: str = "",
    invite: InviteForm | None = None,
    naming: OrganisationForm | None = None,
) -> HttpResponse:
    """The page of an organisation, as this member sees it; with what went wrong, 422."""
    body, manages = mine.organisation, mine.role in PEOPLE
    people = body.memberships.select_related("user").order_by("user__name", "pk")
    shown: dict[str, Any] = {
        "organisation": body,
        "mine": mine,
        "wrong": wrong,
        "members": [(each, _role_form(each) if manages else None) for each in people],
        "sites": Site.objects.filter(organisation=body, put_away=None).count(),
        "manages": manages,
    }
    if manages:
        shown["invite"] = invite or InviteForm(auto_id="invite_%s")
        shown["naming"] = naming or _naming_form(body)
        unused = body.invitations.filter(used_by=None, withdrawn=None)
        shown["open"] = unused.filter(ends__gt=timezone.now()).order_by("made")
    status = 422 if wrong or invite or naming else 200
    return render(request, "people/organisation_page.html", shown, status=status)


def _role_form(member: Membership) -> RoleForm:
    return RoleForm(initial={"role": member.role}, auto_id=f"member{member.pk}_%s")


def _naming_form(body: Organisation) -> OrganisationForm:
    return OrganisationForm(initial={"name": body.name, "kind": body.kind}, auto_id="organisation_%s")


@require_POST
def organisation_name(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Name an organisation anew."""
    mine = members.membership_of(person(request), id, manage=True)
    form = OrganisationForm(request.POST, auto_id="organisation_%s")
    if not form.is_valid():
        return page(request, mine, naming=form)
    members.rename(mine.organisation, form.cleaned_data["name"], form.cleaned_data["kind"], request=request)
    messages.success(request, _("Kept."))
    return redirect("organisation", id=id)
