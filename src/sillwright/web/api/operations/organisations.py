"""Organisations: members with their roles, invitations, and the audit trail."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from typing import Any, Literal
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest
from django.urls import reverse
from django.utils.translation import gettext_noop
from ninja import Router, Status
from pydantic import BaseModel, Field

from sillwright.web.accounts.inviting import invite, withdraw
from sillwright.web.accounts.members import (
    change_role,
    found_organisation,
    member_of,
    membership_of,
    remove,
    rename,
)
from sillwright.web.accounts.models import Invitation, Membership, Organisation, User
from sillwright.web.accounts.roles import Role
from sillwright.web.api.once import made_once
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.signing import in_browser, person, reads, writes
from sillwright.web.records.models import Event

router = Router(tags=[gettext_noop("Organisations")])

RoleName = Literal["owner", "advisor", "technician", "reader"]
KindName = Literal["dealer", "owner", "advisor"]


class OrganisationNamed(BaseModel):
    """An organisation by its name."""

    id: UUID
    name: str


class OrganisationSaid(BaseModel):
    """An organisation, and what the caller is in it."""

    id: UUID
    name: str
    kind: KindName
    made: datetime
    role: RoleName


class Organisations(BaseModel):
    """Organisations that the caller belongs to."""

    items: list[OrganisationSaid]


class NewOrganisation(Asked):
    """An organisation to make, or as it is to be."""

    name: Words
    kind: KindName


class MemberSaid(BaseModel):
    """A member of an organisation."""

    user: UUID
    name: str
    email: str
    role: RoleName
    since: datetime


class Members(BaseModel):
    """Members, in the order in which they came."""

    items: list[MemberSaid]


class RoleChange(Asked):
    """Another role."""

    role: RoleName


class InvitationSaid(BaseModel):
    """An invitation. ``email`` is empty where whoever has the link may use it."""

    id: UUID
    role: RoleName
    email: str
    made: datetime
    ends: datetime
    used: bool
    withdrawn: datetime | None


class Invitations(Page[InvitationSaid]):
    """Invitations, oldest first."""


class NewInvitation(Asked):
    """An invitation to make; with an address it is for that person alone."""

    role: RoleName
    email: Words = Field("", max_length=254)


class InvitationMade(InvitationSaid):
    """An invitation with its link, which is shown once."""

    address: str | None = Field(description="The link; null where this is a repeat.")


class EventSaid(BaseModel):
    """A line of the audit trail. Values stand as digests."""

    at: datetime
    who: str | None
    verb: str
    what: str
    site: UUID | None
    opening: UUID | None
    before: str
    after: str
    request: str


class Trail(Page[EventSaid]):
    """The audit trail, newest first."""


def organisation_for(user: User, key: UUID, roles: Collection[str]) -> Organisation:
    """The organisation, for a deed that needs one of these roles in it.

    Raises :class:`Http404` where the user does not belong to it, and :class:`PermissionDenied` for another role.
    """
    found = membership_of(user, key)
    if found.role not in roles:
        raise PermissionDenied
    return found.organisation


def _told(member: Membership) -> dict[str, Any]:
    about = member.organisation
    return {"id": about.pk, "name": about.name, "kind": about.kind, "made": about.made, "role": member.role}


def own(user: User) -> list[dict[str, Any]]:
    """What a person belongs to, in the order in which it was made."""
    rows = Membership.objects.filter(user=user).select_related("organisation")
    return [_told(each) for each in rows.order_by("organisation__made", "organisation_id")]


@router.get("/organisations", response=Organisations, auth=reads, summary=gettext_noop("List your organisations"))
def organisations(request: HttpRequest) -> Any:
    return {"items": own(person(request))}


@router.post(
    "/organisations",
    response={201: OrganisationSaid},
    auth=in_browser,
    summary=gettext_noop("Make an organisation"),
)
@made_once
def organisation_new(request: HttpRequest, organisation: NewOrganisation) -> Any:
    made = found_organisation(organisation.name, organisation.kind, person(request), request=request)
    return Status(201, _told(membership_of(person(request), made.pk)))


@router.get(
    "/organisations/{uuid:organisation}",
    response=OrganisationSaid,
    auth=reads,
    summary=gettext_noop("Read an organisation"),
)
def organisation(request: HttpRequest, organisation: UUID) -> Any:
    return _told(membership_of(person(request), organisation))


@router.put(
    "/organisations/{uuid:organisation}",
    response=OrganisationSaid,
    auth=writes,
    summary=gettext_noop("Rename an organisation"),
)
def organisation_change(request: HttpRequest, organisation: UUID, wanted: NewOrganisation) -> Any:
    found = membership_of(person(request), organisation, manage=True)
    rename(found.organisation, wanted.name, wanted.kind, request=request)
    return _told(found)


@router.get(
    "/organisations/{uuid:organisation}/members", response=Members, auth=reads, summary=gettext_noop("List members")
)
def members(request: HttpRequest, organisation: UUID) -> Any:
    whose = membership_of(person(request), organisation).organisation
    rows = whose.memberships.select_related("user").order_by("since", "pk")
    return {"items": [_member(each) for each in rows]}


def _member(row: Membership) -> dict[str, Any]:
    about = row.user
    return {"user": about.pk, "name": about.name, "email": about.email, "role": row.role, "since": row.since}


@router.patch(
    "/organisations/{uuid:organisation}/members/{uuid:user}",
    response=MemberSaid,
    auth=in_browser,
    summary=gettext_noop("Give a member another role"),
)
def member_change(request: HttpRequest, organisation: UUID, user: UUID, change: RoleChange) -> Any:
    whose = membership_of(person(request), organisation, manage=True).organisation
    change_role(member_of(whose, user), Role(change.role), request=request)
    return _member(member_of(whose, user))


@router.delete(
    "/organisations/{uuid:organisation}/members/{uuid:user}",
    response={204: None},
    auth=in_browser,
    summary=gettext_noop("Take a member out, or leave"),
)
def member_end(request: HttpRequest, organisation: UUID, user: UUID) -> Any:
    leaves = user == person(request).pk
    whose = membership_of(person(request), organisation, manage=not leaves).organisation
    remove(member_of(whose, user), request=request)
    return Status(204, None)


@router.get(
    "/organisations/{uuid:organisation}/invitations",
    response=Invitations,
    auth=reads,
    summary=gettext_noop("List invitations"),
)
def invitations(request: HttpRequest, organisation: UUID, limit: Limit, cursor: Cursor) -> Any:
    whose = membership_of(person(request), organisation, manage=True).organisation
    return page_of(request, whose.invitations.all(), _invitation, limit=limit, cursor=cursor)


def _invitation(row: Invitation) -> dict[str, Any]:
    names = ("id", "role", "email", "made", "ends", "withdrawn")
    return {**{name: getattr(row, name) for name in names}, "used": row.used_by_id is not None}


@router.post(
    "/organisations/{uuid:organisation}/invitations",
    response={201: InvitationMade},
    auth=in_browser,
    summary=gettext_noop("Invite somebody"),
)
@made_once
def invitation_new(request: HttpRequest, organisation: UUID, invitation: NewInvitation) -> Any:
    whose = membership_of(person(request), organisation, manage=True).organisation
    made, token = invite(whose, Role(invitation.role), invitation.email, person(request), request=request)
    address = request.build_absolute_uri(reverse("invitation", args=[token]))
    return Status(201, {**_invitation(made), "address": address})


@router.delete(
    "/organisations/{uuid:organisation}/invitations/{uuid:invitation}",
    response={204: None},
    auth=in_browser,
    summary=gettext_noop("Withdraw an invitation"),
)
def invitation_end(request: HttpRequest, organisation: UUID, invitation: UUID) -> Any:
    whose = membership_of(person(request), organisation, manage=True).organisation
    found = whose.invitations.filter(pk=invitation).first()
    if found is None:
        raise Http404
    withdraw(found, request=request)
    return Status(204, None)


@router.get(
    "/organisations/{uuid:organisation}/trail",
    response=Trail,
    auth=reads,
    summary=gettext_noop("Read the audit trail"),
)
def trail(request: HttpRequest, organisation: UUID, limit: Limit, cursor: Cursor) -> Any:
    whose = membership_of(person(request), organisation, manage=True).organisation
    rows = Event.objects.filter(organisation=whose).select_related("who")
    return page_of(request, rows, _event, limit=limit, cursor=cursor, by="at", newest_first=True)


def _event(row: Event) -> dict[str, Any]:
    names = ("at", "verb", "what", "before", "after", "request")
    told = {name: getattr(row, name) for name in names}
    return {**told, "who": row.who and row.who.name, "site": row.site_id, "opening": row.opening_id}
