"""What a survey says of the wires on an operator's inputs, and what that lets the operator watch.

Rules and hookup both ask here, so that they agree. What nobody was asked is taken as the instructions that list a
device draw it; what somebody could not tell, only assumed, or told in two ways is open.
"""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import Any, NamedTuple

from sillwright.base.fact import Fact
from sillwright.base.units import Ohm
from sillwright.survey.devices import SHARED, Protection
from sillwright.survey.element_place import ENDED, watches_the_edge
from sillwright.survey.model import Opening

EDGES = {"sensing_edge", "air_edge"}
UNWIRED = {"inherent", "guard"}
"""Devices that are joined to no input."""
GONE = {"missing", "torn_off"}
STRIP_ENDS = 4  # both ends of both strips come back
MOST_PLACED = 24
"""Devices of an opening whose places on inputs are told apart; no opening has as many."""
ALIKE = 0.1
"""End elements nearer to the one that an input expects than this share of it are the same part."""
LEAST_ELEMENT, MOST_ELEMENT = 500.0, 1e6
"""No end element is smaller than a press may show, none larger than damp insulation: such a value is a slip."""
STOP = r"\b(stop|halt|interlock)\b"
REVERSE = r"\b(rev|reverse|reversing|reopen)\b"


class Watch(NamedTuple):
    """Whether the operator can watch something; None with the facts that leave it open."""

    value: bool | None
    open: tuple[str, ...] = ()


WATCHED, BLIND = Watch(True), Watch(False)


def all_of(parts: Iterable[Watch]) -> Watch:
    """True where all are; False where one is; else open, for every fact that leaves one open.

    >>> all_of([WATCHED, Watch(None, ("cord.conductors",))])
    Watch(value=None, open=('cord.conductors',))
    """
    found = list(parts)
    if any(each.value is False for each in found):
        return BLIND
    doubtful = tuple(dict.fromkeys(path for each in found if each.value is None for path in each.open))
    return Watch(None, doubtful) if any(each.value is None for each in found) else WATCHED


def values_of(fact: Fact[Any]) -> tuple[Any, ...]:
    """Every value that somebody told of a fact, assumed ones too."""
    return tuple(each for each in (fact.value, *fact.rivals) if each is not None)


def same_name(name: str) -> str:
    """What two names of inputs are compared by."""
    return name.lower()


def alike(own: Ohm, wanted: Ohm) -> bool:
    """Whether an end element is the part that an input expects.

    >>> alike(10.1e3, 10e3), alike(8200.0, 10e3), alike(11.05e3, 10e3)
    (True, False, False)
    """
    return abs(own - wanted) <= ALIKE * wanted


def can_be_element(ohm: Ohm) -> bool:
    """Whether a value can be that of an end element: 10 ohm is a press, and was to be 10 kilohm.

    >>> can_be_element(10e3), can_be_element(10.0), can_be_element(10e6)
    (True, False, False)
    """
    return LEAST_ELEMENT < ohm < MOST_ELEMENT


def only_stops(name: str | None) -> bool:
    """Whether the name of an input says that it stops the leaf, rather than reversing it.

    >>> only_stops("STOP"), only_stops("stop/reverse"), only_stops("edge"), only_stops(None)
    (True, False, False, False)
    """
    words = (name or "").replace("_", " ")
    found = (re.search(each, words, re.ASCII | re.IGNORECASE) for each in (STOP, REVERSE))
    return [each is not None for each in found] == [True, False]


def loop_seen(opening: Opening, device: Protection) -> Watch:
    """Whether the wires of a device let the operator see all of it, as far as its own facts tell."""
    return all_of((element_seen(device), element_read(device), strips_seen(opening, device)))


def element_read(device: Protection) -> Watch:
    """Whether the value that was told of an end element can be one: a slip of a thousand is open."""
    doubted = "resistor" in values_of(device.circuit) and not all(map(can_be_element, values_of(device.resistance)))
    return Watch(None, (device.resistance.path,)) if doubted else WATCHED


