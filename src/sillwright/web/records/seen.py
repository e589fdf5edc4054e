"""What a person may see and do: the fetch is the permission check.

``Opening.objects.seen_by(user)`` holds what the user may read, and each of them says what else the user may do with
it (``may_write``, ``may_manage``). Nothing else in the application asks about roles at a site.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Self, TypeVar

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db import models
from django.db.models import Exists, OuterRef, Q
from django.http import Http404

from sillwright.web.accounts.models import Membership
from sillwright.web.accounts.roles import MAY, Deed

if TYPE_CHECKING:
    from sillwright.web.accounts.models import User

    Somebody = User | AnonymousUser

M = TypeVar("M", bound=models.Model)


def _may(deed: Deed, user: User, site: str) -> Exists | Q:
    """Whether the user's roles allow a deed at the site whose key stands in ``site``."""
    from sillwright.web.records.models import Share, Site

    roles = Membership.objects.filter(user=user, role__in=MAY[deed])
    own = Site.objects.filter(pk=OuterRef(site), organisation__in=roles.values("organisation"))
    if deed == "manage":
        return Exists(own)
    modes = ("read", "write") if deed == "read" else ("write",)
    shared = Share.objects.filter(
        site=OuterRef(site), organisation__in=roles.values("organisation"), mode__in=modes
    )
    return Exists(own) | Exists(shared)


class Seen(models.QuerySet[M]):
    """Rows that belong to a site."""

    site = "site"  # where the row's site is

    def seen_by(self, user: Somebody) -> Self:
        """What the user may read, with what else the user may do."""
        if isinstance(user, AnonymousUser):
            return self.none()
        notes: dict[str, Any] = {
            "may_write": _may("write", user, self.site),
            "may_manage": _may("manage", user, self.site),
        }
        return self.filter(_may("read", user, self.site)).annotate(**notes)


class SiteSet(Seen["Any"]):
    """Sites."""

    site = "pk"


class OpeningSet(Seen["Any"]):
    """Openings."""


class PaperSet(Seen["Any"]):
    """Papers."""


def fetched(rows: Seen[Any], user: Somebody, key: Any, deed: Deed = "read") -> Any:
    """The row with this key, for a deed.

    Raises :class:`Http404` where the user may not see it, there or not, and :class:`PermissionDenied` where it
    may be seen, but this may not be done.
    """
    found = rows.seen_by(user).filter(pk=key).first()
    if found is None:
        raise Http404
    if deed != "read" and not getattr(found, f"may_{deed}"):
        raise PermissionDenied
    return found
