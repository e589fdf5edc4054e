"""The fields of a bench as data for its templates."""

from __future__ import annotations

from dataclasses import dataclass

MOST_BUTTONS = 4


@dataclass(frozen=True)
class Option:
    """One word of a choice."""

    value: str
    label: str
    chosen: bool


@dataclass(frozen=True, kw_only=True)
class Control:
    """One field. ``path`` is its place, ``name`` what the query calls it: in a list, its column."""

    path: str
    name: str
    label: str
    hint: str = ""
    value: str = ""
    back: str = ""
    mistakes: tuple[str, ...] = ()
    options: tuple[Option, ...] = ()
    step: str = ""
    wide: bool = False  # takes the whole width of its row
    kind: str = "control"

    @property
    def buttons(self) -> bool:
        """Whether its words are few enough to stand side by side."""
        return 0 < len(self.options) <= MOST_BUTTONS


@dataclass(frozen=True, kw_only=True)
class Table:
    """A list, a row each; ``blank`` is the row that one more begins with."""

    path: str
    label: str
    rows: tuple[Row, ...]
    blank: Row
    mistakes: tuple[str, ...] = ()
    kind: str = "table"


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row of a list."""

    path: str
    cells: tuple[Control, ...]
    mistakes: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Group:
    """Fields that belong together; ``switch`` where they may be left out."""

    path: str
    label: str
    parts: tuple[Part, ...]
    switch: Control | None = None
    given: bool = True
    mistakes: tuple[str, ...] = ()
    kind: str = "group"


@dataclass(frozen=True, kw_only=True)
class Section:
    """Fields that only some cases need; open where one of them says something or is wrong."""

    key: str
    label: str
    parts: tuple[Part, ...]
    open: bool
    kind: str = "section"


Part = Control | Table | Group | Section
