"""The audit trail of an organisation, for its owners: on a page and as a table for spreadsheets."""

from __future__ import annotations

import csv
import re
import uuid
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime, time, timedelta

from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse, HttpResponseBase, StreamingHttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.web.accounts import members
from sillwright.web.accounts.models import Organisation
from sillwright.web.people.forms import TrailForm
from sillwright.web.people.who import person
from sillwright.web.records.audit import record
from sillwright.web.records.models import Event

A_PAGE = 50
_SIGNS = r"=+\-@\t\r\uff1d\uff0b\uff0d\uff20"  # the last four: the same ones in full width
_FORMULA = re.compile(rf'(^|[;,|\t\r\n])(?=["\s]*[{_SIGNS}])')  # in front, or behind a sign that may part cells


@require_safe
def trail(request: HttpRequest, id: uuid.UUID) -> HttpResponse:
    """What was done in an organisation, newest first."""
    mine = members.membership_of(person(request), id, manage=True)
    form = TrailForm(request.GET)
    lines = _lines(mine.organisation, form)
    shown = {
        "organisation": mine.organisation,
        "form": form,
        "lines": Paginator(lines, A_PAGE).get_page(request.GET.get("page")),
        "days": request.GET.urlencode() if form.is_valid() else "",
    }
    return render(request, "people/trail_page.html", shown, status=200 if form.is_valid() else 422)


@require_safe
def trail_table(request: HttpRequest, id: uuid.UUID) -> HttpResponseBase:
    """The same as comma-separated values; taking it out leaves a line as well."""
    mine = members.membership_of(person(request), id, manage=True)
    form = TrailForm(request.GET)
    if not form.is_valid():
        return trail(request, id)
    record(request, "trail taken out", organisation=mine.organisation)
    answer = StreamingHttpResponse(_table(_lines(mine.organisation, form)), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="trail.csv"'
    return answer


def _lines(organisation: Organisation, form: TrailForm) -> QuerySet[Event]:
    found = Event.objects.filter(organisation=organisation).select_related("who", "site", "opening")
    if not form.is_valid():
        return found.none()
    since, until = form.cleaned_data["since"], form.cleaned_data["until"]
    if since:
        found = found.filter(at__gte=datetime.combine(since, time.min, UTC))
    if until:
        found = found.filter(at__lt=datetime.combine(until, time.min, UTC) + timedelta(days=1))
    return found.order_by("-at", "-pk")


class _Echo:
    """What the writer of tables writes to: gives each line back."""

    def write(self, line: str) -> str:
        return line


def _table(lines: QuerySet[Event]) -> Iterator[str]:
    writer = csv.writer(_Echo(), quoting=csv.QUOTE_ALL)
    heads = (
        _("time"),
        _("who"),
        _("done"),
        _("what"),
        _("site"),
        _("opening"),
        _("before"),
        _("after"),
        _("request"),
    )
    yield "\ufeff" + writer.writerow(heads)  # spreadsheets take it for Latin without the mark
    for line in lines.iterator(chunk_size=500):
        row = (
            line.at.astimezone(UTC).isoformat(timespec="seconds"),
            line.who.name if line.who else "",
            line.verb,
            line.what,
            line.site.name if line.site else "",
            line.opening.tag if line.opening else "",
            line.before,
            line.after,
            line.request,
        )
        yield writer.writerow(plain(row))


def plain(cells: Iterable[str]) -> list[str]:
    """Cells that no spreadsheet takes for a formula, whichever sign it parts them by.

    >>> plain(["10 ft", "=1+1", "-3", "B1;=1+1", ""])
    ['10 ft', "'=1+1", "'-3", "B1;'=1+1", '']
    """
    return [_FORMULA.sub(r"\1'", cell) for cell in cells]
