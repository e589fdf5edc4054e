"""SIDE-1 to SIDE-11: at which end the lead comes out, by the first rule that applies."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from sillwright.base.fact import Fact
from sillwright.base.scale import INCH
from sillwright.base.words import N_, Sentence
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import End
from sillwright.takeoff.lengths.measures import ROUND_OFF

FREE_WALL = float(8 * INCH)
"""Free wall beside the opening that a box and a cord need at the least (SIDE-1); 12 in are comfortable."""
COMFORTABLE = float(12 * INCH)
CENTRE = {"trolley", "rail"}
OTHER: dict[str, End] = {"left": "right", "right": "left"}
IN_WORDS = {"left": N_("left"), "right": N_("right")}
OVERHEAD = {"sectional", "rolling", "grille", "rolling_fire", "one_piece"}
LEFT, RIGHT = re.compile(r"\bleft\b", re.IGNORECASE), re.compile(r"\bright\b", re.IGNORECASE)
OUTSIDE = re.compile(r"\boutside\b", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Advice:
    """What the first rule that applies says of the lead's end."""

    rule: str
    end: End | None
    why: Sentence
    facts: tuple[str, ...] = ()


def advice(opening: Opening) -> Advice:
    """The end that the first rule which applies gives; none where a fact is missing, never a guess."""
    for rule in RULES:
        found = rule(opening)
        if found is not None:
            return found
    return _unknown(opening)


def side_of(fact: Fact[str]) -> End | None:
    """A side as the survey gives it, turned to inside looking out on reading."""
    return {"left": "left", "right": "right"}.get(fact.value or "")  # type: ignore[return-value]


def blocked_wall(opening: Opening, side: str) -> bool | None:
    """Whether there is less than 8 in of free wall on a side; None where nobody measured it."""
    free: Fact[float] = getattr(opening.free_wall, side)
    values = [each for each in (free.rivals or (free.value,)) if each is not None]
    return any(each < FREE_WALL - ROUND_OFF for each in values) if values else None


def _of_its_own(opening: Opening) -> Advice | None:
    """Fabric doors and gates: no rule for an overhead leaf applies."""
    if opening.door.kind.value == "high_speed":
        why = N_("As the door's maker says: inside the bottom beam, to a transmitter or a cord in the side frame.")
        return Advice(rule="SIDE-11", end=None, why=Sentence(why), facts=("door.kind",))
    if opening.door.is_gate:
        why = N_("On an upright edge the lead leaves downward with a drip loop, or into a sealed post.")
        return Advice(rule="SIDE-8", end=None, why=Sentence(why), facts=("door.kind",))
    return None


def _blocked(opening: Opening) -> Advice | None:
    side = side_of(opening.operator.side)
    if side is None or opening.operator.kind.value in CENTRE or not blocked_wall(opening, side):
        return None
    other = OTHER[side]
    facts = ("operator.side", f"free_wall.{side}", f"free_wall.{other}")
    words = {"side": Sentence(IN_WORDS[side]), "other": Sentence(IN_WORDS[other])}
    if blocked_wall(opening, other):
        why = N_(
            "Less than 8 in of wall is free on either side; on which the lead leaves is to be settled on site."
        )
        return Advice(rule="SIDE-1", end=None, why=Sentence(why), facts=facts)
    why = N_("The operator is on the {side}, where less than 8 in (0.2 m) of wall is free: the {other}.")
    return Advice(rule="SIDE-1", end=other, why=Sentence(why, words), facts=facts)


def _operator_beside(opening: Opening) -> Advice | None:
    operator = opening.operator
    side = side_of(operator.side)
    if side is None or operator.kind.value in CENTRE or other_face(opening):
        return None
    why = N_("The operator is on the {side}, and nothing is known to be in the way there.")
    words = {"side": Sentence(IN_WORDS[side])}
    return Advice(rule="SIDE-2", end=side, why=Sentence(why, words), facts=("operator.side",))


def other_face(opening: Opening) -> bool:
    """Whether operator and leaf hang on different faces of the wall; a leaf whose face nobody told hangs inside."""
    wall = opening.operator.wall.value
    return wall is not None and wall != (opening.door.mounted.value or "inside")


def _trolley(opening: Opening) -> Advice | None:
    if opening.operator.kind.value not in CENTRE:
        return None
    box = side_of(opening.box.side)
    if box is not None:
        why = N_("The operator is in the middle; the existing box is on the {side}.")
        words = {"side": Sentence(IN_WORDS[box])}
        return Advice(rule="SIDE-3", end=box, why=Sentence(why, words), facts=("box.side",))
    station = _station_side(opening)
    if station is not None and opening.box.side.standing != "two readings":
        why = N_("The operator is in the middle; the wall station is on the {side}.")
        words = {"side": Sentence(IN_WORDS[station])}
        return Advice(rule="SIDE-3", end=station, why=Sentence(why, words), facts=("stations",))
    why = N_("The operator is in the middle; ask on which side the box or the wall station is.")
    return Advice(rule="SIDE-3", end=None, why=Sentence(why), facts=("box.side", "stations"))


def _station_side(opening: Opening) -> End | None:
    """The side that the words on the wall stations agree on; those on the outside do not count."""
    sides: set[End] = set()
    for each in opening.stations:
        words = each.place.value or ""
        left, right = bool(LEFT.search(words)), bool(RIGHT.search(words))
        if left != right and not OUTSIDE.search(words):
            sides.add("left" if left else "right")
    return sides.pop() if len(sides) == 1 else None


def _operator_outside(opening: Opening) -> Advice | None:
    side = side_of(opening.operator.side)
    if side is None or not other_face(opening):
        return None
    why = N_(
        "Operator and leaf hang on different faces of the wall; inside, looking out, the operator is on the {side}."
    )
    words = {"side": Sentence(IN_WORDS[side])}
    return Advice(rule="SIDE-4", end=side, why=Sentence(why, words), facts=("operator.side", "operator.wall"))


def _second_leaf(opening: Opening) -> Advice | None:
    other = side_of(opening.door.second_leaf.operator_side)
    if other is None:
        return None
    why = N_("The other leaf's operator is on the {other}: the jamb away from it.")
    words = {"other": Sentence(IN_WORDS[other])}
    facts = ("door.second_leaf.operator_side",)
    return Advice(rule="SIDE-5", end=OTHER[other], why=Sentence(why, words), facts=facts)


def _unknown(opening: Opening) -> Advice:
    if opening.door.kind.value == "rolling_fire":
        why = N_("The side of the operator is not known; the door's maker says how its edge is led out.")
        return Advice(rule="SIDE-9", end=None, why=Sentence(why), facts=("operator.side",))
    why = N_(
        "The side of the operator is not known. If the delivery cannot wait: a body with a lead at both ends, the "
        "one that is not used capped watertight."
    )
    return Advice(rule="SIDE-9", end=None, why=Sentence(why), facts=("operator.side",))


RULES: tuple[Callable[[Opening], Advice | None], ...] = (
    _of_its_own,
    _blocked,
    _operator_beside,
    _trolley,
    _operator_outside,
    _second_leaf,
)
"""In order; the first that answers decides. Fabric doors and gates have a rule of their own, which comes first."""
