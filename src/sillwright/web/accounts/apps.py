"""The part of the application that knows people."""

from __future__ import annotations

from django.apps import AppConfig


class Accounts(AppConfig):
    """Notes signing in and out from the start, and ends keys with the password."""

    name = "sillwright.web.accounts"

    def ready(self) -> None:
        """Called once everything is loaded."""
        from sillwright.web.accounts import ending, noting

        noting.listen()
        ending.listen()
