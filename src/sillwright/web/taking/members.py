"""The members of a survey's lists: what each is called, and the card of a list as a whole."""

from __future__ import annotations

import uuid
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from sillwright.survey.questions import question_at
from sillwright.web.taking.lists import LISTS, MemberList, list_of
from sillwright.web.taking.shown import Shown, shown, value_in_words
from sillwright.web.taking.subject import Subject
from sillwright.web.taking.words import on_a_button


def first_words(subject: Subject, listed: MemberList, key: str) -> str:
    """What a member was made with, as it was typed."""
    path = f"{listed.name}.{key}.{listed.first}"
    return next((head.typed for head in subject.heads(path) if head.says == "value"), "")


def fits_beside(subject: Subject, path: str) -> bool:
    """Whether a fact of a member is asked beside the others: how it shares an input only where another is on it."""
    shares, (listed, key) = question_at(path).shares, list_of(path)
    if not shares or listed is None or subject.heads(path):
        return True

    def told(member: str) -> set[str]:
        heads = subject.heads(f"{listed.name}.{member}.{shares}")
        return {head.typed.strip().lower() for head in heads if head.says == "value"}

    others = (told(each) for each in subject.members(listed) if each != key)
    return any(told(key) & each for each in others)


def member_in_words(subject: Subject, listed: MemberList, key: str) -> str:
    """What a member is called: “Sensing edge e1”, “Forklift”, “Station 2”."""
    typed = first_words(subject, listed, key)
    path = f"{listed.name}.{key}.{listed.first}"
    if listed.name == "protection":
        return f"{on_a_button(path, typed, subject.reader) if typed else _('Device')} {key}"
    if typed and listed.first == "who":
        return on_a_button(path, typed, subject.reader)
    keys = subject.members(listed)
    number = keys.index(key) + 1 if key in keys else len(keys) + 1
    one = str(listed.one)
    return f"{one[:1].upper()}{one[1:]} {number}"


def member_in_full(subject: Subject, listed: MemberList, key: str) -> str:
    """What a member is called, with what it was made with: “Zone 2: receiving post”."""
    name, typed = member_in_words(subject, listed, key), first_words(subject, listed, key)
    if not typed or listed.name == "protection" or listed.first == "who":
        return name
    path = f"{listed.name}.{key}.{listed.first}"
    said = value_in_words(path, "value", typed, subject.reader)
    return f"{name}: {said[:LONGEST]}{'…' if len(said) > LONGEST else ''}"


LONGEST = 60  # signs of what a member was made with, in its name


@dataclass(frozen=True, kw_only=True)
class ListCard:
    """A list as a page asks it: whether there is any member, and which."""

    subject: Subject
    listed: MemberList
    standing: str
    readings: tuple[Shown, ...]
    members: tuple[str, ...]  # in words
    decides: bool = False
    page: str = "facts"
    new_id: uuid.UUID = field(default_factory=uuid.uuid4)

    @property
    def path(self) -> str:
        """The path of the list."""
        return self.listed.name

    @property
    def ident(self) -> str:
        """Its id on a page."""
        return f"f-{self.path}"

    @property
    def open(self) -> bool:
        """Whether it still asks."""
        return not self.members and not self.readings and self.standing != "known"

    @property
    def said(self) -> bool:
        """Whether anybody has said anything of it."""
        return bool(self.members or self.readings)

    @property
    def known(self) -> bool:
        """Whether it is known who or what belongs to it."""
        return self.standing in {"known", "assumed"}

    @property
    def unsettled(self) -> bool:
        """Whether two people differ about its members."""
        return self.standing == "two readings"

    @property
    def seen(self) -> str:
        """The ids of what was said of the list as a whole."""
        return ",".join(each.id for each in self.readings)

    @property
    def before(self) -> str:
        """The same as they were written, for a page without a signal."""
        return self.subject.before(self.path)


def list_card(subject: Subject, name: str, *, decides: bool = False, page: str = "facts") -> ListCard:
    """The card of a list."""
    listed = LISTS[name]
    keys = subject.members(listed)
    return ListCard(
        subject=subject,
        listed=listed,
        standing=list_standing(subject, name),
        readings=tuple(shown(name, head, subject.reader) for head in subject.heads(name)),
        members=tuple(member_in_full(subject, listed, key) for key in keys),
        decides=decides,
        page=page,
    )


def list_standing(subject: Subject, name: str) -> str:
    """What is known of a list as a whole: ``known``, ``not known``, ``two readings`` …"""
    group: Any = subject.about
    for part in name.split("."):
        group = getattr(group, part)
    return str(group.standing)
