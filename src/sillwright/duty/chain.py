"""The listed chain: is every link between the device and the operator read in the operator's instructions?

Evidence is a record: instructions by title and page, who read them and when, and the devices they list. What
support said by telephone is pending, what anybody else said is unknown; a listing mark on the device itself says
nothing about the pair. The weakest link decides.

Source: ANSI/UL 325 as applied in the trade (common practice).
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from functools import lru_cache
from itertools import product
from typing import Any, TypeVar

from sillwright.base.fact import Fact
from sillwright.base.logic import Algebra, Variable
from sillwright.circuit.watching import (
    BLIND,
    MOST_PLACED,
    WATCHED,
    Watch,
    alike,
    all_of,
    can_be_element,
    crowded,
    element_there,
    input_told,
    loop_seen,
    only_stops,
    same_name,
    together_seen,
    values_of,
    wired,
)
from sillwright.duty.evidence import Judged, candidates
from sillwright.survey.devices import Protection
from sillwright.survey.model import Opening
from sillwright.survey.operator import INPUT_CIRCUITS, Input

T = TypeVar("T")
Name = Callable[[str, str], Variable]

READ_ORIGINS = {None, "instructions", "photo", "measured", "plate"}
WATCHED_INPUTS = {
    "resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire", "optical", "tested_contact",
}  # fmt: skip
RADIO_LINKS = 2  # a transmitter and a receiver


def instructions_read(opening: Opening) -> bool:
    """Whether the operator's instructions were in somebody's hands: title, page, reader and date are recorded."""
    record = opening.operator.instructions
    return all(
        fact.known and fact.value is not None and fact.origin in READ_ORIGINS
        for fact in (record.title, record.page, record.read_by, record.on)
    )


def listed(opening: Opening, device: Any, algebra: Algebra[T], variable: Name) -> T:
    """Whether every link of a device's chain is read in the operator's instructions."""
    model = getattr(device, "model", None)
    if model is None:  # an imagined device: it may be any of those that are listed
        return _imagined_listed(opening, algebra, variable)
    links = [_named(opening, model, algebra, variable)]
    between = through(opening, device)
    if between is None:
        links.append(_open(algebra, variable, device.through.path))
    else:
        links += [link_listed(opening, name, algebra, variable) for name in between]
    return algebra.all_of(links)


def _imagined_listed(opening: Opening, algebra: Algebra[T], variable: Name) -> T:
    lists = opening.operator.lists_devices
    if lists.known and not lists.value:
        return algebra.const(False)
    asked = [] if _list_counts(opening) else [_open(algebra, variable, "operator.lists_devices")]
    return algebra.all_of([*asked, _instructions(opening, algebra, variable)])


def through(opening: Opening, device: Any) -> tuple[str, ...] | None:
    """What stands between device and operator; None where that is not known.

    A radio has a transmitter and a receiver, so that fewer links are not the whole. Not asked for, nothing stands
    between a wired device and an operator that has an input of its circuit, or whose inputs nobody has listed,
    where no converter has been seen.
    """
    fact, circuit = device.through, device.circuit.value
    if fact.known:
        links = tuple(fact.value or ())
        return None if circuit == "radio" and len(links) < RADIO_LINKS else links
    seen = opening.converters.standing not in {"not asked", "known"} or bool(opening.converters.items)
    if fact.standing != "not asked" or circuit == "radio" or seen:
        return None
    circuits = [each.circuit.value for each in opening.operator.inputs]
    return () if not circuits or circuit is None or None in circuits or circuit in circuits else None


def _named(opening: Opening, model: Fact[str], algebra: Algebra[T], variable: Name) -> T:
    if model.known and model.value is not None:
        return link_listed(opening, model.value, algebra, variable)
    if model.standing == "two readings" and all(model.rivals):
        either = [link_listed(opening, str(name), algebra, variable) for name in model.rivals]
        both = [algebra.any_of(either), _open(algebra, variable, model.path)]
        return algebra.any_of([algebra.all_of(either), algebra.all_of(both)])
    return algebra.all_of([_open(algebra, variable, model.path), _imagined_listed(opening, algebra, variable)])


def link_listed(opening: Opening, name: str, algebra: Algebra[T], variable: Name) -> T:
    """Whether one named link is read in the operator's instructions."""
    lists = opening.operator.lists_devices
    if lists.known and (not lists.value or lists.origin in READ_ORIGINS):
        if name not in (lists.value or ()):
            return algebra.const(False)
        return _instructions(opening, algebra, variable)
    asked = [_open(algebra, variable, "operator.lists_devices", name), _instructions(opening, algebra, variable)]
    return algebra.all_of(asked)


def _list_counts(opening: Opening) -> bool:
    lists = opening.operator.lists_devices
    return lists.known and bool(lists.value) and lists.origin in READ_ORIGINS


def _open(algebra: Algebra[T], variable: Name, fact: str, aspect: str = "listed") -> T:
    return algebra.test(variable(fact, aspect), (True, False), bool)


def _instructions(opening: Opening, algebra: Algebra[T], variable: Name) -> T:
    if instructions_read(opening):
        return algebra.const(True)
    return _open(algebra, variable, "operator.instructions")


def reaches_an_input(opening: Opening, device: Any) -> Judged:
    """Whether an input of the operator can watch this device as it is wired, as far as the survey tells.

    A watched circuit on a plain input is a plain device: the operator does not see the end element. So is one whose
    end element sits before the edge, one whose strips do not come back, and one of two that hide each other on one
    input. Where nobody was asked for the inputs, the instructions that list the device say that it has one; where
    somebody could not tell, that is open.
    """
    if not hasattr(device, "circuit"):
        return Judged(True)
    seen = all_of((loop_seen(opening, device), _on_the_inputs(opening, device)))
    return Judged(seen.value, seen.open)


