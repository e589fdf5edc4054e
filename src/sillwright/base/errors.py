"""Everything that is raised on purpose.

SillwrightError                                        exit 1
├── InputError       what came in cannot be used       exit 2
│   ├── QuantityError    a text that is no quantity of the kind asked for
│   ├── DocumentError    a file with mistakes: path, line, column, got, accepted
│   ├── OutOfRange       a value outside what a model covers
│   └── UnknownName      no such calculation, example or column
├── OutputError      the papers cannot be written      exit 4
└── MissingPart      a system part is not installed    exit 5
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Mistake:
    """One mistake in a file: where it stands, what was read, what would be right."""

    path: str
    message: str
    accepted: str = ""
    got: str = ""
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        where = "" if self.line is None else f"line {self.line}, column {self.column}: "
        name = f"{self.path}: " if self.path else ""
        got = f", read {self.got}" if self.got else ""
        remedy = f"\n    {self.accepted}" if self.accepted else ""
        return f"{where}{name}{self.message}{got}{remedy}"


class SillwrightError(Exception):
    """Root of everything raised on purpose."""

    exit_code = 1


class InputError(SillwrightError):
    """What came in cannot be used."""

    exit_code = 2


class QuantityError(InputError):
    """A text that is no quantity of the kind asked for."""

    def __init__(self, message: str, accepted: str) -> None:
        super().__init__(f"{message}; {accepted}")
        self.message = message
        self.accepted = accepted


class DocumentError(InputError):
    """A file with mistakes. Carries all of them, not the first only."""

    def __init__(self, name: str, mistakes: tuple[Mistake, ...]) -> None:
        self.name = name
        self.mistakes = mistakes
        count = "1 mistake" if len(mistakes) == 1 else f"{len(mistakes)} mistakes"
        super().__init__("\n".join([f"{name}: {count}, nothing was written", *map(str, mistakes)]))


class OutOfRange(InputError):
    """A value that a model does not cover."""


class UnknownName(InputError):
    """No such calculation, example or column."""


class OutputError(SillwrightError):
    """The papers cannot be written where they were asked for."""

    exit_code = 4


class MissingPart(SillwrightError):
    """A system part is not installed."""

    exit_code = 5
