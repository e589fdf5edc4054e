"""Pages for what cannot be: each says plainly what it is and the way on. Nothing has changed."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from sillwright.base.errors import InputError, SillwrightError


def refused(request: HttpRequest, status: int, title: str, words: str) -> HttpResponse:
    """A plain page with this title and these words; below ``/api/`` a problem, as programs read it."""
    if request.path.startswith("/api/"):
        from sillwright.web.api.problems import by_status  # it knows the records, which are loaded later

        return by_status(request, status)
    told = {"title": title, "words": words, "request_id": getattr(request, "id", "")}
    return render(request, "refused_page.html", told, status=status)


def page_for(request: HttpRequest, error: Exception) -> HttpResponse | None:
    """The page for an error that was raised on purpose; None for one that was not."""
    if isinstance(error, InputError):
        return refused(request, 422, _("This cannot be used"), str(error))
    if isinstance(error, SillwrightError):
        return refused(request, 503, _("This cannot be done here now"), str(error))
    return None


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """400."""
    return refused(request, 400, _("This request cannot be read"), _("Go back and try again. Nothing was changed."))


def not_permitted(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """403: may be seen, not done."""
    words = _("Your role here does not allow this. Ask an owner of the organisation. Nothing was changed.")
    return refused(request, 403, _("Not yours to do"), words)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """404: not there, or not yours to see; the page does not tell which."""
    words = _("There is nothing here that you may see. Ask who sent you the address whether it is shared with you.")
    return refused(request, 404, _("Nothing here"), words)


def failed(request: HttpRequest) -> HttpResponse:
    """500."""
    words = _("Something went wrong here. Go back and try again; if it stays so, tell whoever runs this server.")
    return refused(request, 500, _("This did not work"), words)


def stale_form(request: HttpRequest, reason: str = "", **more: Any) -> HttpResponse:
    """403: the form is older than the sign-in, or came from elsewhere."""
    words = _("This form is older than your sign-in. Go back, load the page again, and send it once more.")
    return refused(request, 403, _("Load the page again"), words)
