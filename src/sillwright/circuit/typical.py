"""A loop of each kind as it is usually met, for where nothing better is known."""

from __future__ import annotations

from typing import Any

from sillwright.base import data
from sillwright.base.source import Source
from sillwright.base.units import Number
from sillwright.base.words import N_
from sillwright.circuit.model import Circuit, EndElement, InputSide, LeadWire, Loop, Strips, Threshold

SINGLE: frozenset[Circuit] = frozenset(
    {"plain", "normally_closed", "diode_capacitor", "pulse_two_wire", "pulse_three_wire"}
)
"""Circuits whose input has one threshold."""
SOURCES = (
    Source(document=N_("typical inputs, elements and strips of the trade"), sure="memory", id="typical-loop"),
    Source(document=N_("thresholds at a quarter and three quarters of the supply"), sure="practice"),
)


def numbers(part: str) -> dict[str, Any]:
    """The typical values of a part, from the data of the package."""
    values: dict[str, Any] = data.table("sillwright.circuit", "typical")[part]
    return values


def typical(circuit: Circuit) -> Loop:
    """A loop of this kind with typical values, from memory and common practice; none of them is a fact of a door.

    >>> loop = typical("resistor")
    >>> loop.input.supply, loop.input.pull_up, loop.end.resistance
    (5.0, 10000.0, 10000.0)
    """
    wiring = numbers("wiring")
    return Loop(
        circuit=circuit,
        input=typical_input(circuit),
        lead=LeadWire(gauge=wiring["lead_gauge"], length=wiring["lead_length"]),
        cord=LeadWire(gauge=wiring["cord_gauge"], length=wiring["cord_length"]),
        strips=Strips(
            length=wiring["strips"],
            strip_resistance=wiring["strip_resistance"],
            contact=wiring["contact"],
            insulation=wiring["insulation"],
        ),
        end=None if circuit in {"plain", "normally_closed", "diode_capacitor"} else typical_end(),
    )


def typical_end() -> EndElement:
    """The end element most often met."""
    values = numbers("end")
    return EndElement(resistance=values["resistance"], tolerance=values["tolerance"])


def typical_input(circuit: Circuit) -> InputSide:
    """An operator's input for a circuit of this kind."""
    values = dict(numbers("input"))
    if circuit in {"pulse_two_wire", "pulse_three_wire"}:
        values.update({key: numbers("pulse")[key] for key in ("supply", "pull_up")})
    if circuit == "plain":
        lower, upper = values["pressed"], None
    elif circuit in SINGLE:
        lower, upper = values["single"], None
    else:
        lower, upper = values["pressed"], values["open"]
    supply, window = values["supply"], values["window"]
    return InputSide(
        supply=supply,
        supply_tolerance=values["supply_tolerance"],
        pull_up=values["pull_up"],
        pull_up_tolerance=values["pull_up_tolerance"],
        pressed=threshold(supply, lower, window),
        open=None if upper is None else threshold(supply, upper, window),
    )


def threshold(supply: float, share: Number, window: Number) -> Threshold:
    """A threshold at a share of the supply, in a window of so much of the supply on either side.

    >>> threshold(5.0, 0.25, 0.02)
    Threshold(least_voltage=1.15, greatest_voltage=1.35)
    """
    low, high = (round(supply * (share + way * window), 9) for way in (-1, 1))
    return Threshold(least_voltage=low, greatest_voltage=high)
