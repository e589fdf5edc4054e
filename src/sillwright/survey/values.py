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
from sillwright.base.words import N_, say
from sillwright.survey.interval import read_interval
from sillwright.survey.spec import Spec

LONGEST_TEXT = 2000
LONGEST_LIST = 1000
ASIDE = re.compile(r"\s*\([^()]*\)$")
MONEY = re.compile(r"(\d{1,15}(?:\.\d{1,6})?)\s*([A-Z]{3})(?:\s*/\s*(h|d|day|hour))?", re.ASCII)


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
            raise Refused(mistake(node, path, say(N_("a list is wanted here")), say(N_("write [ … ]"))))
        if len(node.items) > LONGEST_LIST:
            raise Refused(mistake(node, path, say(N_("more than {most} are not read"), most=LONGEST_LIST)))
        return (_texts if spec.kind == "texts" else _points)(spec, node, path)
    if node.kind != "scalar":
        accepted = say(N_("write the value, or {{value: …, from: …}}"))
        raise Refused(mistake(node, path, say(N_("one value is wanted here")), accepted))
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
        raise Refused(mistake(node, path, say(N_("not a quantity")), quantity.accepted(spec.unit)))
    return _inside(spec, node, path, value)


def _count(spec: Spec, node: Node, path: str) -> float:
    number = isinstance(node.scalar, (int, float)) and not isinstance(node.scalar, bool)
    if spec.whole:
        return _whole(spec, node, path, float(node.scalar) if number else None)  # type: ignore[arg-type]
    if not number:
        accepted = say(N_("write it without a unit"))
        raise Refused(mistake(node, path, say(N_("a plain number is wanted here")), accepted))
    return _inside(spec, node, path, float(node.scalar))  # type: ignore[arg-type]


def _whole(spec: Spec, node: Node, path: str, value: float | None) -> float:
    """A count of things that come in whole ones."""
    if value is not None and spec.limits.allow(value) and value.is_integer():
        return value
    least, most = (f"{end:g}" for end in (spec.limits.at_least, spec.limits.at_most) if end is not None)
    accepted = say(N_("write a whole number from {least} to {most}"), least=least, most=most)
    raise Refused(mistake(node, path, say(N_("not a count")), accepted))


def _inside(spec: Spec, node: Node, path: str, value: float) -> float:
    if not spec.limits.allow(value):
        raise Refused(mistake(node, path, say(N_("out of range")), spec.limits.accepted(spec.unit)))
    return value


def _choice(spec: Spec, node: Node, path: str) -> str:
    said = ASIDE.sub("", node.text.strip())  # “not tested (rain)” keeps its reason in what was typed
    word = dict(spec.synonyms).get(said, said)
    if word not in spec.choices:
        known = [*spec.choices, *dict(spec.synonyms)]
        raise Refused(mistake(node, path, say(N_("not a known word here")), did_you_mean(node.text, known)))
    return word


def _text(spec: Spec, node: Node, path: str) -> str:
    words = node.text.strip()
    if not words:
        accepted = say(N_("leave the key out, or write null for not known"))
        raise Refused(mistake(node, path, say(N_("no words")), accepted))
    if len(words) > LONGEST_TEXT:
        raise Refused(mistake(node, path, say(N_("longer than {most} characters"), most=LONGEST_TEXT)))
    if any(ord(sign) < 32 and sign not in "\n\t" for sign in words):
        said = say(N_("control characters in a text"))
        raise Refused(mistake(node, path, said, say(N_("write plain words"))))
    return words


def _flag(spec: Spec, node: Node, path: str) -> bool:
    if not isinstance(node.scalar, bool):
        accepted = say(N_("true or false, null for not known"))
        raise Refused(mistake(node, path, say(N_("not an answer")), accepted))
    return node.scalar


def _date(spec: Spec, node: Node, path: str) -> Any:
    interval = read_interval(node.text)
    if interval is None:
        accepted = say(N_("write a year, year-month or date: 2019, 2019-03, 2019-03-04"))
        raise Refused(mistake(node, path, say(N_("not a date")), accepted))
    return interval


def _money(spec: Spec, node: Node, path: str) -> Money:
    match = MONEY.fullmatch(node.text.strip())
    if not match:
        accepted = say(N_("write for example {examples}"), examples="400 USD/h")
        raise Refused(mistake(node, path, say(N_("not an amount of money")), accepted))
    return Money(float(match[1]), match[2], {"hour": "h", "day": "d"}.get(match[3], match[3]))


def _texts(spec: Spec, node: Node, path: str) -> tuple[str, ...]:
    words = []
    for index, item in enumerate(node.items):
        if item.kind != "scalar" or item.empty:
            raise Refused(mistake(item, f"{path}[{index}]", say(N_("a word is wanted here"))))
        words.append(_text(spec, item, f"{path}[{index}]"))
    return tuple(words)


def _points(spec: Spec, node: Node, path: str) -> tuple[tuple[float, float], ...]:
    pairs = []
    for index, item in enumerate(node.items):
        here = f"{path}[{index}]"
        if item.kind != "list" or len(item.items) != 2:
            accepted = say(N_("write [distance from the left jamb, height]"))
            raise Refused(mistake(item, here, say(N_("a pair is wanted here")), accepted))
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
