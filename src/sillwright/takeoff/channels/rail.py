"""Rigid channels: which one of a catalogue sits on a leaf, and how it is cut."""

from __future__ import annotations

from fractions import Fraction
from math import ceil, floor, inf, isfinite

from sillwright.base.errors import OutOfRange
from sillwright.base.scale import INCH
from sillwright.base.units import Metre
from sillwright.base.words import N_, say
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.parts import Channel, Fixing
from sillwright.survey.model import Opening
from sillwright.takeoff.round_about import values_of

QUARTER = INCH / 4
NEARNESS = Fraction(1, 10**9)  # metre: a quarter that round-off took is given back


def rail_pieces(run: Metre, longest: Metre, gap: Metre) -> tuple[Metre, ...]:
    """The pieces of a channel for a run, alike; rounded down to 1/4 in where there is more than one.

    ``longest`` is the longest piece that can be had and ``gap`` what stays open at a joint, all in metres. The
    number of pieces is the least that fits: n pieces with n − 1 gaps.

    Raises :class:`OutOfRange` for lengths that are not above zero.

    >>> [round(each / 0.0254, 2) for each in rail_pieces(3.2004, 3.048, 0.003175)]
    [62.75, 62.75]

    Source: trade rules of thumb (LEN-17), from memory.
    """
    for name, value in (("run", run), ("longest", longest)):
        if not (isfinite(value) and value > 0):
            raise OutOfRange(say(N_("{path}: {value} m is not a length above zero"), path=name, value=f"{value:g}"))
    if run <= longest + float(NEARNESS):
        return (run,)
    whole, most, opened = (Fraction(each) for each in (run, longest, gap))
    count = ceil((whole + opened - NEARNESS) / (most + opened))
    each = (whole - (count - 1) * opened) / count
    return (float(floor((each + NEARNESS) / QUARTER) * QUARTER),) * count


def rail_of(opening: Opening, catalogue: Catalogue | None, fixing: Fixing) -> Channel | None:
    """The cheapest channel of a catalogue that is fixed this way and is known to sit on the leaf."""
    fitting = [each for each in (catalogue.channels if catalogue else ()) if _sits(opening, each, fixing)]
    return min(fitting, key=lambda each: each.price.of(1.0) if each.price else inf, default=None)


def _sits(opening: Opening, one: Channel, fixing: Fixing) -> bool:
    """Whether a channel is fixed this way and its seat is there, by the narrowest reading of the leaf's."""
    bottom = opening.door.bottom
    seats = values_of(bottom.seat_width)
    wide = one.seat is None or (bool(seats) and min(seats) >= one.seat - float(NEARNESS))
    return one.fixing == fixing and wide


def longest_piece(part: Channel | None) -> Metre | None:
    """The longest length that a channel is sold in; None where that is not stated."""
    return max((each for each in part.stock if each > 0), default=None) if part else None
