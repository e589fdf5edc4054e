"""The page "On this phone", which draws itself from what the phone keeps, and files of entries handed over."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from sillwright.web.offline.handed_over import Unreadable, hand_over, read_file
from sillwright.web.people.who import person


@require_safe
def here(request: HttpRequest) -> HttpResponse:
    """The page; what it shows is known to the phone alone."""
    return render(request, "offline/here_page.html")


@require_http_methods(["GET", "HEAD", "POST"])
def take_in(request: HttpRequest) -> HttpResponse:
    """A file of entries that a phone saved: each is judged alone, as the person who is signed in."""
    if request.method != "POST":
        return render(request, "offline/take_in_page.html")
    told: dict[str, Any] = {}
    status = 200
    file = request.FILES.get("file")
    try:
        if file is None:
            raise Unreadable(_("Choose a file of entries first: it ends in .json and has at most 16 MB."))
        told["came"] = hand_over(read_file(file.read()), person(request), request)
    except Unreadable as error:
        told["wrong"], status = str(error), 422
    return render(request, "offline/take_in_page.html", told, status=status)
