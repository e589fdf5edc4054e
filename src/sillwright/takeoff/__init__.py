"""Take-off: what to order for an opening, cut from what, fitted how."""

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
