"""What an operator's input reads from the loop on it: wires, strips, end elements, and what hurts them.

A part is loaded on first use.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sillwright.circuit._faults import faults as faults
    from sillwright.circuit._loop_reading import loop_reading as loop_reading
    from sillwright.circuit._margin import margin as margin
    from sillwright.circuit._radio import radio as radio
    from sillwright.circuit._wire import wire as wire
    from sillwright.circuit.faults_model import FaultsCase as FaultsCase
    from sillwright.circuit.faults_model import FaultsResult as FaultsResult
    from sillwright.circuit.loop_reading_model import LoopReadingCase as LoopReadingCase
    from sillwright.circuit.loop_reading_model import LoopReadingResult as LoopReadingResult
    from sillwright.circuit.loop_reading_model import MeterReading as MeterReading
    from sillwright.circuit.margin_model import MarginCase as MarginCase
    from sillwright.circuit.margin_model import MarginResult as MarginResult
    from sillwright.circuit.radio_model import RadioCase as RadioCase
    from sillwright.circuit.radio_model import RadioResult as RadioResult
    from sillwright.circuit.wire_model import WireCase as WireCase
    from sillwright.circuit.wire_model import WireResult as WireResult

_WHERE = {
    "faults": "_faults",
    "loop_reading": "_loop_reading",
    "margin": "_margin",
    "radio": "_radio",
    "wire": "_wire",
    "FaultsCase": "faults_model",
    "FaultsResult": "faults_model",
    "LoopReadingCase": "loop_reading_model",
    "LoopReadingResult": "loop_reading_model",
    "MeterReading": "loop_reading_model",
    "MarginCase": "margin_model",
    "MarginResult": "margin_model",
    "RadioCase": "radio_model",
    "RadioResult": "radio_model",
    "WireCase": "wire_model",
    "WireResult": "wire_model",
}


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
