"""The questions that a profile has to answer by how it is made: its stop, weight, circuit, seat and length."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from sillwright.base.units import Metre
from sillwright.base.words import N_, Amount, Sentence
from sillwright.catalogue.profile import Profile
from sillwright.survey.door import GATES
from sillwright.takeoff.choosing.profile_rules import (
    ROUND_OFF,
    Place,
    Said,
    against,
    outside,
    remark,
    still_open,
    table,
)
from sillwright.takeoff.choosing.stopping import Given, Stopping, given_by
from sillwright.takeoff.choosing.weighing import added_weight, weighed
from sillwright.takeoff.round_about import force_limited, of_all, values_of, washed

SAME_ELEMENT = 0.05  # share by which two values of an end element may differ


def stops(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-3: the overtravel needed, against what it gives warm and cold. It counts where a force limit is law."""
    limited = force_limited(place.site)
    unsure = remark if limited is False else still_open
    if place.stopping is None:
        yield unsure(N_("How fast the leaf closes is not known, nor how far it goes on after the touch."))
        return
    given = given_by(profile, place.stopping, place.coldest)
    if given is None:
        yield unsure(
            N_("Force over travel in a warm room is not on its sheet, nor what it gives after its answer.")
        )
    elif given.enough is False:
        yield _short(limited, _amounts(given, place.stopping))
    elif given.enough is None and given.cold is None:
        yield unsure(N_("What it gives after its answer in the cold of this place is not known."))
    elif given.enough is None:
        said = N_(
            "After its answer it gives {given} up to {force}; {least} to {most} are needed, by how the leaf stops. "
            "Measure that: touch the edge by hand at half height, three times."
        )
        yield unsure(said, **_amounts(given, place.stopping))


def _amounts(given: Given, stopping: Stopping) -> dict[str, Amount]:
    least, most = stopping.required
    return {
        "speed": Amount(stopping.least.closing_speed, "m/s"),
        "given": Amount(given.available or 0.0, "m"),
        "force": Amount(table("stopping")["force"], "N"),
        "least": Amount(least, "m"),
        "most": Amount(most, "m"),
    }


def _short(limited: bool | None, amounts: dict[str, Amount]) -> Said:
    said = N_(
        "At {speed} it goes solid before the leaf stops: it gives {given} after its answer up to {force}, and "
        "{least} at least are needed. Beyond that the force rises fast. Slow the last part, shorten the stop, or "
        "go tall."
    )
    if limited:
        return against(said, **amounts)
    if limited is False:
        return remark(said, **amounts)
    return still_open(N_("{short} Whether a force limit is law here is not known."), short=Sentence(said, amounts))


_HEAVIER = {
    "little": N_("It adds {added} to the leaf."),
    "check balance": N_("It adds {added} to the leaf: have the balance checked."),
    "change springs": N_("It adds {added} to the leaf: a spring change belongs to it."),
}


