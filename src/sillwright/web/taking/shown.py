"""One reading of a fact as a person reads it: its value in words, where it comes from, by whom and when."""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.words import Amount, Reader, dated, in_words
from sillwright.survey.interval import read_interval
from sillwright.survey.questions import answer_at, spec_at
from sillwright.survey.spec import Spec
from sillwright.survey.values import Refused
from sillwright.web.records.log import Head
from sillwright.web.records.photos import photo_in
from sillwright.web.taking.units import doubt_in, mistake_words, ways_to_read
from sillwright.web.taking.words import FROM, named_answer


@dataclass(frozen=True, kw_only=True)
class Shown:
    """A reading in words."""

    id: str
    says: str
    words: str
    origin: str
    who: str
    when: str
    typed: str = ""  # where it differs from the words
    mistake: str = ""
    doubt: str = ""
    ways: tuple[str, ...] = ()
    photo: uuid.UUID | None = None  # that shows it
    new_id: uuid.UUID = field(default_factory=uuid.uuid4)  # of the observation that chooses it


def shown(path: str, head: Head, reader: Reader) -> Shown:
    """A reading of the fact at a path."""
    wrong = mistake_words(path, head.typed, reader) if head.says == "value" else ""
    words = head.typed if wrong else value_in_words(path, head.says, head.typed, reader)
    length = head.says == "value" and not wrong and spec_at(path).unit == "m"
    return Shown(
        id=head.id,
        says=head.says,
        words=words,
        origin=str(FROM.get(head.origin, head.origin)) if head.says in {"value", "none"} else "",
        who=who_in_words(head),
        when=when_in_words(head, reader),
        typed=head.typed if head.typed and head.typed != words and not wrong and is_written(path) else "",
        mistake=wrong,
        doubt=doubt_in(head.typed) if length else "",
        ways=ways_to_read(head.typed) if length else (),
        photo=photo_in(head.evidence),
    )


def is_written(path: str) -> bool:
    """Whether what was typed says more than the value in words: a quantity, a date, money."""
    return spec_at(path).kind in {"quantity", "date", "money"}


def value_in_words(path: str, says: str, typed: str, reader: Reader) -> str:
    """What is said of a fact, in the reader's words and units; a text that cannot be read stays as it was typed."""
    if says != "value":
        return said_in_words(says)
    try:
        value = answer_at(path, typed)
    except Refused:
        return typed
    return _value(path, spec_at(path), value, reader)


def said_in_words(says: str) -> str:
    """That a fact is not known, that there is none, or that a member was taken away."""
    words = {"unknown": _("not known"), "none": _("looked, there is none"), "removed": _("taken away")}
    return words.get(says, says)


def _value(path: str, spec: Spec, value: Any, reader: Reader) -> str:
    if spec.kind == "quantity":
        return in_words(Amount(value, spec.unit), reader)
    if spec.kind == "count":
        return f"{value:g}"
    if spec.kind == "flag":
        return _("yes") if value else _("no")
    if spec.kind == "date":
        return dated(value.first, reader) if value.first == value.last else str(value)
    if spec.kind == "texts":
        return "; ".join(value) or _("none")
    if spec.kind == "points":
        pairs = ([in_words(Amount(each, "m"), reader) for each in pair] for pair in value)
        return "; ".join(f"{x}: {z}" for x, z in pairs)
    return named_answer(path, str(value)) if spec.kind in {"choice", "text"} else str(value)


def who_in_words(head: Head) -> str:
    """Who measured or told it, and who wrote it down where that is another person."""
    if not head.by or head.by.casefold() == head.author.casefold():
        return head.author
    return _("%(by)s, written down by %(author)s") % {"by": head.by, "author": head.author}


def when_in_words(head: Head, reader: Reader) -> str:
    """The day it was measured or told, else the day it was written down."""
    told = read_interval(head.on) if head.on else None
    if told is not None:
        return dated(told.first, reader) if told.first == told.last else head.on
    if head.on:
        return head.on
    return day_in_words(head.at, reader)


def day_in_words(at: str, reader: Reader) -> str:
    """The day of a moment."""
    try:
        day: date = datetime.fromisoformat(at).date()
    except ValueError:
        return at
    return dated(day, reader)
