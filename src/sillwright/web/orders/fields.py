"""Fields of a form that is made from a list: what is asked, how it is entered, what was typed, what is wrong."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from sillwright.base.errors import DocumentError
from sillwright.base.words import Reader, retold

Entry = Literal["line", "text", "day", "number", "choice"]
Options = Sequence[tuple[str, Any]]


@dataclass(frozen=True, kw_only=True)
class Ask:
    """A question of a form: the name of its field, its label, why or how, and how it is entered."""

    name: str
    label: Any
    why: Any = ""
    entry: Entry = "line"
    options: Options = ()


@dataclass(frozen=True, kw_only=True)
class Field:
    """A question as a page shows it."""

    ask: Ask
    typed: Any
    wrong: str
    origin: str = ""  # where a fact of a claim comes from

    @property
    def id(self) -> str:
        """Its name as an element of the page."""
        return self.ask.name.replace(".", "-").replace("[", "-").replace("]", "")


def shown(asks: Iterable[Ask], typed: Mapping[str, Any], wrong: Mapping[str, str]) -> list[Field]:
    """The questions with what was typed and what is wrong with it."""
    return [Field(ask=each, typed=typed.get(each.name, ""), wrong=wrong.get(each.name, "")) for each in asks]


def mistakes_by_field(error: DocumentError, reader: Reader) -> dict[str, str]:
    """What is wrong, by the name of the field; the first of each, with what would be right."""
    found: dict[str, str] = {}
    for each in error.mistakes:
        said = retold(each.message, reader)
        if each.accepted:
            said = f"{said} ({retold(each.accepted, reader)})"
        found.setdefault(each.path, said)
    return found


def differing(asks: Iterable[Ask], now: Mapping[str, Any], typed: Mapping[str, Any]) -> list[tuple[Any, str, str]]:
    """Where what is kept by now and what was typed say different things: label, kept, typed."""
    found = []
    for each in asks:
        kept, mine = (str(told.get(each.name, "")).replace("\r\n", "\n").strip() for told in (now, typed))
        if kept != mine:
            found.append((each.label, kept, mine))
    return found
