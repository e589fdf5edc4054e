"""The page of a walk, which works without a network, and the list of the evening."""

from __future__ import annotations

import json
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from sillwright.web.people.who import person
from sillwright.web.records.answers import reader_for
from sillwright.web.records.models import Site
from sillwright.web.records.seen import fetched
from sillwright.web.taking.facts import FRACTIONS
from sillwright.web.walk.evening import evening_of
from sillwright.web.walk.rows import book_of


@require_safe
def walk(request: HttpRequest, id: UUID) -> HttpResponse:
    """The words of a walk. What is known of the doors comes from what the phone keeps."""
    site = fetched(Site.objects.select_related("organisation"), request.user, id, "write")
    book = json.dumps(book_of(reader_for(person(request), site)))
    return render(request, "walk/walk_page.html", {"site_id": site.pk, "book": book, "fractions": FRACTIONS})


@require_safe
def evening(request: HttpRequest, id: UUID) -> HttpResponse:
    """The doors of a site by how urgent they are, each with who or what says so."""
    site = fetched(Site.objects.select_related("organisation"), request.user, id)
    told = evening_of(site, reader_for(person(request), site, request.session.get("units", "")))
    return render(request, "walk/evening_page.html", {"site": site, "evening": told})
