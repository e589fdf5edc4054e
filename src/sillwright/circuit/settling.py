"""The one reading that tells most of what is left apart."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations, pairwise
from math import inf, isinf
from typing import get_args

from sillwright.base.units import Number
from sillwright.base.words import Phrase
from sillwright.circuit.bands import table
from sillwright.circuit.guess_words import asked, named, shown
from sillwright.circuit.guesses import Guess, Look, Span, Spans, spans
from sillwright.circuit.loop_reading_model import NextReading, Outcome, Where
from sillwright.circuit.metering import MeterPlace

PLACES: tuple[MeterPlace, ...] = get_args(MeterPlace)
MOST_OUTCOMES = 10
"""More of them tell a reader nothing."""


def groups(left: Sequence[Guess]) -> list[list[Guess]]:
    """The guesses by what they say, in their order."""
    found: dict[object, list[Guess]] = {}
    for each in left:
        found.setdefault(each.name, []).append(each)
    return list(found.values())


def where_of(group: Sequence[Guess]) -> tuple[Where, ...]:
    """Where the fault may be."""
    return tuple(dict.fromkeys(each.where for each in group))


def next_look(left: Mapping[Guess, Number], taken: Sequence[Look]) -> Look | None:
    """The reading that tells most apart for its trouble; None where none tells anything.

    Told apart is a pair of guesses that cannot show the same; a pair counts by how usual both are.
    """
    if not taken:
        return Look("operator")
    best, most = None, 0.0
    for look in ways(left, taken):
        gain = _told_apart(left, look) * (1.0 if look.at == taken[-1].at else table("trouble")[look.at])
        if look not in taken and gain > most:
            best, most = look, gain
    return best


def ways(left: Mapping[Guess, Number], taken: Sequence[Look]) -> Iterator[Look]:
    """Ways to read, in order of their trouble: where the meter is, at rest, pressed, swapped; then elsewhere."""
    here = taken[-1].at
    kinds = {each.circuit for each in left}
    for at in (here, *(each for each in PLACES if each != here)):
        yield Look(at)
        yield Look(at, pressed=True)
        if "diode_capacitor" in kinds:
            yield Look(at, diode_test=True)
            yield Look(at, swapped=True, diode_test=True)
        if "four_wire" in kinds:
            yield Look(at, between="first_strip")
            yield Look(at, between="second_strip")


def _told_apart(left: Mapping[Guess, Number], look: Look) -> Number:
    seen = [(each.name, share, spans(each, look)) for each, share in left.items()]
    return sum(
        one[1] * other[1]
        for one, other in combinations(seen, 2)
        if one[0] != other[0] and one[2] and other[2] and not _overlap(one[2], other[2])
    )


def _overlap(one: Spans, other: Spans) -> bool:
    return any(_meet(first, second) for first in one for second in other)


def _meet(one: Span, other: Span) -> bool:
    low, high = max(one[0], other[0]), min(one[1], other[1])
    return low < high or low == high == inf


def as_reading(look: Look) -> NextReading:
    """The reading to take, for programs and for people."""
    return NextReading(
        at=look.at,
        pressed=look.pressed,
        swapped=look.swapped,
        between=look.between,
        diode_test=look.diode_test,
        words=asked(look),
    )


def outcomes(look: Look, left: Sequence[Guess]) -> tuple[Outcome, ...]:
    """What may be shown, low first, and what each of it leaves; stretches that leave the same are one.

    Nothing where there are so many that they would tell a reader nothing.
    """
    stretches: list[tuple[Span, list[Guess]]] = []
    for span in _stretches(look, left):
        members = [each for each in left if any(_meet(span, its) for its in spans(each, look))]
        if stretches and members == stretches[-1][1] and stretches[-1][0][1] == span[0]:
            stretches[-1] = ((stretches[-1][0][0], span[1]), members)
        elif members:
            stretches.append((span, members))
    if len(stretches) > MOST_OUTCOMES:
        return ()
    return tuple(
        Outcome(shows=shown((span,), volts=look.diode_test), leaves=tuple(_names(members)))
        for span, members in stretches
    )


def _stretches(look: Look, left: Sequence[Guess]) -> Iterator[Span]:
    """Between the ends of all that may be shown; an end of what is shown as OL is OL itself."""
    ends = sorted({end for each in left for span in spans(each, look) for end in span})
    for low, high in pairwise(ends):
        if not (look.diode_test and isinf(high)):
            yield low, high
    if look.diode_test and ends and isinf(ends[-1]):
        yield inf, inf


def _names(members: Sequence[Guess]) -> Iterator[Phrase]:
    for group in groups(members):
        yield named(group[0], where_of(group))
