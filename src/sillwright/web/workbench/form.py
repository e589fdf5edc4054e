"""A calculation's inputs as a page draws them: single fields, groups, and lists as small tables."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from django.utils.translation import gettext as _

from sillwright.base.case_reading import read_case
from sillwright.base.errors import InputError
from sillwright.base.model import Case, FieldSpec, Model
from sillwright.base.words import Reader
from sillwright.web.workbench.amounts import hint_in_words, read_back, shown
from sillwright.web.workbench.choices import CHOICES
from sillwright.web.workbench.controls import MOST_BUTTONS, Control, Group, Option, Part, Row, Section, Table
from sillwright.web.workbench.mistakes import Mistakes, Places
from sillwright.web.workbench.names import LABELS, choice_word, empty_means, label_of, short_label
from sillwright.web.workbench.sections import sectioned
from sillwright.web.workbench.typed import (
    GIVEN,
    LISTS,
    NONE,
    Typed,
    columns,
    default_word,
    first,
    inputs_of,
    is_given,
    join,
    node_of,
    places,
    row_columns,
    rows_of,
)

WIDE = {"pieces.label"}
"""Cells that hold more words than half of a row."""


@dataclass
class Form:
    """The inputs of one calculation, as typed. ``case`` is None where they have mistakes."""

    name: str
    model: type[Case]
    typed: Typed
    reader: Reader
    case: Case | None = None
    more: str = ""  # the list that gets an empty row
    mistakes: Mistakes = field(default_factory=dict)

    def read(self) -> None:
        """Read the case; what is wrong becomes mistakes at their fields."""
        try:
            self.case = read_case(self.model, node_of(self.model, self.typed), self.name)
        except InputError as error:
            self.refuse(error)

    def refuse(self, error: InputError) -> None:
        """Place the mistakes of an error; there is no case then."""
        self.case = None
        parts = list(self.parts())
        specs, cells = dict(places(self.model, self.typed)), dict(_cells(parts))
        self.mistakes = Places(specs, cells, self.reader).placed(error)

    def parts(self) -> tuple[Part, ...]:
        """The fields of the page from top to bottom."""
        return tuple(sectioned(self.name, list(self._parts(self.model, "")), self.typed))

    def _parts(self, model: type[Model], path: str) -> Iterator[Part]:
        for spec in inputs_of(model):
            here = join(path, spec.name)
            if spec.kind == "model" and spec.model:
                yield self._group(spec, spec.model, here)
            elif spec.kind in LISTS:
                yield self._table(spec, here)
            else:
                yield self._control(spec, here, here, first(self.typed, here))

    def _group(self, spec: FieldSpec, model: type[Model], path: str) -> Group:
        given = is_given(spec, path, self.typed)
        label = self._label(spec, path)
        switch = None
        if spec.optional:
            words = ((GIVEN, _("there")), (NONE, _("none")))
            options = tuple(Option(word, said, (word == GIVEN) == given) for word, said in words)
            switch = Control(path=path, name=path, label=label, options=options)
        parts = tuple(self._parts(model, path))
        return Group(path=path, label=label, parts=parts, switch=switch, given=given, mistakes=self._wrong(path))

    def _control(self, spec: FieldSpec, path: str, name: str, value: str, *, cell: bool = False) -> Control:
        words = _words_of(spec)
        back = read_back(value, spec.unit, self.reader) if spec.kind == "number" and not cell else ""
        return Control(
            path=path,
            name=name,
            label=self._label(spec, name),
            hint="" if words else self._hint(spec),
            value=value,
            back=back,
            mistakes=self._wrong(path),
            options=self._options(spec, name, words, value, cell) if words else (),
            step="double" if name == "points" else "",
            wide=spec.kind == "list" or name in WIDE,
        )

    def _options(
        self, spec: FieldSpec, name: str, words: tuple[str, ...], value: str, cell: bool
    ) -> tuple[Option, ...]:
        chosen = value.strip() or default_word(spec)
        found = [Option(word, self._word(name, word), word == chosen) for word in words]
        if spec.optional or (cell and spec.required) or not any(each.chosen for each in found):
            empty = choice_word("", f"{self.name}.{name}") or (_("not given") if spec.optional else _("choose"))
            found.insert(0, Option("", empty, not any(each.chosen for each in found)))
        return tuple(found)

    def _word(self, name: str, word: str) -> str:
        known = choice_word(word, f"{self.name}.{name}", name)
        return self._titles().get(word, known) if known == word and word not in CHOICES else known

    def _titles(self) -> dict[str, str]:
        """What the inputs that a choice can name are called."""
        base = next((spec.model for spec in inputs_of(self.model) if spec.name == "base" and spec.model), None)
        return titles_of(base, self.reader) if base else {}

    def _table(self, spec: FieldSpec, path: str) -> Table:
        found = columns(spec, path)
        rows = [self._row(spec, path, at, row) for at, row in enumerate(rows_of(spec, path, self.typed))]
        blank = tuple("" for _name, _spec in found)
        if self.more == path:
            rows.append(self._row(spec, path, len(rows), blank))
        return Table(
            path=path,
            label=self._label(spec, path),
            rows=tuple(rows),
            blank=self._row(spec, path, -1, blank),
            mistakes=self._wrong(path),
        )

    def _row(self, spec: FieldSpec, path: str, at: int, row: tuple[str, ...]) -> Row:
        here = f"{path}[{at if at >= 0 else '_'}]"
        cells = []
        for (name, each), text in zip(row_columns(spec, path, row), row, strict=True):
            place = here if name == path else f"{here}{name.removeprefix(path)}"
            cells.append(self._control(each, place, name, text, cell=True))
        wrong = () if any(cell.path == here for cell in cells) else self._wrong(here)
        return Row(path=here, cells=tuple(cells), mistakes=wrong)

    def _wrong(self, path: str) -> tuple[str, ...]:
        return tuple(self.mistakes.get(path, ()))

    def _label(self, spec: FieldSpec, path: str) -> str:
        own = LABELS.get(f"{self.name}.{path}") or LABELS.get(".".join(path.split(".")[-2:]))
        return str(own) if own else label_of(spec.limits.title, self.reader) or spec.name or _("value")

    def _hint(self, spec: FieldSpec) -> str:
        if spec.kind not in {"number", "integer"}:
            return ""
        said = [hint_in_words(spec.limits, spec.unit, self.reader)]
        if spec.optional:
            meaning = empty_means(spec.limits.title, self.reader) or _("not given")
            said.append(_("empty: {meaning}").format(meaning=meaning))
        elif not spec.required:
            said.append(_("empty: {meaning}").format(meaning=self._default_words(spec)))
        return " · ".join(part for part in said if part)

    def _default_words(self, spec: FieldSpec) -> str:
        return shown(float(spec.default), spec.unit, self.reader) if spec.kind == "number" else str(spec.default)


def titles_of(model: type[Model] | None, reader: Reader, path: str = "", head: str = "") -> dict[str, str]:
    """What the numbers of a case are called, by path; those of a group with the group's name before them."""
    found: dict[str, str] = {}
    for spec in inputs_of(model) if model else ():
        here, title = join(path, spec.name), short_label(spec.limits.title, reader) or spec.name
        if spec.model is not None:
            found |= titles_of(spec.model, reader, here, title)
        else:
            found[here] = f"{head}: {title}" if head else title
    return found


def _words_of(spec: FieldSpec) -> tuple[str, ...]:
    """The words of a choice; a whole number of few values is one, too."""
    if spec.kind == "flag":
        return ("true", "false")
    if spec.kind == "integer" and spec.limits.at_least is not None and spec.limits.at_most is not None:
        low, high = int(spec.limits.at_least), int(spec.limits.at_most)
        return tuple(str(each) for each in range(low, high + 1)) if high - low <= MOST_BUTTONS else ()
    return spec.choices


def _cells(parts: Any) -> Iterator[tuple[str, str]]:
    """What was typed, by place."""
    for part in parts:
        if isinstance(part, Control):
            yield part.path, part.value
        elif isinstance(part, (Group, Section)):
            yield from _cells(part.parts)
        else:
            for row in part.rows:
                yield from _cells(row.cells)
