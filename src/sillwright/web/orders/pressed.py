"""The second press of one button, and a form that is sent once more: done once, and answered like the first."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import timedelta
from typing import Any, TypeVar
from uuid import UUID

from django.utils import timezone

from sillwright.web.accounts.models import User
from sillwright.web.orders.models import Order, OrderNote, Quote

T = TypeVar("T", Quote, Order)

AGAIN = timedelta(minutes=1)
"""For how long the same deed of the same person is a second press, and no deed of its own."""


def step_again(row: Quote, state: str, told: Mapping[str, Any], by: User) -> bool:
    """Whether this person took down this very step a moment ago."""
    last = row.steps.order_by("pk").last()
    return (
        last is not None
        and (last.state, last.by_id) == (state, by.pk)
        and timezone.now() - last.at < AGAIN
        and all(getattr(last, name) == value for name, value in told.items() if value)
    )


def release_again(row: Order, by: User) -> bool:
    """Whether this person released the order a moment ago."""
    return row.notes.filter(kind="release", by=by, at__gt=timezone.now() - AGAIN).exists()


def note_again(held: Order, kind: str, line: int, told: Mapping[str, Any], by: User) -> OrderNote | None:
    """The note that this one repeats.

    What has a form repeats the same form alone: two edges that came may be alike in everything. An acknowledgement
    repeats the last one, an answer the last one to the same difference.
    """
    before = held.notes.filter(kind=kind, line=line, by=by)
    if form := told.get("form"):
        last = before.filter(told__form=form).last()
    elif kind in {"acknowledgement", "answer"}:
        about = {f"told__{name}": told[name] for name in ("of", "about") if name in told}
        last = held.notes.filter(kind=kind, at__gt=timezone.now() - AGAIN, **about).last()
    else:
        return None
    same = last is not None and last.by_id == by.pk and last.told == json.loads(json.dumps(told))
    return last if same else None


def made_again(key: UUID | None, made: T) -> T | None:
    """The quote or order that the same form made before with the same in it; None where this one is new.

    It gets the form's key, where nothing has it; made of the same form with something else in it, it has one of its
    own: whoever goes back and picks other openings loses nothing.
    """
    before: T | None = type(made).objects.filter(pk=key).first() if key else None
    if before is None:
        made.pk = key or made.pk
        return None
    return before if _of_form(before) == _of_form(made) else None


def _of_form(row: Quote | Order) -> Any:
    lines = row.lines if isinstance(row, Order) else row.offered
    return json.loads(json.dumps([row.site_id, row.by_id, row.title, lines], default=str))
