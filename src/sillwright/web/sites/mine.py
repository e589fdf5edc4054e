"""For which organisations a person may make sites."""

from __future__ import annotations

from django.db.models import QuerySet

from sillwright.web.accounts.models import Organisation, User
from sillwright.web.accounts.roles import MAY


def may_make(user: User) -> QuerySet[Organisation]:
    """The organisations in which the person may make a site."""
    roles = {"memberships__user": user, "memberships__role__in": MAY["manage"]}
    return Organisation.objects.filter(**roles).order_by("name")
