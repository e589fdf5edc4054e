"""The facts of an opening in the order in which they matter: sections of cards."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext_lazy as _

from sillwright.base.errors import UnknownName
from sillwright.base.finding import Unknown
from sillwright.survey.model import Opening as OpeningFacts
from sillwright.survey.questions import Question, further, questions, spec_at
from sillwright.survey.spec import Group, GroupSpec, Spec, join
from sillwright.web.records.answers import Studied
from sillwright.web.taking.cards import Card, card
from sillwright.web.taking.lists import LISTS
from sillwright.web.taking.members import ListCard, first_words, list_card, list_standing
from sillwright.web.taking.pictures import Pictures, Window
from sillwright.web.taking.subject import Subject
from sillwright.web.taking.words import Text

AnyCard = Card | ListCard
DECIDES = "duty.powered_closing"
NOT_KEPT_HERE = ("site.name", "tag")
"""Facts that have pages of their own: the names of a site and of an opening."""


@dataclass(frozen=True, kw_only=True)
class Section:
    """Cards under one heading."""

    name: str
    title: Text
    cards: tuple[AnyCard, ...]
    folded: bool = False  # only the questions show


@dataclass(frozen=True, kw_only=True)
class Order:
    """All sections of a page, and how far it is."""

    sections: tuple[Section, ...]
    taken: int
    matter: int

    @property
    def shown(self) -> frozenset[str]:
        """The paths that have a card."""
        return frozenset(each.path for section in self.sections for each in section.cards)


def order(subject: Subject, studied: Studied, pictures: Pictures | None, page: str = "facts") -> Order:
    """What to ask of an opening: first what a study cannot do without, then what is to be settled, then what the
    study names as unknown and deciding, then the other questions."""
    waited_for = [(path, each) for each in _unknown(studied) for path in _facts_of(subject, each.fact)]
    decides = {path for path, each in waited_for if DECIDES in each.decides}
    told = Cards(subject, pictures, frozenset(decides), page)
    needed = told.of(studied.missing)
    settle = told.of(_unsettled(subject))
    unknown = told.of(path for path, _each in waited_for)
    rest = told.of(questions_of(subject))
    sections = (
        Section(name="needed", title=_("Needed first"), cards=needed),
        Section(name="settle", title=_("To settle"), cards=settle),
        Section(name="unknown", title=_("Not known, and it matters"), cards=unknown),
        Section(name="rest", title=_("The other questions"), cards=rest, folded=True),
    )
    return Order(
        sections=tuple(each for each in sections if each.cards),
        taken=taken_down(subject),
        matter=sum(not each.known for each in (*needed, *unknown)),
    )


def taken_down(subject: Subject) -> int:
    """How many facts somebody has told a value of, or that there is none."""
    told = (heads for path, heads in subject.facts.heads.items() if _of(subject, path))
    return sum(any(head.says in {"value", "none"} for head in heads) for heads in told)


class Cards:
    """Makes cards, each once."""

    def __init__(self, subject: Subject, pictures: Pictures | None, decides: frozenset[str], page: str) -> None:
        self.subject = subject
        self.pictures = pictures
        self.decides = decides
        self.page = page
        self.made: set[str] = set()
        self.shown: Window | None = None  # by the open card before: the same picture is not shown twice running

    def of(self, paths: Iterable[str]) -> tuple[AnyCard, ...]:
        found: list[AnyCard] = []
        for path in paths:
            if path in self.made or path in NOT_KEPT_HERE:
                continue
            self.made.add(path)
            decides = path in self.decides
            if path in LISTS:
                found.append(list_card(self.subject, path, decides=decides, page=self.page))
            else:
                asked = card(self.subject, path, self.pictures, decides=decides, page=self.page)
                found.append(asked.without_window() if asked.window == self.shown else asked)
                self.shown = asked.window if asked.open else self.shown
        return tuple(found)


def _unknown(studied: Studied) -> Iterable[Unknown]:
    return studied.study.unknown if studied.study else ()


def _facts_of(subject: Subject, path: str) -> Iterator[str]:
    """The facts that a path of a study names: one, those of a group, or a list."""
    named = subject.facts.rebuilt.named(path)
    if named in LISTS:
        yield named
        return
    try:
        spec_at(named)
        yield named
    except UnknownName:
        yield from _below(named)


def _below(path: str) -> Iterator[str]:
    group: type[Group] = OpeningFacts
    for name in path.split("."):
        spec = group.specs.get(name)
        if not isinstance(spec, GroupSpec) or spec.many:
            return
        group = spec.group
    for name, spec in group.specs.items():
        if isinstance(spec, Spec):
            yield join(path, name)


def _unsettled(subject: Subject) -> Iterator[str]:
    """What two people wrote differently, and what cannot be read, or can be read in two ways."""
    for path, (_spec, fact) in subject.known.items():
        if fact.standing == "two readings" or (fact.reading is not None and fact.reading.doubtful):
            yield path
    yield from (
        path for path in subject.facts.rebuilt.mistakes if path in subject.facts.heads and _of(subject, path)
    )
    yield from (name for name in LISTS if list_standing(subject, name) == "two readings")


def _of(subject: Subject, path: str) -> bool:
    return path.startswith("site.") == (subject.opening is None)


_SKIPPED = {
    "height": ("sensing_edge", "air_edge", "inherent", "guard"),
    "circuit": ("inherent", "guard"),
    "through": ("inherent", "guard"),
}
"""Questions that say nothing about a device of these kinds."""


def questions_of(subject: Subject) -> Iterator[str]:
    """The questions in their order; those of a list member by member."""
    asked = [each for each in questions() if each.asked_of(subject.kind) and not each.path.startswith("site.")]
    for name, group in groupby(asked, key=lambda each: each.each):
        inside = list(group)
        if not name:
            yield from (each.path for each in inside)
            continue
        yield name
        for key in subject.members(LISTS[name]):
            yield from _of_member(subject, name, key, inside)


def _of_member(subject: Subject, name: str, key: str, asked: Iterable[Question]) -> Iterator[str]:
    kind = first_words(subject, LISTS[name], key) if name == "protection" else ""
    for each in asked:
        if kind not in _SKIPPED.get(each.path.rpartition(".")[2], ()):
            yield each.path.replace("*", key)


def site_cards(subject: Subject) -> tuple[AnyCard, ...]:
    """The facts of a site itself."""
    paths = [each.path for each in (*questions(), *further()) if each.path.startswith("site.")]
    return Cards(subject, None, frozenset(), "facts").of(paths)
