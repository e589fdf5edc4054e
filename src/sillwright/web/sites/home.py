"""The first page: the sites one sees."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.core.paginator import Paginator
from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from sillwright.survey.places import countries
from sillwright.web.accounts.models import User
from sillwright.web.people.who import person
from sillwright.web.records.models import Fact, Site
from sillwright.web.records.questions import waiting_for
from sillwright.web.sites.mine import may_make, put_away_just_now, wanted_in

ON_A_PAGE = 50
MANY = 8  # with more there is a field to search in


@require_safe
def home(request: HttpRequest) -> HttpResponse:
    """The sites that the user may see; those put away behind a disclosure."""
    wanted = wanted_in(request)
    rows = (
        Site.objects.seen_by(request.user)
        .select_related("organisation")
        .annotate(count=Count("openings", filter=Q(openings__put_away=None)))
        .order_by("name", "made")
    )
    shown, away = rows.filter(put_away=None), rows.exclude(put_away=None)
    search = bool(wanted) or shown[: MANY + 1].count() > MANY
    if wanted:
        shown, away = shown.filter(name__icontains=wanted), away.filter(name__icontains=wanted)
    page = Paginator(shown, ON_A_PAGE).get_page(request.GET.get("page"))
    told = {
        "page": page,
        "rows": _rows(page.object_list, person(request)),
        "away": away[:ON_A_PAGE],
        "more_away": max(0, away.count() - ON_A_PAGE),
        "waiting": waiting_for(person(request)),
        "undo": put_away_just_now(request, rows.filter(may_manage=True)),
        "member": person(request).memberships.exists(),
        "wanted": wanted,
        "search": search,
        "may_make": may_make(person(request)).exists(),
    }
    return render(request, "sites/home_page.html", told)


def _rows(sites: Iterable[Site], user: User) -> list[dict[str, Any]]:
    """The sites with their places, and whether they are shared with the user."""
    found = list(sites)
    mine = set(user.memberships.values_list("organisation_id", flat=True))
    names = dict(countries())
    facts = Fact.objects.filter(site__in=found, opening=None, path="site.subdivision")
    parts = {each.site_id: next((head.get("typed", "") for head in each.heads), "") for each in facts}
    return [
        {
            "site": each,
            "place": ", ".join(
                word for word in (parts.get(each.pk), names.get(each.country, each.country)) if word
            ),
            "shared": each.organisation_id not in mine,
        }
        for each in found
    ]
