"""Who may compute, and how much of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from ipaddress import ip_address, ip_network
from threading import BoundedSemaphore

from django.conf import settings
from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.utils.translation import gettext as _

from sillwright.web.counting import counted
from sillwright.web.pages.refusals import refused

A_MINUTE = 120
"""Answers to one address in a minute while nobody is signed in there. Each process counts its own."""

_turns = BoundedSemaphore(2)
PATIENCE = 4.0  # seconds that a long computation waits for its turn


class Busy(Exception):
    """Other long computations are running."""


def turned_away(request: HttpRequest, *, computes: bool) -> HttpResponse | None:
    """The page for somebody who has to sign in or to wait; None for everybody else."""
    if request.user.is_authenticated:
        return None
    if not settings.OPEN_WORKBENCH:
        return redirect_to_login(request.get_full_path())
    if computes and counted(f"workbench {client_address(request)}").used > A_MINUTE:
        words = _("More than {count} answers went to your address in a minute. Wait a minute, or sign in.")
        response = refused(request, 429, _("Too many at once"), words.format(count=A_MINUTE))
        response["Retry-After"] = "60"
        return response
    return None


def client_address(request: HttpRequest) -> str:
    """The address that a request comes from; of IPv6 the network, since one machine has many addresses in it.

    Only behind a proxy that speaks TLS for us is the last hop that it added believed.
    """
    told = str(request.META.get("REMOTE_ADDR", ""))
    if settings.TLS:
        told = request.META.get("HTTP_X_FORWARDED_FOR", told).rpartition(",")[2].strip()
    try:
        address = ip_address(told)
    except ValueError:
        return "unknown"
    return str(ip_network((address, 64), strict=False)) if address.version == 6 else str(address)


@contextmanager
def a_turn() -> Iterator[None]:
    """Long computations run two at a time. Raises :class:`Busy` where that takes too long to wait for."""
    if not _turns.acquire(timeout=PATIENCE):
        raise Busy
    try:
        yield
    finally:
        _turns.release()
