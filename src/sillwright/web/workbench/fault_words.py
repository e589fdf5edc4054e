"""The words of the fault bench: what can be chosen, and what is said of an answer, online and on a phone alike."""

from __future__ import annotations

from collections.abc import Iterable
from typing import get_args

from django.utils.translation import gettext as _

from sillwright.base.display import show
from sillwright.base.words import Reader, in_words, retold, say
from sillwright.circuit.fault_answers import READS
from sillwright.circuit.fault_choices import PRESSES, kinds, seconds
from sillwright.circuit.fault_view import OPERATOR
from sillwright.circuit.fault_words import CIRCUITS, WHERE, percent, what
from sillwright.circuit.faults_model import Seen, Still
from sillwright.circuit.metering import MeterPlace, Probes
from sillwright.circuit.model import Circuit, Hurt, Place

PLACES: tuple[Place, ...] = get_args(Place)
Pairs = list[tuple[str, str]]


def circuit_names(reader: Reader) -> Pairs:
    """Circuits with their names."""
    return [(name, in_words(say(words), reader)) for name, words in CIRCUITS.items()]


def short_names() -> dict[Circuit, str]:
    """Circuits in a word or two, for a table that is read from the back of a room."""
    return {
        "plain": _("Plain edge"),
        "normally_closed": _("Contact that opens"),
        "resistor": _("End element"),
        "diode_capacitor": _("Diode element"),
        "four_wire": _("Four wires"),
        "pulse_two_wire": _("Pulses, two wires"),
        "pulse_three_wire": _("Pulses, three wires"),
        "radio": _("Radio"),
    }


def kind_names(reader: Reader) -> Pairs:
    """What can be wrong."""
    return [(key, retold(what(kind, ohm), reader)) for key, (kind, ohm) in kinds().items()]


def place_names(reader: Reader) -> Pairs:
    """Where it can be."""
    return [(name, in_words(say(WHERE[name]), reader)) for name in PLACES]


def second_names(reader: Reader) -> Pairs:
    """What can be wrong besides."""
    return [(key, fault_name(hurt, reader)) for key, hurt in seconds().items()]


def fault_name(hurt: Hurt, reader: Reader) -> str:
    """What is wrong, and where."""
    told = {"what": retold(what(hurt.kind, hurt.ohm), reader), "where": in_words(say(WHERE[hurt.place]), reader)}
    return says()["fault"].format(**told)


def press_names() -> Pairs:
    """Where it is pressed."""
    words = (
        _("nowhere"),
        _("near end"),
        _("before the middle"),
        _("past the middle"),
        _("far end"),
    )
    return list(zip(PRESSES, words, strict=True))


def field_names() -> dict[str, str]:
    """What each choice is called, by its name in the address."""
    return {
        "circuit": _("Circuit"),
        "hurt": _("What is wrong"),
        "place": _("Where"),
        "also": _("And besides"),
        "press": _("Pressed"),
    }


def says() -> dict[str, str]:
    """Sentences with places for words; the script of the page fills the same ones."""
    return {
        "fault": _("{what} {where}"),
        "sound": _("Sound: {felt}."),
        "one": _("With this fault {felt}; {told}."),
        "two": _("With both faults {felt}; {told}."),
        "alone": _("Alone, {fault}: {felt}; {told}."),
        "nowhere": _(
            "{circuit}: {what} {where} is nothing that it can have. Choose another fault or another circuit."
        ),
        "elsewhere": _("{circuit}: {what} is looked at {places}, not {where}. Choose one of these places."),
        "besides": _("{circuit}: {fault} is nothing that it can have besides. Choose another second fault."),
        "together": _("Not both at once: {one} and {other}. Choose another second fault."),
        "board": _("A part at the board is shown to trainers only, with a network. Choose another place."),
        "unknown": _("This address asks for something that is not here: {name} “{value}”. Choose anew below."),
        "no_book": _("The answers are not on this phone yet. Open the fault bench once with a network."),
        "not_here": _("not on this circuit"),
    }


def felt_words() -> dict[str, str]:
    """What becomes of a press, by the first letter of what the input reads then."""
    unfelt = _("not felt")
    return {"p": _("felt"), "b": _("not sure"), "r": unfelt, "o": unfelt}


def seen_words() -> dict[Seen, str]:
    """When the operator sees it, short."""
    return {
        "at_once": _("at once"),
        "next_close": _("at the next close"),
        "never": _("never"),
        "uncertain": _("not sure"),
    }


def still_words(still: Still, share: float) -> str:
    """What of the edge still answers, short."""
    words = {
        "all": _("all of it"),
        "near_side": _("{share}, near side"),
        "far_side": _("{share}, far side"),
        "part": _("{share}"),
        "nothing": _("nothing"),
        "stands": _("stands"),
    }
    return words[still].format(share=percent(share))


def operators(reader: Reader) -> dict[str, str]:
    """What the operator makes of what it reads, by the first letter of that."""
    return {letter: in_words(say(OPERATOR[read]), reader) for letter, read in READS.items()}


def meter_name(at: MeterPlace, probes: Probes, swapped: bool) -> str:
    """Where and how the meter is held."""
    places = {"operator": _("at the operator"), "box": _("at the box"), "edge": _("at the edge")}
    held = {"pair": "", "first_strip": _("first strip"), "second_strip": _("second strip")}
    how = _("probes swapped") if swapped else held[probes]
    return ", ".join(filter(None, (_("Meter {at}").format(at=places[at]), how)))


def volts_shown(volts: Iterable[float], reader: Reader) -> str:
    """Voltages at the input's terminals."""
    return " / ".join(show(each, "V", reader.units) for each in volts)


def ohms_shown(ohm: float | None, reader: Reader) -> str:
    """What a meter shows."""
    return _("OL (open)") if ohm is None else show(ohm, "ohm", reader.units)
