"""Take-off: what to order for an opening, cut from what, fitted how. A part is loaded on first use."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sillwright.takeoff._take_off import take_off as take_off
    from sillwright.takeoff.answer import TakeOff as TakeOff
    from sillwright.takeoff.cutting._cutlist import cutlist as cutlist
    from sillwright.takeoff.cutting.cutlist_model import CutlistCase as CutlistCase
    from sillwright.takeoff.cutting.cutlist_model import CutlistResult as CutlistResult
    from sillwright.takeoff.cutting.cutlist_model import CutPiece as CutPiece
    from sillwright.takeoff.cutting.cutlist_model import StockLength as StockLength
    from sillwright.takeoff.floors._floor import floor as floor
    from sillwright.takeoff.floors.floor_model import FloorCase as FloorCase
    from sillwright.takeoff.floors.floor_model import FloorResult as FloorResult
    from sillwright.takeoff.lengths._length import length as length
    from sillwright.takeoff.lengths.length_model import LengthCase as LengthCase
    from sillwright.takeoff.lengths.length_model import LengthResult as LengthResult
    from sillwright.takeoff.ways._cord import cord as cord
    from sillwright.takeoff.ways.cord_model import CordCase as CordCase
    from sillwright.takeoff.ways.cord_model import CordResult as CordResult
    from sillwright.takeoff.ways.cord_model import CordStock as CordStock

_WHERE = {
    "cord": "ways._cord",
    "cutlist": "cutting._cutlist",
    "floor": "floors._floor",
    "length": "lengths._length",
    "take_off": "_take_off",
    "TakeOff": "answer",
    "CordCase": "ways.cord_model",
    "CordResult": "ways.cord_model",
    "CordStock": "ways.cord_model",
    "CutlistCase": "cutting.cutlist_model",
    "CutlistResult": "cutting.cutlist_model",
    "CutPiece": "cutting.cutlist_model",
    "StockLength": "cutting.cutlist_model",
    "FloorCase": "floors.floor_model",
    "FloorResult": "floors.floor_model",
    "LengthCase": "lengths.length_model",
    "LengthResult": "lengths.length_model",
}


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
