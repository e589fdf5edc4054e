"""What the calls of an organisation were about: closed calls beside the shares that they move."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.words import Reader
from sillwright.trouble.learning import WORTH, Learned
from sillwright.trouble.said import Named
from sillwright.web.accounts.members import membership_of
from sillwright.web.people.who import person
from sillwright.web.trouble.advised import basis_of

SHOWN = 0.01  # least share that is listed without a call


@dataclass(frozen=True, kw_only=True)
class Rate:
    """A fault: the share it began with, closed calls, the share now."""

    words: str
    before: str
    counted: str
    after: str


@require_safe
def rates(request: HttpRequest, id: UUID) -> HttpResponse:
    """Every fault that was found or is not rare, the most frequent first."""
    mine = membership_of(person(request), id)
    basis = basis_of([mine.organisation.pk])
    reader, named = Reader(language=get_language() or "en"), Named(basis.model)
    rows = sorted(basis.account, key=lambda each: (-each.counted, -each.after))
    told = {
        "organisation": mine.organisation,
        "learned": basis.learned,
        "worth": round(WORTH),
        "rates": [_rate(each, named, reader) for each in rows if each.counted or each.after >= SHOWN],
    }
    return render(request, "trouble/rates_page.html", told)


def _rate(row: Learned, named: Named, reader: Reader) -> Rate:
    faults = [named.fault(each, reader) for each in row.fault.split("+") if each]
    return Rate(
        words=" ".join(faults) or _("None of the faults listed here"),
        before=f"{100 * row.before:.1f} %",
        counted=f"{row.counted:g}",
        after=f"{100 * row.after:.1f} %",
    )
