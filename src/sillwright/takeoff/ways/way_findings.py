"""What to say of the way that was chosen from the leaf to the operator."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sillwright.base import data
from sillwright.base.finding import Finding
from sillwright.base.units import Kelvin
from sillwright.base.words import N_, Amount
from sillwright.survey.model import Opening
from sillwright.takeoff.answer import WayKind
from sillwright.takeoff.found import found
from sillwright.takeoff.round_about import of_all, values_of, washed
from sillwright.takeoff.ways._cord import ROUND_OFF
from sillwright.takeoff.ways.cord_model import CordResult
from sillwright.takeoff.ways.cord_there import Both
from sillwright.takeoff.ways.wires import LIFTED, wire_over


def way_findings(
    opening: Opening, kind: WayKind, both: Both, cold: Kelvin | None, side: str | None
) -> Iterator[Finding]:
    """The findings on the way chosen, at a leaf that goes up."""
    mildest, worst = both
    if opening.door.kind.value == "one_piece":
        yield _path()
    if any(each.kind.value == "air_edge" for each in opening.protection):
        yield _hose()
    if kind == "cord":
        if mildest.retracted != worst.retracted:
            yield _open_length(mildest, worst)
        yield from _cold(cold)
        yield from _snag(worst)
    if kind == "reel":
        yield from _rewind(opening)
    yield from _fixed(opening, worst, side)
    if washed(opening):
        yield _wet()


def _table(name: str) -> Any:
    return data.table("sillwright.takeoff", "cord")[name]


def _path() -> Finding:
    return found(
        "cord_path",
        "act",
        N_(
            "The leaf swings or folds out and takes its lead off the wall; the lengths here are for one that rises."
        ),
        {},
        do=N_(
            "Move the leaf by hand and measure the greatest distance from box to lead before anything is ordered."
        ),
        facts=("door.kind",),
    )


def _hose() -> Finding:
    return found(
        "cord_hose",
        "note",
        N_("An air edge sends a hose to its switch, not conductors."),
        {},
        do=N_("Order a coiled hose, or put the switch on the leaf; the lengths are those of a cord."),
        facts=("protection",),
    )


def _open_length(mildest: CordResult, worst: CordResult) -> Finding:
    usual = _table("box")["offset"]
    values = {"near": Amount(usual[0], "m"), "far": Amount(usual[1], "m")}
    lengths = [Amount(each.retracted, "m") for each in (mildest, worst) if each.retracted is not None]
    return found(
        "cord_measure",
        "note",
        N_("Which cord is right is still open ({lengths}): it hangs on facts that nobody has settled."),
        {"lengths": lengths, **values},
        do=N_("Measure the height of the opening, and height and offset of the box; {near} to {far} is usual."),
        facts=("box.offset", "box.height", "door.clear_height"),
        place="box",
    )


def _cold(cold: Kelvin | None) -> Iterator[Finding]:
    limit = _table("cord")["coldest"]
    if cold is not None and cold >= limit - ROUND_OFF:
        return
    known = N_("It gets as cold as {cold} here; below {limit} a common jacket cracks.")
    unknown = N_("How cold it gets is not known; below {limit} a common jacket cracks.")
    yield found(
        "cord_cold",
        "note",
        unknown if cold is None else known,
        {"cold": Amount(cold or limit, "K"), "limit": Amount(limit, "K")},
        do=N_("Below {limit} order a cord with a jacket for low temperatures."),
        facts=("site.coldest", "surroundings.cold_side"),
    )


def _snag(worst: CordResult) -> Iterator[Finding]:
    bottom = worst.loop_bottom
    beams = worst.case.obstacles
    caught = [each for each in beams if bottom is not None and bottom + ROUND_OFF < each < worst.box_height]
    if caught:
        yield found(
            "cord_snag",
            "act",
            N_("The loop of the cord can hang down to {bottom}, into the beam of the eye at {beam}."),
            {"bottom": Amount(max(bottom or 0.0, 0.0), "m"), "beam": Amount(max(caught), "m")},
            do=N_("Move the box up or the eye aside; a cord that swings in a beam stops the leaf for nothing."),
            facts=("box.height", "cord.retracted"),
        )


def _rewind(opening: Opening) -> Iterator[Finding]:
    low, high = _table("reel")["rewind"]
    if of_all(values_of(opening.door.opening_speed), lambda speed: speed > low + ROUND_OFF) is False:
        return
    yield found(
        "reel_rewind",
        "note",
        N_("A reel has to wind up faster than the leaf opens; {low} to {high} is the usual limit."),
        {"low": Amount(low, "m/s"), "high": Amount(high, "m/s")},
        do=N_("Measure the opening speed and read that of the reel."),
        facts=("door.opening_speed",),
    )


def _fixed(opening: Opening, worst: CordResult, side: str | None) -> Iterator[Finding]:
    length = wire_over(opening, side, worst.box_height)
    if length is not None and LIFTED & set(values_of(opening.door.lift)):
        yield found(
            "fixed_wire",
            "note",
            N_("From box to operator {length} of fixed wire and the extra lift on top; the cord stays as it is."),
            {"length": Amount(length, "m")},
            do=N_("Measure how much higher than under a standard lift the operator sits, and add it."),
            facts=("door.lift",),
            place="box",
        )


def _wet() -> Finding:
    return found(
        "box_wet",
        "note",
        N_("It is washed down: water follows the lead into the box."),
        {},
        do=N_("A box rated for hosing, its gland from below, and a drip loop in the lead before it."),
        facts=("surroundings.wash_down",),
        place="box",
    )
