"""Two ways to reason with what is not known: three values for one rule, decision diagrams for the whole answer.

Kleene's three values lose track of the fact that an unknown has *some* value: "made before or since 2010" comes
out unknown. A decision diagram keeps every unknown fact as a variable with its possible values; reduced, it is
constant exactly when the answer does not depend on them, and it mentions exactly the facts it depends on.

Source: S. C. Kleene, Introduction to Metamathematics (1952), section 64; R. E. Bryant, Graph-Based Algorithms
for Boolean Function Manipulation (1986), for canonical ordered diagrams.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, TypeVar

T = TypeVar("T")


@dataclass(frozen=True, order=True)
class Variable:
    """An unknown: its place in the order of the survey, the fact it belongs to, and which aspect of it."""

    rank: int
    fact: str
    aspect: str = ""


class Algebra(Protocol[T]):
    """What an evaluator needs: constants, tests of an unknown, and the connectives."""

    def const(self, value: bool) -> T: ...

    def test(self, variable: Variable, domain: Sequence[Any], holds: Callable[[Any], bool]) -> T: ...

    def all_of(self, items: Sequence[T]) -> T: ...

    def any_of(self, items: Sequence[T]) -> T: ...

    def negate(self, item: T) -> T: ...


class Kleene:
    """True, False, or None for unknown."""

    def const(self, value: bool) -> bool | None:
        return value

    def test(self, variable: Variable, domain: Sequence[Any], holds: Callable[[Any], bool]) -> bool | None:
        answers = {bool(holds(value)) for value in domain}
        return answers.pop() if len(answers) == 1 else None

    def all_of(self, items: Sequence[bool | None]) -> bool | None:
        return False if False in items else None if None in items else True

    def any_of(self, items: Sequence[bool | None]) -> bool | None:
        return True if True in items else None if None in items else False

    def negate(self, item: bool | None) -> bool | None:
        return None if item is None else not item


@dataclass(frozen=True, eq=False)
class Split:
    """A node: what follows for each value of an unknown. Equal nodes are one object."""

    variable: Variable
    children: tuple[Diagram, ...]


Diagram = bool | Split
MOST_NODES = 100_000  # of all diagrams together; an opening has a few hundred


class TooManyWays(Exception):
    """So much is not known, and so entangled, that the diagrams would not end."""


class Diagrams:
    """Reduced, ordered decision diagrams over unknown facts.

    Every variable has one domain; ``test`` must always be given the same one for the same variable.
    """

    def __init__(self) -> None:
        self._nodes: dict[Hashable, Split] = {}
        self._done: dict[Hashable, Diagram] = {}

    def const(self, value: bool) -> Diagram:
        return value

    def test(self, variable: Variable, domain: Sequence[Any], holds: Callable[[Any], bool]) -> Diagram:
        return self._node(variable, tuple(bool(holds(value)) for value in domain))

    def all_of(self, items: Sequence[Diagram]) -> Diagram:
        result: Diagram = True
        for item in items:
            result = self._and(result, item)
        return result

    def any_of(self, items: Sequence[Diagram]) -> Diagram:
        return self.negate(self.all_of([self.negate(item) for item in items]))

    def negate(self, item: Diagram) -> Diagram:
        if isinstance(item, bool):
            return not item
        key = ("not", id(item))
        if key not in self._done:
            self._done[key] = self._node(item.variable, tuple(self.negate(child) for child in item.children))
        return self._done[key]

    def _and(self, one: Diagram, other: Diagram) -> Diagram:
        if one is False or other is False:
            return False
        if one is True or one is other:
            return other
        if other is True:
            return one
        key = ("and", *sorted((id(one), id(other))))
        if key not in self._done:
            first = min(one.variable, other.variable)
            width = len((one if one.variable == first else other).children)
            pairs = zip(_children(one, first, width), _children(other, first, width), strict=True)
            self._done[key] = self._node(first, tuple(self._and(left, right) for left, right in pairs))
        return self._done[key]

    def _node(self, variable: Variable, children: tuple[Diagram, ...]) -> Diagram:
        if all(child is children[0] for child in children):
            return children[0]
        key = (variable, tuple(child if isinstance(child, bool) else id(child) for child in children))
        if key not in self._nodes:
            if len(self._nodes) >= MOST_NODES:
                raise TooManyWays
            self._nodes[key] = Split(variable, children)
        return self._nodes[key]

    @property
    def variables(self) -> tuple[Variable, ...]:
        """Every unknown that was met."""
        return tuple(sorted({node.variable for node in self._nodes.values()}))


def _children(diagram: Split, variable: Variable, width: int) -> tuple[Diagram, ...]:
    return diagram.children if diagram.variable == variable else (diagram,) * width


def support(diagram: Diagram) -> tuple[Variable, ...]:
    """The unknowns that a diagram depends on, in order: none where it is settled."""
    found: set[Variable] = set()
    seen: set[int] = set()
    open_nodes = [diagram]
    while open_nodes:
        node = open_nodes.pop()
        if isinstance(node, Split) and id(node) not in seen:
            seen.add(id(node))
            found.add(node.variable)
            open_nodes.extend(node.children)
    return tuple(sorted(found))
