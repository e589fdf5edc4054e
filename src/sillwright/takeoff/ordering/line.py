"""A line of an order: everything that the maker needs to build one edge right, and why it may not go out yet."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from math import floor
from typing import Literal

from sillwright.base import data
from sillwright.base.errors import InputError, OutOfRange
from sillwright.base.scale import SIXTEENTH
from sillwright.base.words import N_, Amount, Reader, Sentence, Units, in_words, say
from sillwright.catalogue.model import OperatorInput
from sillwright.catalogue.profile import Construction, OrderWord
from sillwright.takeoff.answer import Block, End, Place
from sillwright.takeoff.lengths.length_model import PLACES as PLACES

Ship = Literal["coiled", "straight"]

MEANING: dict[str, str] = {"body": N_("overall body"), "sensing": N_("sensing length")}
CONSTRUCTIONS: dict[Construction, str] = {
    "factory_sealed": N_("sensing edge, sealed by its maker"),
    "cut_on_site": N_("sensing edge, to be cut on site"),
}
ENDS: dict[End, str] = {
    "left": N_("left, inside looking out"),
    "right": N_("right, inside looking out"),
    "both": N_("both ends; the lead that is not used is capped watertight"),
}
MIRRORED: dict[End, str] = {
    "left": N_("on the right of someone who stands outside, looking in"),
    "right": N_("on the left of someone who stands outside, looking in"),
    "both": N_("both ends, from either side"),
}
_ROUND_OFF = 1e-9  # metre


@dataclass(frozen=True, kw_only=True)
class Choice:
    """What a person chose for an order beyond what the take-off answers; an end element in ohms."""

    circuit: str | None = None
    end_element: float | None = None
    ship: Ship | None = None
    quantity: int = 1
    units: Units = "us"
    box: str = ""
    converter: str = ""
    input: OperatorInput | None = None  # what the edge is to be joined to
    note: str = ""

    def __post_init__(self) -> None:
        if isinstance(self.quantity, bool) or not isinstance(self.quantity, int) or not 1 <= self.quantity <= 999:
            raise OutOfRange(say(N_("quantity {quantity}: a whole number from 1 to 999"), quantity=self.quantity))
        if self.end_element is not None and not 0 < self.end_element <= 1e7:
            said = N_("end element {ohms}: above 0 and at most 10 MΩ")
            raise OutOfRange(say(said, ohms=f"{self.end_element:g} Ω"))


@dataclass(frozen=True, kw_only=True)
class OrderLine:
    """One edge on an order; lengths in metres, the end element in ohms. None: not known, or none there."""

    number: int
    tag: str
    place: Place
    profile: str  # name in the catalogue; empty while none is chosen
    construction: Construction | None
    quantity: int
    units: Units  # in which its lengths are written first
    word: OrderWord | None  # what the number on the order means
    length: float | None  # that number, for each piece
    body: float | None  # rubber without loose fins, each piece
    sensing: float | None  # the stretch that answers, each piece
    pieces: int
    to_buy: float | None  # of a body that is cut on site, with what is lost in cutting
    channel: str  # name; empty where the channel there is used
    channel_pieces: tuple[float, ...]
    end: End | None
    exit: str | None
    from_end: float | None
    lead_length: float | None
    fin: str | None
    circuit: str | None
    wires: int | None
    end_element: float | None
    ship: Ship | None
    cord: str = ""
    reel: str = ""
    radio: str = ""
    box: str = ""
    converter: str = ""
    confirmed_by: str = ""
    confirmed_on: str = ""
    note: str = ""
    remarks: tuple[Sentence, ...] = ()
    blocked: tuple[Block, ...] = ()
    released_by: str = ""
    released_on: date | None = None

    @property
    def label(self) -> str:
        """How the line is called, by the supplier too: the tag, with the place where it is not the bottom."""
        return self.tag if self.place == "bottom" else f"{self.tag} {self.place}"

    @property
    def open(self) -> bool:
        """Whether a question stands before this line can be released."""
        return bool(self.blocked)


def written(metres: float, units: Units) -> str:
    """A length as the order writes it: never more than was found, in either system.

    >>> written(3.20675, "us"), written(3.20675, "metric")
    ('10 ft 6-1/4 in', '3.206 m')
    """
    step = SIXTEENTH if units == "us" else 0.001
    down = floor((metres + _ROUND_OFF) / step) * step
    return in_words(Amount(down, "m"), Reader(units=units))


def length_of(line: OrderLine) -> Sentence:
    """The length on the order and the word that says what it means, in both systems of units."""
    if line.length is None or line.word is None:
        return Sentence(N_("not known"))
    other: Units = "metric" if line.units == "us" else "us"
    values = {
        "length": written(line.length, line.units),
        "other": written(line.length, other),
        "word": Sentence(MEANING[line.word]),
        "pieces": line.pieces,
    }
    if line.pieces > 1:
        return Sentence(N_("{pieces} pieces, each {word} {length} ({other})"), values)
    return Sentence(N_("{word} {length} ({other})"), values)


def lead_of(line: OrderLine) -> tuple[Sentence, ...]:
    """The end of the lead said twice: inside looking out, and mirrored for someone who stands outside."""
    if line.end is None:
        return (Sentence(N_("not known")),)
    return (Sentence(ENDS[line.end]), Sentence(MIRRORED[line.end]))


def confirmed_of(line: OrderLine) -> Sentence:
    """Who confirmed the lead, and when; a question mark where nobody did."""
    if not (line.confirmed_by and line.confirmed_on):
        return Sentence(N_("? not confirmed yet: by whom, on, from a photo or on site"))
    values = {"by": line.confirmed_by, "on": line.confirmed_on}
    return Sentence(N_("confirmed by {by}, on {on}"), values)


def wires_of(circuit: str | None) -> int | None:
    """How many conductors a circuit has; None while it is not known.

    >>> wires_of("four_wire"), wires_of("air"), wires_of(None)
    (4, 0, None)

    Source: trade rules of thumb, from memory.
    """
    wires = data.table("sillwright.takeoff.ordering", "ordering")["wires"].get(circuit)
    return wires if isinstance(wires, int) else None


def release(line: OrderLine, *, on: date, by: str) -> OrderLine:
    """The line as it may go to the supplier. Raises :class:`InputError` while a question stands."""
    if line.released_on is not None:
        said = N_("{line} was released by {by} on {on}; a change is a new line")
        raise InputError(say(said, line=line.label, by=line.released_by, on=line.released_on))
    if line.blocked:
        said = N_("{line} cannot be released: {reason} {releases}")
        first = line.blocked[0]
        raise InputError(say(said, line=line.label, reason=first.reason, releases=first.releases))
    if not by.strip():
        raise InputError(say(N_("{line}: say who releases it"), line=line.label))
    return replace(line, released_by=by.strip(), released_on=on)
