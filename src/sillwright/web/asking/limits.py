"""How often links to questions are tried from one address: enough for people, too little for guessing."""

from __future__ import annotations

import time

from django.core.cache import caches
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from sillwright.web.pages.refusals import refused
from sillwright.web.workbench.admission import client_address

A_MINUTE = 60
"""Each process counts its own, in its memory."""


def too_many(request: HttpRequest) -> HttpResponse | None:
    """The page for an address that has tried too often in this minute; None for every other one."""
    name = f"asked-{client_address(request)}-{int(time.time() // 60)}"
    near = caches["near"]
    near.add(name, 0, timeout=120)
    try:
        tried = int(near.incr(name))
    except ValueError:  # dropped between the two, where very many addresses are counted
        tried = 1
    if tried <= A_MINUTE:
        return None
    words = _("Your address has asked for this too often. Wait a minute, then load the page again.")
    response = refused(request, 429, _("Too many at once"), words)
    response["Retry-After"] = "60"
    return response
