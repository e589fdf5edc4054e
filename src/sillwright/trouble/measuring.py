"""What a meter or a lamp shows at a loop that is hurt in a certain way, as shares over the outcomes of a step.

The loop is computed by :mod:`sillwright.circuit`. What is not known of it – how wet, how good the joint, which end
element within its tolerance, where somebody presses, how the meter errs, where a threshold lies in its window – is
integrated over a fixed set of evenly spread points, so that the same question has the same answer everywhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from math import exp, log
from statistics import NormalDist
from typing import Any, get_args

from sillwright.base.errors import UnknownName
from sillwright.base.units import Number, Ohm
from sillwright.base.words import N_, say
from sillwright.circuit.hurting import applies
from sillwright.circuit.loops import meter, reads
from sillwright.circuit.metering import MeterPlace
from sillwright.circuit.model import Circuit, Hurt, HurtKind, Loop, Place, Press, State, Threshold
from sillwright.trouble.banding import AT_REST, WHEN_PRESSED, band, change, display, settings

Row = tuple[float, ...]

CIRCUITS: tuple[Circuit, ...] = get_args(Circuit)
PLACES: dict[str, MeterPlace] = {"operator": "operator", "box": "box", "edge": "edge"}
READINGS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(PLACES, AT_REST),
    **{f"{place}_pressed": WHEN_PRESSED for place in ("operator", "edge")},
    "lamp": ("rest", "pressed", "fault"),
    "lamp_pressed": ("pressed", "no_change"),
}
"""Where a reading is taken, and the outcomes that it has, from sound to hurt."""
POINTS = 48
FEW = 12  # where no resistance is spread, outcomes hang on little else
NORMAL = NormalDist()
MIDDLE = NORMAL.inv_cdf(0.9)  # a spread is given by its middle 80 %


@dataclass(frozen=True, kw_only=True, slots=True)
class Way:
    """One way in which a loop is hurt; ``ohm`` is the middle 80 % of a spread, ``one_of`` its values one by one."""

    kind: HurtKind
    place: Place
    ohm: tuple[Ohm, Ohm] | None = None
    one_of: tuple[Ohm, ...] = ()

    def at(self, share: Number) -> Hurt:
        """The hurt at a share of what its resistance may be."""
        if self.one_of:
            return Hurt(kind=self.kind, place=self.place, ohm=self.one_of[int(share * len(self.one_of))])
        if self.ohm is None:
            return Hurt(kind=self.kind, place=self.place)
        low, high = map(log, self.ohm)
        spread = (high - low) / 2 / MIDDLE
        return Hurt(kind=self.kind, place=self.place, ohm=exp((low + high) / 2 + spread * NORMAL.inv_cdf(share)))


@dataclass(frozen=True, kw_only=True, slots=True)
class Point:
    """One point of what is not known, each from 0 to 1."""

    ohm: Number
    element: Number
    press: Number
    meter: Number
    threshold: Number


@cache
def points(count: int) -> tuple[Point, ...]:
    """So many points spread evenly: in every direction one in the middle of each of as many equal stretches.

    >>> sorted(point.meter for point in points(4))
    [0.125, 0.375, 0.625, 0.875]

    Source: lattice of rank one; its steps have no divisor in common with the counts used here.
    """

    def spread(step: int, at: int) -> Number:
        return (at * step % count + 0.5) / count

    return tuple(
        Point(
            ohm=spread(1, at),
            element=spread(19, at),
            press=spread(29, at),
            meter=spread(7, at),
            threshold=spread(13, at),
        )
        for at in range(count)
    )


def shown(reading: str, loop: Loop, hurt: str | None) -> Row:
    """How often each outcome of a reading is met at this loop with a hurt by name; None: a sound loop.

    A share of readings is misread or noted wrongly, so that nothing is ever certain. Valid for loops of the kinds
    of :mod:`sillwright.circuit`; a hurt that the loop cannot have leaves it sound. Raises :class:`UnknownName` for
    a reading or a hurt that is not in the data.

    >>> from sillwright.circuit.typical import typical
    >>> [round(each, 2) for each in shown("operator", typical("resistor"), "lead_short")]
    [0.07, 0.0, 0.0, 0.0, 0.91, 0.0]

    Source: the hurts and their shares, invented; the meter, common practice.
    """
    if reading not in READINGS or (hurt is not None and hurt not in settings()["hurt"]):
        raise UnknownName(say(N_("no reading “{reading}” of a hurt “{hurt}”"), reading=reading, hurt=hurt or "–"))
    found = dict.fromkeys(READINGS[reading], 0.0)
    for share, way in ways(loop, hurt):
        for outcome, part in _seen(reading, loop, way):
            found[outcome] += share * part
    misread: float = settings()["person"]["misread"]
    return tuple((1.0 - misread) * found[each] + misread / len(found) for each in found)


def ways(loop: Loop, hurt: str | None) -> list[tuple[Number, Way | None]]:
    """The ways in which a loop is hurt, with their shares; what is left is a loop that is sound at the moment."""
    rows = settings()["hurt"][hurt] if hurt is not None else []
    met: list[tuple[Number, Way | None]] = [
        (row["share"], _way(row))
        for row in rows
        if loop.circuit in row.get("circuits", CIRCUITS) and applies(loop, row["kind"], row["place"])
    ]
    return [*met, (1.0 - sum(share for share, _ in met), None)]


def _way(row: Mapping[str, Any]) -> Way:
    ohm = (row["ohm"][0], row["ohm"][1]) if "ohm" in row else None
    return Way(kind=row["kind"], place=row["place"], ohm=ohm, one_of=tuple(row.get("one_of", ())))


@lru_cache(maxsize=1024)
def _seen(reading: str, loop: Loop, way: Way | None) -> tuple[tuple[str, Number], ...]:
    """What is seen of one way, over all points."""
    spread = points(POINTS if way is not None and (way.ohm or way.one_of) else FEW)
    found: dict[str, float] = {}
    for point in spread:
        outcomes = _outcomes(reading, loop, way, point)
        for each in outcomes:
            found[each] = found.get(each, 0.0) + 1.0 / len(outcomes) / len(spread)
    return tuple(found.items())


def _outcomes(reading: str, nominal: Loop, way: Way | None, point: Point) -> tuple[str, ...]:
    """What is seen at one point; two outcomes where it hangs on the part in hand."""
    loop = _as_made(nominal, point)
    hurts = () if way is None else (way.at(point.ohm),)
    low, high = settings()["person"]["press"]
    rest = State(hurts=hurts)
    pressed = State(hurts=hurts, press=Press(at=low + (high - low) * point.press))
    place = PLACES.get(reading.removesuffix("_pressed"))
    if place is None:
        return _lamp(loop, rest) if reading == "lamp" else _lamp_pressed(loop, rest, pressed)
    if reading in PLACES:
        return (band(nominal, _measured(loop, rest, place, point.meter)),)
    before, after = (max(_pair(loop, state, place, point.meter)) for state in (rest, pressed))
    return (change(nominal, before, after),)


def _as_made(loop: Loop, point: Point) -> Loop:
    """The loop with an end element within its tolerance and thresholds within their windows."""

    def sharp(threshold: Threshold) -> Threshold:
        volt = threshold.least_voltage + point.threshold * (threshold.greatest_voltage - threshold.least_voltage)
        return Threshold(least_voltage=volt, greatest_voltage=volt)

    upper, end = loop.input.open, loop.end
    given = replace(loop.input, pressed=sharp(loop.input.pressed), open=sharp(upper) if upper else None)
    if end is not None:
        drift = 1.0 + end.tolerance * (2.0 * point.element - 1.0)
        end = replace(end, resistance=end.resistance * drift)
    return replace(loop, input=given, end=end)


def _lamp(loop: Loop, rest: State) -> tuple[str, ...]:
    read = reads(loop, rest)
    return ("rest", "fault") if read == "between" else ("fault",) if read == "open" else (read,)


def _lamp_pressed(loop: Loop, rest: State, pressed: State) -> tuple[str, ...]:
    """Whether the lamp changes to pressed; one that shows pressed already does not change."""
    if reads(loop, rest) == "pressed":
        return ("no_change",)
    after = reads(loop, pressed)
    return (
        ("pressed",) if after == "pressed" else ("pressed", "no_change") if after == "between" else ("no_change",)
    )


def _measured(loop: Loop, state: State, place: MeterPlace, error: Number) -> tuple[Ohm, ...]:
    """What is measured of a circuit at rest: its pair, and each strip where it has four wires."""
    found = _pair(loop, state, place, error)
    if loop.circuit != "four_wire":
        return found
    strips = (meter(loop, state, place, probes="first_strip"), meter(loop, state, place, probes="second_strip"))
    return (*found, *(display(each, error) for each in strips))


def _pair(loop: Loop, state: State, place: MeterPlace, error: Number) -> tuple[Ohm, ...]:
    """The pair; with a diode both ways round."""
    turns = (False, True) if loop.circuit == "diode_capacitor" else (False,)
    return tuple(display(meter(loop, state, place, swapped), error) for swapped in turns)
