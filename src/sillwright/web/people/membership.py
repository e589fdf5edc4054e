"""Changing who belongs to an organisation, and as what."""

from __future__ import annotations

import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from sillwright.web.accounts import members
from sillwright.web.accounts.roles import Role
from sillwright.web.people.forms import RoleForm
from sillwright.web.people.organisations import page
from sillwright.web.people.who import person
from sillwright.web.records.log import Refused


@require_POST
def member_role(request: HttpRequest, id: uuid.UUID, who: uuid.UUID) -> HttpResponse:
    """Give a member another role."""
    mine = members.membership_of(person(request), id, manage=True)
    member = members.member_of(mine.organisation, who)
    form = RoleForm(request.POST)
    if not form.is_valid():
        return page(request, mine, wrong=_("There is no such role."))
    role = Role(form.cleaned_data["role"])
    try:
        members.change_role(member, role, request=request)
    except Refused as refused:
        return page(request, mine, wrong=str(refused))
    messages.success(
        request, _("The role of %(name)s is now: %(role)s.") % {"name": member.user.name, "role": role.label}
    )
    return redirect("organisation", id=id)


@require_POST
def member_remove(request: HttpRequest, id: uuid.UUID, who: uuid.UUID) -> HttpResponse:
    """Take a member out, or leave."""
    me = person(request)
    leaves = who == me.pk
    mine = members.membership_of(me, id, manage=not leaves)
    member = members.member_of(mine.organisation, who)
    try:
        members.remove(member, request=request)
    except Refused as refused:
        return page(request, mine, wrong=str(refused))
    told = {"name": member.user.name, "organisation": mine.organisation.name}
    if leaves:
        messages.success(request, _("You left %(organisation)s.") % told)
        return redirect("organisations")
    messages.success(request, _("%(name)s does not belong to %(organisation)s any more.") % told)
    return redirect("organisation", id=id)
