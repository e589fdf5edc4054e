"""The listed chain: is every link between the device and the operator read in the operator's instructions?

Evidence is a record: instructions by title and page, who read them and when, and the devices they list. What
support said by telephone is pending, what anybody else said is unknown; a listing mark on the device itself says
nothing about the pair. The weakest link decides.

Source: ANSI/UL 325 as applied in the trade (common practice).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from typing import Any, TypeVar

from sillwright.base.fact import Fact
from sillwright.base.logic import Algebra, Variable
from sillwright.duty.evidence import Judged, candidates
from sillwright.survey.element_place import ENDED, watches_the_edge
from sillwright.survey.model import Opening
from sillwright.survey.operator import INPUT_CIRCUITS, Input

T = TypeVar("T")
Name = Callable[[str, str], Variable]

READ_ORIGINS = {None, "instructions", "photo", "measured", "plate"}
WATCHED_INPUTS = {
    "resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire", "optical", "tested_contact",
}  # fmt: skip
RADIO_LINKS = 2  # a transmitter and a receiver
VALUE_TOLERANCE = 0.1


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
    """Whether a known input of the operator can watch this device; true where its inputs are not recorded.

    A watched circuit on a plain input is a plain device: the operator does not see the end element. So is one whose
    end element sits before the edge: a wire that breaks behind it stays unseen.
    """
    listing = opening.operator.inputs
    if hasattr(device, "circuit") and not (at_the_end := element_at_the_end(device)).value:
        return at_the_end
    if not hasattr(device, "circuit") or listing.standing in {"not asked", "not known"}:
        return Judged(True)
    if listing.standing == "assumed":
        fits = _reaches(opening, device, listing.items).value is True
        return Judged(True) if fits else Judged(None, (listing.path,))
    options = listing.rivals or (listing.items,)
    found = [_reaches(opening, device, inputs) for inputs in options]
    if len({each.value for each in found}) == 1:
        return found[0]
    return Judged(None, (listing.path,))


def element_at_the_end(device: Any) -> Judged:
    """Whether the end element sits at the far end of the edge, as far as it is told."""
    if device.circuit.value not in ENDED:
        return Judged(True)
    fact = device.end_element_at
    told = {watches_the_edge(each) for each in (fact.rivals or (fact.value,))}
    if told == {True}:
        return Judged(True)
    stated = fact.known or fact.rivals  # not only assumed
    return Judged(False) if told == {False} and stated else Judged(None, (fact.path,))


def _reaches(opening: Opening, device: Any, inputs: Sequence[Input]) -> Judged:
    named = [each for each in inputs if device.input.known and each.name.value == device.input.value]
    if device.input.standing in {"two readings", "assumed"} or (device.input.value is not None and not named):
        all_fit = all(_reaches_one(opening, device, each).value is True for each in inputs)
        return Judged(True) if inputs and all_fit else Judged(None, (device.input.path,))
    return Judged.any_of(_reaches_one(opening, device, each) for each in named or inputs)


def _reaches_one(opening: Opening, device: Any, each: Input) -> Judged:
    between = through(opening, device)
    direct = not (between is None or between or device.circuit.value == "radio")
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
    return bool(abs(fitted - wanted) <= VALUE_TOLERANCE * wanted)
