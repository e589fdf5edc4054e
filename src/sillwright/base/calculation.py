"""Calculations: pure functions from one frozen case to one frozen result, described and read in one way."""

from __future__ import annotations

import dataclasses
import inspect
from collections.abc import Callable
from dataclasses import dataclass
from importlib import import_module
from math import isfinite
from typing import Any, get_type_hints

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, FieldSpec, Model, Result, fields_of
from sillwright.base.source import Source
from sillwright.base.words import N_, say


@dataclass(frozen=True)
class Calculation:
    """A registered calculation."""

    name: str
    function: Callable[[Any], Any]
    case: type[Case]
    result: type[Result]

    @property
    def title(self) -> str:
        """The first line of the docstring: what the calculation answers."""
        return (inspect.getdoc(self.function) or "").splitlines()[0]


def load(name: str, address: str) -> Calculation:
    """The calculation at ``module:function``; its models are read off its signature."""
    module, _, attribute = address.partition(":")
    function = getattr(import_module(module), attribute)
    hints = get_type_hints(function)
    result = hints.pop("return")
    (case,) = hints.values()
    return Calculation(name, function, case, result)


def as_json(value: Any) -> Any:
    """A model as plain lists and mappings of SI numbers.

    Raises :class:`OutOfRange` for a number that is not finite: inputs at the edge of what can be computed.

    >>> as_json((1.5, None))
    [1.5, None]
    """
    if isinstance(value, float) and not isfinite(value):
        raise OutOfRange(say(N_("the result is beyond every number; look at the inputs again")))
    if isinstance(value, Source):
        return value.as_json()
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {each.name: as_json(getattr(value, each.name)) for each in dataclasses.fields(value)}
    if isinstance(value, dict):
        return {str(key): as_json(inner) for key, inner in value.items()}
    if isinstance(value, (tuple, list)):
        return [as_json(inner) for inner in value]
    return value


SCHEMA = "https://json-schema.org/draft/2020-12/schema"


def schema(model: type[Model]) -> dict[str, Any]:
    """The JSON schema (2020-12) of a model: titles, SI units, ranges, defaults.

    A quantity of a case may be a text with a unit, too.
    """
    return {"$schema": SCHEMA, **_object(model, texts=issubclass(model, Case))}


def _object(model: type[Model], *, texts: bool) -> dict[str, Any]:
    specs = fields_of(model)
    return {
        "type": "object",
        "title": model.__name__,
        "description": (inspect.getdoc(model) or "").splitlines()[0],
        "properties": {spec.name: _property(spec, texts=texts) for spec in specs},
        "required": [spec.name for spec in specs if spec.required],
        "additionalProperties": False,
    }


_JSON_TYPES = {"number": "number", "integer": "integer", "text": "string", "flag": "boolean"}
_JSON_LIMITS = {
    "exclusiveMinimum": "above",
    "minimum": "at_least",
    "exclusiveMaximum": "below",
    "maximum": "at_most",
}


def _property(spec: FieldSpec, *, texts: bool) -> dict[str, Any]:
    found = {"title": spec.limits.title} if spec.limits.title else {}
    shape: dict[str, Any] = {**found, **_shape(spec, texts=texts)}
    if not spec.required and not isinstance(spec.default, Model):
        shape["default"] = as_json(spec.default)
    return shape


def _shape(spec: FieldSpec, *, texts: bool) -> dict[str, Any]:
    nothing: list[dict[str, Any]] = [{"type": "null"}] if spec.optional else []
    shape: dict[str, Any]
    if spec.kind == "model" and spec.model:
        shape = _object(spec.model, texts=texts)
    elif spec.kind == "choice":
        shape = {"enum": list(spec.choices)}
    elif spec.kind == "pairs":
        number: dict[str, Any] = {"type": ["number", "string"] if texts else "number"}
        pair = {"type": "array", "items": number, "minItems": 2, "maxItems": 2}
        shape = {"type": "array", "items": pair, "x-units": list(spec.units)}
    elif spec.kind == "list" and spec.item:
        shape = {"type": "array", "items": _shape(spec.item, texts=texts)}
    elif spec.kind in _JSON_TYPES:
        pairs = ((key, getattr(spec.limits, name)) for key, name in _JSON_LIMITS.items())
        shape = {"type": _JSON_TYPES[spec.kind], **{key: value for key, value in pairs if value is not None}}
        if spec.kind == "number":
            shape["x-unit"] = spec.unit
            if texts and spec.unit != "1":
                shape["type"] = ["number", "string"]
    else:
        shape = {}
    return {"anyOf": [shape, *nothing]} if nothing else shape
