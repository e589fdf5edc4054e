"""Quotes, order lines and the sentences in them as JSON that is read back as it was.

What was sent or released is kept this way: it is shown later in each reader's words and units, and no change of the
program or of a catalogue moves a number in it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from sillwright.base.words import Amount, Phrase, Sentence
from sillwright.takeoff.answer import Block
from sillwright.takeoff.ordering.alternatives import Alternative
from sillwright.takeoff.ordering.line import OrderLine
from sillwright.takeoff.ordering.money import PricedLine
from sillwright.takeoff.ordering.quote import Prices, Quote, Step

KIND = "$"
_KINDS: dict[str, type[Any]] = {
    each.__name__: each
    for each in (Alternative, Amount, Block, OrderLine, PricedLine, Prices, Quote, Sentence, Step)
}


def packed(value: Any) -> Any:
    """A value as plain lists and mappings; what it is stands in each mapping under ``$``."""
    if isinstance(value, Phrase):
        return {KIND: "Phrase", "template": value.template, "values": packed(value.values)}
    if value is None or isinstance(value, (str, bool, int, float)):
        return value
    if isinstance(value, Decimal):
        return {KIND: "Decimal", "text": str(value)}
    if isinstance(value, date):
        return {KIND: "date", "text": value.isoformat()}
    if isinstance(value, Mapping):
        return {KIND: "mapping", "of": {name: packed(each) for name, each in value.items()}}
    if isinstance(value, (list, tuple)):
        return [packed(each) for each in value]
    if is_dataclass(value) and type(value).__name__ in _KINDS:
        told = {each.name: packed(getattr(value, each.name)) for each in fields(value)}
        return {KIND: type(value).__name__, **told}
    raise TypeError(type(value).__name__)


def unpacked(told: Any) -> Any:
    """What :func:`packed` was given; lists as tuples. A field that this version no longer has is passed over."""
    if isinstance(told, list):
        return tuple(unpacked(each) for each in told)
    if not isinstance(told, dict):
        return told
    kind = told[KIND]
    if kind == "mapping":
        return {name: unpacked(each) for name, each in told["of"].items()}
    if kind == "Decimal":
        return Decimal(told["text"])
    if kind == "date":
        return date.fromisoformat(told["text"])
    if kind == "Phrase":
        return Phrase(told["template"], unpacked(told["values"]))
    made = _KINDS[kind]
    known = {each.name for each in fields(made)}
    return made(**{name: unpacked(each) for name, each in told.items() if name in known})
