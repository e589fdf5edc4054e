"""Rules as data: what a document asks, evaluated over facts of which some are not known."""

from __future__ import annotations

import operator
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from math import isclose
from typing import Any, Generic, Protocol, TypeVar

from sillwright.base.errors import InputError
from sillwright.base.expression import And, Call, Compare, Const, Expr, Not, Or, Path, Quantified, parse
from sillwright.base.finding import Level
from sillwright.base.logic import Algebra, Variable
from sillwright.base.source import Source

T = TypeVar("T")


@dataclass(frozen=True)
class Known:
    """A fact that has a value."""

    value: Any


@dataclass(frozen=True)
class Open:
    """A fact that is not known, with one representative of each kind of value it may have."""

    variable: Variable
    domain: tuple[Any, ...]


Looked = Known | Open


@dataclass(frozen=True)
class Members:
    """The members of a list; several options where the list is not known, of which ``open`` tells the one."""

    options: tuple[tuple[Any, ...], ...] = ((),)
    open: Open | None = None  # its domain is the options' numbers


class Facts(Protocol):
    """What rules are evaluated over."""

    def look(self, path: Path, bound: Mapping[str, Any]) -> Looked: ...

    def members(self, path: Path, bound: Mapping[str, Any]) -> Members: ...

    def call(self, call: Call, bound: Mapping[str, Any], algebra: Algebra[T]) -> T: ...


@dataclass(frozen=True)
class Definition:
    """A named piece of a rule: ``watched(p)``."""

    name: str
    parameters: tuple[str, ...]
    body: Expr


@dataclass(frozen=True, kw_only=True)
class Example:
    """An example that stands beside a rule: what is given, and the verdict."""

    given: Mapping[str, Any]
    verdict: str


@dataclass(frozen=True, kw_only=True)
class Rule:
    """What a document asks: when it applies, when it is met, what to do where it is not."""

    id: str
    asks: str
    when: Expr
    holds: Expr
    source: Source
    remedy: str = ""
    of: str = ""  # the facts its examples start from
    level: Level = "act"  # of the finding where it fails
    place: str | None = None
    held: str = ""  # what to do instead while the leaf closes only under a held control
    examples: tuple[Example, ...] = ()


def rule_from(row: Mapping[str, Any]) -> Rule:
    """A rule from its table row. Raises :class:`InputError` that names rule and key."""
    known = {"id", "asks", "when", "holds", "source", "remedy", "of", "level", "place", "held", "example"}
    if wrong := set(row) - known:
        raise InputError(f"rule {row.get('id', '?')}: unknown key {', '.join(sorted(wrong))}")
    try:
        return Rule(
            id=row["id"],
            asks=row["asks"],
            when=parse(row.get("when", "true")),
            holds=parse(row["holds"]),
            source=Source(id=row["id"], **row["source"]),
            remedy=row.get("remedy", ""),
            of=row.get("of", ""),
            level=row.get("level", "act"),
            place=row.get("place"),
            held=row.get("held", ""),
            examples=tuple(Example(**each) for each in row.get("example", ())),
        )
    except (KeyError, TypeError) as error:
        raise InputError(f"rule {row.get('id', '?')}: {error}") from None


def definition_from(text: str, body: str) -> Definition:
    """A definition from its head, ``"watched(p)"``, and its body."""
    head = parse(text)
    if not isinstance(head, Call):
        raise InputError(f"“{text}” is not the head of a definition")
    return Definition(head.name, tuple(str(each) for each in head.args), parse(body))


