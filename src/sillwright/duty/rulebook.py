"""The rules of this chapter, read once from its tables."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from sillwright.base import data
from sillwright.base.expression import Expr, parse
from sillwright.base.rule import Definition, Rule, comparisons, definition_from, rule_from
from sillwright.base.source import Source
from sillwright.survey.model import Site

_HERE = "sillwright.duty"


@dataclass(frozen=True, kw_only=True)
class Regime:
    """A set of rules with the openings it governs and what lets a leaf close under power."""

    id: str
    title: str
    where: tuple[str, ...]
    when: Expr
    allows: Expr
    source: Source


@dataclass(frozen=True, kw_only=True)
class Text:
    """What a document says that no fact of a survey decides."""

    id: str
    says: str
    where: tuple[str, ...]
    regimes: tuple[str, ...]
    before: date | None
    source: Source


@cache
def regimes() -> tuple[Regime, ...]:
    """All regimes; an opening is in at most one."""
    return tuple(
        Regime(
            id=row["id"],
            title=row["title"],
            where=tuple(row["where"]),
            when=parse(row["when"]),
            allows=parse(row["allows"]),
            source=Source(id=row["id"], **row["source"]),
        )
        for row in data.table(_HERE, "answer")["regime"]
    )


def known_at(site: Site) -> bool:
    """Whether rules are known for the place, or may be where the country is in doubt."""
    country = site.country
    possible = [country.value] if country.known else [each for each in country.rivals if each]
    return not possible or any(each in regime.where for each in possible for regime in regimes())


@cache
def rules() -> tuple[Rule, ...]:
    """All rules in the order of the table."""
    return tuple(rule_from(row) for row in data.table(_HERE, "rules")["rule"])


@cache
def definitions() -> Mapping[str, Definition]:
    """The named pieces that rules and answers are built from."""
    rows = {**data.table(_HERE, "answer")["definitions"], **data.table(_HERE, "rules")["definitions"]}
    found = [definition_from(head, body) for head, body in rows.items()]
    return {each.name: each for each in found}


@cache
def texts() -> tuple[Text, ...]:
    """What documents say beyond rules."""
    return tuple(
        Text(
            id=row["id"],
            says=row["says"],
            where=tuple(row["where"]),
            regimes=tuple(row["regimes"]),
            before=row.get("before"),
            source=Source(id=row["id"], **row["source"]),
        )
        for row in data.table(_HERE, "texts")["text"]
    )


@cache
def enforced() -> tuple[Mapping[str, Any], ...]:
    """Who enforces what, as table rows."""
    return tuple(data.table(_HERE, "enforced")["enforced"])


@cache
def thresholds() -> Mapping[str, tuple[Any, ...]]:
    """The values at which rules change their mind, by the name of the fact compared."""
    expressions = [each.body for each in definitions().values()]
    expressions += [each.when for each in regimes()] + [each.allows for each in regimes()]
    expressions += [part for rule in rules() for part in (rule.when, rule.holds)]
    found: dict[str, set[Any]] = defaultdict(set)
    for expression in expressions:
        for path, value in comparisons(expression):
            found[path.parts[-1]] |= set(value) if isinstance(value, tuple) else {value}
    found["rules_date"] |= found["made"]
    return {name: tuple(sorted(values, key=str)) for name, values in found.items()}
