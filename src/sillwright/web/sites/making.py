"""New sites and new openings."""

from __future__ import annotations

import re
import uuid
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.survey.door import KINDS
from sillwright.survey.places import countries
from sillwright.web.people.who import person
from sillwright.web.records.audit import id_of
from sillwright.web.records.copying import copy_facts
from sillwright.web.records.log import Refused, Said, write
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.seen import fetched
from sillwright.web.records.sites import make_opening, make_site
from sillwright.web.sites.mine import key_in, may_make, organisation_of
from sillwright.web.taking.words import named_answer

MOST_AT_ONCE = 200
_RANGE = re.compile(r"([^\d,]*)(\d{1,4})\s*[-–]\s*(\d{1,4})", re.ASCII)


@require_http_methods(["GET", "HEAD", "POST"])
def site_new(request: HttpRequest) -> HttpResponse:
    """Make a site."""
    allowed = list(may_make(person(request)))
    if not allowed:
        raise PermissionDenied
    told: dict[str, Any] = {"organisations": allowed, "countries": countries(), "key": uuid.uuid4(), "wrong": ""}
    if request.method != "POST":
        last = Site.objects.filter(organisation__in=allowed).order_by("-made").first()
        return render(request, "sites/site_new_page.html", told | {"country": last.country if last else "US"})
    told |= {name: request.POST.get(name, "") for name in ("name", "country", "organisation")}
    told["key"] = key_in(request)
    whose = organisation_of(request)
    try:
        make_site(whose, told["name"], told["country"], author=person(request), request=request, key=told["key"])
    except Refused as refused:
        return render(request, "sites/site_new_page.html", told | {"wrong": str(refused)}, status=422)
    except IntegrityError:  # the second tap on the same button
        pass
    return redirect("site", id=told["key"])


def tags_in(words: str) -> list[str]:
    """The tags that a field names: parted by commas, a range of numbers as ``1-40``, ``01-12`` or ``B1-4``.

    Raises :class:`Refused` for none, and for more than are made at once.

    >>> tags_in("B1-3, Gate"), tags_in("08-10")
    (['B1', 'B2', 'B3', 'Gate'], ['08', '09', '10'])
    """
    found: list[str] = []
    for part in (each.strip() for each in words.split(",")):
        span = _RANGE.fullmatch(part)
        if span and int(span[2]) < int(span[3]):
            width = len(span[2]) if span[2].startswith("0") else 0
            last = min(int(span[3]), int(span[2]) + MOST_AT_ONCE)  # one more than may be
            found += [f"{span[1]}{number:0{width}}" for number in range(int(span[2]), last + 1)]
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
    found = fetched(Site.objects.select_related("organisation"), request.user, id, "write")
    others = list(found.openings.filter(put_away=None).order_by("-made", "-position"))
    told: dict[str, Any] = {
        "site": found,
        "others": others,
        "kinds": [(kind, named_answer("door.kind", kind)) for kind in KINDS],
        "key": uuid.uuid4(),
        "wrong": "",
    }
    if request.method == "POST":
        told |= {name: request.POST.get(name, "") for name in ("tag", "as", "kind")} | {"key": key_in(request)}
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
    """The openings that a form asks for, all of them or none. Raises :class:`Refused`."""
    author = person(request)
    keys = {tag: uuid.uuid5(told["key"], tag) for tag in tags_in(told["tag"])}
    there = {each.pk: each for each in site.openings.filter(pk__in=keys.values())}
    new = {
        key: make_opening(site, tag, author=author, request=request, key=key)
        for tag, key in keys.items()
        if key not in there
    }
    like = next((each for each in others if str(each.pk) == told["as"]), None)
    copied = copy_facts(like, *new.values(), author=author, request=request) if like else [{}] * len(new)
    for opening, facts in zip(new.values(), copied, strict=True):
        if told["kind"] in KINDS:
            seen = tuple(each for path, each in facts.items() if path == "door.kind")
            said = Said(fact="door.kind", typed=told["kind"], replaces=seen)
            write(site, opening, said, author=author, request=id_of(request))
    return [there.get(key) or new[key] for key in keys.values()]
