"""Pages of substitute parts: which are in, booking one in, booking it out with a photo of the terminals."""

from __future__ import annotations

import hashlib
import uuid
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.web.people.who import person
from sillwright.web.photos.listed import Listed, photos_of
from sillwright.web.records.answers import reader_for
from sillwright.web.records.arriving import receive
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Opening, Photo
from sillwright.web.records.photos import Told, declare
from sillwright.web.records.seen import fetched
from sillwright.web.sites.mine import key_in, key_of
from sillwright.web.taking.saying import device_of
from sillwright.web.trouble.models import LONGEST_NUMBER, LONGEST_PLACE, Substitute
from sillwright.web.trouble.substitutes import book_in, book_out

LONGEST_CALL = 10_000  # signs of an address


@require_http_methods(["GET", "HEAD", "POST"])
def substitutes(request: HttpRequest, id: UUID) -> HttpResponse:
    """The parts of an opening, in and out; a form books one in."""
    deed: Any = "write" if request.method == "POST" else "read"
    opening = fetched(Opening.objects.select_related("site__organisation"), request.user, id, deed)
    if request.method != "POST":
        return _page(request, opening)
    typed = {name: request.POST.get(name, "") for name in ("number", "place")}
    try:
        book_in(opening, key_in(request), **typed, by=person(request), request=request)
    except Refused as refused:
        return _page(request, opening, typed, str(refused))
    messages.success(request, _("The part is booked in. Take it out when the test is done, then book it out."))
    return redirect(_call(request.POST.get("call", "")) or reverse("substitutes", args=[id]))


def _call(query: str) -> str:
    """The call that somebody comes from and goes back to; empty where there is none."""
    told = QueryDict(query[:LONGEST_CALL]).urlencode(safe=":")
    return f"{reverse('trouble')}?{told}" if told else ""


def _page(
    request: HttpRequest, opening: Opening, typed: dict[str, str] | None = None, wrong: str = ""
) -> HttpResponse:
    rows = list(Substitute.objects.filter(opening=opening).select_related("by", "out__by", "out__photo"))
    asked = request.POST if request.method == "POST" else request.GET
    told: dict[str, Any] = {
        "opening": opening,
        "call": asked.get("call", "")[:LONGEST_CALL],
        "back": _call(asked.get("call", "")),
        "parts": [each for each in rows if not hasattr(each, "out")],
        "past": [each for each in reversed(rows) if hasattr(each, "out")],
        "key": uuid.uuid4(),
        "longest": {"number": LONGEST_NUMBER, "place": LONGEST_PLACE},
        "typed": typed or {},
        "wrong": wrong,
    }
    return render(request, "trouble/substitutes_page.html", told, status=422 if wrong else 200)


@require_http_methods(["GET", "HEAD", "POST"])
def substitute_out(request: HttpRequest, id: UUID) -> HttpResponse:
    """Book a part out: the photo of the terminals is taken here, or is one taken since the part went in."""
    rows = Substitute.objects.select_related("site__organisation", "opening__site__organisation", "by")
    part = fetched(rows, request.user, id, "write")
    if request.method != "POST":
        return _out_page(request, part)
    try:
        book_out(part, _photo(request, part), by=person(request), request=request)
    except Refused as refused:
        return _out_page(request, part, str(refused))
    messages.success(request, _("The part is booked out. Test the edge over its whole width before you leave."))
    return redirect("substitutes", id=part.opening_id)


def _out_page(request: HttpRequest, part: Substitute, wrong: str = "") -> HttpResponse:
    told = {"part": part, "opening": part.opening, "photos": _since(request, part), "key": uuid.uuid4()}
    return render(request, "trouble/out_page.html", {**told, "wrong": wrong}, status=422 if wrong else 200)


def _since(request: HttpRequest, part: Substitute) -> list[Listed]:
    """The photos of the opening that came since the part is in, newest first."""
    reader = reader_for(person(request), part.site)
    found = [each for each in photos_of(part.opening, reader) if each.photo.state == "kept"]
    return [each for each in reversed(found) if each.photo.received >= part.at and not each.photo.copy_of_id]


def _photo(request: HttpRequest, part: Substitute) -> Photo:
    """The photo that a form brought or names. Raises :class:`Refused` where there is none."""
    file = request.FILES.get("file")
    if file is not None:
        return _received(request, part, file.read())
    chosen: Photo | None = Photo.objects.filter(
        opening=part.opening, pk=key_of(request.POST.get("photo", ""))
    ).first()
    if chosen is None:
        raise Refused(_("Take a photo of the terminals first, or choose one. It has at most 16 MB."))
    return chosen


def _received(request: HttpRequest, part: Substitute, content: bytes) -> Photo:
    told = Told(
        id=key_in(request),
        size=len(content),
        digest=hashlib.sha256(content).hexdigest(),
        taken=timezone.now(),
        words=_("Terminals after red tag %(number)s came out") % {"number": part.number},
        device=device_of(request),
    )
    declared = declare(part.opening, told, author=person(request))
    kept = declared if declared.state != "coming" else receive(declared, 0, content, request=request)
    if kept.state == "refused":
        raise Refused(kept.why)
    return kept
