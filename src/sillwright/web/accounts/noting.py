"""Lines of the audit trail about signing in and out, passwords and second factors."""

from __future__ import annotations

from typing import Any

from allauth.account import signals as account
from allauth.mfa import signals as mfa
from django.contrib.auth.signals import user_logged_out
from django.dispatch import Signal
from django.http import HttpRequest
from django.utils.crypto import salted_hmac
from django.utils.translation import gettext_noop as _

from sillwright.web.records.audit import record

HEARD: list[tuple[Signal, str]] = [
    (account.user_logged_in, _("signed in")),
    (user_logged_out, _("signed out")),
    (account.password_changed, _("password changed")),
    (account.password_set, _("password set")),
    (account.password_reset, _("password reset")),
    (mfa.authenticator_added, _("second factor added")),
    (mfa.authenticator_removed, _("second factor removed")),
    (mfa.authenticator_reset, _("second factor renewed")),
    (mfa.authentication_failed, _("second factor failed")),
]


def listen() -> None:
    """Write a line whenever one of these happens."""
    for signal, verb in HEARD:
        signal.connect(_noting(verb), weak=False, dispatch_uid=f"trail: {verb}")


def _noting(verb: str) -> Any:
    def note(sender: Any, request: HttpRequest | None = None, user: Any = None, **more: Any) -> None:
        factor = more.get("authenticator")
        if user is not None:  # a session that had ended by itself is nobody's to sign out of
            record(request, verb, factor.type if factor else "", who=user)

    return note


def note_failed(request: HttpRequest | None, email: str) -> None:
    """A sign-in that failed. Which address it was can be told only by who knows address and secret key."""
    digest = salted_hmac("failed sign-in", email.strip().lower(), algorithm="sha256").hexdigest()
    record(request, _("sign-in failed"), digest)
