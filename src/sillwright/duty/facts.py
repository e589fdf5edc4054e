"""The facts of one opening as rules see them: known, or one representative of each value they may have.

What rules may rest on is decided here and nowhere else: an assumption is unknown, a contradiction may be either
reading, a date known to the year may be any of its days, and a list that was never asked for is unknown where it
says what protects, and empty where it records what somebody found.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache, cached_property, lru_cache
from math import inf
from typing import Any, TypeVar

from sillwright.base.errors import InputError
from sillwright.base.expression import Call, Const, Path
from sillwright.base.fact import Fact
from sillwright.base.logic import Algebra, Variable
from sillwright.base.rule import Known, Looked, Members, Open
from sillwright.duty import chain, evidence
from sillwright.duty.dated import deciding_dates
from sillwright.duty.evidence import Judged
from sillwright.duty.zones import underneath
from sillwright.survey.devices import DEVICE_KINDS, Protection, Zone
from sillwright.survey.interval import Interval
from sillwright.survey.model import Opening, Site, Station
from sillwright.survey.operator import Control
from sillwright.survey.spec import Group, GroupSpec, Listing, Spec, join

T = TypeVar("T")

COUNTRIES = ("US", "DE", "")  # one of each set of rules, and one without
NEEDED_LISTS = {"protection", "zones"}
NO_VALUE = "unknown"  # a state somebody wrote down as unknown


@dataclass(frozen=True)
class Imagined:
    """A member of a list that is not known: what it would have to be, the rest open."""

    path: str
    group: type[Group]
    facts: Mapping[str, Any]


def _device(**facts: Any) -> Imagined:
    return Imagined("protection", Protection, {"id": "", **facts})


GOOD_DEVICES = (
    _device(kind="inherent", state="works"),
    _device(kind="sensing_edge", state="works", circuit="resistor"),
    _device(kind="photo_eye", state="works", circuit="optical", height=0.1),
    _device(kind="light_curtain", state="works", circuit="optical", height=9.0),
)
"""Stands for a list of devices that nobody has taken down yet: one of each sort, all working."""

IMAGINED: dict[type[Group], tuple[Imagined, ...]] = {
    Protection: GOOD_DEVICES,
    Zone: (Imagined("zones", Zone, {"direction": "both"}),),
    Station: (Imagined("stations", Station, {"closes": True, "in_view": False}),),
    Control: (Imagined("controls", Control, {"kind": "portable", "closes": True}),),
}
"""What a list would have to hold to matter, where nobody knows what it holds."""


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


@lru_cache(4_096)
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
        if str(path) == "operator.rules_date":
            return self._rules_date()
        owner, name = self._owner(path, bound)
        if isinstance(owner, Imagined):
            if name in owner.facts:
                return Known(owner.facts[name])
            return Open(self._variable(f"{owner.path}.{name}"), self._domain(_spec_of(owner, name)))
        fact, spec = getattr(owner, name), owner.specs[name]
        if not isinstance(spec, Spec):
            raise InputError(f"“{path}” is not a single fact")
        return self._looked(fact, spec)

    def _owner(self, path: Path, bound: Mapping[str, Any]) -> tuple[Any, str]:
        first, *rest = path.parts
        owner: Any = self.site if first == "site" else bound.get(first, self.opening)
        names = rest if first == "site" or first in bound else list(path.parts)
        for name in names[:-1]:
            owner = getattr(owner, name)
        return owner, names[-1]

    def _rules_date(self) -> Looked:
        """The date that decides the device rules; where either date is in doubt every pair is tried."""
        operator = self.opening.operator
        board, made = operator.board_made, operator.made
        spec = type(operator).specs["made"]
        boards = [value for value in (board.value, *board.rivals) if value is not None]
        if not boards and isinstance(spec, Spec):
            return self._looked(made, spec)
        dates = deciding_dates(operator)
        if made.standing == "assumed":
            dates = [*dates, *boards]
        doubtful = board if board.standing != "known" else made
        if board.standing == "assumed":
            dates = [Interval(date(1900, 1, 1), date(2100, 12, 31))]
        named = doubtful if len(set(dates)) > 1 else board
        # an aspect of its own: these are not all the values that the date itself may have
        return Open(self._variable(named.path, "rules"), self._days(dates, "rules_date"))

    def _looked(self, fact: Fact[Any], spec: Spec) -> Looked:
        variable = self._variable(fact.path)
        if fact.path == "site.country" and not fact.known and not fact.rivals:
            return Open(variable, COUNTRIES)
        if fact.standing == "known" and fact.value is not None and fact.value != NO_VALUE:
            if spec.kind == "date":
                return Open(variable, self._days([fact.value], spec.name))
            return Known(fact.value)
        rivals = [value for value in fact.rivals if value is not None and value != NO_VALUE]
        if len(rivals) == len(fact.rivals) and rivals:
            return Open(variable, self._days(rivals, spec.name) if spec.kind == "date" else tuple(rivals))
        return Open(variable, self._domain(spec))

    def _variable(self, fact: str, aspect: str = "") -> Variable:
        """Ordered member by member: what belongs together stays together, and diagrams stay small."""
        root = fact.split(".")[0].split("[")[0]
        listed = root in Opening.specs and getattr(Opening.specs[root], "many", False)
        return Variable(rank(root) if listed else rank(fact), fact, aspect)

    def _domain(self, spec: Spec) -> tuple[Any, ...]:
        if spec.kind == "flag":
            return (True, False)
        if spec.kind == "choice":
            return tuple(choice for choice in spec.choices if choice != NO_VALUE)
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
        if str(path) == "operator_controls":
            return self._listed(self.opening.operator.controls)
        if path.parts[-1] == "devices" and path.parts[0] in bound:
            return self._means(bound[path.parts[0]])
        return self._listed(getattr(self.opening, str(path)))

    def _listed(self, listing: Listing[Any]) -> Members:
        if listing.standing == "known":
            return Members(options=(listing.items,))
        if listing.standing == "two readings":
            number = Open(self._variable(listing.path), tuple(range(len(listing.rivals))))
            return Members(options=listing.rivals, open=number)
        if listing.standing == "not asked" and listing.path not in NEEDED_LISTS:
            return Members()
        group = Opening.specs[listing.path.rpartition(".")[2]].group  # type: ignore[union-attr]
        some = IMAGINED.get(group) or (Imagined(listing.path, group, {}),)
        return Members(options=((), some), open=Open(self._variable(listing.path), (0, 1)))

    def _means(self, zone: Any) -> Members:
        """The devices that a zone names, by id or by kind; a name that is neither is no device that is there."""
        if isinstance(zone, Imagined) or not zone.means.known or zone.means.value is None:
            where = zone.path if isinstance(zone, Imagined) else zone.means.path
            return Members(options=((), GOOD_DEVICES), open=Open(self._variable(where), (0, 1)))
        names = zone.means.value
        there = self._listed(self.opening.protection)
        options = []
        for devices in there.options:
            found = [each for name in names for each in devices if name in self._names(each)]
            options.append(tuple({id(each): each for each in found}.values()))
        return Members(options=tuple(options), open=there.open)

    def _names(self, device: Any) -> set[Any]:
        if isinstance(device, Imagined):  # it may be called by any id
            ids = {
                name for zone in self.opening.zones for name in zone.means.value or () if name not in DEVICE_KINDS
            }
            return {device.facts["kind"], *ids}
        return {device.id.value, device.kind.value}

    # what a verdict rests on

    def paths_of(self, path: Path, bound: Mapping[str, Any]) -> tuple[str, ...]:
        """The facts that a path of a rule looks at, by their own paths; of an imagined member its list."""
        if str(path) == "operator.rules_date":
            return ("operator.made", "operator.board_made")
        owner, name = self._owner(path, bound)
        return (owner.path,) if isinstance(owner, Imagined) else (join(owner.path, name),)

    def list_of(self, path: Path, bound: Mapping[str, Any]) -> tuple[str, ...]:
        """The list that a path of a rule goes through; the devices of a zone are named by its means."""
        if str(path) == "operator_controls":
            return ("operator.controls",)
        if path.parts[-1] == "devices" and path.parts[0] in bound:
            zone = bound[path.parts[0]]
            return (zone.path if isinstance(zone, Imagined) else zone.means.path,)
        return (str(path),)

    @cached_property
    def told(self) -> set[str]:
        """Every fact and every list that anybody was asked for."""
        groups = (self.site, self.opening)
        facts = {fact.path for group in groups for _, fact in group.facts() if fact.standing != "not asked"}
        lists = {each.path for group in groups for _, each in group.listings() if each.standing != "not asked"}
        return facts | lists

    # functions

    def call(self, call: Call, bound: Mapping[str, Any], algebra: Algebra[T]) -> T:
        """What cannot be said in the rule language: evidence, chains and records."""
        if call.name == "stated":
            return algebra.const(self._stated(Path(call.args[0].parts), bound))  # type: ignore[union-attr]
        if call.name == "asked":
            owner, name = self._owner(Path(call.args[0].parts), bound)  # type: ignore[union-attr]
            return algebra.const(isinstance(owner, Imagined) or getattr(owner, name).standing != "not asked")
        if call.name == "unsaid":
            return algebra.const(self._unsaid(Path(call.args[0].parts), bound))  # type: ignore[union-attr]
        if call.name == "ask":
            return algebra.test(self._variable(str(call.args[0]), "whole"), (True, False), bool)
        if call.name == "listed":
            return chain.listed(self.opening, bound[str(call.args[0])], algebra, self._variable)
        return self._judged(self._record(call, bound), algebra, _asked_of(call, bound))

    def _record(self, call: Call, bound: Mapping[str, Any]) -> Judged:
        """What a function of the rule language says of the records of this opening."""
        opening, surveyed = self.opening, self.site.surveyed_on.value
        argument = call.args[0] if call.args else None
        if isinstance(argument, Path):
            return self._record_of(call.name, argument, bound)
        word = str(argument.value) if argument else ""
        if call.name == "listed_to":
            listed = opening.operator.listed_to
            return Judged(word in (listed.value or ()) if listed.known else None, (listed.path,))
        records: dict[str, Callable[[Any], Judged]] = {
            "test_met": lambda tests: evidence.test_met(tests, word),
            "tested_as_failed": evidence.tested_as_failed,
            "force_record": evidence.force_record,
            "force_record_within_a_year": lambda tests: evidence.force_record_within_a_year(tests, surveyed),
        }
        if call.name not in records:
            raise InputError(f"unknown function “{call.name}” in a rule")
        return _over(opening.tests, records[call.name])

    def _record_of(self, name: str, argument: Path, bound: Mapping[str, Any]) -> Judged:
        """What a record says of one device or one fact."""
        if name == "within_a_year":
            owner, last = self._owner(argument, bound)
            fact, surveyed = getattr(owner, last), self.site.surveyed_on.value
            return Judged(evidence.within_a_year(fact.value if fact.known else None, surveyed), (fact.path,))
        device = bound[str(argument)]
        if name == "reaches_an_input":
            return chain.reaches_an_input(self.opening, device)
        if name == "reverses_there":
            return chain.reverses_there(self.opening, device)
        if name == "underneath":
            return underneath(device)
        if name == "read_as_failed":
            return _over(self.opening.readings, lambda some: evidence.read_as_failed(self.opening, device, some))
        raise InputError(f"unknown function “{name}” in a rule")

    def _judged(self, judged: Judged, algebra: Algebra[T], asked: str) -> T:
        """Open where any of the facts it waits for may turn it; each question has an answer of its own."""
        if judged.value is not None:
            return algebra.const(judged.value)
        return algebra.all_of(
            [algebra.test(self._variable(path, asked), (True, False), bool) for path in judged.open]
        )

    def _unsaid(self, path: Path, bound: Mapping[str, Any]) -> bool:
        """Whether nobody has said anything of a fact, or only that it is not known."""
        owner, name = self._owner(path, bound)
        if isinstance(owner, Imagined):
            return name not in owner.facts
        fact = getattr(owner, name)
        return fact.standing in {"not asked", "not known", "none there"} or bool(
            fact.known and fact.value == NO_VALUE
        )

    def _stated(self, path: Path, bound: Mapping[str, Any]) -> bool:
        owner, name = self._owner(path, bound)
        if isinstance(owner, Imagined):
            return name in owner.facts
        fact = getattr(owner, name)
        if isinstance(fact, Listing):
            return fact.standing == "known"
        told = fact.standing == "known" and fact.value is not None and fact.value != NO_VALUE
        return bool(told or fact.standing in {"two readings", "assumed"})  # an assumption may hide a harm


def _between(low: float, high: float) -> float:
    return high - 1.0 if low == -inf else (low + high) / 2


def _asked_of(call: Call, bound: Mapping[str, Any]) -> str:
    """What is asked, of which device or fact: “a test failed” and “a force record is met” are two questions."""
    said = [str(each.value) if isinstance(each, Const) else _path_in(each, bound) for each in call.args]
    return " ".join(("record", call.name, *said))


def _path_in(path: Path, bound: Mapping[str, Any]) -> str:
    """A path with the member that its first word stands for."""
    first, *rest = path.parts
    member = bound.get(first)
    return ".".join((first if member is None else member.path, *rest))


def _over(listing: Listing[Any], judge: Callable[[Any], Judged]) -> Judged:
    """What records say; where two readings of the list differ, only what both say."""
    if listing.standing in {"known", "not asked"}:
        return judge(listing.items)
    found = [judge(items) for items in listing.rivals]
    if found and all(each == found[0] for each in found):
        return found[0]
    return Judged(None, (listing.path,))


def _spec_of(member: Imagined, name: str) -> Spec:
    spec = member.group.specs.get(name)
    if not isinstance(spec, Spec):
        raise InputError(f"{member.path} has no fact “{name}”")
    return spec
