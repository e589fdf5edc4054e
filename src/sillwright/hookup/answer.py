"""What hooking up an opening answers: which device joins which input, how, and what a meter then shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.base.finding import Finding
from sillwright.base.source import Source
from sillwright.base.words import Sentence
from sillwright.survey.element_place import EndPlace

Way = Literal["direct", "through", "not_joinable", "unknown"]
Standing = Literal["catalogue", "survey", "practice"]
At = Literal["operator", "box", "edge", "anywhere"]
Between = Literal["pair", "strip", "strips", "reversed"]
Enough = Literal["enough", "nearly all", "too little", "not known"]


@dataclass(frozen=True, kw_only=True)
class Joint:
    """How one device is joined to the operator. ``watched`` is as it stands; None: not known, not settled here."""

    device: str  # protection.e1
    name: str  # e1
    kind: str | None
    circuit: str | None
    way: Way
    input: str | None = None  # by its name
    input_circuit: str | None = None
    model: str | None = None  # of the device, as it was taken down
    converter: str | None = None  # by its name in the catalogue or the survey; None: not named
    gives: str | None = None  # the circuit that it turns the device's into
    standing: Standing = "practice"  # who says that it is joined so
    end_element: float | None = None  # ohm, what belongs there
    end_element_place: EndPlace | None = None  # where it is, as far as it was taken down
    watched: bool | None = None
    monitored_if_listed: bool | None = None  # whether this way counts once the instructions list the whole chain
    reverses: bool | None = None  # False: on this terminal it stops only
    shared_with: tuple[str, ...] = ()  # other devices on the same input, by path
    joined: str | None = None  # how it shares that input, where that was told for certain
    reasons: tuple[Sentence, ...] = ()
    asks: tuple[str, ...] = ()  # facts
    assumptions: tuple[Sentence, ...] = ()


@dataclass(frozen=True, kw_only=True)
class InputUse:
    """One input of the operator and what is joined to it."""

    name: str | None
    circuit: str | None
    resistance: float | None  # the end element that it expects, ohm
    devices: tuple[str, ...]  # by path
    standing: Standing
    terminals: tuple[str, ...] = ()
    stops_only: bool = False


@dataclass(frozen=True, kw_only=True)
class Draw:
    """What one part takes from the accessory supply."""

    name: str
    current: float | None  # ampere
    eye: bool = False  # it hangs at the end of a run across the opening
    far_voltage: float | None = None  # volts at its own terminals, under load


@dataclass(frozen=True, kw_only=True)
class Power:
    """The accessory supply against what devices and converters take from it."""

    enough: Enough
    needs: float  # ampere, of what is known
    most: float | None  # ampere, of the operator's supply
    voltage: float | None
    draws: tuple[Draw, ...] = ()
    why: Sentence | None = None
    asks: tuple[str, ...] = ()
    assumptions: tuple[Sentence, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Expected:
    """What a meter shows at one place in one state of the device: between two values, or as words alone."""

    device: str  # path
    at: At
    state: Sentence
    between: Between
    low: float | None = None  # ohm
    high: float | None = None  # None with ``low``: above it
    volts: tuple[float, float] | None = None  # at the operator's input, wired up and powered
    good: bool = True  # what a sound device shows
    words: Sentence | None = None
    id: str = ""  # rest, pressed, open …: the same in every language


@dataclass(frozen=True, kw_only=True)
class Point:
    """A place where wires end: its terminals or wires in their order; empty names are not known."""

    id: Literal["operator", "converter", "box", "edge", "device"]
    title: Sentence
    terminals: tuple[str, ...]  # towards the operator; at the operator itself, towards the device
    behind: tuple[str, ...] = ()  # towards the device, where something goes on from here
    notes: tuple[Sentence, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Run:
    """What goes from one point to the next: a fixed lead, a cord, the edge's own lead, radio."""

    kind: Literal["lead", "cord", "edge_lead", "radio", "hose", "pair"]
    conductors: int
    words: Sentence
    known: bool = True  # False: the count of conductors is not known


@dataclass(frozen=True, kw_only=True)
class Wiring:
    """The wiring of one device from the operator to its far end, point by point, and what to mind."""

    device: str
    title: Sentence
    points: tuple[Point, ...]
    runs: tuple[Run, ...]  # one fewer than the points
    ends_in: Literal["element", "diode", "plain", "loop", "switch", "none"]
    element: float | None = None  # ohm
    supply: tuple[str, ...] = ()  # terminals that feed the converter or device
    remarks: tuple[Sentence, ...] = ()
    questions: tuple[Sentence, ...] = ()
    way: Way = "unknown"


@dataclass(frozen=True, kw_only=True)
class Hookup:
    """How the devices of one opening are hooked up."""

    joints: tuple[Joint, ...]
    inputs: tuple[InputUse, ...]  # used and left, in their order
    power: Power
    readings: tuple[Expected, ...]
    wiring: tuple[Wiring, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Sentence, ...] = ()
    asks: tuple[str, ...] = ()
    assumptions: tuple[Sentence, ...] = ()
    sources: tuple[Source, ...] = ()
    looked: bool = True  # whether it is known which devices are there

    @property
    def left(self) -> tuple[InputUse, ...]:
        """The inputs that nothing is joined to."""
        return tuple(each for each in self.inputs if not each.devices)