def element_seen(device: Protection) -> Watch:
    """Whether the end element stands behind the whole edge: only then is a wire that breaks before it seen."""
    fact, circuits = device.end_element_at, values_of(device.circuit)
    if not set(circuits) & set(ENDED) or fact.standing == "not asked":
        return WATCHED
    seen = {None if each is None else watches_the_edge(each) for each in (fact.rivals or (fact.value,))}
    if seen == {True}:
        return WATCHED
    sure = seen == {False} and fact.standing != "assumed"
    return _if_of(device, circuits, ENDED, BLIND if sure else Watch(None, (fact.path,)))


def element_there(device: Protection, there: Sequence[Protection]) -> Watch:
    """Whether a device that has its input for itself ends in an element: looked for and not found, it is plain.

    Open where it may share its input with another edge in one loop, which holds the element of both.
    """
    circuits = values_of(device.circuit)
    if "resistor" not in circuits or device.resistance.standing != "none there":
        return WATCHED
    loop = [each for each in there if each is not device and _may_be_one_loop(each, device)]
    return Watch(None, (device.input.path,)) if loop else _if_of(device, circuits, ("resistor",), BLIND)


def _may_be_one_loop(one: Protection, other: Protection) -> bool:
    edges, names = _all_edges((one, other)), {input_told(one), input_told(other)}
    return edges and "resistor" in values_of(one.circuit) and (None in names or len(names) == 1)


def strips_seen(opening: Opening, device: Protection) -> Watch:
    """Whether both ends of both strips of a four-wire edge come back; with two wires it is a plain edge."""
    circuits = values_of(device.circuit)
    if "four_wire" not in circuits or device.kind.value not in EDGES:
        return WATCHED
    counted = all_of(_enough(each) for each in (opening.cord.conductors, device.wires))
    return _if_of(device, circuits, ("four_wire",), counted)


def _enough(count: Fact[float]) -> Watch:
    short = {each < STRIP_ENDS for each in values_of(count)}
    if True not in short:
        return WATCHED
    return BLIND if short == {True} and count.standing != "assumed" else Watch(None, (count.path,))


def _if_of(device: Protection, circuits: Sequence[str], some: Sequence[str], found: Watch) -> Watch:
    """What was found of some circuits, where the device may be of another."""
    if found.value is False and not set(circuits) <= set(some):
        return Watch(None, (device.circuit.path,))
    return found


def wired(devices: Iterable[Protection]) -> list[Protection]:
    """The devices that are joined to an input and still hang on their wires."""
    return [each for each in devices if each.kind.value not in UNWIRED and _there(each)]


def _there(device: Protection) -> bool:
    return not (device.state.known and device.state.value in GONE)


def input_told(device: Protection) -> str | None:
    """The input that a device is known to be on, by its name."""
    value = device.input.value if device.input.known else None
    return None if value is None else same_name(value)


def together_seen(device: Protection, there: Sequence[Protection]) -> Watch:
    """Whether the operator can watch a device among those that are on one input, itself among them.

    One converter for all of them hands on the failure of each, as far as its instructions say so. Edges in one loop
    end to end, with one element in the last, are all watched. Side by side one can be cut off while the others
    answer for it; so can one on wires of its own, which meet the others at the terminals where no part stands
    between. What nobody said of how they are joined the elements tell that were looked for; else it is open.
    """
    if len(there) < 2:
        return WATCHED
    ways = _ways(there)
    found = [_seen_as(way, device, there) for way in ways or SHARED]
    if not ways and (plain := _as_drawn(there)) is not None:
        return plain
    if len({each.value for each in found}) == 1:
        return found[0]
    return Watch(None, _undecided(there) + tuple(path for each in found for path in each.open))


def shared_as(there: Sequence[Protection]) -> str | None:
    """The way in which devices share their input, where it was told for certain."""
    ways = _ways(there)
    return ways[0] if len(ways) == 1 else None


def _ways(there: Sequence[Protection]) -> tuple[str, ...]:
    """How devices may share their input by what was said of any of them; none where nobody was asked."""
    told = [_ways_of(each.joined) for each in there if each.joined.standing != "not asked"]
    both = [way for way in SHARED if all(way in some for some in told)] if told else []
    either = [way for way in SHARED if any(way in some for some in told)]
    return tuple(both or either)


