"""What surrounds a leaf, as the take-off asks it: cold, heat, water, hands, and whether the law limits force."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from sillwright.base import data
from sillwright.base.fact import Fact
from sillwright.survey.model import Opening, Site

_NO = {"none", "no", "no.", "not", "never", "false", "dry", "nothing"}
_OPEN = {"", "?", "unknown", "not known", "ask", "n/a"}


def values_of(fact: Fact[Any]) -> tuple[Any, ...]:
    """Every value that a fact may have: its own, or those of its readings that do not agree."""
    return tuple(value for value in (fact.value, *fact.rivals) if value is not None)


def of_all(values: Iterable[Any], test: Callable[[Any], bool]) -> bool | None:
    """Whether a test holds for all values: None where there are none, or it holds for some only.

    >>> of_all((1, 2), lambda each: each > 0), of_all((1, 2), lambda each: each > 1), of_all((), bool)
    (True, None, None)
    """
    found = {bool(test(each)) for each in values}
    return found.pop() if len(found) == 1 else None


def coldest(site: Site, opening: Opening) -> float | None:
    """The lowest temperature at either side of the leaf, in kelvin; None where nobody took one down."""
    around = opening.surroundings
    known = (*values_of(site.coldest), *values_of(around.cold_side))
    return min((*known, *values_of(around.warm_side))) if known else None


def hottest(site: Site, opening: Opening) -> float | None:
    """The highest temperature at either side of the leaf, in kelvin; None where nobody took one down."""
    around = opening.surroundings
    known = (*values_of(site.hottest), *values_of(around.warm_side))
    return max((*known, *values_of(around.cold_side))) if known else None


def said_yes(fact: Fact[str]) -> bool | None:
    """What a text says to a question of yes or no: any text is a yes but those that say no, or that nobody knows.

    >>> said_yes(Fact(path="", standing="known", value="foam, daily")), said_yes(Fact(path="", value="None"))
    (True, False)
    """
    if fact.standing == "none there":
        return False
    told = {_yes(text) for text in values_of(fact)}
    return told.pop() if len(told) == 1 else None


def _yes(text: str) -> bool | None:
    word = text.strip().lower()
    return None if word in _OPEN else word not in _NO


def washed(opening: Opening) -> bool | None:
    """Whether the leaf is washed down."""
    return said_yes(opening.surroundings.wash_down)


def touched_by_public(opening: Opening) -> bool | None:
    """Whether children or the public can come near: yes if one fact says so, no only if nothing is left open."""
    use = opening.use
    facts = (of_all(values_of(use.children), bool), of_all(values_of(use.public), bool))
    users = of_all(values_of(use.users), lambda word: word != "trained")
    if True in facts or users is True:
        return True
    return False if users is False or None not in facts else None


def force_limited(site: Site) -> bool | None:
    """Whether a limit on the force of the closing leaf is law there; None for countries that nobody looked into."""
    table = data.table("sillwright.takeoff", "profiles")["force_limit"]
    told = {_limited(country, table) for country in values_of(site.country)}
    return told.pop() if len(told) == 1 else None


def _limited(country: str, table: Mapping[str, Any]) -> bool | None:
    if country in table["where"]:
        return True
    return False if country in table["not_where"] else None
