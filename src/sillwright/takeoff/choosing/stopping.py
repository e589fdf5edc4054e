"""How far a leaf goes on after its edge has answered, and what a profile gives for it, warm and cold."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from sillwright.base import data
from sillwright.base.curve import Curve
from sillwright.base.units import Kelvin, Metre, Number, Second
from sillwright.catalogue.profile import Profile
from sillwright.mechanics import OvertravelCase, OvertravelResult, overtravel
from sillwright.survey.model import Opening
from sillwright.takeoff.choosing.cold import stiffer
from sillwright.takeoff.floors.curve_at import curve_at
from sillwright.takeoff.round_about import values_of

WARM_ROOM: Kelvin = 295.0
LONGEST: Second = 10.0  # beyond it the model of a stop is not used; nothing gives that much either


@dataclass(frozen=True, kw_only=True)
class Stopping:
    """The quickest and the slowest stop that the facts leave open."""

    least: OvertravelCase
    greatest: OvertravelCase

    @property
    def required(self) -> tuple[Metre, Metre]:
        """The overtravel needed at the quickest and at the slowest stop."""
        return overtravel(self.least).required_overtravel, overtravel(self.greatest).required_overtravel


def stopping_of(opening: Opening) -> Stopping | None:
    """How an opening's leaf stops: by facts, else between a good brake and one that coasts; None without its speed.

    Source: trade rules of thumb (PRO-3), from memory, where nobody has measured it.
    """
    table = _table()
    speeds = values_of(opening.door.closing_speed)
    if not speeds:
        return None
    operator = opening.operator
    quick, slow = table["edge_response"]
    reactions = values_of(operator.reaction)
    least, most = (min(reactions) + quick, max(reactions) + slow) if reactions else table["response"]
    slowing = values_of(operator.deceleration)
    return Stopping(
        least=_case(min(speeds), least, min(speeds) / max(slowing) if slowing else table["stopping_time"][0]),
        greatest=_case(max(speeds), most, max(speeds) / min(slowing) if slowing else table["stopping_time"][1]),
    )


def _case(speed: float, response: Second, stopping_time: Second) -> OvertravelCase:
    return OvertravelCase(
        closing_speed=speed, response=min(response, LONGEST), stopping_time=min(stopping_time, LONGEST)
    )


def _table() -> Any:
    return data.table("sillwright.takeoff", "profiles")["stopping"]


@dataclass(frozen=True, kw_only=True)
class Given:
    """What a profile gives at the quickest and the slowest stop; ``cold`` None where nothing is known of it."""

    warm: tuple[OvertravelResult, OvertravelResult]
    cold: tuple[OvertravelResult, OvertravelResult] | None

    @property
    def enough(self) -> bool | None:
        """Whether it gives enough: yes at the slowest stop warm and cold, no at the quickest; else open."""
        if any(each[0].enough is False for each in (self.warm, self.cold) if each):
            return False
        sure = self.cold is not None and all(each[1].enough for each in (self.warm, self.cold))
        return True if sure else None

    @property
    def available(self) -> Metre | None:
        """The least travel it gives after its answer."""
        found = [each[1].available_overtravel for each in (self.warm, self.cold) if each]
        return min((each for each in found if each is not None), default=None)


def given_by(profile: Profile, stop: Stopping, coldest: Kelvin | None) -> Given | None:
    """What a profile gives after its answer, up to the force to which travel counts; None without its curve."""
    warm = curve_at(profile.curves, WARM_ROOM)
    if warm is None:
        return None
    cold = None if coldest is None else _in_the_cold(profile, min(coldest, WARM_ROOM))
    return Given(warm=_both(profile, stop, warm, 1.0), cold=_both(profile, stop, *cold) if cold else None)


def _both(
    profile: Profile, stop: Stopping, curve: Curve, factor: Number
) -> tuple[OvertravelResult, OvertravelResult]:
    stiff = tuple((travel, force * factor) for travel, force in curve)
    one, other = (
        overtravel(replace(case, curve=stiff, actuation_travel=profile.actuation_travel, force=_table()["force"]))
        for case in (stop.least, stop.greatest)
    )
    return one, other


def _in_the_cold(profile: Profile, coldest: Kelvin) -> tuple[Curve, Number] | None:
    """The curve in the cold: measured near it, else the coldest that was, made stiffer as its material gets."""
    measured = curve_at(profile.curves, coldest)
    if measured is not None:
        return measured, 1.0
    first = profile.curves[0]
    here, there = stiffer(profile.material, coldest), stiffer(profile.material, first.temperature)
    return (first.curve, here / there) if here is not None and there is not None else None
