"""How accounts come to be: by invitation only. The page of an invitation makes them, no open sign-up does."""

from __future__ import annotations

from allauth.account.adapter import DefaultAccountAdapter
from django.http import HttpRequest


class ByInvitation(DefaultAccountAdapter):  # type: ignore[misc]
    """Sign-up is closed."""

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        """Nobody signs up without an invitation."""
        return False

    def get_client_ip(self, request: HttpRequest) -> str:
        """The address that limits count by; behind a proxy the one that it saw."""
        return super().get_client_ip(request) or "unknown"
