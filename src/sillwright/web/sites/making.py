"""New sites and new openings."""

from __future__ import annotations

import re
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.survey.door import KINDS
from sillwright.web.accounts.models import Organisation
from sillwright.web.people.who import person
from sillwright.web.records.copying import copy_facts
from sillwright.web.records.log import Refused, Said, write
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import make_opening, make_site
from sillwright.web.sites.mine import may_make
from sillwright.web.taking.words import named_answer

MOST_AT_ONCE = 200
_RANGE = re.compile(r"([^\d,]*)(\d{1,4})\s*[-–]\s*(\d{1,4})")


def organisation_of(request: HttpRequest) -> Organisation:
    """The organisation that a form names, or the only one there is.

    Raises :class:`PermissionDenied` where the person may make no site there.
    """
    allowed = may_make(person(request))
    wanted = request.POST.get("organisation", "")
    found = next((each for each in allowed if str(each.pk) == wanted), None) if wanted else allowed.first()
    if found is None:
        raise PermissionDenied
    return found


@require_http_methods(["GET", "HEAD", "POST"])
def site_new(request: HttpRequest) -> HttpResponse:
    """Make a site."""
    allowed = list(may_make(person(request)))
    if not allowed:
        raise PermissionDenied
    told: dict[str, Any] = {"organisations": allowed, "name": "", "country": "US", "wrong": ""}
    if request.method == "POST":
        told |= {key: request.POST.get(key, "") for key in ("name", "country", "organisation")}
        try:
            made = make_site(organisation_of(request), told["name"], told["country"], author=person(request))
        except Refused as refused:
            told["wrong"] = str(refused)
        else:
            return redirect("site", id=made.pk)
    return render(request, "sites/site_new_page.html", told, status=422 if told["wrong"] else 200)


def tags_in(words: str) -> list[str]:
    """The tags that a field names: parted by commas, a range of numbers as ``1-40`` or ``B1-4``.

    Raises :class:`Refused` for more than can be made at once.

    >>> tags_in("B1-3, Gate")
    ['B1', 'B2', 'B3', 'Gate']
    """
    found: list[str] = []
    for part in (each.strip() for each in words.split(",")):
        span = _RANGE.fullmatch(part)
        if span and int(span[2]) < int(span[3]) <= int(span[2]) + MOST_AT_ONCE:
            found += [f"{span[1]}{number}" for number in range(int(span[2]), int(span[3]) + 1)]
        elif part:
            found.append(part)
    if len(found) > MOST_AT_ONCE:
        raise Refused(_("At most %(most)d openings are made at once.") % {"most": MOST_AT_ONCE})
    if not found:
        raise Refused(_("A tag is wanted: what is written on the leaf or the wall, else a number of yours."))
    return list(dict.fromkeys(found))


@require_http_methods(["GET", "HEAD", "POST"])
def opening_new(request: HttpRequest, id: UUID) -> HttpResponse:
    """Make an opening, or several; perhaps with the facts of one that is there."""
    found = fetched(Site.objects.all(), request.user, id, "write")
    others = list(found.openings.filter(put_away=None))
    told: dict[str, Any] = {
        "site": found,
        "others": others,
        "kinds": [(kind, named_answer("door.kind", kind)) for kind in KINDS],
        "tag": "",
        "as": "",
        "wrong": "",
    }
    if request.method == "POST":
        told |= {"tag": request.POST.get("tag", ""), "as": request.POST.get("as", "")}
        try:
            made = _made(request, found, others, told)
        except Refused as refused:
            told["wrong"] = str(refused)
        else:
            if len(made) == 1:
                return redirect("facts", id=made[0].pk)
            messages.success(request, _("%(count)d openings are here now.") % {"count": len(made)})
            return redirect("site", id=id)
    return render(request, "sites/opening_new_page.html", told, status=422 if told["wrong"] else 200)


@transaction.atomic
def _made(request: HttpRequest, site: Site, others: list[Opening], told: dict[str, Any]) -> list[Opening]:
    like = next((each for each in others if str(each.pk) == told["as"]), None)
    kind = request.POST.get("kind", "")
    made = []
    for tag in tags_in(told["tag"]):
        opening = make_opening(site, tag, author=person(request))
        if like:
            copy_facts(like, opening, author=person(request))
        elif kind in KINDS:
            write(site, opening, Said(fact="door.kind", typed=kind), author=person(request))
        made.append(opening)
    return made
