"""Invitations: made by owners, used once. The secret of a link is shown once and kept nowhere; its digest is."""

from __future__ import annotations

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import IntegrityError, transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import Invitation, Membership, Organisation, User, new_token
from sillwright.web.accounts.roles import Role
from sillwright.web.records.audit import digest, record
from sillwright.web.records.log import Refused


class NotOpen(Exception):
    """The link opens nothing: it is unknown, was used or withdrawn, or has ended. It is not told which."""


@transaction.atomic
def invite(
    organisation: Organisation, role: Role, email: str, by: User | None, *, request: HttpRequest | None = None
) -> tuple[Invitation, str]:
    """A new invitation and the secret of its link; with an address it is for that person alone.

    Raises :class:`Refused` for an address that is none.
    """
    address = email.strip().lower()
    if address:
        try:
            validate_email(address)
        except ValidationError as wrong:
            raise Refused(_("This is no mail address. Right is, for example, name@example.org.")) from wrong
    token = new_token()
    made = Invitation.objects.create(
        organisation=organisation, role=role.value, email=address, by=by, digest=digest(token)
    )
    record(request, "invitation made", _told(made), who=by, organisation=organisation)
    return made, token


def opened(token: str) -> Invitation:
    """The invitation that a link opens. Raises :class:`NotOpen`."""
    found = Invitation.objects.select_related("organisation").filter(digest=digest(token)).first()
    if found is None or not found.good:
        raise NotOpen
    return found


@transaction.atomic
def accept(token: str, user: User, *, request: HttpRequest | None = None) -> Membership:
    """Take a person who has an account into the organisation; the invitation is used up.

    Raises :class:`NotOpen`, and :class:`Refused` where it names another address or the person is a member already.
    """
    invitation = _locked(token)
    if invitation.email and invitation.email != user.email.lower():
        raise Refused(_("This invitation names another address than that of your account."))
    if invitation.organisation.memberships.filter(user=user).exists():
        raise Refused(_("You belong to this organisation already. An owner can change your role on its page."))
    return _used(invitation, user, request)


def accept_as_new(
    token: str, name: str, email: str, password: str, *, request: HttpRequest | None = None
) -> Membership:
    """Make an account for whoever holds the link; an address that the invitation names is the account's.

    Raises :class:`NotOpen`, and :class:`Refused` for an address that cannot have a new account.
    """
    user = User(name=name)
    user.set_password(password)  # takes its time by design: before anything is locked
    with transaction.atomic():
        invitation = _locked(token)
        user.email = invitation.email or email.strip().lower()
        try:
            with transaction.atomic():
                user.save(force_insert=True)
        except IntegrityError as taken:
            words = _("No account can be made with this address. If you have an account, sign in with it instead.")
            raise Refused(words) from taken
        record(request, "account made", who=user, organisation=invitation.organisation)
        return _used(invitation, user, request)


@transaction.atomic
def withdraw(invitation: Invitation, *, request: HttpRequest | None = None) -> None:
    """The link opens nothing any more; one that was used stays as it is."""
    current = Invitation.objects.select_for_update().get(pk=invitation.pk)
    if current.good:
        current.withdrawn = timezone.now()
        current.save(update_fields=["withdrawn"])
        record(request, "invitation withdrawn", _told(current), organisation=invitation.organisation)


@transaction.atomic
def first_invitation() -> str | None:
    """The secret of a link for the first owner, where nobody has an account yet; links made before it end.

    None where there is somebody: owners invite then.
    """
    if User.objects.filter(is_active=True).exists():
        return None
    organisation = Organisation.objects.order_by("made").first()
    if organisation is None:
        organisation = Organisation.objects.create(name=_("First organisation"))
        record(None, "organisation made", organisation.name, organisation=organisation)
    for earlier in organisation.invitations.filter(used_by=None, withdrawn=None):
        withdraw(earlier)
    return invite(organisation, Role.OWNER, "", None)[1]


def _locked(token: str) -> Invitation:
    """The open invitation, which nobody else can use until the transaction ends: of two at once one comes first."""
    found = Invitation.objects.select_for_update().filter(digest=digest(token)).first()
    if found is None or not found.good:
        raise NotOpen
    return found


def _used(invitation: Invitation, user: User, request: HttpRequest | None) -> Membership:
    invitation.used_by = user
    invitation.save(update_fields=["used_by"])
    made = Membership.objects.create(organisation=invitation.organisation, user=user, role=invitation.role)
    record(request, "invitation used", _told(invitation), who=user, organisation=invitation.organisation)
    return made


def _told(invitation: Invitation) -> str:
    """What the trail says of it: enough to tell lines of one invitation together, no address."""
    return f"{invitation.role}, {str(invitation.pk)[:8]}"
