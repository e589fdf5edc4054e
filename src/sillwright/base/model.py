"""Models: frozen, keyword-only, valid from birth, and able to describe themselves.

A field says its unit in its type (:mod:`sillwright.base.units`) and its range in :func:`field`::

    class Impact(Case):
        mass: Kilogram = field(above=0, title="Moving mass")
"""

from __future__ import annotations

import dataclasses
from collections.abc import Hashable, Iterator, Mapping, Sequence
from dataclasses import MISSING, dataclass
from functools import cache, reduce
from math import isfinite
from types import NoneType, UnionType
from typing import (
    Annotated,
    Any,
    ClassVar,
    Literal,
    Union,
    cast,
    dataclass_transform,
    get_args,
    get_origin,
    get_type_hints,
)

from sillwright.base.errors import OutOfRange
from sillwright.base.units import Unit
from sillwright.base.words import N_, Phrase, say


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What a field accepts and what it is called."""

    title: str = ""
    above: float | None = None
    at_least: float | None = None
    below: float | None = None
    at_most: float | None = None

    def allow(self, value: float) -> bool:
        """Whether a number is finite and inside; written so that NaN is outside."""
        return (
            isfinite(value)
            and (self.above is None or value > self.above)
            and (self.at_least is None or value >= self.at_least)
            and (self.below is None or value < self.below)
            and (self.at_most is None or value <= self.at_most)
        )

    def in_words(self, unit: str = "") -> Phrase:
        """The range as a message prints it.

        >>> Limits(above=0, at_most=5).in_words("m/s")
        'above 0 m/s and at most 5 m/s'
        """
        pairs = (
            (N_("above {number}"), self.above),
            (N_("at least {number}"), self.at_least),
            (N_("below {number}"), self.below),
            (N_("at most {number}"), self.at_most),
        )
        shown = "" if unit == "1" else f" {unit}"
        said = [say(words, number=f"{value:g}{shown}") for words, value in pairs if value is not None]
        if not said:
            return say(N_("a finite number"))
        return reduce(lambda one, other: say(N_("{one} and {other}"), one=one, other=other), said)

    def accepted(self, unit: str = "") -> Phrase:
        """The range as the end of a message says it.

        >>> Limits(at_most=5).accepted("m/s")
        'at most 5 m/s is accepted'
        """
        return say(N_("{range} is accepted"), range=self.in_words(unit))


def field(
    *,
    default: Any = MISSING,
    title: str = "",
    above: float | None = None,
    at_least: float | None = None,
    below: float | None = None,
    at_most: float | None = None,
) -> Any:
    """A model field with its range and its title."""
    limits = Limits(title=title, above=above, at_least=at_least, below=below, at_most=at_most)
    return dataclasses.field(default=default, metadata={"limits": limits})


@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(field,))
class Model:
    """Root of all models. A subclass is a frozen dataclass with checked ranges."""

    def __init_subclass__(cls, **options: Any) -> None:
        super().__init_subclass__(**options)
        dataclass(frozen=True, kw_only=True)(cls)

    def __post_init__(self) -> None:
        for spec in fields_of(type(self)):
            check(spec, getattr(self, spec.name), type(self).__name__)

    asks_of_decimal_feet: ClassVar[bool] = False
    """Whether lengths that are typed like “10.6 ft” are asked about: an order may hang on them."""

    @classmethod
    def units_by_words(cls, words: Mapping[str, str]) -> Mapping[str, str]:
        """Units of fields that depend on the words in other fields, as a file gives them; none by default."""
        return {}


class Case(Model):
    """What a calculation is given."""


class Result(Model):
    """What a calculation answers. Carries the assumptions made and the sources.

    Its numbers are ours, so that they are not checked again: a result costs no more than its parts.
    """

    def __post_init__(self) -> None:
        """Nothing to check."""


@dataclass(frozen=True, kw_only=True)
class FieldSpec:
    """A field as the reader, the schema and the forms see it."""

    name: str
    kind: Literal["number", "integer", "text", "flag", "choice", "model", "pairs", "list", "other"]
    limits: Limits
    units: tuple[str, ...] = ()
    choices: tuple[str, ...] = ()
    model: type[Model] | None = None
    item: FieldSpec | None = None
    optional: bool = False  # null is a value here
    required: bool = False
    default: Any = None

    @property
    def unit(self) -> str:
        """The SI unit of a number, "1" where it has none."""
        return self.units[0] if self.units else "1"


def fields_of(model: type[Model]) -> tuple[FieldSpec, ...]:
    """The fields of a model in the order in which they are declared."""
    return _fields(cast(Hashable, model))


@cache
def _fields(model: Any) -> tuple[FieldSpec, ...]:
    hints = get_type_hints(model, include_extras=True)
    return tuple(_spec(each, hints[each.name]) for each in dataclasses.fields(model))


def check(spec: FieldSpec, value: Any, owner: str) -> None:
    """Raise :class:`OutOfRange` where a number lies outside its field's range."""
    if value is None:
        if not spec.optional:
            accepted = spec.limits.accepted(spec.unit)
            raise _out(spec, owner, say(N_("nothing given; {accepted}"), accepted=accepted))
    elif spec.kind in {"number", "integer"}:
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            raise _out(spec, owner, say(N_("{value} is not a number"), value=repr(value)))
        if not spec.limits.allow(value):
            told = {"value": f"{value:g} {spec.unit}", "accepted": spec.limits.accepted(spec.unit)}
            raise _out(spec, owner, say(N_("{value} is out of range; {accepted}"), **told))
    elif spec.kind == "choice" and value not in spec.choices:
        told = {"value": repr(value), "words": ", ".join(spec.choices)}
        raise _out(spec, owner, say(N_("{value} is not one of {words}"), **told))
    elif spec.kind == "pairs":
        for number in _flat(value):
            if not isfinite(number):
                raise _out(spec, owner, say(N_("{number} is not a finite number"), number=number))


