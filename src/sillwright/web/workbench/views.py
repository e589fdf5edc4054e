"""The workbench: every calculation as a page to play with. The address of a bench is its state."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.calculation import Calculation
from sillwright.base.words import Reader
from sillwright.study.calculations import TABLE, calculation
from sillwright.web.pages.refusals import refused
from sillwright.web.records.answers import reader_at
from sillwright.web.workbench.admission import Busy, a_turn, turned_away
from sillwright.web.workbench.asked import Asked, asked_of
from sillwright.web.workbench.names import name_of, question_of
from sillwright.web.workbench.page import context_of
from sillwright.web.workbench.reach import LONG
from sillwright.web.workbench.sheet import Sheet, worked


@login_not_required
@require_safe
def workbench(request: HttpRequest) -> HttpResponse:
    """The calculations, each with the question it answers."""
    if (away := turned_away(request, computes=False)) is not None:
        return away
    benches = [
        (reverse("bench", args=[name]), name_of(name), question_of(calculation(name).title)) for name in TABLE
    ]
    return render(request, "workbench/workbench_page.html", {"benches": benches})


@login_not_required
@require_safe
def bench(request: HttpRequest, name: str) -> HttpResponse:
    """One calculation: its inputs, its answer, its charts; the part that changes, or the case file."""
    if (away := turned_away(request, computes=True)) is not None:
        return away
    found = _known(name)
    asked = asked_of(request, found)
    reader = _reader(request, asked)
    try:
        sheet = _worked(found, asked, reader)
    except Busy:
        response = refused(request, 503, _("Busy"), _("Others compute here now. Try again in a few seconds."))
        response["Retry-After"] = "5"
        return response
    if asked.file and sheet.result is not None:
        return _file(sheet)
    if asked.part:  # what the page says now; a script asks for it at every stroke
        return render(request, "workbench/_part.html", context_of(sheet))
    return render(request, "workbench/bench_page.html", context_of(sheet), status=200 if sheet.good else 422)


def _known(name: str) -> Calculation:
    if name not in TABLE:
        raise Http404(name)
    return calculation(name)


def _worked(found: Calculation, asked: Asked, reader: Reader) -> Sheet:
    if found.name not in LONG and not (found.name == "contact" and asked.vary):
        return worked(found, asked, reader)
    with a_turn():
        return worked(found, asked, reader)


def _reader(request: HttpRequest, asked: Asked) -> Reader:
    user: Any = request.user
    own = user.units if user.is_authenticated else "site"
    return reader_at("US", asked.units or own, get_language() or "en")


def _file(sheet: Sheet) -> HttpResponse:
    response = HttpResponse(sheet.file(), content_type="application/yaml; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{sheet.found.name}.yaml"'
    return response
