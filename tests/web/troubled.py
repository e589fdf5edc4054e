"""Calls and substitute parts as tests need them: quick to make, of nobody real."""

from __future__ import annotations

from django.utils import timezone

from sillwright.web.accounts.models import User
from sillwright.web.records.models import Opening
from sillwright.web.trouble.models import KeptCall, Substitute


def bare_call(opening: Opening, author: User) -> KeptCall:
    """A call that was kept without its pages."""
    return KeptCall.objects.create(
        site=opening.site,
        opening=opening,
        author=author,
        started=timezone.now(),
        call={"who": "technician", "symptom": "CALL-01", "answers": [["eye_lamps", None]]},
        fingerprint="0" * 64,
        advice={"suspects": [{"faults": ["LEAD_OPEN"], "words": ["The lead is broken."], "probability": 0.5}]},
    )


def bare_substitute(opening: Opening, by: User) -> Substitute:
    """A part that is in, of which the facts of the opening say nothing."""
    return Substitute.objects.create(
        site=opening.site, opening=opening, number="17", place="board, 5 and 6", member="m1", by=by
    )
