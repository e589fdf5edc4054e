"""The person behind a request."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest

from sillwright.web.accounts.models import User


def person(request: HttpRequest) -> User:
    """Who is signed in. Raises :class:`PermissionDenied` for nobody."""
    if not request.user.is_authenticated:
        raise PermissionDenied
    return request.user
