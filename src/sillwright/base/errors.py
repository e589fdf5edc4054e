"""Everything that is raised on purpose.

SillwrightError                                        exit 1
├── InputError       what came in cannot be used       exit 2
│   ├── QuantityError    a text that is no quantity of the kind asked for
│   ├── DocumentError    a file with mistakes: path, line, column, got, accepted
│   ├── OutOfRange       a value outside what a model covers
│   └── UnknownName      no such calculation, example or column
├── OutputError      the papers cannot be written      exit 4
└── MissingPart      a system part is not installed    exit 5

Messages are phrases of the catalogue: ``str`` gives them in English, ``in_words`` in the reader's language.
"""

from __future__ import annotations

from dataclasses import dataclass

from sillwright.base.words import ENGLISH, N_, Reader, retold, say


@dataclass(frozen=True, kw_only=True)
class Mistake:
    """One mistake in a file: where it stands, what was read, what would be right."""

    path: str
    message: str
    accepted: str = ""
    got: str = ""
    line: int | None = None
    column: int | None = None

    @property
    def said(self) -> str:
        """All of it as one phrase."""
        text = self.message
        if self.got:
            text = say(N_("{message}, read {got}"), message=text, got=self.got)
        if self.path:
            text = say(N_("{path}: {message}"), path=self.path, message=text)
        if self.line is not None:
            place = {"line": self.line, "column": self.column}
            text = say(N_("line {line}, column {column}: {message}"), message=text, **place)
        return say(N_("{message}\n    {accepted}"), message=text, accepted=self.accepted) if self.accepted else text

    def __str__(self) -> str:
        return self.in_words(ENGLISH)

    def in_words(self, reader: Reader) -> str:
        """All of it in the reader's language."""
        return retold(self.said, reader)


class SillwrightError(Exception):
    """Root of everything raised on purpose. It is raised with one phrase that says what is wrong."""

    exit_code = 1

    @property
    def said(self) -> str:
        """What is wrong, as a phrase."""
        return self.args[0] if self.args else ""

    def __str__(self) -> str:
        return self.in_words(ENGLISH)

    def in_words(self, reader: Reader) -> str:
        """What is wrong, in the reader's language."""
        return retold(self.said, reader)


class InputError(SillwrightError):
    """What came in cannot be used."""

    exit_code = 2


class QuantityError(InputError):
    """A text that is no quantity of the kind asked for."""

    def __init__(self, message: str, accepted: str) -> None:
        super().__init__(message, accepted)
        self.message = message
        self.accepted = accepted

    @property
    def said(self) -> str:
        """What is wrong and what would be right, as a phrase."""
        return say(N_("{message}; {accepted}"), message=self.message, accepted=self.accepted)


class DocumentError(InputError):
    """A file with mistakes. Carries all of them, not the first only."""

    def __init__(self, name: str, mistakes: tuple[Mistake, ...]) -> None:
        super().__init__(name, mistakes)
        self.name = name
        self.mistakes = mistakes

    @property
    def said(self) -> str:
        """How many mistakes there are, as a phrase."""
        if len(self.mistakes) == 1:
            return say(N_("{name}: 1 mistake, nothing was written"), name=self.name)
        return say(N_("{name}: {count} mistakes, nothing was written"), name=self.name, count=len(self.mistakes))

    def in_words(self, reader: Reader) -> str:
        """How many mistakes there are, and every one of them, in the reader's language."""
        return "\n".join([retold(self.said, reader), *(each.in_words(reader) for each in self.mistakes)])


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
