"""The first page: the sites one sees."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from sillwright.web.records.models import Site


def home(request: HttpRequest) -> HttpResponse:
    """The sites that the user may see."""
    sites = Site.objects.seen_by(request.user).filter(put_away=None).order_by("name")
    return render(request, "sites/home_page.html", {"sites": sites})
