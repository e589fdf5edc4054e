"""The bodies of an opening's edge: what would be ordered by the measurements there are."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from sillwright.base.fact import Fact
from sillwright.base.words import Phrase, Sentence
from sillwright.catalogue.profile import Profile
from sillwright.survey.model import Opening, Site
from sillwright.takeoff.answer import Body
from sillwright.takeoff.leads.lead import lead
from sillwright.takeoff.lengths._length import length
from sillwright.takeoff.lengths.body_findings import body_findings, opening_findings
from sillwright.takeoff.lengths.length_facts import Basis, bases, facts_of_the_body, weakest
from sillwright.takeoff.lengths.length_model import EdgeLengths, LengthResult
from sillwright.takeoff.lengths.measure_how import FACT_OF
from sillwright.takeoff.lengths.measures import ROUND_OFF

Computed = tuple[Basis, LengthResult]
TOGETHER = ("body_length", "channel_length", "sensing_length", "piece_length", "order_length", "purchase_length")
"""Lengths that are told only where every reading gives the same."""


def bodies(site: Site, opening: Opening, profile: Profile | None = None) -> tuple[Body, ...]:
    """The bodies of an opening, the one that matters most first; none while the kind of leaf is not known.

    Lengths are what would be ordered by the measurements there are, also where the order is blocked: of repeated
    measurements the smallest, told and assumed ones as they are, marked by their origin. Where readings contradict
    each other a length stands only if every reading gives the same, and of dead strips the worse. Without a
    ``profile`` its dead ends are not known, and 2 in is taken at each end.
    """
    computed = [(basis, length(basis.case)) for basis in bases(opening, profile, lead(opening).end)]
    places = dict.fromkeys(each.place for _, result in computed for each in result.bodies)
    found = [_body(site, opening, computed, place) for place in places]
    if found:
        more = tuple(opening_findings(opening, computed, found[0].body))
        found[0] = replace(found[0], findings=(*found[0].findings, *more))
    return tuple(found)


def _body(site: Site, opening: Opening, computed: list[Computed], place: str) -> Body:
    told = [(basis, result, each) for basis, result in computed for each in result.bodies if each.place == place]
    basis, _, first = told[0]
    everywhere = len(told) == len(computed)
    same = {name: _agreed([getattr(each, name) for *_, each in told], everywhere) for name in TOGETHER}
    facts = facts_of_the_body(basis, first)
    assumptions = tuple(dict.fromkeys(said for _, each, _ in told for said in each.assumptions))
    body = Body(
        place=first.place,
        rule=first.rule,
        body=same["body_length"],
        sensing=same["sensing_length"],
        channel=same["channel_length"],
        pieces=max(each.piece_count for *_, each in told),
        piece=same["piece_length"],
        dead_left=_worse(each.dead_left for *_, each in told),
        dead_right=_worse(each.dead_right for *_, each in told),
        measured=tuple(fact.path for fact in facts),
        origin=weakest(facts),
        by=", ".join(dict.fromkeys(fact.reading.by for fact in facts if fact.reading and fact.reading.by)),
        usual_mistake=_sentence(first.usual_mistake) if same["body_length"] is not None else None,
        informs_only=any(each.informs_only for *_, each in told),
        missing=_missing(opening, facts, [each for *_, each in told]),
        count=first.count if len({each.count for *_, each in told}) == 1 else None,
        order=same["order_length"],
        order_word=first.order_word,
        clearance=first.clearance,
        joint_dead=first.joint_dead,
        starts_at=first.starts_at,
        ends_at=first.ends_at,
        purchase=same["purchase_length"],
        dead_known=None not in (basis.case.dead_end_lead, basis.case.dead_end_far),
        assumptions=tuple(Sentence(each.template, each.values) for each in assumptions if isinstance(each, Phrase)),
    )
    return replace(body, findings=tuple(body_findings(site, body, basis, [each.body_length for *_, each in told])))


def _agreed(values: list[float | None], everywhere: bool) -> float | None:
    """What every reading gives; None where they differ."""
    first = values[0]
    if not everywhere or first is None:
        return None
    return first if all(each is not None and abs(each - first) <= ROUND_OFF for each in values) else None


def _worse(strips: Iterable[float | None]) -> float | None:
    found = list(strips)
    return None if None in found else max((each for each in found if each is not None), default=None)


def _sentence(phrase: str | None) -> Sentence | None:
    return Sentence(phrase.template, phrase.values) if isinstance(phrase, Phrase) else None


def _missing(opening: Opening, facts: tuple[Fact[Any], ...], told: list[EdgeLengths]) -> tuple[str, ...]:
    """Facts that are missing, and the one that should stand where another took its place."""
    names = dict.fromkeys(FACT_OF[name] for each in told for name in each.missing)
    if opening.door.serial.value is not None:
        names.pop("door.serial", None)
    for fallback, wanted in FALLBACK.get(opening.door.kind.value or "", {}).items():
        if any(fact.path == fallback for fact in facts):
            names[wanted] = None
    return tuple(names)


FALLBACK = {"sectional": {"door.leaf_width": "door.panel_width"}}
"""By kind: a fact that stands in for a missing one, marked as such."""
