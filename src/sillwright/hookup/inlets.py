"""The inputs of an operator, as far as they are known: as they were taken down, else as the catalogue has them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from sillwright.catalogue.model import Catalogue, OperatorInput
from sillwright.catalogue.naming import key
from sillwright.circuit.watching import alike as alike
from sillwright.circuit.watching import only_stops
from sillwright.circuit.watching import values_of as values_of
from sillwright.hookup.answer import Standing
from sillwright.survey.model import Opening
from sillwright.survey.operator import INPUT_CIRCUITS, Input


@dataclass(frozen=True, kw_only=True)
class Inlet:
    """One input. ``circuits`` and ``ohms`` are the values that were told; ``sure``: rules may rest on them."""

    name: str | None
    circuits: tuple[str, ...]
    ohms: tuple[float, ...]
    path: str = ""  # of its facts; empty where the catalogue tells it
    entry: OperatorInput | None = None
    standing: Standing = "survey"
    sure: bool = True
    sure_ohms: bool = True
    differs: bool = False  # the catalogue says otherwise of it

    @property
    def circuit(self) -> str | None:
        """Its circuit where only one is told."""
        return self.circuits[0] if len(self.circuits) == 1 else None

    @property
    def resistance(self) -> float | None:
        """The end element that it expects, where only one value is told."""
        return self.ohms[0] if len(self.ohms) == 1 else None

    @property
    def stops_only(self) -> bool:
        """Whether its name says that it stops the leaf, rather than reversing it."""
        return only_stops(self.name)

    @property
    def asks(self) -> tuple[str, ...]:
        """The facts that leave its circuit or its value open."""
        of_circuit = () if self.sure and len(self.circuits) == 1 else ("circuit",)
        of_ohms = ("resistance",) if "resistor" in self.circuits and not self.ohms else ()
        return tuple(f"{self.path}.{each}" for each in (*of_circuit, *of_ohms)) if self.path else ()

    def possible(self) -> tuple[str, ...]:
        """Every circuit that it may have."""
        return self.circuits if self.circuits and self.sure else tuple(INPUT_CIRCUITS)


@dataclass(frozen=True, kw_only=True)
class Inlets:
    """All inputs, or why they are not known; ``asks`` are the facts that would tell."""

    items: tuple[Inlet, ...]
    state: Literal["known", "none there", "unknown"]
    asks: tuple[str, ...] = ()
    unasked: bool = False  # nobody was asked for them, and the catalogue has none


def inlets(opening: Opening, catalogue: Catalogue | None) -> Inlets:
    """The inputs that were taken down; where nobody did, those of the operator's class in the catalogue."""
    listing, entries = opening.operator.inputs, entries_of(opening, catalogue)
    if listing.standing == "two readings":
        return Inlets(items=(), state="unknown", asks=(listing.path,))
    if listing.standing in {"known", "assumed"}:
        if not listing.items:
            return Inlets(items=(), state="none there" if listing.standing == "known" else "unknown")
        sure = listing.standing == "known"
        return Inlets(items=tuple(_taken(each, entries, sure) for each in listing), state="known")
    if entries:
        sure = opening.operator.model.known
        return Inlets(items=tuple(_listed(each, sure) for each in entries), state="known")
    named = () if opening.operator.model.known else (opening.operator.model.path,)
    unasked = listing.standing == "not asked"
    return Inlets(items=(), state="unknown", asks=(listing.path, *named), unasked=unasked)


def entries_of(opening: Opening, catalogue: Catalogue | None) -> tuple[OperatorInput, ...]:
    """The inputs that the catalogue has for this class of operator."""
    model = opening.operator.model.value
    if catalogue is None or model is None:
        return ()
    return tuple(each for each in catalogue.inputs if key(each.operator) == key(model))


def _taken(there: Input, entries: Sequence[OperatorInput], sure: bool) -> Inlet:
    """An input as it was taken down, with what the catalogue knows of it besides."""
    entry = _entry(there, entries)
    circuits, ohms = values_of(there.circuit), values_of(there.resistance)
    differs = entry is not None and _differs(entry, circuits, ohms)
    if differs:
        entry = None
    of_catalogue = not circuits and entry is not None and entry.circuit is not None
    if entry is not None and entry.circuit is not None and not circuits:
        circuits = (entry.circuit,)
    if entry is not None and entry.resistance is not None and not ohms:
        ohms = (entry.resistance,)
    return Inlet(
        name=there.name.value,
        circuits=circuits,
        ohms=ohms,
        path=there.path,
        entry=entry,
        standing="catalogue" if of_catalogue else "survey",
        sure=sure and (of_catalogue or there.circuit.known),
        sure_ohms=there.resistance.known or there.resistance.value is None,
        differs=differs,
    )


def _entry(there: Input, entries: Sequence[OperatorInput]) -> OperatorInput | None:
    """The catalogue's entry of an input: by its name, else the only one of its circuit."""
    name = there.name.value
    if name is not None and (found := [each for each in entries if key(each.name) == key(name)]):
        return found[0]
    alike = [each for each in entries if each.circuit is not None and each.circuit == there.circuit.value]
    return alike[0] if len(alike) == 1 else None


def _differs(entry: OperatorInput, circuits: tuple[str, ...], ohms: tuple[float, ...]) -> bool:
    if circuits and entry.circuit is not None and entry.circuit not in circuits:
        return True
    return bool(ohms) and entry.resistance is not None and not any(alike(each, entry.resistance) for each in ohms)


def _listed(entry: OperatorInput, sure: bool) -> Inlet:
    return Inlet(
        name=entry.name,
        circuits=(entry.circuit,) if entry.circuit else (),
        ohms=(entry.resistance,) if entry.resistance is not None else (),
        entry=entry,
        standing="catalogue",
        sure=sure,
    )
