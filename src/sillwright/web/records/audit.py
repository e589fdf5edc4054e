"""The audit trail: one line for every change, in the transaction of the change."""

from __future__ import annotations

import hashlib
from typing import Any

from django.http import HttpRequest

from sillwright.web.records.models import Event


def digest(text: str) -> str:
    """What stands for a value in the trail."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def id_of(request: HttpRequest | None) -> str:
    """The id that a request's log lines carry; empty where no request is behind a change."""
    return getattr(request, "id", "") if request else ""


def record(request: HttpRequest | None, verb: str, what: str = "", **about: Any) -> Event:
    """Add a line: who did what to what. ``about`` names organisation, site, opening, before, after, who."""
    user = about.pop("who", None) or (getattr(request, "user", None) if request else None)
    who = user if user is not None and user.is_authenticated else None
    return Event.objects.create(who=who, verb=verb, what=what[:300], request=id_of(request), **about)
