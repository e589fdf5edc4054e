"""How the facts of a survey are declared: once, with kind, range and words.

A group of facts is a class; its attributes are declared with the functions below and read as facts::

    class Door(Group):
        kind: Fact[str] = choice("sectional", "rolling", title="Kind of leaf")

Reader, template, command-line questions and web forms are all drawn from these declarations.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, Generic, Literal, TypeVar

from sillwright.base.fact import Fact
from sillwright.base.model import Limits
from sillwright.base.scale import SIXTEENTH

FactKind = Literal["quantity", "count", "choice", "text", "flag", "date", "money", "texts", "points"]


ANY = Limits()


@dataclass(frozen=True, kw_only=True)
class Spec:
    """The declaration of one fact."""

    name: str = ""
    kind: FactKind
    title: str = ""
    unit: str = "1"
    limits: Limits = ANY
    choices: tuple[str, ...] = ()
    synonyms: tuple[tuple[str, str], ...] = ()
    side: bool = False  # left and right change places when seen from outside
    required: bool = False
    whole: bool = False  # of a count: of things that come in whole ones only

    def same(self, one: Any, other: Any) -> bool:
        """Whether two values of this fact agree: quantities within 0.5 %, lengths within 1/16 in too."""
        if self.kind == "date":
            return bool(one.agrees_with(other))
        if self.kind in {"quantity", "count"}:
            least = SIXTEENTH if self.unit == "m" else 0.0
            return bool(abs(one - other) <= max(least, 0.005 * max(abs(one), abs(other))) * (1 + 1e-9))
        if self.kind == "points":
            return len(one) == len(other) and all(
                self._near(a, b)
                for pair, twin in zip(one, other, strict=True)
                for a, b in zip(pair, twin, strict=True)
            )
        return bool(one == other)

    def breadth(self, value: Any) -> float:
        """How much a value leaves open: of a date known to the year, its days."""
        return float((value.last - value.first).days) if self.kind == "date" else 0.0

    @staticmethod
    def _near(one: float, other: float) -> bool:
        return abs(one - other) <= SIXTEENTH * (1 + 1e-9)

    def repeats(self, values: Any) -> Any:
        """The value to use for several measured lengths: the smallest, where they lie within 1/2 in."""
        if self.kind == "quantity" and self.unit == "m" and max(values) - min(values) <= 8 * SIXTEENTH * (1 + 1e-9):
            return min(values)
        return None


@dataclass(frozen=True, kw_only=True)
class GroupSpec:
    """The declaration of a group, or of a list of groups, inside a group."""

    name: str = ""
    group: type[Group]
    many: bool = False
    title: str = ""


class Group:
    """Facts that belong together. Every declared fact is an attribute; one not asked for says so."""

    specs: ClassVar[dict[str, Spec | GroupSpec]] = {}

    def __init_subclass__(cls) -> None:
        cls.specs = {}
        for name, found in list(vars(cls).items()):
            if isinstance(found, (Spec, GroupSpec)):
                titled = found.title or name.replace("_", " ")
                cls.specs[name] = type(found)(**{**vars(found), "name": name, "title": titled})
                delattr(cls, name)

    def __init__(self, path: str, values: dict[str, Any]) -> None:
        self.path = path
        self.__dict__.update(values)

    if not TYPE_CHECKING:  # attributes are declared one by one; this only makes what the file does not mention

        def __getattr__(self, name: str) -> Any:
            if name not in type(self).specs:
                raise AttributeError(f"{type(self).__name__} has no {name}")
            self.__dict__[name] = self._found(name)
            return self.__dict__[name]

    def _found(self, name: str) -> Any:
        found = self.__dict__.get(name)
        return absent(self.specs[name], join(self.path, name)) if found is None else found

    def __setattr__(self, name: str, value: Any) -> None:
        if name != "path" or "path" in self.__dict__:
            raise AttributeError("a survey is not changed, it is read anew")
        self.__dict__[name] = value

    def facts(self) -> Iterator[tuple[Spec, Fact[Any]]]:
        """Every fact below this group, in the order of declaration."""
        for name, spec in self.specs.items():
            found = self._found(name)
            if isinstance(spec, Spec):
                yield spec, found
            elif spec.many:
                for each in found.items:
                    yield from each.facts()
            else:
                yield from found.facts()

    def listings(self) -> Iterator[tuple[GroupSpec, Listing[Any]]]:
        """Every list below this group, outside other lists."""
        for name, spec in self.specs.items():
            if isinstance(spec, GroupSpec) and spec.many:
                yield spec, self._found(name)
            elif isinstance(spec, GroupSpec):
                yield from self._found(name).listings()

    def signature(self) -> tuple[tuple[str, str, str], ...]:
        """What was taken down, for telling whether two readings of a list say the same."""
        told = (fact for _, fact in self.facts() if fact.standing != "not asked")
        return tuple((fact.path.removeprefix(self.path), fact.standing, repr(fact.value)) for fact in told)

    @property
    def given(self) -> bool:
        """Whether any fact of this group was taken down at all."""
        return any(fact.standing != "not asked" for _, fact in self.facts())


G = TypeVar("G", bound=Group)


@dataclass(frozen=True, kw_only=True)
class Listing(Generic[G]):
    """A list of groups: ``not asked``, ``not known``, or ``known`` and then complete (perhaps empty).

    Two readings that differ are kept side by side as ``rivals``; there are no items then.
    """

    path: str
    standing: Literal["not asked", "not known", "known", "assumed", "two readings"] = "not asked"
    items: tuple[G, ...] = ()
    rivals: tuple[tuple[G, ...], ...] = ()

    def __iter__(self) -> Iterator[G]:
        return iter(self.items)

    def __len__(self) -> int:
        return len(self.items)


ID = re.compile(r"[\w-]{1,40}")
"""What an id may be: a short word, so that paths of facts stay readable."""


def join(path: str, name: str) -> str:
    """The path of a fact inside a group."""
    return f"{path}.{name}" if path else name


def absent(spec: Spec | GroupSpec, path: str) -> Any:
    """What stands for a fact or group that the file does not mention."""
    if isinstance(spec, Spec):
        return Fact(path=path)
    return Listing[Any](path=path) if spec.many else spec.group(path, {})


def quantity(unit: str, least: float, most: float, *, title: str = "", required: bool = False) -> Any:
    """A physical quantity; outside ``least`` … ``most`` (SI) it is refused."""
    limits = Limits(at_least=least, at_most=most)
    return Spec(kind="quantity", unit=unit, limits=limits, title=title, required=required)


def length(most: float, *, least: float = 0.0, title: str = "", required: bool = False) -> Any:
    """A length in metres."""
    return quantity("m", least, most, title=title, required=required)


def count(most: float, *, least: float = 0.0, title: str = "") -> Any:
    """A plain number: a count, or a period whose unit its name says."""
    return Spec(kind="count", limits=Limits(at_least=least, at_most=most), title=title)


def whole(most: int, *, title: str = "") -> Any:
    """How many there are of things that come in whole ones, at least one."""
    return Spec(kind="count", limits=Limits(at_least=1, at_most=most), title=title, whole=True)


def choice(*choices: str, title: str = "", required: bool = False, synonyms: dict[str, str] | None = None) -> Any:
    """One word out of a few."""
    pairs = tuple((synonyms or {}).items())
    return Spec(kind="choice", choices=choices, title=title, required=required, synonyms=pairs)


def side(*more: str, title: str = "") -> Any:
    """Left or right, inside looking out."""
    return Spec(kind="choice", choices=("left", "right", *more), side=True, title=title)


def text(*, title: str = "", required: bool = False) -> Any:
    """Words as they were written."""
    return Spec(kind="text", title=title, required=required)


def flag(*, title: str = "") -> Any:
    """True or false."""
    return Spec(kind="flag", title=title)


def day(*, title: str = "") -> Any:
    """A date, a year and month, or a year."""
    return Spec(kind="date", title=title)


def money(*, title: str = "") -> Any:
    """An amount with currency and, where it says so, per hour or day: ``400 USD/h``."""
    return Spec(kind="money", title=title)


def texts(*, title: str = "") -> Any:
    """A list of words, one fact as a whole."""
    return Spec(kind="texts", title=title)


def points(*, title: str = "") -> Any:
    """A list of pairs of lengths, one fact as a whole."""
    return Spec(kind="points", unit="m", limits=Limits(at_least=-50, at_most=50), title=title)


def group(kind: type[G], *, title: str = "") -> Any:
    """A group inside a group."""
    return GroupSpec(group=kind, title=title)


def groups(kind: type[G], *, title: str = "") -> Any:
    """A list of groups; items with an ``id`` are called by it in paths."""
    return GroupSpec(group=kind, many=True, title=title)
