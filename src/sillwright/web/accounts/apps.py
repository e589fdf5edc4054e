"""The part of the application that knows people."""

from __future__ import annotations

from django.apps import AppConfig


class Accounts(AppConfig):
    """Notes signing in and out from the start."""

    name = "sillwright.web.accounts"

    def ready(self) -> None:
        """Called once everything is loaded."""
        from sillwright.web.accounts.noting import listen

        listen()
