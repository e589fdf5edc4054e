"""The small language in which rules are written as data.

::

    operator.made >= 2010-08-29 and any p in protection: monitored(p)

Paths name facts; literals are numbers with a unit, dates, quoted words, ``true`` and ``false``, and lists of
them. ``any x in list: …`` and ``all x in list: …`` reach as far right as they can. Whatever else is written as
a call is either a definition of the rule file or a function that the chapter supplies.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Literal, NamedTuple

from sillwright.base import quantity
from sillwright.base.errors import InputError, QuantityError

Value = str | float | bool | date


@dataclass(frozen=True)
class Const:
    """A literal, or a list of literals."""

    value: Value | tuple[Value, ...]


@dataclass(frozen=True)
class Path:
    """A fact: ``operator.made``, or ``p.kind`` where ``p`` is bound by a quantifier or a definition."""

    parts: tuple[str, ...]

    def __str__(self) -> str:
        return ".".join(self.parts)


@dataclass(frozen=True)
class Compare:
    """A comparison of a path with a literal or another path."""

    op: Literal["==", "!=", "<", "<=", ">", ">=", "in"]
    left: Path
    right: Const | Path


@dataclass(frozen=True)
class And:
    """All of these."""

    items: tuple[Expr, ...]


@dataclass(frozen=True)
class Or:
    """Any of these."""

    items: tuple[Expr, ...]


@dataclass(frozen=True)
class Not:
    """Not this."""

    item: Expr


@dataclass(frozen=True)
class Quantified:
    """``any`` or ``all`` members of a list."""

    kind: Literal["any", "all"]
    name: str
    over: Path
    body: Expr


@dataclass(frozen=True)
class Call:
    """A definition or a function, with paths or words as arguments."""

    name: str
    args: tuple[Path | Const, ...]


Expr = Const | Path | Compare | And | Or | Not | Quantified | Call


class _Token(NamedTuple):
    kind: str
    text: str


_TOKENS = re.compile(
    r"""\s*(?:(?P<date>\d{4}-\d\d-\d\d)
      |(?P<number>-?\d+(?:\.\d+)?(?:\ (?!and\b|or\b)[A-Za-zµΩ]+(?:/[A-Za-z]+(?:\^\d)?)?)?)
      |'(?P<word>[^']*)'
      |(?P<op>==|!=|<=|>=|<|>)
      |(?P<mark>[()\[\],:])
      |(?P<name>[A-Za-z_][A-Za-z_0-9]*(?:\.[A-Za-z_][A-Za-z_0-9]*)*))""",
    re.VERBOSE,
)
_KEYWORDS = {"and", "or", "not", "any", "all", "in", "true", "false"}


def parse(text: str) -> Expr:
    """The tree of an expression. Raises :class:`InputError` where the text is not one.

    >>> parse("door.clear_width <= 2 m").op
    '<='
    """
    return _Parser(text).whole()


class _Parser:
    def __init__(self, text: str) -> None:
        self.text = text
        self.tokens = list(self._split())
        self.at = 0

    def _split(self) -> Iterator[_Token]:
        position, end = 0, len(self.text.rstrip())
        while position < end:
            match = _TOKENS.match(self.text, position)
            if not match or match.end() == position:
                raise InputError(f"rule “{self.text}”: cannot read from “{self.text[position : position + 20]}”")
            kind = str(match.lastgroup)
            found = match[kind]
            yield _Token(found if kind == "name" and found in _KEYWORDS else kind, found)
            position = match.end()
        yield _Token("end", "")

    def whole(self) -> Expr:
        expression = self._or()
        if self._peek().kind != "end":
            raise self._wrong("the end")
        return expression

    def _peek(self) -> _Token:
        return self.tokens[self.at]

    def _next(self) -> _Token:
        self.at += 1
        return self.tokens[self.at - 1]

    def _take(self, kind: str, text: str | None = None) -> _Token:
        token = self._peek()
        if token.kind != kind or (text is not None and token.text != text):
            raise self._wrong(text or kind)
        return self._next()

    def _is(self, text: str) -> bool:
        return self._peek() == _Token("mark", text)

    def _wrong(self, wanted: str) -> InputError:
        return InputError(f"rule “{self.text}”: {wanted} wanted, read “{self._peek().text}”")

    def _or(self) -> Expr:
        items = [self._and()]
        while self._peek().kind == "or":
            self._next()
            items.append(self._and())
        return items[0] if len(items) == 1 else Or(tuple(items))

    def _and(self) -> Expr:
        items = [self._not()]
        while self._peek().kind == "and":
            self._next()
            items.append(self._not())
        return items[0] if len(items) == 1 else And(tuple(items))

    def _not(self) -> Expr:
        kind = self._peek().kind
        if kind == "not":
            self._next()
            return Not(self._not())
        if kind in {"any", "all"}:
            self._next()
            name = self._take("name").text
            self._take("in")
            over = Path(tuple(self._take("name").text.split(".")))
            self._take("mark", ":")
            return Quantified("any" if kind == "any" else "all", name, over, self._or())
        return self._atom()

    def _atom(self) -> Expr:
        if self._is("("):
            self._next()
            inner = self._or()
            self._take("mark", ")")
            return inner
        if self._peek().kind in {"true", "false"}:
            return Const(self._next().kind == "true")
        name = self._take("name").text
        if self._is("("):
            return Call(name, self._arguments())
        left = Path(tuple(name.split(".")))
        if self._peek().kind == "op":
            return Compare(self._next().text, left, self._operand())  # type: ignore[arg-type]
        if self._peek().kind == "in":
            self._next()
            return Compare("in", left, self._operand())
        return left

    def _arguments(self) -> tuple[Path | Const, ...]:
        self._take("mark", "(")
        found = []
        while not self._is(")"):
            found.append(self._operand())
            if self._is(","):
                self._next()
        self._next()
        return tuple(found)

    def _operand(self) -> Path | Const:
        if self._is("["):
            self._next()
            values: list[Value] = []
            while not self._is("]"):
                values.append(self._literal())
                if self._is(","):
                    self._next()
            self._next()
            return Const(tuple(values))
        if self._peek().kind == "name":
            return Path(tuple(self._next().text.split(".")))
        return Const(self._literal())

    def _literal(self) -> Value:
        token = self._next()
        if token.kind in {"true", "false"}:
            return token.kind == "true"
        if token.kind == "date":
            try:
                return date.fromisoformat(token.text)
            except ValueError:
                raise InputError(f"rule “{self.text}”: “{token.text}” is not a date") from None
        if token.kind == "word":
            return token.text
        if token.kind == "number":
            return self._number(token.text)
        self.at -= 1
        raise self._wrong("a value")

    def _number(self, text: str) -> float:
        _, _, unit = text.partition(" ")
        if not unit:
            return float(text)
        for si in ("m", "s", "m/s", "kg", "N", "K", "ohm", "J"):
            try:
                return quantity.parse(text, si)
            except QuantityError:
                continue
        raise InputError(f"rule “{self.text}”: unknown unit in “{text}”")
