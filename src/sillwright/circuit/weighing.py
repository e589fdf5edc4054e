"""How usual each thing is that fits, so that the most usual is named first and the odd is left out."""

from __future__ import annotations

from collections.abc import Iterable
from math import isinf, log10, prod

from sillwright.base.units import Number
from sillwright.circuit.bands import table
from sillwright.circuit.guesses import Guess, Look, Spans, fits, look_of, spans
from sillwright.circuit.loop_reading_model import LoopReadingCase, MeterReading

LEAST_OHM, MOST_OHM = 1.0, 1e9
NARROWEST = 0.02
STEADY = 4.0
"""How much more often a reading stands still at a second element than at anything else."""


def shares(found: Iterable[Guess], case: LoopReadingCase) -> dict[Guess, Number]:
    """The guesses that fit all readings, with their shares; those that hardly ever are met are left out.

    A guess counts by how usual it is, and by how much of what it might show lies near the readings.
    """
    weighed = {each: _weight(each, case) for each in found if all(fits(each, reading) for reading in case.readings)}
    whole = sum(weighed.values())
    if not whole:
        return {}
    least = table("usual")["least_share"] * whole if case.readings else 0.0
    said: dict[tuple[object, ...], Number] = {}
    for guess, weight in weighed.items():
        said[guess.name] = said.get(guess.name, 0.0) + weight
    kept = {guess: weight for guess, weight in weighed.items() if said[guess.name] >= least}
    left = sum(kept.values())
    return {guess: weight / left for guess, weight in sorted(kept.items(), key=lambda row: -said[row[0].name])}


def _weight(guess: Guess, case: LoopReadingCase) -> Number:
    usual = table("usual")
    before: float = usual["circuits"][guess.circuit] * usual["conditions"][guess.condition] * guess.part
    if guess.element is not None and case.element is None:
        before *= usual["elements"][table("element")["met"].index(guess.element)]
    if case.element is not None and guess.circuit != "resistor":
        before *= usual["without_element"]
    return before * prod(_near(guess, each) for each in case.readings)


def _near(guess: Guess, reading: MeterReading) -> Number:
    """How densely what it shows lies about the reading."""
    look = look_of(reading)
    density = _density(spans(guess, look), look, isinf(reading.shown))
    still = guess.condition == "second" and reading.steady == "steady" and not reading.pressed
    return density * (STEADY if still else 1.0)


def _density(shown: Spans, look: Look, over: bool) -> Number:
    whole = sum(_width(low, high, look) for low, high in shown if not isinf(low))
    opens = any(isinf(high) for _, high in shown)
    shows_over = (table("usual")["over_range"] if whole else 1.0) if opens else 0.0
    return float(shows_over if over else (1.0 - shows_over) / max(whole, NARROWEST))


def _width(low: float, high: float, look: Look) -> Number:
    if look.diode_test:
        most: float = table("diode")["most"]
        return min(high, most) - low
    return log10(min(high, MOST_OHM) / max(low, LEAST_OHM))