def reverses_there(opening: Opening, device: Any) -> Judged:
    """Whether the leaf reverses from the input of a device; open where that, by its name, only stops it."""
    if not hasattr(device, "circuit"):
        return Judged(True)
    names, inputs = values_of(device.input), opening.operator.inputs.items
    if not names:
        reached = [each for each in inputs if _reaches_one(opening, device, each).value is not False]
        names = tuple(each.name.value for each in reached or inputs)
    stops = [only_stops(each) for each in names]
    return Judged(None, (device.input.path,)) if stops and all(stops) else Judged(True)


def _on_the_inputs(opening: Opening, device: Protection) -> Watch:
    listing = opening.operator.inputs
    if device.input.standing == "none there":
        return BLIND
    if listing.standing == "not asked":
        return _beside_others(opening, device, ())
    if listing.standing == "not known":
        return Watch(None, (listing.path,))
    found = [_on_these(opening, device, inputs) for inputs in listing.rivals or (listing.items,)]
    if listing.standing == "assumed":
        return WATCHED if found[0].value is True else Watch(None, (listing.path,))
    return found[0] if len({each.value for each in found}) == 1 else Watch(None, (listing.path,))


def _on_these(opening: Opening, device: Protection, inputs: tuple[Input, ...]) -> Watch:
    reached = _reaches(opening, device, inputs)
    return all_of((Watch(reached.value, reached.open), _beside_others(opening, device, inputs)))


def _reaches(opening: Opening, device: Protection, inputs: Sequence[Input]) -> Judged:
    named = _named_inputs(device, inputs)
    if input_told(device) is not None and not named:
        return Judged(None, (device.input.path,))
    found = [_reaches_one(opening, device, each) for each in named or inputs]
    if len(named) > 1 or device.input.standing in {"two readings", "assumed", "not known"}:
        all_fit = bool(found) and all(each.value is True for each in found)
        return Judged(True) if all_fit else Judged(None, (device.input.path,))
    return Judged.any_of(found)


def _named_inputs(device: Protection, inputs: Sequence[Input]) -> list[Input]:
    """The inputs of the name that a device is told to be on."""
    name = input_told(device)
    return [each for each in inputs if each.name.value is not None and same_name(each.name.value) == name]


def _reaches_one(opening: Opening, device: Any, each: Input) -> Judged:
    between = through(opening, device)
    direct = not (between is None or between or device.circuit.value == "radio")
    if (
        direct
        and "resistor" in values_of(each.circuit)
        and not all(map(can_be_element, values_of(each.resistance)))
    ):
        return Judged(None, (each.resistance.path,))
    return _fits(device, each, direct=direct)


def _fits(device: Any, each: Input, *, direct: bool) -> Judged:
    facts = (each.circuit, device.circuit, device.resistance, each.resistance)
    values = [candidates(fact, INPUT_CIRCUITS if fact is each.circuit else (None,)) for fact in facts]
    shown = {_fit(*case, direct=direct) for case in product(*values)}
    if len(shown) == 1:
        return Judged(shown.pop())
    return Judged(None, tuple(fact.path for fact, some in zip(facts, values, strict=True) if len(some) > 1))


def _fit(circuit: str, own: str | None, fitted: float | None, wanted: float | None, *, direct: bool) -> bool:
    if not direct or own is None:
        return circuit in WATCHED_INPUTS
    if own != circuit:
        return False
    if circuit != "resistor" or fitted is None or wanted is None:
        return True
    return alike(fitted, wanted)


# several devices on one input


def _beside_others(opening: Opening, device: Protection, inputs: tuple[Input, ...]) -> Watch:
    """Whether the operator can watch a device beside those that are on its input, or may have to be."""
    listed = _listed_with(opening, device)
    there = wired(listed)
    name = input_told(device)
    with_it = [each for each in there if each is not device and name is not None and input_told(each) == name]
    if with_it:
        return together_seen(device, [each for each in listed if each is device or each in with_it])
    if device not in there:
        return WATCHED
    return all_of((element_there(device, there), _alone(opening, device, there, inputs)))


def _alone(opening: Opening, device: Protection, there: Sequence[Protection], inputs: tuple[Input, ...]) -> Watch:
    """Whether a device has an input for itself, as far as others that nobody told to be on one leave it any."""
    if len(there) > MOST_PLACED:
        return Watch(None, (device.input.path,))
    places = _places(opening, tuple(there), inputs)
    if not crowded(places, device.path):
        return WATCHED
    rivals = [each for each in there if set(places[each.path]) & set(places[device.path])]
    return Watch(None, tuple(each.input.path for each in rivals if input_told(each) is None))


def _listed_with(opening: Opening, device: Protection) -> Sequence[Protection]:
    """The devices of the reading of the list in which this one stands."""
    listing = opening.protection
    return next((some for some in (listing.items, *listing.rivals) if any(each is device for each in some)), ())


@lru_cache(maxsize=64)
def _places(
    opening: Opening, devices: tuple[Protection, ...], inputs: tuple[Input, ...]
) -> dict[str, tuple[Hashable, ...]]:
    """The inputs that each device is told to be on, or would be watched on as it is wired."""
    return {each.path: tuple(_places_of(opening, each, inputs)) for each in devices}


def _places_of(opening: Opening, device: Protection, inputs: Sequence[Input]) -> Iterator[Hashable]:
    name, named = input_told(device), _named_inputs(device, inputs)
    if name is not None:
        yield from (each.path for each in named) if named else (name,)
    elif through(opening, device) is not None and device.circuit.value is not None:
        yield from (each.path for each in inputs if _reaches_one(opening, device, each).value is True)
