"""What an answer sends, from a person who is signed in or from the holder of a link."""

from __future__ import annotations

from django.http import HttpRequest

from sillwright.web.records.questions import Answered
from sillwright.web.taking.saying import fields_of, typed_in

LONGEST_KNOWN = 120  # how somebody knows it, in words


def answered(request: HttpRequest, fact: str) -> Answered:
    """The answer of a form. Raises :class:`Refused` where it cannot be read."""
    fields = {**fields_of(request), "fact": fact}
    says = fields.get("says") or "value"
    return Answered(
        says=says,
        typed=typed_in(fields) if says == "value" else "",
        origin=fields.get("origin", ""),
        words=request.POST.get("known", "")[:LONGEST_KNOWN],
    )
