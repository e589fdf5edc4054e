"""Keeping a call on an opening, and how it ended."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction
from django.http import HttpRequest
from django.utils.translation import gettext as _

from sillwright.trouble.answer import Call
from sillwright.trouble.said import call_as_json
from sillwright.web.accounts.models import User
from sillwright.web.records.audit import record
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening
from sillwright.web.records.text import unkept
from sillwright.web.trouble.models import LONGEST_WORDS, CallEnd, KeptCall
from sillwright.web.trouble.substitutes import refuse_while_in

LONGEST_CALLER = 200
MOST_MINUTES = 7 * 24 * 60
MOST_FAULTS = 2  # found at once
NONE_OF_THESE = "-"


@dataclass(frozen=True, kw_only=True)
class Told:
    """A call as it is kept; ``id`` is made with the form."""

    id: uuid.UUID
    call: Call
    advice: Mapping[str, Any]
    fingerprint: str
    started: datetime
    caller: str = ""
    words: str = ""


def fit(words: str, name: str, most: int) -> str:
    """A text that can be kept. Raises :class:`Refused`."""
    words = words.strip()
    if len(words) > most:
        raise Refused(_("%(name)s: at most %(most)d signs.") % {"name": name, "most": most})
    if sign := unkept(words):
        raise Refused(_("The sign %(sign)s cannot be kept.") % {"sign": sign})
    return words


@transaction.atomic
def keep_call(opening: Opening, told: Told, *, by: User, request: HttpRequest | None = None) -> KeptCall:
    """Keep a call; the same form sent twice keeps it once. Raises :class:`Refused`."""
    caller = fit(told.caller, _("Who called"), LONGEST_CALLER)
    words = fit(told.words, _("What was said"), LONGEST_WORDS)
    before: KeptCall | None = KeptCall.objects.filter(pk=told.id).first()
    if before is not None:
        if (before.opening_id, before.author_id) != (opening.pk, by.pk):
            raise Refused(_("This form was sent before with something else in it. Load the page again."))
        return before
    kept = KeptCall.objects.create(
        id=told.id,
        site_id=opening.site_id,
        opening=opening,
        author=by,
        caller=caller,
        words=words,
        started=told.started,
        call=call_as_json(told.call),
        fingerprint=told.fingerprint,
        advice=dict(told.advice),
    )
    _record(request, "call kept", kept, by)
    return kept


@transaction.atomic
def end_call(
    call: KeptCall,
    faults: Sequence[str],
    minutes: str,
    words: str,
    known: Sequence[str],
    *,
    by: User,
    request: HttpRequest | None = None,
) -> CallEnd:
    """Close a call with what was found; a second end is an addition, and the newest counts.

    Raises :class:`Refused` for a fault that is not ``known``, for minutes that are none, and while a substitute
    part is in at the opening.
    """
    refuse_while_in([call.opening_id])
    found = _found(faults, known)
    words = fit(words, _("What was done"), LONGEST_WORDS)
    made = CallEnd.objects.create(call=call, faults=found, minutes=_minutes(minutes), words=words, by=by)
    _record(request, "call closed", call, by)
    return made


def _found(faults: Sequence[str], known: Sequence[str]) -> list[str] | None:
    """What was found: faults by id, none of those that are known, or nothing."""
    told = list(dict.fromkeys(each for each in faults if each))
    if not told:
        return None
    found = [each for each in told if each != NONE_OF_THESE]
    if len(found) > MOST_FAULTS or len(told) > max(len(found), 1):
        words = _("What it was: one fault of the list, two at once, or none of these. Write the rest in words.")
        raise Refused(words)
    for each in found:
        if each not in known:
            raise Refused(_("There is no fault “%(name)s”. Choose one of the list.") % {"name": each[:60]})
    return found


def _minutes(words: str) -> int | None:
    words = words.strip()
    if not words:
        return None
    if not (words.isascii() and words.isdigit() and len(words) < 9 and int(words) <= MOST_MINUTES):
        said = _("Minutes: a whole number from 0 to %(most)d, without the way there.")
        raise Refused(said % {"most": MOST_MINUTES})
    return int(words)


def _record(request: HttpRequest | None, verb: str, call: KeptCall, by: User) -> None:
    about = {"organisation": call.site.organisation, "site": call.site, "opening": call.opening}
    record(request, verb, str(call.pk), who=by, **about)
