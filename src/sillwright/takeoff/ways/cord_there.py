"""What to say of the cord and the box that hang there now."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot

from sillwright.base import data
from sillwright.base.finding import Finding, Level
from sillwright.base.units import Metre
from sillwright.base.words import N_, Amount, Sentence
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import End
from sillwright.takeoff.found import found
from sillwright.takeoff.round_about import values_of
from sillwright.takeoff.ways._cord import ROUND_OFF
from sillwright.takeoff.ways.cord_model import CordResult
from sillwright.takeoff.ways.wires import conductors

Both = tuple[CordResult, CordResult]
"""The mildest and the worst of what open facts leave."""


def cord_there(opening: Opening, lead_end: End | None, both: Both) -> Iterator[Finding]:
    """The findings on a cord and a box that were taken down, at a leaf that goes up."""
    yield from _side(opening, lead_end)
    yield from _wall(opening, opening.box.side.value or lead_end)
    there = [each for each in values_of(opening.cord.retracted) if each > 0]
    if there:
        yield from _stretch(opening, min(there), both)
    if values_of(opening.box.height):
        yield from _height(both[1])


def cord_at_gate(opening: Opening) -> Iterator[Finding]:
    """A coiled cord at a gate."""
    if values_of(opening.cord.retracted):
        yield found(
            "cord_gate",
            "act",
            N_("A coiled cord hangs at this gate; over the ground it is run over and torn."),
            {},
            do=N_("Use radio, a cable carrier or a reel, or put the edge on the post with fixed wire."),
            facts=("cord.retracted",),
        )


def wires_there(opening: Opening) -> Iterator[Finding]:
    """Whether it is known how many conductors the edge needs."""
    if conductors(opening) is None and any(each.kind.value == "sensing_edge" for each in opening.protection):
        yield found(
            "cord_circuit",
            "note",
            N_("How many conductors the edge needs is not known: two, or four."),
            {},
            do=N_("Find out the circuit of the edge before the cord is ordered."),
            facts=("protection",),
        )


def _side(opening: Opening, lead_end: End | None) -> Iterator[Finding]:
    box = opening.box.side.value
    if box and lead_end in {"left", "right"} and box != lead_end:
        yield found(
            "box_side",
            "act",
            N_("The box is on the {box}, the lead leaves on the {lead}: the cord would cross the opening."),
            {"box": Sentence(box), "lead": Sentence(str(lead_end))},
            do=N_("Put the box on the {lead}, or order the lead on the {box}."),
            facts=("box.side", "lead.end"),
            place="box",
        )


def _wall(opening: Opening, side: str | None) -> Iterator[Finding]:
    wall = {"left": opening.free_wall.left, "right": opening.free_wall.right}.get(side or "")
    widths = values_of(wall) if wall else ()
    least, enough = data.table("sillwright.takeoff", "cord")["wire"]["free_wall"]
    if widths and min(widths) < enough - ROUND_OFF:
        tight: Level = "note" if min(widths) >= least - ROUND_OFF else "act"
        lengths = {"wall": min(widths), "least": least, "enough": enough}
        yield found(
            "wall",
            tight,
            N_("On the {side} there is {wall} of free wall; box and cord want {least} to {enough}."),
            {"side": Sentence(str(side)), **{name: Amount(each, "m") for name, each in lengths.items()}},
            do=N_("Clear the wall, or take the other side with a fixed wire over the opening."),
            facts=(f"free_wall.{side}",),
            place="box",
        )


_STRETCHED: dict[Level, tuple[str, str]] = {
    "act": (
        N_("The {retracted} cord there is drawn to {ratio} times its length; {most} is the most."),
        N_("Order the longer cord, and look at both its ends for broken conductors."),
    ),
    "note": (
        N_("The {retracted} cord there may be drawn to {ratio} times its length; {most} is the most."),
        N_("Measure height and offset of the box, or draw the cord out and measure it."),
    ),
    "good": (
        N_("The {retracted} cord there is drawn to {ratio} times its length; {most} is the most."),
        N_("It can stay if its jacket and both ends are sound."),
    ),
}


def _stretch(opening: Opening, retracted: Metre, both: Both) -> Iterator[Finding]:
    """The cord there, against the shortest and the longest way that the facts leave open."""
    least, most = (each.longest / retracted for each in both)
    limit = both[1].case.most_ratio
    level: Level = "act" if least > limit + ROUND_OFF else "note" if most > limit + ROUND_OFF else "good"
    if level == "good" and not (values_of(opening.box.height) and values_of(opening.box.offset)):
        return  # where the box really is was not taken down
    text, do = _STRETCHED[level]
    yield found(
        "cord_ratio",
        level,
        text,
        {"retracted": Amount(retracted, "m"), "ratio": f"{most:.2f}", "most": f"{limit:g}"},
        do=do,
        facts=("cord.retracted", "box.height", "box.offset", "door.clear_height"),
    )


def _height(worst: CordResult) -> Iterator[Finding]:
    """The height of the box: above the head, or off the middle of the travel."""
    box, height = worst.box_height, worst.case.highest
    more = worst.longest - hypot(height / 2, worst.case.offset)
    values = {"box": Amount(box, "m"), "best": Amount(worst.best_box_height, "m"), "more": Amount(more, "m")}
    share = data.table("sillwright.takeoff", "cord")["cord"]["middle_share"]
    if box > height + ROUND_OFF:
        yield found(
            "cord_hung",
            "act",
            N_("The box is at {box}, above the opening: a cord never hangs from the operator."),
            values,
            do=N_("Put the box on the wall at {best}; the cord then reaches {more} less far."),
            facts=("box.height",),
            place="box",
        )
    elif abs(box - height / 2) > share * height + ROUND_OFF:
        yield found(
            "box_height",
            "note",
            N_("The box is at {box}, off the middle of the travel: the cord has to reach {more} farther."),
            values,
            do=N_("Put the box at {best}."),
            facts=("box.height",),
            place="box",
        )
