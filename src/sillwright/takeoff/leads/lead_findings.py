"""What else is to be looked at where the lead comes out."""

from __future__ import annotations

from collections.abc import Iterator

from sillwright.base.finding import Finding
from sillwright.base.scale import FOOT, INCH
from sillwright.base.words import N_, Amount, Sentence
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import End
from sillwright.takeoff.found import found
from sillwright.takeoff.leads.lead_side import (
    CENTRE,
    COMFORTABLE,
    IN_WORDS,
    OTHER,
    Advice,
    blocked_wall,
    other_face,
    side_of,
)
from sillwright.takeoff.lengths.measures import ROUND_OFF

GUIDED = {"rolling", "grille", "rolling_fire"}
FROM_END = (float(2 * INCH), float(6 * INCH))
WIRE_SPARE = float(3 * FOOT)
LIFTED = {"high", "vertical", "follows_roof"}
EDGES = {"sensing_edge", "air_edge"}


def lead_findings(opening: Opening, advised: Advice, end: End | None) -> Iterator[Finding]:
    """What the rules say beside the end: the way of the wire, the exit, the other leaf, the old edge."""
    yield from _no_end(opening, advised, end)
    yield from _wall(opening, advised, end)
    yield from _pass(opening)
    yield from _other_leaf(opening, end)
    yield from _exit(opening)
    yield from _lift(opening)
    yield from _old_edge(opening)
    yield from _words(opening)


def _no_end(opening: Opening, advised: Advice, end: End | None) -> Iterator[Finding]:
    if end is not None or opening.door.is_gate or opening.lead.end.standing == "none there":
        return
    do = N_("Ask on which side the operator is, inside looking out, or look at a photo taken from inside.")
    if advised.rule == "SIDE-3":
        do = N_("Ask on which side the existing box is, else the wall station; right is not taken for granted.")
    elif advised.rule == "SIDE-11":
        do = N_("Order as the door's maker says.")
    elif advised.rule == "SIDE-1":
        do = N_("Look for a way on site, or order a radio link.")
    yield found(
        "lead_end",
        "act",
        N_("At which end the lead comes out is open: {why}"),
        {"why": advised.why},
        do=do,
        facts=advised.facts,
        place="lead",
    )


def _wall(opening: Opening, advised: Advice, end: End | None) -> Iterator[Finding]:
    """SIDE-1: over the head to the other side, and walls on which it is tight."""
    if advised.rule == "SIDE-1" and advised.end is not None:
        yield from _over_the_head(opening, advised.end)
    if end not in OTHER or opening.door.is_gate:
        return
    free = getattr(opening.free_wall, end).value
    path = f"free_wall.{end}"
    side = {"side": Sentence(IN_WORDS[end])}
    if blocked_wall(opening, end):
        yield found(
            "lead_wall",
            "act",
            N_("Less than 8 in (0.2 m) of wall is free on the {side}, where the lead comes out."),
            side,
            do=N_("Turn the lead to the other end, or say what makes way here."),
            facts=(path,),
            place="lead",
        )
    elif free is not None and free < COMFORTABLE - ROUND_OFF:
        yield found(
            "lead_wall",
            "note",
            N_("{free} of wall is free on the {side}; 12 in (0.3 m) are comfortable for box and cord."),
            {**side, "free": Amount(free, "m")},
            do=N_("Look whether box and cord find room."),
            facts=(path,),
            place="lead",
        )


def _over_the_head(opening: Opening, end: End) -> Iterator[Finding]:
    width, height, box = opening.door.clear_width.value, opening.door.clear_height.value, opening.box.height.value
    text = N_("The lead goes to the {side}, away from the operator: fixed wire over the head.")
    values: dict[str, object] = {"side": Sentence(IN_WORDS[end])}
    if width is not None and height is not None and box is not None:
        text = N_("The lead goes to the {side}, away from the operator: {extra} of fixed wire over the head.")
        values["extra"] = Amount(width + 2 * max(0.0, height - box) + WIRE_SPARE, "m")
    do = N_("Add the width, twice the height above the box and 3 ft (0.9 m); look that the {side} is free.")
    facts = ("door.clear_width", "door.clear_height", "box.height", f"free_wall.{end}")
    yield found("lead_over", "note", text, values, do=do, facts=facts, place="lead")


def _pass(opening: Opening) -> Iterator[Finding]:
    if not other_face(opening) or opening.door.is_gate:
        return
    yield found(
        "lead_pass",
        "note",
        N_("Operator and leaf hang on different faces of the wall: its side has to be told inside, looking out."),
        {},
        do=N_(
            "Ask from which side it was told. Keep box and cord on the face where the bottom bar can be reached; "
            "take the fixed wire through one sealed pass."
        ),
        facts=("operator.wall", "operator.side", "door.mounted"),
        place="lead",
    )


