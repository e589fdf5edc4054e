"""Take-off: what to order for an opening, cut from what, fitted how. A part is loaded on first use."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sillwright.takeoff._cord import cord as cord
    from sillwright.takeoff._cutlist import cutlist as cutlist
    from sillwright.takeoff._floor import floor as floor
    from sillwright.takeoff._length import length as length
    from sillwright.takeoff._take_off import take_off as take_off
    from sillwright.takeoff.answer import TakeOff as TakeOff
    from sillwright.takeoff.cord_model import CordCase as CordCase
    from sillwright.takeoff.cord_model import CordResult as CordResult
    from sillwright.takeoff.cord_model import CordStock as CordStock
    from sillwright.takeoff.cutlist_model import CutlistCase as CutlistCase
    from sillwright.takeoff.cutlist_model import CutlistResult as CutlistResult
    from sillwright.takeoff.cutlist_model import CutPiece as CutPiece
    from sillwright.takeoff.cutlist_model import StockLength as StockLength
    from sillwright.takeoff.floor_model import FloorCase as FloorCase
    from sillwright.takeoff.floor_model import FloorResult as FloorResult
    from sillwright.takeoff.length_model import LengthCase as LengthCase
    from sillwright.takeoff.length_model import LengthResult as LengthResult

_WHERE = {
    "cord": "_cord",
    "cutlist": "_cutlist",
    "floor": "_floor",
    "length": "_length",
    "take_off": "_take_off",
    "TakeOff": "answer",
    "CordCase": "cord_model",
    "CordResult": "cord_model",
    "CordStock": "cord_model",
    "CutlistCase": "cutlist_model",
    "CutlistResult": "cutlist_model",
    "CutPiece": "cutlist_model",
    "StockLength": "cutlist_model",
    "FloorCase": "floor_model",
    "FloorResult": "floor_model",
    "LengthCase": "length_model",
    "LengthResult": "length_model",
}


def __getattr__(name: str) -> Any:
    if name in _WHERE:
        return getattr(import_module(f"{__name__}.{_WHERE[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
