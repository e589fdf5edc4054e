"""What is told of a device: its circuit, what stands between it and the operator, where its end element sits."""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.base.fact import Fact
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.naming import key
from sillwright.hookup.inlets import values_of
from sillwright.survey.devices import DEVICE_CIRCUITS, Protection
from sillwright.survey.element_place import EndPlace, element_place


@dataclass(frozen=True, kw_only=True)
class Told:
    """What is told of a device's circuit: the values, whether rules may rest on them, what would settle them."""

    circuits: tuple[str, ...]
    sure: bool
    of_catalogue: bool = False
    asks: tuple[str, ...] = ()

    def possible(self) -> tuple[str, ...]:
        """Every circuit that it may have."""
        return self.circuits if self.circuits and self.sure else DEVICE_CIRCUITS


def told_of(device: Protection, catalogue: Catalogue | None) -> Told:
    """The circuit of a device: as it was taken down, by its kind, or as the catalogue has it."""
    circuits = values_of(device.circuit)
    if circuits:
        asks = () if device.circuit.known else (device.circuit.path,)
        return Told(circuits=circuits, sure=_settled(device.circuit), asks=asks)
    if device.kind.value == "air_edge":
        return Told(circuits=("air",), sure=device.kind.known)
    of_catalogue = _catalogued(device, catalogue)
    sure = bool(of_catalogue) and device.model.known
    asks = (device.circuit.path,) if len(of_catalogue) != 1 or not sure else ()
    return Told(circuits=of_catalogue, sure=sure, of_catalogue=bool(of_catalogue), asks=asks)


def end_place(device: Protection) -> EndPlace:
    """Where the end element sits, as somebody wrote it.

    >>> from sillwright.survey.from_facts import survey_from_facts
    >>> told = survey_from_facts({"protection": [{"id": "e1", "end_element_at": "at the board"}]})
    >>> end_place(told.openings[0].protection.items[0])
    'board'
    """
    return element_place(device.end_element_at.value)


def _catalogued(device: Protection, catalogue: Catalogue | None) -> tuple[str, ...]:
    """The circuits that the catalogue offers a device of this name with."""
    name = device.model.value
    if catalogue is None or name is None:
        return ()
    seen = next((each for each in catalogue.devices if key(each.name) == key(name)), None)
    if seen is not None:
        return (seen.circuit,) if seen.circuit else ()
    body = next((each for each in catalogue.profiles if key(each.name) == key(name)), None)
    return tuple(body.circuits) if body else ()


def between(device: Protection) -> tuple[str, ...] | None:
    """What stands between device and operator; None where nobody said, only assumed, or two say differently."""
    through = device.through
    return tuple(through.value or ()) if through.known else None


def _settled(fact: Fact[str]) -> bool:
    """Whether a fact has one of the values that were told: known, or readings that do not agree."""
    return fact.known or (bool(fact.rivals) and None not in fact.rivals)
