"""What joins what: every field of the table, as a technician would draw it by hand.

d joins directly, t through a converter, x not at all; ! can be watched, ? the converter's instructions say so.
Source: trade practice of joining edges and eyes (from memory), written down here a second time.
"""

from __future__ import annotations

import pytest

from sillwright.hookup.table import cells
from sillwright.hookup.words import BECAUSE
from sillwright.survey.devices import DEVICE_CIRCUITS
from sillwright.survey.operator import INPUT_CIRCUITS

from .openings import joint, plain_edge

INPUTS = (
    "plain", "normally_closed", "resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire",
    "optical", "tested_contact",
)  # fmt: skip
TABLE = """
                  N-O  N-C  R    D    4W   P2   P3   OP   NCT
plain             d    t    x    x    x    x    x    x    x
normally_closed   t    d    x    x    x    x    x    x    x
resistor          d    t    d!   x    t?   t!   t!   t?   t!
diode_capacitor   x    t    x    d!   x    t!   t!   x    t?
four_wire         d    t    t?   x    d!   t!   t!   t?   t?
air               d    d    x    x    x    x    x    x    d
optical           x    t    t?   x    x    t?   t?   d!   t?
radio             t    t    t!   x    t?   t!   t!   x    t?
pulse_two_wire    x    x    x    x    x    d!   x    x    x
pulse_three_wire  x    x    x    x    x    x    d!   x    x
"""
WAYS = {"d": "direct", "t": "through", "x": "not_joinable"}
WATCHED = {"!": True, "?": None, "": False}
SAID = {"!": "yes", "?": "ask", "": "no"}
FIELDS = [
    pytest.param(row.split()[0], input, field, id=f"{row.split()[0]} on {input}")
    for row in TABLE.strip().splitlines()[1:]
    for input, field in zip(INPUTS, row.split()[1:], strict=True)
]


@pytest.mark.parametrize(("device", "input", "field"), FIELDS)
def test_a_device_joins_an_input_as_the_table_says(device: str, input: str, field: str) -> None:
    found = joint([{"name": "in", "circuit": input, "resistance": "10 kohm"}], plain_edge(device))
    assert found.way == WAYS[field[0]]
    assert cells()[device, input].watched == SAID[field[1:]]
    assert found.watched is (
        None if field[0] == "t" and field[1:] else WATCHED[field[1:]]
    )  # nobody saw a converter
    assert found.monitored_if_listed is (field[1:] != "")
    assert found.reasons


@pytest.mark.parametrize(("device", "input", "field"), FIELDS)
def test_where_a_converter_belongs_and_none_is_there_nothing_is_watched(
    device: str, input: str, field: str
) -> None:
    found = joint([{"name": "in", "circuit": input, "resistance": "10 kohm"}], plain_edge(device, through=[]))
    links = device == "radio" and field[1:]  # that nobody has named yet
    assert found.watched is (WATCHED[field[1:]] if field[0] == "d" else None if links else False)


def test_the_table_has_a_field_for_every_circuit_of_the_survey() -> None:
    assert set(cells()) == {(device, input) for device in DEVICE_CIRCUITS for input in INPUT_CIRCUITS}
    assert len(FIELDS) == len(cells())


def test_every_reason_is_used_and_said() -> None:
    in_code = {"direct_here", "link_unseen", "told_between", "not_taken", "gives_other"}
    assert {each.because for each in cells().values()} | in_code == set(BECAUSE)


@pytest.mark.parametrize("input", INPUTS)
def test_a_plain_edge_is_never_watched(input: str) -> None:
    assert joint([{"name": "in", "circuit": input}], plain_edge("plain")).watched is False


@pytest.mark.parametrize("device", DEVICE_CIRCUITS)
def test_nothing_on_a_plain_contact_is_ever_watched(device: str) -> None:
    assert joint([{"name": "in", "circuit": "plain"}], plain_edge(device)).watched is False
