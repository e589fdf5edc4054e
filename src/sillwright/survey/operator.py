"""The operator: what drives the leaf, what it listens to and what its instructions list."""

from __future__ import annotations

from sillwright.base.fact import Fact
from sillwright.survey.interval import Interval
from sillwright.survey.spec import (
    Group,
    Listing,
    choice,
    count,
    day,
    flag,
    group,
    groups,
    length,
    quantity,
    side,
    text,
    texts,
)

CONTROLS = ("held", "momentary", "timer", "automatic", "unattended")
INPUT_CIRCUITS = (
    "plain", "normally_closed", "resistor", "diode_capacitor", "four_wire", "pulse_two_wire", "pulse_three_wire",
    "optical", "tested_contact",
)  # fmt: skip


class Instructions(Group):
    """The operator's instructions as somebody had them in hand."""

    title: Fact[str] = text()
    edition: Fact[str] = text()
    page: Fact[str] = text()
    read_by: Fact[str] = text()
    on: Fact[Interval] = day()


class Input(Group):
    """A terminal of the operator that a protective device can be joined to."""

    name: Fact[str] = text()
    circuit: Fact[str] = choice(*INPUT_CIRCUITS, synonyms={"pulse": "pulse_two_wire"})
    resistance: Fact[float] = quantity("ohm", 1, 1e7, title="value of the end element it expects")


class Warning(Group):
    """What is heard and seen before the leaf moves by itself."""

    sound: Fact[bool] = flag()
    light: Fact[bool] = flag()
    seconds: Fact[float] = count(600, title="seconds before motion")


class Control(Group):
    """A control, fixed to the building or carried."""

    kind: Fact[str] = choice("fixed", "portable")
    opens: Fact[bool] = flag()
    closes: Fact[bool] = flag()


class Operator(Group):
    """The operator and its board."""

    kind: Fact[str] = choice("trolley", "jackshaft", "hoist", "chain", "rail", "arm", "ram", "barrel")
    model: Fact[str] = text()
    side: Fact[str] = side(title="side of the operator")
    wall: Fact[str] = choice("inside", "outside")
    made: Fact[Interval] = day(title="date of manufacture")
    board_made: Fact[Interval] = day(title="date of a newer board")
    instructions: Instructions = group(Instructions)
    cutout_height: Fact[float] = length(2, title="height below which a press no longer reverses")
    listed_to: Fact[tuple[str, ...]] = texts()
    closing_control: Fact[str] = choice(*CONTROLS)
    station_in_view: Fact[bool] = flag(title="closing station in view of the leaf")
    inputs: Listing[Input] = groups(Input)
    lists_devices: Fact[tuple[str, ...]] = texts(title="devices that the instructions list")
    reaction: Fact[float] = quantity("s", 0, 10, title="time from input to motor off")
    deceleration: Fact[float] = quantity("m/s^2", 0.01, 100)
    dwell: Fact[float] = quantity("s", 0, 60, title="pause before opening")
    force_limit: Fact[float] = quantity("N", 1, 50_000)
    gate_class: Fact[str] = choice("I", "II", "III", "IV")
    exposed_height: Fact[float] = length(20, title="height of its moving parts above the floor")
    guarded: Fact[bool] = flag(title="moving parts guarded")
    warning: Warning = group(Warning)
    controls: Listing[Control] = groups(Control)
