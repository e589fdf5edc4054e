"""How a straight edge lies on a floor that is not straight."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sillwright.base.source import Source
from sillwright.base.words import N_, Amount, Phrase, say
from sillwright.takeoff.floors.cure import Ground, cure_of
from sillwright.takeoff.floors.floor_model import FloorCase, FloorResult
from sillwright.takeoff.floors.floor_table import ROUND_OFF, number, source
from sillwright.takeoff.floors.strip import Point, narrowest_strip
from sillwright.takeoff.floors.touch import turned
from sillwright.takeoff.floors.verdict import judge

COMPUTED = Source(document=N_("Best line by the alternation theorem, in exact numbers"), sure="computed")


def floor(case: FloorCase) -> FloorResult:
    r"""How uneven is the floor, which profile seals on it, and what is the first cure where none does?

    .. math:: U = \max z - \min z, \qquad strip = \min_m \max_{i,j} \left| (z_i - m x_i) - (z_j - m x_j) \right|

    Parameters: a case with ``points`` [m, m] along the landing line, x from the left jamb, inside looking out, and
    ``read_as`` heights or gaps below a level; the clear ``width`` [m]; ``greatest_slope``, how far the leaf itself
    may hang out of level (rise over run, 0 = level); the ``profiles`` with fin [m], answer [m] and curves [m, N];
    ``greatest_compression`` and ``least_contact`` [m]; to judge overtravel also ``force`` [N],
    ``required_overtravel`` [m], ``room`` and ``coldest`` [K]. Returns unevenness, best line and strip [m], for each
    profile compression and gap along the sill, the first cure of the table that fits, and what is done where.

    Model: the leaf is straight and hangs as high as it can with the edge still touching at the lowest point, never
    pressed more than the greatest compression at the highest. The floor is straight between its points, so that
    looking at the points is exact. Overtravel left is the travel to the force, less the greater of answer and
    lasting compression; forces between two curves are interpolated straight in temperature and never
    extrapolated by more than 5 K. Valid for leaves that come down onto a floor, up to 60 m wide.

    Raises :class:`OutOfRange` when the case is made: fewer than two places, numbers that are none, values out of
    range.

    >>> found = floor(FloorCase(points=((0, 0), (1, 0.003), (2, 0.001)), read_as="gaps_below_level"))
    >>> round(found.unevenness, 6), round(found.strip, 6), found.highest_at, found.cure
    (0.003, 0.0025, 0.0, 'none')

    Source: trade rules of thumb FLOOR-1 to FLOOR-9, from memory; the best line is computed (Chebyshev).
    """
    heights = _heights(case)
    ground = _ground(case, heights)
    best, found = ground.best, cure_of(ground)
    high, low = max(z for _, z in heights), min(z for _, z in heights)
    return FloorResult(
        heights=heights,
        unevenness=high - low,
        highest_at=next(x for x, z in heights if z == high),
        lowest_at=next(x for x, z in heights if z == low),
        slope=best.slope,
        strip=best.width,
        strip_middle=best.middle,
        touches=best.touches,
        leaf_slope=ground.leaf_slope,
        spread=ground.spread,
        takes_up=ground.takes,
        verdicts=tuple(judge(each, case, ground.floor, ground.spread) for each in case.profiles),
        cure=found.word,
        why=found.why,
        stretches=found.stretches,
        notes=(*found.also, *_notes(case, heights)),
        assumptions=_assumptions(case),
        sources=_sources(),
    )


def _heights(case: FloorCase) -> tuple[Point, ...]:
    """The points from left to right, each once, as heights above the lowest."""
    sign = 1.0 if case.read_as == "heights" else -1.0
    found = sorted({(x, sign * z) for x, z in case.points})
    low = min(z for _, z in found)
    return tuple((x, z - low) for x, z in found)


def _ground(case: FloorCase, heights: tuple[Point, ...]) -> Ground:
    """The floor as the leaf meets it, at the slope at which the leaf hangs."""
    best = narrowest_strip(heights)
    held = best if abs(best.slope) <= case.greatest_slope else narrowest_strip(heights, case.greatest_slope)
    takes = case.greatest_compression - case.least_contact
    return Ground(
        case=case,
        floor=turned(heights, held.slope),
        spread=held.width,
        best=best,
        leaf_slope=held.slope,
        takes=takes,
    )


def _notes(case: FloorCase, heights: tuple[Point, ...]) -> Iterator[Phrase]:
    """What the reading lacks by the rules of reading a floor, and what the sill does to the touch."""
    places = sorted({x for x, _ in heights})
    if len(places) < number("stations"):
        said = N_("Read at {count} places; at least {least} are wanted.")
        yield say(said, count=len(places), least=round(number("stations")))
    widest = max(after - before for before, after in pairwise(places))
    if widest > number("station") + ROUND_OFF:
        said = N_(
            "Up to {apart} between two places; every {most} is wanted, and at every joint, rut, drain and patch."
        )
        yield say(said, apart=Amount(widest, "m"), most=Amount(number("station"), "m"))
    yield from _ends(case, places)
    if len(places) < len(heights):
        yield say(N_("Two heights were read at one place; they are taken as a step."))
    if case.crossfall is not None and abs(case.crossfall) > number("crossfall") + ROUND_OFF:
        said = N_(
            "The sill falls from back to front so much that the touch is tilted; a round-nosed profile is wanted."
        )
        yield say(said)


def _ends(case: FloorCase, places: list[float]) -> Iterator[Phrase]:
    near = Amount(number("jamb"), "m")
    if case.width is None:
        yield say(
            N_("The width was not given: whether the floor was read to within {near} of both jambs is not known."),
            near=near,
        )
        return
    if places[0] < -ROUND_OFF or places[-1] > case.width + ROUND_OFF:
        yield say(N_("Points lie outside the opening: were they measured from the left jamb, inside looking out?"))
    short = [
        say(N_("left")) if side == 0 else say(N_("right"))
        for side, gap in enumerate((places[0], case.width - places[-1]))
        if gap > number("jamb") + ROUND_OFF
    ]
    if short:
        yield say(N_("Not read within {near} of the jamb: {sides}."), near=near, sides=short)


def _assumptions(case: FloorCase) -> tuple[str, ...]:
    straight = N_(
        "Between its points the floor is straight and so is the leaf; what lies between two points was not seen."
    )
    said = [say(straight)]
    if case.greatest_slope:
        said.append(say(N_("The leaf can be hung out of level as far as was given.")))
    if any(each.fin for each in case.profiles):
        said.append(say(N_("A fin takes up what its data sheet says, at both ends too.")))
    return tuple(said)


def _sources() -> tuple[Source, ...]:
    return tuple(dict.fromkeys((COMPUTED, *(source(name) for name in ("compression", "contact", "station")))))
