"""What a meter shows on an edge that lies free, and what that says of it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isnan
from typing import Any

from sillwright.base import data
from sillwright.base.errors import OutOfRange
from sillwright.base.finding import Level
from sillwright.base.words import N_, Amount, Sentence, say


@dataclass(frozen=True, kw_only=True)
class Meter:
    """Readings in ohms, infinite where the meter shows open; None where nobody read.

    ``rest`` between the two conductors (of a four-wire body between its strips), ``pressed`` the same while a hand
    presses, ``strips`` end to end of both strips of a four-wire body.
    """

    rest: float | None = None
    pressed: float | None = None
    strips: float | None = None

    def __post_init__(self) -> None:
        for ohms in (self.rest, self.pressed, self.strips):
            if ohms is not None and (isnan(ohms) or ohms < 0):
                said = N_("{ohms} is no reading in ohms; write a number from 0 on, or that it is open")
                raise OutOfRange(say(said, ohms=ohms))


@dataclass(frozen=True)
class Reading:
    """What one reading says: in order, to be looked at, or against fitting it."""

    name: str
    level: Level
    text: Sentence
    do: str | None = None

    @property
    def bad(self) -> bool:
        """Whether the reading is outside what it should be."""
        return self.level == "act"


DO_NOT_FIT = N_("Do not fit it. Read again with clips, fingers off the probes; then report it.")
READ_IT = N_("Read it with clips before it is fitted, and write the number down.")
PRESS = N_("Press it along its length with the meter on: only a press shows that it answers.")


def judged(circuit: str | None, end_element: float | None, meter: Meter) -> Iterator[Reading]:
    """What the readings of a free edge say, by its circuit; what was not read is asked.

    Source: trade rules of thumb, from memory; ± 5 % of the end element before fitting.
    """
    if circuit == "resistor" and end_element is not None:
        yield _end_resistor(end_element, meter.rest)
        yield from _pressed(meter)
    elif circuit == "plain":
        yield _insulation("ohms", meter.rest)
        yield from _pressed(meter)
    elif circuit == "four_wire":
        yield _insulation("ohms", meter.rest)
        yield _strips(meter.strips)
        yield from _pressed(meter)
    elif circuit == "air":
        yield Reading("ohms", "note", Sentence(N_("An air edge has no ohms: squeeze it and listen at the hose.")))
    elif circuit in {"diode_capacitor", "optical"}:
        yield Reading("ohms", "note", Sentence(N_("Ohms do not tell for this circuit: try it as its maker says.")))
    else:
        text = Sentence(N_("Which circuit it should have is not known, so no reading can be judged."))
        yield Reading("ohms", "note", text, N_("Settle the circuit of the order line."))


def _limit(name: str) -> float:
    return float(data.table("sillwright.takeoff.ordering", "ordering")["meter"][name])


def _say(level: Level, template: str, do: str | None = None, name: str = "ohms", **ohms: float) -> Reading:
    values: dict[str, Any] = {
        key: Sentence(N_("open")) if value == inf else Amount(value, "ohm") for key, value in ohms.items()
    }
    return Reading(name, level, Sentence(template, values), do)


def _end_resistor(wanted: float, ohms: float | None) -> Reading:
    within = data.table("sillwright.takeoff.ordering", "ordering")["delivery"]["resistance"]
    if ohms is None:
        return _say("note", N_("Nobody has read its ohms; {wanted} is wanted."), READ_IT, wanted=wanted)
    told: dict[str, Any] = {"ohms": ohms, "wanted": wanted}
    if abs(ohms - wanted) <= within * wanted * (1 + 1e-9):
        return _say("good", N_("It reads {ohms}; the end element is {wanted}."), **told)
    if ohms == inf:
        return _say(
            "act", N_("It reads open instead of {wanted}: a break, or no end element."), DO_NOT_FIT, wanted=wanted
        )
    if ohms <= _limit("shorted"):
        return _say("act", N_("It reads {ohms} instead of {wanted}: shorted or pressed."), DO_NOT_FIT, **told)
    if abs(ohms - wanted / 2) <= within * wanted / 2:
        text = N_("It reads {ohms}, half of {wanted}: two end elements side by side, or water.")
        return _say("act", text, DO_NOT_FIT, **told)
    if ohms < wanted:
        return _say(
            "act", N_("It reads {ohms} instead of {wanted}: water, or another end element."), DO_NOT_FIT, **told
        )
    text = N_("It reads {ohms} instead of {wanted}: a bad joint, or another end element.")
    return _say("act", text, DO_NOT_FIT, **told)


def _insulation(name: str, ohms: float | None) -> Reading:
    if ohms is None:
        return _say("note", N_("Nobody has read whether it is open at rest."), READ_IT, name)
    if ohms > _limit("insulation"):
        return _say("good", N_("It reads {ohms} at rest, as it should."), None, name, ohms=ohms)
    if ohms >= _limit("damp"):
        return _say("note", N_("It reads {ohms} at rest: look again, dry, with clips."), READ_IT, name, ohms=ohms)
    if ohms >= _limit("wet"):
        return _say("act", N_("It reads {ohms} at rest: damp inside."), DO_NOT_FIT, name, ohms=ohms)
    return _say("act", N_("It reads {ohms} at rest: wet or shorted."), DO_NOT_FIT, name, ohms=ohms)


def _strips(ohms: float | None) -> Reading:
    if ohms is None:
        return _say("note", N_("Nobody has read its strips end to end."), READ_IT, "strips")
    if ohms == inf:
        return _say("act", N_("A strip reads open end to end: it is cut."), DO_NOT_FIT, "strips")
    if ohms < _limit("strip"):
        return _say("good", N_("Its strips read {ohms} end to end."), None, "strips", ohms=ohms)
    return _say("act", N_("Its strips read {ohms} end to end: a bad joint."), DO_NOT_FIT, "strips", ohms=ohms)


def _pressed(meter: Meter) -> Iterator[Reading]:
    if meter.pressed is None:
        yield _say("note", N_("Nobody has pressed it with the meter on."), PRESS, "pressed")
    elif meter.pressed < _limit("pressed"):
        yield _say("good", N_("Pressed it reads {ohms}."), None, "pressed", ohms=meter.pressed)
    else:
        text = N_("Pressed it reads {ohms}: it does not answer.")
        yield _say("act", text, DO_NOT_FIT, "pressed", ohms=meter.pressed)
