"""A number in a calculation's model carries its unit, and a name means one thing in one unit."""

from __future__ import annotations

import re

import pytest

from .tree import CORE, ROOT, leaves, models, units


def field_units() -> dict[str, set[str]]:
    """The units in which each field name is used, by name."""
    found: dict[str, set[str]] = {}
    for model in models(*CORE):
        for name, leaf in leaves(model):
            if units(leaf):
                found.setdefault(name, set()).add(", ".join(units(leaf)))
    return found


def glossary() -> list[tuple[str, str]]:
    """Name and unit of each line of the glossary's table of quantities."""
    text = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
    return re.findall(r"^\| `(\w+)` \| ([^|]+?) \| [^|]{8,} \|$", text, flags=re.MULTILINE)


def test_no_bare_float_in_a_calculation():
    bare = [
        f"{model.__module__}.{model.__name__}.{name}"
        for model in models(*CORE)
        for name, leaf in leaves(model)
        if leaf in (float, complex)
    ]
    assert not bare, "write Metre, Second, Number … of sillwright.base.units"


def test_a_name_has_one_unit():
    assert not {name: found for name, found in field_units().items() if len(found) > 1}


def test_the_glossary_has_one_line_for_every_name_with_a_unit():
    lines = glossary()
    assert len({name for name, _ in lines}) == len(lines), "a name stands twice"
    known = dict(lines)
    wrong = [
        f"| `{name}` | {unit} | … |"
        for name, found in sorted(field_units().items())
        for unit in found
        if known.get(name) != unit
    ]
    assert not wrong, "write these lines into docs/glossary.md"


def test_the_glossary_is_sorted():
    names = [name for name, _ in glossary()]
    assert names == sorted(names)


def test_a_bare_float_would_be_found():
    from sillwright.base.units import Metre

    class Poor:
        length: Metre
        pairs: tuple[tuple[float, float], ...]

    Poor.__annotations__ = {"length": Metre, "pairs": tuple[tuple[float, float], ...]}
    assert [leaf for _, leaf in leaves(Poor)][1:3] == [float, float]


@pytest.mark.parametrize("name", ["response_time", "resolution", "available_distance"])
def test_the_present_models_are_found(name):
    assert name in field_units()
