"""The few functions of a spreadsheet that our workbooks use, worked out apart, as a spreadsheet works them out."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal
from io import BytesIO
from typing import Any

import openpyxl

_TOKEN = re.compile(r'"(?:[^"]|"")*"|[A-Z]+\d+:[A-Z]+\d+|[A-Z]+\d+|[A-Z]+(?=\()|\d+(?:\.\d+)?|[-+*/=(),]')


class Computed:
    """A sheet whose formulas are worked out anew from the cells they name, not from the values kept beside them.

    ``changed`` holds what somebody types into cells.
    """

    def __init__(self, content: bytes, sheet: str) -> None:
        self.cells = openpyxl.load_workbook(BytesIO(content))[sheet]
        self.changed: dict[str, Any] = {}

    def __getitem__(self, name: str) -> Any:
        if name in self.changed:
            return self.changed[name]
        cell = self.cells[name]
        if cell.data_type == "f":
            return Formula(cell.value.removeprefix("="), self).answer()
        return Decimal(repr(cell.value)) if isinstance(cell.value, (int, float)) else cell.value

    def row_of(self, cells: str) -> list[Any]:
        """The values of a range."""
        return [self[cell.coordinate] for row in self.cells[cells] for cell in row]


class Formula:
    """One formula, read from left to right."""

    def __init__(self, text: str, sheet: Computed) -> None:
        self.tokens, self.at, self.sheet = _TOKEN.findall(text), 0, sheet
        assert "".join(self.tokens) == text, f"not read as a whole: {text}"

    def answer(self) -> Any:
        value = self.compared()
        assert self.at == len(self.tokens)
        return value

    def peek(self) -> str:
        return self.tokens[self.at] if self.at < len(self.tokens) else ""

    def take(self, wanted: str = "") -> str:
        token = self.tokens[self.at]
        assert not wanted or token == wanted
        self.at += 1
        return str(token)

    def compared(self) -> Any:
        value = self.summed()
        while self.peek() == "=":
            self.take()
            value = value == self.summed()
        return value

    def summed(self) -> Any:
        value = self.multiplied()
        while self.peek() in {"+", "-"}:
            sign = self.take()
            other = self.multiplied()
            value = value + other if sign == "+" else value - other
        return value

    def multiplied(self) -> Any:
        value = self.single()
        while self.peek() in {"*", "/"}:
            sign = self.take()
            other = self.single()
            value = _number(value) * _number(other) if sign == "*" else _number(value) / _number(other)
        return value

    def single(self) -> Any:
        token = self.take()
        if token == "-":
            return -self.single()
        if token == "(":
            value = self.compared()
            self.take(")")
            return value
        if token.startswith('"'):
            return token[1:-1].replace('""', '"')
        if token[0].isdigit():
            return Decimal(token)
        if token in FUNCTIONS:
            return self.called(token)
        return self.sheet.row_of(token) if ":" in token else self.sheet[token]

    def called(self, name: str) -> Any:
        self.take("(")
        values = [self.compared()]
        while self.peek() == ",":
            self.take()
            values.append(self.compared())
        self.take(")")
        return FUNCTIONS[name](*values)


def _number(value: Any) -> Decimal:
    """An empty cell counts as nothing; a text in a product is an error, which nobody looks at here."""
    return value if isinstance(value, Decimal) else Decimal(0)


def _sum(values: list[Any]) -> Decimal:
    return sum((each for each in values if isinstance(each, Decimal)), Decimal(0))


def _sum_if(tested: list[Any], wanted: str, values: list[Any]) -> Decimal:
    taken = [each for test, each in zip(tested, values, strict=True) if str(test).casefold() == wanted.casefold()]
    return _sum(taken)


def _to(value: Decimal, digits: Decimal, rounding: str) -> Decimal:
    return value.quantize(Decimal(1).scaleb(-int(digits)), rounding=rounding)


FUNCTIONS: dict[str, Callable[..., Any]] = {
    "IF": lambda holds, one, other: one if holds else other,
    "ABS": abs,
    "MOD": lambda value, by: value % by,
    "ROUND": lambda value, digits: _to(value, digits, ROUND_HALF_UP),
    "ROUNDDOWN": lambda value, digits: _to(value, digits, ROUND_DOWN),
    "SUM": _sum,
    "SUMIF": _sum_if,
    "ISNUMBER": lambda value: isinstance(value, Decimal),
}
