"""What a person may do beyond one site, and what the person has just done."""

from __future__ import annotations

import uuid
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.http import HttpRequest

from sillwright.web.accounts.models import Organisation, User
from sillwright.web.accounts.roles import MAY
from sillwright.web.people.who import person
from sillwright.web.records.text import unkept


def may_make(user: User) -> QuerySet[Organisation]:
    """The organisations in which the person may make a site."""
    roles = {"memberships__user": user, "memberships__role__in": MAY["manage"]}
    return Organisation.objects.filter(**roles).order_by("name")


def organisation_of(request: HttpRequest) -> Organisation:
    """The organisation that a form names, or the first one in which the person may make a site.

    Raises :class:`PermissionDenied` where the person may make none there.
    """
    allowed = may_make(person(request))
    wanted = request.POST.get("organisation", "")
    found = next((each for each in allowed if str(each.pk) == wanted), None) if wanted else allowed.first()
    if found is None:
        raise PermissionDenied
    return found


def key_in(request: HttpRequest) -> uuid.UUID:
    """The key that a form was made with, so that sending it twice makes one thing; a new one where it has none."""
    return key_of(request.POST.get("key", ""))


def key_of(words: str) -> uuid.UUID:
    """An id as a form sends it; a new one where it sends none."""
    try:
        return uuid.UUID(words)
    except ValueError:
        return uuid.uuid4()


def wanted_in(request: HttpRequest) -> str:
    """The words that a list is searched for; empty for none."""
    words = request.GET.get("q", "").strip()[:100]
    return "" if unkept(words) else words


def put_away_just_now(request: HttpRequest, rows: Any) -> Any:
    """What the person has put away a moment ago, named by the address, for the button that puts it back."""
    try:
        key = uuid.UUID(request.GET.get("away", ""))
    except ValueError:
        return None
    return rows.filter(pk=key).exclude(put_away=None).first()
