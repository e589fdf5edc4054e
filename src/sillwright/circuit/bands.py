"""What a reading of an ohmmeter means: bands of an end element and of insulation, in words, and what to do."""

from __future__ import annotations

from math import isnan
from typing import Any, Literal

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.units import Number, Ohm
from sillwright.base.words import N_, say

Band = Literal["pressed", "trips", "wet", "damp", "look", "good", "joint", "open", "dry"]
"""Where a reading at rest falls. ``look`` is outside the tolerance, and not yet damp or a bad joint."""

SOURCES = (
    Source(
        document=N_("bands of readings at an end element and between open conductors"), sure="memory", id="bands"
    ),
    Source(document=N_("a meter's diode test, its leads, and fingers at the probes"), sure="practice", id="meter"),
)
WORDS: dict[Band, str] = {
    "pressed": N_("pressed, or shorted"),
    "trips": N_("so low that the input takes it as a press"),
    "wet": N_("wet"),
    "damp": N_("damp: a warning, months before the call"),
    "look": N_("just outside the tolerance: look again"),
    "good": N_("as it should be"),
    "joint": N_("a bad joint, or the wrong end element"),
    "open": N_("so high that the input reads open"),
    "dry": N_("apart and dry, or broken: press to know"),
}
DEEDS: dict[Band, str] = {
    "pressed": N_("Look for what lies on the edge; then read again at the box and at the edge, to find the short."),
    "trips": N_(
        "Read ohms at the box and at the edge alone: where it stays low, there is the water or the crushed place."
    ),
    "wet": N_("Open the box and the low end of the edge; dry them, and read again before anything is ordered."),
    "damp": N_("Note the reading with its date; look at the ends and the box; read again at the next visit."),
    "look": N_("Read again without fingers at the probes, and compare with the readings before."),
    "good": N_("Note the reading with its date."),
    "joint": N_("Move the cord and the splices while you read: where it jumps, there is the joint."),
    "open": N_("Read at the box, then at the edge alone, to find where it is broken."),
    "dry": N_("Press the edge while you read: it has to fall below 500 Ω."),
}


def table(name: str) -> dict[str, Any]:
    """A part of the table of readings."""
    found: dict[str, Any] = data.table("sillwright.circuit", "bands")[name]
    return found


def element_band(ohm: Ohm, element: Ohm, pull_up: Ohm | None = None) -> Band:
    """The band of a reading at rest on a loop with an end element; inf = the meter shows OL.

    Where the pull-up is not known, it is taken as large as the element. Raises :class:`OutOfRange` for what is no
    resistance.

    >>> [element_band(each, 10e3) for each in (400.0, 2e3, 5e3, 8e3, 9.2e3, 10e3, 20e3, 31e3)]
    ['pressed', 'trips', 'wet', 'damp', 'look', 'good', 'joint', 'open']
    >>> element_band(14.2e3, 10e3, pull_up=4.7e3)
    'open'
    """
    _check(ohm)
    edges, share, pulled = table("element"), ohm / element, ohm / (pull_up or element)
    if share <= edges["pressed"]:
        return "pressed"
    if pulled < edges["trips"]:
        return "trips"
    if pulled > edges["open"]:
        return "open"
    return _of_share(share)


def _of_share(share: Number) -> Band:
    edges = table("element")
    low, high = edges["good"]
    if low <= share <= high:
        return "good"
    if share > edges["look"]:
        return "joint"
    if share < edges["wet"]:
        return "wet"
    return "damp" if share < edges["damp"] else "look"


def insulation_band(ohm: Ohm, pull_up: Ohm | None = None) -> Band:
    """The band of a reading between two conductors that nothing joins; inf = the meter shows OL.

    Raises :class:`OutOfRange` for what is no resistance.

    >>> [insulation_band(each) for each in (300.0, 2e3, 49e3, 50e3, 1e6, 2e6, 6e6)]
    ['pressed', 'trips', 'wet', 'damp', 'damp', 'look', 'dry']
    """
    _check(ohm)
    edges = table("apart")
    trips = edges["trips"] if pull_up is None else table("element")["trips"] * pull_up
    if ohm <= edges["pressed"]:
        return "pressed"
    if ohm < trips:
        return "trips"
    if ohm < edges["wet"]:
        return "wet"
    return "damp" if ohm <= edges["damp"] else "look" if ohm <= edges["dry"] else "dry"


def _check(ohm: Ohm) -> None:
    if isnan(ohm) or ohm < 0:
        raise OutOfRange(say(N_("a reading of {ohm} ohm; at least 0 ohm is accepted"), ohm=f"{ohm:g}"))
