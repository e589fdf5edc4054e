"""The outcome that an ohmmeter's reading falls in, for each kind of loop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import floor, isinf, log10
from typing import Any

from sillwright.base import data
from sillwright.base.units import Number, Ohm
from sillwright.circuit.model import Loop

AT_REST = ("right", "high", "damp", "wet", "zero", "open")
WHEN_PRESSED = ("answers", "weak", "no_change")


def settings() -> Mapping[str, Any]:
    """The ways in which loops are hurt, the bands of readings, and what is known of meters and people."""
    return data.table("sillwright.trouble", "readings")


def display(ohm: Ohm, error: Number) -> Ohm:
    """What the meter shows of a resistance; ``error`` from 0, the least, to 1, the most, right in the middle.

    >>> display(10e3, 0.5), round(display(10e3, 1.0))
    (10000.0, 10120)
    """
    if isinf(ohm) or ohm <= 0.0:
        return max(ohm, 0.0)
    given = settings()["meter"]
    count: float = 10.0 ** max(0, floor(log10(ohm / given["counts"])) + 1)
    return max(0.0, ohm + (2.0 * error - 1.0) * (float(given["share"]) * ohm + float(given["digits"]) * count))


def band(loop: Loop, ohms: Sequence[Ohm]) -> str:
    """The outcome of a measurement at rest, against what a loop of this kind should read.

    ``ohms``: of the pair; then, with a diode, of the pair the other way round; with four wires, of each strip.

    >>> from sillwright.circuit.typical import typical
    >>> band(typical("resistor"), [5e3]), band(typical("plain"), [float("inf")])
    ('wet', 'right')
    """
    bands = settings()["bands"]
    if loop.circuit == "normally_closed":
        return _through(ohms[0])
    if loop.circuit == "diode_capacitor":
        return _diode(min(ohms), max(ohms))
    if loop.circuit == "four_wire" or loop.end is None:
        apart = _under(ohms[0], bands["apart"], ("zero", "wet", "damp", "right"))
        return _through(max(ohms[1:])) if apart == "right" and ohms[1:] else apart
    edges = [share * loop.end.resistance for share in bands["element"]]
    return _under(ohms[0], edges, ("zero", "wet", "damp", "right", "high", "open"))


def _under(ohm: Ohm, edges: Sequence[Ohm], names: Sequence[str]) -> str:
    """The first name whose edge the reading is below; the last where it is below none."""
    return next((name for edge, name in zip(edges, names, strict=False) if ohm < edge), names[-1])


def _through(ohm: Ohm) -> str:
    return _under(ohm, settings()["bands"]["through"], ("right", "high", "open"))


def _diode(forward: Ohm, backward: Ohm) -> str:
    """A diode lets through one way only: both ways alike is a press, water or a break."""
    zero, wet, damp = settings()["bands"]["apart"]
    if backward < damp:
        return "zero" if backward < zero else "wet" if backward < wet else "damp"
    return _under(forward, settings()["bands"]["diode"], ("right", "high", "open"))


def change(loop: Loop, rest: Ohm, pressed: Ohm) -> str:
    """The outcome of a press: a contact that opens goes up, every other circuit goes down.

    >>> from sillwright.circuit.typical import typical
    >>> change(typical("plain"), float("inf"), 130.0), change(typical("plain"), float("inf"), 2e3)
    ('answers', 'weak')
    """
    bands = settings()["bands"]
    if loop.circuit == "normally_closed":
        least: float = bands["through"][-1]
        if rest < least <= pressed:
            return "answers"
        return "weak" if pressed * bands["changed"] > rest else "no_change"
    if rest < bands["press"]:
        return "no_change"
    if pressed < bands["press"]:
        return "answers"
    return "weak" if pressed < bands["changed"] * rest else "no_change"
