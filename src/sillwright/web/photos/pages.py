"""Pages of photos: all of an opening, and one alone. Both take plain forms, too, where no script runs."""

from __future__ import annotations

import hashlib
import uuid
from collections.abc import Iterator
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from sillwright.base.words import translate
from sillwright.survey.questions import question_at
from sillwright.web.people.who import person
from sillwright.web.photos.listed import Listed, by_shot, others, photos_of
from sillwright.web.photos.marking import marks_in_words
from sillwright.web.photos.pins import PinMap, pin_map
from sillwright.web.photos.shots import BY_NAME, SHOTS
from sillwright.web.records.arriving import receive
from sillwright.web.records.log import Refused, place_of
from sillwright.web.records.models import Photo
from sillwright.web.records.photos import Told, change, declare
from sillwright.web.taking.groups import facts_by_group
from sillwright.web.taking.lists import list_of
from sillwright.web.taking.saying import device_of
from sillwright.web.taking.subject import Subject, opening_subject
from sillwright.web.taking.words import GROUPS, Text

Facts = list[tuple[Text, list[tuple[str, str]]]]


@require_http_methods(["GET", "HEAD", "POST"])
def photos(request: HttpRequest, id: UUID) -> HttpResponse:
    """The shots of an opening in their order, with what was taken so far; a form brings one photo."""
    if request.method == "POST":
        return _taken_in(request, opening_subject(request, id, "write"))
    return _photos(request, opening_subject(request, id))


def _photos(request: HttpRequest, subject: Subject, wrong: str = "") -> HttpResponse:
    found = photos_of(subject.opening, subject.reader)  # type: ignore[arg-type]  # never of a site
    taken = by_shot(found)
    told = {
        "opening": subject.opening,
        "shots": SHOTS,
        "taken": taken,
        "done": sum(each.done for each in taken),
        "others": others(found),
        "map": _map(subject, found),
        "facts": facts_for(subject) if subject.may_write else (),
        "key": uuid.uuid4(),
        "wrong": wrong,
    }
    return render(request, "photos/photos_page.html", told, status=422 if wrong else 200)


def _taken_in(request: HttpRequest, subject: Subject) -> HttpResponse:
    try:
        kept = _received(request, subject)
    except Refused as error:
        return _photos(request, subject, str(error))
    if kept.state == "refused":
        return _photos(request, subject, kept.why)
    return HttpResponseRedirect(reverse("photos", args=[subject.key]) + f"#shot-{kept.shot or 'another'}")


def _received(request: HttpRequest, subject: Subject) -> Photo:
    """The photo that a form brought, whole. Raises :class:`Refused`."""
    file = request.FILES.get("file")
    if file is None:
        raise Refused(_("Choose a photo first. It has at most 16 MB."))
    content = file.read()
    shot = BY_NAME.get(request.POST.get("shot", ""))
    told = Told(
        id=_key(request.POST.get("key", "")),
        size=len(content),
        digest=hashlib.sha256(content).hexdigest(),
        taken=timezone.now(),
        shot=shot.name if shot else "",
        fact=request.POST.get("fact", "") or (shot.fact if shot else ""),
        place=shot.place if shot else "",
        device=device_of(request),
    )
    declared = declare(subject.opening, told, author=person(request))  # type: ignore[arg-type]
    return declared if declared.state != "coming" else receive(declared, 0, content, request=request)


def _key(words: str) -> UUID:
    try:
        return UUID(words)
    except ValueError:
        return uuid.uuid4()


@require_http_methods(["GET", "HEAD", "POST"])
def photo_page(request: HttpRequest, id: UUID, photo: UUID) -> HttpResponse:
    """One photo: large, who took it when, what it is evidence of, where its pin stands; a form says otherwise."""
    subject = opening_subject(request, id, "write" if request.method == "POST" else "read")
    found = photos_of(subject.opening, subject.reader)  # type: ignore[arg-type]
    shown = next((each for each in found if each.photo.pk == photo), None)
    if shown is None:
        raise Http404
    if request.method != "POST":
        return _photo(request, subject, found, shown)
    wanted = {name: request.POST.get(name, "").strip() for name in ("fact", "words")}
    try:
        change(shown.photo, wanted, author=person(request), request=request)
    except Refused as error:
        return _photo(request, subject, found, shown, wanted, str(error))
    return HttpResponseRedirect(reverse("photo_page", args=[id, photo]))


def _photo(
    request: HttpRequest,
    subject: Subject,
    found: tuple[Listed, ...],
    shown: Listed,
    wanted: dict[str, str] | None = None,
    wrong: str = "",
) -> HttpResponse:
    photo = shown.photo
    told: dict[str, Any] = {
        "opening": subject.opening,
        "photo": photo,
        "shown": shown,
        "of_fact": title_of(subject, photo.fact),
        "marks": marks_in_words(photo.marks),
        "copies": [each for each in found if each.photo.copy_of_id == photo.pk],
        "map": _map(subject, found),
        "facts": facts_for(subject, photo.fact) if subject.may_write else (),
        "wrong": wrong,
        **(wanted or {"fact": photo.fact, "words": photo.words}),
    }
    return render(request, "photos/photo_page.html", told, status=422 if wrong else 200)


def _map(subject: Subject, found: tuple[Listed, ...]) -> PinMap | None:
    return pin_map(subject.about, subject.reader, found) if subject.about else None


def facts_for(subject: Subject, chosen: str = "") -> Facts:
    """Every fact that a photo can be evidence of, by group, with the one that is chosen."""
    groups = facts_by_group(subject)
    told: Facts = [(GROUPS[name], list(_named(subject, paths))) for name, paths in groups.items() if paths]
    if chosen and not any(chosen in paths for paths in groups.values()):
        told.insert(0, ("–", [(chosen, title_of(subject, chosen))]))
    return told


def _named(subject: Subject, paths: list[str]) -> Iterator[tuple[str, str]]:
    return ((path, title_of(subject, path)) for path in paths)


def title_of(subject: Subject, path: str) -> str:
    """What a fact is called; that of a device names the device. Empty for none."""
    if place_of(path) != "fact":
        return path
    listed, key = list_of(path)
    title = translate(question_at(path).title, subject.reader)
    return f"{key}: {title}" if listed else title
