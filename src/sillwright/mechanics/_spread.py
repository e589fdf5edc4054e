"""A contact with ranges instead of numbers: what to expect, and which fact is worth measuring."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import inf, isnan, sqrt
from typing import Literal

from sillwright.base.source import Source
from sillwright.base.words import N_, say
from sillwright.mechanics._row import NUMBERS, OUTCOMES, curve_of, numbers_of, solved
from sillwright.mechanics._sobol import sobol
from sillwright.mechanics.model import (
    Band,
    ContactCase,
    ContactSpreadCase,
    ContactSpreadResult,
    Influence,
    Influences,
    Range,
    SpreadBand,
    check_ranges,
)

__all__ = ["contact_spread", "spread_band"]

Rows = list[tuple[float, ...]]
Engine = Literal["plain", "kernel"]
SHOWN = OUTCOMES[:9]
WEIGHED = ("peak_force", "time_above_150", "time_above_25", "lasting_force")
SCALES = ("edge.force_scale", "edge.stretch")
SOURCES = (
    Source(
        document="Saltelli et al., Computer Physics Communications", edition="181 (2010), 259-270", sure="memory"
    ),
    Source(document="Joe and Kuo, direction numbers new-joe-kuo-6", edition="2008", sure="second-hand"),
    Source(document="EN 12453", sure="second-hand"),
)


def contact_spread(case: ContactSpreadCase) -> ContactSpreadResult:
    r"""What a contact comes to while inputs are ranges, and which of them is worth measuring.

    Parameters: a contact, its ranges (SI, uniform or uniform in ratios, independent of each other), points, seed.
    Returns quantiles of every outcome, shares of cases above the limits of EN 12453, and for the forces and times
    first and total Sobol' indices,

    .. math:: S_i = \frac{\overline{f_B (f_{AB_i} - f_A)}}{V}, \qquad
              S_{Ti} = \frac{\overline{(f_A - f_{AB_i})^2}}{2 V}

    Model: that of :func:`contact`, at scrambled Sobol' points; ``points`` × (ranges + 2) contacts. A range of the
    edge's ``force_scale`` multiplies its forces (cold, ageing), ``stretch`` its travels. Valid for independent
    inputs. The same answer on any number of workers. Raises :class:`OutOfRange` when the case is made.

    Source: Saltelli et al. (2010) and Jansen (1999) for the indices; Joe and Kuo (2008) for the points.

    >>> from sillwright.mechanics import Drive, Edge, Obstruction, Stop
    >>> base = ContactCase(
    ...     closing_speed=0.2, moving_mass=150, obstruction=Obstruction(stiffness=25e3),
    ...     drive=Drive(stiffness=60e3, damping=200, push_limit=400),
    ...     stop=Stop(reaction=0.08, deceleration=2, dwell=0.3, opening_acceleration=1, opening_speed=0.2),
    ...     edge=Edge(curve=((0, 0), (0.01, 40), (0.03, 150)), actuation_travel=0.008, response=0.03,
    ...               end_stiffness=200e3))
    >>> found = contact_spread(ContactSpreadCase(base=base, points=256, ranges=(
    ...     Range(name="moving_mass", low=100, high=200), Range(name="stop.dwell", low=0.2, high=0.4))))
    >>> found.worth_measuring
    'moving_mass'
    """
    dimensions = len(case.ranges)
    columns = sobol(2 * dimensions, case.points, case.seed)
    first, second = columns[:dimensions], columns[dimensions:]
    designs = [first, second]
    designs += [[*first[:at], second[at], *first[at + 1 :]] for at in range(dimensions)]
    found = [_outcomes(case.base, case.ranges, design, "kernel") for design in designs]
    weighed = [_indices(name, case.ranges, found) for name in WEIGHED]
    band = _summary(case, found[0], tuple(weighed), lambda each: each.total or 0.0)
    return ContactSpreadResult(
        **band,  # type: ignore[arg-type]
        case=case,
        assumptions=(say(N_("The ranges are independent of each other.")),),
        sources=SOURCES,
    )


def spread_band(
    case: ContactCase, ranges: Sequence[Range], points: int = 1024, seed: int = 1, engine: Engine = "plain"
) -> SpreadBand:
    """The quantiles alone, for one opening: ``points`` contacts, with first-order indices from these same points.

    Parameters: a contact, ranges, a power of two, a seed; ``engine`` "plain" needs no compiled code and no array
    library, "kernel" does. Both give the same numbers. The first-order index of an input is the correlation
    ratio: the spread of the outcome's mean over slices of that input, made free of the share that chance gives.

    Raises :class:`OutOfRange`. Source: as for :func:`contact_spread`; correlation ratio: Pearson (1905), with the
    correction of Kelley (1935), from memory.
    """
    check_ranges(case, ranges)
    whole = ContactSpreadCase(base=case, ranges=tuple(ranges), points=points, seed=seed)
    design = sobol(len(ranges), points, seed)
    rows = _outcomes(case, ranges, design, engine)
    weighed = [
        Influences(
            outcome=name,
            inputs=tuple(
                Influence(name=each.name, first=correlation_ratio(column, _finite(rows, name, case.duration)))
                for each, column in zip(ranges, design, strict=True)
            ),
        )
        for name in WEIGHED
    ]
    return SpreadBand(**_summary(whole, rows, tuple(weighed), lambda each: each.first))  # type: ignore[arg-type]


def correlation_ratio(inputs: Sequence[float], outputs: Sequence[float]) -> float:
    """First-order index from given points: the share of the outputs' variance between slices of the input.

    ``inputs`` lie evenly in [0, 1).

    >>> round(correlation_ratio([0.1, 0.2, 0.3, 0.4, 0.6, 0.7, 0.8, 0.9], [0, 0, 0, 0, 1, 1, 1, 1]), 6)
    1.0
    """
    count = len(outputs)
    slices = max(2, min(32, int(sqrt(count))))
    mean = sum(outputs) / count
    whole = sum((each - mean) ** 2 for each in outputs)
    sums, sizes = [0.0] * slices, [0] * slices
    for place, value in zip(inputs, outputs, strict=True):
        sums[int(place * slices)] += value - mean
        sizes[int(place * slices)] += 1
    between = sum(total * total / size for total, size in zip(sums, sizes, strict=True) if size)
    used = sum(size > 0 for size in sizes)
    if whole <= 0.0 or count <= used:
        return 0.0
    inside = (whole - between) / (count - used)
    return max(0.0, (between - (used - 1) * inside) / whole)


def _value(given: Range, place: float) -> float:
    if given.kind == "uniform":
        return given.low + place * (given.high - given.low)
    return given.low * float((given.high / given.low) ** place)


def _outcomes(case: ContactCase, ranges: Sequence[Range], design: list[list[float]], engine: Engine) -> Rows:
    """The contact at every point of a design."""
    base, (travel, force) = numbers_of(case), curve_of(case)
    values: dict[str, list[float]] = {
        each.name: [_value(each, place) for place in column] for each, column in zip(ranges, design, strict=True)
    }
    count = len(design[0])
    hard, long = (values.pop(name, [1.0] * count) for name in SCALES)
    spots = [(NUMBERS.index(name), column) for name, column in values.items()]
    rows, travels, forces = [], [], []
    for point in range(count):
        numbers = list(base)
        for spot, column in spots:
            numbers[spot] = column[point]
        if "edge.actuation_travel" not in values:
            numbers[12] *= long[point]
        if "edge.end_stiffness" not in values:
            numbers[13] *= hard[point] / long[point]
        rows.append(numbers)
        travels.append([each * long[point] for each in travel])
        forces.append([each * hard[point] for each in force])
    if engine == "plain":
        return [solved(*each, [])[0][:10] for each in zip(rows, travels, forces, strict=True)]
    from sillwright.mechanics._batch import contact_batch

    return [tuple(each) for each in contact_batch(rows, travels, forces).tolist()]


def _finite(rows: Rows, name: str, duration: float) -> list[float]:
    at = OUTCOMES.index(name)
    return [duration if isnan(row[at]) else row[at] for row in rows]


def _indices(name: str, ranges: Sequence[Range], found: list[Rows]) -> Influences:
    """First (Saltelli 2010) and total (Jansen 1999) indices of one outcome."""
    outputs = [_finite(rows, name, inf) for rows in found]
    return Influences(
        outcome=name,
        inputs=tuple(
            Influence(name=each.name, first=first, total=total, standard_error=error)
            for each, (first, total, error) in zip(ranges, sobol_indices(outputs), strict=True)
        ),
    )


def sobol_indices(outputs: Sequence[Sequence[float]]) -> list[tuple[float, float, float]]:
    """First index, total index and its standard error of each input, from the designs A, B, AB1, AB2 …"""
    a, b, *mixed = outputs
    count = len(a)
    mean = (sum(a) + sum(b)) / (2 * count)
    variance = (sum((x - mean) ** 2 for x in a) + sum((x - mean) ** 2 for x in b)) / (2 * count)
    if variance <= 0.0:
        return [(0.0, 0.0, 0.0)] * len(mixed)
    found = []
    for ab in mixed:
        first = sum((y - mean) * (z - x) for x, y, z in zip(a, b, ab, strict=True)) / count / variance
        parts = [(x - z) ** 2 / (2.0 * variance) for x, z in zip(a, ab, strict=True)]
        total = sum(parts) / count
        error = sqrt(sum((each - total) ** 2 for each in parts) / count / count)
        found.append((first, total, error))
    return found


def _summary(
    case: ContactSpreadCase, rows: Rows, weighed: tuple[Influences, ...], weight: Callable[[Influence], float]
) -> dict[str, object]:
    count = len(rows)
    column = {name: [row[at] for row in rows] for at, name in enumerate(OUTCOMES)}
    touching = [isnan(each) for each in column["contact_duration"]]
    late = [
        end > 25.0 or time > 5.0 for end, time in zip(column["end_force"], column["time_above_25"], strict=True)
    ]
    return {
        "bands": tuple(band_of(name, column[name], case.quantiles) for name in SHOWN),
        "share_above_peak_limit": sum(each > case.peak_limit for each in column["peak_force"]) / count,
        "share_above_dynamic_period": sum(each > 0.75 for each in column["time_above_150"]) / count,
        "share_above_lasting": sum(each > 150.0 for each in column["lasting_force"]) / count,
        "share_above_whole_time": sum(late) / count,
        "share_still_touching": sum(touching) / count,
        "standard_error": 0.5 / sqrt(count),
        "influences": weighed,
        "worth_measuring": max(weighed[0].inputs, key=weight).name,
        "points": count,
    }


def band_of(name: str, values: Sequence[float], others: Sequence[float]) -> Band:
    """Quantiles by linear interpolation; not a number counts as later than everything."""
    ordered = sorted(inf if isnan(each) else each for each in values)
    p5, p50, p95, *more = (quantile(ordered, each) for each in (0.05, 0.5, 0.95, *others))
    return Band(name=name, unit=_unit(name), p5=p5, p50=p50, p95=p95, others=tuple(more))


def _unit(name: str) -> str:
    return "N" if name.endswith("force") else ("m" if name.endswith("travel") else "s")


def quantile(ordered: Sequence[float], share: float) -> float | None:
    """The value below which ``share`` of the ordered values lie; None where that is not finite.

    >>> quantile([1.0, 2.0, 4.0], 0.75)
    3.0
    """
    place = share * (len(ordered) - 1)
    at = min(int(place), len(ordered) - 2)
    low, high = ordered[at], ordered[at + 1]
    if high == inf:
        return low if low < inf and place == at else None
    return low + (place - at) * (high - low)
