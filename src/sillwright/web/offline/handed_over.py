"""A file of entries that a phone saved because it could not send them, and what becomes of each entry and photo."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _

from sillwright.base.errors import OutputError, UnknownName
from sillwright.base.words import Reader, translate
from sillwright.survey.questions import question_at
from sillwright.web.accounts.models import User
from sillwright.web.entries.judging import Judged, judge
from sillwright.web.entries.kinds import NotNow, Sender
from sillwright.web.offline.photo_over import photo_in_words, take_photo
from sillwright.web.records.log import Refused
from sillwright.web.records.text import unkept

FORMAT = "sillwright-entries/1"
AT_ONCE = 200  # entries of one transaction
MOST = 20_000  # of one file: a phone that wrote for weeks
MOST_PHOTOS = 500
LONGEST = 200  # signs of what a file says of itself


class Unreadable(Exception):
    """A file that is no file of entries, with the reason in words."""


@dataclass(frozen=True, kw_only=True)
class Saved:
    """A file of entries as it was saved."""

    who: str
    whose: str  # the id of the person who wrote them
    device: str
    saved: str
    entries: Sequence[Any]
    photos: Sequence[Any]


@dataclass(frozen=True, kw_only=True)
class Line:
    """An entry or a photo that was not kept, in words."""

    title: str
    value: str
    why: str


@dataclass(kw_only=True)
class Came:
    """What became of a file."""

    who: str
    device: str
    saved: str
    kept: int = 0
    photos: int = 0
    refused: list[Line] = field(default_factory=list)
    later: list[Line] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def read_file(content: bytes) -> Saved:
    """The file in these bytes. Raises :class:`Unreadable`."""
    try:
        told = json.loads(content)
    except (ValueError, RecursionError):
        raise Unreadable(_("This is no file of entries: it is not JSON, or it is cut short.")) from None
    if not isinstance(told, dict) or told.get("format") != FORMAT:
        raise Unreadable(_("This is no file of entries. Save one on the phone with “On this phone”."))
    entries, photos, who = (told.get(name) for name in ("entries", "photos", "person"))
    if not isinstance(entries, list) or not isinstance(photos, list) or len(entries) > MOST:
        raise Unreadable(_("This file has no list of entries, or too long a one."))
    if len(photos) > MOST_PHOTOS:
        raise Unreadable(_("This file has more photos than one file may have."))
    who = who if isinstance(who, dict) else {}
    return Saved(
        who=_word(who.get("name")),
        whose=_word(who.get("id")),
        device=_word(told.get("device")),
        saved=_word(told.get("saved")),
        entries=entries,
        photos=photos,
    )


def _word(said: Any) -> str:
    return "".join(sign for sign in said[:LONGEST] if not unkept(sign)) if isinstance(said, str) else ""


def hand_over(saved: Saved, user: User, request: HttpRequest) -> Came:
    """Keep what can be kept, entries before photos, and tell what became of each."""
    came = Came(who=saved.who or "–", device=saved.device or "–", saved=saved.saved or "–")
    sender = Sender(user, getattr(request, "id", ""))
    entries = [_with_author(each, saved, user) for each in doors_first(saved.entries)]
    reader = Reader(language=user.language)
    for start in range(0, len(entries), AT_ONCE):
        some = entries[start : start + AT_ONCE]
        for entry, judged in zip(some, judge(sender, some), strict=True):
            _note(came, judged, _title(entry, reader), _value(entry))
    for photo in saved.photos:
        _take_photo(came, photo, user, request)
    return came


def doors_first(entries: Sequence[Any]) -> list[Any]:
    """The entries with those first that others hang on, else in their order."""
    return sorted(entries, key=lambda each: not (isinstance(each, Mapping) and each.get("kind") == "opening"))


def _with_author(entry: Any, saved: Saved, user: User) -> Any:
    """An observation of somebody else says by whom it is, where it does not say so itself."""
    theirs = saved.who and saved.whose != str(user.pk)
    if theirs and isinstance(entry, dict) and entry.get("kind") == "observation" and not entry.get("by"):
        return {**entry, "by": saved.who}
    return entry


def _note(came: Came, judged: Judged, title: str, value: str) -> None:
    if judged.answer == "kept":
        came.kept += 1
        if judged.why:
            came.notes.append(judged.why)
        return
    listed = came.refused if judged.answer == "refused" else came.later
    listed.append(Line(title=title, value=value, why=judged.why))


def _title(entry: Any, reader: Reader) -> str:
    if not isinstance(entry, Mapping):
        return _("An entry")
    if entry.get("kind") == "opening":
        return _("New opening")
    if entry.get("kind") == "move":
        return _("Place in the walk")
    path = _word(entry.get("fact"))
    try:
        return translate(question_at(path).title, reader)
    except UnknownName:
        return path or _("An entry")


def _value(entry: Any) -> str:
    said = (entry.get(name) for name in ("typed", "tag", "words", "says")) if isinstance(entry, Mapping) else ()
    return next((word for word in map(_word, said) if word), "")


# photos


def _take_photo(came: Came, given: Any, user: User, request: HttpRequest) -> None:
    title, value = _("Photo"), photo_in_words(given)
    try:
        take_photo(given, user, request)
    except NotNow as error:
        came.later.append(Line(title=title, value=value, why=str(error)))
    except (Refused, OutputError) as error:
        came.refused.append(Line(title=title, value=value, why=str(error)))
    except PermissionDenied:
        came.refused.append(Line(title=title, value=value, why=_("You may read here, not write.")))
    except Http404:
        why = _("You cannot see this opening, or it is not here.")
        came.refused.append(Line(title=title, value=value, why=why))
    else:
        came.photos += 1