@dataclass(frozen=True)
class Evaluator(Generic[T]):
    """Evaluates expressions over facts with one algebra."""

    facts: Facts
    algebra: Algebra[T]
    definitions: Mapping[str, Definition] = field(default_factory=dict)
    bound: Mapping[str, Any] = field(default_factory=dict)

    def bind(self, **names: Any) -> Evaluator[T]:
        """The same with further names bound to members of lists."""
        return replace(self, bound={**self.bound, **names})

    def value(self, expr: Expr) -> T:
        """The value of an expression in the algebra."""
        if isinstance(expr, Const):
            return self.algebra.const(bool(expr.value))
        if isinstance(expr, And):
            return self.algebra.all_of([self.value(item) for item in expr.items])
        if isinstance(expr, Or):
            return self.algebra.any_of([self.value(item) for item in expr.items])
        if isinstance(expr, Not):
            return self.algebra.negate(self.value(expr.item))
        if isinstance(expr, Quantified):
            return self._quantified(expr)
        if isinstance(expr, Call):
            return self._call(expr)
        if isinstance(expr, Path):
            return self._test(self.facts.look(expr, self.bound), lambda value: value is True)
        return self._compare(expr)

    def _call(self, call: Call) -> T:
        definition = self.definitions.get(call.name)
        if definition is None:
            return self.facts.call(call, self.bound, self.algebra)
        members = {name: self.bound[str(arg)] for name, arg in zip(definition.parameters, call.args, strict=True)}
        return replace(self, bound=members).value(definition.body)

    def _quantified(self, expr: Quantified) -> T:
        members = self.facts.members(expr.over, self.bound)
        found = [self._over(expr, items) for items in members.options]
        if members.open is None:
            return found[0]
        algebra = self.algebra
        chosen = [
            algebra.all_of([self._test(members.open, partial(operator.eq, at)), value])
            for at, value in enumerate(found)
        ]
        return algebra.any_of([algebra.all_of(found), *chosen])  # the first: what holds of any option is known

    def _over(self, expr: Quantified, items: tuple[Any, ...]) -> T:
        each = [self.bind(**{expr.name: item}).value(expr.body) for item in items]
        return self.algebra.any_of(each) if expr.kind == "any" else self.algebra.all_of(each)

    def _test(self, looked: Looked, holds: Callable[[Any], bool]) -> T:
        if isinstance(looked, Known):
            return self.algebra.const(holds(looked.value))
        return self.algebra.test(looked.variable, looked.domain, holds)

    def _compare(self, expr: Compare) -> T:
        relation = _RELATIONS[expr.op]
        left = self.facts.look(expr.left, self.bound)
        if isinstance(expr.right, Const):
            constant = expr.right.value
            return self._test(left, lambda value: relation(value, constant))
        right = self.facts.look(expr.right, self.bound)
        choices = [left.value] if isinstance(left, Known) else left.domain
        return self.algebra.any_of(
            [
                self.algebra.all_of(
                    [
                        self._test(left, partial(operator.eq, one)),
                        self._test(right, partial(relation, one)),
                    ]
                )
                for one in choices
            ]
        )


def _near(one: Any, other: Any) -> bool:
    """Whether two numbers are one and the same threshold, said in two units."""
    numbers = isinstance(one, (int, float)) and isinstance(other, (int, float))
    return numbers and isclose(one, other, rel_tol=SAME_NUMBER, abs_tol=0.0)


SAME_NUMBER = 1e-9  # relative; conversion between units costs a few units of the last place
_RELATIONS: dict[str, Callable[[Any, Any], bool]] = {
    "==": lambda one, other: one == other or _near(one, other),
    "!=": lambda one, other: one != other and not _near(one, other),
    "<": lambda one, other: one < other and not _near(one, other),
    "<=": lambda one, other: one <= other or _near(one, other),
    ">": lambda one, other: one > other and not _near(one, other),
    ">=": lambda one, other: one >= other or _near(one, other),
    "in": lambda value, many: value in many,
}


def comparisons(expr: Expr) -> Iterator[tuple[Path, Any]]:
    """Every comparison of a path with a literal below an expression: where thresholds split ranges."""
    if isinstance(expr, Compare) and isinstance(expr.right, Const):
        yield expr.left, expr.right.value
    elif isinstance(expr, (And, Or)):
        for item in expr.items:
            yield from comparisons(item)
    elif isinstance(expr, Not):
        yield from comparisons(expr.item)
    elif isinstance(expr, Quantified):
        yield from comparisons(expr.body)
