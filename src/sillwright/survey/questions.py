"""The facts that are asked when an opening is taken down, in the order in which they matter.

First what a study cannot do without, then what decides whether the leaf may close under power, then what says how
hard it would meet someone, then who passes. Each question says why it is asked and where to look.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from sillwright.base import data
from sillwright.base.errors import Mistake, UnknownName
from sillwright.base.node import Node, short
from sillwright.survey.door import GATES, KINDS
from sillwright.survey.model import Opening, Site
from sillwright.survey.places import country_mistake
from sillwright.survey.spec import Group, GroupSpec, Spec
from sillwright.survey.values import Refused, read_value

NOT_A_GATE = tuple(kind for kind in KINDS if kind not in GATES)
_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


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
    raise UnknownName(f"“{short(path)}” is no fact of a survey")


def value_of(spec: Spec, typed: str) -> Any:
    """What an answer says, as a survey file holds it: text, true or false, a plain number, a list of words.

    Words of a list are parted by semicolons; *none* says that there are none. An answer that is none of these stays
    the text it is, and the survey's reader says what is wrong with it.
    """
    words = typed.strip()
    if spec.kind == "flag":
        return _YES.get(words.casefold(), words)
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


def mistake_in(path: str, typed: str, given: Mapping[str, str | None] | None = None) -> Mistake | None:
    """What is wrong with an answer, None where it can be used; ``given`` are the answers so far.

    >>> mistake_in("door.clear_width", "10 ft 4 in") is None
    True
    >>> print(mistake_in("door.clear_width", "10"))
    door.clear_width: a number in quotes has no unit, read “10”
        write for example "10 ft 6 in", "10' 6-1/2\\"", "3.71 m"
    """
    spec = spec_at(path)
    try:
        read_value(spec, _node(value_of(spec, typed)), path)
    except Refused as refused:
        found = refused.mistake
        return Mistake(path=found.path, message=found.message, accepted=found.accepted, got=found.got)
    country = typed.strip() if path == "site.country" else (given or {}).get("site.country")
    if country and path in {"site.country", "site.subdivision"}:
        wrong = country_mistake(country, typed.strip() if path == "site.subdivision" else None)
        if wrong:
            return Mistake(path=path, message=wrong[1], accepted=wrong[2], got=f"“{typed.strip()}”")
    return None


def _node(value: Any) -> Node:
    if isinstance(value, list):
        return Node(kind="list", line=1, column=1, items=tuple(_node(each) for each in value))
    return Node(kind="scalar", line=1, column=1, scalar=value, text=str(value))


@cache
def questions() -> tuple[Question, ...]:
    """All questions in the order in which they matter."""
    kinds = {"gates": GATES, "others": NOT_A_GATE, "": ()}
    return tuple(
        Question(
            path=row["path"],
            ask=row["ask"],
            why=row["why"],
            spec=spec_at(row["path"]),
            kinds=kinds.get(row.get("of", ""), (row.get("of", ""),)),
        )
        for row in data.table("sillwright.survey", "questions")["question"]
    )


LISTS = ("protection", "use.traffic")
"""Lists whose members are asked for one by one; ``none`` is an answer to the list itself."""
