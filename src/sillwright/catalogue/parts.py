"""Parts around an edge, other devices, and what work costs."""

from __future__ import annotations

from typing import Literal

from sillwright.base.model import Case, Model, field
from sillwright.base.units import Ampere, Hertz, Kelvin, KilogramPerMetre, Metre, Number, Ohm, Second
from sillwright.catalogue.profile import Environment, Price

Fixing = Literal["slide_in", "face_fixed", "two_part", "bottom_fixed"]
DeviceKind = Literal["photo_eye", "light_curtain", "presence", "motion", "loop"]
SealKind = Literal["floor_threshold", "side", "head", "brush", "tapered_filler"]


class Channel(Case):
    """A rail that carries the body of an edge."""

    name: str = field(title="Name in this catalogue")
    fixing: Fixing = field(title="How it is put on")
    seat: Metre | None = field(default=None, above=0, at_most=0.5, title="Width of the seat it needs")
    slot_spacing: Metre | None = field(default=None, above=0, at_most=0.3, title="Spacing of its slots")
    height: Metre = field(default=0.0, at_least=0, at_most=0.2, title="Height it adds below the leaf")
    weight_per_metre: KilogramPerMetre = field(default=0.0, at_least=0, at_most=50, title="Weight of every metre")
    stock: tuple[Metre, ...] = field(default=(), title="Lengths it is sold in")
    pieceable: bool = field(default=False, title="May be put together from pieces")
    price: Price | None = field(default=None, title="Price")


class CoiledCord(Case):
    """A coiled cord by its retracted length."""

    name: str = field(title="Name in this catalogue")
    retracted: Metre = field(above=0, at_most=10, title="Retracted length")
    extended: Metre = field(above=0, at_most=60, title="Rated extended length")
    conductors: int = field(at_least=1, at_most=20, title="Conductors")
    coldest: Kelvin | None = field(default=None, at_least=180, at_most=340, title="Coldest it is made for")
    price: Price | None = field(default=None, title="Price")


class Reel(Case):
    """A take-up reel by the length of its cable."""

    name: str = field(title="Name in this catalogue")
    cable: Metre = field(above=0, at_most=60, title="Length of its cable")
    conductors: int = field(at_least=1, at_most=20, title="Conductors")
    price: Price | None = field(default=None, title="Price")


class RadioLink(Case):
    """Transmitter at the leaf and receiver at the operator."""

    name: str = field(title="Name in this catalogue")
    frequency: Hertz | None = field(default=None, above=0, at_most=1e11, title="Frequency")
    supervised: bool = field(default=False, title="Checks its link")
    circuits: tuple[str, ...] = field(default=(), title="Circuits of edges it takes")
    gives: tuple[str, ...] = field(default=(), title="Circuits that its receiver gives")
    current: Ampere | None = field(default=None, above=0, at_most=10, title="Supply current of its receiver")
    battery: Number | None = field(default=None, above=0, at_most=1e6, title="Battery, in mAh")
    price: Price | None = field(default=None, title="Price")


class ConverterKind(Case):
    """A module that turns a device's circuit into what an input takes."""

    name: str = field(title="Name in this catalogue")
    takes: tuple[str, ...] = field(title="Circuits it takes")
    gives: str = field(title="Circuit it gives")
    devices: int = field(default=1, at_least=1, at_most=8, title="Devices it joins to one input")
    resistance: Ohm | None = field(default=None, above=0, at_most=1e7, title="End element it expects")
    current: Ampere | None = field(default=None, above=0, at_most=10, title="Supply current")
    takes_at: tuple[str, ...] = field(default=(), title="Terminals for the device, by name")
    gives_at: tuple[str, ...] = field(default=(), title="Terminals for the operator's input, by name")
    supplied_at: tuple[str, ...] = field(default=(), title="Terminals for its supply, by name")
    price: Price | None = field(default=None, title="Price")


class JunctionBox(Case):
    """A box where lead and cord are joined."""

    name: str = field(title="Name in this catalogue")
    environments: tuple[Environment, ...] = field(default=("dry",), title="Surroundings it is made for")
    price: Price | None = field(default=None, title="Price")


class Device(Case):
    """A device that sees: eye, curtain, presence or motion sensor, loop."""

    name: str = field(title="Name in this catalogue")
    kind: DeviceKind = field(title="Kind")
    circuit: str | None = field(default=None, title="Circuit it speaks")
    monitored: bool = field(default=False, title="Can be watched by an operator")
    greatest: Metre | None = field(default=None, above=0, at_most=200, title="Greatest range or width")
    resolution: Metre | None = field(default=None, above=0, at_most=2, title="Smallest object it sees")
    response: Second | None = field(default=None, at_least=0, at_most=10, title="Response")
    current: Ampere | None = field(default=None, above=0, at_most=10, title="Supply current")
    wires: tuple[str, ...] = field(default=(), title="Its wires, by colour")
    environments: tuple[Environment, ...] = field(default=("dry",), title="Surroundings it is made for")
    price: Price | None = field(default=None, title="Price")


class Seal(Case):
    """A floor or side seal, a filler or a brush."""

    name: str = field(title="Name in this catalogue")
    kind: SealKind = field(title="Kind")
    takes_up: Metre = field(default=0.0, at_least=0, at_most=0.3, title="Unevenness it takes up")
    height: Metre = field(default=0.0, at_least=0, at_most=0.3, title="Height")
    price: Price | None = field(default=None, title="Price")


class Work(Model):
    """Hours of a piece of work. ``what`` is the word by which lines of a quote ask for it."""

    what: str = field(title="Work")
    hours: Number = field(at_least=0, at_most=1000, title="Hours on site")
    per_metre: Number = field(default=0.0, at_least=0, at_most=100, title="Hours more for every metre")
    persons: int = field(default=2, at_least=1, at_most=20, title="Persons")


class Rate(Model):
    """What an hour of one or several persons, or a trip, costs."""

    what: str = field(title="One person, two persons, or a trip")
    persons: int = field(default=0, at_least=0, at_most=20, title="Persons; none for a trip")
    price: Number = field(at_least=0, at_most=1e6, title="Price of an hour, or of a trip")
