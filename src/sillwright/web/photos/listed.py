"""The photos of an opening as pages list them: by shot, numbered in the order in which they were taken."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.db import connection, models

from sillwright.base.words import Reader, dated
from sillwright.web.photos.shots import BY_NAME, SHOTS, Shot, shot_words
from sillwright.web.records.models import Opening, Photo
from sillwright.web.taking.words import Text


@dataclass(frozen=True, kw_only=True)
class Listed:
    """A photo with its number and its words."""

    photo: Photo
    number: int
    day: str

    @property
    def words(self) -> Text:
        """What it is a photo of."""
        return shot_words(self.photo.shot)


@dataclass(frozen=True, kw_only=True)
class ShotTaken:
    """A named shot with what was taken of it, newest first."""

    shot: Shot
    number: int
    photos: Sequence[Listed]

    @property
    def done(self) -> bool:
        """Whether there is a photo of it."""
        return any(each.photo.copy_of_id is None for each in self.photos)


def photos_of(opening: Opening, reader: Reader) -> tuple[Listed, ...]:
    """The photos of an opening that were not refused, oldest first."""
    rows = Photo.objects.filter(opening=opening).exclude(state="refused").select_related("author")
    return tuple(
        Listed(photo=each, number=number, day=dated(each.taken.date(), reader))
        for number, each in enumerate(rows, start=1)
    )


def how_many(opening: Opening) -> int:
    """How many photos of an opening there are; asked by a page that is looked at all the time."""
    with connection.cursor() as cursor:
        cursor.execute(_COUNT, [_KEY.get_db_prep_value(opening.pk, connection)])
        return int(cursor.fetchone()[0])


_COUNT = "SELECT COUNT(*) FROM records_photo WHERE opening_id = %s AND state = 'kept'"
_KEY = models.UUIDField()


def by_shot(photos: Iterable[Listed]) -> tuple[ShotTaken, ...]:
    """Every named shot in its order."""
    found = tuple(photos)
    return tuple(
        ShotTaken(shot=shot, number=number, photos=tuple(_newest(found, {shot.name})))
        for number, shot in enumerate(SHOTS, start=1)
    )


def others(photos: Sequence[Listed]) -> tuple[Listed, ...]:
    """Photos that are none of the named shots, newest first."""
    return tuple(_newest(photos, {each.photo.shot for each in photos} - BY_NAME.keys()))


def _newest(photos: Sequence[Listed], shots: set[str]) -> Iterator[Listed]:
    return (each for each in reversed(photos) if each.photo.shot in shots)
