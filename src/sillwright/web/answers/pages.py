"""The page of an opening, its drawing alone, and the switch of units."""

from __future__ import annotations

from uuid import UUID

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST, require_safe

from sillwright.hookup import hook_up
from sillwright.paper.elevation import elevation
from sillwright.paper.svg import svg
from sillwright.paper.wiring_sheet import wiring_sheet
from sillwright.paper.writing import slug
from sillwright.web.accounts.models import User
from sillwright.web.answers.body import body_of
from sillwright.web.answers.files import as_file
from sillwright.web.orders.catalogues import catalogue_for
from sillwright.web.pages.again import Again
from sillwright.web.people.who import person
from sillwright.web.photos.listed import how_many
from sillwright.web.prepared import Prepared
from sillwright.web.records.answers import answer_of, key_of, reader_for, state_of, study_of
from sillwright.web.records.models import Opening
from sillwright.web.records.seen import allowed, fetched
from sillwright.web.trouble.substitutes import still_in

UNITS = tuple(value for value, _ in User.UNITS)
_OPENING = Prepared(Opening, ["id"], "site")
_PAGES = Again("answers/opening_page.html")
_YEAR = 365 * 24 * 3600


@require_safe
def opening(request: HttpRequest, id: UUID) -> HttpResponse:
    """The study page: a kept body, and around it what belongs to this person and session."""
    found = allowed(_OPENING.get(id), request.user)
    user = person(request)
    reader = reader_for(user, found.site)
    rights = (found.may_write, found.may_manage)
    photos = how_many(found)
    key = (found.pk, state_of(found), found.put_away, rights, key_of(reader), user.pk, user.name, photos)
    told = {"opening": found, "reader": reader, "photos": photos}

    def more() -> dict[str, object]:  # a part that is booked in or out counts up the revision, which is in the key
        return {"parts": still_in([found.pk]), "answer": answer_of(found, reader, body_of)}

    return _PAGES.page(request, key, lambda: {**told, **more()})


@require_safe
def drawing(request: HttpRequest, id: UUID) -> HttpResponse:
    """The elevation as an SVG file; ``?download=1`` hands it over as one."""
    found = fetched(Opening.objects.select_related("site"), request.user, id)
    reader = reader_for(request.user, found.site)  # type: ignore[arg-type]
    studied = study_of(found)
    study, about = studied.study, studied.facts.rebuilt.survey.openings[0]
    made = elevation(about, reader, study.findings, study.takeoff) if study else elevation(about, reader)
    drawn = svg(made)
    name = f"{slug(found.tag)}.svg"
    return as_file(drawn.encode(), "image/svg+xml", name, download="download" in request.GET)


@require_safe
def wiring(request: HttpRequest, id: UUID) -> HttpResponse:
    """The wiring sheet as an SVG file, from terminal to far end; ``?download=1`` hands it over as one."""
    found = fetched(Opening.objects.select_related("site"), request.user, id)
    reader = reader_for(request.user, found.site)  # type: ignore[arg-type]
    studied = study_of(found)
    about = studied.facts.rebuilt.survey.openings[0]
    joined = studied.study.hookup if studied.study else hook_up(about, catalogue_for(found.site))
    drawn = svg(wiring_sheet(joined, reader, tag=found.tag))
    name = f"{slug(found.tag)}-wiring.svg"
    return as_file(drawn.encode(), "image/svg+xml", name, download="download" in request.GET)


@require_POST
@login_not_required
def units(request: HttpRequest) -> HttpResponse:
    """Switch the units, for the person where one is signed in, else for this browser; then back where one was."""
    back = request.POST.get("next", "/")
    if not (back.startswith("/") and url_has_allowed_host_and_scheme(back, allowed_hosts=None)):
        back = "/"
    response = HttpResponseRedirect(back)
    wanted = request.POST.get("units", "")
    if wanted not in UNITS:
        return response
    if request.user.is_authenticated:
        User.objects.filter(pk=request.user.pk).update(units=wanted)
    else:
        response.set_cookie("units", wanted, _YEAR, secure=settings.TLS, httponly=True, samesite="Lax")
    return response
