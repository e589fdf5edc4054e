"""Case and result of what readings of a meter tell of the loop behind two or four wires."""

from __future__ import annotations

from math import inf
from typing import Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Number, Ohm, Volt
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.circuit.bands import Band
from sillwright.circuit.metering import MeterPlace, Probes
from sillwright.circuit.model import Circuit

Condition = Literal[
    "sound", "off", "damp", "wet", "trips", "shorted", "joint", "broken", "second", "dead", "before"
]  # fmt: skip
"""How a loop is: in order, just outside its tolerance, damp, wet, so low that it reads as a press, pressed or
shorted, with a bad joint, broken, with a second element, with strips that never touch, with its element before the
edge."""

Where = Literal["lead", "cord", "edge"]
"""Between operator and box, between box and edge, in the edge."""
MOST = 8


class MeterReading(Model):
    """What a meter showed, with power locked out and one wire lifted where it was read."""

    at: MeterPlace = field(title="Read at")
    pressed: bool = field(default=False, title="While somebody pressed the edge")
    swapped: bool = field(default=False, title="With the probes swapped")
    between: Probes = field(default="pair", title="Between the pair, or along a strip")
    diode_test: bool = field(default=False, title="With the meter on diode test")
    ohm: Ohm | None = field(
        default=None, at_least=0, at_most=1e12, title="Ohms shown; null where it shows OL or volts"
    )
    volt: Volt | None = field(default=None, at_least=0, at_most=10, title="Volts shown on diode test")
    over_range: bool = field(default=False, title="It showed OL")
    steady: Literal["steady", "wanders"] | None = field(
        default=None, title="Whether it stood still; null = not watched"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if (self.ohm is not None) + (self.volt is not None) + self.over_range != 1:
            raise OutOfRange(say(N_("reading: give one of ohm, volt and over_range")))
        if self.diode_test != (self.volt is not None) and not self.over_range:
            raise OutOfRange(say(N_("reading: volts belong to the diode test, ohms to all others")))

    @property
    def shown(self) -> float:
        """What it showed; inf = OL."""
        return inf if self.over_range else self.volt if self.volt is not None else self.ohm or 0.0

    @property
    def shown_in_words(self) -> Amount | Phrase:
        """What it showed, as a sentence has it."""
        return say(N_("OL")) if self.over_range else Amount(self.shown, "ohm" if self.volt is None else "V")


class LoopReadingCase(Case):
    """What was read at wires of which nobody knows what hangs on them."""

    readings: tuple[MeterReading, ...] = field(default=(), title="Readings")
    circuit: Circuit | None = field(default=None, title="Circuit that there should be; null = not known")
    wires: int | None = field(default=None, at_least=1, at_most=16, title="Wires that come in; null = not counted")
    element: Ohm | None = field(
        default=None, above=0, at_most=1e7, title="End element that there should be; null = not known"
    )
    pull_up: Ohm | None = field(
        default=None, above=0, at_most=1e7, title="The input's pull-up; null = as large as the element"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if len(self.readings) > MOST:
            given = len(self.readings)
            raise OutOfRange(
                say(N_("readings: {given} are given; at most {most} are accepted"), given=given, most=MOST)
            )


class Candidate(Model):
    """One thing that it can be."""

    circuit: Circuit = field(title="Circuit")
    element: Ohm | None = field(default=None, title="End element; null = none, or any")
    condition: Condition = field(title="How it is")
    where: tuple[Where, ...] = field(default=(), title="Where, if anything is wrong")
    share: Number = field(title="Share of what fits, by how usual it is")
    words: str = field(title="In words")
    do: str = field(title="What to do")


class BandFound(Model):
    """In which band a reading at rest falls, if the first candidate is the right one."""

    reading: int = field(title="Which reading, from 1 on")
    band: Band = field(title="Band")
    words: str = field(title="In words")
    do: str = field(title="What to do")


class Outcome(Model):
    """What the next reading may show, and what that leaves."""

    shows: str = field(title="The meter shows")
    leaves: tuple[str, ...] = field(title="Then it is")


class NextReading(Model):
    """The one reading that tells most of what is left apart."""

    at: MeterPlace = field(title="Read at")
    pressed: bool = field(title="While somebody presses the edge")
    swapped: bool = field(title="With the probes swapped")
    between: Probes = field(title="Between the pair, or along a strip")
    diode_test: bool = field(title="With the meter on diode test")
    words: str = field(title="In words")


class LoopReadingResult(Result):
    """What hangs there, what is still open, and the reading that settles it."""

    answer: str = field(title="What it is")
    settled: bool = field(title="Whether the readings leave one thing only")
    next_step: str | None = field(default=None, title="Read next; null = nothing tells more")
    candidates: tuple[Candidate, ...] = field(default=(), title="What it can be, the most usual first")
    meanings: tuple[BandFound, ...] = field(default=(), title="What the readings at rest mean")
    next_reading: NextReading | None = field(default=None, title="The reading to take next")
    outcomes: tuple[Outcome, ...] = field(default=(), title="What the next reading may show")
    notes: tuple[str, ...] = field(default=(), title="What to heed")
    case: LoopReadingCase = field(title="The case as it was computed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
