"""Calls that an organisation closed, as counts that move the shares of its next calls."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import OuterRef, Subquery

from sillwright.trouble.learning import Closed
from sillwright.web.accounts.models import Membership, User
from sillwright.web.records.models import Opening
from sillwright.web.trouble.models import CallEnd

MOST = 5000  # of the newest calls; what is older tells little of the doors of today


def organisations_of(user: User, opening: Opening | None) -> list[Any]:
    """Whose closed calls count: those of the opening's organisation where the user belongs to it.

    Without an opening, or at one that is only shared, those of the user's own organisations: nobody learns from
    counts what he may not see.
    """
    own = list(Membership.objects.filter(user=user).values_list("organisation", flat=True))
    if opening is not None and opening.site.organisation_id in own:
        return [opening.site.organisation_id]
    return own


def closed_calls(organisations: Iterable[Any]) -> list[Closed]:
    """What was found in the end, by call, the newest first. A call in which nothing was found tells nothing."""
    newest = CallEnd.objects.filter(call=OuterRef("call")).order_by("-pk").values("pk")[:1]
    rows = CallEnd.objects.filter(pk=Subquery(newest), call__site__organisation__in=list(organisations))
    found = rows.filter(faults__isnull=False).order_by("-pk").values_list("call__call__symptom", "faults")[:MOST]
    return [Closed(symptom=symptom, faults=tuple(faults)) for symptom, faults in found]
