"""How often links to questions are tried from one address: enough for people, too little for guessing."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from sillwright.web.counting import counted
from sillwright.web.pages.refusals import refused
from sillwright.web.workbench.admission import client_address

A_MINUTE = 60
"""Each process counts its own, in its memory."""


def too_many(request: HttpRequest, what: str = "asked", most: int = A_MINUTE) -> HttpResponse | None:
    """The page for an address that has tried too often in this minute; None for every other one."""
    if counted(f"{what} {client_address(request)}").used <= most:
        return None
    words = _("Your address has asked for this too often. Wait a minute, then load the page again.")
    response = refused(request, 429, _("Too many at once"), words)
    response["Retry-After"] = "60"
    return response
