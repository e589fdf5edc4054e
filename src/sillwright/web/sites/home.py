"""The first page: the sites one sees."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from sillwright.web.people.who import person
from sillwright.web.records.models import Site
from sillwright.web.sites.mine import may_make

ON_A_PAGE = 50
MANY = 8  # from so many on there is a field to search in


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """The sites that the user may see; those put away behind a disclosure."""
    wanted = request.GET.get("q", "").strip()[:100]
    rows = (
        Site.objects.seen_by(request.user)
        .select_related("organisation")
        .annotate(count=Count("openings", filter=Q(openings__put_away=None)))
        .order_by("name", "made")
    )
    shown = rows.filter(put_away=None)
    found = shown.filter(name__icontains=wanted) if wanted else shown
    mine = set(person(request).memberships.values_list("organisation_id", flat=True))
    told = {
        "sites": Paginator(found, ON_A_PAGE).get_page(request.GET.get("page")),
        "away": rows.exclude(put_away=None)[:ON_A_PAGE],
        "mine": mine,
        "wanted": wanted,
        "search": bool(wanted) or shown.count() > MANY,
        "may_make": may_make(person(request)).exists(),
    }
    return render(request, "sites/home_page.html", told)
