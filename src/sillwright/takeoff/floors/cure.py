"""Which cure a floor takes: the first of the trade's table that fits, and what is done where along the sill."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.takeoff.answer import FloorCure
from sillwright.takeoff.floors.cutout import has_window
from sillwright.takeoff.floors.floor_model import FloorCase, Stretch
from sillwright.takeoff.floors.floor_table import ROUND_OFF, number
from sillwright.takeoff.floors.strip import Point, Strip
from sillwright.takeoff.floors.touch import Run, beyond, short_of, usual_band


@dataclass(frozen=True, kw_only=True)
class Cure:
    """A cure, why it is the first that fits, and what is done where."""

    word: FloorCure
    why: Phrase
    stretches: tuple[Stretch, ...] = ()
    also: tuple[Phrase, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Ground:
    """A floor as the table of cures looks at it."""

    case: FloorCase
    floor: tuple[Point, ...]  # heights above a line parallel to the leaf
    spread: float
    best: Strip
    leaf_slope: float  # at which the leaf hangs: the best line's, as far as it may
    takes: float  # what a body takes up alone

    @property
    def ends(self) -> tuple[float, float]:
        """From where to where the leaf lies on it: the opening, or as far as it was read."""
        if self.case.width is not None:
            return 0.0, self.case.width
        return self.floor[0][0], self.floor[-1][0]

    @property
    def rise(self) -> float:
        """By how much the best line rises beyond the leaf's own slope, from the left end to the right."""
        left, right = self.ends
        return (self.best.slope - self.leaf_slope) * (right - left)

    @property
    def fin(self) -> float:
        """The greatest unevenness that a fin takes up: of the profiles given, else of the table."""
        if not self.case.profiles:
            return number("fin") - self.takes
        return max(each.fin for each in self.case.profiles)


def cure_of(ground: Ground) -> Cure:
    """The first cure that fits."""
    for fitting in ORDER:
        found = fitting(ground)
        if found:
            return found
    return _fin_wanted(ground)


def _none(ground: Ground) -> Cure | None:
    if ground.spread > ground.takes + ROUND_OFF:
        return None
    case = ground.case
    lengths = {"low": case.least_contact, "high": case.least_contact + ground.spread}
    said = N_(
        "The body seals alone: set the limit so that it is pressed {low} at the lowest point, {high} at the top."
    )
    return Cure(word="none", why=say(said, **{name: Amount(value, "m") for name, value in lengths.items()}))


def _taper(ground: Ground) -> Cure | None:
    if ground.best.width > ground.takes + ROUND_OFF:
        return None
    (left, right), rise = ground.ends, ground.rise  # the filler is thick where the floor is low
    at_ends = {"at_start": max(0.0, rise), "at_end": max(0.0, -rise)}
    stretch = Stretch(start=left, end=right, work="taper", most=abs(rise), **at_ends)
    lengths = {"taper": Amount(abs(rise), "m"), "width": Amount(right - left, "m")}
    said = {
        "wood": N_(
            "The floor is a plane at a slope: a piece tapered by {taper} over {width} between leaf and channel, "
            "thick on the {side}; or scribe the bottom section, plane it and seal the grain."
        ),
        "metal": N_(
            "The floor is a plane at a slope: a filler tapered by {taper} over {width} between leaf and channel, "
            "thick on the {side}. Sections and bars of metal are never cut."
        ),
    }.get(
        ground.case.bottom or "",
        N_(
            "The floor is a plane at a slope: a piece tapered by {taper} over {width} between leaf and channel, "
            "thick on the {side}."
        ),
    )
    side = say(N_("left")) if rise > 0 else say(N_("right"))
    also: tuple[Phrase, ...] = ()
    if abs(rise) > number("fin") + ROUND_OFF:
        also = (
            say(N_("A taper of {taper} is a lot: have the floor or the bottom bar quoted beside it."), **lengths),
        )
    return Cure(word="taper", why=say(said, side=side, **lengths), stretches=(stretch,), also=also)


