"""A catalogue from the tree of a file or a spreadsheet: every mistake at once, each with its place."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any, TypeVar

from sillwright.base.case_reading import number, read_case
from sillwright.base.errors import DocumentError
from sillwright.base.model import FieldSpec, Limits, Model
from sillwright.base.node import Mistakes, Node, mistake
from sillwright.base.scale import FOOT
from sillwright.base.words import N_, say
from sillwright.catalogue.checking import mistakes_among, mistakes_at_the_top
from sillwright.catalogue.model import FORMAT, Catalogue
from sillwright.catalogue.rows import Row, Rows, lists

M = TypeVar("M", bound=Model)

LONGEST_TEXT = 2000
PER_FOOT = "per_foot"
_BY_THE_FOOT = {"price": 1e6, "work": 100.0}  # what may be said by the foot, and the most of it for a metre
_TURNS = {*"\u061c\u200e\u200f", *map(chr, range(0x202A, 0x202F)), *map(chr, range(0x2066, 0x206A))}
_FIRST_LINE = f"format: {FORMAT}"


def catalogue_from(node: Node, name: str, noted: Mistakes | None = None) -> Catalogue:
    """The catalogue that a tree describes. Raises :class:`DocumentError` with all mistakes.

    ``noted`` holds those that were found before; ``name`` is how messages call the file.
    """
    mistakes = Mistakes(name) if noted is None else noted
    _format(node, mistakes)
    root = _tidy(node, "", "", mistakes)
    head = replace(root, pairs=tuple(pair for pair in root.pairs if pair[0] not in lists()))
    catalogue = _read(Catalogue, head, "", mistakes)
    rows = Rows({listed: _rows(model, root.get(listed), listed, mistakes) for listed, model in lists().items()})
    for wrong in mistakes_at_the_top(head):
        Row("", head).note(wrong, mistakes)
    for row, wrong in mistakes_among(rows):
        row.note(wrong, mistakes)
    mistakes.refuse()
    if catalogue is None:
        raise DocumentError(name, mistakes.in_order())
    entries: dict[str, Any] = {name: tuple(row.item for row in found) for name, found in rows.lists.items()}
    return replace(catalogue, **entries)


def _format(node: Node, mistakes: Mistakes) -> None:
    """A file of another kind is refused by its first line alone; whatever else it says is no catalogue."""
    if node.kind != "mapping":
        begin = say(N_("begin with {line}"), line=_FIRST_LINE)
        mistakes.append(mistake(node, "", say(N_("a catalogue is a mapping")), begin))
        mistakes.refuse()
    found = node.get("format")
    if found is None:
        said = say(N_("“{key}” is missing"), key="format")
        mistakes.append(mistake(node, "format", said, say(N_("begin with {line}"), line=_FIRST_LINE), got=False))
    elif found.text != FORMAT:
        said = say(N_("not the format of a catalogue"))
        accepted = say(N_("this is read here: {line}"), line=_FIRST_LINE)
        mistakes.append(mistake(found, "format", said, accepted))
    if found is None or found.text != FORMAT:
        mistakes.refuse()


def _rows(model: type[Model], node: Node | None, listed: str, mistakes: Mistakes) -> list[Row]:
    if node is None:
        return []
    if node.kind != "list":
        mistakes.append(mistake(node, listed, say(N_("a list is wanted here"))))
        return []
    paths = ((f"{listed}[{number}]", item) for number, item in enumerate(node.items))
    return [Row(path, item, _read(model, item, path, mistakes)) for path, item in paths]


def _read(model: type[M], node: Node, path: str, mistakes: Mistakes) -> M | None:
    """One entry. Its mistakes are noted; then it is what the rest of it says, None where that is too little:
    so its other fields can still be held against each other and other entries, and all mistakes come at once.
    """
    try:
        return read_case(model, node, mistakes.name)
    except DocumentError as error:
        for each in error.mistakes:
            mistakes.append(replace(each, path=".".join(filter(None, (path, each.path)))))
        wrong = {re.split(r"[.\[]", each.path)[0] for each in error.mistakes}
    rest = replace(node, pairs=tuple(pair for pair in node.pairs if pair[0] not in wrong))
    if len(rest.pairs) == len(node.pairs):
        return None
    try:
        return read_case(model, rest, mistakes.name)
    except DocumentError:
        return None


def _tidy(node: Node, path: str, inside: str, mistakes: Mistakes) -> Node:
    """The tree with its texts trimmed, and what is said by the foot by the metre."""
    if node.kind == "list":
        items = (_tidy(item, f"{path}[{number}]", inside, mistakes) for number, item in enumerate(node.items))
        return replace(node, items=tuple(items))
    if node.kind == "mapping":
        start = f"{path}." if path else ""
        pairs = tuple((key, at, _tidy(value, start + key, key, mistakes)) for key, at, value in node.pairs)
        if inside in _BY_THE_FOOT and PER_FOOT in node.keys:
            pairs = _by_metre(replace(node, pairs=pairs), path, _BY_THE_FOOT[inside], mistakes)
        return replace(node, pairs=pairs)
    _look_at_text(node, path, mistakes)
    if node.text != (text := node.text.strip()):
        return replace(node, text=text, scalar=text if isinstance(node.scalar, str) else node.scalar)
    return node


def _by_metre(node: Node, path: str, most: float, mistakes: Mistakes) -> tuple[tuple[str, Node, Node], ...]:
    spec = FieldSpec(name=PER_FOOT, kind="number", limits=Limits(at_least=0, at_most=most * float(FOOT)))
    pairs = []
    for key, at, value in node.pairs:
        if key != PER_FOOT:
            pairs.append((key, at, value))
        elif "per_metre" in node.keys:
            said, accepted = say(N_("by the foot and by the metre")), say(N_("keep one"))
            mistakes.append(mistake(at, f"{path}.{PER_FOOT}", said, accepted, got=False))
        elif (found := number(value, f"{path}.{PER_FOOT}", "1", spec, mistakes)) is not None:
            pairs.append(("per_metre", at, replace(value, scalar=found / float(FOOT))))
    return tuple(pairs)


def _look_at_text(node: Node, path: str, mistakes: Mistakes) -> None:
    text = node.text
    if len(text) > LONGEST_TEXT:
        mistakes.append(mistake(node, path, say(N_("longer than {most} characters"), most=LONGEST_TEXT)))
    elif not text.isprintable() and any(
        sign in _TURNS or (sign not in "\n\t" and (ord(sign) < 32 or 127 <= ord(sign) < 160)) for sign in text
    ):
        said, accepted = say(N_("control characters in a text")), say(N_("write plain words"))
        mistakes.append(mistake(node, path, said, accepted))
