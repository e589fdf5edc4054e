"""One value of a fact from its node: text with a unit, a word, a date, a list."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sillwright.base import quantity
from sillwright.base.errors import Mistake, QuantityError
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import Node, mistake
from sillwright.survey.interval import read_interval
from sillwright.survey.spec import Spec

LONGEST_TEXT = 2000
LONGEST_LIST = 1000
_ASIDE = re.compile(r"\s*\([^()]*\)$")
_MONEY = re.compile(r"(\d+(?:\.\d+)?)\s*([A-Z]{3})(?:\s*/\s*(h|d|day|hour))?", re.ASCII)


@dataclass(frozen=True)
class Money:
    """An amount in a currency, per hour or day where it says so."""

    amount: float
    currency: str
    per: str | None = None

    def __str__(self) -> str:
        return f"{self.amount:g} {self.currency}" + (f"/{self.per}" if self.per else "")


class Refused(Exception):
    """A value that cannot be read, with the mistake to report."""

    def __init__(self, found: Mistake) -> None:
        super().__init__(str(found))
        self.mistake = found


def read_value(spec: Spec, node: Node, path: str) -> Any:
    """The value of a fact. Raises :class:`Refused` with what was read and what would be accepted."""
    if spec.kind in {"texts", "points"}:
        if node.kind != "list":
            raise Refused(mistake(node, path, "a list is wanted here", "write [ … ]"))
        if len(node.items) > LONGEST_LIST:
            raise Refused(mistake(node, path, f"more than {LONGEST_LIST} are not read"))
        return (_texts if spec.kind == "texts" else _points)(spec, node, path)
    if node.kind != "scalar":
        raise Refused(mistake(node, path, "one value is wanted here", "write the value, or {value: …, from: …}"))
    return _SCALARS[spec.kind](spec, node, path)


def typed_text(spec: Spec, node: Node) -> str:
    """A value as one would type it: a plain number with its SI unit, the members of a list parted by semicolons."""
    if node.kind == "list":
        parts = (", ".join(typed_text(spec, each) for each in item.items) or item.text for item in node.items)
        return "; ".join(part.replace(";", ",") for part in parts)
    plain = isinstance(node.scalar, (int, float)) and not isinstance(node.scalar, bool)
    return f"{node.text} {spec.unit}" if plain and spec.unit != "1" else node.text


def _quantity(spec: Spec, node: Node, path: str) -> float:
    if isinstance(node.scalar, str):
        try:
            value = quantity.parse(node.scalar, spec.unit)
        except QuantityError as error:
            raise Refused(mistake(node, path, error.message, error.accepted)) from None
    elif isinstance(node.scalar, (int, float)) and not isinstance(node.scalar, bool):
        value = float(node.scalar)
    else:
        raise Refused(mistake(node, path, "not a quantity", quantity.accepted(spec.unit)))
    return _inside(spec, node, path, value)


def _count(spec: Spec, node: Node, path: str) -> float:
    if not isinstance(node.scalar, (int, float)) or isinstance(node.scalar, bool):
        raise Refused(mistake(node, path, "a plain number is wanted here", "write it without a unit"))
    return _inside(spec, node, path, float(node.scalar))


def _inside(spec: Spec, node: Node, path: str, value: float) -> float:
    if not spec.limits.allow(value):
        accepted = f"{spec.limits.in_words(spec.unit)} is accepted"
        raise Refused(mistake(node, path, "out of range", accepted))
    return value


def _choice(spec: Spec, node: Node, path: str) -> str:
    said = _ASIDE.sub("", node.text.strip())  # “not tested (rain)” keeps its reason in what was typed
    word = dict(spec.synonyms).get(said, said)
    if word not in spec.choices:
        known = [*spec.choices, *dict(spec.synonyms)]
        raise Refused(mistake(node, path, "not a known word here", did_you_mean(node.text, known)))
    return word


def _text(spec: Spec, node: Node, path: str) -> str:
    words = node.text.strip()
    if not words:
        raise Refused(mistake(node, path, "no words", "leave the key out, or write null for not known"))
    if len(words) > LONGEST_TEXT:
        raise Refused(mistake(node, path, f"longer than {LONGEST_TEXT} characters"))
    if any(ord(sign) < 32 and sign not in "\n\t" for sign in words):
        raise Refused(mistake(node, path, "control characters in a text", "write plain words"))
    return words


def _flag(spec: Spec, node: Node, path: str) -> bool:
    if not isinstance(node.scalar, bool):
        raise Refused(mistake(node, path, "not an answer", "true or false, null for not known"))
    return node.scalar


def _date(spec: Spec, node: Node, path: str) -> Any:
    interval = read_interval(node.text)
    if interval is None:
        accepted = "write a year, year-month or date: 2019, 2019-03, 2019-03-04"
        raise Refused(mistake(node, path, "not a date", accepted))
    return interval


def _money(spec: Spec, node: Node, path: str) -> Money:
    match = _MONEY.fullmatch(node.text.strip())
    if not match:
        raise Refused(mistake(node, path, "not an amount of money", "write for example 400 USD/h"))
    return Money(float(match[1]), match[2], {"hour": "h", "day": "d"}.get(match[3], match[3]))


def _texts(spec: Spec, node: Node, path: str) -> tuple[str, ...]:
    words = []
    for index, item in enumerate(node.items):
        if item.kind != "scalar" or item.empty:
            raise Refused(mistake(item, f"{path}[{index}]", "a word is wanted here"))
        words.append(_text(spec, item, f"{path}[{index}]"))
    return tuple(words)


def _points(spec: Spec, node: Node, path: str) -> tuple[tuple[float, float], ...]:
    pairs = []
    for index, item in enumerate(node.items):
        here = f"{path}[{index}]"
        if item.kind != "list" or len(item.items) != 2:
            raise Refused(
                mistake(item, here, "a pair is wanted here", "write [distance from the left jamb, height]")
            )
        x, z = (_quantity(spec, each, here) for each in item.items)
        pairs.append((x, z))
    return tuple(pairs)


_SCALARS: dict[str, Callable[[Spec, Node, str], Any]] = {
    "quantity": _quantity,
    "count": _count,
    "choice": _choice,
    "text": _text,
    "flag": _flag,
    "date": _date,
    "money": _money,
}
