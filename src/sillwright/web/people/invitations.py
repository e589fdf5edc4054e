"""Invitations: made and withdrawn by owners, opened by whoever has the link."""

from __future__ import annotations

import uuid

from allauth.account.adapter import get_adapter
from allauth.core.ratelimit import consume_or_429
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from sillwright.web.accounts import inviting, members
from sillwright.web.accounts.models import Invitation, Membership
from sillwright.web.accounts.roles import Role
from sillwright.web.pages.refusals import refused as refusal
from sillwright.web.people.forms import AccountForm, InviteForm
from sillwright.web.people.organisations import page
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused


@require_POST
def invite(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """Make an invitation and show its link, this once."""
    mine = members.membership_of(person(request), id, manage=True)
    form = InviteForm(request.POST, auto_id="invite_%s")
    if not form.is_valid():
        return page(request, mine, invite=form)
    role = Role(form.cleaned_data["role"])
    made, token = inviting.invite(
        mine.organisation, role, form.cleaned_data["email"], person(request), request=request
    )
    shown = {
        "invitation": made,
        "organisation": mine.organisation,
        "link": request.build_absolute_uri(reverse("invitation", args=[token])),
    }
    return render(request, "people/invitation_made_page.html", shown, status=201)


@require_POST
def invitation_withdraw(request: HttpRequest, id: uuid.UUID, invitation: uuid.UUID) -> HttpResponse:
    """Close an invitation."""
    mine = members.membership_of(person(request), id, manage=True)
    inviting.withdraw(get_object_or_404(Invitation, organisation=mine.organisation, pk=invitation), request=request)
    messages.success(request, _("The invitation is withdrawn. Its link opens nothing any more."))
    return redirect("organisation", id=id)


@login_not_required
@sensitive_post_parameters("password")
@require_http_methods(["GET", "HEAD", "POST"])
def invitation(request: HttpRequest, token: str) -> HttpResponse:
    """The page of an invitation: join, or make an account."""
    try:
        found = inviting.opened(token)
        return _join(request, found, token) if request.user.is_authenticated else _account(request, found, token)
    except inviting.NotOpen:
        words = _(
            "It was used or withdrawn, its time is over, or the link is not whole. "
            "Ask whoever sent it for a new one."
        )
        return refusal(request, 404, _("This invitation is not open"), words)


def _join(request: HttpRequest, found: Invitation, token: str) -> HttpResponse:
    wrong = ""
    if request.method == "POST":
        try:
            made = inviting.accept(token, person(request), request=request)
        except Refused as refused:
            wrong = str(refused)
        else:
            return redirect("organisation", id=made.organisation_id)
    shown = {"invitation": found, "wrong": wrong}
    return render(request, "people/invitation_join_page.html", shown, status=422 if wrong else 200)


def _account(request: HttpRequest, found: Invitation, token: str) -> HttpResponse:
    form = AccountForm(found, request.POST if request.method == "POST" else None)
    if form.is_bound and (too_many := consume_or_429(request, action="signup")):
        return too_many  # type: ignore[no-any-return]
    if form.is_valid():
        told = form.cleaned_data
        try:
            made = inviting.accept_as_new(token, told["name"], told["email"], told["password"], request=request)
        except Refused as refused:
            form.add_error("email", str(refused))
        else:
            return _signed_in(request, made)
    shown = {"invitation": found, "form": form}
    return render(request, "people/invitation_page.html", shown, status=422 if form.is_bound else 200)


def _signed_in(request: HttpRequest, member: Membership) -> HttpResponse:
    """The way every sign-in takes: a fresh session, its line in the list of sessions and in the trail."""
    adapter = get_adapter(request)
    adapter.login(request, member.user)
    adapter.post_login(
        request,
        member.user,
        email_verification="none",
        signal_kwargs=None,
        email=member.user.email,
        signup=True,
        redirect_url=None,
    )
    return redirect("organisation", id=member.organisation_id)
