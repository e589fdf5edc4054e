"""The least and the greatest voltage of a node over all tolerances at once, and whether that is certain.

A node's voltage is monotone in every single resistor and source, so that its extremes lie at corners of the box of
tolerances. Where a part moves it the same way all over the box, its end is known; the others are enumerated.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import product

from sillwright.base.units import Volt
from sillwright.circuit.netlist import Netlist
from sillwright.circuit.signs import Directions, directions
from sillwright.circuit.solving import sensitivities, solve

MOST_ENUMERATED = 12
ROUNDS = 8  # of going to the corner that the sensitivities point to
Corner = dict[str, float]  # a part's value as a multiple of its nominal one


@dataclass(frozen=True)
class Worst:
    """Extremes of a voltage and the corners at which they lie; a part that is not named has its nominal value."""

    least: Volt
    greatest: Volt
    least_at: Mapping[str, float]
    greatest_at: Mapping[str, float]
    certified: bool


def worst(netlist: Netlist, node: str) -> Worst:
    """The extremes of a node's voltage while every part lies within its tolerance.

    ``certified``: the two are exact. Every part's direction was shown by interval arithmetic over the whole box, or
    follows from where it stands, or both of its ends were tried. Not claimed with diodes or capacitors, nor with
    more than twelve parts of uncertain direction; then the corners are those that sensitivities lead to.

    Source: monotone in each resistor (bilinear theorem) and in a one-port (Rayleigh), from memory.

    >>> from sillwright.circuit.netlist import Resistor, Source
    >>> parts = (Resistor("up", "supply", "in", 10e3, 0.1), Resistor("end", "in", "0", 10e3, 0.1))
    >>> found = worst(Netlist(parts, (Source("supply", "supply", "0", 5.0),)), "in")
    >>> round(found.least, 2), round(found.greatest, 2), found.certified
    (2.25, 2.75, True)
    """
    netlist.place(node)
    plain = not netlist.diodes and not netlist.capacitors
    found = directions(netlist, node)
    if plain and found is not None and len(found.uncertain) <= MOST_ENUMERATED:
        return _by_direction(netlist, found)
    if found is not None and not found.uncertain:
        low, high = (_pointed(netlist, node, found, way) for way in (-1, 1))
        return _of(low, high, certified=False)
    spread = netlist.tolerances
    if plain and len(spread) <= MOST_ENUMERATED:
        corners = _corners(spread, list(spread))
        tried = [(solve(at_corner(netlist, corner))[node], corner) for corner in corners]
        return _of(min(tried, key=_volt), max(tried, key=_volt), certified=True)
    low, high = (_followed(netlist, node, spread, way) for way in (-1, 1))
    return _of(low, high, certified=False)


def at_corner(netlist: Netlist, corner: Mapping[str, float]) -> Netlist:
    """The netlist with each named part at that multiple of its value."""
    resistors = tuple(
        replace(each, ohm=each.ohm * corner[each.name]) if each.name in corner else each
        for each in netlist.resistors
    )
    sources = tuple(
        replace(each, volt=each.volt * corner[each.name]) if each.name in corner else each
        for each in netlist.sources
    )
    return replace(netlist, resistors=resistors, sources=sources)


def _volt(tried: tuple[Volt, Corner]) -> Volt:
    return tried[0]


def _of(low: tuple[Volt, Corner], high: tuple[Volt, Corner], *, certified: bool) -> Worst:
    return Worst(low[0], high[0], low[1], high[1], certified)


def _corners(spread: Mapping[str, float], names: list[str]) -> Iterator[Corner]:
    """Every choice of ends for these parts."""
    for ways in product((-1, 1), repeat=len(names)):
        yield {name: 1 + way * spread[name] for name, way in zip(names, ways, strict=True)}


def _by_direction(netlist: Netlist, found: Directions) -> Worst:
    """The extremes where each part's direction is known, or both of its ends are tried."""
    spread, source = netlist.tolerances, netlist.sources[0]
    ends: list[tuple[float, Corner]] = []
    for way in (-1, 1):
        fixed = {name: 1 + way * sign * spread[name] for name, sign in found.sign.items() if sign}
        ends += [(found.ratio({**fixed, **each}), {**fixed, **each}) for each in _corners(spread, found.uncertain)]
    low, high = min(ends, key=_volt), max(ends, key=_volt)
    volts = [
        (share * source.volt * (1 + way * source.tolerance), {**corner, source.name: 1 + way * source.tolerance})
        for share, corner in (low, high)
        for way in (-1, 1)
    ]
    return _of(min(volts, key=_volt), max(volts, key=_volt), certified=True)


def _pointed(netlist: Netlist, node: str, found: Directions, way: int) -> tuple[Volt, Corner]:
    """The corner that the directions of a circuit with resistors in place of its diodes point to."""
    spread = netlist.tolerances
    corner = {name: 1 + way * sign * spread[name] for name, sign in found.sign.items() if sign}
    corner |= {each.name: 1 + way * each.tolerance for each in netlist.sources}
    return solve(at_corner(netlist, corner))[node], corner


def _followed(netlist: Netlist, node: str, spread: Mapping[str, float], way: int) -> tuple[Volt, Corner]:
    """From corner to corner as the sensitivities point, until a corner points to itself; the farthest one seen."""
    corner: Corner = {}
    best: tuple[Volt, Corner] | None = None
    for _ in range(ROUNDS):
        here = at_corner(netlist, corner)
        volt = solve(here)[node]
        if best is None or way * volt > way * best[0]:
            best = volt, corner
        moved = sensitivities(here, node)
        onward = {
            name: 1 + (way if each > 0 else -way) * spread[name] for name, each in moved.items() if name in spread
        }
        onward |= {each.name: 1 + _pull(here, node, each.name) * way * each.tolerance for each in netlist.sources}
        if onward == corner:
            break
        corner = onward
    assert best is not None  # noqa: S101 - at least one round
    return best


def _pull(netlist: Netlist, node: str, source: str) -> int:
    """Whether a node rises as a source becomes a larger multiple of itself (1) or falls (-1)."""
    low, high = (solve(at_corner(netlist, {source: factor}))[node] for factor in (0.999, 1.001))
    return 1 if high >= low else -1
