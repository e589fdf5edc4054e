"""Every field of a catalogue refuses every value of the wrong shape, and hurt files are refused in words."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Iterator
from typing import Any

import pytest

from sillwright.base.errors import DocumentError
from sillwright.base.model import FieldSpec, Model, fields_of
from sillwright.catalogue import Catalogue, demo
from sillwright.catalogue.reading import catalogue_of
from sillwright.catalogue.rows import lists
from sillwright.catalogue.template import template
from sillwright.catalogue.writing import catalogue_as_yaml, plain

WRONG: dict[str, list[Any]] = {
    "number": ["ten", "12 cd", "", True, "nan", "-1e12", 1e12, [1], {"a": 1}, -1e9, "=1+1"],
    "integer": ["ten", 1.5, True, "5 days", [1], {"a": 1}, -1, 10**9],
    "flag": ["yes", "true", 1, 0, [True], {"a": 1}],
    "choice": ["whatever", "", 7, True, [1], {"a": 1}],
    "text": [[1], {"a": 1}, [[]]],
    "list": ["plain", 1, True, {"a": 1}, [[1]], [{"a": 1}], [None], None],
    "model": ["40", 40, True, [1], {"colour": 1}],
    "pairs": ["a", 1, {"a": 1}, [1, 2], [[1]], [[1, 2, 3]], [["a", "b"]], [[0, 0]], [[0, 0], [0, 0]], None],
}


def declared(model: type[Model], path: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], FieldSpec]]:
    """Every field of a model by path; of lists of models their first member."""
    for spec in fields_of(model):
        here = (*path, spec.name)
        yield here, spec
        inner = spec.model or (spec.item.model if spec.item else None)
        if inner is not None:
            yield from declared(inner, (*here, 0) if spec.item else here)


FIELDS = [(path, spec) for path, spec in declared(Catalogue, ()) if spec.name != "format"]


def whole() -> dict[str, Any]:
    """A short catalogue whose first entries have every group of fields, so that each field can stand in one."""
    found: dict[str, Any] = json.loads(json.dumps(plain(demo())))
    for listed, model in lists().items():
        if listed not in {"channels", "converters"}:  # which the others name
            del found[listed][1:]
        fill(found[listed][0], model)
    return found


def fill(entry: dict[str, Any], model: type[Model]) -> None:
    for spec in fields_of(model):
        inner = spec.model or (spec.item.model if spec.item else None)
        if inner is None:
            continue
        inside = entry.setdefault(spec.name, [{}] if spec.item else {})
        fill(inside[0] if spec.item else inside, inner)


def read(tree: dict[str, Any]) -> Catalogue:
    return catalogue_of(json.dumps(tree).encode(), "parts.json")


@pytest.mark.parametrize(("path", "spec"), FIELDS, ids=[".".join(map(str, path)) for path, _ in FIELDS])
def test_a_field_refuses_every_value_of_the_wrong_shape_and_names_its_place(path, spec):
    tree = whole()
    *groups, name = path
    here: Any = tree
    for group in groups:
        here = here[group]
    shown = ".".join(str(part) for part in path).replace(".0", "[0]")
    for value in WRONG[spec.kind]:
        here[name] = copy.deepcopy(value)
        with pytest.raises(DocumentError) as caught:
            read(tree)
        place = shown if spec.kind != "pairs" else shown.removesuffix(".curve")  # a curve is judged as a whole
        assert place in {each.path[: len(place)] for each in caught.value.mistakes}, value
        assert all(each.line == 1 for each in caught.value.mistakes)


def test_every_kind_of_field_is_tried():
    assert {spec.kind for _, spec in FIELDS} == set(WRONG)


@pytest.mark.parametrize("seed", range(40))
def test_a_file_with_a_few_bytes_hurt_is_read_or_refused_in_words(seed):
    chance = random.Random(seed)  # noqa: S311
    content = bytearray(catalogue_as_yaml(demo()).encode())
    for _ in range(chance.randint(1, 12)):
        at = chance.randrange(len(content))
        content[at : at + chance.randint(0, 3)] = bytes(
            chance.choices(b"{}[]:,-&*!|>'\"%@`#? \n\t\x00\xff09aZ", k=2)
        )
    try:
        found = catalogue_of(bytes(content), "hurt.yaml")
    except DocumentError:
        return
    assert catalogue_of(catalogue_as_yaml(found).encode(), "again.yaml") == found


@pytest.mark.parametrize("seed", range(20))
def test_a_workbook_with_a_few_bytes_hurt_is_refused_in_words(seed):
    chance = random.Random(seed)  # noqa: S311
    content = bytearray(template("us"))
    for _ in range(chance.randint(1, 20)):
        content[chance.randrange(len(content))] = chance.randrange(256)
    with pytest.raises(DocumentError) as caught:
        catalogue_of(bytes(content), "hurt.xlsx")
    assert caught.value.mistakes
