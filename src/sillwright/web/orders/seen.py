"""Who sees quotes and orders: whoever may read their site; a draft of a quote only its own people, and writers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db.models import Q
from django.http import Http404

from sillwright.web.accounts.models import Membership
from sillwright.web.accounts.roles import Deed
from sillwright.web.records.seen import Seen, fetched

if TYPE_CHECKING:
    from sillwright.web.accounts.models import User

    Somebody = User | AnonymousUser


class QuoteSet(Seen["Any"]):
    """Quotes."""

    def shown_to(self, user: Somebody) -> QuoteSet:
        """What the user may read, without the drafts that are not for the user."""
        if isinstance(user, AnonymousUser):
            return self.none()
        own = Membership.objects.filter(user=user).values("organisation")
        mine = ~Q(state="draft") | Q(organisation__in=own) | Q(may_write=True)
        return self.seen_by(user).filter(mine)


class OrderSet(Seen["Any"]):
    """Orders."""


def quote_for(rows: Any, user: Somebody, key: Any, deed: Deed = "read") -> Any:
    """The quote with this key, for a deed.

    Raises :class:`Http404` where the user may not see it, there or not: with whom a site is shared for reading only
    does not see what is still a draft. Raises :class:`PermissionDenied` where it is seen, but this may not be done.
    """
    found = fetched(rows, user, key)
    if found.state == "draft" and not found.may_write and not _belongs(user, found):
        raise Http404
    if not {"read": True, "write": found.may_write, "manage": found.may_manage}[deed]:
        raise PermissionDenied
    return found


def _belongs(user: Somebody, quote: Any) -> bool:
    return (
        user.pk is not None
        and Membership.objects.filter(user_id=user.pk, organisation=quote.organisation_id).exists()
    )
