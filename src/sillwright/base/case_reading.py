"""A calculation's case from a document: text with units or plain SI numbers in, a frozen model out."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from sillwright.base import quantity
from sillwright.base.errors import Mistake, OutOfRange, QuantityError
from sillwright.base.model import FieldSpec, Model, fields_of
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Mistakes, Node, mistake, short

M = TypeVar("M", bound=Model)

_MISSING = object()


def read_case(model: type[M], node: Node, name: str) -> M:
    """The case that a document describes. Raises :class:`DocumentError` with all its mistakes."""
    mistakes = Mistakes(name)
    case = _model(model, node, "", mistakes)
    mistakes.refuse()
    return case  # type: ignore[no-any-return]


def _model(model: type[Model], node: Node, path: str, mistakes: list[Mistake]) -> Any:
    if node.kind != "mapping":
        mistakes.append(mistake(node, path, "a mapping is wanted here"))
        return _MISSING
    specs = {spec.name: spec for spec in fields_of(model)}
    words = {key: value.text for key, _, value in node.pairs if value.kind == "scalar"}
    for name, unit in model.units_by_words(words).items():
        specs[name] = replace(specs[name], units=(unit,))
    before = len(mistakes)
    values = {}
    for key, place, value in node.pairs:
        if key not in specs:
            mistakes.append(
                mistake(place, _join(path, short(key)), "unknown key", did_you_mean(key, specs), got=False)
            )
        else:
            values[key] = _value(specs[key], value, _join(path, key), mistakes)
    for spec in specs.values():
        if spec.required and spec.name not in values:
            missing = f"“{spec.name}” is missing"
            mistakes.append(mistake(node, path, missing, quantity.accepted(spec.unit), got=False))
    if len(mistakes) > before:
        return _MISSING
    try:
        return model(**values)
    except OutOfRange as error:
        mistakes.append(mistake(node, path, str(error), got=False))
        return _MISSING


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def _value(spec: FieldSpec, node: Node, path: str, mistakes: list[Mistake]) -> Any:
    if node.empty:
        if not spec.optional:
            mistakes.append(mistake(node, path, "nothing is given", quantity.accepted(spec.unit), got=False))
        return None
    if spec.kind == "model" and spec.model:
        return _model(spec.model, node, path, mistakes)
    if spec.kind == "pairs":
        return _pairs(spec, node, path, mistakes)
    if spec.kind == "list" and spec.item:
        if node.kind != "list":
            mistakes.append(mistake(node, path, "a list is wanted here"))
            return ()
        return tuple(_value(spec.item, item, f"{path}[{i}]", mistakes) for i, item in enumerate(node.items))
    if node.kind != "scalar":
        mistakes.append(mistake(node, path, "one value is wanted here"))
        return None
    return _scalar(spec, node, path, mistakes)


def _scalar(spec: FieldSpec, node: Node, path: str, mistakes: list[Mistake]) -> Any:
    if spec.kind == "number":
        return number(node, path, spec.unit, spec, mistakes)
    if spec.kind == "integer":
        if isinstance(node.scalar, int) and not isinstance(node.scalar, bool):
            if not spec.limits.allow(node.scalar):
                mistakes.append(mistake(node, path, "out of range", spec.limits.in_words()))
            return node.scalar
        mistakes.append(mistake(node, path, "a whole number is wanted here"))
    elif spec.kind == "flag":
        if isinstance(node.scalar, bool):
            return node.scalar
        mistakes.append(mistake(node, path, "not an answer", "true or false"))
    elif spec.kind == "choice":
        if node.text in spec.choices:
            return node.text
        mistakes.append(mistake(node, path, "not a known word here", did_you_mean(node.text, spec.choices)))
    else:
        return node.text
    return None


def number(node: Node, path: str, unit: str, spec: FieldSpec, mistakes: list[Mistake]) -> float | None:
    """A number in SI from a text with a unit or a plain number; a mistake where it is neither."""
    if isinstance(node.scalar, str):
        try:
            value = quantity.parse(node.scalar, unit)
        except QuantityError as error:
            mistakes.append(mistake(node, path, error.message, error.accepted))
            return None
    elif isinstance(node.scalar, (int, float)) and not isinstance(node.scalar, bool):
        value = float(node.scalar)
    else:
        mistakes.append(mistake(node, path, "not a quantity", quantity.accepted(unit)))
        return None
    if not spec.limits.allow(value):
        mistakes.append(mistake(node, path, "out of range", f"{spec.limits.in_words(unit)} is accepted"))
        return None
    return value


def _pairs(spec: FieldSpec, node: Node, path: str, mistakes: list[Mistake]) -> tuple[tuple[float, ...], ...]:
    plain = FieldSpec(name=spec.name, kind="number", limits=spec.limits)
    rows = []
    for index, item in enumerate(node.items):
        here = f"{path}[{index}]"
        if item.kind != "list" or len(item.items) != len(spec.units):
            mistakes.append(mistake(item, here, f"a pair in {' and '.join(spec.units)} is wanted here"))
            continue
        numbers = (
            number(each, here, unit, plain, mistakes) for each, unit in zip(item.items, spec.units, strict=True)
        )
        rows.append(tuple(value if value is not None else 0.0 for value in numbers))
    if node.kind != "list":
        mistakes.append(mistake(node, path, "a list of pairs is wanted here"))
    return tuple(rows)
