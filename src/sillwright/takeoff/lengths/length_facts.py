"""The facts of an opening that the length of its edge rests on, and the cases they make: one for each reading."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import islice, product
from typing import Any

from sillwright.base.fact import WEIGHT, Fact
from sillwright.catalogue.profile import Profile
from sillwright.survey.devices import Zone
from sillwright.survey.model import Opening
from sillwright.survey.spec import Listing
from sillwright.survey.zone_place import BENEATH
from sillwright.takeoff.lengths.length_model import EdgeLengths, Guides, LengthCase
from sillwright.takeoff.lengths.measures import above, number
from sillwright.takeoff.lengths.repeats import narrowed
from sillwright.takeoff.lengths.rules_of_length import GUIDED as GUIDED

MOST_CASES = 64
"""Combinations of readings that are computed; more than that nobody disagrees about."""
BETWEEN_GUIDES = {
    "guide_clear_floor": ("door.guide_clear.floor",),
    "guide_clear_chest": ("door.guide_clear.chest",),
    "guide_clear_head": ("door.guide_clear.head",),
    "seat_length": ("door.bottom.seat_length",),
    "bar_overall": ("door.bottom.bar_overall",),
}
USED: Mapping[str, Mapping[str, tuple[str, ...]]] = {
    "sectional": {
        "panel_width": ("door.panel_width", "door.leaf_width"),
        "bracket_left": ("door.bottom.brackets.left",),
        "bracket_right": ("door.bottom.brackets.right",),
    },
    "rolling": BETWEEN_GUIDES,
    "grille": BETWEEN_GUIDES,
    "rolling_fire": BETWEEN_GUIDES,
    "high_speed": {"seat_length": ("door.bottom.seat_length",)},
    "one_piece": {"leaf_width": ("door.leaf_width",), "meets": ("door.meets",)},
    "slide_gate": {
        "underside": ("door.underside",),
        "leaf_top": ("door.leaf_top",),
        "leaf_height": ("door.leaf_height",),
    },
    "swing_gate": {
        "underside": ("door.underside",),
        "leaf_length": ("door.leaf_length", "door.leaf_width"),
        "leaf_height": ("door.leaf_height",),
    },
}
"""Fields of the calculation by kind of leaf, and the facts they are taken from: the first that was told."""
NOT_THE_BODY = {"bar_overall", "bracket_left", "bracket_right", "meets", "clear_width"}
"""Fields that say nothing of how long the body is."""
GOOD = r"(straight|good|fine|ok|okay|true|plumb|parallel|new|looked at|checked|in order|seen|known|sure)"
HURT = r"(bent|dent\w*|damag\w*|twist\w*|crooked|spread|kink\w*|struck|hit|loose|out of line)"
LOCK = r"(wind[ -]?locks?)"
DENIED = r"\b(no|not|never|without|free of)\s+((a|any|the|very|quite|visible|visibly)\s+)*"
STRAIGHT, BENT, LOCKS = (re.compile(rf"\b{words}\b") for words in (GOOD, HURT, LOCK))
NOT_STRAIGHT = re.compile(rf"\?|\b(unknown|unseen|unchecked)\b|{DENIED}{GOOD}\b")
NO_HURT = re.compile(rf"{DENIED}({HURT}|{LOCK})\b")
TAIL = re.compile(r"\b(tail|trailing|rear|back end|back of the (gate|leaf))\b", re.IGNORECASE)
RECEIVING = re.compile(r"\b(receiving|leading|catch|latch|strike|closing)\b", re.IGNORECASE)
POST = r"\b(posts?|guides?|supports?|fence|wall|rollers?|columns?)\b"
NOT_BESIDE = rf"({BENEATH}|\b(mesh|holes?|pickets?|top|hinges?)\b)"
FIXED = re.compile(rf"{POST}|^(?!.*{NOT_BESIDE})", re.IGNORECASE)
"""Whatever a zone names counts as fixed, unless it lies below, above or within the leaf: what stands there is not
always called a post, and a pillar or a container that is passed over leaves somebody unprotected."""
BELOW = re.compile(BENEATH, re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Basis:
    """What a length was computed from: the case, and the fact behind each of its fields."""

    case: LengthCase
    facts: Mapping[str, Fact[Any]]


def bases(opening: Opening, profile: Profile | None, lead_end: str | None) -> tuple[Basis, ...]:
    """The cases of an opening, one for each combination of contradicting readings; none without a kind of leaf."""
    kind = opening.door.kind
    kinds = [each for each in (kind.rivals or (kind.value,)) if each is not None]
    known = _body_of(opening, profile, lead_end)
    return tuple(each for name in kinds for each in _of_kind(opening, name, known))


def _of_kind(opening: Opening, kind: str, known: Mapping[str, Any]) -> Iterator[Basis]:
    facts: dict[str, Fact[Any]] = {"clear_width": narrowed(opening.door.clear_width)}
    for name, paths in USED[kind].items():
        facts[name] = narrowed(told_first(opening, paths))
    choices = [_values(fact) for fact in facts.values()]
    for values in islice(product(*choices), MOST_CASES):
        told = dict(zip(facts, values, strict=True))
        told.update(known)
        if kind in GUIDED:
            told["guide_condition"] = guides_as_told(opening.door.guide_condition.value)
        if kind == "slide_gate":
            told.update(post_count=posts_near(opening.zones), tail_gap=tail_gap(opening.zones))
        if kind == "swing_gate":
            told["underside_open"] = underside_open(opening.zones, told["underside"])
        yield Basis(case=LengthCase(kind=kind, **told), facts=facts)  # type: ignore[arg-type]


def told_first(opening: Opening, paths: tuple[str, ...]) -> Fact[Any]:
    """The first of several facts that says anything; the first where none does."""
    found = [opening.fact(path) for path in paths]
    return next((fact for fact in found if fact.value is not None or fact.rivals), found[0])


def _values(fact: Fact[Any]) -> tuple[Any, ...]:
    if not fact.rivals:
        return (fact.value,)
    numbers = [each for each in fact.rivals if isinstance(each, float)]
    if len(numbers) < len(fact.rivals):
        return fact.rivals
    return (min(numbers), max(numbers))  # whatever lies between gives a length between


def _body_of(opening: Opening, profile: Profile | None, lead_end: str | None) -> dict[str, Any]:
    """What is known of the body itself: from the profile, else from the edge that is there."""
    known: dict[str, Any] = {"lead_end": lead_end}
    if profile is None:
        edges = [each for each in opening.protection if each.kind.value == "sensing_edge"]
        if edges and all(each.cut_on_site.value for each in edges):
            known["construction"] = "cut_on_site"
        return known
    if profile.ends is not None:
        known.update(dead_end_lead=profile.ends.lead, dead_end_far=profile.ends.far)
    limit = max((each for each in (profile.greatest, profile.greatest_straight) if each is not None), default=None)
    return {
        **known,
        "construction": profile.construction,
        "piece_limit": limit,
        "order_word": profile.order_word,
    }


def guides_as_told(words: str | None) -> Guides:
    """What the words on the guides come to; words that say neither count as guides that nobody looked at.

    >>> [guides_as_told(each) for each in ("straight, no dents", "left one bent", "wind locks", "rusty", None)]
    ['looked_at', 'bent', 'wind_locks', 'not_looked_at', 'not_looked_at']
    """
    said = (words or "").casefold().replace("_", " ")
    seen = NO_HURT.sub("good", said)
    if BENT.search(seen):
        return "bent"
    if LOCKS.search(seen):
        return "wind_locks"
    return "looked_at" if STRAIGHT.search(seen) and not NOT_STRAIGHT.search(seen) else "not_looked_at"


def posts_near(zones: Listing[Zone]) -> int | None:
    """How many fixed things a slide gate passes within 16 in; None without a list, or where a gap is missing."""
    if zones.standing != "known":
        return None
    words = [(each, each.place.value or "") for each in zones]
    near = [
        each for each, place in words if FIXED.search(place) and not RECEIVING.search(place) and not _tail(place)
    ]
    if any(each.gap.value is None for each in near):
        return None
    return sum(not above(each.gap.value or 0.0, number("gate-near")) for each in near)


def _tail(place: str) -> bool:
    return bool(TAIL.search(place))


def tail_gap(zones: Listing[Zone]) -> float | None:
    """The least gap between a slide gate's tail and anything fixed; far away where a complete list names none."""
    if zones.standing != "known":
        return None
    tails = [each.gap.value for each in zones if _tail(each.place.value or "")]
    known = [gap for gap in tails if gap is not None]
    if len(known) < len(tails) and not any(gap <= number("gate-near") for gap in known):
        return None
    return min(known, default=60.0)


