"""What a person may see and do: the fetch is the permission check.

``Opening.objects.seen_by(user)`` holds what the user may read, and each of them says what else the user may do with
it (``may_write``, ``may_manage``). Nothing else in the application asks about roles at a site.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Self, TypeVar

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db import connection, models
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


class PhotoSet(Seen["Any"]):
    """Photos."""


class QuestionSet(Seen["Any"]):
    """Questions."""


@dataclass(frozen=True)
class Rights:
    """What a person may do at one site."""

    read: bool = False
    write: bool = False
    manage: bool = False


# Every way in: own organisation or a share, with the role that the person has there.
_WAYS = """
SELECT m.role, CASE WHEN m.organisation_id = s.organisation_id THEN 'own' ELSE h.mode END
FROM records_site s
JOIN accounts_membership m ON m.user_id = %s
LEFT JOIN records_share h ON h.site_id = s.id AND h.organisation_id = m.organisation_id
WHERE s.id = %s AND (m.organisation_id = s.organisation_id OR h.mode IS NOT NULL)
"""


def rights_at(user: Somebody, site: Any) -> Rights:
    """What a person may do at a site: ``seen_by`` for one site, in a query that is not built anew each time."""
    if isinstance(user, AnonymousUser):
        return Rights()
    keys = [_KEY.get_db_prep_value(key, connection) for key in (user.pk, site)]
    with connection.cursor() as cursor:
        cursor.execute(_WAYS, keys)
        return rights_of(cursor.fetchall())


def rights_of(ways: Iterable[tuple[str, str]]) -> Rights:
    """What roles and the ways they come by (``own``, ``read``, ``write``) allow together."""
    told = set(ways)
    return Rights(
        read=any(role in MAY["read"] for role, _ in told),
        write=any(role in MAY["write"] and way != "read" for role, way in told),
        manage=any(role in MAY["manage"] and way == "own" for role, way in told),
    )


_KEY = models.UUIDField()


def fetched(rows: Seen[Any], user: Somebody, key: Any, deed: Deed = "read") -> Any:
    """The row with this key, for a deed.

    Raises :class:`Http404` where the user may not see it, there or not, and :class:`PermissionDenied` where it
    may be seen, but this may not be done.
    """
    return allowed(next(iter(rows.filter(pk=key)[:1]), None), user, deed)


def allowed(found: Any, user: Somebody, deed: Deed = "read") -> Any:
    """The same row, where it is there and the person may do this with it; it says what else may be done.

    Raises what :func:`fetched` raises.
    """
    if found is None:
        raise Http404
    rights = rights_at(user, getattr(found, "site_id", found.pk))
    if not rights.read:
        raise Http404
    if not getattr(rights, deed):
        raise PermissionDenied
    found.may_write, found.may_manage = rights.write, rights.manage
    return found
