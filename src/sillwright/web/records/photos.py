"""Photos of an opening: told of first, then received piece by piece, and what is known of them changed later."""

from __future__ import annotations

import re
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from sillwright.web.accounts.models import User
from sillwright.web.photos.shots import SHOTS
from sillwright.web.records.audit import digest, record
from sillwright.web.records.images import MOST_BYTES
from sillwright.web.records.log import AHEAD, Refused, by_our_clock, fits, place_of
from sillwright.web.records.marks import checked_marks, is_share
from sillwright.web.records.models import LONGEST_PATH, Opening, Photo

MOST = 500  # photos of one opening
LONGEST = {"shot": 40, "fact": LONGEST_PATH, "place": 60, "words": 1000, "device": 100}
CHANGED = ("shot", "fact", "place", "x", "y", "words")  # what somebody may say otherwise later
FIRST_YEAR = 1990  # no camera of a phone is older
_DIGEST = re.compile(r"[0-9a-f]{64}")
_EVIDENCE = re.compile(r"photo ([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})")


@dataclass(frozen=True, kw_only=True)
class Told:
    """A photo as whoever took it tells of it; ``id`` is made where it was taken."""

    id: uuid.UUID
    size: int
    digest: str
    taken: datetime
    shot: str = ""
    fact: str = ""
    place: str = ""
    x: float | None = None
    y: float | None = None
    copy_of: uuid.UUID | None = None
    marks: tuple[Any, ...] = field(default=())
    words: str = ""
    device: str = ""


def photo_in(evidence: str) -> uuid.UUID | None:
    """The photo that the evidence of an observation names; None where it names none.

    >>> photo_in("photo 0b5c1f0e-7c1d-4a53-9c1b-3f0f5a2a9d11"), photo_in("seen by the owner")
    (UUID('0b5c1f0e-7c1d-4a53-9c1b-3f0f5a2a9d11'), None)
    """
    found = _EVIDENCE.fullmatch(evidence)
    return uuid.UUID(found[1]) if found else None


def checked(told: Mapping[str, Any]) -> None:
    """Nothing, where a photo may be told of in this way. Raises :class:`Refused` with the reason."""
    for name, most in LONGEST.items():
        fits(name, told.get(name, ""), most)
    shots = [each.name for each in SHOTS]
    if told.get("shot") and told["shot"] not in shots:
        raise Refused(_("“shot” is one of %(shots)s, or empty.") % {"shots": ", ".join(shots)})
    if told.get("fact") and not place_of(told["fact"]):
        raise Refused(_("“fact” names no fact of an opening or of a site."))
    pin = (told.get("x"), told.get("y"))
    if pin != (None, None) and not all(map(is_share, pin)):
        raise Refused(_("A pin has x and y, both numbers from 0 to 1."))


def declare(opening: Opening, told: Told, *, author: User) -> Photo:
    """The photo that is told of, made where it is told of for the first time; its bytes come later.

    Raises :class:`Refused` where it cannot be kept, or where its id is another photo's, and
    :class:`Photo.DoesNotExist` where it is a copy of one that has not been told of.
    """
    if not 0 < told.size <= MOST_BYTES:
        most = MOST_BYTES // 1_000_000
        raise Refused(_("A photo has at least one byte and at most %(most)d MB.") % {"most": most})
    if not _DIGEST.fullmatch(told.digest):
        raise Refused(_("“digest” is the SHA-256 of the bytes, 64 digits from 0 to f."))
    checked(vars(told))
    marks = checked_marks(told.marks)
    if told.copy_of and Photo.objects.get(pk=told.copy_of).opening_id != opening.pk:
        raise Refused(_("A marked copy belongs to a photo of the same opening."))
    if marks and not told.copy_of:
        raise Refused(_("Marks are drawn on a copy; the photo itself stays as it was taken."))
    found = Photo.objects.filter(pk=told.id).first() or _made(opening, told, marks, author)
    alike = (opening.pk, author.pk, told.digest, told.size, told.copy_of)
    if (found.opening_id, found.author_id, found.digest, found.size, found.copy_of_id) != alike:
        raise Refused(_("Another photo has this id."))
    return found


def _made(opening: Opening, told: Told, marks: list[dict[str, Any]], author: User) -> Photo:
    if opening.photos.exclude(state="refused").count() >= MOST:
        raise Refused(_("An opening holds at most %(most)d photos.") % {"most": MOST})
    more = {name: value for name, value in vars(told).items() if name not in {"copy_of", "marks", "taken"}}
    made = Photo(
        site_id=opening.site_id,
        opening=opening,
        copy_of_id=told.copy_of,
        marks=marks,
        taken=by_our_clock(told.taken),
        author=author,
        **more,
    )
    try:
        with transaction.atomic():
            made.save(force_insert=True)
    except IntegrityError:  # its twin came at the same moment
        return Photo.objects.get(pk=told.id)
    return made


def change(photo: Photo, changes: Mapping[str, Any], *, author: User, request: HttpRequest | None = None) -> Photo:
    """Say otherwise what a photo shows and where its pin stands; ``changes`` has some of :data:`CHANGED`.

    Raises :class:`Refused`.
    """
    with transaction.atomic():
        rows = Photo.objects.select_related("site__organisation", "opening", "author")
        found: Photo = rows.select_for_update(of=("self",)).get(pk=photo.pk)
        before = _in_a_line(found)
        for name in CHANGED:
            setattr(found, name, changes.get(name, getattr(found, name)))
        checked({name: getattr(found, name) for name in CHANGED})
        after = _in_a_line(found)
        if after != before:
            found.save(update_fields=CHANGED)
            note(request, "photo changed", found, who=author, before=digest(before), after=digest(after))
    return found


def _in_a_line(photo: Photo) -> str:
    return "\n".join(str(getattr(photo, name)) for name in CHANGED)


def note(request: HttpRequest | None, verb: str, photo: Photo, **more: Any) -> None:
    """A line of the audit trail about a photo."""
    about = {"organisation": photo.site.organisation, "site": photo.site, "opening": photo.opening}
    record(request, verb, f"{photo.shot} {photo.fact}".strip(), **about, **more)


def taken_by(told: datetime | None, otherwise: datetime) -> datetime:
    """When a photo was taken: as its file says with a zone, where that can be; else as the device said."""
    if told is None or told.tzinfo is None:
        return otherwise
    try:
        moment = told.astimezone(UTC)
    except OverflowError:
        return otherwise
    return moment if moment.year >= FIRST_YEAR and moment <= timezone.now() + AHEAD else otherwise
