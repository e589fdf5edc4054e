"""Everything that may hang behind a few wires, and what a meter would show of each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isinf
from typing import get_args

from sillwright.base.units import Number, Ohm
from sillwright.circuit.bands import table
from sillwright.circuit.loop_reading_model import Condition, LoopReadingCase, MeterReading, Where
from sillwright.circuit.metering import MeterPlace, Probes
from sillwright.circuit.model import Circuit

Span = tuple[float, float]
Spans = tuple[Span, ...]
"""Between what the meter shows it, in ohms, or in volts on diode test; inf = OL."""

WHERE: tuple[Where, ...] = get_args(Where)
REACH: dict[MeterPlace, int] = {"operator": 0, "box": 1, "edge": 2}
BY_WIRES: dict[int, tuple[Circuit, ...]] = {
    2: ("resistor", "plain", "normally_closed", "diode_capacitor"),
    4: ("four_wire",),
}
OF_CIRCUIT: dict[Circuit, tuple[Condition, ...]] = {
    "resistor": (
        "sound", "off", "damp", "wet", "trips", "shorted", "joint", "broken", "second", "dead", "before",
    ),
    "plain": ("sound", "damp", "wet", "trips", "shorted", "joint", "broken", "dead"),
    "normally_closed": ("sound", "damp", "wet", "trips", "shorted", "joint", "broken"),
    "diode_capacitor": ("sound", "damp", "wet", "shorted", "broken", "dead", "before"),
    "four_wire": ("sound", "damp", "wet", "trips", "shorted", "joint", "broken", "dead"),
}  # fmt: skip
"""Circuits that ohms tell apart, and how each may be."""
NOWHERE: frozenset[Condition] = frozenset({"sound", "off", "dead"})
"""Of the whole, or of the edge alone."""
ANY_ELEMENT: frozenset[Condition] = frozenset({"broken", "shorted"})
"""Where the element is not known, these look alike for each."""
FEEL: frozenset[Condition] = frozenset({"sound", "off", "damp", "wet", "trips", "second", "shorted"})
"""A press brings the two conductors together as it should, as far as a meter shows."""


@dataclass(frozen=True)
class Guess:
    """One thing that it may be; ``crossed``: the second conductor leads to a diode's anode."""

    circuit: Circuit
    condition: Condition
    where: Where = "edge"
    element: Ohm | None = None
    crossed: bool = False
    told: bool = False  # somebody said which end element there is

    @property
    def name(self) -> tuple[Circuit, Ohm | None, Condition]:
        """What it says, wherever its fault is and however its wires lie."""
        return self.circuit, self.element, self.condition

    @property
    def part(self) -> Number:
        """Its part of all guesses of its name."""
        return 1 / len(_places(self.condition)) / (2 if self.circuit == "diode_capacitor" else 1)


@dataclass(frozen=True)
class Look:
    """One way to read."""

    at: MeterPlace
    pressed: bool = False
    swapped: bool = False
    between: Probes = "pair"
    diode_test: bool = False


def guesses(case: LoopReadingCase) -> Iterator[Guess]:
    """All that it may be, before anything was read, the most usual first."""
    circuits = tuple(OF_CIRCUIT) if case.wires is None else BY_WIRES.get(case.wires, ())
    circuits = tuple(each for each in circuits if case.circuit in (None, each))
    met = table("element")["met"] if case.element is None else (case.element,)
    told = case.element is not None
    for circuit in circuits:
        for condition in OF_CIRCUIT[circuit]:
            elements: tuple[Ohm | None, ...] = (None,)
            if circuit == "resistor" and (told or condition not in ANY_ELEMENT):
                elements = tuple(met)
            for element in elements:
                for where in _places(condition):
                    for crossed in (False, True) if circuit == "diode_capacitor" else (False,):
                        yield Guess(circuit, condition, where, element, crossed, told)


def _places(condition: Condition) -> tuple[Where, ...]:
    """Where it may be; an element at the near end of the edge counts as one in the cord."""
    return ("edge",) if condition in NOWHERE else WHERE[:2] if condition == "before" else WHERE


def look_of(reading: MeterReading) -> Look:
    """How a reading was taken."""
    return Look(reading.at, reading.pressed, reading.swapped, reading.between, reading.diode_test)


def fits(guess: Guess, reading: MeterReading) -> bool:
    """Whether the reading is what the meter would show."""
    if guess.condition == "second" and reading.steady == "wanders" and not reading.pressed:
        return False
    expected = spans(guess, look_of(reading))
    slack = table("meter")["share"] if reading.pressed or reading.diode_test else 0.0
    return any(_within(reading.shown, low, high, slack) for low, high in expected)


def _within(shown: float, low: float, high: float, slack: float) -> bool:
    if isinf(shown):
        return isinf(high)
    return low * (1 - slack) <= shown <= high * (1 + slack)


def spans(guess: Guess, look: Look) -> Spans:
    """What the meter would show; nothing where that cannot be read at this circuit."""
    if look.between != "pair":
        return _strip(guess, look) if guess.circuit == "four_wire" and not look.diode_test else ()
    forward = look.swapped == guess.crossed
    ohms = _pair(guess, look, forward)
    if not look.diode_test:
        return ohms
    if guess.circuit == "diode_capacitor":
        low, high = table("diode")["forward"]
        if _bare(guess, look):
            return ((low, high),) if forward else ((inf, inf),)
        if forward and not look.pressed and _seen(guess, look) in {"damp", "wet"}:
            return ((0.0, high),)  # the diode beside the water lets no more stand
    return tuple(volts for each in ohms for volts in _volts(each))


