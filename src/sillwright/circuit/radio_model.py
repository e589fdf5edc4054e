"""Case and result of a radio link between a leaf and its operator."""

from __future__ import annotations

from math import isfinite
from typing import Literal

from sillwright.base.errors import OutOfRange
from sillwright.base.model import Case, Result, field
from sillwright.base.source import Source
from sillwright.base.units import Ampere, AmpereHour, Decibel, DecibelMilliwatt, Hertz, Kelvin, Metre, Number
from sillwright.base.words import N_, say

LinkWord = Literal["good", "narrow", "poor", "not known"]
"""At the worst place of the leaf: from 15 dB on, from 10 dB on, less, or nobody knows."""


class RadioCase(Case):
    """A transmitter on a leaf, its battery, and a receiver at the operator."""

    frequency: Hertz = field(at_least=1e6, at_most=1e12, title="Frequency")
    distance: Metre = field(above=0, at_most=1e6, title="Distance from transmitter to receiver")
    model: Literal["free_space", "indoor"] = field(default="indoor", title="How the loss grows with distance")
    surroundings: Literal["office", "hall"] = field(default="office", title="Indoors: what is around")
    distance_loss: Decibel | None = field(
        default=None, at_least=10, at_most=60, title="Indoors: loss for a tenfold distance; null = by the table"
    )
    floor_loss: Decibel = field(default=0.0, at_least=0, at_most=100, title="Indoors: loss through floors between")
    transmit_power: DecibelMilliwatt | None = field(
        default=None, at_least=-60, at_most=60, title="Transmitter's power; null = not known"
    )
    sensitivity: DecibelMilliwatt | None = field(
        default=None, at_least=-180, at_most=0, title="Least that the receiver understands; null = not known"
    )
    antenna_gain: Decibel = field(default=0.0, at_least=-60, at_most=60, title="Gain of both antennas together")
    closed_loss: Decibel = field(default=0.0, at_least=0, at_most=100, title="Further loss, leaf closed")
    open_loss: Decibel | None = field(
        default=None, at_least=0, at_most=100, title="Further loss, leaf open; null = 25 dB, as beside a coil"
    )
    margins: tuple[Decibel, ...] = field(default=(), title="Margins read on site, from closed to open")
    systems: int | None = field(
        default=None, at_least=0, at_most=10_000, title="Radio systems within 100 ft; null = not counted"
    )
    capacity: AmpereHour | None = field(
        default=None, above=0, at_most=1000, title="Capacity of the battery; null = not known"
    )
    mean_current: Ampere | None = field(
        default=None, above=0, at_most=100, title="Mean current of the transmitter; null = not known"
    )
    self_discharge: Number = field(default=0.01, at_least=0, at_most=10, title="Self-discharge a year, as a share")
    usable: Number = field(default=0.8, above=0, at_most=1, title="Share of the capacity that can be used")
    coldest: Kelvin | None = field(
        default=None, at_least=200, at_most=400, title="Coldest that the battery gets; null = not known"
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if not all(isfinite(each) for each in self.margins):
            raise OutOfRange(say(N_("margins: one is not a finite number; give what the receiver shows, in dB")))


class RadioResult(Result):
    """What the link loses, what is left of it, and how long its battery lasts."""

    path_loss: Decibel = field(title="Loss over the distance")
    link_margin: Decibel | None = field(
        default=None, title="Margin, leaf closed; null where power or receiver is open"
    )
    link_margin_open: Decibel | None = field(
        default=None, title="Margin, leaf open; null where power or receiver is open"
    )
    least_margin: Decibel | None = field(default=None, title="Least margin read on site; null = nobody read one")
    link: LinkWord = field(title="The link at its worst place")
    distance_good: Metre | None = field(default=None, title="Distance up to which the margin stays good, leaf open")
    battery_years: Number | None = field(default=None, title="Years that the battery lasts")
    case: RadioCase = field(title="The case as it was computed")
    notes: tuple[str, ...] = field(default=(), title="What to heed")
    assumptions: tuple[str, ...] = field(default=(), title="What was assumed")
    sources: tuple[Source, ...] = field(default=(), title="Where the method comes from")
