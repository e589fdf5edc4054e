"""The bytes of a photo as they arrive: piece by piece onto the disk, judged when they are whole.

The file tells how much has arrived, not the row: it is there after a server was killed in the middle, and not there
after a restore. One sender at a time adds to it; whoever asks finds where to go on.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.core.files.storage import default_storage
from django.db import transaction
from django.http import HttpRequest
from django.utils.translation import gettext as _

from sillwright.base.errors import OutputError
from sillwright.base.words import N_, say
from sillwright.web.records.apart import picture_apart
from sillwright.web.records.disk import put
from sillwright.web.records.images import MOST_BYTES, MOST_PIXELS, NotAPhoto, Picture, Why
from sillwright.web.records.log import Refused
from sillwright.web.records.models import Photo
from sillwright.web.records.papers import Damaged
from sillwright.web.records.photos import note, taken_by

PIECE = 1 << 20  # bytes at most


class Elsewhere(Exception):
    """A piece that does not go on where the photo ends by now."""


def path_of(key: uuid.UUID, ending: str) -> Path:
    """Where a file of a photo is: ``jpg``, ``small.jpg``, or ``part`` while it is on its way."""
    return Path(default_storage.path(f"photos/{key.hex[:2]}/{key}.{ending}"))


def arrived_of(photo: Photo) -> int:
    """How many bytes of a photo have arrived."""
    if photo.state != "coming":
        return photo.arrived
    try:
        length = path_of(photo.pk, "part").stat().st_size
    except OSError:
        return 0
    return length if length <= photo.size else 0


def content_of(photo: Photo, *, small: bool = False) -> bytes:
    """The bytes of a kept photo. Raises :class:`Damaged` where they are gone."""
    try:
        return path_of(photo.pk, "small.jpg" if small else "jpg").read_bytes()
    except OSError:
        raise Damaged from None


def receive(photo: Photo, offset: int, piece: bytes, *, request: HttpRequest | None = None) -> Photo:
    """Add a piece; with the last one the photo is judged. One that was judged before stays as it was.

    Raises :class:`Elsewhere`, :class:`Refused` for a piece that cannot be, and :class:`OutputError` where the disk
    does not take it.
    """
    with _held(photo) as file:
        photo.refresh_from_db(fields=["state", "why", "arrived", "width", "height", "taken"])
        if photo.state != "coming":
            path_of(photo.pk, "part").unlink(missing_ok=True)
            return photo
        arrived = _length(file, photo)
        if offset != arrived:
            raise Elsewhere
        if arrived + len(piece) > photo.size:
            raise Refused(_("More bytes came than the photo was said to have."))
        if not piece and arrived < photo.size:
            raise Refused(_("Fewer bytes came than the photo was said to have."))
        _add(file, piece)
        photo.arrived = arrived + len(piece)
        photo.save(update_fields=["arrived"])
        if photo.arrived == photo.size:
            _judge(photo, request)
    return photo


@contextmanager
def _held(photo: Photo) -> Iterator[int]:
    """The file of what has arrived, for one sender alone; the next one waits."""
    path = path_of(photo.pk, "part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        file = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o600)
    except OSError as error:
        raise _full(error) from error
    try:
        fcntl.flock(file, fcntl.LOCK_EX)
        yield file
    finally:
        os.close(file)


def _length(file: int, photo: Photo) -> int:
    """What has arrived; a file that is longer than the whole photo is none of ours, and begun anew."""
    if (length := os.fstat(file).st_size) <= photo.size:
        return length
    os.ftruncate(file, 0)
    return 0


def _add(file: int, piece: bytes) -> None:
    left = memoryview(piece)
    try:
        while left:
            left = left[os.write(file, left) :]
        os.fsync(file)
    except OSError as error:
        raise _full(error) from error


def _full(error: OSError) -> OutputError:
    said = N_("the photo cannot be kept on this server ({why}); make room there, it is sent again")
    return OutputError(say(said, why=error.strerror))


# judged when whole


def _judge(photo: Photo, request: HttpRequest | None) -> None:
    try:
        content = path_of(photo.pk, "part").read_bytes()
        if hashlib.sha256(content).hexdigest() != photo.digest:
            _refuse(photo, _("The bytes that came are not those that were sent. Add the photo again."), request)
            return
        picture = picture_apart(content)
        put(path_of(photo.pk, "jpg"), picture.content)
        put(path_of(photo.pk, "small.jpg"), picture.small)
    except NotAPhoto as error:
        _refuse(photo, words_of(error.why), request)
    except OSError as error:
        raise _full(error) from error
    else:
        _keep(photo, picture, request)


def words_of(why: Why) -> str:
    """Why bytes are not kept as a photo, and what would be right."""
    most = {"bytes": MOST_BYTES // 1_000_000, "pixels": MOST_PIXELS // 1_000_000}
    return {
        "large": _("This file is too large. A photo has at most %(bytes)d MB."),
        "kind": _("This is no photo. JPEG, PNG, WebP and HEIC are kept."),
        "pixels": _("This picture is too large. A photo has at most %(pixels)d million pixels."),
        "broken": _("This photo is damaged or cut short. Take it again, or choose the original file."),
        "heavy": _("This photo takes too much to unpack. Save it as a JPEG, then add that."),
    }[why] % most


def _keep(photo: Photo, picture: Picture, request: HttpRequest | None) -> None:
    """The files first, then the row: a row never speaks of a file that is not there."""
    photo.state, photo.width, photo.height = "kept", picture.width, picture.height
    photo.taken = taken_by(picture.taken, photo.taken)
    _settle(photo, "photo kept", request)


def _refuse(photo: Photo, why: str, request: HttpRequest | None) -> None:
    photo.state, photo.why = "refused", why[:300]
    _settle(photo, "photo refused", request)


def _settle(photo: Photo, verb: str, request: HttpRequest | None) -> None:
    with transaction.atomic():
        photo.save(update_fields=["state", "why", "width", "height", "taken"])
        note(request, verb, photo, who=photo.author, after=photo.digest)
    path_of(photo.pk, "part").unlink(missing_ok=True)
