"""How many requests a minute: by token, by person, and by address for those who are not signed in.

Counted in the memory of each process, so that reading costs no write to the database; a server of several processes
lets through that many times as many. That is enough for what the limit is for: a program that runs wild, and
guessing, cannot keep a server busy.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from allauth.account.adapter import get_adapter
from django.core.exceptions import PermissionDenied
from django.http import HttpRequest

from sillwright.web.api.problems import Problem
from sillwright.web.counting import counted

SIGNED_IN = 600  # a minute; a phone that sends a day's work needs less
SIGNED_OUT = 120
PIECES = 1200  # of photos, counted apart: a day's photos hold up nothing else; some 300 MB a minute
_PIECE = re.compile(r"/api/photos/[^/]+/bytes")


@dataclass(frozen=True)
class Count:
    """Where a caller stands in this minute."""

    limit: int
    left: int
    resets: int  # seconds

    @property
    def headers(self) -> dict[str, str]:
        """What tells the caller."""
        return {
            "RateLimit-Limit": str(self.limit),
            "RateLimit-Remaining": str(self.left),
            "RateLimit-Reset": str(self.resets),
        }


def count(request: HttpRequest, weight: int = 1) -> Count:
    """Count a request; one that keeps the server busy for long weighs more.

    Raises :class:`Problem` where it is one too many.
    """
    caller = getattr(request, "caller", None)
    limit = SIGNED_IN if caller else SIGNED_OUT
    who = caller.means if caller else f"address {_address(request)}"
    if caller and request.method == "PATCH" and _PIECE.fullmatch(request.path):
        limit, who = PIECES, f"photos of {who}"
    asked = counted(f"api {who}", weight)
    found = Count(limit, max(0, limit - asked.used), asked.resets)
    if asked.used > limit:
        raise Problem("too-many", headers={**found.headers, "Retry-After": str(found.resets)})
    return found


def _address(request: HttpRequest) -> str:
    """The address that sign-in is limited by as well: behind a proxy, the one that the proxy saw."""
    try:
        return str(get_adapter().get_client_ip(request))
    except PermissionDenied:  # it has none that can be trusted
        return "unknown"
