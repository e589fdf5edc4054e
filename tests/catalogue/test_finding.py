"""Looking up: by name as a person writes it; what is not there is refused with the nearest."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sillwright.base.errors import UnknownName
from sillwright.catalogue import demo, finding

PARTS = [
    (finding.profile, "Edge class B, cold".replace("B", "C")),
    (finding.channel, "Channel class S"),
    (finding.cord, "Cord 1-1/2 ft, 2 conductors"),
    (finding.reel, "Reel 20 ft, 4 conductors"),
    (finding.box, "Box class G"),
    (finding.radio, "Radio link class R"),
    (finding.converter, "Converter class V"),
    (finding.device, "Eye class E"),
    (finding.seal, "Side seal"),
]


@pytest.mark.parametrize(("find", "name"), PARTS, ids=[find.__name__ for find, _ in PARTS])
def test_a_part_is_found_by_its_name_however_it_is_written(find, name):
    assert find(demo(), name).name == name
    assert find(demo(), f" {name.upper()} ") is find(demo(), name)


@pytest.mark.parametrize(("find", "name"), PARTS, ids=[find.__name__ for find, _ in PARTS])
def test_a_part_that_is_not_there_is_refused_with_the_nearest(find, name):
    with pytest.raises(UnknownName, match=f"did you mean “{name[:6]}"):
        find(demo(), f"{name}x")
    with pytest.raises(UnknownName, match="known here: "):
        find(demo(), "")


def test_the_beginning_of_a_name_is_not_the_name():
    with pytest.raises(UnknownName):
        finding.profile(demo(), "Edge class")


def test_an_input_is_found_by_operator_and_name():
    assert finding.operator_input(demo(), "operator class j", "EYE").circuit == "pulse_two_wire"
    with pytest.raises(UnknownName, match="did you mean “Operator class J”"):
        finding.operator_input(demo(), "Operatr class J", "edge")
    with pytest.raises(UnknownName, match="“eye” is not in the catalogue; known here: edge"):
        finding.operator_input(demo(), "Operator class K", "eye")


def test_work_is_found_by_its_word():
    assert finding.work_for(demo(), "converter").persons == 1
    with pytest.raises(UnknownName, match="did you mean “reel”"):
        finding.work_for(demo(), "reels")


def test_a_rate_is_found_by_how_many_work():
    assert [finding.rate(demo(), persons).what for persons in (0, 1, 2)] == ["trip", "one person", "two persons"]


@pytest.mark.parametrize(("persons", "said"), [(0, "a trip"), (1, "one person"), (3, "3 persons")])
def test_a_rate_that_is_not_there_is_refused(persons, said):
    with pytest.raises(UnknownName, match=said):
        finding.rate(replace(demo(), rates=()), persons)


def test_a_catalogue_without_such_parts_says_so():
    with pytest.raises(UnknownName, match="“R” is not in the catalogue; it has none of that kind"):
        finding.reel(replace(demo(), reels=()), "R")
