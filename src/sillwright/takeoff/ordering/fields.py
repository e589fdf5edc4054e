"""What is on an order line, field by field: what a field is called, its value, and the value in words.

Order sheet, acknowledgement check and exports all go through this table, so that none of them leaves a field out.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Literal

from sillwright.base.words import N_, Amount, Sentence
from sillwright.takeoff.ordering.line import MEANING, OrderLine

Kind = Literal["count", "name", "length", "word", "ohm"]

EXITS = {
    "end": N_("out of the end"),
    "back": N_("out of the back, into the channel"),
    "inside_face": N_("out of the inside face"),
    "down": N_("downward"),
}
FINS = {
    "none": N_("none"),
    "outside": N_("outside, toward the weather"),
    "inside": N_("inside"),
    "both": N_("both sides"),
}
CIRCUITS = {
    "plain": N_("plain two-wire"),
    "resistor": N_("two-wire with an end resistor"),
    "diode_capacitor": N_("two-wire with a diode or capacitor"),
    "four_wire": N_("four-wire loop"),
    "air": N_("air"),
    "optical": N_("optical pulse"),
}
SHIPS = {"coiled": N_("coiled"), "straight": N_("straight")}
SIDES = {"left": N_("left"), "right": N_("right"), "both": N_("both")}
WORDS: dict[str, dict[str, str]] = {
    "word": MEANING,
    "end": SIDES,
    "exit": EXITS,
    "fin": FINS,
    "circuit": CIRCUITS,
    "ship": SHIPS,
}


@dataclass(frozen=True)
class OrderField:
    """A field of an order line that the maker has to get right."""

    key: str
    title: str
    kind: Kind
    value: Callable[[OrderLine], Any]


def _channel_length(line: OrderLine) -> float | None:
    return sum(line.channel_pieces) if line.channel and line.channel_pieces else None


FIELDS = (
    OrderField("quantity", N_("quantity"), "count", lambda line: line.quantity),
    OrderField("profile", N_("profile"), "name", lambda line: line.profile or None),
    OrderField("length", N_("length"), "length", lambda line: line.length),
    OrderField("word", N_("what the length means"), "word", lambda line: line.word),
    OrderField("pieces", N_("pieces"), "count", lambda line: line.pieces if line.pieces > 1 else None),
    OrderField("channel", N_("channel"), "name", lambda line: line.channel or None),
    OrderField("channel_length", N_("channel length"), "length", _channel_length),
    OrderField("end", N_("lead end, inside looking out"), "word", lambda line: line.end),
    OrderField("exit", N_("lead exit"), "word", lambda line: line.exit),
    OrderField("from_end", N_("exit from that end"), "length", lambda line: line.from_end or None),
    OrderField("lead_length", N_("free lead length"), "length", lambda line: line.lead_length),
    OrderField("fin", N_("fin side"), "word", lambda line: None if line.fin == "none" else line.fin),
    OrderField("wires", N_("wires"), "count", lambda line: line.wires or None),
    OrderField("circuit", N_("circuit"), "word", lambda line: line.circuit),
    OrderField("end_element", N_("end element"), "ohm", lambda line: line.end_element),
    OrderField("ship", N_("ship form"), "word", lambda line: line.ship),
)
BY_KEY = {each.key: each for each in FIELDS}


def shown(key: str, value: Any) -> Any:
    """A value of a field as a sentence can carry it; *none* where there is none."""
    if value is None:
        return Sentence(N_("none"))
    kind = BY_KEY[key].kind
    if kind == "length":
        return Amount(value, "m")
    if kind == "ohm":
        return Amount(value, "ohm")
    if kind == "word":
        words = WORDS[key].get(value)
        return Sentence(words) if words else value
    return value
