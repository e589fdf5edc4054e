"""What ends where a person shuts others out: keys of programs end with the password, and with every session.

Whoever got hold of a session could make a key in it, and would stay for a year after the password is another one.
"""

from __future__ import annotations

from typing import Any

from allauth.account import signals as account
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone

from sillwright.web.accounts.models import User
from sillwright.web.accounts.sessions import end_all
from sillwright.web.records.audit import record

ENDING = (account.password_changed, account.password_set, account.password_reset)


def listen() -> None:
    """End the keys of a person whenever the password becomes another one."""
    for number, signal in enumerate(ENDING):
        signal.connect(_heard, weak=False, dispatch_uid=f"keys end: {number}")


def _heard(sender: Any, request: HttpRequest | None = None, user: User | None = None, **more: Any) -> None:
    if user is not None:
        end_keys(user, request=request)


@transaction.atomic
def end_keys(person: User, *, request: HttpRequest | None = None) -> int:
    """Withdraw every key of a person that still opens, each with its line in the trail; how many there were."""
    held = list(person.keys.select_for_update().filter(withdrawn=None, ends__gt=timezone.now()).order_by("made"))
    for key in held:
        key.withdrawn = timezone.now()
        key.save(update_fields=["withdrawn"])
        record(request, "key withdrawn", key.name, who=person)
    return len(held)


@transaction.atomic
def end_everything(person: User, *, request: HttpRequest | None = None) -> None:
    """End every session and every key of a person: nobody is in any more who does not sign in anew."""
    record(request, "signed out everywhere", who=person)
    end_all(person)
    end_keys(person, request=request)
