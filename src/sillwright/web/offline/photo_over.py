"""A photo of a file of entries: told of and received at once, as if the phone had sent it itself."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Mapping
from typing import Any
from uuid import UUID

from django.http import HttpRequest
from django.utils.translation import gettext as _
from pydantic import ValidationError

from sillwright.web.accounts.models import User
from sillwright.web.api.operations.observations import moment
from sillwright.web.api.operations.photos import PhotoTold
from sillwright.web.entries.kinds import NotNow, Sender
from sillwright.web.entries.observations import opening_for
from sillwright.web.records.arriving import PIECE, Elsewhere, arrived_of, receive
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Photo
from sillwright.web.records.photos import Told, declare
from sillwright.web.records.text import unkept


def photo_in_words(given: Any) -> str:
    """What a photo shows, as its file says it; empty where it does not."""
    about = given.get("about") if isinstance(given, Mapping) else None
    words = (about.get(name) for name in ("words", "shot", "fact")) if isinstance(about, Mapping) else ()
    return next((each for each in words if isinstance(each, str) and each and not unkept(each)), "")


def take_photo(given: Any, user: User, request: HttpRequest) -> None:
    """Keep a photo with what is said of it. Handed over twice it is kept once.

    Raises :class:`Refused`, :class:`NotNow` where its opening or its original has not arrived, ``Http404``,
    ``PermissionDenied``, and :class:`OutputError` where the disk does not take it.
    """
    key, told, content = _read(given)
    opening = opening_for(Sender(user), told.opening)
    about = told.model_dump(exclude={"id", "opening", "site", "media", "taken", "marks"})
    wanted = Told(id=key, taken=moment(told.taken), marks=tuple(told.marks), **about)
    try:
        photo = declare(opening, wanted, author=user)
    except Photo.DoesNotExist:
        raise NotNow(_("The photo that this is a marked copy of has not arrived.")) from None
    while photo.state == "coming":
        start = arrived_of(photo)
        try:
            photo = receive(photo, start, content[start : start + PIECE], request=request)
        except Elsewhere:  # the phone itself sends it at this moment
            photo.refresh_from_db()
    if photo.state == "refused":
        raise Refused(photo.why)


def _read(given: Any) -> tuple[UUID, PhotoTold, bytes]:
    try:
        about = {name: given["about"][name] for name in PhotoTold.model_fields if name in given["about"]}
        told = PhotoTold.model_validate(about)
        content = base64.b64decode(given["bytes"], validate=True)
    except (TypeError, KeyError, AttributeError, ValueError, ValidationError, binascii.Error):
        raise Refused(_("This photo of the file cannot be read.")) from None
    if told.id is None or len(content) != told.size:
        raise Refused(_("This photo of the file is cut short."))
    return told.id, told, content