def weight(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-8: what it adds to the leaf; fabric and labelled leaves carry what their makers list."""
    if place.kind == "high_speed":
        yield still_open(N_("A fabric leaf carries only what its maker lists."))
    if place.kind == "rolling_fire":
        yield still_open(N_("A labelled fire door takes only what its maker supplies."))
    added = added_weight(profile, place.body_length)
    if profile.weight_per_metre is None:
        yield still_open(N_("What it weighs is not on its sheet."))
    elif added is not None and place.kind not in GATES:
        yield remark(_HEAVIER[weighed(place.opening, added)], added=Amount(added, "kg"))


def circuits(profile: Profile, place: Place) -> Iterator[Said]:
    """Whether it speaks what the operator's input takes, itself or through a converter of the catalogue."""
    if place.circuit is None:
        yield still_open(N_("Which circuit the operator's input takes is not known."))
        return
    words = {"circuit": Sentence(place.circuit.replace("_", " "))}
    if place.circuit not in profile.circuits:
        turned = [
            each.name
            for each in place.catalogue.converters
            if each.gives == place.circuit and set(each.takes) & set(profile.circuits)
        ]
        if not turned:
            yield against(N_("The input takes {circuit}, and it is not made with that."), **words)
        else:
            said = N_(
                "The input takes {circuit}: through {converter}, and watched only where all are listed together."
            )
            yield remark(said, converter=turned[0], **words)
    elif place.circuit == "resistor":
        yield from _end_element(profile, place)


def _end_element(profile: Profile, place: Place) -> Iterator[Said]:
    wanted = [
        value
        for each in place.opening.operator.inputs
        if "resistor" in values_of(each.circuit)
        for value in values_of(each.resistance)
    ]
    if not wanted:
        yield still_open(N_("Which end element the input expects is not known."))
    elif not profile.end_elements:
        yield still_open(N_("Which end elements it comes with is not on its sheet."))
    else:
        for value in wanted:
            if not any(abs(value - each) <= SAME_ELEMENT * value for each in profile.end_elements):
                said = N_("The input expects an end element of {value}, and it does not come with that.")
                yield against(said, value=Amount(value, "ohm"))


def seat(profile: Profile, place: Place) -> Iterator[Said]:
    """The flat width that body and channel need at the leaf."""
    seats = values_of(place.opening.door.bottom.seat_width)
    if profile.seat is None:
        yield still_open(N_("How wide a seat it needs is not on its sheet."))
        return
    wide = of_all(seats, lambda width: width >= (profile.seat or 0.0) - ROUND_OFF)
    if wide is None:
        yield still_open(
            N_("It needs a seat {seat} wide; how wide the leaf's is, is open."), seat=Amount(profile.seat, "m")
        )
    elif not wide:
        widths = {"seat": Amount(profile.seat, "m"), "there": Amount(max(seats), "m")}
        yield against(N_("It needs a seat {seat} wide; the leaf has {there}."), **widths)


def lengths(profile: Profile, place: Place) -> Iterator[Said]:
    """Whether it can be made so long, in one piece or in several."""
    run = place.body_length
    if run is None:
        yield still_open(N_("How long the body has to be is not known."))
        return
    longest = max((each for each in (profile.greatest, profile.greatest_straight) if each), default=None)
    if longest is None:
        yield still_open(N_("How long it can be made is not on its sheet."))
        return
    gap = float(table("rail")["gap"])
    count = 1 if run <= longest + ROUND_OFF else ceil((run + gap - ROUND_OFF) / (longest + gap))
    piece = (run - (count - 1) * gap) / count
    if piece < profile.least - ROUND_OFF:
        shortest = {"run": Amount(piece, "m"), "least": Amount(profile.least, "m")}
        yield against(N_("It is made from {least} on; {run} is wanted."), **shortest)
    elif count > 1:
        said = N_(
            "Longer than {longest} it comes in {count} pieces, one after the other; the joints do not answer."
        )
        yield remark(said, longest=Amount(longest, "m"), count=str(count))


def ages(profile: Profile, place: Place) -> Iterator[Said]:
    """PRO-13 and PRO-14: when to plan a new one, and what an air edge misses."""
    years = table("aging")
    busy = any(each > years["many_cycles"] for each in values_of(place.opening.use.closings_per_day))
    which = "washed" if busy or washed(place.opening) else "outside" if outside(place) else "inside"
    first, last = (str(each) for each in years[which])
    yield remark(N_("Plan a new one after {first} to {last} years."), first=first, last=last)
    if "air" in profile.circuits and place.circuit in {None, "air"}:
        yield remark(
            N_("An air edge wants a quick press: a creeping leaf or a leak makes it miss. Never the only device.")
        )


def price(profile: Profile, length: Metre | None) -> float | None:
    """What a body of this length costs; None where the length or the price is not known."""
    return None if profile.price is None or length is None else profile.price.of(length)