def _out(spec: FieldSpec, owner: str, message: str) -> OutOfRange:
    return OutOfRange(say(N_("{path}: {message}"), path=f"{owner}.{spec.name}", message=message))


def _flat(pairs: Sequence[Sequence[float]]) -> Iterator[float]:
    for pair in pairs:
        yield from pair


def _spec(each: dataclasses.Field[Any], hint: Any) -> FieldSpec:
    limits = each.metadata.get("limits", Limits())
    optional = False
    if get_origin(hint) in (Union, UnionType):
        options = [option for option in get_args(hint) if option is not NoneType]
        optional = len(options) < len(get_args(hint))
        hint = options[0] if len(options) == 1 else hint
    required = each.default is MISSING and each.default_factory is MISSING
    default = None if each.default is MISSING else each.default
    return FieldSpec(
        name=each.name, limits=limits, optional=optional, required=required, default=default, **_kind(hint)
    )


def _kind(hint: Any) -> dict[str, Any]:
    units: tuple[str, ...] = ()
    if get_origin(hint) is Annotated:
        hint, *marks = get_args(hint)
        units = tuple(mark.symbol for mark in marks if isinstance(mark, Unit))
    if get_origin(hint) is Literal:
        return {"kind": "choice", "choices": get_args(hint)}
    if get_origin(hint) is tuple:
        inner = get_args(hint)[0]
        if get_origin(inner) is tuple:
            return {"kind": "pairs", "units": units}
        return {"kind": "list", "item": FieldSpec(name="", limits=Limits(), **_kind(inner))}
    if isinstance(hint, type) and issubclass(hint, Model):
        return {"kind": "model", "model": hint}
    names: dict[Any, str] = {bool: "flag", int: "integer", float: "number", str: "text"}
    return {"kind": names.get(hint, "other"), "units": units}
