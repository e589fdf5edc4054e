"""SI numbers as text in the reader's units."""

from __future__ import annotations

from collections.abc import Callable
from math import floor, log10

from sillwright.base.scale import FOOT, INCH, SIXTEENTH

_POUND = 0.45359237
_POUND_FORCE = 4.4482216152605


def show(value: float, unit: str, units: str, digits: int = 3) -> str:
    """A number with its unit in the reader's system (``"us"`` or ``"metric"``).

    ``digits`` are significant ones, of forces and times.

    Lengths read back to the nearest sixteenth of an inch, or to the millimetre. Forces stay in newtons, the unit
    of every limit, with pounds beside them for US readers.

    >>> show(0.2032, "m/s", "us"), show(1039.6, "N", "us"), show(0.08, "s", "metric")
    ('8 in/s', '1,040 N (234 lbf)', '80 ms')
    >>> show(258.15, "K", "metric"), show(258.15, "K", "us")
    ('-15 °C', '5 °F')
    """
    if unit == "N":
        return _force(value, units == "us", digits)
    if unit == "s":
        return _time(value, digits)
    shape = _SHAPES.get(unit)
    if shape is None:
        return f"{rounded(value, 3)} {unit}" if unit != "1" else rounded(value, 3)
    return shape(value, units == "us")


def rounded(value: float, digits: int = 3) -> str:
    """A number to so many significant digits, whole above that, without trailing noise.

    >>> rounded(1039.64), rounded(0.26592), rounded(12.0), rounded(0.0)
    ('1,040', '0.266', '12', '0')
    """
    if value == 0:
        return "0"
    places = max(0, digits - 1 - floor(log10(abs(value))))
    if places == 0:
        step = 10.0 ** max(0, floor(log10(abs(value))) - digits + 1)
        return f"{round(value / step) * step:,.0f}"
    text = f"{value:,.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def feet_and_inches(metres: float) -> str:
    """A length in feet, inches and the nearest sixteenth.

    >>> feet_and_inches(3.2131), feet_and_inches(0.0254), feet_and_inches(-0.003175), feet_and_inches(3.048)
    ('10 ft 6-1/2 in', '1 in', '-1/8 in', '10 ft')
    """
    sixteenths = round(abs(metres) / SIXTEENTH)
    sign = "-" if metres < 0 and sixteenths else ""
    feet, rest = divmod(sixteenths, 192)
    inches, part = divmod(rest, 16)
    fraction = ""
    if part:
        shift = (part & -part).bit_length() - 1
        fraction = f"{part >> shift}/{16 >> shift}"
    said = "-".join(filter(None, (str(inches) if inches else "", fraction)))
    words = ([f"{feet} ft"] if feet else []) + ([f"{said} in"] if said else [])
    return sign + (" ".join(words) or "0 in")


def _length(metres: float, us: bool) -> str:
    if us:
        return feet_and_inches(metres)
    if abs(metres) >= 1:
        return f"{metres:.3f} m"
    millimetres = metres * 1000
    return f"{millimetres:.0f} mm" if abs(millimetres) >= 10 else f"{rounded(millimetres, 2)} mm"


def _force(newtons: float, us: bool, digits: int) -> str:
    return f"{rounded(newtons, digits)} N" + (f" ({rounded(newtons / _POUND_FORCE, digits)} lbf)" if us else "")


def _temperature(kelvin: float, us: bool) -> str:
    return f"{round(kelvin * 1.8 - 459.67)} °F" if us else f"{round(kelvin - 273.15)} °C"


def _time(seconds: float, digits: int) -> str:
    if 0 < abs(seconds) < 0.9995:
        return f"{rounded(seconds * 1000, digits)} ms"
    return f"{rounded(seconds, digits)} s"


def _resistance(ohms: float, us: bool) -> str:
    scale, sign = (1e6, "MΩ") if abs(ohms) >= 1e6 else (1e3, "kΩ") if abs(ohms) >= 1e3 else (1.0, "Ω")
    return f"{rounded(ohms / scale)} {sign}"


def _current(amperes: float, us: bool) -> str:
    scale, sign = (1.0, "A") if abs(amperes) >= 1 else (1e-3, "mA") if abs(amperes) >= 1e-3 else (1e-6, "µA")
    return f"{rounded(amperes / scale)} {sign}" if amperes else "0 A"


def _frequency(hertz: float, us: bool) -> str:
    scale, sign = next((row for row in ((1e9, "GHz"), (1e6, "MHz"), (1e3, "kHz")) if hertz >= row[0]), (1.0, "Hz"))
    return f"{rounded(hertz / scale, 4)} {sign}"


def _scaled(us_unit: str, us_factor: float, unit: str, factor: float = 1.0) -> Callable[[float, bool], str]:
    def shape(value: float, us: bool) -> str:
        return f"{rounded(value / us_factor)} {us_unit}" if us else f"{rounded(value / factor)} {unit}"

    return shape


_SHAPES: dict[str, Callable[[float, bool], str]] = {
    "m": _length,
    "K": _temperature,
    "ohm": _resistance,
    "A": _current,
    "Hz": _frequency,
    "m/s": _scaled("in/s", float(INCH), "m/s"),
    "m/s^2": _scaled("ft/s²", float(FOOT), "m/s²"),
    "kg": _scaled("lb", _POUND, "kg"),
    "N/m": _scaled("lbf/in", _POUND_FORCE / float(INCH), "N/mm", 1000.0),
}
