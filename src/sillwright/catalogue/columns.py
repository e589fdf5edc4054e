"""The sheets of a catalogue's workbook and their columns, read off the models."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache

from sillwright.base.model import FieldSpec, Limits, Model, fields_of
from sillwright.base.words import Units
from sillwright.catalogue.from_node import PER_FOOT
from sillwright.catalogue.model import Catalogue, ListedDevice, Via
from sillwright.catalogue.parts import Work
from sillwright.catalogue.profile import CurveAt, Price
from sillwright.catalogue.rows import lists

HEAD = "catalogue"
FEET_AND_INCHES = "ft in"
_SMALL = 0.5  # metres: what is never longer is filled in by the inch or the millimetre
_TEXT = FieldSpec(name="", kind="text", limits=Limits())
_UNITS: dict[Units, dict[str, str]] = {
    "us": {"m": "ft", "K": "degF", "N": "lbf", "kg/m": "lb/ft", "rad": "deg", "ohm/m": "ohm/ft"},
    "metric": {"K": "degC", "rad": "deg"},
}


@dataclass(frozen=True)
class Sheet:
    """A sheet: its columns by name, in order."""

    title: str
    columns: Mapping[str, FieldSpec]


@dataclass(frozen=True)
class Part(Sheet):
    """A sheet of what entries of another sheet have several of: each row names its entry."""

    parent: str
    field: str
    keys: Mapping[str, str]  # column here → field there


@cache
def sheets() -> dict[str, Sheet]:
    """Every sheet but the first, in order; those of parts come right after their entries.

    >>> list(sheets())[:3], list(sheets()["curves"].columns)
    (['profiles', 'curves', 'channels'], ['profile', 'temperature', 'travel', 'force'])
    """
    found: dict[str, Sheet] = {}
    for title, model in lists().items():
        found[title] = Sheet(title, dict(_columns(model, "")))
        found |= {part.title: part for part in _parts() if part.parent == title}
    return found


@cache
def head() -> dict[str, FieldSpec]:
    """What the first sheet holds, a key and its value in each row."""
    return {spec.name: spec for spec in fields_of(Catalogue) if spec.kind != "list"}


def unit_shown(spec: FieldSpec, units: Units) -> str:
    """The unit that the template says for a column; empty where there is none to say."""
    measured = spec.item or spec
    if not is_measured(spec):
        return ""
    if measured.unit == "m" and spec.limits.at_most is not None and spec.limits.at_most <= _SMALL:
        return "in" if units == "us" else "mm"
    return _UNITS[units].get(measured.unit, measured.unit)


def is_measured(spec: FieldSpec) -> bool:
    """Whether a column holds quantities, whose unit row 2 names."""
    measured = spec.item or spec
    return measured.kind == "number" and measured.unit != "1"


def _parts() -> tuple[Part, ...]:
    of_inputs = {"operator": "operator", "input": "name"}
    named = dict.fromkeys(of_inputs, _TEXT)
    temperature, curve = fields_of(CurveAt)
    point = {name: _number(unit) for name, unit in zip(("travel", "force"), curve.units, strict=True)}
    points = {"profile": _TEXT, "temperature": temperature, **point}
    return (
        Part("curves", points, "profiles", "curves", {"profile": "name"}),
        Part("via", {**named, **dict(_columns(Via, ""))}, "inputs", "via", of_inputs),
        Part("listings", {**named, **dict(_columns(ListedDevice, ""))}, "inputs", "lists", of_inputs),
    )


def _columns(model: type[Model], start: str) -> Iterator[tuple[str, FieldSpec]]:
    for spec in fields_of(model):
        if spec.kind == "model" and spec.model:
            yield from _columns(spec.model, f"{start}{spec.name}.")
        elif spec.kind != "pairs" and not (spec.item and spec.item.model):
            yield start + spec.name, spec
            if spec.name == "per_metre" and model in (Price, Work):
                yield start + PER_FOOT, spec


def _number(unit: str) -> FieldSpec:
    return FieldSpec(name="", kind="number", limits=Limits(at_most=0.3 if unit == "m" else None), units=(unit,))
