"""How often one person may ask for what keeps the server busy."""

from __future__ import annotations

from django.http import HttpRequest

from sillwright.web.counting import counted


def one_too_many(request: HttpRequest, what: str, most: int) -> bool:
    """Whether this is one more than ``most`` of the person's in this minute."""
    return counted(f"{what} {request.user.pk}").used > most
