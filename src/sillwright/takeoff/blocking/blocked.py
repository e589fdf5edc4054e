"""What stands against ordering, each with what releases it: an assumption or an unknown never releases an order."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from sillwright.base.fact import Fact
from sillwright.base.words import N_
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.profile import Profile
from sillwright.survey.asks import plausibility
from sillwright.survey.model import Opening, Site
from sillwright.survey.spec import Spec
from sillwright.takeoff.answer import Block, Body, Lead
from sillwright.takeoff.blocking.blocked_door import classified, fabric, fire_door, kind
from sillwright.takeoff.blocking.blocked_lead import last_time, lead_asked, lead_end, wires
from sillwright.takeoff.blocking.blocked_length import lengths, questions
from sillwright.takeoff.blocking.blocks import block, titles
from sillwright.takeoff.lengths.repeats import too_far_apart

NOT_OF_AN_ORDER = re.compile(
    r"^(tag|name|use|tests|statements|incident|parts_kept|last_work|photos|readings|temporary_parts|defeats|as_found)\b"
)
"""Facts that no part of an order rests on: a contradiction among them is asked about and blocks nothing."""
Facts = tuple[tuple[Spec, Fact[Any]], ...]
OURS_NOT = {"rolling_fire", "high_speed"}
"""Leaves whose edges come through the door's maker: questions of length and lead are the maker's."""


def blocked(
    site: Site,
    opening: Opening,
    bodies: Sequence[Body],
    lead: Lead,
    profile: Profile | None = None,
    input: OperatorInput | None = None,
) -> tuple[Block, ...]:
    """Why an order for this opening cannot be released and what would release it; none where nothing is in the way.

    A classified area: any words but a plain “none” count, also a question mark. It blocks until the owner's
    document is named – a reading from a plate, from instructions or a photo, with its evidence – and after that
    until the profile's only circuit is air, with the switch outside the area; whether an electric circuit is listed
    for a class is not read here. Not asked for, and asked without an answer, blocks nothing: hardly any doorway is
    classified.

    A contradiction blocks wherever it touches a part of the order: not among use, tests, statements and the like.

    Source: trade rules of thumb, from memory.
    """
    ours = opening.door.kind.value not in OURS_NOT
    asked, facts = plausibility(opening), tuple(opening.facts())
    parts = (
        kind(opening),
        fire_door(opening),
        fabric(opening),
        classified(opening, profile),
        _two_readings(site, opening, facts),
        _decimal_feet(opening, facts),
        *((lengths(opening, bodies, asked), questions(opening, asked)) if ours else ()),
        *(
            (lead_end(opening, lead), lead_asked(opening, lead, asked), wires(opening, profile, input))
            if ours
            else ()
        ),
        last_time(opening),
    )
    return tuple(each for part in parts for each in part)


def _two_readings(site: Site, opening: Opening, facts: Facts) -> Iterator[Block]:
    two = [fact.path for _, fact in (*site.facts(), *facts) if fact.standing == "two readings"]
    lists = [each.path for _, each in opening.listings() if each.standing == "two readings"]
    apart = [fact.path for _, fact in too_far_apart(facts)]
    paths = [path for path in (*two, *lists, *apart) if not NOT_OF_AN_ORDER.search(path)]
    if paths:
        yield block(
            "two_readings",
            N_("Readings contradict each other: {facts}."),
            N_("Settle them with the people who took them down, or measure again."),
            *paths,
            facts=titles(opening, paths),
        )


def _decimal_feet(opening: Opening, facts: Facts) -> Iterator[Block]:
    """ASK-1, unless a measured reading outranks the text: it is not the one in use then."""
    paths = [
        fact.path
        for _, fact in facts
        if not NOT_OF_AN_ORDER.search(fact.path)
        and (fact.doubtful or (fact.rivals and any(each.doubtful for each in fact.readings)))
    ]
    if paths:
        yield block(
            "decimal_feet",
            N_("Feet with a decimal point can be read two ways: {facts}."),
            N_("Ask whoever took it down, or measure again."),
            *paths,
            facts=titles(opening, paths),
        )
