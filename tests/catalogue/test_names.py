"""Two names that a person cannot tell apart on an order are one."""

from __future__ import annotations

import pytest

from sillwright.catalogue.naming import key, nearest

from .building import edges, read, refused

ALIKE = [
    pytest.param("edge class b", id="case"),
    pytest.param('"  Edge  class B "', id="spaces"),
    pytest.param('"Edge\\u00a0class B"', id="a space that does not break"),
    pytest.param('"Edge class \\u0412"', id="a Cyrillic letter"),
    pytest.param('"\\u0395dge class B"', id="a Greek letter"),
    pytest.param('"Edge class B\\u200b"', id="a space without width"),
    pytest.param('"Ed\\u00adge class B"', id="a soft hyphen"),
    pytest.param('"\\uff25dge class B"', id="a wide letter"),
]


@pytest.mark.parametrize("other", ALIKE)
def test_names_that_look_alike_do_not_stand_side_by_side(other):
    said = refused(edges("Edge class B", other))
    assert "profiles[1].name: this name looks like “Edge class B”" in said
    assert "first on line 6" in said


def test_a_name_that_stands_twice_is_told_so():
    assert "this name stands twice" in refused(edges("Edge class B", "Edge class B"))


def test_names_that_differ_stand_side_by_side():
    names = [f"Edge class {letter}" for letter in "ABCDE"] + ["Edge class B, cold", "ВОРОТА", "Edge class Б"]
    assert [each.name for each in read(edges(*(f'"{name}"' for name in names))).profiles] == names


def test_the_same_name_may_stand_in_two_lists():
    assert read(edges("Class S") + "channels: [{name: Class S, fixing: slide_in}]").channels


@pytest.mark.parametrize("name", ['""', '" "', '"\\u200b"', '"\\ufeff"'])
def test_a_name_has_something_to_read(name):
    assert "name: nothing that can be read stands here" in refused(edges(name))


@pytest.mark.parametrize("name", ['"a\\u202eb"', '"a\\u0000b"', '"a\\u001b[31m"', '"a\\u2066b"', '"a\\u0085b"'])
def test_a_name_does_not_turn_the_line_round_or_steer_a_terminal(name):
    said = refused(edges(name))
    assert "name: control characters in a text" in said
    assert said.isprintable() or not set("\x00\x1b\u202e\u2066\x85") & set(said)


@pytest.mark.parametrize(
    "name", ["=cmd|' /C calc'!A0", "@SUM(1)", "-1", "<b>Edge</b>", "{name}", "100%", "'; --", "1e3"]
)
def test_a_name_that_looks_like_a_command_is_a_name(name):
    (edge,) = read(edges('"' + name + '"')).profiles
    assert edge.name == name


def test_a_plain_number_is_a_name_as_it_was_typed():
    assert read(edges("0012")).profiles[0].name == "0012"


def test_the_nearest_name_is_offered_also_in_a_large_catalogue():
    many = [f"Rail {number}" for number in range(5000)]
    assert nearest("Chanel S", [*many, "Channel S"]) == "did you mean “Channel S”?"


def test_folding_keeps_what_differs():
    assert len({key(name) for name in ("Edge A", "Edge B", "EdgeA", "Edge 1", "Edge l", "Edge Ä")}) == 6
