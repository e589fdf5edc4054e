"""What may hang behind a few wires, in words, and what to do about it."""

from __future__ import annotations

from math import isinf

from sillwright.base.units import Ohm
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.circuit.guesses import WHERE, Guess, Look, Spans
from sillwright.circuit.loop_reading_model import Condition, Where
from sillwright.circuit.metering import MeterPlace, Probes
from sillwright.circuit.model import Circuit

CIRCUITS: dict[Circuit, str] = {
    "plain": N_("a plain two-wire edge"),
    "normally_closed": N_("a contact that a press opens"),
    "resistor": N_("an edge with an end element"),
    "diode_capacitor": N_("an edge with a diode element"),
    "four_wire": N_("a four-wire edge"),
}
CONDITIONS: dict[Condition, str] = {
    "sound": N_("in order"),
    "off": N_("just outside its tolerance"),
    "damp": N_("damp"),
    "wet": N_("wet"),
    "trips": N_("so wet or crushed that the input takes it as a press"),
    "shorted": N_("pressed or shorted"),
    "joint": N_("with a bad joint"),
    "broken": N_("broken"),
    "second": N_("with a second end element beside the first"),
    "dead": N_("dead: its strips never touch"),
    "before": N_("with its element before the edge, so that nobody watches the edge"),
}
DEEDS: dict[Condition, str] = {
    "sound": N_("Note the reading with its date."),
    "off": N_("Read again without fingers at the probes, and compare with the readings before."),
    "damp": N_("Look at the ends and the box; read again at the next visit: damp comes months before the call."),
    "wet": N_("Open the box and the low end of the edge; dry them, and read again before anything is ordered."),
    "trips": N_(
        "Read at the box and at the edge alone: where it stays low, there is the water or the crushed place."
    ),
    "shorted": N_("Look for what lies on the edge; then read at the box and at the edge, to find the short."),
    "joint": N_("Move the cord and the splices while you read: where it jumps, there is the joint."),
    "broken": N_("Read at the box, then at the edge alone, to find where it is broken."),
    "second": N_(
        "Take out the one that does not sit at the far end of the edge; one element ends the whole chain."
    ),
    "dead": N_("Take the leaf out of powered use; a leaf whose edge answers nowhere is found by a press only."),
    "before": N_("Take the leaf out of powered use; the element belongs into the far end of the edge."),
}
OVER_A_CONTACT = N_("with water or something else across it, which hides a press")
"""What lies across a contact that a press opens."""
LOCATED: frozenset[Condition] = frozenset(
    {"damp", "wet", "trips", "shorted", "joint", "broken", "second", "before"}
)
ACROSS: frozenset[Condition] = frozenset({"damp", "wet", "trips", "shorted"})
PLACES: dict[Where, str] = {
    "lead": N_("between operator and box"),
    "cord": N_("between box and edge"),
    "edge": N_("in the edge"),
}
AT: dict[MeterPlace, str] = {
    "operator": N_("at the operator"),
    "box": N_("at the box"),
    "edge": N_("at the edge alone"),
}
BETWEEN: dict[Probes, str] = {
    "pair": N_("between the two conductors"),
    "first_strip": N_("from end to end of the first strip"),
    "second_strip": N_("from end to end of the second strip"),
}


def named(guess: Guess, where: tuple[Where, ...]) -> Phrase:
    """A guess with the places where its fault may be.

    >>> named(Guess("plain", "wet"), ("edge",))
    'a plain two-wire edge, wet, in the edge'
    """
    what = say(CIRCUITS[guess.circuit])
    if guess.element is not None:
        what = say(N_("an edge with an end element of {element}"), element=Amount(guess.element, "ohm"))
    across = guess.circuit == "normally_closed" and guess.condition in ACROSS
    told = {"what": what, "how": say(OVER_A_CONTACT if across else CONDITIONS[guess.condition])}
    if guess.condition not in LOCATED or len(where) == len(WHERE):
        return say(N_("{what}, {how}"), **told)
    return say(N_("{what}, {how}, {where}"), where=tuple(say(PLACES[each]) for each in where), **told)


def deed(guess: Guess) -> Phrase:
    """What to do about it."""
    return say(DEEDS[guess.condition])


def asked(look: Look) -> Phrase:
    """The reading to take, as a sentence.

    >>> asked(Look("box", pressed=True))
    'Press the edge and read at the box, between the two conductors.'
    """
    told = {"at": say(AT[look.at]), "between": say(BETWEEN[look.between])}
    if look.diode_test:
        swapped = N_("Set the meter to diode test, swap the probes, and read {at}.")
        return say(swapped if look.swapped else N_("Set the meter to diode test and read {at}, {between}."), **told)
    if look.pressed:
        return say(N_("Press the edge and read {at}, {between}."), **told)
    return say(N_("Read {at}, {between}, with nobody pressing."), **told)


def shown(spans: Spans, *, volts: bool) -> Phrase:
    """What a meter shows, as a phrase.

    >>> shown(((0.0, 500.0),), volts=False), shown(((1e6, float("inf")),), volts=False)
    ('up to 500 Ω', '1 MΩ or more, or OL')
    """
    unit = "V" if volts else "ohm"
    said = [_span(low, high, unit) for low, high in spans]
    return said[0] if len(said) == 1 else say(N_("{ways}"), ways=tuple(said))


def _span(low: Ohm, high: Ohm, unit: str) -> Phrase:
    if isinf(low):
        return say(N_("OL"))
    if isinf(high):
        return say(N_("{low} or more, or OL"), low=Amount(low, unit))
    if low == 0:
        return say(N_("up to {high}"), high=Amount(high, unit))
    return say(N_("{low} to {high}"), low=Amount(low, unit), high=Amount(high, unit))
