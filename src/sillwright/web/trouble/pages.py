"""A call, page by page. The address is the call: nothing of it is kept here, and the way back loses nothing."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import get_language
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from sillwright.base.words import Reader
from sillwright.web.pages.refusals import refused
from sillwright.web.records.answers import reader_at, reader_for
from sillwright.web.records.models import Opening
from sillwright.web.records.seen import fetched
from sillwright.web.trouble.address import At, NotACall, begun, read
from sillwright.web.trouble.advised import Basis, basis_for
from sillwright.web.trouble.sheets import sheet_for
from sillwright.web.trouble.substitutes import still_in
from sillwright.web.workbench.admission import Busy, a_turn, turned_away


@login_not_required
@require_safe
def trouble(request: HttpRequest) -> HttpResponse:
    """The page that a call has come to: first what keeps people from harm, then the step that helps most."""
    if (away := turned_away(request, computes=True)) is not None:
        return away
    if request.GET.get("opening") and not request.user.is_authenticated:
        return redirect_to_login(request.get_full_path())
    try:
        at = read(request.GET, basis_for(None, None).model, basis_for(None, None).questions)
    except NotACall as error:
        return not_a_call(request, error)
    at = at if at.started else replace(at, started=begun().started)
    opening = None
    if at.opening is not None:
        opening = fetched(Opening.objects.select_related("site"), request.user, at.opening)
    basis = basis_for(request.user, opening)
    try:
        with a_turn():
            return _page(request, at, basis, opening)
    except NotACall as error:
        return not_a_call(request, error)
    except Busy:
        response = refused(request, 503, _("Busy"), _("Others compute here now. Try again in a few seconds."))
        response["Retry-After"] = "5"
        return response


def not_a_call(request: HttpRequest, error: NotACall) -> HttpResponse:
    """The page for an address that tells of something that was never asked."""
    return render(request, "trouble/unread_page.html", {"words": str(error)}, status=422)


def _page(request: HttpRequest, at: At, basis: Basis, opening: Opening | None) -> HttpResponse:
    reader = reader_of(request, opening)
    sheet = sheet_for(at, basis, opening, reader)
    told: dict[str, Any] = {"sheet": sheet, "opening": opening, "parts": ()}
    if opening is not None:
        told["parts"] = still_in([opening.pk])
    return render(request, f"trouble/{sheet.page}_page.html", told)


def reader_of(request: HttpRequest, opening: Opening | None) -> Reader:
    """How whoever asks reads; nobody known reads as the program does."""
    if opening is not None:
        return reader_for(request.user, opening.site)  # type: ignore[arg-type]
    user: Any = request.user
    own = user.units if user.is_authenticated else request.COOKIES.get("units", "site")
    return reader_at("US", own, get_language() or "en")