def _fin(ground: Ground) -> Cure | None:
    if ground.spread > ground.fin + ground.takes + ROUND_OFF or not has_window(ground.spread):
        return None
    gap = ground.spread - ground.case.greatest_compression
    if gap >= number("reading") / 2:
        said = N_(
            "The floor is uneven: a fin or brush on the outside, the body {gap} off the floor at its lowest point. "
            "Look at the window of the reversal cut-out first."
        )
    else:
        said = N_(
            "The floor is uneven: a fin or brush on the outside, as the body hardly touches at its lowest point. "
            "Look at the window of the reversal cut-out first."
        )
    return Cure(
        word="fin", why=say(said, gap=Amount(gap, "m")), stretches=_off_the_floor(ground), also=_with_taper(ground)
    )


def _off_the_floor(ground: Ground) -> tuple[Stretch, ...]:
    """Where the body does not touch, the edge pressed as far as it may be at the highest point."""
    top = max(z for _, z in ground.floor)
    runs = short_of(ground.floor, top - ground.takes)
    reach = ground.case.least_contact
    return tuple(Stretch(start=run.start, end=run.end, work="fin", most=max(0.0, run.most - reach)) for run in runs)


def _with_taper(ground: Ground) -> tuple[Phrase, ...]:
    if ground.best.width > ground.spread / 2 + ROUND_OFF:
        return ()
    said = N_(
        "A taper of {taper} would bring it down to {strip}, still more than the body takes up alone; a short fin "
        "takes the rest."
    )
    return (say(said, taper=Amount(abs(ground.rise), "m"), strip=Amount(ground.best.width, "m")),)


def _scribe(ground: Ground) -> Cure | None:
    if ground.case.bottom != "wood" or ground.spread > number("fin") + ROUND_OFF:
        return None
    left, right = ground.ends
    said = N_(
        "Scribe the bottom section: block the leaf level just clear of the floor, scribe at the greatest gap, "
        "{gap}, plane, and seal the grain."
    )
    stretch = Stretch(start=left, end=right, work="scribe", most=ground.spread)
    return Cure(word="scribe", why=say(said, gap=Amount(ground.spread, "m")), stretches=(stretch,))


def _floor_spots(ground: Ground) -> Cure | None:
    humps, dips = _humps_and_dips(ground)
    most = number("stretch") + ROUND_OFF
    if any(run.length > most for run in (*humps, *dips)):
        return None
    ground_off = N_("Grind the humps off; ask first for heating pipes, vapour barrier, drains, dust.")
    patched = N_(
        "Patch the dips, or lay a threshold strip; it is an edge to trip over: ramp it for carts, mind the drain."
    )
    if humps and dips:
        why = say(N_("{one} {other}"), one=say(ground_off), other=say(patched))
    else:
        why = say(ground_off) if humps else say(patched)
    return Cure(word="grind" if humps else "patch", why=why, stretches=_spots(humps, dips))


def _humps_and_dips(ground: Ground) -> tuple[tuple[Run, ...], tuple[Run, ...]]:
    low, high = usual_band(ground.floor, ground.takes)
    return beyond(ground.floor, high), short_of(ground.floor, low)


def _spots(humps: tuple[Run, ...], dips: tuple[Run, ...]) -> tuple[Stretch, ...]:
    found = [Stretch(start=run.start, end=run.end, work="grind", most=run.most) for run in humps]
    found += [Stretch(start=run.start, end=run.end, work="patch", most=run.most) for run in dips]
    return tuple(sorted(found, key=lambda each: (each.start, each.end)))


def _floor_work(ground: Ground) -> Cure | None:
    if ground.spread <= number("fin") + ROUND_OFF and has_window(ground.spread):
        return None
    said = N_(
        "The floor is uneven by {unevenness}: no edge seals on it. Quote work on the floor, and note on the order "
        "that the edge will not seal before."
    )
    why = say(said, unevenness=Amount(ground.spread, "m"))
    return Cure(word="floor_work", why=why, stretches=_spots(*_humps_and_dips(ground)))


def _fin_wanted(ground: Ground) -> Cure:
    """The table asks for a fin, and none of the profiles given has one that reaches."""
    said = N_("A fin or brush that takes up {fin} is wanted, and none of these profiles has one.")
    why = say(said, fin=Amount(ground.spread - ground.takes, "m"))
    return Cure(word="fin", why=why, stretches=_off_the_floor(ground), also=_with_taper(ground))


ORDER: tuple[Callable[[Ground], Cure | None], ...] = (_none, _taper, _fin, _scribe, _floor_spots, _floor_work)
"""The table of cures, from the first to the last."""
