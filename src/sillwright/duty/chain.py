"""The listed chain: is every link between the device and the operator read in the operator's instructions?

Evidence is a record: instructions by title and page, who read them and when, and the devices they list. What
support said by telephone is pending, what anybody else said is unknown; a listing mark on the device itself says
nothing about the pair. The weakest link decides.

Source: ANSI/UL 325 as applied in the trade (common practice).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from sillwright.base.fact import Fact
from sillwright.base.logic import Algebra, Variable
from sillwright.survey.model import Opening

T = TypeVar("T")
Name = Callable[[str, str], Variable]

_READ_ORIGINS = {None, "instructions", "photo", "measured", "plate"}
WATCHED_INPUTS = {
    "resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire", "optical", "tested_contact",
}  # fmt: skip
_VALUE_TOLERANCE = 0.1


def instructions_read(opening: Opening) -> bool:
    """Whether the operator's instructions were in somebody's hands: title, page, reader and date are recorded."""
    record = opening.operator.instructions
    return all(
        fact.known and fact.value is not None for fact in (record.title, record.page, record.read_by, record.on)
    )


def listed(opening: Opening, device: Any, algebra: Algebra[T], variable: Name) -> T:
    """Whether every link of a device's chain is read in the operator's instructions."""
    model = getattr(device, "model", None)
    if model is None:  # an imagined device: everything about its listing is open
        links = [_open(algebra, variable, "operator.lists_devices"), _instructions(opening, algebra, variable)]
        return algebra.all_of(links)
    links = [_named(opening, model, algebra, variable)]
    between = through(opening, device)
    if between is None:
        links.append(_open(algebra, variable, device.through.path))
    else:
        links += [link_listed(opening, name, algebra, variable) for name in between]
    return algebra.all_of(links)


def through(opening: Opening, device: Any) -> tuple[str, ...] | None:
    """What stands between device and operator; None where that is not known.

    Not asked for, nothing stands between a wired device and an operator that has an input of its circuit, or
    whose inputs nobody has listed; a radio always has a transmitter and a receiver.
    """
    fact = device.through
    if fact.known:
        return tuple(fact.value or ())
    if fact.standing != "not asked" or device.circuit.value == "radio":
        return None
    circuits = [each.circuit.value for each in opening.operator.inputs]
    circuit = device.circuit.value
    return () if not circuits or circuit is None or None in circuits or circuit in circuits else None


def _named(opening: Opening, model: Fact[str], algebra: Algebra[T], variable: Name) -> T:
    if model.known and model.value is not None:
        return link_listed(opening, model.value, algebra, variable)
    if model.standing == "two readings" and all(model.rivals):
        either = [link_listed(opening, str(name), algebra, variable) for name in model.rivals]
        return algebra.any_of([algebra.all_of(either), _both(either, algebra, variable, model.path)])
    links = [_open(algebra, variable, model.path), _instructions(opening, algebra, variable)]
    if not _list_counts(opening):
        links.append(_open(algebra, variable, "operator.lists_devices"))
    return algebra.all_of(links)


def _both(either: list[T], algebra: Algebra[T], variable: Name, path: str) -> T:
    return algebra.all_of([algebra.any_of(either), _open(algebra, variable, path)])


def link_listed(opening: Opening, name: str, algebra: Algebra[T], variable: Name) -> T:
    """Whether one named link is read in the operator's instructions."""
    lists = opening.operator.lists_devices
    if lists.known and (not lists.value or lists.origin in _READ_ORIGINS):
        if name not in (lists.value or ()):
            return algebra.const(False)
        return _instructions(opening, algebra, variable)
    asked = [_open(algebra, variable, "operator.lists_devices", name), _instructions(opening, algebra, variable)]
    return algebra.all_of(asked)


def _list_counts(opening: Opening) -> bool:
    lists = opening.operator.lists_devices
    return lists.known and bool(lists.value) and lists.origin in _READ_ORIGINS


def _open(algebra: Algebra[T], variable: Name, fact: str, aspect: str = "") -> T:
    return algebra.test(variable(fact, aspect), (True, False), bool)


def _instructions(opening: Opening, algebra: Algebra[T], variable: Name) -> T:
    if instructions_read(opening):
        return algebra.const(True)
    return _open(algebra, variable, "operator.instructions")


def reaches_an_input(opening: Opening, device: Any) -> bool:
    """Whether a known input of the operator can watch this device; true where its inputs are not recorded.

    A watched circuit on a plain input is a plain device: the operator does not see the end element.
    """
    if not hasattr(device, "circuit"):
        return True
    named = [each for each in opening.operator.inputs if each.name.value == device.input.value]
    inputs = named if device.input.value is not None and named else list(opening.operator.inputs)
    if not inputs or any(each.circuit.value is None for each in inputs):
        return True
    between = through(opening, device)
    if between is None or between or device.circuit.value == "radio":
        return any(each.circuit.value in WATCHED_INPUTS for each in inputs)
    return any(_fits(device, each) for each in inputs)


def _fits(device: Any, each: Any) -> bool:
    if device.circuit.value is None:
        return bool(each.circuit.value in WATCHED_INPUTS)
    if device.circuit.value != each.circuit.value:
        return False
    fitted, wanted = device.resistance.value, each.resistance.value
    if device.circuit.value != "resistor" or fitted is None or wanted is None:
        return True
    return bool(abs(fitted - wanted) <= _VALUE_TOLERANCE * wanted)
