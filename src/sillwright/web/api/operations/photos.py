"""Photos of openings: told of, sent piece by piece, listed, and said otherwise of later."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from ninja import Header, Router, Status
from pydantic import BaseModel, Field

from sillwright.web.api.operations.observations import moment
from sillwright.web.api.operations.openings import openings_of
from sillwright.web.api.paging import Cursor, Limit, Page, page_of
from sillwright.web.api.problems import Problem
from sillwright.web.api.reading import Asked, Words
from sillwright.web.api.signing import person, reads, writes
from sillwright.web.records.arriving import PIECE, Elsewhere, arrived_of, receive
from sillwright.web.records.models import Photo
from sillwright.web.records.photos import Told, change, declare
from sillwright.web.records.seen import fetched

router = Router(tags=[gettext_noop("Photos")])

BYTES = "application/octet-stream"
_BODY = {"required": True, "content": {BYTES: {"schema": {"type": "string", "format": "binary"}}}}
State = Literal["coming", "kept", "refused"]
Share = Annotated[float | None, Field(ge=0, le=1, description="A share of the drawing's width or height.")]


class PhotoTold(Asked):
    """A photo whose bytes are to come. Its id is made where it was taken: told of twice, it is one."""

    id: UUID | None = Field(None, description="As in the address.")
    opening: UUID
    site: UUID | None = None
    shot: Words = Field("", description="One of the named shots.")
    fact: Words = Field("", examples=["operator.model"], description="Whose evidence it is.")
    place: Words = Field("", description="A shape of the drawing, on which its pin stands.")
    x: Share = None
    y: Share = None
    copy_of: UUID | None = Field(None, description="The photo that this is a marked copy of.")
    marks: list[Any] = Field([], description="What was drawn on a copy.")
    words: Words = ""
    device: Words = ""
    taken: datetime = Field(description="By the clock of the device; the file itself may know better.")
    size: int = Field(description="Bytes that are to come.", examples=[2400000])
    digest: Words = Field(description="SHA-256 of the bytes that are to come.")
    media: Words = Field("", description="Not heeded: the bytes say themselves what they are.")


class PhotoState(BaseModel):
    """How far a photo is."""

    id: UUID
    state: State
    arrived: int = Field(description="Bytes that have arrived; the next piece begins there.")
    why: str = Field(description="Why it is refused.")


class PhotoSaid(PhotoState):
    """A photo, and what is known of it."""

    site: UUID
    opening: UUID
    shot: str
    fact: str
    place: str
    x: float | None
    y: float | None
    copy_of: UUID | None
    marks: list[Any]
    words: str
    author: str
    device: str
    taken: datetime
    received: datetime
    size: int
    digest: str
    width: int
    height: int


class Photos(Page[PhotoSaid]):
    """Photos in the order in which they were told of."""


class PhotoChange(Asked):
    """What is to be different; what is left out stays. A pin is taken away with x and y null."""

    shot: Words | None = None
    fact: Words | None = None
    place: Words | None = None
    x: Share = None
    y: Share = None
    words: Words | None = None


def photos_of() -> QuerySet[Photo]:
    """Photos with what is said of them."""
    return Photo.objects.select_related("site__organisation", "opening", "author")


@router.put(
    "/photos/{uuid:photo}",
    response=PhotoState,
    auth=writes,
    summary=gettext_noop("Tell of a photo that is to come"),
)
def photo_new(request: HttpRequest, photo: UUID, told: PhotoTold) -> Any:
    opening = fetched(openings_of(), person(request), told.opening, "write")  # type: ignore[arg-type]
    about = told.model_dump(exclude={"id", "opening", "site", "media", "taken", "marks"})
    wanted = Told(id=photo, taken=moment(told.taken), marks=tuple(told.marks), **about)
    try:
        return _state(declare(opening, wanted, author=person(request)))
    except Photo.DoesNotExist:
        raise Http404 from None


@router.patch(
    "/photos/{uuid:photo}/bytes",
    response={200: PhotoState, 409: PhotoState},
    auth=writes,
    summary=gettext_noop("Send a piece of a photo"),
    description=f"At most {PIECE} bytes. 409 says where to go on. With the last one the photo is kept or refused.",
    openapi_extra={"requestBody": _BODY},
)
def photo_piece(
    request: HttpRequest,
    photo: UUID,
    offset: Annotated[int, Header(alias="Upload-Offset", ge=0, description="Where this piece begins.")],
) -> Any:
    found = fetched(photos_of(), person(request), photo, "write")  # type: ignore[arg-type]
    if found.author_id != person(request).pk:
        raise PermissionDenied
    try:
        return _state(receive(found, offset, _piece(request), request=request))
    except Elsewhere:
        return Status(409, _state(found))


def _piece(request: HttpRequest) -> bytes:
    """The bytes of a request; one that says it brings more than a piece is not read."""
    length = request.META.get("CONTENT_LENGTH") or "0"
    if not length.isdecimal() or int(length) > PIECE or len(request.body) > PIECE:
        raise Problem("too-large", _("A piece has at most %(most)d bytes.") % {"most": PIECE})
    if request.body and request.content_type != BYTES:
        raise Problem("media-type", _("Send the bytes as application/octet-stream."))
    return request.body


@router.get("/photos/{uuid:photo}", response=PhotoSaid, auth=reads, summary=gettext_noop("Read about a photo"))
def photo(request: HttpRequest, photo: UUID) -> Any:
    return _said(fetched(photos_of(), person(request), photo))  # type: ignore[arg-type]


@router.patch(
    "/photos/{uuid:photo}",
    response=PhotoSaid,
    auth=writes,
    summary=gettext_noop("Say otherwise what a photo shows, or move its pin"),
)
def photo_change(request: HttpRequest, photo: UUID, told: PhotoChange) -> Any:
    found = fetched(photos_of(), person(request), photo, "write")  # type: ignore[arg-type]
    given = told.model_dump(exclude_unset=True)
    changes = {name: each for name, each in given.items() if each is not None or name in {"x", "y"}}
    return _said(change(found, changes, author=person(request), request=request))


@router.get(
    "/openings/{uuid:opening}/photos",
    response=Photos,
    auth=reads,
    summary=gettext_noop("List the photos of an opening"),
)
def photos(request: HttpRequest, opening: UUID, limit: Limit, cursor: Cursor) -> Any:
    found = fetched(openings_of(), person(request), opening)  # type: ignore[arg-type]
    rows = photos_of().filter(opening=found)
    return page_of(request, rows, _said, limit=limit, cursor=cursor, by="received")


def _state(row: Photo) -> dict[str, Any]:
    return {"id": row.pk, "state": row.state, "arrived": arrived_of(row), "why": row.why}


def _said(row: Photo) -> dict[str, Any]:
    names = (
        "shot", "fact", "place", "x", "y", "marks", "words", "device", "taken", "received", "size", "digest",
        "width", "height",
    )  # fmt: skip
    about = {"site": row.site_id, "opening": row.opening_id, "copy_of": row.copy_of_id, "author": row.author.name}
    return {**_state(row), **{name: getattr(row, name) for name in names}, **about}
