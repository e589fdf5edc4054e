"""A calculation's case from a document: text with units or plain SI numbers in, a frozen model out."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from sillwright.base import quantity
from sillwright.base.errors import Mistake, OutOfRange, QuantityError
from sillwright.base.model import FieldSpec, Model, fields_of
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Mistakes, Node, mistake, short
from sillwright.base.words import N_, Amount, say

M = TypeVar("M", bound=Model)

_MISSING = object()
ROUND_OFF = 1e-9  # m


def read_case(model: type[M], node: Node, name: str) -> M:
    """The case that a document describes. Raises :class:`DocumentError` with all its mistakes."""
    mistakes = Mistakes(name)
    case = _model(model, node, "", mistakes)
    mistakes.refuse()
    return case  # type: ignore[no-any-return]


def _model(model: type[Model], node: Node, path: str, mistakes: list[Mistake]) -> Any:
    if node.kind != "mapping":
        mistakes.append(mistake(node, path, say(N_("a mapping is wanted here"))))
        return _MISSING
    specs = {spec.name: spec for spec in fields_of(model)}
    words = {key: value.text for key, _, value in node.pairs if value.kind == "scalar"}
    for name, unit in model.units_by_words(words).items():
        specs[name] = replace(specs[name], units=(unit,))
    before = len(mistakes)
    values = {}
    for key, place, value in node.pairs:
        if key not in specs:
            said, where = say(N_("unknown key")), _join(path, short(key))
            mistakes.append(mistake(place, where, said, did_you_mean(key, specs), got=False))
        else:
            values[key] = _value(specs[key], value, _join(path, key), mistakes)
            if model.asks_of_decimal_feet and specs[key].units == ("m",):
                _decimal_feet(value, _join(path, key), mistakes)
    for spec in specs.values():
        if spec.required and spec.name not in values:
            missing = say(N_("“{key}” is missing"), key=spec.name)
            mistakes.append(mistake(node, path, missing, _accepted(spec), got=False))
    if len(mistakes) > before:
        return _MISSING
    try:
        return model(**values)
    except OutOfRange as error:
        mistakes.append(mistake(node, path, error.said, got=False))
        return _MISSING


def _accepted(spec: FieldSpec) -> str:
    """What would be right where nothing was given."""
    if spec.kind == "number":
        return quantity.accepted(spec.unit)
    if spec.kind == "integer":
        return spec.limits.in_words() or say(N_("a whole number"))
    if spec.kind == "flag":
        return say(N_("true or false"))
    if spec.kind == "choice":
        return did_you_mean("", spec.choices)
    if spec.kind in {"list", "pairs"}:
        return say(N_("a list"))
    if spec.kind == "model":
        return say(N_("a mapping, with its own keys"))
    title = spec.limits.title
    return say(N_("a text: {title}"), title=say(title)) if title else say(N_("a text"))


def _decimal_feet(node: Node, path: str, mistakes: list[Mistake]) -> None:
    """ASK-1: feet with a decimal point can be read two ways; it is asked, and neither is taken."""
    typed = node.scalar
    if not isinstance(typed, str) or not quantity.is_decimal_feet(typed):
        return
    feet, other = quantity.parse(typed, "m"), quantity.inches_after_the_point(typed)
    if other is not None and abs(float(other) - feet) > ROUND_OFF:
        said = N_("written “{typed}”: {inches}, or {typed} = {feet}?")
        told = {"inches": Amount(float(other), "m"), "feet": Amount(feet, "m")}
    else:
        said = N_("written “{typed}”, feet with a decimal point: is {feet} meant?")
        told = {"feet": Amount(feet, "m")}
    accepted = say(N_("feet and inches, like 10 ft 6 in, or metres"))
    mistakes.append(mistake(node, path, say(said, typed=short(typed), **told), accepted, got=False))


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def _value(spec: FieldSpec, node: Node, path: str, mistakes: list[Mistake]) -> Any:
    if node.empty:
        if not spec.optional:
            said = say(N_("nothing is given"))
            mistakes.append(mistake(node, path, said, _accepted(spec), got=False))
        return None
    if spec.kind == "model" and spec.model:
        return _model(spec.model, node, path, mistakes)
    if spec.kind == "pairs":
        return _pairs(spec, node, path, mistakes)
    if spec.kind == "list" and spec.item:
        if node.kind != "list":
            mistakes.append(mistake(node, path, say(N_("a list is wanted here"))))
            return ()
        return tuple(_value(spec.item, item, f"{path}[{i}]", mistakes) for i, item in enumerate(node.items))
    if node.kind != "scalar":
        mistakes.append(mistake(node, path, say(N_("one value is wanted here"))))
        return None
    return _scalar(spec, node, path, mistakes)


def _scalar(spec: FieldSpec, node: Node, path: str, mistakes: list[Mistake]) -> Any:
    if spec.kind == "number":
        return number(node, path, spec.unit, spec, mistakes)
    if spec.kind == "integer":
        if isinstance(node.scalar, int) and not isinstance(node.scalar, bool):
            if not spec.limits.allow(node.scalar):
                mistakes.append(mistake(node, path, say(N_("out of range")), spec.limits.in_words()))
            return node.scalar
        mistakes.append(mistake(node, path, say(N_("a whole number is wanted here"))))
    elif spec.kind == "flag":
        if isinstance(node.scalar, bool):
            return node.scalar
        mistakes.append(mistake(node, path, say(N_("not an answer")), say(N_("true or false"))))
    elif spec.kind == "choice":
        if node.text in spec.choices:
            return node.text
        said = say(N_("not a known word here"))
        mistakes.append(mistake(node, path, said, did_you_mean(node.text, spec.choices)))
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
        mistakes.append(mistake(node, path, say(N_("not a quantity")), quantity.accepted(unit)))
        return None
    if not spec.limits.allow(value):
        mistakes.append(mistake(node, path, say(N_("out of range")), spec.limits.accepted(unit)))
        return None
    return value


def _pairs(spec: FieldSpec, node: Node, path: str, mistakes: list[Mistake]) -> tuple[tuple[float, ...], ...]:
    plain = FieldSpec(name=spec.name, kind="number", limits=spec.limits)
    rows = []
    for index, item in enumerate(node.items):
        here = f"{path}[{index}]"
        if item.kind != "list" or len(item.items) != len(spec.units):
            said = say(N_("a pair in {one} and {other} is wanted here"), one=spec.units[0], other=spec.units[-1])
            mistakes.append(mistake(item, here, said))
            continue
        numbers = (
            number(each, here, unit, plain, mistakes) for each, unit in zip(item.items, spec.units, strict=True)
        )
        rows.append(tuple(value if value is not None else 0.0 for value in numbers))
    if node.kind != "list":
        mistakes.append(mistake(node, path, say(N_("a list of pairs is wanted here"))))
    return tuple(rows)
