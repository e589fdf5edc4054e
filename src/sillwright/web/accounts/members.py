"""Organisations, their members and roles. An organisation always keeps an owner."""

from __future__ import annotations

import uuid

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _

from sillwright.web.accounts.inviting import withdraw
from sillwright.web.accounts.models import Membership, Organisation, User
from sillwright.web.accounts.roles import PEOPLE, Role
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.records.sites import name_of

LONGEST_NAME = 120


def membership_of(user: User, key: uuid.UUID, *, manage: bool = False) -> Membership:
    """What the user is in the organisation with this key.

    Raises :class:`Http404` where the user does not belong to it, there or not, and :class:`PermissionDenied` where
    people are to be managed and the role does not allow it.
    """
    found = Membership.objects.select_related("organisation").filter(user=user, organisation_id=key).first()
    if found is None:
        raise Http404
    if manage and found.role not in PEOPLE:
        raise PermissionDenied
    return found


def member_of(organisation: Organisation, key: uuid.UUID) -> Membership:
    """The membership of the person with this key. Raises :class:`Http404` where there is none."""
    found = organisation.memberships.select_related("user").filter(user_id=key).first()
    if found is None:
        raise Http404
    return found


@transaction.atomic
def found_organisation(name: str, kind: str, owner: User, *, request: HttpRequest | None = None) -> Organisation:
    """A new organisation with its first owner. Raises :class:`Refused` for a name that cannot be kept."""
    made = Organisation.objects.create(name=name_of(name, LONGEST_NAME), kind=kind)
    Membership.objects.create(organisation=made, user=owner, role=Role.OWNER.value)
    record(request, "organisation made", made.name, who=owner, organisation=made)
    return made


@transaction.atomic
def rename(organisation: Organisation, name: str, kind: str, *, request: HttpRequest | None = None) -> None:
    """Another name or kind. Raises :class:`Refused` for a name that cannot be kept."""
    before = organisation.name
    organisation.name, organisation.kind = name_of(name, LONGEST_NAME), kind
    organisation.save(update_fields=["name", "kind"])
    record(request, "organisation named", f"{before} → {organisation.name}", organisation=organisation)


@transaction.atomic
def change_role(member: Membership, role: Role, *, request: HttpRequest | None = None) -> None:
    """Another role for a member. Raises :class:`Refused` where no owner would be left."""
    current = _locked(member)
    if current.role == role.value:
        return
    _keep_an_owner(current)
    record(
        request,
        "role changed",
        f"{member.user.name}: {current.role} → {role.value}",
        organisation=current.organisation,
    )
    current.role = role.value
    current.save(update_fields=["role"])
    if current.role not in PEOPLE:
        _end_invitations(current, request)


@transaction.atomic
def remove(member: Membership, *, request: HttpRequest | None = None) -> None:
    """A member belongs no longer, or leaves. Raises :class:`Refused` where no owner would be left."""
    current = _locked(member)
    _keep_an_owner(current)
    leaves = request is not None and request.user.pk == member.user_id
    verb = "member left" if leaves else "member removed"
    record(request, verb, f"{member.user.name}: {current.role}", organisation=current.organisation)
    _end_invitations(current, request)
    current.delete()


def _end_invitations(member: Membership, request: HttpRequest | None) -> None:
    """Who may not invite any more has no open invitation left, not even one that leads back in."""
    for each in member.organisation.invitations.filter(by=member.user_id, used_by=None, withdrawn=None):
        withdraw(each, request=request)


def _locked(member: Membership) -> Membership:
    """The membership as it stands now; until the end of the transaction nobody else changes one beside it."""
    Organisation.objects.select_for_update().get(pk=member.organisation_id)
    current = Membership.objects.select_related("organisation").filter(pk=member.pk).first()
    if current is None:
        raise Http404
    return current


def _keep_an_owner(member: Membership) -> None:
    owners = Membership.objects.filter(organisation=member.organisation_id, role=Role.OWNER.value)
    if member.role == Role.OWNER.value and not owners.exclude(pk=member.pk).exists():
        raise Refused(_("An organisation keeps at least one owner. Make another member owner first."))
