"""What is wrong in what was typed, at the field where it is wrong, in the reader's words and units."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from sillwright.base import quantity
from sillwright.base.errors import DocumentError, InputError, Mistake
from sillwright.base.model import FieldSpec
from sillwright.base.words import Phrase, Reader, retold
from sillwright.web.workbench.amounts import range_in_words, unit_missing
from sillwright.web.workbench.names import choice_word, label_of
from sillwright.web.workbench.nested import EXAMPLE, reads

Mistakes = Mapping[str, Sequence[str]]
"""By the path of a field, a row or a group; what belongs to none of them stands at ``""``."""

OUT = "out of range"
_PLACED = re.compile(r"(?:[A-Z]\w*[. ]?)?([a-z_]\w*(?:\.[a-z_]\w*)*)?: (.+)", re.DOTALL)
_STEP = re.compile(r"(?:\.?\w+|\[\d+\])$")
_NAME = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b|\b(?:iso13855|impact)(?:-[a-z]+)+\b")


@dataclass(frozen=True)
class Places:
    """Where mistakes can stand: fields, rows and groups of the page by path, and what is typed there."""

    specs: Mapping[str, FieldSpec]
    cells: Mapping[str, str]
    reader: Reader

    def placed(self, error: InputError) -> Mistakes:
        """The mistakes of an error by where they stand."""
        found: dict[str, list[str]] = defaultdict(list)
        many = error.mistakes if isinstance(error, DocumentError) else (Mistake(path="", message=error.said),)
        for each in many:
            for path, words in self._one(each):
                whole = path in self.cells and self.specs[path].kind == "list"  # of its parts, the first is said
                if words not in found[path] and not (whole and found[path]):
                    found[path].append(words)
        return found

    def _one(self, each: Mistake) -> Iterator[tuple[str, str]]:
        path, message = self._place(each)
        # A row of a curve is named as a whole: its cells tell which of them cannot be read.
        pair = [f"{path}.{name}" for name in "xy" if f"{path}.{name}" in self.specs]
        wrong = [name for name in pair if not reads(self.cells.get(name, ""), self.specs[name].unit)]
        for place in wrong or [path]:
            yield place, self._worded(each, message, place)

    def _place(self, each: Mistake) -> tuple[str, str]:
        """The path of the field that a message is about, and the message without it."""
        message = retold(each.message, self.reader)
        found = _PLACED.fullmatch(message)
        if found:
            inner = ".".join(part for part in (each.path, found[1]) if part)
            if found[1] and inner in self.specs:
                return inner, found[2]
            message = found[2] if each.path in self.specs or not found[1] else message
        path = each.path
        while path and path not in self.specs:  # what stands inside a single text is said at that text
            path = _STEP.sub("", path)
        return path, message

    def _worded(self, each: Mistake, message: str, place: str) -> str:
        template = each.message.template if isinstance(each.message, Phrase) else each.message
        spec, typed = self.specs.get(place), self.cells.get(place, "").strip()
        accepted = retold(each.accepted, self.reader)
        if spec is not None and spec.kind == "list" and place in self.cells:
            return _sentences(message, _("Write for example {curves}").format(curves=EXAMPLE))
        if spec is not None and spec.kind in {"number", "integer"} and place in self.cells:
            if not typed and not spec.optional:
                return _sentences(
                    _("nothing is given"), accepted or retold(quantity.accepted(spec.unit), self.reader)
                )
            if spec.unit != "1" and reads(typed, "1"):
                return unit_missing(typed, spec.unit)
            if template == OUT:
                allowed = range_in_words(spec.limits, spec.unit, self.reader)
                return _("Out of range. What is accepted: {range}.").format(range=allowed)
        return _sentences(_NAME.sub(self._called, message), accepted)

    def _called(self, match: re.Match[str]) -> str:
        """A name of the program inside a message as the page calls it."""
        name = match[0]
        titles = (spec.limits.title for path, spec in self.specs.items() if path.rpartition(".")[2] == name)
        called = label_of(next(titles, ""), self.reader) or choice_word(name)
        return name if called == name else f"“{called}”"


def _sentences(*parts: str) -> str:
    """Parts of a message as sentences.

    >>> _sentences("nothing is given", "write for example 8 in/s")
    'Nothing is given. Write for example 8 in/s.'
    """
    return " ".join(f"{part[0].upper()}{part[1:].rstrip('.')}." for part in parts if part)
