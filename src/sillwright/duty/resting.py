"""What a rule that fails rests on: the facts of its own conditions that make it apply, and that make it fail."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from sillwright.base.expression import And, Call, Const, Expr, Not, Or, Path, Quantified
from sillwright.base.rule import Evaluator, Rule
from sillwright.duty.facts import Imagined, OpeningFacts, rank

OF_DEVICE = {
    "reaches_an_input": ("circuit", "resistance", "wires", "through", "input", "joined", "end_element_at"),
    "reverses_there": ("input",),
    "read_as_failed": ("circuit", "resistance"),
    "listed": ("model", "through"),
    "underneath": ("place",),
}
"""What a function of the rule language looks at of its device or zone."""
BESIDE = {
    "reaches_an_input": ("operator.inputs", "cord.conductors"),
    "reverses_there": ("operator.inputs",),
    "read_as_failed": ("readings",),
    "listed": ("operator.lists_devices", "operator.instructions"),
    "listed_to": ("operator.listed_to",),
    "within_a_year": ("site.surveyed_on",),
    "test_met": ("tests",),
    "tested_as_failed": ("tests",),
    "force_record": ("tests",),
    "force_record_within_a_year": ("tests", "site.surveyed_on"),
}
"""What it looks at besides."""


def rests_on(facts: OpeningFacts, kleene: Evaluator[bool | None], rule: Rule) -> tuple[str, ...]:
    """The facts that make a rule apply and fail, in the order of the survey; of many reasons all.

    A fact that nobody was asked for is left out where others are told: it is why the rule cannot hold, and nothing
    that anybody could look up. Only for a rule that fails.
    """
    why = _Why(facts, kleene)
    return _in_order(facts, (*why.of(rule.when)[1], *why.of(rule.holds)[1]))


def gives(facts: OpeningFacts, kleene: Evaluator[bool | None], expr: Expr) -> tuple[str, ...]:
    """The facts that give an expression its value; none where three values cannot tell it."""
    return _in_order(facts, _Why(facts, kleene).of(expr)[1])


def _in_order(facts: OpeningFacts, paths: Iterable[str]) -> tuple[str, ...]:
    found = tuple(dict.fromkeys(paths))
    told = facts.told
    known = [
        path for path in found if any(path == each or each.startswith((f"{path}.", f"{path}[")) for each in told)
    ]
    return tuple(sorted(known or found, key=lambda path: (rank(path), path)))


Told = tuple[bool | None, tuple[str, ...]]
"""A value, and the facts that give it; none where it is not known."""


@dataclass(frozen=True)
class _Why:
    """Values by Kleene's logic, each with what gives it."""

    facts: OpeningFacts
    kleene: Evaluator[bool | None]

    def of(self, expr: Expr) -> Told:
        """The value of an expression, and the facts that give it."""
        if isinstance(expr, (And, Or)):
            return _joined([self.of(item) for item in expr.items], isinstance(expr, Or))
        if isinstance(expr, Not):
            value, facts = self.of(expr.item)
            return None if value is None else not value, facts
        if isinstance(expr, Quantified):
            return self._members(expr)
        if isinstance(expr, Call):
            return self._call(expr)
        value = self.kleene.value(expr)
        paths = (expr,) if isinstance(expr, Path) else () if isinstance(expr, Const) else (expr.left, expr.right)
        looked = [each for path in paths if isinstance(path, Path) for each in self._paths(path)]
        return value, () if value is None else tuple(looked)

    def _paths(self, path: Path) -> tuple[str, ...]:
        return self.facts.paths_of(path, self.kleene.bound)

    def _members(self, expr: Quantified) -> Told:
        """Those members that tell; where none does, the list itself."""
        listed = self.facts.list_of(expr.over, self.kleene.bound)
        members = self.facts.members(expr.over, self.kleene.bound)
        if members.open is not None:
            value = self.kleene.value(expr)
            return value, () if value is None else listed
        inner = [replace(self, kleene=self.kleene.bind(**{expr.name: item})) for item in members.options[0]]
        value, found = _joined([each.of(expr.body) for each in inner], expr.kind == "any")
        named = listed if expr.over.parts[-1] == "devices" else ()  # the means of a zone name them
        return value, () if value is None else (*named, *found) or listed

    def _call(self, call: Call) -> Told:
        bound = self.kleene.bound
        definition = self.kleene.definitions.get(call.name)
        if definition is not None:
            named = dict(zip(definition.parameters, (bound[str(each)] for each in call.args), strict=True))
            return replace(self, kleene=replace(self.kleene, bound=named)).of(definition.body)
        value = self.kleene.value(call)
        paths = (each for path in call.args if isinstance(path, Path) for each in self._argument(call.name, path))
        return value, () if value is None else (*BESIDE.get(call.name, ()), *paths)

    def _argument(self, name: str, path: Path) -> tuple[str, ...]:
        """What a function looks at of the device, or the fact, that it is given."""
        member: Any = self.kleene.bound.get(str(path))
        if member is None:
            return self._paths(path)
        if isinstance(member, Imagined):
            return (member.path,)
        return tuple(f"{member.path}.{each}" for each in OF_DEVICE.get(name, ()))


def _joined(parts: Sequence[Told], one_is_enough: bool) -> Told:
    """Several values as one: True (False) where one is enough and is so, by those that are; else by all of them."""
    telling = [each for each in parts if each[0] is one_is_enough]
    if not telling and any(value is None for value, _ in parts):
        return None, ()
    value = one_is_enough if telling else not one_is_enough
    return value, tuple(path for _, paths in telling or parts for path in paths)
