"""Whether a device of one circuit fits an input of another: by the catalogue, what stands between, practice."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.catalogue.model import Catalogue, OperatorInput
from sillwright.catalogue.naming import key
from sillwright.catalogue.parts import ConverterKind, RadioLink
from sillwright.hookup.answer import Standing
from sillwright.hookup.table import Cell, cells

WATCHABLE = {
    "resistor", "diode_capacitor", "four_wire", "optical", "radio", "pulse_two_wire", "pulse_three_wire",
}  # fmt: skip
WATCHING = {
    "resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire", "optical", "tested_contact",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Fit:
    """What a device of one circuit comes to on an input of another."""

    way: Literal["direct", "through", "no"]
    watched: Literal["yes", "no", "ask"]
    because: str
    standing: Standing = "practice"
    converter: str | None = None
    gives: str | None = None
    unusual: bool = False  # the catalogue takes what practice would not


def fit(
    circuit: str,
    input: str,
    *,
    entry: OperatorInput | None = None,
    catalogue: Catalogue | None = None,
    between: tuple[str, ...] | None = None,
) -> Fit:
    """How a device fits an input. ``between`` names what stands between them; None: nobody said.

    The catalogue's own word on an input goes before practice; a plain contact is never watched, whoever lists it.
    """
    if between:
        return _through_these(circuit, input, between, catalogue)
    return _by_entry(circuit, input, entry) or _by_practice(circuit, input, catalogue)


def _by_entry(circuit: str, input: str, entry: OperatorInput | None) -> Fit | None:
    """What the catalogue says of this input; None where it says nothing of this circuit."""
    if entry is None:
        return None
    cell = cells()[circuit, input]
    if circuit in entry.direct:
        unusual = cell.way != "direct"
        because = "direct_here" if unusual else cell.because
        watched = _watched(cell, "direct", circuit, input)
        return Fit(way="direct", watched=watched, because=because, standing="catalogue", unusual=unusual)
    via = next((each for each in entry.via if each.circuit == circuit), None)
    if via is None:
        return None
    unusual = cell.way != "through"
    return Fit(
        way="through",
        watched=_watched(cell, "through", circuit, input),
        because="handed_on" if unusual else cell.because,
        standing="catalogue",
        converter=via.converter,
        gives=input,
        unusual=unusual,
    )


def _by_practice(circuit: str, input: str, catalogue: Catalogue | None) -> Fit:
    cell = cells()[circuit, input]
    if cell.way != "through":
        return Fit(way=cell.way, watched=cell.watched, because=cell.because)
    link = _radio(input, catalogue) if circuit == "radio" else _converter(circuit, input, catalogue)
    unseen = isinstance(link, RadioLink) and not link.supervised and cell.watched != "no"
    return Fit(
        way="through",
        watched="no" if unseen else cell.watched,
        because="link_unseen" if unseen else cell.because,
        standing="catalogue" if link else "practice",
        converter=link.name if link else None,
        gives=input,
    )


def _through_these(circuit: str, input: str, names: tuple[str, ...], catalogue: Catalogue | None) -> Fit:
    """What the parts that stand between turn the circuit into, as far as the catalogue knows them."""
    here: str | None = circuit
    known = _parts(catalogue)
    for name in names:
        part = known.get(key(name))
        if isinstance(part, RadioLink):
            here = input if input in part.gives else None if not part.gives else "other"
        elif part is None:
            here = None
        elif here is not None and here not in part.takes:
            return _misfit("not_taken", names)
        else:
            here = part.gives
    if here not in {None, input}:
        return _misfit("gives_other", names)
    cell = cells()[circuit, input]
    watched = _watched(cell, "through", circuit, input)
    if here is None and watched == "yes":
        watched = "ask"
    because = "told_between" if here is None else cell.because if cell.way == "through" else "handed_on"
    return Fit(way="through", watched=watched, because=because, standing="survey", converter=names[0], gives=here)


def _misfit(because: str, names: tuple[str, ...]) -> Fit:
    return Fit(way="no", watched="no", because=because, standing="survey", converter=names[0])


def _watched(
    cell: Cell, way: Literal["direct", "through"], circuit: str, input: str
) -> Literal["yes", "no", "ask"]:
    """Whether the operator can watch it this way; where practice knows another way only, that is to be asked."""
    if cell.way == way:
        return cell.watched
    return "ask" if circuit in WATCHABLE and input in WATCHING else "no"


def _parts(catalogue: Catalogue | None) -> dict[str, ConverterKind | RadioLink]:
    if catalogue is None:
        return {}
    parts: list[ConverterKind | RadioLink] = [*catalogue.radios, *catalogue.converters]
    return {key(each.name): each for each in parts}


def _converter(circuit: str, input: str, catalogue: Catalogue | None) -> ConverterKind | None:
    """The converter of the catalogue for one device from this circuit to that input; the cheapest of several."""
    found = [
        each
        for each in (catalogue.converters if catalogue else ())
        if circuit in each.takes and each.gives == input and each.devices == 1
    ]
    return min(found, key=_cost, default=None)


def _radio(input: str, catalogue: Catalogue | None) -> RadioLink | None:
    """The radio link of the catalogue whose receiver gives this; one that checks its link before others."""
    found = [each for each in (catalogue.radios if catalogue else ()) if input in each.gives]
    return min(found, key=lambda each: (not each.supervised, *_cost(each)), default=None)


def _cost(part: ConverterKind | RadioLink) -> tuple[bool, float, str]:
    return part.price is None, part.price.of() if part.price else 0.0, part.name


def for_several(circuits: frozenset[str], input: str, catalogue: Catalogue | None) -> ConverterKind | None:
    """The converter that joins so many devices of these circuits to one input."""
    found = [
        each
        for each in (catalogue.converters if catalogue else ())
        if circuits <= set(each.takes) and each.gives == input and each.devices > 1
    ]
    return min(found, key=_cost, default=None)
