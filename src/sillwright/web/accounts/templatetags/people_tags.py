"""What pages about people ask of the settings."""

from __future__ import annotations

from django import template
from django.conf import settings
from django.utils import timezone

from sillwright.web.accounts.models import Invitation, User

register = template.Library()


@register.simple_tag
def open_workbench() -> bool:
    """Whether the workbench is open to people without an account."""
    return bool(settings.OPEN_WORKBENCH)


@register.simple_tag
def mail_by_console() -> bool:
    """Whether there is no mail server, so that mail is shown on the server's console."""
    return bool(settings.EMAIL_BACKEND.endswith(".console.EmailBackend"))


@register.simple_tag
def invitations_open(person: User) -> int:
    """How many invitations this person made that nobody has used and that still open."""
    return Invitation.objects.filter(by=person, used_by=None, withdrawn=None, ends__gt=timezone.now()).count()


@register.simple_tag
def keys_held(person: User) -> list[str]:
    """What the keys of a person are called that still open, the oldest first."""
    return list(
        person.keys.filter(withdrawn=None, ends__gt=timezone.now()).order_by("made").values_list("name", flat=True)
    )
