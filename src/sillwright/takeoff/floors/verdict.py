"""A profile on a floor: does it touch everywhere, and what travel has it left when it does."""

from __future__ import annotations

from sillwright.base.words import N_, Amount, say
from sillwright.takeoff.answer import Fits
from sillwright.takeoff.floors.curve_at import curve_at, travel_to
from sillwright.takeoff.floors.floor_model import FloorCase, FloorProfile, FloorVerdict, SealedBy
from sillwright.takeoff.floors.floor_table import ROUND_OFF
from sillwright.takeoff.floors.strip import Point
from sillwright.takeoff.floors.touch import pressed, short_of


def judge(profile: FloorProfile, case: FloorCase, floor: tuple[Point, ...], spread: float) -> FloorVerdict:
    """One profile, the leaf as high as it can be so that the edge still touches at the lowest point.

    ``floor`` are heights above a line parallel to the leaf, ``spread`` the highest less the lowest of them.
    """
    high = min(case.least_contact + spread, _most(profile, case))
    low = high - spread
    body = low >= case.least_contact - ROUND_OFF
    fin = low + profile.fin >= case.least_contact - ROUND_OFF
    sealed_by: SealedBy = "body" if body else "fin" if fin else "nothing"
    along = pressed(floor, 0.0, high)
    open_runs = () if body or fin else short_of(along, case.least_contact - profile.fin)
    warm = _left(profile, case, high, case.room)
    cold = None if case.coldest is None else _left(profile, case, high, case.coldest)
    enough = _enough(case, warm, cold)
    reasons = (*_against_sealing(sealed_by, profile, case, low), *_against_travel(case, warm, cold))
    return FloorVerdict(
        name=profile.name,
        fits=_fits(sealed_by, enough),
        seals=sealed_by != "nothing",
        sealed_by=sealed_by,
        highest_compression=high,
        lowest_compression=low,
        body_gap=max(0.0, -low),
        open_gap=0.0 if body or fin else max(0.0, -low - profile.fin),
        compression_along=along,
        unsealed=tuple((run.start, run.end) for run in open_runs),
        answers_when_shut=high >= profile.actuation_travel - ROUND_OFF,
        overtravel_left=warm,
        overtravel_left_cold=cold,
        reasons=reasons,
    )


def _most(profile: FloorProfile, case: FloorCase) -> float:
    """How far this body may be pressed for good: no farther than it can be pressed at all."""
    curve = curve_at(profile.curves, case.room)
    return min(case.greatest_compression, profile.height, curve[-1][0] if curve else profile.height)


def _left(profile: FloorProfile, case: FloorCase, compression: float, temperature: float) -> float | None:
    curve = curve_at(profile.curves, temperature)
    if curve is None or case.force is None:
        return None
    return max(0.0, travel_to(curve, case.force) - max(compression, profile.actuation_travel))


def _enough(case: FloorCase, warm: float | None, cold: float | None) -> bool | None:
    """Whether the travel left is what was asked for, in the warm and in the cold; None where one is not known."""
    asked = case.required_overtravel
    if asked is None:
        return True
    known = [warm] if case.coldest is None else [warm, cold]
    if any(each is not None and each < asked - ROUND_OFF for each in known):
        return False
    return None if None in known else True


def _fits(sealed_by: SealedBy, enough: bool | None) -> Fits:
    if sealed_by == "nothing" or enough is False:
        return "does not fit"
    return "fits" if enough else "not known"


def _against_sealing(sealed_by: SealedBy, profile: FloorProfile, case: FloorCase, low: float) -> tuple[str, ...]:
    if sealed_by != "nothing":
        return ()
    missing = Amount(max(0.0, case.least_contact - profile.fin - low), "m")
    if profile.fin > 0:
        said = N_("Body and fin do not reach the floor at its lowest point; {missing} is missing to a touch.")
    else:
        said = N_("The body does not reach the floor at its lowest point; {missing} is missing to a touch.")
    return (say(said, missing=missing),)


def _against_travel(case: FloorCase, warm: float | None, cold: float | None) -> tuple[str, ...]:
    asked = case.required_overtravel
    if asked is None:
        return ()
    places = [(warm, case.room), *([(cold, case.coldest)] if case.coldest is not None else [])]
    said = []
    for left, temperature in places:
        at = Amount(temperature or 0.0, "K")
        if left is None:
            said.append(
                say(
                    N_("No curve is known for {temperature}, so its overtravel there is not known."), temperature=at
                )
            )
        elif left < asked - ROUND_OFF:
            short = N_("At {temperature} it has {left} of overtravel left, and {asked} is asked for.")
            said.append(say(short, temperature=at, left=Amount(left, "m"), asked=Amount(asked, "m")))
    return tuple(said)
