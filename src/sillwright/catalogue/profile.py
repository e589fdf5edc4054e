"""Edge profiles: what is pressed, how far, how hard, and how long it can be had."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from sillwright.base.curve import Curve, checked_curve
from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Model, field
from sillwright.base.units import Kelvin, KilogramPerMetre, Metre, Number, Ohm, OhmPerMetre, Radian
from sillwright.base.words import N_, say

Construction = Literal["factory_sealed", "cut_on_site"]
Circuit = Literal["plain", "resistor", "diode_capacitor", "four_wire", "air", "optical"]
Material = Literal["epdm", "silicone", "tpe", "pvc", "nitrile", "chloroprene"]
Environment = Literal["dry", "wet", "wash_down", "outside", "freezer", "oil"]
OrderWord = Literal["body", "sensing"]
Exit = Literal["end", "back", "inside_face", "down"]
FinSide = Literal["none", "outside", "both"]
Nose = Literal["round", "flat"]


class Price(Model):
    """What something costs, in the catalogue's currency: each, and for every metre."""

    each: Number = field(default=0.0, at_least=0, at_most=1e7, title="Price of each")
    per_metre: Number = field(default=0.0, at_least=0, at_most=1e6, title="Price for every metre")

    def of(self, length: Metre = 0.0) -> float:
        """The price of one piece of this length.

        >>> Price(each=40, per_metre=100).of(3.0)
        340.0
        """
        return self.each + self.per_metre * length


class CurveAt(Model):
    """Force over travel at one temperature, measured with a round body across the edge."""

    temperature: Kelvin = field(at_least=180, at_most=400, title="Temperature")
    curve: Curve = field(title="Force over travel, from [0, 0]")

    def __post_init__(self) -> None:
        object.__setattr__(self, "curve", checked_curve(self.curve, "CurveAt"))
        super().__post_init__()


class Ends(Model):
    """The stretch at each end of the body that does not answer."""

    lead: Metre = field(at_least=0, at_most=0.3, title="Dead end at the lead")
    far: Metre = field(at_least=0, at_most=0.3, title="Dead end away from the lead")


class Profile(Case):
    """One sensing profile as a data sheet describes it."""

    name: str = field(title="Name in this catalogue")
    construction: Construction = field(title="Sealed by its maker, or cut on site")
    material: Material | None = field(default=None, title="Material of the body")
    height: Metre = field(above=0, at_most=0.3, title="Free height of the body")
    width: Metre | None = field(default=None, above=0, at_most=0.3, title="Width of the body")
    seat: Metre | None = field(default=None, above=0, at_most=0.3, title="Width of the seat it needs")
    nose: Nose | None = field(default=None, title="Shape of what touches the floor")
    fin: Metre = field(default=0.0, at_least=0, at_most=0.1, title="Unevenness that its fin takes up")
    fin_side: FinSide = field(default="none", title="Side of the fin")
    actuation_travel: Metre = field(above=0, at_most=0.1, title="Travel at which it answers")
    curves: tuple[CurveAt, ...] = field(default=(), title="Force over travel by temperature")
    answers_sideways: Radian | None = field(
        default=None, at_least=0, at_most=1.5708, title="Answers up to this angle from square"
    )
    ends: Ends | None = field(default=None, title="Dead ends")
    weight_per_metre: KilogramPerMetre | None = field(
        default=None, above=0, at_most=50, title="Weight of every metre, channel included"
    )
    least: Metre = field(default=0.1, at_least=0.05, at_most=30, title="Shortest piece")
    greatest: Metre | None = field(default=None, above=0, at_most=60, title="Longest piece that ships coiled")
    greatest_straight: Metre | None = field(
        default=None, above=0, at_most=60, title="Longest piece that ships straight"
    )
    order_word: OrderWord = field(default="body", title="What the number on the order means")
    circuits: tuple[Circuit, ...] = field(title="Circuits it is offered with")
    end_elements: tuple[Ohm, ...] = field(default=(), title="End-of-line values it is offered with")
    exits: tuple[Exit, ...] = field(default=("end",), title="Where its lead can come out")
    strip_resistance: OhmPerMetre | None = field(
        default=None, at_least=0, at_most=1e4, title="Resistance of its strips"
    )
    wires: tuple[str, ...] = field(default=(), title="Wires of its lead, by colour")
    channels: tuple[str, ...] = field(default=(), title="Channels that carry it, by name")
    environments: tuple[Environment, ...] = field(default=("dry",), title="Surroundings it is made for")
    coldest: Kelvin | None = field(default=None, at_least=180, at_most=340, title="Coldest it is made for")
    hottest: Kelvin | None = field(default=None, at_least=200, at_most=450, title="Hottest it is made for")
    stock: tuple[Metre, ...] = field(default=(), title="Rolls it is sold in, of a body that is cut on site")
    price: Price | None = field(default=None, title="Price")
    lead_days: int | None = field(default=None, at_least=0, at_most=400, title="Working days to deliver")
    note: str = field(default="", title="Note")

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.greatest is not None and self.greatest < self.least:
            said = N_("{path}: the longest piece is shorter than the shortest")
            raise OutOfRange(say(said, path=f"Profile.{self.name}"))
        if any(one.temperature >= two.temperature for one, two in pairwise(self.curves)):
            said = N_("{path}: the curves are wanted from cold to warm, one for each temperature")
            raise OutOfRange(say(said, path=f"Profile.{self.name}"))
        if self.stock and self.construction == "factory_sealed":
            said = N_("{path}: a body that its maker seals is never cut, so it is sold in no rolls; leave them out")
            raise OutOfRange(say(said, path=f"Profile.{self.name}"))
        if self.actuation_travel >= self.height:
            said = N_("{path}: it would answer only after more travel than it is high")
            raise OutOfRange(say(said, path=f"Profile.{self.name}"))
