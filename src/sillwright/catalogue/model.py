"""The catalogue: what can be bought and fitted, and what operators' inputs take. It is the user's own."""

from __future__ import annotations

from typing import Literal

from sillwright.base.model import Case, Model, field
from sillwright.base.units import Ampere, Number, Ohm, Volt
from sillwright.catalogue.parts import (
    Channel,
    CoiledCord,
    ConverterKind,
    Device,
    JunctionBox,
    RadioLink,
    Rate,
    Reel,
    Seal,
    Work,
)
from sillwright.catalogue.profile import Profile

FORMAT = "sillwright-catalogue/1"


class Below(Model):
    """Voltages below which an input reads pressed."""

    pressed: Volt = field(at_least=0, at_most=60, title="Reads pressed below")


class Above(Model):
    """Voltages above which an input reads open."""

    open: Volt = field(at_least=0, at_most=60, title="Reads open above")


class Via(Model):
    """A circuit that an input takes through a converter."""

    converter: str = field(title="Converter, by name")
    circuit: str = field(title="Circuit of the device")


class ListedDevice(Model):
    """A device that instructions list; evidence only with title, page, read_by and on."""

    device: str = field(title="Device, as it is printed")
    title: str = field(default="", title="Title of the instructions")
    edition: str = field(default="", title="Edition")
    page: str = field(default="", title="Page")
    read_by: str = field(default="", title="Who read it")
    on: str = field(default="", title="When")

    @property
    def read(self) -> bool:
        """Whether somebody read it in the instructions: the row says where, who and when."""
        return bool(self.title and self.page and self.read_by and self.on)


class OperatorInput(Case):
    """An input of a class of operators: its circuit, thresholds and which devices its instructions list."""

    operator: str = field(title="Operator, by class")
    name: str = field(title="Name of the input")
    circuit: str | None = field(default=None, title="Circuit it reads")
    resistance: Ohm | None = field(default=None, above=0, at_most=1e7, title="End element it expects")
    supply: Volt | None = field(default=None, above=0, at_most=60, title="Supply")
    pull_up: Ohm | None = field(default=None, above=0, at_most=1e7, title="Pull-up resistor")
    below: Below | None = field(default=None, title="Reads pressed below")
    above: Above | None = field(default=None, title="Reads open above")
    terminals: tuple[str, ...] = field(default=(), title="Its terminals, by name")
    accessory_voltage: Volt | None = field(
        default=None, above=0, at_most=60, title="Accessory supply of the operator"
    )
    accessory_current: Ampere | None = field(
        default=None, above=0, at_most=20, title="Greatest current of the accessory supply"
    )
    accessory_terminals: tuple[str, ...] = field(default=(), title="Terminals of the accessory supply, by name")
    direct: tuple[str, ...] = field(default=(), title="Circuits it takes directly")
    via: tuple[Via, ...] = field(default=(), title="Circuits it takes through a converter")
    lists: tuple[ListedDevice, ...] = field(default=(), title="Devices that its instructions list")


class Catalogue(Case):
    """Everything a company can order and fit, with prices in one currency at one date."""

    format: Literal["sillwright-catalogue/1"] = field(title="Format")
    name: str = field(title="Whose catalogue, or what for")
    invented: bool = field(default=False, title="Invented, for demonstration only")
    currency: str = field(title="Currency, ISO 4217")
    priced_on: str = field(title="Date of the prices")
    tax_percent: Number | None = field(default=None, at_least=0, at_most=100, title="Tax, as entered, in percent")
    profiles: tuple[Profile, ...] = field(default=(), title="Edge profiles")
    channels: tuple[Channel, ...] = field(default=(), title="Channels")
    cords: tuple[CoiledCord, ...] = field(default=(), title="Coiled cords")
    reels: tuple[Reel, ...] = field(default=(), title="Reels")
    boxes: tuple[JunctionBox, ...] = field(default=(), title="Junction boxes")
    radios: tuple[RadioLink, ...] = field(default=(), title="Radio links")
    converters: tuple[ConverterKind, ...] = field(default=(), title="Converters")
    devices: tuple[Device, ...] = field(default=(), title="Eyes, curtains, sensors, loops")
    seals: tuple[Seal, ...] = field(default=(), title="Floor and side seals")
    inputs: tuple[OperatorInput, ...] = field(default=(), title="Inputs of operators, by class")
    work: tuple[Work, ...] = field(default=(), title="Work")
    rates: tuple[Rate, ...] = field(default=(), title="Rates")
