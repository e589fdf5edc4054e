"""What pages about people ask of the settings."""

from __future__ import annotations

from django import template
from django.conf import settings

register = template.Library()


@register.simple_tag
def open_workbench() -> bool:
    """Whether the workbench is open to people without an account."""
    return bool(settings.OPEN_WORKBENCH)


@register.simple_tag
def mail_by_console() -> bool:
    """Whether there is no mail server, so that mail is shown on the server's console."""
    return bool(settings.EMAIL_BACKEND.endswith(".console.EmailBackend"))
