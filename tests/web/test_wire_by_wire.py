"""How a device is wired, as a list for a narrow page: from terminal to wire, in order, with what stands between."""

from __future__ import annotations

from typing import Any

from sillwright.base.words import ENGLISH
from sillwright.catalogue import demo
from sillwright.paper.connections import connections
from sillwright.paper.voice import Voice
from tests.hookup.openings import EYE, PULSES, TEN, edge, hooked, plain_edge

from .conftest import World

FOUR = {"name": "edge", "circuit": "four_wire"}


def listed(*given: Any, **facts: Any) -> dict[str, Any]:
    return connections(hooked(*given, **facts).wiring[0], Voice(ENGLISH))


def test_a_direct_edge_is_one_stretch_by_way_of_the_box() -> None:
    (stretch,) = listed([TEN], edge(), box__height="7 ft")["stretches"]
    assert (stretch["from"], stretch["to"]) == ("Operator", "Edge e1")
    assert stretch["way"] == ["fixed lead, 2 conductors", "Junction box, 7 ft above the floor",
                              "coiled cord or reel, 2 conductors"]  # fmt: skip
    assert stretch["pairs"] == [
        ("terminal 1, name not known", "wire 1, colour not known"),
        ("terminal 2, name not known", "wire 2, colour not known"),
    ]


def test_a_converter_ends_one_stretch_and_begins_the_next() -> None:
    found = listed([PULSES], edge())
    assert [(each["from"], each["to"]) for each in found["stretches"]] == [
        ("Operator", "Converter"),
        ("Converter", "Edge e1"),
    ]


def test_terminals_and_colours_are_called_as_the_catalogue_calls_them() -> None:
    device = next(each for each in demo().profiles if len(each.wires) == 2)
    entry = next(each for each in demo().inputs if each.circuit == "resistor" and len(each.terminals) == 2)
    told = edge(model=device.name, input=entry.name, through=[])
    (stretch,) = listed(None, told, catalogue=demo(), operator__model=entry.operator)["stretches"]
    ends = zip(entry.terminals, device.wires, strict=True)
    assert stretch["pairs"] == [(f"terminal {one}", f"wire {other}") for one, other in ends]


def test_four_wires_are_four_lines_and_radio_and_air_have_none() -> None:
    assert len(listed([FOUR], plain_edge("four_wire"))["stretches"][0]["pairs"]) == 4
    assert listed([TEN], plain_edge("radio", through=["t", "r"]))["stretches"][-1]["pairs"] == []
    air = {"id": "a1", "kind": "air_edge"}
    assert listed([{"name": "aux", "circuit": "plain"}], air)["stretches"][-1]["pairs"] == []


def test_what_joins_no_input_has_no_wires_and_what_is_open_is_said() -> None:
    nothing = listed([], EYE)
    assert nothing["stretches"] == []
    assert listed([TEN], edge())["open"] == ["Names of the terminals? The operator's instructions draw them."]


def test_the_page_lists_it_before_the_drawing(world: World) -> None:
    page = world.client("technician").get(f"/openings/{world.opening.pk}/").content.decode()
    wired = page[page.index('id="wired"') : page.index('id="take-off"')]
    places = [wired.index(words) for words in ("Wire by wire", "terminal 1, name not known", "wiring.svg")]
    assert places == sorted(places)
