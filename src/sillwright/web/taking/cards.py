"""The card of one fact: the question, where to look, what is known with where it comes from, and ways to answer."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

from django.utils.translation import gettext as _

from sillwright.base.fact import Reading
from sillwright.base.words import Reader, translate
from sillwright.survey.questions import Question, question_at
from sillwright.web.records.models import Photo
from sillwright.web.records.models import Question as Asked
from sillwright.web.taking.lists import MemberList, list_of
from sillwright.web.taking.members import first_words, member_in_words
from sillwright.web.taking.pictures import Pictures, Window
from sillwright.web.taking.shown import Shown, shown, value_in_words
from sillwright.web.taking.subject import Subject
from sillwright.web.taking.units import KEYS, in_short
from sillwright.web.taking.words import FLAG, ORIGINS, Text, named_answer, on_a_button

Entry = Literal["choice", "length", "quantity", "count", "text", "date", "texts", "points", "money"]
_ENTRIES: dict[str, Entry] = {
    "choice": "choice",
    "flag": "choice",
    "quantity": "quantity",
    "count": "count",
    "text": "text",
    "date": "date",
    "texts": "texts",
    "points": "points",
    "money": "money",
}
_NONE_FITS = ("text", "date", "money")
_NONE_FITS_TOO = frozenset(
    {
        "operator.kind", "operator.cutout_height", "operator.force_limit", "lead.end", "lead.length", "box.side",
        "box.height", "cord.retracted", "cord.conductors", "protection.*.resistance", "door.bottom.slot_spacing",
        "door.bottom.brackets.left", "door.bottom.brackets.right", "door.bottom.old_height", "mesh",
    }
)  # fmt: skip
_NEVER_NONE = ("by", "read_by", "on", "who", "what", "words", "place", "shot", "file")


@dataclass(frozen=True, kw_only=True)
class Answer:
    """A button that answers at once."""

    typed: str
    words: str
    current: bool


@dataclass(frozen=True, kw_only=True)
class Refusal:
    """What somebody typed that was not kept, and why."""

    typed: str
    why: str


@dataclass(frozen=True, kw_only=True)
class Card:
    """A fact as a page asks it."""

    subject: Subject
    path: str
    question: Question
    of: str = ""  # the member it belongs to, in words
    standing: str
    value: str = ""  # of the reading in use
    doubtful: bool = False  # the reading in use can be read in two ways
    readings: tuple[Shown, ...]
    window: Window | None
    decides: bool = False
    refusal: Refusal | None = None
    page: str = "facts"
    pictured: bool = True
    folded: bool = False  # shown as a row although it asks
    new_id: uuid.UUID = field(default_factory=uuid.uuid4)

    def without_window(self) -> Card:
        """The same card without its picture."""
        return replace(self, pictured=False)

    @property
    def ident(self) -> str:
        """Its id on a page."""
        return f"f-{self.path}"

    @property
    def title(self) -> str:
        """What the fact is called."""
        words = translate(self.question.title, self.subject.reader)
        return f"{self.of}: {words}" if self.of else self.name

    @property
    def name(self) -> str:
        """What the fact is called where its member stands above it."""
        words = translate(self.question.title, self.subject.reader)
        return words[:1].upper() + words[1:]

    @property
    def ask(self) -> str:
        """The question."""
        words = translate(self.question.here or self.question.ask, self.subject.reader)
        return (f"{self.of}: {words}" if self.of else words) if words else self.title

    @property
    def why(self) -> str:
        """Why it is asked, and where to look."""
        return translate(self.question.why, self.subject.reader)

    @property
    def seen(self) -> str:
        """The ids of what the card shows; an answer replaces them."""
        return ",".join(each.id for each in self.readings)

    @property
    def before(self) -> str:
        """The same as they were written, for a page without a signal."""
        return self.subject.before(self.path)

    @property
    def photos(self) -> Sequence[Photo]:
        """The photos that are evidence of it, newest first."""
        return self.subject.photos.get(self.path, ()) if self.subject.opening else ()

    @property
    def asked(self) -> Asked | None:
        """The question about it that was asked last and not withdrawn."""
        return self.subject.questions.get(self.path) if self.subject.opening else None

    @property
    def said(self) -> bool:
        """Whether anybody has said anything of it."""
        return bool(self.readings)

    @property
    def unsettled(self) -> bool:
        """Whether somebody has to settle it: readings that differ, or one that cannot be read in one way."""
        return self.standing == "two readings" or self.doubtful or any(each.mistake for each in self.readings)

    @property
    def open(self) -> bool:
        """Whether it still asks."""
        return not self.said or self.unsettled or self.refusal is not None

    @property
    def known(self) -> bool:
        """Whether there is a value, or it was seen that there is none."""
        return self.standing in {"known", "none there", "assumed"}

    @property
    def entry(self) -> Entry:
        """How it is answered."""
        spec = self.question.spec
        if spec.kind == "quantity":
            return "length" if spec.unit == "m" else "quantity"
        return _ENTRIES[spec.kind]

    @property
    def answers(self) -> tuple[Answer, ...]:
        """The answers that are one tap."""
        spec = self.question.spec
        now = {each.words for each in self.readings if each.says == "value"} if self.standing == "known" else set()
        if spec.kind == "flag":
            return tuple(
                Answer(typed=typed, words=str(words), current=str(words).lower() in now)
                for typed, words in FLAG.items()
            )
        words = self.question.choices if spec.kind == "choice" else self.question.offers
        return tuple(
            Answer(
                typed=word,
                words=on_a_button(self.path, word, self.subject.reader),
                current=named_answer(self.path, word) in now,
            )
            for word in words
            if word != "unknown"
        )

    @property
    def units(self) -> Sequence[str]:
        """Units that are written by one key."""
        return KEYS.get(self.question.spec.unit, {}).get(self.subject.reader.units, ())

    @property
    def none_fits(self) -> bool:
        """Whether somebody can have looked and found none."""
        spec = self.question.spec
        if spec.kind not in _NONE_FITS or spec.required or self.path.startswith("site."):
            return self.question.path in _NONE_FITS_TOO
        return self.path.rpartition(".")[2] not in _NEVER_NONE

    @property
    def ways(self) -> tuple[str, ...]:
        """How a text in use can be read, where that is not plain."""
        return next((each.ways for each in self.readings if each.ways), ()) if self.doubtful else ()

    @property
    def label(self) -> str:
        """What the field is for."""
        if self.answers:
            return _("In other words")
        if self.entry in {"length", "quantity"}:
            return _("The value, with its unit")
        if self.entry == "count":
            return _("A whole number") if self.question.spec.whole else _("A plain number")
        return _("Your answer")

    @property
    def summary(self) -> str:
        """What is known, in a few words; of several readings the one in use."""
        return self.value or next((each.words for each in self.readings), "")

    @property
    def address(self) -> str:
        """The page of this fact alone."""
        return self.subject.address("fact", self.path)

    @property
    def typed(self) -> str:
        """What stands in the field: what was refused, or a text that cannot be read."""
        if self.refusal:
            return self.refusal.typed
        return next((each.words for each in self.readings if each.mistake), "")

    @property
    def origins(self) -> Sequence[tuple[str, Text]]:
        """Where it can come from."""
        return tuple(ORIGINS.items())


def card(
    subject: Subject,
    path: str,
    pictures: Pictures | None,
    *,
    decides: bool = False,
    refusal: Refusal | None = None,
    page: str = "facts",
) -> Card:
    """The card of the fact at a path. Raises :class:`UnknownName` where there is no such fact."""
    question, fact = question_at(path), subject.fact(path)
    listed, key = list_of(path)
    return Card(
        subject=subject,
        path=path,
        question=question,
        of=_member(subject, listed, key, question),
        standing=fact.standing,
        value=_value(path, fact.reading, subject.reader),
        doubtful=fact.reading is not None and fact.reading.doubtful,
        readings=_readings(subject, path),
        window=_window(subject, question, pictures, listed, key),
        decides=decides,
        refusal=refusal,
        page=page,
    )


def _readings(subject: Subject, path: str) -> tuple[Shown, ...]:
    """What stands, in words. A text may be right alone and wrong beside another fact, like a state of a country."""
    found = tuple(shown(path, head, subject.reader) for head in subject.heads(path))
    wrong = subject.facts.rebuilt.mistakes.get(path)
    if wrong is None or any(each.mistake for each in found):
        return found
    return tuple(replace(each, mistake=in_short(wrong, subject.reader)) for each in found)


def _member(subject: Subject, listed: MemberList | None, key: str, question: Question) -> str:
    """The member a fact belongs to; the fact that a member was made with names it by its key alone."""
    if listed is None:
        return ""
    if question.path.rpartition(".")[2] != listed.first:
        return member_in_words(subject, listed, key)
    return key if listed.name == "protection" else ""


def _value(path: str, reading: Reading[Any] | None, reader: Reader) -> str:
    if reading is None or reading.value is None:
        return ""
    return value_in_words(path, "value", reading.typed, reader)


def _window(
    subject: Subject, question: Question, pictures: Pictures | None, listed: MemberList | None, key: str
) -> Window | None:
    if pictures is None or not question.place:
        return None
    if listed is None:
        return pictures.window(question.place)
    keys = subject.members(listed)
    kind = first_words(subject, listed, key) if listed.name == "protection" else ""
    return pictures.window(question.place, key, keys.index(key) + 1 if key in keys else 0, kind)
