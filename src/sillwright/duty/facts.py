"""The facts of one opening as rules see them: known, or one representative of each value they may have.

What rules may rest on is decided here and nowhere else: an assumption is unknown, a contradiction may be either
reading, a date known to the year may be any of its days, and a list that was never asked for is unknown where it
says what protects, and empty where it records what somebody found.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from math import inf
from typing import Any, TypeVar

from sillwright.base.errors import InputError
from sillwright.base.expression import Call, Path
from sillwright.base.fact import Fact
from sillwright.base.logic import Algebra, Variable
from sillwright.base.rule import Known, Looked, Members, Open
from sillwright.duty import chain, evidence
from sillwright.survey.devices import DEVICE_KINDS
from sillwright.survey.interval import Interval
from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Group, GroupSpec, Listing, Spec, join

T = TypeVar("T")

_NEEDED_LISTS = {"protection", "zones"}
_OPEN_LIST = ("none", "some")
_NO_VALUE = "unknown"  # a state somebody wrote down as unknown


@dataclass(frozen=True)
class Imagined:
    """A member of a list that is not known: what it would have to be, the rest open."""

    path: str
    facts: Mapping[str, Any]


GOOD_DEVICES = (
    Imagined("protection", {"id": "", "kind": "inherent", "state": "works"}),
    Imagined("protection", {"id": "", "kind": "sensing_edge", "state": "works", "circuit": "resistor"}),
    Imagined("protection", {"id": "", "kind": "photo_eye", "state": "works", "circuit": "optical", "height": 0.1}),
    Imagined(
        "protection", {"id": "", "kind": "light_curtain", "state": "works", "circuit": "optical", "height": 9.0}
    ),
)
"""Stands for a list of devices that nobody has taken down yet: one of each sort, all working."""


@cache
def ranks() -> dict[str, int]:
    """The place of every fact in the order of the survey; members of lists share theirs."""
    found: list[str] = []

    def walk(group: type[Group], path: str) -> None:
        for name, spec in group.specs.items():
            here = join(path, name)
            found.append(here)
            if isinstance(spec, GroupSpec):
                walk(spec.group, f"{here}.*" if spec.many else here)

    walk(Site, "site")
    walk(Opening, "")
    return {path: index for index, path in enumerate(found)}


def rank(path: str) -> int:
    """The place of a fact like ``protection.e1.circuit`` or ``stations[0].closes``."""
    known = ranks()
    parts = path.replace("[", ".").replace("]", "").split(".")
    here = ""
    for part in parts:
        here = join(here, part) if join(here, part) in known else join(here, "*")
    return known.get(here, known.get(parts[0], len(known)))


class OpeningFacts:
    """The facts of one opening at one site, for :class:`sillwright.base.rule.Evaluator`."""

    def __init__(self, site: Site, opening: Opening, thresholds: Mapping[str, Sequence[Any]]) -> None:
        self.site = site
        self.opening = opening
        self.thresholds = thresholds

    # facts

    def look(self, path: Path, bound: Mapping[str, Any]) -> Looked:
        """A fact's value, or the values it may have."""
        owner, name = self._owner(path, bound)
        if isinstance(owner, Imagined):
            if name in owner.facts:
                return Known(owner.facts[name])
            return Open(self._variable(f"{owner.path}.{name}"), self._domain(_device_spec(name)))
        fact, spec = getattr(owner, name), owner.specs[name]
        if not isinstance(spec, Spec):
            raise InputError(f"“{path}” is not a single fact")
        return self._looked(fact, spec)

    def _owner(self, path: Path, bound: Mapping[str, Any]) -> tuple[Any, str]:
        first, *rest = path.parts
        if str(path) == "operator.rules_date":
            return self.opening.operator, self._dating()
        owner: Any = self.site if first == "site" else bound.get(first, self.opening)
        names = rest if first == "site" or first in bound else list(path.parts)
        for name in names[:-1]:
            owner = getattr(owner, name)
        return owner, names[-1]

    def _dating(self) -> str:
        """Which date decides the device rules: a newer board's own, where one was fitted."""
        board = self.opening.operator.board_made
        return "board_made" if board.standing in {"known", "two readings"} and board.readings else "made"

    def _looked(self, fact: Fact[Any], spec: Spec) -> Looked:
        variable = self._variable(fact.path)
        if fact.standing == "known" and fact.value is not None and fact.value != _NO_VALUE:
            if spec.kind == "date":
                return Open(variable, self._days([fact.value], spec.name))
            return Known(fact.value)
        rivals = [value for value in fact.rivals if value is not None and value != _NO_VALUE]
        if len(rivals) == len(fact.rivals) and rivals:
            return Open(variable, self._days(rivals, spec.name) if spec.kind == "date" else tuple(rivals))
        return Open(variable, self._domain(spec))

    def _variable(self, fact: str, aspect: str = "") -> Variable:
        return Variable(rank(fact), fact, aspect)

    def _domain(self, spec: Spec) -> tuple[Any, ...]:
        if spec.kind == "flag":
            return (True, False)
        if spec.kind == "choice":
            return tuple(choice for choice in spec.choices if choice != _NO_VALUE)
        if spec.kind == "date":
            return self._days([Interval(date(1900, 1, 1), date(2100, 12, 31))], spec.name)
        steps = sorted(value for value in self.thresholds.get(spec.name, ()) if isinstance(value, (int, float)))
        if spec.kind in {"quantity", "count"} and steps:
            below = [
                step
                for low, step in zip([-inf, *steps], steps, strict=False)
                for step in (_between(low, step), step)
            ]
            return (*below, steps[-1] + 1.0)
        return (0.0, 1e9) if spec.kind in {"quantity", "count"} else ("",)

    def _days(self, intervals: Sequence[Interval], name: str) -> tuple[date, ...]:
        name = "rules_date" if name in {"made", "board_made"} else name
        cuts = [cut for cut in self.thresholds.get(name, ()) if isinstance(cut, date)]
        days = {day for each in intervals for day in (each.first, each.last)}
        for cut in cuts:
            days |= {
                day for each in intervals for day in (cut - timedelta(1), cut) if each.first <= day <= each.last
            }
        return tuple(sorted(days))

    # lists

    def members(self, path: Path, bound: Mapping[str, Any]) -> Members:
        """The members of a list; imagined ones where it is not known and must be."""
        if str(path) == "all_controls":
            return Members(items=(*self.opening.controls, *self.opening.operator.controls))
        if path.parts[-1] == "devices" and path.parts[0] in bound:
            return self._means(bound[path.parts[0]])
        listing: Listing[Any] = getattr(self.opening, str(path))
        if listing.standing == "known":
            return Members(items=listing.items)
        if listing.standing == "not asked" and str(path) not in _NEEDED_LISTS:
            return Members()
        some = Open(self._variable(str(path)), _OPEN_LIST)
        imagined: tuple[Any, ...] = GOOD_DEVICES if str(path) == "protection" else (Imagined(str(path), {}),)
        return Members(items=imagined, open=some)

    def _means(self, zone: Any) -> Members:
        """The devices that a zone names, by id or by kind; a name that is neither stands for an unknown device."""
        if isinstance(zone, Imagined) or not zone.means.known or zone.means.value is None:
            where = zone.path if isinstance(zone, Imagined) else zone.means.path
            return Members(items=GOOD_DEVICES, open=Open(self._variable(where), _OPEN_LIST))
        found: list[Any] = []
        for name in zone.means.value:
            matching = [each for each in self.opening.protection if name in {each.id.value, each.kind.value}]
            kind = {"kind": name} if name in DEVICE_KINDS else {}
            found += matching or [Imagined(f"protection.{name}", {"id": name, **kind})]
        return Members(items=tuple({id(each): each for each in found}.values()))

    # functions

    def call(self, call: Call, bound: Mapping[str, Any], algebra: Algebra[T]) -> T:
        """What cannot be said in the rule language: evidence, chains and records."""
        if call.name == "stated":
            return algebra.const(self._stated(Path(call.args[0].parts), bound))  # type: ignore[union-attr]
        if call.name == "ask":
            return algebra.test(self._variable(str(call.args[0])), (True, False), bool)
        if call.name == "listed":
            return chain.listed(self.opening, bound[str(call.args[0])], algebra, self._variable)
        if call.name == "reaches_an_input":
            return algebra.const(chain.reaches_an_input(self.opening, bound[str(call.args[0])]))
        if call.name == "read_as_failed":
            return algebra.const(evidence.read_as_failed(self.opening, bound[str(call.args[0])]))
        if call.name in {"test_met", "listed_to", "within_a_year"}:
            said = getattr(evidence, call.name)(self, *call.args)
            fact = {"test_met": "tests", "listed_to": "operator.listed_to"}.get(call.name, str(call.args[0]))
            return self._three(said, fact, algebra)
        if call.name == "tested_as_failed":
            return algebra.const(bool(evidence.failed_tests(self.opening)))
        if call.name == "force_record":
            return self._three(evidence.force_record(self.opening), "tests", algebra)
        raise InputError(f"unknown function “{call.name}” in a rule")

    def _three(self, said: bool | None, fact: str, algebra: Algebra[T]) -> T:
        if said is None:
            return algebra.test(self._variable(fact), (True, False), bool)
        return algebra.const(said)

    def _stated(self, path: Path, bound: Mapping[str, Any]) -> bool:
        owner, name = self._owner(path, bound)
        if isinstance(owner, Imagined):
            return name in owner.facts
        fact = getattr(owner, name)
        if isinstance(fact, Listing):
            return fact.standing == "known"
        told = fact.standing == "known" and fact.value is not None and fact.value != _NO_VALUE
        return bool(told or fact.standing == "two readings")


def _between(low: float, high: float) -> float:
    return high - 1.0 if low == -inf else (low + high) / 2


def _device_spec(name: str) -> Spec:
    from sillwright.survey.devices import Protection, Zone

    spec = Protection.specs.get(name) or Zone.specs.get(name)
    if not isinstance(spec, Spec):
        raise InputError(f"a device has no fact “{name}”")
    return spec
