"""What the log of a fact comes to: every observation that no other one replaces.

A set, so order, repeats and late arrival do not matter. Two heads are two readings, until a person writes one that
replaces both.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol, TypeVar


class Replacing(Protocol):
    """What the merge asks of an observation."""

    @property
    def id(self) -> str:
        """Its name, made where it was written."""

    @property
    def at(self) -> str:
        """When it was written, by the writer's clock; only orders what is shown."""

    @property
    def replaces(self) -> tuple[str, ...]:
        """The observations that its author saw."""


R = TypeVar("R", bound=Replacing)


def heads(log: Iterable[R]) -> tuple[R, ...]:
    """The observations of one fact that no other one replaces, oldest first.

    >>> from types import SimpleNamespace as Said
    >>> first, second = Said(id="a", at="1", replaces=()), Said(id="b", at="2", replaces=("a",))
    >>> [each.id for each in heads([second, first, first])]
    ['b']
    """
    told = {each.id: each for each in log}
    replaced = {name for each in told.values() for name in each.replaces if name != each.id}
    standing = [each for name, each in told.items() if name not in replaced]
    return tuple(sorted(standing, key=lambda each: (each.at, each.id)))


@dataclass(frozen=True)
class Register:
    """The heads of one fact, and the ids of what was replaced before it arrived."""

    heads: tuple[Replacing, ...] = ()
    awaited: frozenset[str] = frozenset()

    def with_one(self, new: Replacing) -> Register:
        """The register after one more observation; ``heads`` of the whole log give the same."""
        gone = {name for name in new.replaces if name != new.id}
        here = {each.id for each in self.heads}
        kept = [each for each in self.heads if each.id not in gone]
        if new.id not in self.awaited and new.id not in here:
            kept.append(new)
        missing = (gone - here) | (self.awaited - {new.id})
        return Register(tuple(sorted(kept, key=lambda each: (each.at, each.id))), frozenset(missing))