def _bare(guess: Guess, look: Look) -> bool:
    """Whether nothing but the diode itself is between the probes."""
    seen = _seen(guess, look)
    return seen in {"dead", "before"} or (
        seen == "sound" and not look.pressed and not behind_the_element(guess, look)
    )


def _seen(guess: Guess, look: Look) -> Condition:
    """The condition as far as it lies behind the probes."""
    return guess.condition if REACH[look.at] <= WHERE.index(guess.where) else "sound"


def behind_the_element(guess: Guess, look: Look) -> bool:
    """Whether the probes are behind an element that stands before the edge: there it is a plain one."""
    return guess.condition == "before" and _seen(guess, look) == "sound"


def _pair(guess: Guess, look: Look, forward: bool) -> Spans:
    seen = _seen(guess, look)
    if guess.circuit == "normally_closed":
        return _opening(seen, look.pressed)
    if guess.circuit in {"plain", "four_wire"} or behind_the_element(guess, look):
        return _apart(seen, look.pressed, guess.where)
    if look.pressed and seen in FEEL:
        return ((0.0, _press(guess)),)
    if guess.circuit == "diode_capacitor":
        return _diode(seen, look.pressed, forward)
    return _element(guess, seen, look.pressed)


def _press(guess: Guess) -> Ohm:
    """The most that a press may show: what an input takes for one, its pull-up as large as the element."""
    most: Ohm = table("apart")["pressed"]
    return most if guess.element is None else min(most, table("element")["trips"] * guess.element)


def _element(guess: Guess, seen: Condition, pressed: bool) -> Spans:
    """Ohms of a pair with an end element, where a press does not simply bring the strips together."""
    if seen == "broken":
        return _broken(pressed, guess.where)
    edges = table("element")
    values = table("element")["met"] if guess.element is None else (guess.element,)
    if seen == "sound" and guess.element is None:
        return ((min(values) * edges["good"][0], max(values) * edges["good"][1]),)
    if seen == "joint":
        most = values[0] * edges["open"]
        top = table("apart")["damp"] if guess.told else most
        return ((0.0, top),) if pressed else ((values[0] * edges["look"], top),)
    if seen == "shorted":
        return ((0.0, max(edges["pressed"] * values[0], table("through")["contact"])),)
    low, high = edges["good"]
    shares: dict[Condition, Spans] = {
        "off": ((edges["damp"], low), (high, edges["look"])),
        "damp": ((edges["wet"], edges["damp"]),),
        "wet": ((edges["trips"], edges["wet"]),),
        "trips": ((edges["pressed"], edges["trips"]),),
        "second": (tuple(edges["second"]),),
    }
    of_it = shares.get(seen, ((low, high),))
    return tuple((one * value, other * value) for value in values for one, other in of_it)


def _apart(seen: Condition, pressed: bool, where: Where) -> Spans:
    """Ohms between two conductors that only a press joins."""
    edges, most = table("apart"), table("through")["joint"]
    if seen == "broken":
        return _broken(pressed, where)
    if seen == "dead":
        return ((edges["damp"], inf),)
    if pressed:
        return ((edges["pressed"], most),) if seen == "joint" else ((0.0, edges["pressed"]),)
    low, high = {
        "damp": (edges["wet"], edges["damp"]),
        "wet": (edges["trips"], edges["wet"]),
        "trips": (edges["pressed"], edges["trips"]),
        "shorted": (0.0, edges["pressed"]),
    }.get(seen, (edges["damp"], inf))
    return ((low, high),)


def _broken(pressed: bool, where: Where) -> Spans:
    """A break in the edge still lets a press before it through."""
    edges = table("apart")
    away: Span = (edges["damp"], inf)
    return ((0.0, edges["pressed"]), away) if pressed and where == "edge" else (away,)


def _opening(seen: Condition, pressed: bool) -> Spans:
    """Ohms of a contact that a press opens."""
    edges, contact = table("apart"), table("through")["contact"]
    if seen == "broken":
        return ((edges["damp"], inf),)
    if not pressed:
        return ((contact, edges["damp"]),) if seen == "joint" else ((0.0, contact),)
    low, high = {
        "shorted": (0.0, contact),
        "trips": (contact, edges["trips"]),
        "wet": (edges["trips"], edges["wet"]),
        "damp": (edges["wet"], edges["damp"]),
    }.get(seen, (edges["damp"], inf))
    return ((low, high),)


def _diode(seen: Condition, pressed: bool, forward: bool) -> Spans:
    """Ohms of a pair that a diode closes: by the meter, forward a diode shows almost anything."""
    edges = table("apart")
    if seen == "broken":
        return _broken(pressed, "edge")
    if seen == "shorted":
        return ((0.0, edges["pressed"]),)
    if seen == "wet":
        return ((edges["pressed"], edges["wet"]),)
    if seen == "damp":
        return ((edges["pressed"] if forward else edges["wet"], edges["damp"]),)
    return ((edges["pressed"] if forward else edges["damp"], inf),)


def _strip(guess: Guess, look: Look) -> Spans:
    """Ohms from end to end of one strip, with the wires to it."""
    seen, edges = _seen(guess, look), table("through")
    if seen == "broken":
        return ((0.0, edges["strip"]), (table("apart")["damp"], inf))
    return ((0.0, edges["joint"] if seen == "joint" else edges["strip"]),)


def _volts(ohms: Span) -> Spans:
    """What a diode test makes of a resistance."""
    given = table("diode")
    (least, most), top = given["current"], given["most"]
    low, high = ohms[0] * least, ohms[1] * most
    shown = ((low, min(high, top)),) if low < top else ()
    return (*shown, (inf, inf)) if high > top else shown
