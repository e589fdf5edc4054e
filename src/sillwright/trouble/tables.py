"""Rows of the tables of this chapter, read strictly: every key is known and has its kind; every mistake is kept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from sillwright.base.errors import Mistake
from sillwright.base.words import N_, say


@dataclass(frozen=True)
class Row:
    """A row of a table, the place where it stands, and the list to which its mistakes go."""

    values: Mapping[str, Any]
    path: str
    mistakes: list[Mistake]
    taken: set[str] = field(default_factory=set)

    def wrong(self, key: str, message: str, got: object = "", accepted: str = "") -> None:
        """Keep a mistake in this row."""
        path = f"{self.path}.{key}" if key else self.path
        shown = repr(got)[:80] if got != "" else ""
        self.mistakes.append(Mistake(path=path, message=message, got=shown, accepted=accepted))

    def text(self, key: str) -> str:
        """A text that has to be there and to say something."""
        value = self._take(key)
        if not isinstance(value, str) or not value.strip():
            self.wrong(key, say(N_("a text is wanted")), value)
            return ""
        return value

    def choice(self, key: str, words: tuple[str, ...]) -> str:
        """One of a few words."""
        value = self.text(key)
        if value and value not in words:
            self.wrong(key, say(N_("not one of the words for it")), value, ", ".join(words))
        return value

    def number(self, key: str) -> float:
        """A number that has to be there. What it may be is looked at where the whole is checked."""
        value = self._take(key)
        if isinstance(value, bool) or not isinstance(value, (int, float)):
            self.wrong(key, say(N_("a number is wanted")), value)
            return 0.0
        return float(value)

    def flag(self, key: str) -> bool:
        """True or false; false where nothing is said."""
        value = self._take(key, False)
        if not isinstance(value, bool):
            self.wrong(key, say(N_("true or false is wanted")), value)
        return value is True

    def maybe(self, key: str) -> str | None:
        """A text that may be left out."""
        return self.text(key) if key in self.values else None

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; none where nothing is said."""
        value = self._take(key, [])
        if not isinstance(value, list) or not all(isinstance(each, str) and each for each in value):
            self.wrong(key, say(N_("a list of texts is wanted")), value)
            return ()
        return tuple(value)

    def numbers(self, key: str) -> tuple[float, ...]:
        """A list of numbers."""
        value = self._take(key)
        if not isinstance(value, list) or not all(type(each) in {int, float} for each in value):
            self.wrong(key, say(N_("a list of numbers is wanted")), value)
            return ()
        return tuple(map(float, value))

    def rows(self, key: str) -> list[Row]:
        """The rows of a table inside; none where nothing is said."""
        value = self._take(key, [])
        if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
            self.wrong(key, say(N_("a list of rows is wanted")), value)
            return []
        named = (str(each.get("id", number)) for number, each in enumerate(value, 1))
        return [
            Row(each, f"{self.path}.{key}.{name}", self.mistakes) for each, name in zip(value, named, strict=True)
        ]

    def inner(self, key: str) -> Row:
        """A table inside; an empty one where nothing is said."""
        value = self._take(key, {})
        if not isinstance(value, dict):
            self.wrong(key, say(N_("a table is wanted")), value)
            value = {}
        return Row(value, f"{self.path}.{key}", self.mistakes)

    def several(self) -> list[tuple[str, str]]:
        """Keys that say something of several names at once, taken apart: the key, and each of its names."""
        found: list[tuple[str, str]] = []
        for key in self.values:
            for name in key.split():
                if any(name == other for _, other in found):
                    self.wrong(name, say(N_("stands more than once")))
                found.append((key, name))
        return found

    def close(self) -> None:
        """Keep as a mistake what nobody asked for."""
        for key in self.values:
            if key not in self.taken:
                self.wrong(key, say(N_("no such key here")), accepted=", ".join(sorted(self.taken)))

    def _take(self, key: str, otherwise: Any = None) -> Any:
        self.taken.add(key)
        return self.values.get(key, otherwise)
