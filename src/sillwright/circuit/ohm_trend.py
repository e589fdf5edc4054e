"""Where the readings of a loop are heading: their trend over the years, and when the input will trip."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from itertools import combinations
from math import isfinite
from statistics import median

from sillwright.base.errors import OutOfRange
from sillwright.base.source import Source
from sillwright.base.units import Kelvin, Number, Ohm
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.circuit.bands import SOURCES as BANDS
from sillwright.circuit.bands import Band, element_band, table
from sillwright.circuit.metering import MeterPlace

MONTH = 365.25 / 12  # days
NEWEST = 40  # readings; older ones say little of today
FEWEST = 3
SHORTEST = 2.0  # months over which readings tell a trend
FARTHEST = 240.0  # months; beyond it nobody foretells
DOUBT = 0.1  # chance with which readings without a trend look as if they had one
WARM: Kelvin = 15.0  # readings taken this far apart in temperature are told
SOURCES = (
    Source(
        document=N_("median of the slopes between every two readings (Theil and Sen)"),
        sure="memory",
        id="theil-sen",
    ),
    Source(
        document=N_("Kendall's test for a trend, exact up to the count of readings"), sure="computed", id="kendall"
    ),
    *BANDS,
)


@dataclass(frozen=True, kw_only=True, slots=True)
class DatedReading:
    """An ohm reading at rest, with the day, the place and, where somebody noted it, the temperature."""

    on: date
    ohm: Ohm
    at: MeterPlace = "operator"
    temperature: Kelvin | None = None


@dataclass(frozen=True, kw_only=True, slots=True)
class OhmTrend:
    """Where the readings are heading. ``months`` counts from the last reading; None = it does not get there."""

    answer: Phrase
    band: Band | None  # of the last reading
    warning: bool  # the last reading lies between a trip and the tolerance of the element
    used: int  # readings at the place that counts
    ohm_per_month: Ohm | None = None
    sure: bool = False  # hardly by chance
    trips: Ohm | None = None  # the resistance it is heading for, at which the input changes its mind
    months: Number | None = None
    months_least: Number | None = None  # by the steepest slope that the readings allow
    warns: Ohm | None = None  # the resistance it is heading for at which readings begin to warn
    months_to_warn: Number | None = None  # 0 = there already
    rows: tuple[DatedReading, ...] = ()  # the readings that count, oldest first
    here: Ohm | None = None  # what the line through them is at the last one
    notes: tuple[Phrase, ...] = ()
    sources: tuple[Source, ...] = SOURCES


def ohm_trend(readings: Sequence[DatedReading], element: Ohm = 10e3, pull_up: Ohm | None = None) -> OhmTrend:
    """The trend of readings at rest on a loop with an end element, and the months until the input trips.

    The newest 40 readings at the place with most of them count, the place nearest the edge among equals. The slope
    is the median of those between every two readings; it is *sure* where readings without a trend would show it
    less than once in ten times. Valid for slow changes such as water that creeps in; a break comes in a second.
    Raises :class:`OutOfRange` for readings that are none.

    >>> ohms = (10e3, 9.6e3, 9.1e3, 8.6e3)
    >>> yearly = [DatedReading(on=date(2022 + at, 5, 1), ohm=ohm) for at, ohm in enumerate(ohms)]
    >>> found = ohm_trend(yearly)
    >>> round(found.ohm_per_month, 1), found.warning, round(found.months)
    (-40.2, True, 129)

    Source: Theil 1950, Sen 1968, from memory; bands of readings from memory.
    """
    for each in readings:
        if not (isfinite(each.ohm) and each.ohm >= 0):
            told = {"on": each.on.isoformat(), "ohm": f"{each.ohm:g}"}
            raise OutOfRange(say(N_("{on}: a reading of {ohm} ohm; a break is no reading for a trend"), **told))
    rows = sorted(_at_one_place(readings), key=lambda each: each.on)[-NEWEST:]
    if not rows:
        return OhmTrend(answer=say(N_("No reading is noted yet.")), band=None, warning=False, used=0)
    band = element_band(rows[-1].ohm, element, pull_up)
    warning = band in {"damp", "wet"}
    notes = tuple(_notes(readings, rows, warning))
    span = (rows[-1].on - rows[0].on).days / MONTH
    if len({each.on for each in rows}) < FEWEST or span < SHORTEST:
        words = N_(
            "Too few readings for a trend: {count}; it takes {fewest} on different days, over {months} months."
        )
        answer = say(words, count=len(rows), fewest=FEWEST, months=round(SHORTEST))
        return OhmTrend(answer=answer, band=band, warning=warning, used=len(rows), rows=tuple(rows), notes=notes)
    return _of_rows(rows, element, pull_up, band, warning, notes)


def _of_rows(
    rows: Sequence[DatedReading],
    element: Ohm,
    pull_up: Ohm | None,
    band: Band,
    warning: bool,
    notes: tuple[Phrase, ...],
) -> OhmTrend:
    slopes = theil_sen(rows)
    slope, steepest = median(slopes), _steepest(slopes, len(rows))
    edges = table("element")
    trips = (pull_up or element) * (edges["trips"] if slope < 0 else edges["open"])
    warns = element * (edges["damp"] if slope < 0 else edges["look"])
    sure = by_chance(rows) <= DOUBT
    here = _line_at_last(rows, slope)
    months = _until(here, slope, trips)
    return OhmTrend(
        answer=_answer(band, slope, sure, months, trips),
        band=band,
        warning=warning,
        used=len(rows),
        ohm_per_month=slope,
        sure=sure,
        trips=trips if slope else None,
        months=months if sure else None,
        months_least=_until(_line_at_last(rows, steepest), steepest, trips) if sure else None,
        warns=warns if slope else None,
        months_to_warn=_until(here, slope, warns) if sure else None,
        rows=tuple(rows),
        here=here,
        notes=notes,
    )


def theil_sen(rows: Sequence[DatedReading]) -> list[Ohm]:
    """The slopes between every two readings of different days, in ohm for every month, in order."""
    pairs = ((one, other) for one, other in combinations(rows, 2) if one.on != other.on)
    return sorted((other.ohm - one.ohm) / ((other.on - one.on).days / MONTH) for one, other in pairs)


def _steepest(slopes: Sequence[Ohm], count: int) -> Ohm:
    """The steeper end of the band in which the slope lies, by Kendall's test; of few the steepest of all."""
    beyond = next((s for s in range(len(slopes) + 1) if tail(count, s) <= DOUBT), len(slopes) + 2)
    rank = max(0, (len(slopes) - (beyond - 2)) // 2 - 1)
    return slopes[rank] if median(slopes) < 0 else slopes[-1 - rank]


def by_chance(rows: Sequence[DatedReading]) -> Number:
    """How often readings without a trend rise or fall as steadily as these; ties count against a trend.

    Source: Kendall's distribution, counted out.
    """
    rising = sum(1 for one, other in combinations(rows, 2) if one.on < other.on and one.ohm < other.ohm)
    falling = sum(1 for one, other in combinations(rows, 2) if one.on < other.on and one.ohm > other.ohm)
    return tail(len(rows), abs(rising - falling))


def tail(count: int, score: int) -> Number:
    """How often a random order of so many readings scores this much or more, either way.

    >>> round(tail(4, 6), 4), round(tail(5, 8), 4)
    (0.0833, 0.0833)
    """
    ways = _orders(count)
    pairs = len(ways) - 1
    return min(1.0, sum(share for swaps, share in enumerate(ways) if abs(pairs - 2 * swaps) >= score))


@cache
def _orders(count: int) -> tuple[Number, ...]:
    """The share of all orders of so many readings by their number of pairs out of order."""
    ways = [1.0]
    for size in range(2, count + 1):
        longer = [0.0] * (len(ways) + size - 1)
        for swaps, share in enumerate(ways):
            for more in range(size):
                longer[swaps + more] += share / size
        ways = longer
    return tuple(ways)


def _line_at_last(rows: Sequence[DatedReading], slope: Ohm) -> Ohm:
    """What the line of that slope through the middle of the readings is at the last of them."""
    first = rows[0].on
    past = [(each.on - first).days / MONTH for each in rows]
    return median(each.ohm - slope * month for each, month in zip(rows, past, strict=True)) + slope * past[-1]


def _until(here: Ohm, slope: Ohm, goal: Ohm) -> Number | None:
    """The months from the last reading until the line gets there; None where it never does, or too far off."""
    if not slope or (goal - here) / slope > FARTHEST:
        return None
    return max(0.0, (goal - here) / slope)


def _at_one_place(readings: Sequence[DatedReading]) -> list[DatedReading]:
    order: tuple[MeterPlace, ...] = ("edge", "box", "operator")
    by_place = [[each for each in readings if each.at == place] for place in order]
    return max(by_place, key=len)


def _answer(band: Band, slope: Ohm, sure: bool, months: Number | None, trips: Ohm) -> Phrase:
    if not sure:
        return say(N_("No trend that is more than chance."))
    told = {"slope": Amount(abs(slope) * 12, "ohm"), "trips": Amount(trips, "ohm")}
    if months is None:
        words = N_("It falls by {slope} a year.") if slope < 0 else N_("It rises by {slope} a year.")
        return say(words, **told)
    if months < 1:
        return say(N_("It is where the input changes its mind, {trips}: any day now."), **told)
    if slope < 0:
        words = N_("It falls by {slope} a year and reaches {trips}, where it reads pressed, in {months} months.")
    else:
        words = N_("It rises by {slope} a year and reaches {trips}, where it reads open, in {months} months.")
    return say(words, months=round(months), **told)


def _notes(readings: Sequence[DatedReading], rows: Sequence[DatedReading], warning: bool) -> list[Phrase]:
    found = []
    if warning:
        found.append(say(N_("The last reading is below its element: water. Look at it before it stops the door.")))
    if len(rows) < len(readings):
        left = len(readings) - len(rows)
        found.append(say(N_("{left} readings were taken at other places and are left out."), left=left))
    known = [each.temperature for each in rows if each.temperature is not None]
    if len(known) < len(rows):
        found.append(say(N_("Note the temperature too: damp shows in warm weather, and ice hides it.")))
    elif max(known) - min(known) > WARM:
        low, high = Amount(min(known), "K"), Amount(max(known), "K")
        words = N_("Read between {low} and {high}; readings in like weather compare better.")
        found.append(say(words, low=low, high=high))
    return found
