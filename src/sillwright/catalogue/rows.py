"""The entries of a catalogue file, each with its place, and what is wrong with one."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from sillwright.base.model import Model, fields_of
from sillwright.base.node import Mistakes, Node, mistake
from sillwright.catalogue.model import Catalogue

OF_INPUTS = ("operator", "name")
"""Two names together are that of an input; of work and rates it is *what*, of everything else *name*."""


@dataclass(frozen=True)
class Wrong:
    """A mistake in an entry: at which of its fields, what, and what would be right."""

    field: str
    message: str
    accepted: str = ""
    got: bool = True


@dataclass(frozen=True)
class Row:
    """An entry of a list: where it stands, and what it is where it can be read."""

    path: str
    node: Node
    item: Any = None

    @property
    def names(self) -> tuple[str, ...]:
        """What it is called, also where something else in it is wrong; empty texts where it does not say."""
        return tuple(_text(self.node, each) for each in identity(self.path.partition("[")[0]))

    def note(self, wrong: Wrong, mistakes: Mistakes) -> None:
        """Put a mistake at its place in the file."""
        node = at(self.node, wrong.field)
        path = f"{self.path}.{wrong.field}" if wrong.field and self.path else self.path or wrong.field
        shown = wrong.got and node is not None
        mistakes.append(mistake(node or self.node, path, wrong.message, wrong.accepted, got=shown))


@dataclass
class Rows:
    """All entries by list, and the names in each."""

    lists: dict[str, list[Row]]
    names: dict[str, dict[str, Any]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for name, rows in self.lists.items():
            self.names[name] = {row.names[-1]: row.item for row in rows if row.names[-1]}


def identity(listed: str) -> tuple[str, ...]:
    """The fields by which the entries of a list are told apart."""
    return {"inputs": OF_INPUTS, "work": ("what",), "rates": ("what",)}.get(listed, ("name",))


@cache
def lists() -> dict[str, type[Model]]:
    """The lists of a catalogue and what their entries are, in order.

    >>> list(lists())[:3]
    ['profiles', 'channels', 'cords']
    """
    found = {spec.name: spec.item.model for spec in fields_of(Catalogue) if spec.item}
    return {name: model for name, model in found.items() if model}


def at(node: Node, path: str) -> Node | None:
    """The node at a path like ``via[0].converter``; None where nothing stands there."""
    here: Node | None = node
    for name, index in re.findall(r"(\w+)|\[(\d+)\]", path):
        if here is None:
            return None
        if index:
            items = here.items[int(index) :][:1]
            here = items[0] if items else None
        else:
            here = here.get(name)
    return here


def _text(node: Node, name: str) -> str:
    found = node.get(name)
    return found.text if found is not None and found.kind == "scalar" else ""
