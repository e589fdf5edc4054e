"""Surveys made at random from the declarations of the facts: every kind of fact, every word, every origin."""

from __future__ import annotations

from random import Random
from typing import Any

from sillwright.base.fact import ORIGINS
from sillwright.survey.door import KINDS
from sillwright.survey.from_facts import node_of
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import FORMAT, Opening, Survey
from sillwright.survey.spec import Group, GroupSpec, Spec

COUNTRIES = ("US", "US", "DE", "GB", "JP")
WRITTEN = ("7-7", "Q1", "x 9")
"""Texts without a word in them, so that what people write never looks like a sentence."""


def survey_at_random(seed: int) -> Survey:
    """A site with one opening; the same one for the same seed."""
    random = Random(seed)  # noqa: S311 - chosen for variety, nothing is kept secret by it
    opening = _group(Opening, random, share=random.choice((0.4, 0.7, 0.95)))
    door = {**opening.get("door", {}), "kind": KINDS[seed % len(KINDS)], "clear_width": 3.1, "clear_height": 2.7}
    opening |= {"tag": "T7", "door": door}
    site = {"name": "Q1", "country": COUNTRIES[seed % len(COUNTRIES)], "surveyed_on": "2026-03-04"}
    return survey_from(node_of({"format": FORMAT, "site": site, "openings": [opening]}), "random")


def _group(kind: type[Group], random: Random, share: float) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, spec in kind.specs.items():
        if name == "id" or random.random() > share:
            continue
        found[name] = _of_group(spec, random, share) if isinstance(spec, GroupSpec) else _fact(spec, random)
    return found


def _of_group(spec: GroupSpec, random: Random, share: float) -> Any:
    if not spec.many:
        return _group(spec.group, random, share)
    members = [_group(spec.group, random, 0.8) for _ in range(random.randrange(3))]
    for number, member in enumerate(members):
        if "id" in spec.group.specs:
            member["id"] = f"e{number}"
    return [member for member in members if member]


def _fact(spec: Spec, random: Random) -> Any:
    ways = random.random()
    if ways < 0.05:
        return None
    if ways < 0.15 and spec.kind not in {"texts", "points"}:
        origins = random.sample(ORIGINS, 2)
        return [
            {"value": _value(spec, random), "from": origin, "by": "P2", "on": "2026-03-01"} for origin in origins
        ]
    if ways < 0.2:
        return {"value": None, "from": "measured"}
    if ways < 0.4:
        return {"value": _value(spec, random), "from": random.choice(ORIGINS)}
    return _value(spec, random)


def _value(spec: Spec, random: Random) -> Any:
    limits = spec.limits
    low = limits.at_least if limits.at_least is not None else 0.0
    high = min(limits.at_most if limits.at_most is not None else 10.0, low + 10.0)
    number = round(random.uniform(low, high), 3)
    if spec.kind == "quantity" and spec.unit == "m" and random.random() < 0.3:
        return f"{max(1, round(low * 4))}.5 ft" if high > 5 else number
    return {
        "quantity": number,
        "count": float(round(number)) if spec.whole else number,
        "choice": random.choice(spec.choices or ("",)),
        "flag": random.random() < 0.5,
        "date": random.choice(("2009", "2014-03", "2026-02-01")),
        "money": "400 US/h".replace("US", "USD"),
        "texts": list(WRITTEN[: random.randrange(3)]),
        "points": [[0.0, 0.0], [round(random.uniform(0.1, 2.0), 2), 0.01]],
        "text": random.choice(WRITTEN),
    }[spec.kind]
