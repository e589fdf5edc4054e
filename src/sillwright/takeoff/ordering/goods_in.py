"""Goods-in: is what came what was ordered, before anybody fits it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, isfinite
from typing import Any

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.finding import Finding, Level
from sillwright.base.source import Source
from sillwright.base.units import Kelvin, Second
from sillwright.base.words import N_, Amount, Sentence, say
from sillwright.takeoff.ordering.fields import shown
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.ohms import Meter, judged
from sillwright.takeoff.ordering.slip import slipped

_ROUND_OFF = 1e-9
_MEMORY = (Source(document=N_("trade rules of thumb"), sure="memory"),)


@dataclass(frozen=True, kw_only=True)
class Received:
    """What was looked at and measured on one edge that came; None where nobody looked.

    Lengths in metres, ``hours`` from arrival to this check, temperatures in K, ``rested`` in seconds unrolled.
    ``length`` is the rubber without loose fins.
    """

    hours: float | None = None
    carton_whole: bool | None = None
    length: float | None = None
    lead_length: float | None = None
    wires: int | None = None
    meter: Meter | None = None
    end: str | None = None
    profile: str | None = None
    photo: bool | None = None
    carried_at: float | None = None
    room: float | None = None
    rested: float | None = None
    off_flat: float | None = None

    def __post_init__(self) -> None:
        for number in (self.hours, self.length, self.lead_length, self.rested, self.off_flat, self.wires):
            if number is not None and not 0 <= number < 1e9:
                raise OutOfRange(say(N_("{number}: a number from 0 on is accepted"), number=number))
        for temperature in (self.carried_at, self.room):
            if temperature is not None and not 180 <= temperature <= 340:
                said = N_("{temperature}: from 180 K to 340 K is accepted")
                raise OutOfRange(say(said, temperature=f"{temperature:g} K"))


def rest_time(carried_at: Kelvin | None, room: Kelvin | None) -> Second:
    """How long an edge that came coiled is left unrolled before it is fitted.

    At least 15 minutes; from the cold 15 minutes for every 20 degF below the room. Raises :class:`OutOfRange` for a
    temperature that is not a number.

    >>> rest_time(294.0, 294.0), round(rest_time(294.0 - 40 / 1.8, 294.0))
    (900.0, 1800)

    Source: common practice (acclimatise); the time from the cold from memory.
    """
    rule = data.table("sillwright.takeoff.ordering", "ordering")["acclimatise"]
    least = float(rule["least"])
    if carried_at is None or room is None:
        return least
    if not (isfinite(carried_at) and isfinite(room)):
        raise OutOfRange(say(N_("a temperature that is not a number")))
    return max(least, least * (room - carried_at) / float(rule["for_each"]))


def goods_in(line: OrderLine, received: Received) -> tuple[Finding, ...]:
    """What a delivery shows against its order line; what nobody looked at is asked, never taken for good.

    Tolerances from memory, typical: the maker's data sheet decides. Order: time, carton, length, lead, wires, ohms,
    end, profile, photo, rest.
    """
    checks = (_time, _carton, _length, _lead_length, _wires, _ohms, _end, _profile, _photo, _rest, _flat)
    return tuple(found for check in checks for found in check(line, received))


def _found(name: str, level: Level, text: str, do: str | None = None, **values: Any) -> Finding:
    return Finding(
        id=f"goods_in.{name}",
        level=level,
        text=Sentence(text, values),
        do=Sentence(do, values) if do else None,
        place="lead" if name in {"end", "lead_length"} else "bottom",
        sources=_MEMORY,
    )


def _not_looked(name: str, what: str) -> Finding:
    return _found(
        name, "note", N_("Nobody has looked at: {what}."), N_("Look before it is fitted."), what=Sentence(what)
    )


def _time(line: OrderLine, received: Received) -> Iterator[Finding]:
    most = data.table("sillwright.takeoff.ordering", "ordering")["delivery"]["within_hours"]
    if received.hours is None:
        yield _not_looked("time", N_("when it came"))
    elif received.hours > most:
        yield _found(
            "time",
            "act",
            N_("It was looked at {hours} hours after it came; {most} is the aim."),
            N_("Report what is wrong to the supplier today."),
            hours=ceil(received.hours),
            most=most,
        )


def _carton(line: OrderLine, received: Received) -> Iterator[Finding]:
    if received.carton_whole is None:
        yield _not_looked("carton", N_("the carton"))
    elif not received.carton_whole:
        yield _found("carton", "act", N_("The carton is damaged."), N_("Photograph it before it is opened."))


def _length(line: OrderLine, received: Received) -> Iterator[Finding]:
    within = data.table("sillwright.takeoff.ordering", "ordering")["delivery"]["length"]
    wanted = line.to_buy if line.to_buy is not None else line.body
    if received.length is None or wanted is None:
        yield _not_looked("length", N_("the length of the body by tape"))
        return
    off = received.length - wanted
    told: dict[str, Any] = {
        "length": Amount(received.length, "m"),
        "wanted": Amount(wanted, "m"),
        "off": Amount(abs(off), "m"),
    }
    if line.to_buy is not None and off >= -_ROUND_OFF:
        yield _found("length", "good", N_("The roll is {length}; {wanted} is wanted."), **told)
    elif abs(off) <= within + _ROUND_OFF:
        yield _found("length", "good", N_("The body is {length} by tape, as ordered."), **told)
    elif slip := slipped(wanted, received.length):
        meant, wrote = slip
        text = N_(
            "{length} is written for the body, and {wanted} was ordered: one number, in {wrote} and in {meant}."
        )
        do = N_("Measure it again, and write the unit of the tape.")
        yield _found("length", "act", text, do, **told, meant=meant, wrote=wrote)
    elif off < 0:
        do = N_("Do not fit it: the strip that does not answer grows. Report it.")
        yield _found(
            "length", "act", N_("The body is {length}, {off} shorter than ordered ({wanted})."), do, **told
        )
    else:
        do = N_("Do not fit it: it would rub or be pressed in. A sealed body is never cut. Report it.")
        yield _found("length", "act", N_("The body is {length}, {off} longer than ordered ({wanted})."), do, **told)


def _lead_length(line: OrderLine, received: Received) -> Iterator[Finding]:
    within = data.table("sillwright.takeoff.ordering", "ordering")["delivery"]["lead"]
    if line.lead_length is None or received.lead_length is None:
        yield _not_looked("lead_length", N_("the free length of the lead"))
    elif received.lead_length < line.lead_length - within - _ROUND_OFF:
        yield _found(
            "lead_length",
            "act",
            N_("The lead is {length} long; {wanted} was ordered."),
            N_("See that it reaches the box without a joint in between; else report it."),
            length=Amount(received.lead_length, "m"),
            wanted=Amount(line.lead_length, "m"),
        )


def _wires(line: OrderLine, received: Received) -> Iterator[Finding]:
    if line.wires == 0:
        return
    if line.wires is None or received.wires is None:
        yield _not_looked("wires", N_("the number of wires"))
    elif received.wires != line.wires:
        yield _found(
            "wires",
            "act",
            N_("It has {wires} wires; {wanted} were ordered."),
            N_("Do not fit it: it is another circuit. Report it."),
            wires=received.wires,
            wanted=line.wires,
        )
    else:
        yield _found("wires", "good", N_("It has {wires} wires, as ordered."), wires=received.wires)


def _ohms(line: OrderLine, received: Received) -> Iterator[Finding]:
    for each in judged(line.circuit, line.end_element, received.meter or Meter()):
        do = Sentence(each.do) if each.do else None
        found = f"goods_in.{each.name}"
        yield Finding(id=found, level=each.level, text=each.text, do=do, place="bottom", sources=_MEMORY)


def _end(line: OrderLine, received: Received) -> Iterator[Finding]:
    if line.end is None or received.end is None:
        yield _not_looked("end", N_("at which end the lead leaves, held as it will hang, inside looking out"))
    elif received.end != line.end:
        yield _found(
            "end",
            "act",
            N_("The lead leaves on the {end}; {wanted} was ordered."),
            N_("Hold it as it will hang, fin to the weather, and look again; then report it."),
            end=shown("end", received.end),
            wanted=shown("end", line.end),
        )
    else:
        yield _found("end", "good", N_("The lead leaves on the {end}, as ordered."), end=shown("end", line.end))


def _profile(line: OrderLine, received: Received) -> Iterator[Finding]:
    if not line.profile or not received.profile:
        yield _not_looked("profile", N_("the profile, against a sample or its drawing"))
    elif " ".join(received.profile.split()).casefold() != " ".join(line.profile.split()).casefold():
        yield _found(
            "profile",
            "act",
            N_("It is {profile}; {wanted} was ordered."),
            N_("Do not fit it: channel and force go with the profile. Report it."),
            profile=received.profile,
            wanted=line.profile,
        )
    else:
        yield _found("profile", "good", N_("The profile is {profile}, as ordered."), profile=line.profile)


def _photo(line: OrderLine, received: Received) -> Iterator[Finding]:
    if not received.photo:
        do = N_("Photograph both ends and the label, before it is fitted.")
        yield _found("photo", "note", N_("There is no photo of it."), do)


def _rest(line: OrderLine, received: Received) -> Iterator[Finding]:
    if line.ship == "straight":
        return
    needed = rest_time(received.carried_at, received.room)
    told: dict[str, Any] = {"minutes": round(needed / 60)}
    cold = received.carried_at is None or received.room is None
    if received.rested is None or received.rested < needed - _ROUND_OFF:
        text = N_("It came coiled: it rests unrolled for {minutes} minutes before it is fitted.")
        if cold:
            text = N_("It came coiled: it rests unrolled for at least {minutes} minutes, longer from the cold.")
        yield _found(
            "rest", "act" if received.rested is not None else "note", text, N_("Unroll it in the room."), **told
        )
    else:
        yield _found("rest", "good", N_("It rested unrolled for {minutes} minutes or more."), **told)


def _flat(line: OrderLine, received: Received) -> Iterator[Finding]:
    most = data.table("sillwright.takeoff.ordering", "ordering")["delivery"]["flat"]
    if line.ship != "straight" and received.off_flat is not None and received.off_flat > most + _ROUND_OFF:
        yield _found(
            "flat",
            "act",
            N_("It still stands {off} off the floor; {most} is the most."),
            N_("Leave it unrolled longer, warmer; do not pull it straight."),
            off=Amount(received.off_flat, "m"),
            most=Amount(most, "m"),
        )