def _other_leaf(opening: Opening, end: End | None) -> Iterator[Finding]:
    """SIDE-5: away from the other leaf's operator; where both operators share a jamb, somebody has to choose."""
    second = opening.door.second_leaf
    if second.kind.value is None and side_of(second.operator_side) is None:
        return
    facts = ("door.second_leaf.operator_side", "lead.end")
    other = side_of(second.operator_side)
    do = N_("Draw both leads; look that the cord of one cannot fall into the other's guide, chain or track.")
    if other is None:
        text = N_("Another leaf hangs in this opening; on which side its operator is, is not known.")
        yield found("second_leaf", "act", text, {}, do=do, facts=facts, place="lead")
    elif other == end:
        text = N_(
            "The lead comes out on the {side}, on the same jamb as the other leaf's operator, chain and track."
        )
        yield found(
            "second_leaf", "act", text, {"side": Sentence(IN_WORDS[other])}, do=do, facts=facts, place="lead"
        )
    else:
        text = N_("Another leaf hangs in this opening, its operator on the {side}.")
        yield found(
            "second_leaf", "note", text, {"side": Sentence(IN_WORDS[other])}, do=do, facts=facts, place="lead"
        )


def _exit(opening: Opening) -> Iterator[Finding]:
    """SIDE-6: never out of the end into the guide; SIDE-8: downward on a gate."""
    told, kind = opening.lead.exit.value, opening.door.kind.value
    if kind in GUIDED and told is not None and plain(told) in {"end", "down"}:
        yield found(
            "lead_exit",
            "act",
            N_("A lead out of the end would run into the guide."),
            {},
            do=N_("Take it out of the inside face or the back, 2 to 6 in (50 to 150 mm) from the end."),
            facts=("lead.exit",),
            place="lead",
        )
    yield from _from_end(opening.lead.from_end.value, guided=kind in GUIDED)
    if opening.door.is_gate and told is not None and plain(told) != "down":
        yield found(
            "lead_exit",
            "note",
            N_("On an upright edge the lead leaves downward, with a drip loop."),
            {},
            do=N_("Take it out at the lower end, or into a sealed post."),
            facts=("lead.exit",),
            place="lead",
        )


def _from_end(distance: float | None, *, guided: bool) -> Iterator[Finding]:
    """SIDE-6: far enough from the guide, and no other length taken for the distance from the end."""
    near, far = FROM_END
    if distance is None or (near - ROUND_OFF if guided else 0.0) <= distance <= far + ROUND_OFF:
        return
    if guided:
        text = N_("The lead leaves {distance} from the end; between guides 2 to 6 in (50 to 150 mm) are usual.")
        do = N_("Take it out 2 to 6 in (50 to 150 mm) from the end.")
    else:
        text = N_("The lead leaves {distance} from the end; at most 6 in (150 mm) is usual.")
        do = N_("Look whether that is the distance of the exit from the end, and not another length.")
    values = {"distance": Amount(distance, "m")}
    yield found("lead_from_end", "act", text, values, do=do, facts=("lead.from_end",), place="lead")


def plain(words: str) -> str:
    """An exit as the catalogue writes it.

    >>> plain("Inside face")
    'inside_face'
    """
    return words.strip().casefold().replace(" ", "_")


def _lift(opening: Opening) -> Iterator[Finding]:
    if opening.door.lift.value in LIFTED:
        yield found(
            "lead_lift",
            "note",
            N_("A higher lift does not change the cord: the bottom edge travels the clear height all the same."),
            {},
            do=N_("Add the extra lift to the fixed wire between box and operator."),
            facts=("door.lift",),
            place="lead",
        )


def _old_edge(opening: Opening) -> Iterator[Finding]:
    old = [each.path for each in opening.protection if each.kind.value in EDGES]
    if old and not opening.door.is_gate:
        yield found(
            "lead_old",
            "note",
            N_("An edge is there: measure it, do not copy it."),
            {},
            do=N_("Ask whether its lead ever worked well on that side."),
            facts=tuple(old),
            place="lead",
        )


def _words(opening: Opening) -> Iterator[Finding]:
    """Side told for a leaf where inside has two meanings."""
    inside = opening.door.inside_is
    if opening.door.kind.value == "grille" and inside.value is None and opening.operator.kind.value not in CENTRE:
        yield found(
            "lead_inside",
            "note",
            N_("Which side of a grille is inside is not written down; left and right hang on it."),
            {},
            do=N_("Write down which side counts as inside, and look from there."),
            facts=(inside.path,),
            place="lead",
        )
