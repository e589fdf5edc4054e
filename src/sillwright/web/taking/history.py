"""What the log says of one fact, oldest first, and what was kept last."""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from sillwright.base.errors import UnknownName
from sillwright.web.records.log import Refused, head_of, place_of
from sillwright.web.records.models import Observation
from sillwright.web.taking.cards import card
from sillwright.web.taking.lists import LISTS, list_of
from sillwright.web.taking.members import member_in_words
from sillwright.web.taking.saying import undoing
from sillwright.web.taking.shown import Shown, day_in_words, shown, value_in_words
from sillwright.web.taking.subject import Subject


@dataclass(frozen=True, kw_only=True)
class Written:
    """One observation of a fact, as the history shows it."""

    id: str
    shown: Shown
    told: str  # as it was written, as JSON
    written: str
    replaced: str
    stands: bool
    new_id: uuid.UUID = field(default_factory=uuid.uuid4)


def of(subject: Subject, path: str) -> list[Written]:
    """Every observation of a fact, oldest first."""
    rows = Observation.objects.filter(site=subject.site, opening=subject.opening, fact=path).select_related(
        "author"
    )
    logged = list(rows.order_by("at", "received"))
    stand = {head.id for head in subject.heads(path)}
    words = {str(each.id): value_in_words(path, each.says, each.typed, subject.reader) for each in logged}
    heads = {each.id: head_of(each, each.author.name) for each in logged}
    return [
        Written(
            id=str(each.id),
            shown=shown(path, heads[each.id], subject.reader),
            told=heads[each.id].told,
            written=_written(subject, each),
            replaced=_replaced(each, words),
            stands=str(each.id) in stand,
        )
        for each in logged
    ]


def _written(subject: Subject, each: Observation) -> str:
    told = {"author": each.author.name, "day": day_in_words(each.at.isoformat(), subject.reader)}
    told |= {"time": each.at.strftime("%H:%M UTC"), "device": each.device}
    if each.device:
        return _("Written by %(author)s, %(day)s, %(time)s, on: %(device)s.") % told
    return _("Written by %(author)s, %(day)s, %(time)s.") % told


def _replaced(each: Observation, words: dict[str, str]) -> str:
    known = [words[name] for name in each.replaces if name in words]
    if not known:
        return ""
    return _("Instead of “%(before)s”.") % {"before": "”, “".join(known)}


@dataclass(frozen=True, kw_only=True)
class Kept:
    """What was kept last: for the line that says so, and for undoing it."""

    id: str
    fact: str
    words: str
    undo: str = ""  # the observations that undo it, as JSON; empty where nothing stood before


def kept(subject: Subject, key: str) -> Kept | None:
    """The observation that a page was sent back with; None where there is none, or it does not stand any more."""
    try:
        found = Observation.objects.filter(pk=uuid.UUID(key), site=subject.site, opening=subject.opening).first()
    except ValueError:
        return None
    if found is None or str(found.id) not in {head.id for head in subject.heads(found.fact)}:
        return None
    return Kept(
        id=str(found.id), fact=found.fact, words=kept_in_words(subject, found), undo=_undo(subject, str(found.id))
    )


def _undo(subject: Subject, key: str) -> str:
    """The observations that undo one, as a page without a signal writes them itself."""
    try:
        wanted = undoing(subject, {"undo": key}, "")
    except Refused:
        return ""
    names = ("fact", "says", "typed", "origin", "by", "on", "evidence", "replaces")
    return json.dumps([{name: getattr(each, name) for name in names} for each in wanted], ensure_ascii=False)


def kept_in_words(subject: Subject, found: Observation) -> str:
    """That an observation was kept."""
    name = name_of(subject, found.fact)
    value = value_in_words(found.fact, found.says, found.typed, subject.reader)
    return _("Kept: %(fact)s, %(value)s.") % {"fact": name[:1].lower() + name[1:], "value": value}


def name_of(subject: Subject, path: str) -> str:
    """What a fact, a list or a member is called."""
    place = place_of(path)
    if place == "list":
        return str(LISTS[path].title)
    if place == "member":
        listed, key = list_of(path)
        return member_in_words(subject, listed, key) if listed else path
    try:
        return card(subject, path, None).title
    except UnknownName:
        return path
