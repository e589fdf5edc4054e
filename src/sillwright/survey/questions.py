"""The facts that are asked when an opening is taken down, in the order in which they matter.

First what a study cannot do without, then what decides whether the leaf may close under power, then what says how
hard it would meet someone, then who passes. Each question says why it is asked and where to look.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from sillwright.base import data
from sillwright.base.errors import Mistake, UnknownName
from sillwright.base.node import Node, short
from sillwright.base.words import N_, say
from sillwright.survey.door import GATES, KINDS
from sillwright.survey.model import Opening, Site
from sillwright.survey.places import country_mistake
from sillwright.survey.spec import Group, GroupSpec, Spec
from sillwright.survey.values import Refused, read_value

NOT_A_GATE = tuple(kind for kind in KINDS if kind not in GATES)
YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


@dataclass(frozen=True, kw_only=True)
class Question:
    """One fact to ask for.

    ``path`` is that of the fact; ``*`` in it stands for each member of a list, which is called by its id where
    it has one, else by its number from 1.
    """

    path: str
    ask: str
    why: str
    spec: Spec
    kinds: tuple[str, ...] = ()  # of leaf for which it is asked; empty: for all
    title: str = ""  # what the fact is called beside its value
    place: tuple[str, ...] = ()  # shapes of an elevation; the first that is drawn shows where to look
    offers: tuple[str, ...] = ()  # words that often answer a text
    shares: str = ""  # asked of a member only where another says the same of this fact of its own
    here: str = ""  # the question where words of a list are written one a line

    @property
    def choices(self) -> tuple[str, ...]:
        """The words that answer it, where there are only a few."""
        return ("yes", "no") if self.spec.kind == "flag" else self.spec.choices

    @property
    def each(self) -> str:
        """The list of whose members it is asked, ``protection``; empty for a single fact."""
        return self.path.partition(".*")[0] if ".*" in self.path else ""

    def asked_of(self, kind: str | None) -> bool:
        """Whether it is asked at a leaf of this kind; of an unknown one everything is."""
        return not self.kinds or kind is None or kind in self.kinds


def spec_at(path: str) -> Spec:
    """The declaration of the fact at a path like ``door.kind``, ``site.name`` or ``protection.e1.state``.

    Raises :class:`UnknownName` where there is none.

    >>> spec_at("protection.*.state").choices[0]
    'works'
    """
    group: type[Group] = Site if path.startswith("site.") else Opening
    names = path.removeprefix("site.").split(".")
    while names:
        spec = group.specs.get(names.pop(0))
        if isinstance(spec, Spec) and not names:
            return spec
        if not isinstance(spec, GroupSpec):
            break
        group = spec.group
        if spec.many:
            del names[:1]  # which member it is
    raise UnknownName(say(N_("“{path}” is no fact of a survey"), path=short(path)))


def value_of(spec: Spec, typed: str) -> Any:
    """What an answer says, as a survey file holds it: text, true or false, a plain number, a list of words.

    Words of a list are parted by semicolons; *none* says that there are none. An answer that is none of these stays
    the text it is, and the survey's reader says what is wrong with it.
    """
    words = typed.strip()
    if spec.kind == "flag":
        return YES.get(words.casefold(), words)
    if spec.kind == "count":
        try:
            return int(words) if words.isascii() and words.isdigit() and len(words) < 19 else float(words)
        except ValueError:
            return words
    if spec.kind == "texts" and words.casefold() == "none":
        return []
    if spec.kind == "texts":
        return [word.strip() for word in words.split(";") if word.strip()]
    if spec.kind == "points":
        pairs = [word.split(",") for word in words.split(";") if word.strip()]
        return [[part.strip() for part in pair] for pair in pairs]
    return words


def answer_at(path: str, typed: str) -> Any:
    """The value that an answer gives a fact. Raises :class:`Refused` where it cannot be read.

    >>> answer_at("door.clear_width", "10 ft"), answer_at("use.children", "no")
    (3.048, False)
    """
    spec = spec_at(path)
    return read_value(spec, _node(value_of(spec, typed)), path)


def mistake_in(path: str, typed: str, given: Mapping[str, str | None] | None = None) -> Mistake | None:
    """What is wrong with an answer, None where it can be used; ``given`` are the answers so far.

    >>> mistake_in("door.clear_width", "10 ft 4 in") is None
    True
    >>> print(mistake_in("door.clear_width", "10"))
    door.clear_width: a number in quotes has no unit, read “10”
        write for example "10 ft 6 in", "10' 6-1/2\\"", "3.71 m"
    """
    try:
        answer_at(path, typed)
    except Refused as refused:
        found = refused.mistake
        return Mistake(path=found.path, message=found.message, accepted=found.accepted, got=found.got)
    country = typed.strip() if path == "site.country" else (given or {}).get("site.country")
    if country and path in {"site.country", "site.subdivision"}:
        wrong = country_mistake(country, typed.strip() if path == "site.subdivision" else None)
        if wrong:
            return Mistake(path=path, message=wrong[1], accepted=wrong[2], got=_node(typed.strip()).described())
    return None


def _node(value: Any) -> Node:
    if isinstance(value, list):
        return Node(kind="list", line=1, column=1, items=tuple(_node(each) for each in value))
    return Node(kind="scalar", line=1, column=1, scalar=value, text=str(value))


@cache
def questions() -> tuple[Question, ...]:
    """All questions in the order in which they matter."""
    return tuple(map(_question, data.table("sillwright.survey", "questions")["question"]))


@cache
def further() -> tuple[Question, ...]:
    """Every other fact, asked where somebody stands at the opening; without ``ask`` its title is the question."""
    return tuple(map(_question, data.table("sillwright.survey", "further")["further"]))


_KINDS = {"gates": GATES, "others": NOT_A_GATE, "": ()}


def _question(row: Mapping[str, Any]) -> Question:
    of = row.get("of", "")
    return Question(
        path=row["path"],
        ask=row.get("ask", ""),
        why=row.get("why", ""),
        spec=spec_at(row["path"]),
        kinds=_KINDS.get(of, (of,)),
        title=row["title"],
        place=tuple(row.get("place", ())),
        offers=tuple(row.get("offers", ())),
        here=row.get("here", ""),
        shares=row.get("shares", ""),
    )


@cache
def _by_path() -> Mapping[str, Question]:
    return {each.path: each for each in (*questions(), *further())}


def question_at(path: str) -> Question:
    """The question for the fact at a path; ``*`` in the question's own path stands for the member.

    Raises :class:`UnknownName` where there is no such fact.

    >>> question_at("protection.e1.state").path, question_at("lead.end").title
    ('protection.*.state', 'end at which the lead leaves')
    """
    spec_at(path)
    return _by_path()[pattern_of(path)]


def named(spec: Spec, path: str) -> str:
    """What a fact is called in a sentence: its title, or what its question calls it where it has none of its own.

    >>> named(spec_at("door.guide_clear.floor"), "door.guide_clear.floor"), named(spec_at("tag"), "tag")
    ('clear between the guides at the floor', 'tag')
    """
    if "." not in path or spec.title != spec.name.replace("_", " "):
        return spec.title
    asked = _by_path().get(pattern_of(re.sub(r"\[(\d+)\]", r".\1", path)))
    return asked.title if asked else spec.title


def pattern_of(path: str) -> str:
    """A path with ``*`` in place of the members of lists it goes through.

    >>> pattern_of("use.traffic.m2.who"), pattern_of("door.kind")
    ('use.traffic.*.who', 'door.kind')
    """
    names = path.split(".")
    of_site = names[0] == "site" and len(names) > 1
    group: type[Group] = Site if of_site else Opening
    for at in range(1 if of_site else 0, len(names)):
        if at and names[at] == "*":
            continue
        spec = group.specs.get(names[at])
        if not isinstance(spec, GroupSpec):
            break
        group = spec.group
        if spec.many and at + 1 < len(names):
            names[at + 1] = "*"
    return ".".join(names)


LISTS = ("protection", "use.traffic")
"""Lists whose members are asked for one by one; ``none`` is an answer to the list itself."""