def _ways_of(fact: Fact[str]) -> tuple[str, ...]:
    if fact.known and fact.value is not None:
        return (fact.value,)
    rivals = tuple(each for each in fact.rivals if each is not None)
    return rivals if rivals and len(rivals) == len(fact.rivals) else SHARED


def _undecided(there: Sequence[Protection]) -> tuple[str, ...]:
    """The facts that would tell how devices share their input: the first where nobody was asked of any."""
    told = [each.joined for each in there if each.joined.standing != "not asked"]
    unsure = [each for each in told if not each.known or each.value is None]
    return tuple(each.path for each in unsure or told or [there[0].joined])


def _as_drawn(there: Sequence[Protection]) -> Watch | None:
    """What holds of devices on one input where nobody was asked how they are joined; None where it is open."""
    if _one_part(there):
        return WATCHED
    if {each.circuit.value for each in there} == {"resistor"} and _all_edges(there):
        return _one_element(there)
    return None


def _seen_as(way: str, device: Protection, there: Sequence[Protection]) -> Watch:
    """Whether a device is watched where several share an input in this way."""
    if way == "own_wires" and _one_part(there):
        return WATCHED
    circuits = {each.circuit.value for each in there}
    if not _all_edges(there) or len(circuits) > 1 or None in circuits:
        unknown = tuple(each.circuit.path for each in there if not each.circuit.known)
        return Watch(None, unknown) if unknown else BLIND
    if circuits == {"resistor"}:
        return _one_element(there) if way == "end_to_end" else _only_element(device, there)
    return WATCHED if circuits == {"four_wire"} and way == "end_to_end" else BLIND


def _all_edges(devices: Iterable[Protection]) -> bool:
    return all(each.kind.value in EDGES for each in devices)


def _one_part(devices: Sequence[Protection]) -> bool:
    """Whether one and the same part stands between all of these and their input."""
    parts = {tuple(each.through.value or ()) if each.through.known else () for each in devices}
    return len(parts) == 1 and parts != {()}


def _one_element(there: Sequence[Protection]) -> Watch:
    """Whether just one of several edges holds an end element, and the others were looked at and hold none."""
    held = [bool(values_of(each.resistance)) for each in there]
    if held.count(True) > 1:
        return BLIND
    unsure = _not_looked_at(there)
    return Watch(None, unsure) if unsure else Watch(True in held)


def _only_element(device: Protection, there: Sequence[Protection]) -> Watch:
    """Whether a device beside others holds the only end element: cut off, it leaves the input open."""
    others = [each for each in there if each is not device]
    if any(values_of(each.resistance) for each in others) or device.resistance.standing == "none there":
        return BLIND
    unsure = _not_looked_at(there)
    return Watch(None, unsure) if unsure else WATCHED


def _not_looked_at(devices: Iterable[Protection]) -> tuple[str, ...]:
    """The end elements of which nobody knows whether they are there."""
    return tuple(
        each.resistance.path for each in devices if each.resistance.standing not in {"known", "none there"}
    )


def crowded(places: Mapping[str, Sequence[Hashable]], one: str) -> bool:
    """Whether one of several has no place of its own once the others have as many as they can.

    >>> crowded({"e1": ["edge"], "e2": ["edge"]}, "e2"), crowded({"e1": ["edge"], "e2": ["edge", "aux"]}, "e2")
    (True, False)
    """
    without = {name: some for name, some in places.items() if name != one}
    return bool(places[one]) and _most_placed(places) == _most_placed(without)


def _most_placed(places: Mapping[str, Sequence[Hashable]]) -> int:
    """How many of several can have a place of their own (Kuhn's augmenting paths)."""
    taken: dict[Hashable, str] = {}

    def moved(name: str, tried: set[Hashable]) -> bool:
        for place in places[name]:
            if place in tried:
                continue
            tried.add(place)
            if place not in taken or moved(taken[place], tried):
                taken[place] = name
                return True
        return False

    return sum(moved(name, set()) for name in places)
