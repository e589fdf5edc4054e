"""Writes src/sillwright/base/data/units.toml from the units library: ``make units``."""

from pathlib import Path

from sillwright.base.rare_units import scale_of

EVERY_DAY = [
    "m",
    "mm",
    "cm",
    "km",
    "in",
    "inch",
    "ft",
    "yd",
    "kg",
    "g",
    "lb",
    "oz",
    "tonne",
    "s",
    "ms",
    "min",
    "h",
    "N",
    "kN",
    "lbf",
    "kgf",
    "N/m",
    "N/mm",
    "kN/m",
    "lbf/in",
    "m/s",
    "mm/s",
    "cm/s",
    "km/h",
    "in/s",
    "ft/s",
    "ft/min",
    "mph",
    "m/s^2",
    "ft/s^2",
    "in/s^2",
    "mm/s^2",
    "K",
    "degC",
    "degF",
    "kg/m",
    "lb/ft",
    "ohm/m",
    "ohm/ft",
    "rad",
    "deg",
    "Hz",
    "kHz",
    "MHz",
    "GHz",
    "ohm",
    "kohm",
    "Mohm",
    "Ω",
    "kΩ",
    "MΩ",
    "J",
    "V",
    "mV",
    "A",
    "mA",
    "A*h",
    "Ah",
    "mAh",
    "N*s/m",
    "1/s",
    "Hz",
]
ALIASES = {
    "°C": "degC", "°F": "degF", "m/s²": "m/s^2", "N s/m": "N*s/m", "A h": "A*h", "kOhm": "kohm", "Ohm": "ohm",
    "lbs": "lb", "sec": "s", "1": "dimensionless",
}  # fmt: skip
TARGET = Path(__file__).parents[1] / "src/sillwright/base/data/units.toml"


def main() -> None:
    lines = [
        "# Written from the units library by `make units`; a test compares them. factor, offset: to SI.",
        "[unit]",
    ]
    for symbol, name in {**{symbol: symbol for symbol in EVERY_DAY}, **ALIASES}.items():
        scale = scale_of(name)
        assert scale, name
        offset = f", offset = {scale.offset!r}" if scale.offset else ""
        lines.append(f'"{symbol}" = {{ factor = {scale.factor!r}{offset}, dimension = {list(scale.dimension)} }}')
    TARGET.write_text("\n".join(lines) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
