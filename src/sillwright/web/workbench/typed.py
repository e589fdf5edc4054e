"""What was typed on a bench: query names are the paths of fields, a list's columns repeat their name.

``stop.reaction=80 ms``; ``edge=none`` leaves a group out; ``edge.curve.x=0&edge.curve.y=0&edge.curve.x=6 mm…`` are
the rows of a curve; ``ranges.name=moving_mass&ranges.low=280 kg…`` those of a list. Curves inside a row are one
text (:mod:`sillwright.web.workbench.nested`).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import zip_longest
from typing import Any

from sillwright.base.model import FieldSpec, Limits, Model, fields_of
from sillwright.base.node import Node, resolve
from sillwright.web.workbench.names import ASIDE
from sillwright.web.workbench.nested import curves_node, text_node

Typed = dict[str, list[str]]
Column = tuple[str, FieldSpec]

NONE, GIVEN = "none", "given"
LISTS = {"pairs", "list"}


def join(path: str, name: str) -> str:
    """A path one step further.

    >>> join("", "stop"), join("stop", "reaction")
    ('stop', 'stop.reaction')
    """
    return f"{path}.{name}" if path else name


def inputs_of(model: type[Model]) -> list[FieldSpec]:
    """The fields of a case that a page asks for."""
    return [spec for spec in fields_of(model) if spec.name not in ASIDE]


def columns(spec: FieldSpec, path: str) -> list[Column]:
    """The columns of a list: two numbers of a pair, the fields of a model, or the single number."""
    if spec.kind == "pairs":
        pair = zip("xy", spec.units, strict=True)
        return [
            (join(path, name), FieldSpec(name=name, kind="number", limits=Limits(), units=(unit,), required=True))
            for name, unit in pair
        ]
    if spec.item is not None and spec.item.model is not None:
        return [(join(path, each.name), each) for each in fields_of(spec.item.model)]
    item = spec.item or FieldSpec(name="", kind="text", limits=Limits())
    return [(path, replace(item, required=True))]


def rows_of(spec: FieldSpec, path: str, typed: Mapping[str, Sequence[str]]) -> list[tuple[str, ...]]:
    """The rows of a list as typed; empty ones are left out: a choice that has always chosen says nothing."""
    found = columns(spec, path)
    rows = zip_longest(*(typed.get(name, ()) for name, _ in found), fillvalue="")
    telling = [at for at, (_, each) in enumerate(found) if not _chosen_anyhow(each)]
    return [row for row in rows if any(row[at].strip() for at in telling)]


def _chosen_anyhow(spec: FieldSpec) -> bool:
    """Whether a field is a choice that stands on its default before anybody has chosen."""
    return spec.kind in {"choice", "flag"} and not spec.required and not spec.optional


def default_word(spec: FieldSpec) -> str:
    """What a choice stands on before anybody has chosen; nothing where it has to be made."""
    if spec.required or spec.optional:
        return ""
    return {True: "true", False: "false"}.get(spec.default, str(spec.default))


def row_columns(spec: FieldSpec, path: str, row: tuple[str, ...]) -> list[tuple[str, FieldSpec]]:
    """The columns as one row reads them: a word in it may decide the units of its other cells."""
    found = columns(spec, path)
    if spec.item is None or spec.item.model is None:
        return found
    words = {each.name: text.strip() for (_name, each), text in zip(found, row, strict=True)}
    units = spec.item.model.units_by_words(words)
    return [
        (name, replace(each, units=(units[each.name],)) if each.name in units else each) for name, each in found
    ]


def places(
    model: type[Model], typed: Mapping[str, Sequence[str]], path: str = ""
) -> Iterator[tuple[str, FieldSpec]]:
    """Every place at which a mistake can be shown."""
    for spec in inputs_of(model):
        here = join(path, spec.name)
        yield here, spec
        if spec.kind == "model" and spec.model:
            yield from places(spec.model, typed, here)
        elif spec.kind in LISTS:
            for at, row in enumerate(rows_of(spec, here, typed)):
                yield f"{here}[{at}]", spec.item or spec
                for name, each in row_columns(spec, here, row):
                    yield f"{here}[{at}]{name.removeprefix(here)}", each


def is_given(spec: FieldSpec, path: str, typed: Mapping[str, Sequence[str]]) -> bool:
    """Whether a group that may be left out is there."""
    return not spec.optional or first(typed, path, GIVEN if spec.required else NONE) != NONE


def first(typed: Mapping[str, Sequence[str]], path: str, otherwise: str = "") -> str:
    """The single text at a path."""
    return next(iter(typed.get(path, ())), otherwise)


def pairs_of(model: type[Model], typed: Mapping[str, Sequence[str]], path: str = "") -> Iterator[tuple[str, str]]:
    """The state of a bench as its address says it: in the order of the page.

    What is empty is left out, and so is a choice that stands on its default; of lists, a column nobody used.
    """
    for spec in inputs_of(model):
        here = join(path, spec.name)
        if spec.kind == "model" and spec.model:
            if spec.optional and is_given(spec, here, typed) != spec.required:
                yield here, NONE if spec.required else GIVEN
            yield from pairs_of(spec.model, typed, here)
        elif spec.kind in LISTS:
            rows = rows_of(spec, here, typed)
            used = [(at, name) for at, (name, _) in enumerate(columns(spec, here)) if any(row[at] for row in rows)]
            for row in rows:
                yield from ((name, row[at]) for at, name in used)
        elif (value := first(typed, here).strip()) and not (_chosen_anyhow(spec) and value == default_word(spec)):
            yield here, value


def names_of(model: type[Model], path: str = "") -> Iterator[str]:
    """What a query can call the inputs of a case."""
    for spec in inputs_of(model):
        here = join(path, spec.name)
        yield here
        if spec.kind == "model" and spec.model:
            yield from names_of(spec.model, here)
        elif spec.kind in LISTS:
            yield from (name for name, _spec in columns(spec, here))


def tidy(model: type[Model], query: Mapping[str, Sequence[str]]) -> Typed:
    """What a query says of a case, and nothing else of it."""
    typed: Typed = {}
    for name, value in pairs_of(model, query):
        typed.setdefault(name, []).append(value.replace("\x00", "\ufffd"))
    return typed


def node_of(model: type[Model], typed: Mapping[str, Sequence[str]], path: str = "") -> Node:
    """The case as the document that its file would be."""
    pairs = []
    for spec in inputs_of(model):
        if (node := _field(spec, join(path, spec.name), typed)) is not None:
            pairs.append((spec.name, node, node))
    return Node(kind="mapping", line=0, column=0, pairs=tuple(pairs))


def _field(spec: FieldSpec, path: str, typed: Mapping[str, Sequence[str]]) -> Node | None:
    if spec.kind == "model" and spec.model:
        if is_given(spec, path, typed):
            return node_of(spec.model, typed, path)
        return _nothing() if spec.required else None
    if spec.kind in LISTS:
        rows = rows_of(spec, path, typed)
        return _list(spec, path, rows) if rows or (not spec.optional and spec.required) else None
    return _scalar(spec, first(typed, path).strip())


def _list(spec: FieldSpec, path: str, rows: list[tuple[str, ...]]) -> Node:
    found = columns(spec, path)
    return Node(kind="list", line=0, column=0, items=tuple(_row(spec, found, row) for row in rows))


def _row(spec: FieldSpec, found: list[Column], row: tuple[str, ...]) -> Node:
    cells = [(each.name, _scalar(each, text.strip())) for (_, each), text in zip(found, row, strict=True)]
    if spec.kind == "pairs":
        return Node(kind="list", line=0, column=0, items=tuple(node or text_node("") for _, node in cells))
    if spec.item is not None and spec.item.model is not None:
        pairs = tuple((name, node, node) for name, node in cells if node is not None)
        return Node(kind="mapping", line=0, column=0, pairs=pairs)
    return cells[0][1] or text_node("")


def _scalar(spec: FieldSpec, text: str) -> Node | None:
    """A single value; None where nothing was typed and nothing has to be."""
    if not text:
        return text_node("") if spec.required and not spec.optional else (_nothing() if spec.required else None)
    if spec.kind in {"integer", "flag"}:
        return Node(kind="scalar", line=0, column=0, scalar=resolve(text), text=text)
    return curves_node(spec, text) if spec.kind == "list" else text_node(text)


def _nothing() -> Node:
    return Node(kind="scalar", line=0, column=0)


def plain(node: Node) -> Any:
    """A document as lists, mappings and values, for a file."""
    if node.kind == "mapping":
        return {key: plain(value) for key, _, value in node.pairs}
    return [plain(item) for item in node.items] if node.kind == "list" else node.scalar
