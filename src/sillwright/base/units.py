"""Types that carry their SI unit once: ``Metre`` is a float in metres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True)
class Unit:
    """The SI unit of a float, as it is printed in schemas and messages."""

    symbol: str


Number = Annotated[float, Unit("1")]
Metre = Annotated[float, Unit("m")]
Second = Annotated[float, Unit("s")]
Kilogram = Annotated[float, Unit("kg")]
Newton = Annotated[float, Unit("N")]
Ohm = Annotated[float, Unit("ohm")]
MetrePerSecond = Annotated[float, Unit("m/s")]
MetrePerSecondSquared = Annotated[float, Unit("m/s^2")]
NewtonPerMetre = Annotated[float, Unit("N/m")]
NewtonSecondPerMetre = Annotated[float, Unit("N s/m")]
Joule = Annotated[float, Unit("J")]
KilogramPerMetre = Annotated[float, Unit("kg/m")]
OhmPerMetre = Annotated[float, Unit("ohm/m")]
Kelvin = Annotated[float, Unit("K")]
Volt = Annotated[float, Unit("V")]
Ampere = Annotated[float, Unit("A")]
AmpereHour = Annotated[float, Unit("A h")]
Hertz = Annotated[float, Unit("Hz")]
Decibel = Annotated[float, Unit("dB")]
DecibelMilliwatt = Annotated[float, Unit("dBm")]
Radian = Annotated[float, Unit("rad")]