def underside_open(zones: Listing[Zone], closed: float | None) -> float | None:
    """The gap below a swing gate's leaf anywhere along its swing: of several the one that counts as a zone."""
    if zones.standing != "known":
        return None
    gaps = [each.gap.value for each in zones if BELOW.search(each.place.value or "")]
    known = [gap for gap in gaps if gap is not None and gap <= 10.0]
    low, high = number("ul325-gate-underside"), number("gate-near")
    inside = next((gap for gap in known if above(gap, low) and above(high, gap)), None)
    if inside is not None:
        return inside
    if len(known) < len(gaps):
        return None
    return min(known, default=closed)


OF_A_GATE = {
    "leading": ("underside", "leaf_top", "leaf_height"),
    "trailing": ("underside", "leaf_top", "leaf_height"),
    "post": ("leaf_top", "leaf_height", "underside"),
    "tip": ("leaf_height", "underside"),
    "underside": ("leaf_length",),
}
"""Fields that the length of a gate's bodies rests on."""


def facts_of_the_body(basis: Basis, body: EdgeLengths) -> tuple[Fact[Any], ...]:
    """The facts that a body's length rests on, the one that decides first."""
    names = list(OF_A_GATE.get(body.place, [name for name in basis.facts if name not in NOT_THE_BODY]))
    if basis.case.kind == "one_piece" and body.clearance is not None:
        names = ["clear_width", "leaf_width"]
    if "leaf_top" in names and basis.case.leaf_top is not None:  # a height is only used where no top was measured
        names = [name for name in names if name != "leaf_height" and (name, body.place) != ("underside", "post")]
    told = [(name, basis.facts[name]) for name in names]
    told = [(name, fact) for name, fact in told if fact.value is not None or fact.rivals]
    if basis.case.kind in GUIDED:
        told.sort(key=lambda pair: getattr(basis.case, pair[0]) or 0.0)
    return tuple(fact for _, fact in told)


def weakest(facts: tuple[Fact[Any], ...]) -> str:
    """The origin of the weakest of several facts, in the words of the papers."""
    if not facts:
        return ""
    if any(fact.rivals for fact in facts):
        return "two readings"
    return max((fact.origin for fact in facts), key=lambda origin: WEIGHT[origin]) or "unrecorded"
