"""A contact as a row of numbers: what the exact solution takes and what it gives, in a fixed order."""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from math import inf, nan

from sillwright.base.errors import OutOfRange
from sillwright.base.words import N_, say
from sillwright.mechanics._exact import outcome
from sillwright.mechanics.model import ContactCase

NUMBERS = (
    "closing_speed",
    "moving_mass",
    "drive.stiffness",
    "drive.damping",
    "drive.push_limit",
    "drive.lift_limit",
    "stop.reaction",
    "stop.deceleration",
    "stop.dwell",
    "stop.opening_acceleration",
    "stop.opening_speed",
    "edge.response",
    "edge.actuation_travel",
    "edge.end_stiffness",
    "obstruction.stiffness",
    "duration",
)
OUTCOMES = (
    "peak_force",
    "peak_time",
    "actuation_time",
    "contact_duration",
    "time_above_150",
    "time_above_25",
    "lasting_force",
    "peak_edge_travel",
    "end_force",
    "drive_slips",
)
UNFOLLOWED = say(N_("The motion changes too often to follow: too light a leaf, too stiff or too damped a drive."))
Curves = tuple[tuple[float, ...], tuple[float, ...]]


def numbers_of(case: ContactCase) -> list[float]:
    """The numbers of a case in the order of :data:`NUMBERS`; no limit and rigid are inf, never is NaN."""
    drive, stop, edge = case.drive, case.stop, case.edge
    stiffness = case.obstruction.stiffness
    travel = None if edge is None else edge.actuation_travel
    return [
        case.closing_speed,
        case.moving_mass,
        inf if drive.stiffness is None else drive.stiffness,
        drive.damping,
        inf if drive.push_limit is None else drive.push_limit,
        inf if drive.lift_limit is None else drive.lift_limit,
        stop.reaction,
        stop.deceleration,
        stop.dwell,
        stop.opening_acceleration,
        stop.opening_speed,
        0.0 if edge is None else edge.response,
        nan if travel is None else travel,
        1.0 if edge is None else edge.end_stiffness,
        inf if stiffness is None else stiffness,
        case.duration,
    ]


def curve_of(case: ContactCase) -> Curves:
    """Travels and forces of the edge; empty where there is none."""
    if case.edge is None:
        return (), ()
    travel, force = zip(*case.edge.curve, strict=True)
    return travel, force


def solved(
    numbers: Sequence[float], travel: Sequence[float], force: Sequence[float], log: MutableSequence[float]
) -> tuple[tuple[float, ...], tuple[list[float], list[float], list[float], int]]:
    """The outcomes in the order of :data:`OUTCOMES` (then the count of pieces), and the law of contact.

    Raises OutOfRange where the motion changes too often to follow.
    """
    room = len(travel) + 4
    depths, forces, slopes = [0.0] * room, [0.0] * room, [0.0] * room
    found = outcome(numbers, travel, force, len(travel), depths, forces, slopes, log)
    if found[10] < 0.0:
        raise OutOfRange(UNFOLLOWED)
    return found[:11], (depths, forces, slopes, int(found[11]))
